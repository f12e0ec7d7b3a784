"""What is set out anew: whether the county lists it as running wild, and how it is watered in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from dooryard.knowledge import Knowledge
from dooryard.knowledge.care_rows import Invasive


@dataclass(frozen=True)
class Stretch:
    """Some weeks of watering. first, last : days, both included. every_d : one watering in so many days [d].

    each_mm : water each time [mm]. times : waterings in all, none of them left out for rain.
    """

    first: date
    last: date
    every_d: int
    each_mm: float
    times: int


def watering_in(
    planted: date,
    *,
    daily_d: int,
    alternate_d: int,
    weeks: int,
    each_mm: float,
    weekly_mm: float,
    stop: date | None = None,
) -> tuple[Stretch, ...]:
    """The waterings of what was divided or planted, from the day it was set.

    daily_d, alternate_d : days of daily and of every-other-day water [d]. weeks : of weekly water after that.
    each_mm, weekly_mm : depth each time [mm]. stop : first hard freeze, from which nothing is watered.
    Raises ValueError for no days or no water.
    """
    if min(daily_d, alternate_d, weeks) < 1 or min(each_mm, weekly_mm) <= 0:
        raise ValueError("days, weeks and water are above 0")
    found: list[Stretch] = []
    begin = planted
    for days, every, depth in ((daily_d, 1, each_mm), (alternate_d, 2, each_mm), (7 * weeks, 7, weekly_mm)):
        end = begin + timedelta(days=days - 1)
        if stop is not None and begin < stop <= end:
            end = stop - timedelta(days=1)
        if stop is not None and begin >= stop > planted:
            break
        count = ((end - begin).days) // every + 1
        found.append(Stretch(begin, end, every, depth, count))
        begin = end + timedelta(days=1)
    return tuple(found)


def listed(knowledge: Knowledge, plant: str) -> Invasive | None:
    """The row of a county's list that names a plant, None if none does. Capitals and hyphens do not matter.

    plant : common or scientific name; "English ivy" is found by a row for English ivy, not by one for Boston ivy.
    """
    wanted = _plain(plant)
    return next(
        (
            row
            for row in knowledge.invasive.values()
            if wanted in {_plain(row.name), _plain(row.key), *map(_plain, row.kinds)}
        ),
        None,
    )


def still_holds(row: Invasive, on: date) -> bool:
    """Whether a row may be relied on that day."""
    return on <= date.fromisoformat(row.good_until)


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("-", " ").split())
