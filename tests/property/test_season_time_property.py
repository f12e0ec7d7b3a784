"""What must hold of dates as a season goes on: warmth never delays, and days that came as foretold change nothing."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from dooryard.season.timing import Crossing, HeatSum, SeasonHeat
from dooryard.weather.outlook import Outlook
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

FIRST = date(2030, 1, 1)
DAYS = 100
METHODS = st.sampled_from(["average", "modified average", "single sine", "single triangle"])
# Minimum and daily swing of each day [degC].
WEATHER = st.lists(st.tuples(st.floats(-10, 22), st.floats(0, 18)), min_size=DAYS, max_size=DAYS)


def record(t_min_c: np.ndarray, t_max_c: np.ndarray) -> WeatherRecord:
    values = {"t_min_c": t_min_c, "t_max_c": t_max_c}
    days = np.datetime64(FIRST, "D") + np.arange(len(t_min_c))
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Here"), days, values, flags, (), Source("made", "none"))


def asked(t_min_c: np.ndarray, t_max_c: np.ndarray, known: int, method: str, threshold_cd: float) -> Crossing:
    """The crossing as seen when so many days are known and the rest comes exactly as it will."""
    on = FIRST + timedelta(days=known)
    outlook = Outlook(
        on=on,
        dates=np.datetime64(on, "D") + np.arange(DAYS - known),
        t_min_c=t_min_c[None, known:],
        t_max_c=t_max_c[None, known:],
        rain_mm=np.zeros((1, DAYS - known)),
        years=(2001,),
        excluded=(),
        forecast_days=0,
        issues=(),
    )
    heat = SeasonHeat(record(t_min_c[:known], t_max_c[:known]), outlook, on)
    return heat.crossings(HeatSum(method, 10.0, None, "none", (1, 1)), (threshold_cd,))[0]


def as_arrays(weather: list[tuple[float, float]]) -> tuple[np.ndarray, np.ndarray]:
    low = np.array([low for low, _ in weather])
    return low, low + np.array([swing for _, swing in weather])


@given(WEATHER, METHODS, st.floats(1, 400), st.integers(1, DAYS - 1), st.integers(1, DAYS - 1))
def test_date_does_not_move_while_days_come_as_foretold(
    weather: list[tuple[float, float]], method: str, threshold_cd: float, early: int, late: int
) -> None:
    low, high = as_arrays(weather)
    one, other = (asked(low, high, known, method, threshold_cd) for known in (early, late))
    assert one.likely == other.likely


@given(WEATHER, METHODS, st.floats(1, 400), st.integers(1, DAYS - 1), st.floats(0.1, 6))
def test_warmer_season_is_never_later(
    weather: list[tuple[float, float]], method: str, threshold_cd: float, known: int, warmer_c: float
) -> None:
    low, high = as_arrays(weather)
    plain = asked(low, high, known, method, threshold_cd)
    warm = asked(low + warmer_c, high + warmer_c, known, method, threshold_cd)
    if plain.likely is not None:
        assert warm.likely is not None
        assert warm.likely <= plain.likely


@given(WEATHER, METHODS, st.floats(1, 400))
def test_word_passed_is_never_taken_back(
    weather: list[tuple[float, float]], method: str, threshold_cd: float
) -> None:
    low, high = as_arrays(weather)
    passed = [asked(low, high, known, method, threshold_cd).passed for known in range(1, DAYS, 20)]
    assert all(not before or after for before, after in pairwise(passed))
