"""A soil drench for a tree: whether size, crown and place allow one at all. The amount is the label's alone."""

from __future__ import annotations

from datetime import date

from dooryard.care.mix import trunk_diameter_m
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan
from dooryard.plan.work.sheet import Sheet
from dooryard.units import System


def drench(
    knowledge: Knowledge,
    on: date,
    *,
    girth_m: float,
    crown_lost: float,
    flowers_m: float | None,
    water_m: float | None,
    system: System = "us",
) -> Plan:
    """Whether a household may drench a tree. girth_m : at 4.5 ft [m]. crown_lost : share of the crown gone, 0 to 1.

    flowers_m : from the trunk to the nearest flowers or vegetables [m], water_m : to open water or a drain [m]; None
    if it was not told.
    """
    sheet = Sheet("A soil drench for a tree", knowledge, on, system)
    diameter = trunk_diameter_m(girth_m)
    mark = sheet.book.quantity(
        "drench.diameter",
        "trunk, across",
        diameter,
        "length",
        "care.trunk",
        inputs=(sheet.book.input("girth at 4.5 ft", girth_m, "length", "given"),),
    )
    most = sheet.fact("drench.trunk_most")
    best = sheet.fact_range("drench.trunk_most")[0]
    show = sheet.book.show
    if diameter > most:
        sheet.short.append(
            f"The trunk is {mark} through. That is too thick: a household's drench ends at {show(most, 'length')}."
        )
        sheet.refuse(
            "We will not advise a drench for so thick a tree",
            f"It is over {show(most, 'length')} through, where drenches by households fail",
            "Ask a licensed applicator",
        )
        sheet.caution("care.licensed_tree")
    else:
        fair = (
            "it does best below that, and fair up to it"
            if diameter <= best
            else f"it does best to {show(best, 'length')}, and fair here"
        )
        sheet.short.append(
            f"The trunk is {mark} through; the limit is {show(most, 'length')}, and {fair}. Its size allows it."
        )
    _crown(sheet, crown_lost)
    _near(sheet, flowers_m, water_m)
    sheet.refuse(
        "We will not name a rate",
        "It stands on the label alone",
        'Type a label card and ask "dooryard work mix" with --girth',
    )
    sheet.caution("label-law", "systemic-bloom", "systemic-state", "care.drench_soil", "wear")
    return sheet.finish()


def _crown(sheet: Sheet, lost: float) -> None:
    low, high = sheet.fact_range("drench.crown_lost_most")
    if lost > high:
        sheet.refuse(
            "We will not advise treating this tree",
            f"{lost:.0%} of its crown is gone; past {high:.0%} treatment does not save a tree",
            "Ask a certified arborist about removing it",
        )
    elif lost > low:
        sheet.short.append(
            f"{lost:.0%} of the crown is gone. Sources differ: one stops at {low:.0%}, one at {high:.0%}. "
            "Ask an arborist first."
        )
    else:
        sheet.short.append(
            f"{lost:.0%} of the crown is gone; sources stop at {low:.0%} or {high:.0%}. Its crown allows it."
        )


def _near(sheet: Sheet, flowers_m: float | None, water_m: float | None) -> None:
    apart = sheet.fact("drench.flowers")
    show = sheet.book.show
    if flowers_m is None:
        sheet.refuse(
            "We will not call the place fit",
            "How near flowers or vegetables grow is not told",
            'Measure from the trunk and give it with --flowers "40 ft"',
        )
    elif flowers_m < apart:
        sheet.short.append(
            f"Flowers or vegetables grow {show(flowers_m, 'length')} from the trunk. That stops the drench: it takes "
            f"{show(apart, 'length')}, for their roots take it up, and bees and people get it."
        )
        sheet.refuse(
            "We will not advise a drench here",
            f"The bed lies nearer than {show(apart, 'length')}",
            "Ask a licensed applicator about a trunk injection, which stays in the tree",
        )
    else:
        sheet.short.append(
            f"Flowers and vegetables are {show(flowers_m, 'length')} away, which is far enough."
        )
    if water_m is not None and water_m < apart:
        sheet.refuse(
            "We will not advise a drench here",
            f"Open water or a drain lies {show(water_m, 'length')} away",
            "Ask a licensed applicator",
        )
