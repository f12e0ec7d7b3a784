"""Crossing dates on small records whose answer can be done in the head, and what gaps do to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.season.timing import Crossing, HeatSum, SeasonHeat, crossing
from dooryard.weather.outlook import Outlook
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

BASE_50_F_C = 10.0
F_PER_C = 1.8


def record_of(first: date, t_min_c: Sequence[float], t_max_c: Sequence[float]) -> WeatherRecord:
    """A station with these daily temperatures and no rain measured."""
    values = {"t_min_c": np.array(t_min_c, dtype=float), "t_max_c": np.array(t_max_c, dtype=float)}
    days = np.datetime64(first, "D") + np.arange(len(t_min_c))
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Mill Hollow"), days, values, flags, (), Source("made here", "none"))


def outlook_of(on: date, t_min_c: np.ndarray, t_max_c: np.ndarray, forecast_days: int = 0) -> Outlook:
    """A fan of futures (members, days)."""
    members, days = t_min_c.shape
    return Outlook(
        on=on,
        dates=np.datetime64(on, "D") + np.arange(days),
        t_min_c=t_min_c,
        t_max_c=t_max_c,
        rain_mm=np.zeros((members, days)),
        years=tuple(range(2000, 2000 + members)),
        excluded=(),
        forecast_days=forecast_days,
        issues=(),
    )


def steady(on: date, rates_cd: Sequence[float], days: int = 400) -> Outlook:
    """Futures of so many degree-days above 10 degC every day."""
    level = np.repeat(10.0 + np.array(rates_cd, dtype=float)[:, None], days, axis=1)
    return outlook_of(on, level, level)


def flat(first: date, levels_c: Sequence[float]) -> WeatherRecord:
    """A record whose days have one temperature all day."""
    return record_of(first, levels_c, levels_c)


def ask(
    record: WeatherRecord, outlook: Outlook, threshold_cd: float, start: tuple[int, int] = (1, 1)
) -> Crossing:
    return crossing(record, outlook, threshold_cd, method="average", lower_c=10.0, start=start, on=outlook.on)


JAN_1 = date(2030, 1, 1)


def test_sum_is_reached_on_the_first_day_that_equals_the_threshold() -> None:
    got = ask(flat(JAN_1, [15, 15, 15, 15]), steady(date(2030, 1, 5), [5]), 15.0)
    assert (got.passed, got.sum_now) == (True, 20.0)
    assert got.reached == got.likely == date(2030, 1, 3)


@pytest.mark.check(
    "S-01-13", source="arithmetic: 90 degree-days missing at 15 a day take six days", status="computed"
)
def test_sum_540_of_630_at_15_a_day_takes_six_days() -> None:
    on = date(2030, 1, 2)
    got = ask(flat(JAN_1, [10 + 540 / F_PER_C]), steady(on, [15 / F_PER_C]), 630 / F_PER_C)
    assert got.likely == on + timedelta(days=6 - 1)  # the sixth day of heat, counting today as the first


def test_earliest_likely_and_latest_are_the_ranked_futures() -> None:
    on = date(2030, 1, 2)
    # Ten futures reach 60 after 60, 30, 20, 15, 12, 10, 8.57, 7.5, 6.67, 6 days of heat. Ranks 0.1, 0.5 and 0.9 of
    # eleven: 1.1, 5.5, 9.9, so 6 + 0.1, 10 + 0.5 x 2 and 30 + 0.9 x 30 days; whole days inside them are 7, 11, 57.
    got = ask(flat(JAN_1, [0]), steady(on, range(1, 11)), 60.0)
    assert [got.earliest, got.likely, got.latest] == [on + timedelta(days=n - 1) for n in (7, 11, 57)]
    assert (got.passed, got.reached, got.years, got.beyond) == (False, None, 10, 0)


def test_future_too_cool_before_new_year_counts_as_beyond_and_leaves_latest_open() -> None:
    on = date(2030, 12, 22)  # ten days left
    record = flat(JAN_1, [0] * 355)
    got = ask(record, steady(on, [1, 5, 5, 5, 5, 5, 5, 5, 1, 1]), 30.0)
    assert (got.earliest, got.likely, got.latest) == (date(2030, 12, 27), date(2030, 12, 27), None)
    assert got.beyond == 3


def test_heat_before_the_start_date_does_not_count() -> None:
    on = date(2030, 2, 20)
    record = flat(JAN_1, [30] * 50)
    assert ask(record, steady(on, [5]), 20.0).reached == JAN_1
    from_march = ask(record, steady(on, [5]), 20.0, start=(3, 1))
    assert (from_march.passed, from_march.sum_now, from_march.likely) == (False, 0.0, date(2030, 3, 4))


def test_sum_does_not_run_on_from_last_year() -> None:
    record = flat(date(2029, 6, 1), [30] * 214 + [15, 15])
    assert ask(record, steady(date(2030, 1, 3), [5]), 1000.0).sum_now == 10.0


def test_short_gap_is_bridged_and_counted() -> None:
    got = ask(flat(JAN_1, [12, np.nan, np.nan, 18]), steady(date(2030, 1, 5), [5]), 1000.0)
    assert got.sum_now == pytest.approx(2 + 4 + 6 + 8)
    assert (got.gap_days, got.refused) == (2, None)
    assert got.sum_low <= got.sum_now <= got.sum_high


def test_short_gap_up_to_this_morning_is_bridged_towards_the_outlook() -> None:
    got = ask(flat(JAN_1, [12, np.nan]), steady(date(2030, 1, 3), [6]), 1000.0)
    assert got.sum_now == pytest.approx(2 + 4)
    assert got.gap_days == 1


def test_threshold_reached_inside_a_bridged_gap_is_not_given_a_date() -> None:
    got = ask(flat(JAN_1, [12, np.nan, np.nan, 18]), steady(date(2030, 1, 5), [5]), 7.0)
    assert (got.passed, got.reached, got.likely) == (True, None, None)
    assert (got.earliest, got.latest) == (date(2030, 1, 2), date(2030, 1, 3))


def test_gap_of_four_days_refuses_what_lies_behind_it_and_keeps_what_lies_before() -> None:
    record = flat(JAN_1, [15, 15, 15] + [np.nan] * 4 + [11, 11])
    outlook = steady(date(2030, 1, 10), [5])
    before = ask(record, outlook, 15.0)
    assert (before.passed, before.reached, before.refused) == (True, date(2030, 1, 3), None)
    behind = ask(record, outlook, 16.5)
    # 15 before the gap and 2 after it are on record, so 16.5 is behind us; its day is not known.
    assert (behind.passed, behind.reached, behind.likely) == (True, None, None)
    assert (behind.earliest, behind.latest) == (date(2030, 1, 4), date(2030, 1, 9))
    assert "4 days between 4 January and 7 January" in str(behind.refused)
    ahead = ask(record, outlook, 40.0)
    assert (ahead.passed, ahead.sum_now, ahead.likely) == (None, None, None)


def test_long_gap_leaves_no_doubt_about_a_threshold_out_of_reach() -> None:
    # Other years never saw more than 5 degree-days a day in that week: 3 + 4 x 5 cannot make 1000.
    record = flat(date(2025, 1, 1), [15] * (5 * 365 + 1) + [11] * 3 + [np.nan] * 4 + [11])
    got = ask(record, steady(date(2030, 1, 9), [5]), 1000.0)
    assert (got.passed, got.sum_now) == (False, None)
    assert got.sum_low == got.sum_high == pytest.approx(3 + 4 * 5 + 1)


def test_record_that_begins_after_the_start_is_refused() -> None:
    got = ask(flat(date(2030, 1, 5), [15] * 5), steady(date(2030, 1, 10), [5]), 1.0)
    assert (got.passed, got.likely) == (None, None)
    assert "after the sum's start" in str(got.refused)


def test_station_without_past_years_gives_the_sum_and_refuses_dates() -> None:
    got = ask(flat(JAN_1, [15]), outlook_of(date(2030, 1, 2), np.empty((0, 9)), np.empty((0, 9))), 50.0)
    assert (got.sum_now, got.passed, got.likely, got.years) == (5.0, False, None, 0)
    assert got.refused


def test_past_years_tell_when_each_reached_the_sum() -> None:
    record = flat(date(2028, 1, 1), [0] * 100 + [12] * 266 + [0] * 200 + [12] * 165 + [0] * 9)
    heat = SeasonHeat(record, steady(date(2030, 1, 10), [5]), date(2030, 1, 10))
    years, days = heat.past_years(HeatSum("average", 10.0, None, "none", (1, 1)), (10.0, 400.0))
    assert years == (2028, 2029)
    assert days[0].tolist() == [104.0, 204.0]  # the fifth warm day
    assert days[1, 0] == 299.0
    assert np.isnan(days[1, 1])


FAHRENHEIT_20_TO_29_MAY = (
    (78, 54), (82, 58), (70, 51), (64, 44), (np.nan, 47), (75, 49), (81, 57), (86, 62), (88, 65), (79, 60),
)  # fmt: skip
FORECAST_30_MAY_TO_3_JUNE = ((76, 56), (74, 55), (80, 58), (83, 61), (85, 63))
RATES_F_D = (9, 10.5, 11, 12, 12.5, 13.5, 15, 16.5)


def bagworm_spring() -> tuple[WeatherRecord, Outlook]:
    """A spring whose sum stands at 300.0 degF.d on 19 May; from 4 June on eight futures."""
    on = date(2030, 5, 30)
    quiet = [10.0] * 138 + [10.0 + 300 / F_PER_C]  # 1 January to 19 May, all the heat on the last day
    ten = np.array(FAHRENHEIT_20_TO_29_MAY)
    high, low = ((ten[:, i] - 32) / F_PER_C for i in (0, 1))
    record = record_of(JAN_1, [*quiet, *low], [*quiet, *high])
    lead = (np.array(FORECAST_30_MAY_TO_3_JUNE) - 32) / F_PER_C
    later = np.repeat(10 + np.array(RATES_F_D)[:, None] / F_PER_C, 60, axis=1)
    t_max = np.concatenate([np.broadcast_to(lead[:, 0], (8, 5)), later], axis=1)
    t_min = np.concatenate([np.broadcast_to(lead[:, 1], (8, 5)), later], axis=1)
    return record, outlook_of(on, t_min, t_max, forecast_days=5)


@pytest.mark.check("S-01-13", source="worked spring of a county adviser, by hand", status="computed")
@pytest.mark.parametrize(
    ("method", "ten_days_f"), [("average", 159.75), ("modified average", 164.75), ("single sine", 161.75)]
)
def test_bagworm_spring_sums_ten_days_with_a_bridged_maximum(method: str, ten_days_f: float) -> None:
    record, outlook = bagworm_spring()
    heat_sum = HeatSum(method, BASE_50_F_C, None, "none", (5, 20))
    got = SeasonHeat(record, outlook, outlook.on).crossings(heat_sum, (1.0,))[0]
    assert got.sum_now is not None
    assert got.sum_now * F_PER_C == pytest.approx(ten_days_f, abs=0.01)
    assert got.gap_days == 1


@pytest.mark.check("S-01-13", source="worked spring of a county adviser, by hand", status="computed")
def test_bagworm_spring_reaches_600_on_6_7_or_8_june() -> None:
    record, outlook = bagworm_spring()
    got = ask(record, outlook, 600 / F_PER_C)
    assert got.sum_now is not None
    assert got.sum_now * F_PER_C == pytest.approx(459.75, abs=0.01)
    assert (got.earliest, got.likely, got.latest) == (date(2030, 6, 6), date(2030, 6, 7), date(2030, 6, 8))
    at_forecast_end = ask(record, outlook, 555.25 / F_PER_C)
    assert at_forecast_end.earliest == at_forecast_end.latest == date(2030, 6, 3)
    assert ask(record, outlook, 555.30 / F_PER_C).earliest == date(2030, 6, 4)


LEVELS = st.lists(st.one_of(st.floats(0, 30), st.just(float("nan"))), min_size=3, max_size=40)


@given(
    LEVELS,
    st.lists(st.floats(0, 20), min_size=1, max_size=12),
    st.lists(st.floats(0, 300), min_size=2, max_size=6),
)
def test_dates_are_ordered_and_rise_with_the_threshold(
    levels: list[float], rates: list[float], thresholds: list[float]
) -> None:
    on = JAN_1 + timedelta(days=len(levels))
    heat = SeasonHeat(flat(JAN_1, levels), steady(on, rates), on)
    goals = sorted(thresholds)
    got = heat.crossings(HeatSum("average", 10.0, None, "none", (1, 1)), goals)
    for one in got:
        dates = [day for day in (one.earliest, one.likely, one.latest) if day is not None]
        assert dates == sorted(dates)
        assert one.sum_now is None or one.sum_low - 1e-9 <= one.sum_now <= one.sum_high + 1e-9
    for name in ("earliest", "likely", "latest", "reached"):
        dates = [getattr(one, name) for one in got if getattr(one, name) is not None and one.refused is None]
        assert dates == sorted(dates)


@given(LEVELS, st.floats(0.1, 200))
def test_claimed_day_was_measured_and_the_heat_before_it_was_short_of_the_threshold(
    levels: list[float], threshold: float
) -> None:
    on = JAN_1 + timedelta(days=len(levels))
    got = ask(flat(JAN_1, levels), steady(on, [5]), threshold)
    if got.reached is not None:
        day = (got.reached - JAN_1).days
        assert not np.isnan(levels[day])
        assert np.nansum(np.maximum(np.array(levels[:day]) - 10, 0)) < threshold


@given(
    LEVELS,
    st.lists(st.floats(0, 20), min_size=1, max_size=12),
    st.lists(st.floats(0, 300), min_size=2, max_size=6),
)
def test_many_thresholds_at_once_equal_one_at_a_time(
    levels: list[float], rates: list[float], thresholds: list[float]
) -> None:
    on = JAN_1 + timedelta(days=len(levels))
    record, outlook = flat(JAN_1, levels), steady(on, rates)
    together = SeasonHeat(record, outlook, on).crossings(
        HeatSum("average", 10.0, None, "none", (1, 1)), thresholds
    )
    assert list(together) == [ask(record, outlook, threshold) for threshold in thresholds]


def estimated(record: WeatherRecord, days: Sequence[int]) -> WeatherRecord:
    """The same record with these days' temperatures flagged as estimates."""
    flags = {name: codes.copy() for name, codes in record.flags.items()}
    for name in ("t_min_c", "t_max_c"):
        flags[name][list(days)] = Flag.ESTIMATED
    return replace(record, flags=flags)


def test_crossing_on_an_estimated_day_counts_its_heat_and_claims_no_date() -> None:
    """15 degC every day is 5 a day: 25 is reached on 5 January, in the middle of estimates of 4 to 6 January."""
    record = flat(date(2031, 1, 1), [15.0] * 9)
    asked = (steady(date(2031, 1, 10), [5.0]), 25.0)
    assert ask(record, *asked).reached == date(2031, 1, 5)
    found = ask(estimated(record, (3, 4, 5)), *asked)
    assert (found.sum_now, found.gap_days, found.passed, found.reached) == (45.0, 3, True, None)
    assert (found.earliest, found.latest) == (date(2031, 1, 4), date(2031, 1, 6))


def test_crossing_after_estimated_days_is_dated_and_counts_them() -> None:
    """Estimates on 2 and 3 January; 25 is reached on the measured 5 January."""
    record = estimated(flat(date(2031, 1, 1), [15.0] * 9), (1, 2))
    found = ask(record, steady(date(2031, 1, 10), [5.0]), 25.0)
    assert (found.reached, found.gap_days) == (date(2031, 1, 5), 2)
    assert found.sum_low <= 45.0 <= found.sum_high
