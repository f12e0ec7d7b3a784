"""A forecast at a yard colder than its station."""

from __future__ import annotations

from datetime import date

import numpy as np

from dooryard.knowledge import load
from dooryard.plan import assemble
from dooryard.plan.assemble import Sky
from dooryard.weather import site
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Place, Yard

ON = date(2031, 4, 20)


def _forecast() -> Forecast:
    absent = np.full(3, np.nan)
    return Forecast(
        issued=ON, dates=np.arange(np.datetime64(ON), np.datetime64(ON) + 3), t_min_c=np.array([2.0, np.nan, 4.0]),
        t_max_c=np.array([15.0, 14.0, 5.0]), rain_mm=np.zeros(3), rain_low_mm=absent, rain_high_mm=absent,
        burst_mm_h=None, source="made for this test",
    )  # fmt: skip


def _record() -> WeatherRecord:
    days = np.arange(np.datetime64("2020-01-01"), np.datetime64(ON))
    values = {
        "t_max_c": np.full(len(days), 20.0),
        "t_min_c": np.full(len(days), 10.0),
        "rain_mm": np.zeros(len(days)),
    }
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Creek Bottom"), days, values, flags, (), Source("made here", "none"))


def test_forecast_lows_move_with_the_yard_and_stay_below_its_highs() -> None:
    colder = site.forecast_at(_forecast(), -3.0)
    warmer = site.forecast_at(_forecast(), 3.0)
    assert colder is not None
    assert warmer is not None
    np.testing.assert_array_equal(colder.t_min_c, [-1.0, np.nan, 1.0])
    np.testing.assert_array_equal(warmer.t_min_c, [5.0, np.nan, 5.0])
    assert site.forecast_at(None, -3.0) is None


def test_plan_reckons_ahead_with_the_yards_own_nights() -> None:
    place = Place(
        latitude=38.0, longitude=-85.0, elevation_m=200.0, station="Creek Bottom", night_offset_c=-3.0
    )
    yard = Yard(name="low yard", units="us", place=place)
    draft = assemble.begin(yard, Sky(_record(), _forecast()), load(), ON).draft
    assert draft.outlook.t_min_c[0, 0] == -1.0
    assert draft.record.t_min_c[-1] == 7.0
