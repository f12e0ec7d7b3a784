"""Dates of given chances at several limits, the season between them, and the odds of one night."""

from __future__ import annotations

from math import sqrt
from statistics import NormalDist, stdev

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import mstats, norm

from dooryard.season.freeze_levels import levels, quantiles
from dooryard.season.frost import dates_at, dates_by_rank
from dooryard.season.night_odds import Spread, night, past_share
from dooryard.weather.record import WeatherRecord
from tests.water_yards import days, record

SPRING = (90, 100, 110, 95, 105, 100, 98, 102, 104)
AUTUMN = (290, 300, 280, 285, 295, 300, 296, 292, 288)


def nine_years(low_c: float = -1.0, spring: tuple[int | None, ...] = SPRING) -> WeatherRecord:
    """2001 to 2009 with one cold night in spring and one in autumn, else 10 degC."""
    dates = days("2001-01-01", "2009-12-31")
    lows = np.full(len(dates), 10.0)
    for year, (last, first) in enumerate(zip(spring, AUTUMN, strict=True), start=2001):
        begin = int((np.datetime64(f"{year}-01-01") - dates[0]).astype(int))
        leap = int(year % 4 == 0)
        if last is not None:
            lows[begin + last - 1 + leap] = low_c
        lows[begin + first - 1 + leap] = low_c
    return record(dates, t_min_c=lows, t_max_c=20.0)


@pytest.mark.check(
    "S-05-02", source="NOAA definition of levels, normal curve of ten plain years", status="computed"
)
def test_levels_of_autumn_are_those_of_spring_with_time_run_backwards() -> None:
    (level,) = levels(nine_years(), [0.0], allowed_missing_d=10)
    assert (level.springs, level.autumns, level.spring_share, level.autumn_share) == (9, 9, 1.0, 1.0)
    assert level.over == pytest.approx(norm.ppf([0.1, 0.5, 0.9], np.mean(SPRING), stdev(SPRING)))
    assert level.come == pytest.approx(norm.ppf([0.1, 0.5, 0.9], np.mean(AUTUMN), stdev(AUTUMN)))
    # Nine ranks reach from 0.1 to 0.9: the ends are the earliest and the latest year.
    assert level.over_ranked == pytest.approx((90, 100, 110))
    assert level.come_ranked == pytest.approx((280, 292, 300))


@pytest.mark.check("S-05-02", source="NOAA definition of levels, share of years with cold", status="computed")
def test_years_without_cold_leave_the_levels_they_cannot_reach_open() -> None:
    (level,) = levels(nine_years(spring=(None, *SPRING[1:])), [0.0], allowed_missing_d=10)
    assert level.spring_share == pytest.approx(8 / 9)
    had = SPRING[1:]
    assert level.over[0] is None  # cold later in 90 % of the years: only 89 % have any
    middle = np.mean(had) + NormalDist().inv_cdf(1 - 0.5 * 9 / 8) * stdev(had)
    assert level.over[1] == pytest.approx(middle)
    assert level.over_ranked[0] is None
    assert level.seasons == 8


@pytest.mark.check("S-05-02", source="quantiles of type 6 in a general statistics library", status="computed")
def test_season_is_taken_year_by_year_and_not_as_one_date_less_another() -> None:
    (level,) = levels(nine_years(), [0.0], allowed_missing_d=10)
    lengths = [b - a - 1 for a, b in zip(SPRING, AUTUMN, strict=True)]
    expected = mstats.mquantiles(lengths, [0.1, 0.5, 0.9], alphap=0, betap=0)
    assert level.season_d == pytest.approx(tuple(expected))
    assert level.come[2] is not None
    assert level.over[0] is not None
    assert level.season_d[2] != pytest.approx(level.come[2] - level.over[0] - 1, abs=3)


@given(st.lists(st.floats(30, 200), min_size=20, max_size=40, unique=True))
def test_dates_by_rank_and_by_curve_come_later_with_smaller_chance(sample: list[float]) -> None:
    wanted = [0.9, 0.7, 0.5, 0.3, 0.1]
    for found in (dates_at(sample, wanted), dates_by_rank(sample, wanted)):
        known = [day for day in found if day is not None]
        assert known == sorted(known)


def test_lower_limits_are_over_sooner_and_come_later() -> None:
    cold = nine_years(-3.0)
    mild, hard = levels(cold, [0.0, -5.0], allowed_missing_d=10)
    assert mild.over[1] is not None
    assert hard.over == (None, None, None)
    assert hard.season_d == (None, None, None)


def test_quantiles_outside_the_ranks_are_left_open() -> None:
    assert quantiles([1.0, 2.0, 3.0], [0.1, 0.5, 0.9]) == (None, 2.0, None)
    assert quantiles([], [0.5]) == (None,)


SPREAD = Spread(first_c=2.0, later_c=0.5, yard_c=1.5)


@pytest.mark.check("S-05-01", source="normal curve of a general statistics library", status="computed")
def test_night_odds_follow_a_curve_round_the_low_moved_to_the_yard() -> None:
    first = night(1, 3.0, -2.0, SPREAD, [0.0, 1.0])
    assert first.low_c == 1.0
    assert first.spread_c == pytest.approx(2.5)
    assert first.odds == pytest.approx(tuple(norm.cdf([0.0, 1.0], 1.0, 2.5)))
    assert first.odds[1] == pytest.approx(0.5)
    assert night(3, 3.0, -2.0, SPREAD, [0.0]).spread_c == pytest.approx(sqrt(3.0**2 + 1.5**2))


@given(st.floats(-20, 20), st.floats(-6, 3), st.integers(1, 7))
def test_night_odds_fall_with_the_limit_and_rise_with_a_colder_yard(
    low: float, offset: float, lead: int
) -> None:
    limits = [2.2, 0.0, -2.2, -4.4]
    here = night(lead, low, offset, SPREAD, limits).odds
    assert list(here) == sorted(here, reverse=True)
    assert night(lead, low, offset - 1, SPREAD, limits).odds[1] >= here[1]


def test_past_share_leaves_out_years_that_could_hide_a_cold_night() -> None:
    lows = [[5, 5], [5, -1], [np.nan, -1], [np.nan, 5]]
    assert past_share(lows, 0.0) == (2, 3)
