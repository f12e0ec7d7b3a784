"""Hours made out of a day's lowest and highest temperature."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.season.daily_curve import hours_of_days
from dooryard.water.radiation import daylight_hours

LATITUDE = 40.0
DAYS = np.arange(100, 110)


def test_curve_stays_within_the_days_it_joins_and_reaches_both_ends() -> None:
    low, high = np.full(10, 5.0), np.full(10, 20.0)
    hours = hours_of_days(low, high, DAYS, LATITUDE)
    assert hours.shape == (10, 24)
    assert hours.min() >= 5.0 - 1e-9
    assert hours.max() <= 20.0
    # The highest point lies at half of (day length + 4) after sunrise, within half an hour of a full hour.
    assert hours.max(axis=1) == pytest.approx(20.0, abs=0.15)
    assert hours.min(axis=1) == pytest.approx(5.0, abs=0.5)


def test_evening_falls_from_the_warmth_of_sunset_to_the_next_lowest() -> None:
    low, high = np.array([5.0, 0.0, 5.0]), np.full(3, 20.0)
    hours = hours_of_days(low, high, DAYS[:3], LATITUDE)
    day = float(np.asarray(daylight_hours(100.0, LATITUDE)))
    sunset, night = 12 + day / 2, 24 - day
    at_sunset = 5 + 15 * np.sin(np.pi * day / (day + 4))
    expected = at_sunset - at_sunset * np.log(23 - sunset + 1) / np.log(night + 1)  # next lowest is 0
    assert hours[0, 23] == pytest.approx(expected, abs=0.05)  # the next day is two minutes longer
    assert (np.diff(hours[0, int(sunset) + 1 :]) < 0).all()
    assert hours[1, 0] < hours[0, 23]


def test_days_whose_ends_are_one_temperature_are_even_and_a_missing_day_leaves_its_hours_unknown() -> None:
    even = hours_of_days(np.full(3, 8.0), np.full(3, 8.0), DAYS[:3], LATITUDE)
    assert even == pytest.approx(8.0)
    gap = hours_of_days([5, np.nan, 5, 5], [15, np.nan, 15, 15], DAYS[:4], LATITUDE)
    assert np.isnan(gap[1]).all()
    assert not np.isnan(gap[3]).any()


def test_polar_night_has_the_mean_and_no_days_give_no_hours() -> None:
    assert hours_of_days([-20.0], [-10.0], [355], 80.0)[0] == pytest.approx(-15.0)
    assert hours_of_days([], [], [], LATITUDE).shape == (0, 24)
