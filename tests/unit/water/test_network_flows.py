"""Every litre of a yard by name: diverters, months off, rules of drawing, overflow onto beds, the tap.

Metal gives 0.92 of the rain after 0.25 mm of wetting; barrels stand in service from 1 April to 31 October.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from dooryard.water import network
from dooryard.water.budget import budgets, tap_l
from dooryard.yard.model import Bed, Downspout, Level, Roof, Storage, Yard
from tests.water_yards import day, days, record, yard

DATES = days("2019-01-01", "2021-07-31")
ON = day("2021-08-01")
RAN_L = 20.0 * 0.92 * 9.75  # of 10 mm on 20 m2


def rain_on(**depths: float) -> np.ndarray:
    """Rain by day of 2021, written as m6d10=5.0."""
    rain = np.zeros(len(DATES))
    for name, depth in depths.items():
        month, of_month = name[1:].split("d")
        rain[np.searchsorted(DATES, np.datetime64(f"2021-{int(month):02}-{int(of_month):02}"))] = depth
    return rain


def at(month: int, of_month: int) -> int:
    return int(np.searchsorted(DATES, np.datetime64(f"2021-{month:02}-{of_month:02}")))


def played(here: Yard, knowledge: Any, rain: np.ndarray) -> network.YardRun:
    return network.run(here, record(DATES, rain_mm=rain), knowledge, ON)[0]


def test_diverter_lets_its_share_past_and_books_it(knowledge: Any) -> None:
    spouts = (Downspout("spout", 0.05, 0.075, diverted_share=0.8),)
    here = replace(yard(), downspouts=spouts)
    pool = played(here, knowledge, rain_on(m6d10=10.0)).pools[0]
    assert pool.level_low_l[-1] == pytest.approx(0.8 * RAN_L)
    went = pool.roof_account
    wet = at(6, 10)
    assert went.fell_l[wet] == 200.0
    assert went.wetted_l[wet] == pytest.approx(5.0)
    assert went.splashed_l[wet] == pytest.approx(20.0 * 9.75 * 0.08)
    assert went.bypassed_l[wet] == pytest.approx(0.2 * RAN_L)


def test_first_flush_is_taken_from_what_the_diverter_took(knowledge: Any) -> None:
    spouts = (Downspout("spout", 0.05, 0.075, diverted_share=0.5),)
    here = replace(
        yard(storages=(Storage("barrel", 200.0, fed_by=("spout",), first_flush_l=12.0),)), downspouts=spouts
    )
    pool = played(here, knowledge, rain_on(m6d10=10.0)).pools[0]
    assert pool.roof_account.flushed_l[at(6, 10)] == pytest.approx(12.0)
    assert pool.level_high_l[-1] == pytest.approx(0.5 * RAN_L - 12.0)


def test_out_of_service_all_that_runs_goes_down_the_old_spout(knowledge: Any) -> None:
    rain = np.zeros(len(DATES))
    november = int(np.searchsorted(DATES, np.datetime64("2020-11-10")))
    rain[november] = 10.0
    t_max = np.full(len(DATES), 25.0)
    weather = record(DATES, rain_mm=rain, t_max_c=t_max)  # warm days, hard frost at night
    run, _ = network.run(yard(), weather, knowledge, ON)
    assert run.pools[0].roof_account.disconnected_l[november] == pytest.approx(RAN_L)
    assert run.pools[0].inflow_l.sum() == 0.0


def test_off_months_of_the_yard_file_take_the_place_of_the_usual_freeze(knowledge: Any) -> None:
    barrel = Storage("barrel", 200.0, fed_by=("spout",), off_months=("june",))
    run = played(yard(storages=(barrel,)), knowledge, rain_on(m5d20=10.0, m6d10=10.0, m7d10=5.0))
    pool = run.pools[0]
    assert pool.level_high_l[at(5, 31)] == pytest.approx(RAN_L)
    assert pool.emptied_l[:, at(6, 1)] == pytest.approx(np.full(2, RAN_L))
    assert pool.level_high_l[-1] == pytest.approx(20.0 * 0.92 * 4.75)
    never = replace(barrel, off_months=())
    assert played(yard(storages=(never,)), knowledge, rain_on()).pools[0].in_service.all()


def test_joined_barrels_off_in_different_months_are_told(knowledge: Any) -> None:
    storages = (
        Storage("left", 200.0, fed_by=("spout",), linked_to=("right",), off_months=("june",)),
        Storage("right", 200.0, off_months=("july",)),
    )
    _, problems = network.run(yard(storages=storages), record(DATES), knowledge, ON)
    assert [problem.field for problem in problems] == ["off_months"]


def test_joined_barrels_with_lips_at_different_heights_are_told(knowledge: Any) -> None:
    shape = {"height_m": 1.0, "overflow_height_m": 0.9}
    storages = (
        Storage("left", 200.0, **shape, stand_height_m=0.5, fed_by=("spout",), linked_to=("right",)),
        Storage("right", 100.0, **shape, stand_height_m=0.4),
    )
    _, problems = network.run(yard(storages=storages), record(DATES), knowledge, ON)
    assert "10 cm apart" in problems[0].what
    assert "about 20 L" in problems[0].what  # 0.1 m of a barrel of 0.2 m2


def test_daily_use_on_weekdays_only(knowledge: Any) -> None:
    barrel = Storage("barrel", 200.0, fed_by=("spout",), daily_use_l=7.0, use_days=("saturday",))
    pool = played(yard(storages=(barrel,)), knowledge, rain_on(m6d10=50.0)).pools[0]
    june = slice(at(6, 1), at(7, 1))
    assert pool.demand_l[june].sum() == 4 * 7.0  # four Saturdays in June 2021
    assert pool.demand_l[at(6, 12)] == 7.0


def test_bed_watered_by_hand_gets_on_its_days_what_it_lacks(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "tap", watering_days=("monday", "wednesday", "friday"))
    run = played(yard(beds=(bed,)), knowledge, rain_on()).bed("border")
    given = np.flatnonzero(run.demand_l[at(6, 1) : at(7, 1)]) + at(6, 1)
    assert set((DATES[given].astype(int) + 3) % 7) == {0, 2, 4}
    use = run.crop_et_mm
    for first, then in pairwise(given):
        assert run.demand_l[then] == pytest.approx(4.0 * use[first:then].sum())


def test_bed_given_a_fixed_amount_on_its_days(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "tap", watering_days=("monday",), watering_l=20.0)
    run = played(yard(beds=(bed,)), knowledge, rain_on()).bed("border")
    assert set(run.demand_l[run.growing].tolist()) == {0.0, 20.0}
    assert run.demand_l[at(6, 1) : at(7, 1)].sum() == 4 * 20.0


def test_bed_given_a_fixed_amount_when_due_gets_it_only_then(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "tap", watering_l=20.0)
    run = played(yard(beds=(bed,)), knowledge, rain_on()).bed("border")
    given = np.flatnonzero(run.demand_l)
    assert set(run.demand_l[given].tolist()) == {20.0}
    inside = given[(given >= at(6, 1))]
    before = run.depletion_low_mm[inside - 1]
    assert (before >= run.raw_mm[inside] - 1e-9).all()


def test_overflow_onto_a_bed_on_rain_wets_it(knowledge: Any) -> None:
    bed = Bed("rain garden", 5.0, "annual-flowers", "loam", "rain")
    dry = played(yard(beds=(bed,)), knowledge, rain_on(m6d10=40.0, m7d20=12.0))
    storage = Storage("barrel", 200.0, fed_by=("spout",), empties_to="rain garden")
    fed = played(yard(beds=(bed,), storages=(storage,)), knowledge, rain_on(m6d10=40.0, m7d20=12.0))
    spilled = 20.0 * 0.92 * 11.75
    assert (
        fed.pools[0].spill_low_l[at(7, 20)] == fed.pools[0].spill_high_l[at(7, 20)] == pytest.approx(spilled)
    )
    gained = dry.beds[0].depletion_high_mm[at(7, 20)] - fed.beds[0].depletion_high_mm[at(7, 20)]
    before = dry.beds[0].depletion_high_mm[at(7, 20)]
    assert gained == pytest.approx(min(spilled / 5.0, before))
    assert fed.beds[0].overflow_low_l[at(7, 20)] == pytest.approx(spilled)


def test_overflow_onto_the_bed_it_waters_lowers_what_is_asked_of_the_barrel(knowledge: Any) -> None:
    luck = np.random.default_rng(3)
    rain = np.where(luck.random(len(DATES)) < 0.25, luck.gamma(0.7, 9.0, len(DATES)), 0.0)
    bed = Bed("border", 12.0, "annual-flowers", "sandy-loam", "barrel")
    asked = []
    for overflow in ("ground", "border"):
        storage = Storage("barrel", 100.0, fed_by=("spout",), empties_to=overflow)
        result, problems = network.run(
            yard(beds=(bed,), storages=(storage,)), record(DATES, rain_mm=rain), knowledge, ON
        )
        assert problems == ()
        asked.append(result.beds[0].demand_l.sum())
    assert asked[1] < asked[0]


def test_tap_makes_up_what_the_barrel_lacks_and_is_counted(knowledge: Any) -> None:
    beds = (
        Bed("border", 4.0, "annual-flowers", "loam", "barrel"),
        Bed("far bed", 2.0, "annual-flowers", "loam", "tap"),
    )
    result = played(yard(beds=beds), knowledge, rain_on(m6d10=5.0))
    given, mains = result.given_l("border"), result.mains_l("border")
    assert given[0].sum() == pytest.approx(20.0 * 0.92 * 4.75)  # all the barrel ever got
    assert given + mains == pytest.approx(np.tile(result.bed("border").demand_l, (2, 1)))
    both = result.bed("border").demand_l.sum() + result.bed("far bed").demand_l.sum()
    low, high = tap_l(result, DATES[0].astype(object), ON)
    assert low == high == pytest.approx(both - 20.0 * 0.92 * 4.75)


def test_budget_names_every_litre(knowledge: Any) -> None:
    luck = np.random.default_rng(5)
    rain = np.where(luck.random(len(DATES)) < 0.3, luck.gamma(0.7, 9.0, len(DATES)), 0.0)
    storages = (
        Storage("upper", 150.0, fed_by=("spout",), empties_to="lower", daily_use_l=12.0, first_flush_l=5.0),
        Storage("lower", 100.0, empties_to="border"),
    )
    beds = (
        Bed("border", 6.0, "annual-flowers", "loam", "lower"),
        Bed("plot", 3.0, "tomato", "loam", "upper"),
    )
    levels = (Level("upper", day("2021-06-15"), 60.0),)
    here = replace(
        yard(storages=storages, beds=beds, levels=levels), downspouts=(Downspout("spout", 0.05, None, 0.9),)
    )
    result = played(here, knowledge, rain)
    for budget in budgets(result, day("2019-01-01"), ON):
        assert budget.closure_l < 1e-7
        assert budget.missing_days == 0
    upper, lower = budgets(result, day("2019-01-01"), ON)
    assert upper.total_l("overflow") == pytest.approx(lower.total_l("overflow of others"))
    names = {flow.name for flow in upper.flows}
    assert {"past the diverter", "first flush", "other use", "poured out", "set right by a reading"} <= names
    fell = (rain + result.snow.melt_mm - result.snow.snow_mm).sum() * 20.0
    assert upper.total_l("rain and melt")[0] == pytest.approx(fell)


def test_record_that_begins_in_service_tells_when_its_start_no_longer_matters(knowledge: Any) -> None:
    dates = days("2021-05-01", "2021-07-31")
    rain = np.zeros(len(dates))
    rain[20] = 50.0
    run, _ = network.run(yard(), record(dates, rain_mm=rain), knowledge, ON)
    assert run.pools[0].settled == day("2021-05-21")
    assert any("after 20 days" in note for note in run.notes)
    dry, _ = network.run(yard(), record(dates), knowledge, ON)
    assert dry.pools[0].settled is None
    assert any("still matters" in note for note in dry.notes)
    winter, _ = network.run(yard(), record(DATES), knowledge, ON)
    assert winter.pools[0].settled == day("2019-01-01")


def test_two_roofs_of_different_diverters_share_one_barrel(knowledge: Any) -> None:
    roofs = (Roof("front", 10.0, "metal", "one"), Roof("back", 10.0, "metal", "two"))
    here = yard(roofs=roofs, storages=(Storage("barrel", 500.0, fed_by=("one", "two")),))
    here = replace(here, downspouts=(Downspout("one", 0.05, None, 1.0), Downspout("two", 0.05, None, 0.5)))
    pool = played(here, knowledge, rain_on(m6d10=10.0)).pools[0]
    assert pool.level_high_l[-1] == pytest.approx(0.75 * RAN_L)
    assert pool.high_share == pytest.approx(0.95 / 0.92)
