"""Degree-days as mathematics: order of the methods, units, missing days, the area under the curve."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from dooryard.problem import InputError
from dooryard.season import heat

TEMPERATURES = st.floats(-40.0, 50.0)
DAY = st.tuples(TEMPERATURES, TEMPERATURES).map(sorted)
THRESHOLDS = st.tuples(st.floats(0.0, 20.0), st.floats(0.5, 25.0)).map(lambda pair: (pair[0], sum(pair)))
ROUNDING = 1e-9


@pytest.mark.check("T-3", source="order of the methods over 200,000 random days", status="computed")
@pytest.mark.check("S-01-10", source="order of the methods over 200,000 random days", status="computed")
@given(DAY, THRESHOLDS)
def test_methods_keep_their_order(day: list[float], thresholds: tuple[float, float]) -> None:
    low, high = day
    base, _ = thresholds
    values = [
        float(function(low, high, base))
        for function in (heat.modified, heat.sine, heat.triangle, heat.average)
    ]
    for warmer, cooler in zip(values, [*values[1:], 0.0], strict=True):
        assert warmer >= cooler - ROUNDING


@pytest.mark.check("S-01-10", source="order of the cutoffs over 200,000 random days", status="computed")
@given(DAY, THRESHOLDS, st.sampled_from([heat.sine, heat.triangle]))
def test_cutoffs_keep_their_order(
    day: list[float], thresholds: tuple[float, float], function: heat.HeatMethod
) -> None:
    none, horizontal, intermediate, vertical = (
        float(function(*day, *thresholds, cutoff)) for cutoff in heat.CUTOFFS
    )
    assert none >= horizontal - ROUNDING
    assert horizontal >= intermediate - ROUNDING >= -2 * ROUNDING
    assert horizontal >= vertical - ROUNDING >= -2 * ROUNDING


@pytest.mark.check("S-01-10", source="arithmetic: a day wholly between the thresholds", status="computed")
@given(st.floats(10.0, 31.0), st.floats(10.0, 31.0), st.sampled_from(heat.CUTOFFS))
def test_day_between_the_thresholds_counts_its_mean_in_every_method(a: float, b: float, cutoff: str) -> None:
    low, high = sorted((a, b))
    for function in heat.METHODS.values():
        assert float(function(low, high, 10.0, 31.0, cutoff)) == pytest.approx(
            (low + high) / 2 - 10.0, abs=1e-9
        )


@given(DAY, THRESHOLDS, st.sampled_from(list(heat.METHODS)), st.sampled_from(heat.CUTOFFS))
@pytest.mark.check("S-01-11", source="degree arithmetic", status="computed")
def test_either_unit_route_gives_the_same_heat(
    day: list[float], thresholds: tuple[float, float], name: str, cutoff: str
) -> None:
    function = heat.METHODS[name]
    celsius = float(function(*day, *thresholds, cutoff))
    fahrenheit = float(function(*(1.8 * t + 32 for t in (*day, *thresholds)), cutoff))
    assert fahrenheit == pytest.approx(1.8 * celsius, abs=1e-6)


@given(DAY, st.floats(0.0, 15.0), st.floats(0.0, 10.0), st.sampled_from(list(heat.METHODS)))
def test_warmer_day_never_counts_less_without_a_cutoff(
    day: list[float], base: float, warmer: float, name: str
) -> None:
    function = heat.METHODS[name]
    assert float(function(day[0] + warmer, day[1] + warmer, base)) >= float(function(*day, base)) - ROUNDING


def _curve(shape: str, low: float, high: float, hour: float) -> float:
    """Temperature at a share of the day [0, 1] that starts and ends at the minimum."""
    if shape == "sine":
        return (low + high) / 2 - (high - low) / 2 * float(np.cos(2 * np.pi * hour))
    return low + (high - low) * (1 - abs(2 * hour - 1))


def _rate(temperature: float, lower: float, upper: float, cutoff: str) -> float:
    """Development per day at a temperature, as the cutoff words describe it."""
    below = max(temperature - lower, 0.0)
    if cutoff == "none" or temperature <= upper:
        return below
    return {"horizontal": upper - lower, "intermediate": 2 * upper - lower - temperature, "vertical": 0.0}[
        cutoff
    ]


@pytest.mark.check("T-2", source="numerical integration of the daily curve, all cutoffs", status="computed")
@pytest.mark.check("S-01-04", source="numerical integration of the daily curve", status="computed")
@pytest.mark.check("S-01-05", source="numerical integration of the daily curve", status="computed")
@pytest.mark.parametrize("cutoff", heat.CUTOFFS)
@pytest.mark.parametrize(("shape", "function"), [("sine", heat.sine), ("triangle", heat.triangle)])
def test_heat_is_the_area_under_the_daily_curve(shape: str, function: heat.HeatMethod, cutoff: str) -> None:
    lower, upper = 10.0, 31.0
    random = np.random.default_rng(20)
    lows = random.uniform(-10, 25, 40)
    highs = lows + random.uniform(0.5, 25, 40)
    got = function(lows, highs, lower, upper, cutoff)
    for low, high, value in zip(lows.tolist(), highs.tolist(), got.tolist(), strict=True):
        # Both curves are even about noon: integrate the rising half, broken where it passes a threshold.
        passes = [_hour_at(shape, low, high, t) for t in (lower, upper) if low < t < high]
        ends = [0.0, *sorted(passes), 0.5]
        area = 2 * sum(
            quad(
                lambda h, low=low, high=high: _rate(_curve(shape, low, high, h), lower, upper, cutoff), a, b
            )[0]
            for a, b in pairwise(ends)
        )
        assert value == pytest.approx(max(area, 0.0), abs=1e-7)


def _hour_at(shape: str, low: float, high: float, temperature: float) -> float:
    rise = (temperature - low) / (high - low)
    return float(np.arccos(1 - 2 * rise) / (2 * np.pi)) if shape == "sine" else rise / 2


@pytest.mark.check("S-01-06", source="numerical integration of the two half curves", status="computed")
@pytest.mark.parametrize("cutoff", heat.CUTOFFS)
@pytest.mark.parametrize(
    ("shape", "function"), [("sine", heat.double_sine), ("triangle", heat.double_triangle)]
)
def test_double_heat_is_the_area_under_two_half_curves(
    shape: str, function: heat.HeatMethod, cutoff: str
) -> None:
    lower, upper = 10.0, 31.0
    hours = (np.arange(200_000) + 0.5) / 400_000  # the middle of each step of the rising half
    for low, high, next_low in ((5.0, 34.0, 14.0), (12.0, 36.0, 2.0), (-3.0, 8.0, 11.5), (33.0, 38.0, 20.0)):
        area = 0.0
        for a, b in ((low, high), (min(next_low, high), max(next_low, high))):
            rates = [_rate(t, lower, upper, cutoff) for t in _half(shape, a, b, hours)]
            area += float(np.mean(rates)) / 2
        got = float(function([low, next_low], [high, max(high, next_low)], lower, upper, cutoff)[0])
        assert got == pytest.approx(max(area, 0.0), abs=1e-3)


def _half(shape: str, low: float, high: float, hours: np.ndarray) -> list[float]:
    if shape == "sine":
        return ((low + high) / 2 - (high - low) / 2 * np.cos(2 * np.pi * hours)).tolist()
    return (low + (high - low) * 2 * hours).tolist()


@pytest.mark.parametrize("name", heat.METHODS)
@pytest.mark.parametrize("cutoff", heat.CUTOFFS)
def test_missing_temperature_makes_only_that_day_unknown(name: str, cutoff: str) -> None:
    lows = np.array([12.0, np.nan, 14.0, 15.0, 9.0])
    highs = np.array([25.0, 26.0, 27.0, np.nan, 35.0])
    got = heat.METHODS[name](lows, highs, 10.0, 31.0, cutoff)
    assert np.isnan(got).tolist() == [False, True, False, True, False]


@pytest.mark.parametrize("name", heat.METHODS)
def test_arrays_of_any_leading_shape_equal_single_series(name: str) -> None:
    random = np.random.default_rng(3)
    lows = random.uniform(-5, 20, (4, 3, 9))
    highs = lows + random.uniform(0, 20, (4, 3, 9))
    whole = heat.METHODS[name](lows, highs, 10.0, 31.0)
    for place in np.ndindex(4, 3):
        assert whole[place].tolist() == heat.METHODS[name](lows[place], highs[place], 10.0, 31.0).tolist()


@pytest.mark.parametrize("name", heat.METHODS)
def test_minimum_above_maximum_names_the_day(name: str) -> None:
    with pytest.raises(InputError, match="day 2: 30 above 20"):
        heat.METHODS[name]([10.0, 30.0], [20.0, 20.0], 10.0)


def test_unknown_words_are_told_with_a_near_one() -> None:
    with pytest.raises(InputError, match='Did you mean "vertical"'):
        heat.sine(10, 20, 10, 30, "vertikal")
    with pytest.raises(InputError, match='Did you mean "single sine"'):
        heat.method("singel sine")
    with pytest.raises(InputError, match="not above the lower"):
        heat.sine(10, 20, 10, 5)


def test_method_not_stated_is_the_plain_average() -> None:
    assert heat.method("not stated") is heat.average
