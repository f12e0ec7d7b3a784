"""A yard run by hours where hours of rain are known: steps, agreement of gauges, and the two published cases."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from dooryard.water import network
from dooryard.water.steps import HoursOfRain, hour_steps
from dooryard.weather import gauge
from dooryard.weather.hourly import HourlyRecord
from dooryard.weather.record import Flag, Source, Station
from dooryard.yard.model import Storage, Yard
from tests.water_yards import day, days, record, yard

DATES = days("2021-05-01", "2021-05-20")
ON = day("2021-05-21")


def hourly(table: np.ndarray, first: np.datetime64 = DATES[0]) -> HourlyRecord:
    """Hours of rain [mm], one row of 24 a day."""
    start = np.arange(first, first + len(table), dtype="datetime64[h]")
    flags = {"rain_mm": np.where(np.isnan(table.ravel()), Flag.MISSING, Flag.OBSERVED).astype(np.uint8)}
    return HourlyRecord(Station("here"), start, flags, (), Source("h.csv", "plain"), rain_mm=table.ravel())


def barrel_in_use() -> Yard:
    return yard(storages=(Storage("barrel", 100.0, fed_by=("spout",), daily_use_l=60.0),))


def test_steps_are_hours_on_used_days_and_days_elsewhere() -> None:
    used = np.array([False, True, False])
    steps = hour_steps(HoursOfRain(np.full((3, 24), 1 / 24), used, 0, 0))
    assert len(steps.day) == 26
    assert steps.first.tolist() == [0, 1, 25]
    assert steps.at_hour(7).tolist() == [0, 8, 25]
    assert steps.placed(np.array([1.0, 2.0, 3.0]), 7)[[0, 8, 25]].tolist() == [1.0, 2.0, 3.0]
    assert steps.sums(steps.share).tolist() == pytest.approx([1.0, 1.0, 1.0])
    assert steps.evenings(np.arange(26.0)).tolist() == [0.0, 24.0, 25.0]
    assert (steps.ends_d - steps.begins_d).tolist() == pytest.approx([1.0] + [1 / 24] * 24 + [1.0])


def test_run_by_hours_of_rain_after_the_draw_keeps_what_the_night_brought(knowledge: Any) -> None:
    """60 L are drawn at 18 h. 100 L fall at 20 h: drawn first, from what was there. By days nobody knows."""
    table = np.zeros((len(DATES), 24))
    table[5, 20] = table[6, 20] = 100.0 / (20.0 * 0.92)
    table[5, 20] += 0.25  # wetting
    weather = record(DATES, rain_mm=table.sum(axis=1))
    by_day = network.run(barrel_in_use(), weather, knowledge, ON)[0].pools[0]
    run, _ = network.run(barrel_in_use(), weather, knowledge, ON, hours=hourly(table))
    by_hour = run.pools[0]
    assert (by_day.level_low_l[5], by_day.level_high_l[5]) == pytest.approx((40.0, 100.0))
    assert (by_hour.level_low_l[5], by_hour.level_high_l[5]) == pytest.approx((100.0, 100.0))
    assert by_hour.yas.supplied_l[6] == pytest.approx(60.0)
    assert by_hour.yas.spilled_l[6] == pytest.approx(40.0)  # 100 - 60 + 100 in a barrel of 100
    assert by_hour.yas.supplied_l.sum() == pytest.approx(160.0)
    (narrowed,) = run.narrowed
    assert narrowed.days == len(DATES)
    assert narrowed.width_by_hour_l < narrowed.width_by_day_l
    assert any("hour by hour" in note for note in run.notes)


def test_run_by_hours_needs_the_same_rain_in_both_gauges(knowledge: Any) -> None:
    table = np.zeros((len(DATES), 24))
    table[3, 10], table[4, 10], table[6, 10] = 10.0, 10.0, np.nan
    daily = table.sum(axis=1)
    daily[4], daily[6] = 2.0, 8.0  # a day read at another hour; a day with a missing hour
    run, _ = network.run(barrel_in_use(), record(DATES, rain_mm=daily), knowledge, ON, hours=hourly(table))
    assert run.narrowed[0].days == len(DATES) - 2
    assert run.pools[0].inflow_l.sum() == pytest.approx(
        network.run(barrel_in_use(), record(DATES, rain_mm=daily), knowledge, ON)[0].pools[0].inflow_l.sum()
    )
    assert any("On 1 day the hours and the day did not measure" in note for note in run.notes)


def test_run_by_hours_takes_the_rain_of_the_day_and_the_pattern_of_the_hours(knowledge: Any) -> None:
    table = np.zeros((len(DATES), 24))
    table[3, 10] = 9.0
    daily = table.sum(axis=1)
    daily[3] = 10.0
    run, _ = network.run(yard(), record(DATES, rain_mm=daily), knowledge, ON, hours=hourly(table))
    assert run.pools[0].inflow_l[3] == pytest.approx(20.0 * 0.92 * 9.75)


def test_run_by_the_minutes_of_a_gauge_is_run_by_their_hours(knowledge: Any) -> None:
    minutes = 15
    start = np.arange(DATES[0], DATES[-1] + 1, dtype="datetime64[h]").astype("datetime64[m]")
    start = (start[:, None] + np.arange(0, 60, minutes).astype("timedelta64[m]")).ravel()
    depth = np.zeros(len(start))
    depth[5 * 96 + 80] = 5.0  # 20 h on the sixth day
    kept = gauge.in_order(
        Station("here"),
        start,
        np.full(len(start), minutes),
        depth,
        np.zeros(len(start), dtype=np.uint8),
        (),
        Source("g.txt", "plain"),
    )
    daily = np.zeros(len(DATES))
    daily[5] = 5.0
    run, _ = network.run(barrel_in_use(), record(DATES, rain_mm=daily), knowledge, ON, hours=kept)
    assert run.narrowed[0].days == len(DATES)
    assert run.pools[0].level_low_l[5] == pytest.approx(20.0 * 0.92 * 4.75)


def test_first_flush_fills_once_in_a_storm_of_many_hours(knowledge: Any) -> None:
    table = np.zeros((len(DATES), 24))
    table[5, 10:20] = 1.0
    table[6, 3:5] = 1.0
    barrel = Storage("barrel", 1000.0, fed_by=("spout",), first_flush_l=30.0)
    weather = record(DATES, rain_mm=table.sum(axis=1))
    run, _ = network.run(yard(storages=(barrel,)), weather, knowledge, ON, hours=hourly(table))
    assert run.pools[0].roof_account.flushed_l.sum() == pytest.approx(30.0)
    assert run.pools[0].inflow_l.sum() == pytest.approx(20.0 * 0.92 * 11.75 - 30.0)
