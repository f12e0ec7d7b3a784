"""Water for a newly planted tree, by the thickness of its trunk."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from dooryard.care import tree_water
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan, Table
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem
from dooryard.units import System
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words, range_words


def young_tree(
    knowledge: Knowledge,
    on: date,
    *,
    diameter_m: float,
    planted: date,
    record: WeatherRecord | None = None,
    forecast: Forecast | None = None,
    system: System = "us",
) -> Plan:
    """A watering schedule. diameter_m : of the trunk [m]. planted : the day it was set.

    record, forecast : of the station, to hold today's turn against rain that fell and that is to come. Raises
    InputError if the trunk is thicker than any tree that is planted.
    """
    if diameter_m > knowledge.fact("tree_water.largest").value:
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
    if record is not None and planted <= on:
        _turn(sheet, planted, (daily, alternate), record, forecast)
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


def _turn(
    sheet: Sheet,
    planted: date,
    stages: tuple[tree_water.Stage, tree_water.Stage],
    record: WeatherRecord,
    forecast: Forecast | None,
) -> None:
    """Whether today is a turn, and whether rain stands for it."""
    daily, alternate = stages
    since = (sheet.on - planted).days
    wait = tree_water.next_turn(since, daily, alternate)
    turn = sheet.on + timedelta(days=wait)
    between = 1 if since < daily.days else alternate.every_d if since < daily.days + alternate.days else 7
    first = max(planted, turn - timedelta(days=between))
    fell = _rain(record, first, sheet.on)
    enough = sheet.fact("tree_water.rain_turn")
    stands = tree_water.rain_stands_in(fell, enough)
    when = "Today is a turn" if wait == 0 else f"The next turn is {day_words(turn)}"
    if stands is None:
        sheet.short.append(f"{when}. Rain since {day_words(first)} is not known in full: feel the soil.")
        return
    assert fell is not None
    mark = sheet.book.quantity(
        "tree.rain",
        f"rain since {day_words(first)}",
        fell,
        "depth",
        "care.tree_turn",
        inputs=(sheet.book.input("that stands for a turn", enough, "depth", "S-TRADE"),),
    )
    if stands:
        sheet.short.append(
            f"{when}, but {mark} fell since {day_words(first)}: that stands for it if the soil is wet 4 in down."
        )
        return
    coming = None if forecast is None else _foretold(forecast, sheet.on)
    later = ""
    if coming is not None and coming >= enough:
        later = f" {sheet.book.show(coming, 'depth')} is foretold by tomorrow: wait for it if the soil is not dry."
    sheet.short.append(
        f"{when}; {mark} fell since {day_words(first)}, which is not enough to stand for it.{later}"
    )


def _rain(record: WeatherRecord, first: date, on: date) -> float | None:
    """Rain from one day up to the eve of another [mm]; None if a day of it is not known."""
    if first >= on:
        return 0.0
    if record.first > first or record.last < on - timedelta(days=1):
        return None
    begin = (first - record.first).days
    rain = record.rain_mm[begin : begin + (on - first).days]
    return None if np.isnan(rain).any() else float(rain.sum())


def _foretold(forecast: Forecast, on: date) -> float | None:
    """Rain foretold for today and tomorrow [mm]; None if it is not foretold."""
    days = [at for at, stamp in enumerate(forecast.dates.tolist()) if 0 <= (stamp - on).days <= 1]
    rain = forecast.rain_mm[days]
    return None if not days or np.isnan(rain).any() else float(rain.sum())
