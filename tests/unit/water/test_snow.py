"""Snow on a roof, in cases that can be worked out in the head: 2 mm melt for each degree above freezing."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from dooryard.water import network
from dooryard.water.snow import RoofSnow, held_snow
from tests.water_yards import day, days, record, yard

NAN = float("nan")


def snow(rain: list[float], mean: list[float], cleared: list[bool] | None = None) -> RoofSnow:
    return held_snow(rain, mean, snow_at_c=1.0, melt_mm_per_c=2.0, most_mm=50.0, cleared=cleared)


def test_snow_waits_for_days_above_freezing() -> None:
    run = snow([10.0, 0.0, 0.0, 0.0, 0.0], [-5.0, -1.0, 2.0, 2.0, 9.0])
    assert run.liquid_mm.tolist() == [0.0, 0.0, 4.0, 4.0, 2.0]
    assert run.held_mm.tolist() == [10.0, 10.0, 6.0, 2.0, 0.0]
    assert run.snow_mm.tolist() == [10.0, 0.0, 0.0, 0.0, 0.0]


def test_rain_on_snow_runs_with_the_melt() -> None:
    assert snow([10.0, 7.0], [-5.0, 2.0]).liquid_mm.tolist() == [0.0, 11.0]


def test_rain_without_frost_is_left_as_it_is() -> None:
    assert snow([3.0, 0.0, 5.0], [20.0, 20.0, 20.0]).liquid_mm.tolist() == [3.0, 0.0, 5.0]


def test_roof_taken_as_bare_loses_its_snow_by_name() -> None:
    run = snow([10.0, 0.0, 0.0], [-5.0, 3.0, 3.0], [False, False, True])
    assert run.liquid_mm.tolist() == [0.0, 6.0, 0.0]
    assert run.cleared_mm.tolist() == [0.0, 0.0, 4.0]
    assert run.closure_error_mm() == 0.0


def test_warm_day_without_reading_stays_unknown_and_a_cold_one_runs_nothing() -> None:
    run = snow([NAN, NAN, 0.0], [20.0, -5.0, -5.0])
    assert np.isnan(run.liquid_mm[0])
    assert run.liquid_mm[1:].tolist() == [0.0, 0.0]


def test_melt_after_a_cold_day_without_reading_is_unknown_until_it_must_be_gone() -> None:
    """At most 50 mm fell, and 20 mm a day melt: on the third day the last of it may go, on the fourth none."""
    run = snow([NAN, 0.0, 0.0, 0.0, 0.0], [-5.0, 10.0, 10.0, 10.0, 10.0])
    assert np.isnan(run.liquid_mm).tolist() == [False, True, True, True, False]


def test_melt_is_known_while_the_measured_snow_alone_lasts() -> None:
    run = snow([20.0, NAN, 0.0, 0.0], [-5.0, -5.0, 5.0, 5.0])
    assert run.liquid_mm[:3].tolist() == [0.0, 0.0, 10.0]
    assert run.liquid_mm[3] == 10.0  # the known 20 mm give exactly that, whatever lies beneath


def test_late_snow_reaches_the_barrel_when_it_melts(knowledge: Any) -> None:
    """A day at -4 and 4 degC has a mean of 0: snow, though the barrels are out. The next is 12 to 25."""
    dates = days("2019-01-01", "2021-07-31")
    month = dates.astype("datetime64[M]").astype(int) % 12 + 1
    winter = (month >= 11) | (month <= 3)
    t_min, t_max = np.where(winter, -10.0, 12.0), np.where(winter, 5.0, 25.0)
    late = int(np.searchsorted(dates, np.datetime64("2021-04-20")))
    t_min[late], t_max[late] = -1.0, 1.0
    rain = np.zeros(len(dates))
    rain[late] = 10.0
    weather = record(dates, rain_mm=rain, t_min_c=t_min, t_max_c=t_max)
    run, _ = network.run(yard(), weather, knowledge, day("2021-08-01"))
    pool = run.pools[0]
    assert pool.inflow_l[late] == 0.0
    assert pool.inflow_l[late + 1] == pytest.approx(20.0 * 0.92 * 9.75)  # 18.5 degC melt 10 mm in a day
    assert any("likely snow" in note for note in run.notes)


def test_winter_snow_is_gone_when_the_barrel_is_put_out(knowledge: Any) -> None:
    dates = days("2019-01-01", "2021-07-31")
    rain = np.zeros(len(dates))
    rain[np.searchsorted(dates, np.datetime64("2021-03-30"))] = 30.0
    run, _ = network.run(yard(), record(dates, rain_mm=rain), knowledge, day("2021-08-01"))
    assert run.pools[0].level_high_l[-1] == 0.0
    assert run.snow.cleared_mm.sum() == 30.0
