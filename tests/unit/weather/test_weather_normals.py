"""Normals of calendar days and running totals, on series whose answers can be done by hand."""

from datetime import date

import numpy as np
import pytest

from dooryard.weather import normals


def days(first, last):
    return np.arange(first, np.datetime64(last) + 1, dtype="datetime64[D]")


def year_of(dates):
    return dates.astype("datetime64[Y]").astype(int) + 1970


def test_slots_leave_29_february_free_in_common_years():
    assert normals.slots(days("2004-01-01", "2004-12-31")).tolist() == list(range(366))
    assert normals.slots(days("2003-01-01", "2003-12-31")).tolist() == [*range(59), *range(60, 366)]
    assert normals.slots(days("1900-02-28", "1900-03-01")).tolist() == [58, 60]
    assert [normals.slot_of(date(2004, 2, 29)), normals.slot_of(date(2003, 3, 1))] == [59, 60]


def test_daily_of_years_that_each_keep_one_value():
    dates = days("2001-01-01", "2005-12-31")
    found = normals.daily(dates, year_of(dates) - 2000.0, (0, 0.25, 0.5, 1), half_width_d=3)
    # 1 to 5: mean 3, mean square distance 2. 29 February and its neighbours see 2004 once more.
    mean, spread, points = found.on(date(2001, 7, 1))
    assert (mean, spread) == pytest.approx((3, 2**0.5))
    assert points.tolist() == pytest.approx([1, 2, 3, 5])
    assert found.years == (2001, 2002, 2003, 2004, 2005)
    assert not np.isnan(found.mean).any()


def test_daily_smooths_a_cosine_by_the_response_of_its_weights():
    dates = days("1981-01-01", "2010-12-31")
    phase = 2 * np.pi * (dates - dates.astype("datetime64[Y]")).astype(int) / 365.25
    found = normals.daily(dates, 10 * np.cos(phase), half_width_d=15)
    steps = np.arange(-15, 16)
    weights = 1 - abs(steps) / 16
    response = (weights * np.cos(2 * np.pi * steps / 365.25)).sum() / weights.sum()
    # The calendar is up to a day off the sun's; a cosine of 10 moves by 0.17 a day at the steepest.
    assert found.mean[0] == pytest.approx(10 * response, abs=0.02)
    assert found.mean[183] == pytest.approx(-10 * response, abs=0.02)
    assert found.mean[91] == pytest.approx(0, abs=0.2)
    assert (found.spread < 0.35).all()


def test_daily_season_inside_the_window_does_not_widen_the_points():
    dates = days("2001-01-01", "2010-12-31")
    rising = (dates - dates.astype("datetime64[Y]")).astype(float)
    found = normals.daily(dates, rising, (0.1, 0.9), half_width_d=10)
    _, _, (low, high) = found.on(date(2001, 6, 1))
    assert high - low < 1.1  # the step of a leap year, not the 16 days between the tenths of the window


def test_daily_where_no_year_knows_the_day_is_not_a_number():
    dates = days("2001-01-01", "2003-12-31")
    values = np.where((dates.astype("datetime64[M]").astype(int) % 12) == 6, np.nan, 1.0)
    found = normals.daily(dates, values, half_width_d=2)
    assert np.isnan(found.on(date(2001, 7, 15))[0])
    assert found.on(date(2001, 6, 15))[0] == pytest.approx(1)
    nothing = normals.daily(dates, np.full(len(dates), np.nan))
    assert np.isnan(nothing.mean).all()
    assert nothing.years == ()


def test_running_totals_stop_being_known_after_a_missing_day():
    dates = days("2001-01-01", "2002-12-31")
    values = np.ones(len(dates))
    values[10] = np.nan
    table = normals.by_year(dates, values)
    strict, lenient = table.running_totals(), table.running_totals(1)
    assert (strict[0, 9], np.isnan(strict[0, 10:]).all()) == (10, True)
    assert lenient[0, 365] == 364
    assert strict[1, 365] == 365


@pytest.mark.parametrize(("start", "length"), [((7, 1), 366), ((3, 1), 366), ((1, 1), 365)])
def test_years_that_begin_on_another_day_hold_their_29_february(start, length):
    dates = days("2003-01-01", "2005-12-31")
    table = normals.by_year(dates, np.ones(len(dates)), start)
    row = table.years.index(2003)
    # The year from July 2003 and that from March 2003 hold 29 February 2004; the calendar year 2003 has none.
    assert table.is_day[row].sum() == length
    assert table.running_totals()[row, -1] == length
