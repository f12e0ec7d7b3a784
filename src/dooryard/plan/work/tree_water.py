"""Water for a newly planted tree, by the thickness of its trunk."""

from __future__ import annotations

from datetime import date, timedelta

from dooryard.care import tree_water
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan, Table
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem
from dooryard.units import System
from dooryard.words import range_words

LARGEST_M = 0.2032


def young_tree(
    knowledge: Knowledge, on: date, *, diameter_m: float, planted: date, system: System = "us"
) -> Plan:
    """A watering schedule. diameter_m : of the trunk [m]. planted : the day it was set.

    Raises InputError if the trunk is thicker than any tree that is planted, or the day lies ahead.
    """
    if diameter_m > LARGEST_M:
        what = "No yard tree is planted with a trunk as thick as that."
        instead = "Give the diameter, not the girth; a grown tree is watered by its soil, not by this sum."
        raise InputError(Problem(what, instead, field="--trunk"))
    sheet = Sheet("Water for a young tree", knowledge, on, system)
    each = tree_water.per_watering_l(diameter_m, sheet.fact("tree_water.each"))
    week = tree_water.per_watering_l(diameter_m, sheet.fact("tree_water.weekly"))
    inputs = (sheet.book.input("trunk, across", diameter_m, "length", "given"),)
    mark = sheet.book.quantity(
        "tree.each", "water each time", each, "volume", "care.tree_water", inputs=inputs
    )
    week_mark = sheet.book.quantity(
        "tree.week",
        "water a week in summer without rain",
        week,
        "volume",
        "care.tree_water",
        inputs=inputs,
        about=True,
    )
    daily = tree_water.Stage(round(sheet.fact("tree_water.daily_days")), 1)
    alternate = tree_water.Stage(round(sheet.fact("tree_water.alternate_days")), 2)
    sheet.short.append(
        f"Give {mark} each time: every day for two weeks, every other day for two months, then once a week."
    )
    sheet.short.append(
        f"In a hot summer without rain it may want {week_mark} a week. Sources differ from 2 to 10 gal for each "
        "inch of trunk: the soil decides."
    )
    rows = []
    begin = planted
    for words, stage in (("every day", daily), ("every other day", alternate)):
        end = begin + timedelta(days=stage.days - 1)
        total = tree_water.stage_total_l(stage, each)
        rows.append(
            (
                range_words(begin, end),
                words,
                sheet.book.show(each, "volume"),
                sheet.book.show(total, "volume"),
            )
        )
        begin = end + timedelta(days=1)
    rows.append((f"from {range_words(begin, begin)}", "once a week", sheet.book.show(each, "volume"), ""))
    columns = (("When", "left"), ("How often", "left"), ("Each time", "right"), ("In all", "right"))
    sheet.part("The first season", table=Table("Water for the first months", columns, tuple(rows)))
    north = sheet.fact("tree_water.establish_north") * diameter_m / 0.0254 / 365
    south = sheet.fact_range("tree_water.establish_south")
    months = [round(days * diameter_m / 0.0254 / 30.4) for days in south]
    sheet.part(
        "How long",
        f"In the North go on for about {north:.0f} {'year' if round(north) == 1 else 'years'}, in the South for about "
        f"{months[0]} to {months[1]} months (a rule of thumb, from memory).",
        "Water slowly over the root ball. An inch of rain on it can stand for one turn.",
    )
    sheet.caution("care.feel_first", "care.mulch_bark")
    return sheet.finish()
