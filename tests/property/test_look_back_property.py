"""The look-back never reads the day asked or anything after it, and forecasts what the plan would have said."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.season.hindcast import OURS, RULES, Hindcast, issue_days
from dooryard.season.timing import HeatSum, SeasonHeat
from dooryard.weather.outlook import ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

FIRST, YEARS = date(2001, 1, 1), 29
THRESHOLDS = (30.0, 100.0, 300.0, 900.0, 2500.0)
KINDS = (
    HeatSum("average", 10.0, None, "none", (1, 1)),
    HeatSum("single sine", 8.0, 30.0, "horizontal", (3, 1)),
    HeatSum("double sine", 10.0, None, "none", (1, 1)),
)


def weather(seed: int) -> WeatherRecord:
    """Twenty-nine years of a made-up climate: a yearly wave, warming, and spells of warm and cold days."""
    days = np.datetime64(FIRST, "D") + np.arange((date(FIRST.year + YEARS, 1, 1) - FIRST).days)
    source = np.random.default_rng(seed)
    spells = np.convolve(source.normal(0, 2, len(days) + 9), np.ones(10) / 3, mode="valid")
    middle = 12 - 12 * np.cos(2 * np.pi * (np.arange(len(days)) - 20) / 365.25) + spells
    middle += 0.05 * np.arange(len(days)) / 365
    low, high = middle - source.uniform(2, 8, len(days)), middle + source.uniform(2, 8, len(days))
    for start in source.integers(0, len(days) - 9, 5).tolist():  # gaps
        low[start : start + int(source.integers(1, 9))] = np.nan
    return record_of(low, high)


def record_of(low: np.ndarray, high: np.ndarray) -> WeatherRecord:
    values = {"t_min_c": low, "t_max_c": high}
    flags = {name: np.full(len(low), Flag.OBSERVED, dtype=np.uint8) for name in values}
    days = np.datetime64(FIRST, "D") + np.arange(len(low))
    return on_calendar(Station("Mill Hollow"), days, values, flags, (), Source("made here", "none"))


issues = st.tuples(st.integers(FIRST.year + 26, FIRST.year + YEARS - 1), st.integers(0, 33)).map(
    lambda pair: list(issue_days(pair[0], 10))[pair[1]]
)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 3), issues, st.sampled_from(KINDS), st.integers(0, 2**32 - 1), st.booleans())
def test_look_back_is_blind_to_the_day_asked_and_all_later_days(
    seed: int, day: date, kind: HeatSum, noise: int, holes: bool
) -> None:
    record, tables = weather(seed), knowledge.load()
    at = (day - FIRST).days
    low, high = record.t_min_c.copy(), record.t_max_c.copy()
    source = np.random.default_rng(noise)
    low[at:] = source.uniform(-30, 20, len(low) - at)
    high[at:] = low[at:] + source.uniform(0, 30, len(low) - at)
    if holes:
        low[at:][source.random(len(low) - at) < 0.3] = np.nan
    before = Hindcast(record, kind, THRESHOLDS, tables).issue(day)
    after = Hindcast(record_of(low, high), kind, THRESHOLDS, tables).issue(day)
    assert (before is None) == (after is None)
    if before is not None and after is not None:
        assert before[0].tolist() == after[0].tolist()
        for rule in RULES:
            assert before[1][rule].tolist() == after[1][rule].tolist()


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 3), issues, st.sampled_from(KINDS))
def test_look_back_says_what_the_plan_would_have_said(seed: int, day: date, kind: HeatSum) -> None:
    record, tables = weather(seed), knowledge.load()
    found = Hindcast(record, kind, THRESHOLDS, tables).issue(day)
    if found is None:
        return
    to_come, days = found
    past = record.until(day)
    said = SeasonHeat(past, ahead(past, day), day).crossings(kind, [THRESHOLDS[i] for i in to_come.tolist()])
    end = (date(day.year, 12, 31) - day).days + 1
    for crossing, row in zip(said, days[OURS].tolist(), strict=True):
        assert crossing.passed is False
        dates = [None if offset == end else day + timedelta(days=offset) for offset in row]
        assert [crossing.earliest, crossing.likely, crossing.latest] == dates


def test_forecast_of_every_year_is_made_on_the_same_calendar_days() -> None:
    found = Hindcast(weather(1), KINDS[0], THRESHOLDS, knowledge.load()).run()
    assert set((found.issued - 31).tolist()) <= set(range(0, 340, 10))
    assert found.year.min() >= FIRST.year + 20


def test_forecast_is_not_made_on_a_day_whose_eve_is_missing() -> None:
    record = weather(2)
    day = date(FIRST.year + 27, 4, 2)
    low = record.t_min_c.copy()
    assert Hindcast(record, KINDS[0], THRESHOLDS, knowledge.load()).issue(day) is not None
    low[(day - FIRST).days - 1] = np.nan
    gone = replace(record, t_min_c=low)
    assert Hindcast(gone, KINDS[0], THRESHOLDS, knowledge.load()).issue(day) is None


@pytest.mark.parametrize("kind", KINDS)
def test_range_is_in_order_and_not_before_the_day_asked(kind: HeatSum) -> None:
    found = Hindcast(weather(3), kind, THRESHOLDS, knowledge.load()).run()
    for rule in RULES:
        days = found.days[rule]
        given_rows = days[:, 0] >= 0
        assert (np.diff(days[given_rows], axis=1) >= 0).all()
        assert (days[given_rows] <= found.end[given_rows, None]).all()
