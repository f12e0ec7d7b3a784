"""When it is warm enough for mosquitoes, how often a larvicide is due, and which overflows count as large."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water.mosquito import doses, flushes, mesh_opening, warm_seasons
from tests.water_yards import days


def test_warm_season_is_the_days_whose_trailing_mean_is_above() -> None:
    """20 degC on days 101 to 200, else 0; the mean of four days is above 10 from the third to the second after."""
    dates = days("2001-01-01", "2001-12-31")
    t_c = np.zeros(365)
    t_c[100:200] = 20.0
    (season,) = warm_seasons(dates, t_c, 10.0, 4)
    # Day 103 has three warm days of four (15 degC); day 201 too (15); day 202 has two: 10, not above.
    assert (season.year, season.first, season.last, season.days) == (2001, 103, 201, 99)


def test_warm_season_of_a_year_that_is_never_warm_or_not_whole_is_left_out() -> None:
    dates = days("2001-01-01", "2003-06-30")
    t_c = np.where(dates.astype("datetime64[Y]") == np.datetime64("2002"), 20.0, 0.0)
    assert [season.year for season in warm_seasons(dates, t_c, 10.0, 1)] == [2002]


def test_warm_season_bridges_short_gaps_and_drops_a_year_with_a_long_one() -> None:
    dates = days("2001-01-01", "2002-12-31")
    t_c = np.full(len(dates), 15.0)
    t_c[10:12] = np.nan
    t_c[500:520] = np.nan
    assert [season.year for season in warm_seasons(dates, t_c, 10.0, 14)] == [2001]


def test_warm_season_all_year_in_a_leap_year_counts_its_days() -> None:
    dates = days("2004-01-01", "2004-12-31")
    (season,) = warm_seasons(dates, np.full(366, 25.0), 10.0, 14)
    assert season.days == 366


@pytest.mark.parametrize(
    ("season_d", "lasts_d", "times"), [(0, 30, 0), (30, 30, 1), (31, 30, 2), (180, 7, 26)]
)
def test_larvicide_is_due_for_every_begun_interval(season_d: float, lasts_d: float, times: int) -> None:
    assert doses(season_d, lasts_d) == times


def test_large_overflows_are_days_with_at_least_what_it_holds() -> None:
    spilled = [0.0, 199.0, 200.0, 900.0, np.nan]
    assert flushes(spilled, 200.0) == 2
    assert flushes(spilled, 200.0, times=4.0) == 1
    # A barrel that holds nothing is not flushed by nothing.
    assert flushes([0.0, 0.0], 0.0) == 0


def test_impossible_window_lasting_and_mesh_are_refused() -> None:
    dates = days("2001-01-01", "2001-12-31")
    with pytest.raises(InputError, match="at least one day"):
        warm_seasons(dates, np.zeros(365), 10.0, 0)
    with pytest.raises(InputError, match="last some time"):
        doses(100, 0.0)
    with pytest.raises(InputError, match="wire fills"):
        mesh_opening(100, 0.3)
