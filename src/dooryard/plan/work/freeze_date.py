"""The middle date of the first hard freeze, from a station's own autumns."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from dooryard.knowledge import Knowledge
from dooryard.season.frost import dates_at, last_and_first
from dooryard.weather.record import WeatherRecord

FEWEST_YEARS = 5


def middle(knowledge: Knowledge, record: WeatherRecord, on: date) -> tuple[date | None, str]:
    """The date in the year of `on`, and where it comes from; None if fewer than five autumns had such a night.

    record : days of a station; only nights before `on` count.
    """
    cold = last_and_first(record.until(on), knowledge.fact("divide.hard_freeze").value)
    known = int(np.count_nonzero(~np.isnan(cold.first_autumn)))
    (day,) = dates_at(cold.first_autumn, (0.5,))
    if known < FEWEST_YEARS or day is None:
        return None, ""
    return date(on.year, 1, 1) + timedelta(days=round(day) - 1), f"{known} autumns of {record.station.name}"


def last_of_spring(knowledge: Knowledge, record: WeatherRecord, on: date) -> tuple[date | None, str]:
    """The middle date of spring's last hard freeze in the next late winter, and where it comes from.

    That is this year's if it still lies ahead, else next year's. None if fewer than five springs had such a night.
    """
    cold = last_and_first(record.until(on), knowledge.fact("divide.hard_freeze").value)
    known = int(np.count_nonzero(~np.isnan(cold.last_spring)))
    (day,) = dates_at(cold.last_spring, (0.5,))
    if known < FEWEST_YEARS or day is None:
        return None, ""
    found = date(on.year, 1, 1) + timedelta(days=round(day) - 1)
    if found < on:
        found = date(on.year + 1, 1, 1) + timedelta(days=round(day) - 1)
    return found, f"{known} springs of {record.station.name}"
