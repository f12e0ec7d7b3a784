"""A yard's water run together: small made-up yards whose levels can be worked out by hand.

Metal, in the shipped table, gives 0.92 of the rain after 0.25 mm of wetting an event; a hard freeze is
28 degF. The made-up record freezes hard until 31 March and from 1 November on, so barrels stand in service
from 1 April to 31 October.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water import network
from dooryard.weather.record import Station
from dooryard.yard.model import Bed, Level, Roof, Storage
from tests.water_yards import day, days, record, yard

DATES = days("2019-01-01", "2021-07-31")
LITRES_OF_10_MM = 20.0 * 0.92 * (10.0 - 0.25)


def rain_on(wet: dict[str, float], dates: np.ndarray = DATES) -> np.ndarray:
    rain_mm = np.zeros(len(dates))
    for when, depth in wet.items():
        rain_mm[np.searchsorted(dates, np.datetime64(when))] = depth
    return rain_mm


def at(dates: np.ndarray, when: str) -> int:
    return int(np.searchsorted(dates, np.datetime64(when)))


def test_run_one_wet_day_fills_the_barrel_by_hand(knowledge: Any) -> None:
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 10.0}))
    result, problems = network.run(yard(), weather, knowledge, day("2021-08-01"))
    pool = result.pool_of("barrel")
    wet = at(DATES, "2021-06-10")
    assert problems == ()
    assert pool.inflow_l[wet] == pytest.approx(LITRES_OF_10_MM)
    assert pool.level_low_l[wet - 1] == pool.level_high_l[wet - 1] == 0.0
    assert pool.level_low_l[wet] == pool.level_high_l[wet] == pytest.approx(LITRES_OF_10_MM)
    assert pool.level_low_l[-1] == pytest.approx(LITRES_OF_10_MM)
    assert pool.yas.spilled_l.sum() == 0.0
    assert result.closure_l <= 1e-9


def test_run_overflow_of_a_big_rain_is_spilled_not_kept(knowledge: Any) -> None:
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 50.0}))
    result, _ = network.run(yard(), weather, knowledge, day("2021-08-01"))
    pool = result.pools[0]
    arrived = 20.0 * 0.92 * 49.75
    assert pool.level_high_l[-1] == pool.level_low_l[-1] == 200.0
    assert pool.totals(day("2021-01-01"), day("2022-01-01")).spilled_l == pytest.approx((arrived - 200,) * 2)


def test_run_outside_its_season_a_barrel_takes_nothing_and_stands_empty(knowledge: Any) -> None:
    weather = record(DATES, rain_mm=rain_on({"2020-10-20": 10.0, "2020-12-10": 10.0, "2021-03-20": 10.0}))
    result, _ = network.run(yard(), weather, knowledge, day("2021-08-01"))
    pool = result.pools[0]
    assert pool.level_low_l[at(DATES, "2020-10-31")] == pytest.approx(LITRES_OF_10_MM)
    assert pool.level_high_l[at(DATES, "2020-11-01")] == 0.0
    assert pool.inflow_l[at(DATES, "2020-12-10")] == 0.0
    assert pool.level_high_l[-1] == 0.0
    emptied = pool.emptied_l[:, at(DATES, "2020-11-01")]
    assert emptied == pytest.approx(np.full(2, LITRES_OF_10_MM))  # poured away, and booked
    assert result.service is not None
    assert result.service.words() == "1 April to 31 October"


def test_run_water_below_the_outlet_counts_in_the_level_and_not_in_the_capacity(knowledge: Any) -> None:
    barrel = Storage(
        "barrel", 200.0, height_m=1.0, outlet_height_m=0.1, overflow_height_m=0.9, fed_by=("spout",)
    )
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 50.0}))
    result, _ = network.run(yard(storages=(barrel,)), weather, knowledge, day("2021-08-01"))
    pool = result.pools[0]
    assert pool.dead_l == pytest.approx(20.0)
    assert pool.capacity_l == pytest.approx(160.0)
    assert pool.level_high_l[-1] == pytest.approx(180.0)


def test_run_linked_barrels_share_one_level(knowledge: Any) -> None:
    storages = (
        Storage("left", 200.0, fed_by=("spout",), linked_to=("right",)),
        Storage("right", 100.0),
    )
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 50.0}))
    result, problems = network.run(yard(storages=storages), weather, knowledge, day("2021-08-01"))
    assert problems == ()
    assert len(result.pools) == 1
    assert result.pool_of("right").storages == ("left", "right")
    assert result.pools[0].level_high_l[-1] == pytest.approx(300.0)


def test_run_overflow_runs_into_the_next_barrel(knowledge: Any) -> None:
    storages = (
        Storage("lower", 1000.0),
        Storage("upper", 100.0, fed_by=("spout",), empties_to="lower"),
    )
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 10.0}))
    result, _ = network.run(yard(storages=storages), weather, knowledge, day("2021-08-01"))
    lower, upper = result.pool_of("lower"), result.pool_of("upper")
    assert upper.level_low_l[-1] == pytest.approx(100.0)
    assert lower.level_low_l[-1] == lower.level_high_l[-1] == pytest.approx(LITRES_OF_10_MM - 100.0)
    assert lower.inflow_l.sum() == pytest.approx(LITRES_OF_10_MM - 100.0)


def test_run_overflows_in_a_ring_are_cut_and_told(knowledge: Any) -> None:
    storages = (
        Storage("one", 100.0, fed_by=("spout",), empties_to="two"),
        Storage("two", 100.0, empties_to="one"),
    )
    result, problems = network.run(yard(storages=storages), record(DATES), knowledge, day("2021-08-01"))
    assert len(result.pools) == 2
    assert [problem.field for problem in problems] == ["empties_to"]
    assert "ring" in problems[0].what


def test_run_one_downspout_into_two_barrels_is_split_equally_and_told(knowledge: Any) -> None:
    storages = (Storage("left", 200.0, fed_by=("spout",)), Storage("right", 200.0, fed_by=("spout",)))
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 10.0}))
    result, problems = network.run(yard(storages=storages), weather, knowledge, day("2021-08-01"))
    assert [pool.level_low_l[-1] for pool in result.pools] == pytest.approx([LITRES_OF_10_MM / 2] * 2)
    assert len(problems) == 1
    assert "left, right" in problems[0].what


def test_run_first_flush_is_taken_once_per_event_over_all_roofs(knowledge: Any) -> None:
    roofs = (Roof("front", 15.0, "metal", "spout"), Roof("back", 5.0, "metal", "other spout"))
    barrel = Storage("barrel", 200.0, fed_by=("spout", "other spout"), first_flush_l=12.0)
    weather = record(DATES, rain_mm=rain_on({"2021-06-10": 5.0, "2021-06-11": 5.0}))
    result, _ = network.run(yard(roofs=roofs, storages=(barrel,)), weather, knowledge, day("2021-08-01"))
    assert result.pools[0].level_low_l[-1] == pytest.approx(LITRES_OF_10_MM - 12.0)
    assert result.pools[0].roofs == ("front", "back")


def test_run_day_without_rain_record_opens_the_bracket_until_the_barrel_is_surely_full(
    knowledge: Any,
) -> None:
    rain_mm = rain_on({"2021-06-10": 5.0, "2021-06-20": 50.0})
    rain_mm[at(DATES, "2021-06-15")] = np.nan
    result, _ = network.run(yard(), record(DATES, rain_mm=rain_mm), knowledge, day("2021-08-01"))
    pool = result.pools[0]
    gap = at(DATES, "2021-06-15")
    kept = 20.0 * 0.92 * 4.75
    assert pool.level_low_l[gap - 1] == pool.level_high_l[gap - 1] == pytest.approx(kept)
    assert pool.level_low_l[gap] == pytest.approx(kept)  # nothing may have fallen
    assert pool.level_high_l[gap] == 200.0  # or enough to fill it
    assert np.isnan(pool.inflow_l[gap])
    assert np.isnan([pool.yas.level_l[gap], pool.ybs.supplied_l[gap], pool.yas.unmet_l[gap]]).all()
    assert pool.level_low_l[-1] == pool.level_high_l[-1] == 200.0
    assert pool.known_since == day("2021-06-20")
    year = pool.totals(day("2021-01-01"), day("2022-01-01"))
    assert year.missing_days == 1
    assert np.isfinite(year.inflow_l)


def test_run_gap_that_still_matters_leaves_the_level_unknown(knowledge: Any) -> None:
    rain_mm = rain_on({})
    rain_mm[at(DATES, "2021-07-15")] = np.nan
    result, _ = network.run(yard(), record(DATES, rain_mm=rain_mm), knowledge, day("2021-08-01"))
    assert result.pools[0].known_since is None
    assert (result.pools[0].level_low_l[-1], result.pools[0].level_high_l[-1]) == (0.0, 200.0)


def test_run_record_that_stops_early_leaves_the_level_open(knowledge: Any) -> None:
    result, _ = network.run(yard(), record(DATES), knowledge, day("2021-08-05"))
    assert (result.pools[0].level_low_l[-1], result.pools[0].level_high_l[-1]) == (0.0, 200.0)


def test_run_gap_in_winter_does_not_matter(knowledge: Any) -> None:
    rain_mm = rain_on({})
    rain_mm[at(DATES, "2020-12-01") : at(DATES, "2021-03-01")] = np.nan
    result, _ = network.run(yard(), record(DATES, rain_mm=rain_mm), knowledge, day("2021-08-01"))
    assert result.pools[0].level_high_l[-1] == 0.0
    assert not np.isnan(result.pools[0].inflow_l).any()


def test_run_level_reading_closes_the_bracket(knowledge: Any) -> None:
    rain_mm = rain_on({"2021-07-25": 10.0})
    rain_mm[at(DATES, "2021-07-10")] = np.nan
    levels = (Level("barrel", day("2021-07-20"), 15.0),)
    result, _ = network.run(yard(levels=levels), record(DATES, rain_mm=rain_mm), knowledge, day("2021-08-01"))
    pool = result.pools[0]
    assert pool.level_high_l[at(DATES, "2021-07-19")] == 200.0
    read = at(DATES, "2021-07-20")
    assert pool.level_low_l[read] == pool.level_high_l[read] == pytest.approx(15.0)
    assert pool.level_low_l[-1] == pool.level_high_l[-1] == pytest.approx(15.0 + LITRES_OF_10_MM)
    assert pool.yas.level_l[-1] == pytest.approx(15.0 + LITRES_OF_10_MM)
    assert pool.known_since == day("2021-07-20")


def test_run_level_read_on_the_planning_morning_is_the_level(knowledge: Any) -> None:
    levels = (Level("barrel", day("2021-08-01"), 70.0),)
    result, _ = network.run(yard(levels=levels), record(DATES), knowledge, day("2021-08-01"))
    assert (result.pools[0].level_low_l[-1], result.pools[0].level_high_l[-1]) == (70.0, 70.0)


def test_run_level_read_in_winter_is_told_as_unused(knowledge: Any) -> None:
    levels = (Level("barrel", day("2021-01-10"), 70.0),)
    result, problems = network.run(yard(levels=levels), record(DATES), knowledge, day("2021-08-01"))
    assert [problem.found for problem in problems] == ["2021-01-10"]
    assert result.pools[0].level_high_l[-1] == 0.0


def test_run_bed_asks_its_barrel_when_depletion_reaches_raw(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "barrel")
    result, _ = network.run(yard(beds=(bed,)), record(DATES), knowledge, day("2021-08-01"))
    run, pool = result.bed("border"), result.pools[0]
    asked = np.flatnonzero(run.demand_l > 0)
    # dry weather: the bed climbs to raw day by day, and is then brought back to field capacity
    assert len(asked) > 5
    evening_before = run.depletion_low_mm[asked - 1]
    assert (evening_before >= run.raw_mm[asked]).all()
    assert run.demand_l[asked] == pytest.approx(evening_before * 4.0)
    assert run.taw_mm[run.growing] == pytest.approx(1000 * (0.25 - 0.12) * 0.2)
    assert np.isnan(run.taw_mm[~run.growing]).all()
    inside = result.pools[0].in_service
    assert pool.demand_l[inside] == pytest.approx(run.demand_l[inside])
    assert pool.yas.unmet_l.sum() == pytest.approx(pool.demand_l.sum())  # no rain: nothing to supply


def test_run_bed_on_the_tap_asks_nothing_of_the_barrel(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "tap")
    result, _ = network.run(yard(beds=(bed,)), record(DATES), knowledge, day("2021-08-01"))
    assert result.bed("border").demand_l.sum() > 0.0
    assert result.pools[0].demand_l.sum() == 0.0


def test_run_bed_on_rain_alone_asks_for_nothing_and_dries_out(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "rain")
    result, _ = network.run(yard(beds=(bed,)), record(DATES), knowledge, day("2021-08-01"))
    run = result.bed("border")
    assert run.demand_l.sum() == 0.0
    assert run.depletion_low_mm[-1] == run.depletion_high_mm[-1]
    assert run.raw_mm[-1] < run.depletion_high_mm[-1] <= run.taw_mm[-1]


def test_run_bed_last_watered_starts_again_at_field_capacity(knowledge: Any) -> None:
    watered = Bed("border", 4.0, "annual-flowers", "loam", "tap", last_watered=day("2021-07-31"))
    dry = Bed("verge", 4.0, "annual-flowers", "loam", "tap")
    result, _ = network.run(yard(beds=(watered, dry)), record(DATES), knowledge, day("2021-08-01"))
    assert result.bed("border").depletion_high_mm[-1] == pytest.approx(result.bed("border").crop_et_mm[-1])
    assert result.bed("verge").depletion_high_mm[-1] > result.bed("border").depletion_high_mm[-1]


def test_run_bed_planted_grows_for_its_stage_lengths_each_year(knowledge: Any) -> None:
    bed = Bed("tomatoes", 3.0, "tomato", "loam", "tap", planted=day("2021-05-10"))
    result, _ = network.run(yard(beds=(bed,)), record(DATES), knowledge, day("2021-08-01"))
    run = result.bed("tomatoes")
    growing = DATES[run.growing]
    assert growing[growing < np.datetime64("2020-01-01")][[0, -1]].astype(str).tolist() == [
        "2019-05-10",
        "2019-10-01",
    ]
    assert run.kc[at(DATES, "2021-05-10")] == pytest.approx(0.60)
    assert run.kc[at(DATES, "2021-06-29")] == pytest.approx(0.875)  # day 50 of 30/40/45/30
    assert np.isnan(run.kc[at(DATES, "2021-05-09")])
    ahead = run.factor_on(np.array(["2021-08-08", "2021-10-02"], dtype="datetime64[D]"))
    assert ahead[0] == pytest.approx(1.15)
    assert np.isnan(ahead[1])


def test_run_bed_day_without_rain_record_widens_its_bracket(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "rain")
    rain_mm = rain_on({"2021-06-15": 60.0})
    rain_mm[at(DATES, "2021-06-10")] = np.nan
    result, _ = network.run(yard(beds=(bed,)), record(DATES, rain_mm=rain_mm), knowledge, day("2021-08-01"))
    run = result.bed("border")
    gap, full = at(DATES, "2021-06-10"), at(DATES, "2021-06-15")
    assert run.depletion_low_mm[gap - 1] == run.depletion_high_mm[gap - 1]
    assert run.depletion_low_mm[gap] == 0.0
    assert run.depletion_high_mm[gap] > 0.0
    assert run.depletion_low_mm[full] == run.depletion_high_mm[full] == 0.0
    assert run.known_since == day("2021-06-15")


def test_run_bed_day_without_temperature_is_bounded_by_the_stations_own_month(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "rain")
    t_max_c = np.where(record(DATES).t_max_c > 20, 25.0, 5.0)
    t_max_c[at(DATES, "2021-05-03")] = np.nan
    weather = record(DATES, t_max_c=t_max_c, rain_mm=rain_on({"2021-05-02": 90.0}))
    result, _ = network.run(yard(beds=(bed,)), weather, knowledge, day("2021-08-01"))
    run = result.bed("border")
    gap = at(DATES, "2021-05-03")
    assert run.depletion_high_mm[gap - 1] == 0.0
    assert np.isnan(run.crop_et_mm[gap])
    used_low = run.depletion_low_mm[gap] - run.depletion_low_mm[gap - 1]
    used_high = run.depletion_high_mm[gap] - run.depletion_high_mm[gap - 1]
    may = (DATES.astype("datetime64[M]").astype(int) % 12 == 4) & ~np.isnan(result.reference.et_mm)
    assert used_low == pytest.approx(0.8 * result.reference.et_mm[may].min())
    assert used_high == pytest.approx(0.8 * result.reference.et_mm[may].max())


def test_run_without_any_temperature_says_the_need_is_not_known(knowledge: Any) -> None:
    bed = Bed("border", 4.0, "annual-flowers", "loam", "barrel")
    weather = record(DATES, t_min_c=np.nan, t_max_c=np.nan, rain_mm=rain_on({"2021-06-10": 10.0}))
    result, problems = network.run(yard(beds=(bed,)), weather, knowledge, day("2021-08-01"))
    run = result.bed("border")
    assert np.isnan(run.depletion_high_mm).all()
    assert any("not known" in note for note in run.notes)
    assert any("border" in problem.what for problem in problems)
    assert result.growing is None
    assert any("frost dates are not known" in note for note in result.notes)


def test_run_daily_use_is_asked_in_service_only(knowledge: Any) -> None:
    barrel = Storage("barrel", 200.0, fed_by=("spout",), daily_use_l=5.0)
    weather = record(DATES, rain_mm=rain_on({"2021-07-29": 10.0}))
    result, _ = network.run(yard(storages=(barrel,)), weather, knowledge, day("2021-08-01"))
    pool = result.pools[0]
    assert pool.demand_l[at(DATES, "2021-01-15")] == 0.0
    assert pool.demand_l[at(DATES, "2021-07-29")] == 5.0
    # the wet day's own draw may come before or after the rain
    assert pool.level_low_l[-1] == pytest.approx(LITRES_OF_10_MM - 15.0)
    assert pool.level_high_l[-1] == pytest.approx(LITRES_OF_10_MM - 10.0)


def test_run_range_of_the_coverings_coefficient_is_carried(knowledge: Any) -> None:
    result, _ = network.run(yard(), record(DATES), knowledge, day("2021-08-01"))
    assert result.pools[0].low_share == pytest.approx(0.90 / 0.92)
    assert result.pools[0].high_share == pytest.approx(0.95 / 0.92)


def test_run_station_without_latitude_takes_the_yards(knowledge: Any) -> None:
    weather = record(DATES, station=Station("Nowhere"))
    result, _ = network.run(yard(), weather, knowledge, day("2021-08-01"))
    assert result.reference.latitude == 40.0
    assert any("yard's is used" in note for note in result.reference.assumptions)


def test_run_record_that_begins_later_is_refused(knowledge: Any) -> None:
    with pytest.raises(InputError, match="begins on 2019-01-01"):
        network.run(yard(), record(DATES), knowledge, day("2018-06-01"))


def test_run_yard_without_barrels_or_beds_is_empty_and_whole(knowledge: Any) -> None:
    result, problems = network.run(yard(storages=(), roofs=()), record(DATES), knowledge, day("2021-08-01"))
    assert (result.pools, result.beds, problems, result.closure_l) == ((), (), (), 0.0)
