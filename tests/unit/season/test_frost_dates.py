"""Last and first cold days of small records."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.season.frost import last_and_first
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar


def year_of(first: date, days: int, cold: dict[date, float], missing: tuple[date, ...] = ()) -> WeatherRecord:
    """Days of 10 degC nights but for the cold ones."""
    lows = np.full(days, 10.0)
    for day, low in cold.items():
        lows[(day - first).days] = low
    for day in missing:
        lows[(day - first).days] = np.nan
    values = {"t_min_c": lows, "t_max_c": lows + 10}
    flags = {name: np.full(days, Flag.OBSERVED, dtype=np.uint8) for name in values}
    dates = np.datetime64(first, "D") + np.arange(days)
    return on_calendar(Station("Mill Hollow"), dates, values, flags, (), Source("made here", "none"))


@pytest.mark.check("S-05-01", source="Utah State University help page on frost dates", status="seen")
def test_last_and_first_cold_days_lie_on_either_side_of_midsummer() -> None:
    record = year_of(
        date(2030, 1, 1),
        365,
        {date(2030, 3, 1): -5, date(2030, 4, 20): 0.0, date(2030, 4, 25): 0.1, date(2030, 10, 9): -1},
    )
    got = last_and_first(record, 0.0)
    assert got.years == (2030,)
    assert got.last_spring.tolist() == [110.0]  # 20 April
    assert got.first_autumn.tolist() == [282.0]  # 9 October
    assert got.season_d.tolist() == [171.0]  # 21 April to 8 October


@pytest.mark.check("S-05-01", source="Utah State University help page on frost dates", status="seen")
def test_day_before_24_july_is_spring_and_24_july_is_autumn() -> None:
    record = year_of(date(2030, 1, 1), 365, {date(2030, 7, 23): -1, date(2030, 7, 24): -1})
    got = last_and_first(record, 0.0)
    assert (got.last_spring[0], got.first_autumn[0]) == (204.0, 205.0)


@pytest.mark.check("S-05-01", source="Utah State University help page on frost dates", status="seen")
@pytest.mark.parametrize(("gone", "known"), [(10, True), (11, False)])
def test_half_year_with_more_than_ten_missing_days_gives_no_date(gone: int, known: bool) -> None:
    missing = tuple(date(2030, 2, day) for day in range(1, gone + 1))
    got = last_and_first(year_of(date(2030, 1, 1), 365, {date(2030, 4, 20): -1}, missing), 0.0)
    assert got.spring_known.tolist() == [known]
    assert np.isnan(got.last_spring[0]) == (not known)


def test_leap_year_has_the_same_day_numbers_and_its_29_february_counts_as_the_28th() -> None:
    leap = year_of(date(2028, 1, 1), 366, {date(2028, 4, 20): -1})
    assert last_and_first(leap, 0.0).last_spring.tolist() == [110.0]
    assert last_and_first(year_of(date(2028, 1, 1), 366, {date(2028, 2, 29): -1}), 0.0).last_spring[0] == 59.0


def test_year_without_cold_is_known_and_has_no_date() -> None:
    got = last_and_first(year_of(date(2030, 1, 1), 365, {}), 0.0)
    assert got.spring_known.tolist() == [True]
    assert np.isnan([got.last_spring[0], got.first_autumn[0], got.season_d[0]]).all()


def test_record_that_begins_in_february_misses_january() -> None:
    got = last_and_first(year_of(date(2030, 2, 1), 334, {date(2030, 4, 20): -1}), 0.0)
    assert got.spring_known.tolist() == [False]
    assert got.autumn_known.tolist() == [True]
