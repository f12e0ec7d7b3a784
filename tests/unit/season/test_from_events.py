"""Sums from a day that only a person sees: which words start them, and when they come."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.knowledge import Stage, load
from dooryard.season.from_events import counted, starts
from dooryard.season.timing import SeasonHeat
from dooryard.weather.outlook import ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Sighting

ON = date(2030, 6, 1)


def steady() -> WeatherRecord:
    """Ten years at 15 degC night and day: 5 degC.d, that is 9 degF.d, above 50 degF every day."""
    days = np.arange(np.datetime64("2020-01-01"), np.datetime64("2030-06-01"))
    warm = np.full(len(days), 15.0)
    values = {"t_min_c": warm, "t_max_c": warm}
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Here"), days, values, flags, (), Source("made", "none"))


def stage() -> Stage:
    return load().stages["codling-moth.hatch.indiana"]


def catch(day: date) -> Sighting:
    return Sighting(day, "trap", "codling-moth", "first steady catch", "certain")


def test_sum_starts_on_the_day_seen_and_is_reached_by_arithmetic() -> None:
    """250 degF.d at 9 a day take 28 days: from 3 May, that day counted, to 30 May."""
    heat = SeasonHeat(steady(), ahead(steady(), ON), ON)
    got = counted([stage()], [catch(date(2030, 5, 20)), catch(date(2030, 5, 3))], heat)
    assert [(one.begun, one.low.reached) for one in got] == [(date(2030, 5, 3), date(2030, 5, 30))]


@pytest.mark.parametrize("day", [date(2029, 5, 3), date(2030, 6, 2)])
def test_day_of_another_year_or_to_come_starts_nothing(day: date) -> None:
    heat = SeasonHeat(steady(), ahead(steady(), ON), ON)
    assert counted([stage()], [catch(day)], heat) == ()


@pytest.mark.parametrize(
    ("sign", "fits"),
    [
        ("first steady catch", True),
        ("steady catch of moths in the trap", True),
        ("one moth", False),
        ("", False),
    ],
)
def test_words_that_start_a_sum(sign: str, fits: bool) -> None:
    assert starts(stage(), sign) is fits


def test_row_of_a_calendar_start_is_started_by_no_words() -> None:
    assert not starts(load().stages["bagworm.hatch.ohio"], "eggs begin to hatch")
