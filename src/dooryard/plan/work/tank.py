"""A tank and its amounts in words: spoons and ounces, fillings and what is left, a hose end, a mix too strong."""

from __future__ import annotations

from fractions import Fraction

from dooryard.care import mix
from dooryard.care.card import Card
from dooryard.care.material import too_strong
from dooryard.care.measures import GALLON_L, kitchen, spoon_fraction
from dooryard.care.rate import Rate
from dooryard.plan.work.sheet import Sheet


def near(sheet: Sheet, volume_l: float) -> str:
    """A tank to a tenth of a gallon or litre."""
    number = volume_l if sheet.system == "metric" else volume_l / GALLON_L
    return f"{number:.2f}".rstrip("0").rstrip(".") + (" L" if sheet.system == "metric" else " gal")


def volume_words(sheet: Sheet, volume_l: float) -> str:
    """A small volume in spoons, fluid ounces and millilitres; a large one as any other."""
    found = kitchen(volume_l)
    if found.fluid_ounces > 64:
        return sheet.book.show(volume_l, "volume")
    if found.millilitres < 0.6:
        return f"{found.millilitres:.2f} mL, too little for spoons"
    exact = f"{found.fluid_ounces:.2f}".rstrip("0").rstrip(".") + f" fl oz = {found.millilitres:.1f} mL"
    spoons = spoon_fraction(found.teaspoons)
    if spoons < 3:
        return f"{_about(spoons, found.teaspoons)}{mixed(spoons)} tsp = {exact}"
    tablespoons = spoon_fraction(found.tablespoons)
    if not _about(tablespoons, found.tablespoons):
        return f"{mixed(tablespoons)} Tbsp = {mixed(tablespoons * 3)} tsp = {exact}"
    # Three teaspoons to the tablespoon: whole tablespoons first, and what is left with the smaller spoons.
    whole, rest = divmod(spoons, 3)
    small = f" and {mixed(rest)} tsp" if rest else ""
    return f"{_about(spoons, found.teaspoons)}{whole} Tbsp{small} = {exact}"


def _about(rounded: Fraction, true: float) -> str:
    """ "about " if the spoons were rounded down."""
    return "" if true - float(rounded) < 1e-6 * max(true, 1.0) else "about "


def mixed(number: Fraction) -> str:
    """A fraction as "2 1/4"."""
    whole, rest = divmod(number.numerator, number.denominator)
    part = f"{rest}/{number.denominator}" if rest else ""
    return " ".join(filter(None, (str(whole) if whole or not rest else "", part)))


def hose_end(sheet: Sheet, rate: Rate, spray_l: float) -> None:
    """How to set a hose-end sprayer for it. spray_l : finished spray [L]."""
    if rate.amount != "volume":
        return
    jar = volume_words(sheet, mix.fixed_ratio_jar_l(rate.high, spray_l))
    dial = mix.dial_setting(rate.high)
    sheet.part(
        "With a hose-end sprayer",
        f"Fixed ratio: put {jar} of product into the jar for {near(sheet, spray_l)} of spray.",
        f"Dial: set it to {dial:.1f} fl oz per gal and fill the jar undiluted.",
        "Water pressure changes what comes out; a tank sprayer is more exact.",
    )


def left(sheet: Sheet, rate: Rate, tank_l: float, need_l: float) -> None:
    """What a full tank leaves over, or how often it is filled; and the product it really takes."""
    fills, rest = mix.fills(need_l, tank_l)
    inputs = (
        sheet.book.input("spray needed", need_l, "volume", "reckoned from the crown"),
        sheet.book.input("tank", tank_l, "volume", "given"),
    )
    mark = sheet.book.plain(
        "mix.last",
        "spray in the last filling",
        rest,
        near(sheet, rest),
        "care.fills",
        unit="L",
        inputs=inputs,
    )
    product = volume_words(sheet, mix.product_for_water_l(rate.low, rest)) if rate.amount == "volume" else ""
    takes = f", with {product} of product" if product else ""
    if fills == 1:
        over = tank_l - need_l
        spare = f" A full tank would leave {near(sheet, over)} over." if over > 0.05 * tank_l else ""
        sheet.short.append(f"Mix only {mark}{takes}.{spare}")
    else:
        full = f"{fills - 1} full {'tank' if fills == 2 else 'tanks'}"
        sheet.short.append(
            f"That is {full} of {near(sheet, tank_l)}, then {mark}{takes}, so that nothing is left."
        )


def strong(sheet: Sheet, card: Card, rate: Rate) -> None:
    """A card whose mix is stronger than its kind of material is ever used: read it again."""
    if rate.basis != "water" or rate.amount != "volume":
        return
    row = too_strong(sheet.knowledge, card, rate.high)
    if row is not None and row.high is not None:
        sheet.more_sources.add(row.source)
        sheet.short.append(
            f"This is stronger than {100 * row.high:.0f} %, beyond which {row.material} is not used. Read the rate on "
            "the label once more before you mix."
        )
