"""Design rain from tables, gauges and days: interpolation, steps longer than the window, and the order of trust."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError
from dooryard.water import design_rain as rain
from dooryard.water.gutters import codes, corner_factor, leader_flow, length_factor, opening_rule, round_bore
from dooryard.water.idf import PowerShifted, ShiftedPower, chicago_depth, depth, fit
from dooryard.water.rain_garden import by_factor
from dooryard.water.storm import Pattern
from dooryard.weather.gauge import GaugeRecord, in_order
from dooryard.weather.readers.atlas14 import DesignTable
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

MADE = Source("made", "made", "", "")


def table(depths: list[list[float]], minutes: list[float], years: list[float]) -> DesignTable:
    return DesignTable(
        "p", "e", "partial duration", None, None, None, np.array(minutes), np.array(years), np.array(depths), None,
        None, MADE,
    )  # fmt: skip


def power_table() -> DesignTable:
    """Depth = 10 (t / 60)^0.5 T^0.25: straight in logarithms, so every value between is known by hand."""
    minutes, years = [5.0, 60.0, 1440.0], [1.0, 2.0, 16.0, 100.0]
    return table([[10 * (t / 60) ** 0.5 * y**0.25 for y in years] for t in minutes], minutes, years)


def gauge(minutes: int, wet: dict[str, float], first: str, last: str) -> GaugeRecord:
    """Intervals of one length from first to last, dry but for the named starts."""
    start = np.arange(np.datetime64(first, "m"), np.datetime64(last, "m"), np.timedelta64(minutes, "m"))
    depth_mm = np.zeros(len(start))
    for when, mm in wet.items():
        depth_mm[np.flatnonzero(start == np.datetime64(when, "m"))[0]] = mm
    flags = np.zeros(len(start), dtype=np.uint8)
    return in_order(Station("g", "g"), start, np.full(len(start), minutes), depth_mm, flags, (), MADE)


@pytest.mark.check("W-06-log-log", source="straight lines of the logarithms, by hand", status="computed")
@pytest.mark.parametrize(
    ("minutes", "years", "mm"), [(60, 16, 20), (15, 16, 10), (240, 1, 20), (60, 4, 10 * 2**0.5)]
)
def test_table_depth_between_its_rows_and_columns(minutes: float, years: float, mm: float) -> None:
    found = rain.table_depth(power_table(), minutes, years)
    assert found.value == pytest.approx(mm)
    assert found.low == found.value == found.high


@pytest.mark.parametrize(("minutes", "years"), [(4, 2), (1441, 2), (60, 0.5), (60, 101)])
def test_table_depth_outside_the_table_is_refused(minutes: float, years: float) -> None:
    with pytest.raises(InputError) as caught:
        rain.table_depth(power_table(), minutes, years)
    assert "reaches from" in caught.value.problems[0].what


def test_table_burst_takes_usual_and_rare_years(knowledge: Knowledge) -> None:
    burst = rain.from_table(power_table(), 15, knowledge.facts, rare_years=16)
    assert burst.usual_mm_h is not None
    assert burst.usual_mm_h.value == pytest.approx(5 * 2**0.25 * 4)
    assert burst.rare_mm_h.value == pytest.approx(40)
    assert (burst.kind, burst.rare_years, burst.years) == ("table", 16, None)


def test_table_curve_fits_a_table_made_by_one() -> None:
    made = ShiftedPower(1200.0, 0.8, 9.0)
    minutes = [5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 360.0, 1440.0]
    mm = [[float(depth(made, t))] * 2 for t in minutes]
    curve, worst = rain.table_curve(table(mm, minutes, [2.0, 10.0]), 2)
    assert worst < 1e-4
    assert (curve.b, curve.c) == (pytest.approx(0.8, rel=1e-3), pytest.approx(9.0, rel=1e-2))


@pytest.mark.parametrize("rates", [[10.0, 9.0], [10.0, 10.0, 9.0], [10.0, 5.0, 6.0]])
def test_fit_of_what_is_no_curve_is_refused(rates: list[float]) -> None:
    with pytest.raises(InputError):
        fit([5.0, 10.0, 20.0][: len(rates)], rates)


@given(
    a=st.floats(10, 2000),
    b=st.floats(0.3, 0.95),
    c=st.floats(0.5, 20),
    r=st.floats(0.05, 0.95),
    d=st.floats(1, 600),
)
def test_chicago_windows_hold_the_curves_depth(a: float, b: float, c: float, r: float, d: float) -> None:
    for curve in (ShiftedPower(a, b, c), PowerShifted(a, b, c)):
        whole = float(chicago_depth(curve, r, -r * d, (1 - r) * d))
        assert whole == pytest.approx(float(depth(curve, d)), rel=1e-9)
        assert whole >= float(chicago_depth(curve, r, -r * d, (1 - r) * d / 2))


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, math.nan])
def test_chicago_storm_with_its_peak_outside_is_refused(share: float) -> None:
    with pytest.raises(InputError):
        chicago_depth(ShiftedPower(100, 0.8, 9), share, -1, 1)


def test_gauge_burst_of_its_own_step_is_the_hardest_window(knowledge: Knowledge) -> None:
    wet = {"2030-06-01T10:00": 2.0, "2030-06-01T10:05": 4.0, "2029-07-01T00:00": 5.0}
    record = gauge(5, wet, "2029-01-01", "2031-01-01")
    burst = rain.from_gauge(record, 10, knowledge.facts)
    assert burst is not None
    assert burst.rare_mm_h.low == pytest.approx(6 * 6)
    assert burst.usual_mm_h is not None
    assert burst.usual_mm_h.low == pytest.approx((5 + 6) / 2 * 6)
    assert (burst.years, burst.step_min, burst.rare_years) == (2, 10, None)
    assert burst.rare_mm_h.low <= burst.rare_mm_h.value <= burst.rare_mm_h.high


def test_gauge_burst_of_hours_takes_the_published_ratio(knowledge: Knowledge) -> None:
    record = gauge(60, {"2030-06-01T10:00": 20.0}, "2030-01-01", "2031-01-01")
    burst = rain.from_gauge(record, 5, knowledge.facts)
    assert burst is not None
    # 0.29 of the hour's rain in five minutes of it: 20 x 0.29 x 12 mm/h.
    assert burst.rare_mm_h.low == pytest.approx(20 * 0.29 * 12)
    assert burst.step_min == 60


def test_gauge_without_a_whole_year_tells_no_usual_burst(knowledge: Knowledge) -> None:
    burst = rain.from_gauge(
        gauge(15, {"2030-06-01T10:00": 9.0}, "2030-05-01", "2030-09-01"), 15, knowledge.facts
    )
    assert burst is not None
    assert (burst.usual_mm_h, burst.years) == (None, 0)
    assert burst.rare_mm_h.low == pytest.approx(36)


def test_gauge_that_is_dry_or_read_by_the_day_tells_nothing(knowledge: Knowledge) -> None:
    assert rain.from_gauge(gauge(60, {}, "2030-01-01", "2030-02-01"), 5, knowledge.facts) is None
    daily = gauge(1440, {"2030-01-03T00:00": 30.0}, "2030-01-01", "2030-02-01")
    assert rain.from_gauge(daily, 5, knowledge.facts) is None


def test_days_and_a_pattern_give_the_wettest_day_of_the_middle_year(knowledge: Knowledge) -> None:
    days = np.arange("2028-01-01", "2031-01-01", dtype="datetime64[D]")
    mm = np.zeros(len(days))
    for year, most in ((2028, 40.0), (2029, 60.0), (2030, 100.0)):
        mm[days == np.datetime64(f"{year}-07-04")] = most
    flags = np.full(len(days), Flag.OBSERVED, dtype=np.uint8)
    record: WeatherRecord = on_calendar(
        Station("s", "s"), days, {"rain_mm": mm}, {"rain_mm": flags}, (), MADE
    )
    halves = Pattern(np.array([0.0, 11.5, 12.0, 24.0]), np.array([0.0, 0.25, 0.75, 1.0]))
    burst = rain.from_days(record, halves, 30, knowledge.facts)
    assert burst is not None
    assert burst.usual_mm_h is not None
    assert (burst.usual_mm_h.value, burst.rare_mm_h.value) == (pytest.approx(60.0), pytest.approx(100.0))
    none = rain.from_days(record.until(days[100].item()), halves, 30, knowledge.facts)
    assert none is None


def test_window_below_a_patterns_step_takes_the_published_ratio(knowledge: Knowledge) -> None:
    halves = Pattern(np.array([0.0, 11.5, 12.0, 24.0]), np.array([0.0, 0.25, 0.75, 1.0]))
    # Half of the rain in half an hour; 0.29 / 0.79 of that in its worst five minutes.
    assert rain.window_share(halves, 5, knowledge.facts) == pytest.approx(0.5 * 0.29 / 0.79)
    assert rain.window_share(halves, 30, knowledge.facts) == pytest.approx(0.5)


@pytest.mark.parametrize("minutes", [4.0, 61.0])
def test_short_ratio_outside_its_list_is_refused(knowledge: Knowledge, minutes: float) -> None:
    with pytest.raises(InputError):
        rain.short_ratio(minutes, knowledge.facts)


def test_best_way_comes_first(knowledge: Knowledge) -> None:
    def burst(kind: rain.Kind, years: int | None) -> rain.DesignBurst:
        flat = rain.Range(1, 1, 1)
        return rain.DesignBurst(kind, 6, flat, flat, None, years, 6)

    long, short, scrap = burst("gauge", 9), burst("gauge", 2), burst("gauge", 0)
    printed, pattern = burst("table", None), burst("pattern", 50)
    ordered = rain.best_first([pattern, scrap, None, short, printed, long], knowledge.facts)
    assert ordered == (long, printed, short, pattern, scrap)


def test_leader_flow_refuses_more_water_than_pipe() -> None:
    with pytest.raises(InputError):
        leader_flow(0.08, 1.2)


def test_code_says_nothing_outside_its_sizes(knowledge: Knowledge) -> None:
    for one in (*codes(knowledge.facts, "leader"), *codes(knowledge.facts, "half-round")):
        assert one.flow_l_s(one.sizes[0].size_m * 0.9) is None
        assert one.flow_l_s(one.sizes[-1].size_m * 1.1) is None
        between = one.flow_l_s((one.sizes[0].size_m + one.sizes[1].size_m) / 2)
        assert between is not None
        assert one.sizes[0].flow_l_s < between < one.sizes[1].flow_l_s
    assert {one.key for one in codes(knowledge.facts, "leader")} == {"nspc-2006", "ipc-2012", "ipc-2015"}


@pytest.mark.check(
    "P-1.1-downspouts",
    source="gutter trade guides: 2 by 3 in serves about 600 sq ft",
    status="common practice",
)
def test_trade_rule_serves_600_square_feet_by_a_two_by_three(knowledge: Knowledge) -> None:
    """100 sq ft for each square inch at 12 in/h, and 1,200 at 1 in/h, are one flow: 75 gpm for a 2 by 3."""
    opening_m2 = 6 * 0.0254**2
    flows = [opening_rule(opening_m2, rate, knowledge.facts) for rate in (25.4, 304.8)]
    assert flows == pytest.approx([600 * 0.09290304 * 304.8 / 3600] * 2)


def test_rectangular_pipe_counts_as_the_round_one_of_its_opening() -> None:
    assert math.pi / 4 * round_bore(0.004) ** 2 == pytest.approx(0.004)


@pytest.mark.check("W-03-length", source="trade technical note to EN 12056-3", status="second-hand")
@pytest.mark.parametrize(
    ("ratio", "share"), [(10, 1), (50, 1), (100, 0.93), (150, 0.86), (200, 0.80), (125, 0.895)]
)
def test_long_gutters_keep_a_share_of_their_flow(knowledge: Knowledge, ratio: float, share: float) -> None:
    assert float(length_factor(ratio * 0.06, 0.06, knowledge.facts)) == pytest.approx(share)


@pytest.mark.check("W-03-corner", source="trade technical note to EN 12056-3", status="second-hand")
@pytest.mark.parametrize(("distance", "share"), [(1, 0.8), (2, 0.9), (4, 0.9), (4.1, 1)])
def test_corner_near_the_outlet_takes_a_share(knowledge: Knowledge, distance: float, share: float) -> None:
    assert corner_factor(distance, knowledge.facts) == share


def test_garden_factor_nobody_published_is_refused(knowledge: Knowledge) -> None:
    assert by_factor(100, "clay", "far", knowledge.facts) == pytest.approx(10)
    with pytest.raises(InputError) as caught:
        by_factor(100, "peat", "6in", knowledge.facts)
    assert caught.value.problems[0].instead
