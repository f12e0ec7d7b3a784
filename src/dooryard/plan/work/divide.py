"""When a perennial is divided, how, and the last day of fall for it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from dooryard.care.pruning import division_of
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan
from dooryard.plan.work import fall, planting_words, soil_now
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem, nearest
from dooryard.units import System
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words, range_words


class Spring(NamedTuple):
    """When spring's last hard freeze comes. last : its middle date. source : where it comes from."""

    last: date
    source: str


def divide(
    knowledge: Knowledge,
    on: date,
    *,
    plant: str,
    hard_freeze: date | None,
    freeze_from: str = "",
    spring: Spring | None = None,
    record: WeatherRecord | None = None,
    system: System = "us",
) -> Plan:
    """The season for one perennial. plant : common name. hard_freeze : middle date of fall's first one, if known.

    spring : the next spring's last hard freeze, if known. record : of the station, for the soil's warmth.
    Raises InputError if nothing is on file for the plant.
    """
    row = division_of(knowledge, plant)
    if row is None:
        names = sorted({kind for one in knowledge.divisions.values() for kind in one.kinds})
        hint = nearest(plant, names) or (
            "Rule of thumb: what blooms in spring is divided in fall or right after bloom, what blooms later in early "
            "spring."
        )
        raise InputError(
            Problem("We have nothing on file for dividing this plant.", hint, field="--plant", found=plant)
        )
    sheet = Sheet(f"Dividing: {plant}", knowledge, on, system)
    sheet.more_sources.add(row.source)
    if planting_words.runs_wild(sheet, plant):
        return sheet.finish()
    if row.season == "never":
        sheet.short.append(f"Do not divide it. {row.how}".strip())
        return sheet.finish()
    sheet.short.append(
        f"Divide it in {row.season}." if not row.season.startswith("as ") else f"Divide it {row.season}."
    )
    if row.years_low is not None:
        years = f"{row.years_low:g}" if row.years_high is None else f"{row.years_low:g} to {row.years_high:g}"
        more = " or more" if row.years_high is None else ""
        sheet.short.append(f"Do so every {years}{more} years ({row.status}).")
    if row.how:
        sheet.part("How", row.how, "Water it the evening before, replant at once, and water it in.")
    if "fall" in row.season or "September" in row.season or "October" in row.season:
        _fall(sheet, hard_freeze, freeze_from)
    if "spring" in row.season and spring is not None:
        _spring(sheet, spring)
    if record is not None:
        soil_now.say(sheet, record)
    _water(sheet)
    return sheet.finish()


def _spring(sheet: Sheet, spring: Spring) -> None:
    """Early spring at this station, in days."""
    first = spring.last - timedelta(days=round(sheet.fact("divide.spring_before")))
    mark = sheet.book.plain(
        "divide.spring",
        "early spring here",
        first.isoformat(),
        range_words(first, spring.last, year=spring.last.year != sheet.on.year),
        "care.spring",
        unit="date",
        high=spring.last.isoformat(),
        inputs=(Input("middle date of the last hard freeze", day_words(spring.last), spring.source),),
    )
    sheet.short.append(f"Early spring here is about {mark}; the plant's own shoots are the better sign.")


def _water(sheet: Sheet) -> None:
    """How it is watered in, from a day that is not known yet."""
    daily, alternate = (round(sheet.fact(f"water_in.{key}_days")) for key in ("daily", "alternate"))
    sheet.part(
        "Watering in",
        "Water at once: it closes the soil round the roots and drives out air.",
        f"Then every day for {daily} days, every other day for {alternate} more, then once a week unless an inch of "
        "rain fell (from memory).",
    )
    sheet.caution("care.settle")


def _fall(sheet: Sheet, hard_freeze: date | None, freeze_from: str) -> None:
    found = fall.last_day(sheet, hard_freeze, freeze_from)
    if found is not None:
        mark, last = found
        sheet.short.append(
            f"In fall do it by {mark}, at the latest by {day_words(last)}, so that it roots before a hard freeze."
        )
