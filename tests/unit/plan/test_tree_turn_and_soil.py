"""Rain that stands for a young tree's turn, and spring and soil in dividing."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.care.tree_water import Stage, next_turn, rain_stands_in
from dooryard.letter import screen
from dooryard.plan.document import Plan
from dooryard.plan.work.divide import Spring, divide
from dooryard.plan.work.tree_water import young_tree
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

KNOWN = knowledge.load()
ON = date(2031, 5, 20)
INCH_M, INCH_MM = 0.0254, 25.4
DAILY, ALTERNATE = Stage(14, 1), Stage(60, 2)


def _text(plan: Plan) -> str:
    return " ".join(screen.render(plan.document()).split())


def _record(rain_in: dict[int, float], mean_c: float = 12.0) -> WeatherRecord:
    """Ninety days up to the eve of ON: dry but on the days told, counted back from ON."""
    days = np.arange(np.datetime64(ON) - 90, np.datetime64(ON))
    rain = np.zeros(90)
    for back, amount in rain_in.items():
        rain[90 - back] = amount * INCH_MM
    values = {"t_max_c": np.full(90, mean_c + 5), "t_min_c": np.full(90, mean_c - 5), "rain_mm": rain}
    flags = {name: np.full(90, Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Creek Bottom"), days, values, flags, (), Source("made here", "none"))


def _forecast(rain_in: float) -> Forecast:
    absent = np.full(2, np.nan)
    return Forecast(
        issued=ON, dates=np.arange(np.datetime64(ON), np.datetime64(ON) + 2), t_min_c=np.full(2, 15.0),
        t_max_c=np.full(2, 25.0), rain_mm=np.array([0.0, rain_in * INCH_MM]), rain_low_mm=absent, rain_high_mm=absent,
        burst_mm_h=None, source="made for this test",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("since", "wait"),
    [(0, 0), (13, 0), (14, 0), (15, 1), (16, 0), (72, 0), (73, 1), (74, 0), (75, 6), (80, 1), (81, 0)],
)
def test_tree_turn_is_daily_then_alternate_then_weekly(since: int, wait: int) -> None:
    assert next_turn(since, DAILY, ALTERNATE) == wait


@given(st.integers(0, 400))
def test_tree_turn_that_is_waited_for_is_a_turn(since: int) -> None:
    assert next_turn(since + next_turn(since, DAILY, ALTERNATE), DAILY, ALTERNATE) == 0


@pytest.mark.check(
    "P-3.2", source="an inch of rain on the root ball can skip a turn", status="common practice"
)
def test_inch_of_rain_stands_for_a_turn_and_less_does_not() -> None:
    """Set 81 days ago, so today is a weekly turn and rain of the last seven days counts."""
    planted = ON - timedelta(days=81)
    wet = _text(young_tree(KNOWN, ON, diameter_m=2 * INCH_M, planted=planted, record=_record({3: 1.1})))
    dry = _text(
        young_tree(KNOWN, ON, diameter_m=2 * INCH_M, planted=planted, record=_record({3: 0.3, 9: 2.0}))
    )
    assert "Today is a turn, but 1.1 in fell since 13 May: that stands for it" in wet
    assert "Today is a turn; 0.3 in fell since 13 May, which is not enough" in dry
    assert rain_stands_in(INCH_MM, INCH_MM)


def test_rain_foretold_may_be_waited_for_and_unknown_rain_is_said() -> None:
    planted = ON - timedelta(days=81)
    coming = young_tree(
        KNOWN, ON, diameter_m=2 * INCH_M, planted=planted, record=_record({}), forecast=_forecast(1.5)
    )
    assert "1.5 in is foretold by tomorrow" in _text(coming)
    short = _record({}).until(ON - timedelta(days=3))
    assert "not known in full: feel the soil" in _text(
        young_tree(KNOWN, ON, diameter_m=2 * INCH_M, planted=planted, record=short)
    )


@pytest.mark.parametrize(
    ("mean_c", "says"), [(12.0, "warm enough for roots"), (3.0, "roots hardly grow below")]
)
def test_dividing_in_spring_tells_the_days_and_the_soil(mean_c: float, says: str) -> None:
    plan = divide(
        KNOWN, ON, plant="hosta", hard_freeze=None, spring=Spring(date(2032, 4, 7), "given"),
        record=_record({}, mean_c),
    )  # fmt: skip
    said = _text(plan)
    assert "Early spring here is about 10 March to 7 April 2032" in said
    assert says in said
    assert plan.figures["divide.soil"].value == pytest.approx(mean_c, abs=0.1)
