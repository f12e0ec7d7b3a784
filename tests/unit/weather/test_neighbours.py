"""What a neighbour tells, against relations that were put in by hand and figures that libraries give."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.weather.hidden import in_season, own_day_errors, steady_error, usual_error, usual_sum_error
from dooryard.weather.neighbours import (
    distance_km,
    fit_ratio,
    fit_regression,
    measured,
    months_of,
    relate,
    usual,
)
from dooryard.weather.record import Flag, Station
from tests.unit.weather.gap_stations import FIRST, YEARS_4, noise, rain_of, station

MONTH = (np.datetime64(FIRST, "D") + np.arange(YEARS_4)).astype("datetime64[M]").astype(np.int64) % 12


def test_regression_finds_the_line_of_each_season_that_was_put_in():
    """January to June one line, July to December another: a month well inside each half has that line alone."""
    there = 15 + noise(1, YEARS_4)
    here = np.where(MONTH < 6, 2.0 + 0.9 * there, -1.0 + 1.1 * there)
    line = fit_regression(there, here, MONTH)
    assert line.slope[[1, 2, 3, 4]] == pytest.approx([0.9] * 4)
    assert line.intercept_c[[1, 2, 3, 4]] == pytest.approx([2.0] * 4)
    assert line.slope[[7, 8, 9, 10]] == pytest.approx([1.1] * 4)
    assert line.intercept_c[[7, 8, 9, 10]] == pytest.approx([-1.0] * 4)
    assert line.days[3] == 4 * (31 + 30 + 31)  # March, April, May
    assert line.estimate(np.array([10.0, np.nan]), np.array([3, 3])) == pytest.approx(
        [11.0, np.nan], nan_ok=True
    )


@pytest.mark.parametrize("number", [0, 6, 11])
def test_regression_of_a_season_is_the_one_a_statistics_library_draws(number):
    from scipy.stats import linregress

    there = 15 + noise(2, YEARS_4)
    here = 3 + 0.7 * there + noise(3, YEARS_4)
    here[::7] = np.nan
    line = fit_regression(there, here, MONTH)
    days = in_season(MONTH, number) & ~np.isnan(here)
    expected = linregress(there[days], here[days])
    assert line.slope[number] == pytest.approx(expected.slope, rel=1e-9)
    assert line.intercept_c[number] == pytest.approx(expected.intercept, rel=1e-9)


def test_regression_without_days_in_common_gives_no_value():
    line = fit_regression(np.full(40, np.nan), np.ones(40), MONTH[:40])
    assert np.isnan(line.estimate(np.ones(1), np.zeros(1, dtype=np.int64))).all()


@pytest.mark.parametrize("factor", [0.5, 1.0, 1.6])
def test_ratio_of_two_gauges_in_proportion_is_that_proportion(factor):
    there = rain_of(4, YEARS_4)
    ratio = fit_ratio(there, there * factor, MONTH)
    estimate = ratio.estimate(there, MONTH)
    np.testing.assert_allclose(estimate, there * factor, atol=1e-9)


def test_ratio_drops_small_rains_where_it_rains_less_often():
    """The neighbour notes 1 mm of drizzle on every day that is dry here; heavy days are the same."""
    here = np.where(np.arange(YEARS_4) % 3 == 0, 10.0, 0.0)
    there = np.where(here > 0, here, 1.0)
    ratio = fit_ratio(there, here, MONTH)
    assert ratio.estimate(np.array([1.0, 10.0, 0.0]), np.zeros(3, dtype=np.int64)) == pytest.approx(
        [0, 10, 0]
    )


def test_ratio_carries_no_rain_further_than_the_highest_class():
    """Above all that was seen the ratio stays, so twice the amount gives twice the estimate."""
    there = rain_of(5, YEARS_4)
    ratio = fit_ratio(there, there * 1.2, MONTH)
    most = there.max()
    january = np.zeros(2, dtype=np.int64)
    one, two = ratio.estimate(np.array([most, 2 * most]), january)
    assert two == pytest.approx(2 * one)


def test_hidden_days_are_estimated_by_a_relation_made_without_them():
    """One day lies 100 off the line: seen, it would pull the line to itself; hidden, its error is the whole 100."""
    there = np.tile([10.0, 12.0, 8.0, 11.0, 9.0], 100)[:450]
    here = there.copy()
    here[200] += 100.0
    relation = relate(
        station(FIRST, t_min_c=here), station(FIRST, t_min_c=there, name="There"), "t_min_c", 0.05
    )
    assert relation.error[200] == pytest.approx(-100.0, abs=1e-9)


def test_relation_never_uses_estimated_or_suspect_values_on_either_side():
    there = 15 + noise(6, 400)
    wrong = dict.fromkeys(range(0, 400, 5), Flag.ESTIMATED)
    here = np.where(np.arange(400) % 5 == 0, 99.0, there + 1)
    record = station(FIRST, t_max_c=here, flags={"t_max_c": wrong})
    relation = relate(record, station(FIRST, t_max_c=there, name="There"), "t_max_c", 0.05)
    assert np.nanmax(np.abs(relation.error)) < 1e-9
    assert np.isnan(relation.error[::5]).all()
    back = relate(station(FIRST, t_max_c=there), record, "t_max_c", 0.05)
    assert np.isnan(back.estimate[::5]).all()
    assert np.isnan(measured(record, "t_max_c")[::5]).all()


@pytest.mark.parametrize("lag_d", [-1, 0, 1])
@pytest.mark.parametrize("element", ["rain_mm", "t_min_c"])
def test_neighbour_that_writes_its_days_late_is_moved_back(element, lag_d):
    """A gauge read in the morning writes yesterday's rain on today's line."""
    weather = rain_of(7, 800) if element == "rain_mm" else 10 + noise(7, 800)
    here = station(FIRST, **{element: weather[10:700]})
    there = station(FIRST, **{element: weather[10 - lag_d : 700 - lag_d]}, name="There")
    relation = relate(here, there, element, 0.05)
    assert relation.lag_d == lag_d
    assert np.nanmax(np.abs(relation.error)) < 1e-9


def test_neighbour_over_other_years_is_laid_on_the_days_in_common():
    weather = 10 + noise(8, 1000)
    here = station(FIRST, t_min_c=weather[:600])
    later = station("2020-07-19", t_min_c=weather[200:], name="There")  # 200 days after 1 January 2020
    relation = relate(here, later, "t_min_c", 0.05)
    assert np.isnan(relation.estimate[:200]).all()
    np.testing.assert_allclose(relation.estimate[200:], weather[200:600], atol=1e-9)
    assert np.isnan(relate(here, station("1950-01-01", t_min_c=weather), "t_min_c", 0.05).estimate).all()


def test_usual_error_is_that_of_the_season_asked():
    error = np.where(MONTH == 6, 3.0, 1.0)
    july = usual_error(error, error * 2, MONTH, 6)
    january = usual_error(error, error * 2, MONTH, 0)
    # June, July, August have 30, 31 and 31 days; July's are 3 off.
    assert july.daily == pytest.approx((61 * 1 + 31 * 3) / 92)
    assert (january.daily, january.nine_in_ten, january.bias, january.guess) == (1.0, 1.0, 1.0, 2.0)
    assert july.nine_in_ten == 3.0
    assert usual_error(error[:10], error[:10]) is None


@given(values=st.lists(st.none() | st.integers(-50, 50), min_size=1, max_size=80), length=st.integers(1, 9))
def test_sum_error_is_the_mean_size_over_every_whole_stretch(values, length):
    error = np.array([np.nan if value is None else float(value) for value in values])
    month = np.zeros(len(error), dtype=np.int64)
    stretches = [error[i : i + length] for i in range(len(error) - length + 1)]
    sums = [abs(stretch.sum()) for stretch in stretches if not np.isnan(stretch).any()]
    found = usual_sum_error(error, month, 0, length)
    assert found == (pytest.approx(float(np.mean(sums)), abs=1e-9) if len(sums) >= 20 else None)


def test_steady_error_is_the_mean_over_the_years_about_a_day():
    """1 for three years, then 3 for three: mid-way between, half of each; a year from the step, none of the other."""
    error = np.where(np.arange(2192) < 1096, 1.0, 3.0)
    steady = steady_error(error)
    assert steady[[0, 700, 1500, 2191]].tolist() == [1.0, 1.0, 3.0, 3.0]
    assert steady[1095] == pytest.approx((366 * 1 + 365 * 3) / 731)
    sparse = np.full(2192, np.nan)
    sparse[:50] = 2.0
    assert np.isnan(steady_error(sparse)).all()


def test_own_days_are_hidden_between_measured_ends_only():
    """0 2 4 7: over one day the lines give 2 for 2 and 4.5 for 4; over both days 7/3 and 14/3."""
    errors, starts = own_day_errors(np.array([0.0, 2.0, 4.0, 7.0]), 1)
    assert (errors.ravel().tolist(), starts.tolist()) == ([0.0, 0.5], [1, 2])
    errors, starts = own_day_errors(np.array([0.0, 2.0, 4.0, 7.0]), 2)
    assert errors == pytest.approx(np.array([[1 / 3, 2 / 3]]))
    errors, starts = own_day_errors(np.array([0.0, 2.0, np.nan, 7.0]), 1)
    assert starts.size == 0
    assert own_day_errors(np.array([1.0, 2.0]), 3)[0].shape == (0, 3)


def test_usual_value_of_a_date_is_the_mean_of_the_month_about_it():
    record = station(FIRST, t_min_c=np.full(YEARS_4, 7.5))
    assert usual(record.t_min_c, record) == pytest.approx(np.full(YEARS_4, 7.5))
    seasonal = -10 * np.cos(2 * np.pi * np.arange(YEARS_4) / 365.25)
    record = station(FIRST, t_min_c=seasonal)
    # A mean over 31 days takes about 1 % off a yearly wave; leap days shift the day count by one.
    assert np.abs(usual(record.t_min_c, record) - seasonal).max() < 0.4
    assert (months_of(record) == MONTH).all()


def test_distance_of_a_degree_of_latitude_and_of_places_not_known():
    a, b = Station("a", "", 38.0, -85.0), Station("b", "", 39.0, -85.0)
    assert distance_km(a, b) == pytest.approx(111.195, abs=0.001)  # 2 pi 6371.0088 km over 360
    assert distance_km(a, Station("c", "", 38.0, 95.0)) == pytest.approx(104 * 111.1950, abs=0.02)
    assert distance_km(a, Station("d")) is None
