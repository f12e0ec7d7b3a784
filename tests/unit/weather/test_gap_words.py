"""What gaps are said to mean, held against what the rooms upstairs really do with such gaps."""

from datetime import date

import numpy as np
import pytest

from dooryard.season import frost
from dooryard.season.timing import crossing
from dooryard.weather.gap_words import means_filled, means_left
from dooryard.weather.outlook import ahead
from tests.unit.weather.gap_stations import station

FIRST = date(2024, 1, 1)
DAYS = 366 * 3


def with_gap(gap):
    """Three years of 12 degC by night and 20 by day, this many days missing from 1 April 2026 on."""
    low, high = np.full(DAYS, 12.0), np.full(DAYS, 20.0)
    start = (date(2026, 4, 1) - FIRST).days
    low[start : start + gap], high[start : start + gap] = np.nan, np.nan
    return station(FIRST, t_min_c=low, t_max_c=high)


@pytest.mark.parametrize("gap", [3, 4])
def test_words_about_heat_sums_are_what_the_sum_does(gap):
    """A day brings 6 degC.d; 540 is reached on 31 March, 543 in the gap that begins on 1 April."""
    on = date(2026, 6, 1)
    record = with_gap(gap)
    outlook = ahead(record, on, days=300)
    asked = crossing(record, outlook, 543.0, method="average", lower_c=10.0, on=on)
    told = " ".join(means_left("t_min_c", date(2026, 4, 1), date(2026, 4, gap), gap, 10))
    assert asked.reached is None
    if gap == 3:
        assert "straight line over these days and counts them" in told
        assert (asked.sum_now, asked.gap_days) == (151 * 6.0, 3)
        assert "no date is claimed, only the days around" in told
        assert (asked.earliest, asked.latest) == (date(2026, 4, 1), date(2026, 4, 3))
    else:
        assert "A heat sum of 2026 that runs over them is unknown from 2026-04-01 on" in told
        assert (asked.sum_now, asked.refused is not None) == (None, True)


@pytest.mark.parametrize("gap", [3, 4])
def test_words_about_looking_ahead_are_what_the_outlook_does(gap):
    record = with_gap(gap)
    told = " ".join(means_left("t_max_c", date(2026, 4, 1), date(2026, 4, gap), gap, 10))
    assert ("2026 is left out" in told) == (gap > 3)
    outlook = ahead(record, date(2027, 1, 1), days=250)
    assert outlook.years == ((2024, 2025, 2026) if gap == 3 else (2024, 2025))


@pytest.mark.parametrize("gap", [10, 11])
def test_words_about_frost_are_what_frost_dates_do(knowledge, gap):
    allowed_d = int(knowledge.fact("frost.missing_allowed").value)
    told = " ".join(means_left("t_min_c", date(2026, 4, 1), date(2026, 4, gap), gap, allowed_d))
    dates = frost.last_and_first(with_gap(gap), 0.0)
    known = bool(dates.spring_known[dates.years.index(2026)])
    assert ("gives no frost date" in told) == (not known) == (gap > 10)


def test_words_name_the_years_a_long_gap_of_rain_runs_over():
    told = " ".join(means_left("rain_mm", date(1970, 1, 1), date(1983, 12, 31), 5113, 10))
    assert "no total of rain for every year from 1970 to 1983" in told
    assert "heat" not in told
    assert all("flagged" in " ".join(means_filled(element)) for element in ("rain_mm", "t_min_c"))
