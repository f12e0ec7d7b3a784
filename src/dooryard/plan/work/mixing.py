"""An amount from the label in hand: product, water, and the sum reckoned backwards. No card, no amount."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dooryard.care import mix
from dooryard.care.card import Card, Use
from dooryard.care.measures import GALLON_L, kitchen
from dooryard.care.rate import BASIS_WORDS, Rate
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan
from dooryard.plan.work.sheet import Sheet
from dooryard.plan.work.tank import hose_end, left, near, strong, volume_words
from dooryard.problem import InputError, Problem, nearest
from dooryard.units import System
from dooryard.words import day_words

_SQ_FT_M2 = 0.09290304


@dataclass(frozen=True)
class Job:
    """What is to be treated: one of them is given, by what the label's rate goes by.

    water_l : finished spray, or with a crown what the tank holds [L].
    area_m2 : [m2]. girth_m : of the trunk [m]. crown_m : width and height of the crown
    to be sprayed [m], from which the spray is reckoned.
    """

    water_l: float | None = None
    area_m2: float | None = None
    girth_m: float | None = None
    crown_m: tuple[float, float] | None = None


def mixture(
    knowledge: Knowledge,
    on: date,
    card: Card | None,
    *,
    plant: str,
    pest: str,
    job: Job,
    system: System = "us",
) -> Plan:
    """How much of a product a job takes. card : typed from the label in hand; None refuses the amount.

    plant, pest : as the label names them; pest may be empty. Raises InputError if the job lacks what the rate
    goes by.
    """
    sheet = Sheet("A mixture", knowledge, on, system)
    sheet.caution(
        "label-law",
        "wear",
        "people-pets-dry",
        "care.measure",
        "care.leftover",
        "care.water_source",
        "poison-help",
    )
    if card is None:
        no_card(sheet)
        return sheet.finish()
    use = usable(sheet, card, plant, pest, on)
    if use is None:
        sheet.short.append("No amount from this card; why, stands below.")
        return sheet.finish()
    if use.rate is None:
        sheet.refuse(
            "We will not reckon an amount",
            f"The card {card.name} has no rate for this use",
            'Find on the label how much goes into a gallon, on 1,000 sq ft or per inch of trunk, and type it as "rate"',
        )
        return sheet.finish()
    spray = _crown(sheet, job)
    _amount(sheet, use.rate, Job(spray or job.water_l, job.area_m2, job.girth_m), use)
    strong(sheet, card, use.rate)
    if spray is not None and job.water_l is not None and use.rate.basis == "water":
        left(sheet, use.rate, job.water_l, spray)
    sheet.part(
        "Before you mix",
        f"The card was read on {day_words(card.read_on, year=True)} by {card.read_by} and checked by "
        f"{card.second_reader}. Hold it against the label in your hand.",
        *([f"The label on bees: {card.bees}"] if card.bees else []),
        "Fill the tank half with water, add the product, then the rest of the water.",
    )
    return sheet.finish()


def no_card(sheet: Sheet) -> None:
    """Refuse an amount because nobody typed the label."""
    sheet.short.append("No amount without the label in hand.")
    sheet.refuse(
        "We will not reckon an amount",
        "Rates stand on the label alone, and no label card is given",
        "Type one from the label as docs/label-card.md shows, have a second person check it, and give it with --card",
    )


def usable(sheet: Sheet, card: Card, plant: str, pest: str, on: date) -> Use | None:
    """The one use that fits, or None after refusing: the card is too old or over, or no or several uses fit."""
    old = sheet.fact("card.read_again")
    if card.good_until is not None and on > card.good_until:
        sheet.refuse(
            "We will not use this card",
            f"What it allows is known only until {day_words(card.good_until, year=True)}",
            "Ask your county office whether it still holds, and type the card anew",
        )
        return None
    if (on - card.read_on).days > old:
        sheet.refuse(
            "We will not use this card",
            f"The label was read on {day_words(card.read_on, year=True)}, more than a year ago, and labels change",
            "Read the label in hand again and type the card anew",
        )
        return None
    if card.read_on > on:
        raise InputError(
            Problem(
                "The card was read after this day.",
                "Check --on and read_on.",
                field="read_on",
                found=str(card.read_on),
            )
        )
    if card.licensed_only:
        sheet.refuse(
            "We will not reckon an amount for a household",
            "This material is for licensed applicators only",
            "Ask a licensed applicator",
        )
        return None
    fitting = card.uses_on(plant, pest)
    if not fitting:
        named = sorted({name for use in card.uses for name in use.plants})
        near = nearest(plant, named)
        whom = f"{plant} against {pest}" if pest and card.uses_on(plant) else plant
        sheet.refuse(
            f"We will not allow it on {whom}",
            f"The card {card.name} names {', '.join(named)}. {near}".strip(),
            "If the label in hand does name it, add it to the card; if not, the law forbids it",
        )
        return None
    if len(fitting) > 1:
        names = ", ".join(f'"{use.name}"' for use in fitting)
        sheet.refuse(
            "We will not choose among several uses",
            f"The card has {names} for {plant}",
            "Name the pest with --pest",
        )
        return None
    return fitting[0]


def _crown(sheet: Sheet, job: Job) -> float | None:
    """Spray for a tree's crown, with the refusal of what is too tall."""
    if job.crown_m is None:
        return None
    width, height = job.crown_m
    if height > sheet.fact("spray.reach"):
        sheet.refuse(
            "We will not reckon spray for so tall a tree",
            f"{sheet.book.show(height, 'length')} is out of reach from the ground",
            "Ask a licensed applicator",
        )
        sheet.caution("care.licensed_tree")
        return None
    spray = mix.tree_spray_l(width, height, sheet.fact("spray.crown"))
    mark = sheet.book.quantity(
        "mix.spray",
        "spray to wet the crown",
        spray,
        "volume",
        "care.crown_spray",
        about=True,
        inputs=(
            sheet.book.input("crown, across", width, "length", "given"),
            sheet.book.input("crown, lowest leaves to top", height, "length", "given"),
        ),
    )
    sheet.short.append(f"To wet that crown takes {mark} of spray.")
    return spray


def _amount(sheet: Sheet, rate: Rate, job: Job, use: Use) -> None:
    """The product for the job, at the label's low and high rate, and the check line."""
    size, words, trunk = _size(sheet, rate, job)
    if size is None:
        asks = {
            "water": 'how much spray you mix, with --water "1.5 gal"',
            "area": 'the area, with --area "400 sq ft"',
            "girth": 'the girth of the trunk, with --girth "32 in"',
            "diameter": 'the girth of the trunk, with --girth "32 in"',
        }
        what = f"The label's rate ({rate.text}) goes by what is not given."
        raise InputError(Problem(what, f"Give {asks[rate.basis]}."))
    if trunk is not None and use.trunk_most_m is not None and trunk > use.trunk_most_m:
        sheet.refuse(
            "We will not reckon an amount for this tree",
            f"It is {sheet.book.show(trunk, 'length')} through, and the label ends at "
            f"{sheet.book.show(use.trunk_most_m, 'length')}",
            "Ask a licensed applicator",
        )
        sheet.caution("care.licensed_tree")
        return
    ends = [("", rate.low)] if rate.low == rate.high else [("low", rate.low), ("high", rate.high)]
    for end, one in ends:
        amount = mix.product_for_water_l(one, size) if rate.basis == "water" else one * size
        shown = volume_words(sheet, amount) if rate.amount == "volume" else sheet.book.show(amount, "mass")
        mark = sheet.book.plain(
            f"mix.product{'-' + end if end else ''}",
            f"product{' at the ' + end + ' rate' if end else ''}",
            amount,
            shown,
            "care.mix",
            unit="L" if rate.amount == "volume" else "kg",
            exact=f"{amount * 1000:.2f} {'mL' if rate.amount == 'volume' else 'g'}",
            inputs=(Input("the label's rate", rate.text, "S-LABEL"), Input("for", words, "given")),
        )
        lead = f"At the label's {end} rate" if end else f"At the label's {rate.text}"
        sheet.short.append(f"{lead}, {words} takes {mark} of product.")
        sheet.short.append(_backwards(rate, amount, size))
    if rate.basis == "water":
        hose_end(sheet, rate, size)


def _size(sheet: Sheet, rate: Rate, job: Job) -> tuple[float | None, str, float | None]:
    """What the rate goes by: its size, its words, and the trunk's diameter if it is a trunk."""
    show = sheet.book.show
    if rate.basis == "water":
        return job.water_l, "" if job.water_l is None else f"{near(sheet, job.water_l)} of spray", None
    if rate.basis == "area":
        return job.area_m2, "" if job.area_m2 is None else show(job.area_m2, "area"), None
    if job.girth_m is None:
        return None, "", None
    diameter = mix.trunk_diameter_m(job.girth_m)
    if rate.basis == "girth":
        return job.girth_m, f"a trunk {show(job.girth_m, 'length')} around", diameter
    return diameter, f"a trunk {show(diameter, 'length')} through", diameter


def _backwards(rate: Rate, amount: float, size: float) -> str:
    """The check line: from the amount back to the label's rate."""
    back = amount / size
    if rate.basis == "water":
        per_gallon = kitchen(back * GALLON_L)
        shown = (
            f"{per_gallon.tablespoons:.2f} Tbsp per gal, or {100 * back:.2f} %"
            if rate.amount == "volume"
            else f"{back * 1000:.2f} g per L"
        )
    elif rate.basis == "area":
        per = back * 1000 * _SQ_FT_M2
        shown = (
            f"{kitchen(per).fluid_ounces:.2f} fl oz per 1,000 sq ft"
            if rate.amount == "volume"
            else f"{per / 0.45359237:.2f} lb per 1,000 sq ft"
        )
    else:
        per = back * 0.0254
        shown = (
            f"{kitchen(per).fluid_ounces:.2f} fl oz" if rate.amount == "volume" else f"{per * 1000:.2f} g"
        ) + f" per inch {BASIS_WORDS[rate.basis]}"
    return f"Checked backwards: that is {shown}."
