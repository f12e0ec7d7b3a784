"""Past years moved by what this year is known to differ, and the ranks of the dates they give."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats.mstats import mquantiles

from dooryard import knowledge
from dooryard.season.ensemble import SHARES, Leaning, Warmth, days_to_reach, moves, trend, whole_days
from dooryard.season.timing import HeatSum, SeasonHeat
from dooryard.weather.forecast import Forecast
from dooryard.weather.outlook import ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

LEANING = Leaning(
    30, trend_share=0.7, year_share=0.2, recent_share=0.3, recent_d=5, fades_d=8, known_share=0.8
)
BACK = np.arange(30.0, 0.0, -1.0)


def test_year_like_all_others_moves_nothing() -> None:
    same = np.full(30, 12.0)
    assert np.abs(moves(LEANING, BACK, same, same - 8, (12.0, 4.0), 40)).max() < 1e-12


def test_steady_warming_moves_each_year_by_its_distance() -> None:
    warming = replace(LEANING, trend_share=1.0, year_share=0.0, recent_share=0.0)
    year_c = 12 - 0.05 * BACK
    moved = moves(warming, BACK, year_c, np.full(30, np.nan), (12.0, np.nan), 3)
    assert moved == pytest.approx(np.repeat(0.05 * BACK[:, None], 3, axis=1))


def test_trend_is_trusted_less_with_fewer_years_and_not_at_all_with_two() -> None:
    def carried(count: int) -> float:
        back = np.arange(float(count), 0.0, -1.0)
        return trend(LEANING, back, 12 - 0.05 * back, 12.0)

    thirty, fifteen, five = carried(29), carried(14), carried(4)
    assert thirty == pytest.approx(
        -0.05 * 0.7
    )  # the tuned share holds at thirty points, this year's with them
    # Its error grows by (30 / 15)^3 = 8, so the share is 7 / (7 + 3 x 8).
    assert fifteen == pytest.approx(-0.05 * 7 / 31)
    assert abs(five) < 0.05 * 0.02
    assert carried(1) == 0.0


def test_difference_of_last_days_fades_and_that_of_the_year_stays() -> None:
    still = replace(LEANING, trend_share=0.0)
    zeros = np.zeros(30)
    moved = moves(still, BACK, zeros, zeros, (1.0, 5.0), 60)
    # 0.2 of one degree stays. Of the last days' 5 degrees 0.2 is the year's, 0.3 of the rest is there at first.
    assert moved[0, 0] == pytest.approx(0.2 + 0.3 * 4.8)
    assert moved[0, 8] == pytest.approx(0.2 + 0.3 * 4.8 / np.e)
    assert moved[0, 59] == pytest.approx(0.2, abs=1e-3)


def test_difference_that_is_not_known_moves_nothing() -> None:
    unknown = np.full(30, np.nan)
    assert (moves(LEANING, BACK, unknown, unknown, (12.0, 4.0), 9) == 0).all()
    assert (
        moves(LEANING, BACK, BACK, BACK, (np.nan, np.nan), 9)[:, -1] != 0
    ).all()  # the trend is still known


@given(st.lists(st.floats(-30, 40), min_size=20, max_size=60), st.integers(1, 25), st.data())
def test_warmth_is_the_plain_mean_of_the_days_before(
    days: list[float], span: int, data: st.DataObject
) -> None:
    values = np.array(days)
    holes = data.draw(st.sets(st.integers(0, len(days) - 1), max_size=5))
    values[list(holes)] = np.nan
    at = data.draw(st.integers(0, len(days)))
    got = float(Warmth(values - 3, values + 3, 0.8).before(np.array([at]), span)[0])
    part = values[at - span : at] if at >= span else np.array([])
    known = part[~np.isnan(part)]
    if len(known) >= max(0.8 * span, 1):
        assert got == pytest.approx(float(known.mean()), abs=1e-9)
    else:
        assert np.isnan(got)


@given(st.lists(st.integers(0, 300), min_size=9, max_size=60))
def test_ranks_are_those_of_a_general_library(days: list[int]) -> None:
    earliest, likely, latest = whole_days(np.sort(np.array([days])), never=400)[0].tolist()
    low, middle, high = mquantiles(days, SHARES, alphap=0, betap=0)
    assert likely == int(np.floor(middle + 0.5 + 1e-9))
    assert earliest == min(int(np.ceil(low - 1e-9)), likely)
    assert latest == max(int(np.floor(high + 1e-9)), likely)


def test_range_stays_open_if_a_tenth_of_the_years_never_gets_there() -> None:
    days = np.sort(np.array([[30] * 25 + [99] * 5]))
    assert whole_days(days, never=99)[0].tolist() == [30, 30, 99]
    assert whole_days(np.full((1, 30), 99), never=99)[0].tolist() == [99, 99, 99]


def test_days_to_reach_are_counted_one_by_one() -> None:
    rates = np.array([[1.0, 0.0, 2.0, 2.0], [3.0, 3.0, 3.0, 3.0]])
    got = days_to_reach(np.cumsum(rates, axis=1), [3.0, 6.0, 0.5])
    assert got.tolist() == [[0, 2], [1, 4], [0, 0]]  # 4: not within these days


def record_of(levels_c: np.ndarray, first: date) -> WeatherRecord:
    """A station whose days have one temperature all day."""
    values = {"t_min_c": levels_c.astype(float), "t_max_c": levels_c.astype(float)}
    flags = {name: np.full(len(levels_c), Flag.OBSERVED, dtype=np.uint8) for name in values}
    days = np.datetime64(first, "D") + np.arange(len(levels_c))
    return on_calendar(Station("Mill Hollow"), days, values, flags, (), Source("made here", "none"))


KIND = HeatSum("average", 10.0, None, "none", (1, 1))


def test_warm_days_before_the_day_asked_bring_the_date_forward() -> None:
    first, on = date(2000, 1, 1), date(2030, 4, 1)
    usual = np.full((on - first).days, 15.0)
    warm = usual.copy()
    warm[-5:] += 8
    plain, moved = (
        SeasonHeat(one, ahead(one, on), on) for one in (record_of(usual, first), record_of(warm, first))
    )
    missing = 5.0 * 20
    before, after = (
        one.crossings(KIND, [float(one.course(KIND)[0][-1]) + missing])[0]  # type: ignore[index]
        for one in (plain, moved)
    )
    assert before.likely == on + timedelta(days=19)
    assert after.likely is not None
    assert after.likely < on + timedelta(days=18)


def test_forecast_days_are_not_moved() -> None:
    first, on = date(2000, 1, 1), date(2030, 4, 1)
    levels = np.full((on - first).days, 15.0)
    levels[-5:] += 8
    record = record_of(levels, first)
    days = np.datetime64(on, "D") + np.arange(4)
    nothing = np.full(4, np.nan)
    told = Forecast(
        issued=on, dates=days, t_min_c=np.full(4, 11.0), t_max_c=np.full(4, 11.0), rain_mm=nothing,
        rain_low_mm=nothing, rain_high_mm=nothing, burst_mm_h=None, source="made here",
    )  # fmt: skip
    course = SeasonHeat(record, ahead(record, on, forecast=told), on).course(KIND)
    assert course is not None
    assert course[1][:, :4] == pytest.approx(np.tile([1.0, 2.0, 3.0, 4.0], (len(course[1]), 1)))
    # The cool forecast is what is known last: what follows it is pulled below the usual 5 a day, not above.
    assert (course[1][:, 4] - course[1][:, 3] < 5.0).all()


def test_no_more_than_thirty_years_speak() -> None:
    first, on = date(1990, 1, 1), date(2030, 4, 1)
    record = record_of(np.full((on - first).days, 15.0), first)
    assert SeasonHeat(record, ahead(record, on), on).crossings(KIND, [1000.0])[0].years == 30


def test_shares_of_the_tables_are_shares() -> None:
    leaning = Leaning.of(knowledge.load())
    assert leaning.years == 30
    for share in (leaning.trend_share, leaning.year_share, leaning.recent_share, leaning.known_share):
        assert 0 <= share <= 1
