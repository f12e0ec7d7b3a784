"""Which days a treatment may fall on: every limit asked on its own, and the one that closed a day named."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from dooryard.care.repeat import rain_rule, repeat
from dooryard.care.treatment_days import Bounds, Day, always, days, not_before, picked_after
from dooryard.weather.forecast import Forecast, ForecastHours

ON = date(2031, 7, 12)
BOUNDS = Bounds(
    calm_m_s=1.3, windiest_m_s=4.5, coldest_c=4.4, hottest_c=32.2, thaw_h=0.0, dry_h=6.0, wet_h=2.0, rain_mm=0.25,
    chance_pct=40.0, clear_pct=30.0, humid_pct=95.0,
    rest_of_day_h=14.0, gusts=1.5,
)  # fmt: skip


def _forecast(rain_mm: list[float], chance: list[float], high: float = 28.0) -> Forecast:
    count = len(rain_mm)
    absent = np.full(count, np.nan)
    return Forecast(
        issued=ON,
        dates=np.arange(np.datetime64(ON), np.datetime64(ON) + count),
        t_min_c=np.full(count, 17.0),
        t_max_c=np.full(count, high),
        rain_mm=np.array(rain_mm),
        rain_low_mm=absent,
        rain_high_mm=absent,
        burst_mm_h=None,
        source="made for this test",
        rain_chance_pct=np.array(chance),
    )


def _full(value: float) -> NDArray[np.float64]:
    return np.full(72, value)


def _hours(wind: dict[int, float], rain: dict[int, float], *, sky: float = 80.0) -> ForecastHours:
    """Three days by hours: mild, light wind but where told otherwise, dry but where told otherwise."""
    count = 72
    start = np.datetime64(ON, "h")
    winds, rains = _full(2.5), _full(0.0)
    for hour, value in wind.items():
        winds[hour] = value
    for hour, value in rain.items():
        rains[hour] = value
    return ForecastHours(
        local=start + np.arange(count), clock="UTC-5", t_c=_full(22.0),
        dew_point_c=_full(14.0), humidity_pct=_full(60.0),
        rain_mm=rains, rain_chance_pct=np.where(rains > 0, 80.0, 5.0), wind_m_s=winds, gust_m_s=_full(np.nan),
        sky_pct=_full(sky),
    )  # fmt: skip


def _daylight(_: date) -> tuple[int, int]:
    return 6, 19


def _judged(forecast: Forecast, bounds: Bounds = BOUNDS) -> list[Day]:
    return list(days(forecast, bounds, ON, _daylight, [not_before("interval", ON + timedelta(days=1))]))


def test_treatment_days_by_day_name_what_closed_each() -> None:
    """Last spray 6 July, seven days at least; the 13th dry, the 14th 60 % rain: only the 13th is open."""
    first, second, third = _judged(_forecast([0.0, 0.0, 6.0], [10, 20, 60]))
    assert first.closed_by == ("interval",)
    assert second.open
    assert third.closed_by == ("rain",)
    assert {"wind", "inversion", "wet leaves"} <= set(second.untold)


def test_treatment_days_with_a_long_wait_for_rain_look_into_the_next_day() -> None:
    long = replace(BOUNDS, dry_h=24.0)
    second = _judged(_forecast([0.0, 0.0, 6.0], [10, 20, 60]), long)[1]
    assert second.closed_by == ("rain after",)


def test_treatment_days_in_ninety_degree_heat_are_closed_for_oil() -> None:
    """Common practice: no horticultural oil in 90 °F heat."""
    assert all("heat" in day.closed_by for day in _judged(_forecast([0, 0, 0], [0, 0, 0], high=34.0)))


def test_treatment_days_before_a_freezing_night_are_closed() -> None:
    cold = _forecast([0.0, 0.0, 0.0], [0, 0, 0], high=9.0)
    cold.t_min_c[2] = -1.0
    _, second, third = _judged(cold, replace(BOUNDS, thaw_h=24.0))
    assert second.closed_by == ("frost after",)
    assert "frost after" in third.untold


def test_treatment_hours_avoid_wind_rain_and_the_hours_before_rain() -> None:
    wind = dict.fromkeys(range(36, 44), 6.0)
    by_hour = replace(_forecast([0.0, 3.0], [10, 80]), hours=_hours(wind, {46: 3.0}))
    day = _judged(by_hour)[1]
    # Rain at 22 h keeps the hours from 17 h on shut (six dry hours), wind those from noon to 19 h.
    assert day.by_hours
    assert day.hours == ((6, 11),)
    assert day.open


def test_treatment_hours_that_are_calm_under_a_clear_sky_are_shut() -> None:
    calm = dict.fromkeys(range(24, 48), 0.5)
    clear = replace(_forecast([0.0, 0.0], [0, 0]), hours=_hours(calm, {}, sky=10.0))
    cloudy = replace(clear, hours=_hours(calm, {}, sky=90.0))
    assert _judged(clear)[1].closed_by == ("inversion",)
    assert _judged(cloudy)[1].hours == ((6, 19),)


@pytest.mark.parametrize(("wait", "opens"), [(0, True), (3, False), (None, False)])
def test_treatment_days_before_picking_follow_the_label(wait: int | None, opens: bool) -> None:
    check = picked_after("harvest", ON + timedelta(days=2), wait)(ON)
    assert check.passes is opens
    assert picked_after("harvest", None, None)(ON).passes


def test_treatment_days_in_bloom_are_all_closed() -> None:
    found = days(_forecast([0.0] * 3, [0] * 3), BOUNDS, ON, _daylight, [always("bloom", False)])
    assert all("bloom" in day.closed_by for day in found)


@pytest.mark.parametrize(
    ("rain", "word"), [(20.0, "keep"), (25.4, "halve"), (50.8, "halve"), (59.7, "again"), (None, "unknown")]
)
def test_repeat_rain_rule_changes_at_one_and_two_inches(rain: float | None, word: str) -> None:
    """The trade's rule: less than 1 in keeps the interval, 1 to 2 in halves the rest, over 2 in covers again."""
    assert rain_rule(rain, 25.4, 50.8) == word


def test_repeat_after_heavy_rain_is_due_as_soon_as_the_label_allows() -> None:
    found = repeat(
        ON, last=date(2031, 7, 6), used=3, interval_d=7, interval_most_d=None, season_most=8, rain="again"
    )
    assert (found.earliest, found.due, found.left) == (date(2031, 7, 13), date(2031, 7, 13), 4)


@given(
    st.integers(0, 30),
    st.integers(0, 12),
    st.integers(0, 20),
    st.integers(0, 20),
    st.sampled_from(["keep", "halve", "again", "unknown"]),
)
def test_repeat_is_never_inside_the_label_interval(
    since: int, used: int, least: int, more: int, rain: str
) -> None:
    last = ON - timedelta(days=since)
    found = repeat(
        ON,
        last=last,
        used=used,
        interval_d=least,
        interval_most_d=least + more,
        season_most=10,
        rain=rain,  # type: ignore[arg-type]
    )
    if used >= 10:
        assert (found.earliest, found.due) == (None, None)
        return
    assert found.earliest is not None
    assert found.due is not None
    assert found.earliest >= max(ON, last + timedelta(days=least))
    assert found.earliest <= found.due <= max(found.earliest, last + timedelta(days=least + more))
    assert found.left == 9 - used
