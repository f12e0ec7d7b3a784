"""For every yard and record: all flows add up, hours lie within the bracket of days, seasons may be cut apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dooryard.water import network, pool_runs, pools, soil
from dooryard.water.budget import budgets
from dooryard.water.pools import Account, Bounds, account, level_bracket
from dooryard.water.snow import held_snow
from dooryard.water.steps import HoursOfRain
from dooryard.water.storage import StorageRun
from dooryard.yard.model import Bed, Downspout, Roof, Storage, Yard
from tests.property.test_network_property import made_up_rain, with_gaps
from tests.unit.water.test_network_hours import hourly
from tests.water_yards import days, record, yard

DATES = days("2020-01-01", "2021-08-31")
ON = date(2021, 9, 1)
WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

seeds = st.integers(0, 2**32 - 1)


@st.composite
def whole_yards(draw: st.DrawFn) -> Yard:
    """One to three storages in a row, spilling onto each other or a bed, with rules of all sorts."""
    weekdays = draw(st.lists(st.sampled_from(WEEK), unique=True, max_size=3))
    amount = draw(st.none() | st.floats(1.0, 40.0))
    dry = draw(st.integers(0, 3))
    beds = (
        Bed("border", 6.0, "annual-flowers", "sandy-loam", "upper", watering_after_dry_days=dry),
        Bed("plot", 4.0, "tomato", "loam", "lower", watering_days=tuple(weekdays), watering_l=amount),
        Bed("rain garden", 3.0, "annual-flowers", "loam", "rain"),
    )
    places = ["ground", "border", "plot", "rain garden"]
    storages = (
        Storage("upper", draw(st.floats(20.0, 400.0)), fed_by=("spout",), first_flush_l=draw(st.floats(0.0, 20.0)),
                empties_to=draw(st.sampled_from([*places, "lower"])), daily_use_l=10.0, use_days=tuple(weekdays)),
        Storage("lower", draw(st.floats(20.0, 400.0)), fed_by=("other",),
                empties_to=draw(st.sampled_from(places)), daily_use_l=5.0, use_after_dry_days=dry),
    )  # fmt: skip
    roofs = (Roof("front", draw(st.floats(1.0, 40.0)), "metal", "spout"), Roof("back", 9.0, "slate", "other"))
    spouts = (Downspout("spout", 0.05, None, draw(st.floats(0.3, 1.0))), Downspout("other", 0.05))
    return replace(yard(roofs=roofs, storages=storages, beds=beds), downspouts=spouts)


def cold_record(rain_mm: np.ndarray, seed: int, dates: np.ndarray = DATES) -> Any:
    """A record with late frosts: snow may fall while barrels stand in service."""
    luck = np.random.default_rng(seed)
    turn = np.cos(2 * np.pi * ((dates - dates.astype("datetime64[Y]")).astype(int) - 15) / 365)
    mean = 8.0 - 12.0 * turn + luck.normal(0.0, 4.0, len(dates))
    return record(dates, rain_mm=rain_mm, t_min_c=mean - 5.0, t_max_c=mean + 5.0)


@given(here=whole_yards(), seed=seeds, share=st.sampled_from([0.0, 0.03]))
@settings(max_examples=40)
def test_every_litre_of_a_yard_is_in_one_named_flow(
    knowledge: Any, here: Yard, seed: int, share: float
) -> None:
    rain = with_gaps(made_up_rain(seed), seed, share) if share else made_up_rain(seed)
    run, _ = network.run(here, cold_record(rain, seed), knowledge, ON)  # fails by itself above 1e-9 in a day
    for budget in budgets(run, date(2020, 1, 1), ON):
        assert budget.closure_l < 1e-7
        assert all(
            flow.yas_l >= -1e-9 or flow.name in ("held more", "set right by a reading")
            for flow in budget.flows
        )
    fell = np.nansum(run.pools[0].roof_account.fell_l)
    assert fell == pytest.approx(np.nansum(run.snow.liquid_mm) * here.roofs[0].area_m2)


@given(here=whole_yards(), seed=seeds)
@settings(max_examples=40)
def test_what_hours_tell_lies_within_what_days_leave_open(knowledge: Any, here: Yard, seed: int) -> None:
    luck = np.random.default_rng(seed)
    rain = made_up_rain(seed)
    table = rain[:, None] * luck.dirichlet(np.full(24, 0.2), len(rain))
    weather = cold_record(rain, seed)
    # without overflow onto beds both runs ask the same
    here = replace(here, storages=tuple(replace(one, empties_to=None) for one in here.storages))
    by_day, _ = network.run(here, weather, knowledge, ON)
    by_hour, _ = network.run(here, weather, knowledge, ON, hours=hourly(table, DATES[0]))
    for day, hour in zip(by_day.pools, by_hour.pools, strict=True):
        same = np.isclose(day.inflow_l, hour.inflow_l).all()  # a roof may dry within a day by the hour
        if same:
            assert (hour.level_low_l >= day.level_low_l - 1e-9).all()
            assert (hour.level_high_l <= day.level_high_l + 1e-9).all()
        assert hour.demand_l == pytest.approx(day.demand_l)
    for narrowed in by_hour.narrowed:
        assert narrowed.days > 0


@given(here=whole_yards(), seed=seeds, share=st.floats(0.0, 0.06))
@settings(max_examples=40)
def test_brackets_of_a_gappy_record_hold_the_full_one_under_every_rule(
    knowledge: Any, here: Yard, seed: int, share: float
) -> None:
    assume(not feeds_a_watered_bed(here))
    brackets_hold(knowledge, here, seed, share)


ORDERS = ("rain first", "use first", "any")


@given(here=whole_yards(), seed=seeds, share=st.floats(0.0, 0.06), order=st.sampled_from(ORDERS))
@settings(max_examples=40)
def test_brackets_hold_what_happens_in_any_order_where_an_overflow_feeds_a_watered_bed(
    knowledge: Any, here: Yard, seed: int, share: float, order: str
) -> None:
    """What ran over decides what is asked for later. Each day's litres in one order of rain and use lie within the
    brackets, those of the whole record and those of one with holes."""
    assume(feeds_a_watered_bed(here))
    rain = made_up_rain(seed)
    story = story_in_order(knowledge, here, rain, order, seed)
    for known in (rain, with_gaps(rain, seed, share)):
        run, _ = network.run(here, record(DATES, rain_mm=known), knowledge, ON)
        for true, pool in zip(story.pools, run.pools, strict=True):
            level_l = np.where(true.in_service, true.yas.level_l + true.dead_l, 0.0)
            assert (pool.level_low_l <= level_l + 1e-6).all()
            assert (pool.level_high_l >= level_l - 1e-6).all()
            assert (pool.spill_low_l <= true.yas.spilled_l + 1e-6).all()
            assert (pool.spill_high_l >= true.yas.spilled_l - 1e-6).all()
        for true_bed, bed in zip(story.beds, run.beds, strict=True):
            assert true_bed.account is not None
            missing_mm, where = true_bed.account.depletion_mm, true_bed.account_days
            assert (bed.depletion_low_mm[where] <= missing_mm + 1e-6).all()
            assert (bed.depletion_high_mm[where] >= missing_mm - 1e-6).all()


def story_in_order(knowledge: Any, here: Yard, rain_mm: np.ndarray, order: str, seed: int) -> network.YardRun:
    """The yard with one order of rain and use on each day, and overflow credited to beds as it then runs.

    Beds and storages are run in turns until nothing changes: then each day follows from those before it.
    """
    luck = np.random.default_rng(seed)
    before_use = {"rain first": np.ones(1), "use first": np.zeros(1), "any": luck.random(97)}[order]

    def account_in_order(
        inflow_l: Any, demand_l: Any, capacity_l: float, rule: str, *, ends: Any, readings: Any
    ) -> Any:
        assert not readings
        level, rows = 0.0, []
        for day, (came, asked, end) in enumerate(zip(inflow_l, demand_l, ends, strict=True)):
            if end:
                rows.append((0.0, 0.0, 0.0, 0.0, level))
                level = 0.0
                continue
            early = came * before_use[day % len(before_use)]
            held = min(level + early, capacity_l)
            used = min(held, asked)
            evening = min(held - used + came - early, capacity_l)
            rows.append((evening, used, level + came - used - evening, asked - used, 0.0))
            level = evening
        kept, supplied, spilled, unmet, emptied = np.array(rows).reshape(-1, 5).T
        run = StorageRun(kept, supplied, spilled, unmet, rule)
        return Account(run, emptied, np.zeros(len(kept)), 0.0, supplied[None, :])

    def as_it_ran(bed: str, runs: Any) -> Bounds:
        spilled_l = np.sum([pool.yas.spilled_l for pool in runs if pool.overflow == bed], axis=0)
        return Bounds(spilled_l, spilled_l)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pool_runs, "account", account_in_order)
        patch.setattr(network, "_spilled_onto", as_it_ran)
        patch.setattr(network, "_MOST_TURNS", len(DATES))
        story, problems = network.run(here, record(DATES, rain_mm=rain_mm), knowledge, ON)
    assert not [one for one in problems if one.field == "empties_to" and "too closely" in one.what]
    return story


@given(here=whole_yards(), seed=seeds)
@settings(max_examples=15)
def test_what_is_not_settled_in_a_few_turns_is_unknown_from_then_on_and_still_holds(
    knowledge: Any, here: Yard, seed: int
) -> None:
    assume(feeds_a_watered_bed(here))
    rain = made_up_rain(seed)
    settled, _ = network.run(here, record(DATES, rain_mm=rain), knowledge, ON)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(network, "_MOST_TURNS", 2)
        hasty, problems = network.run(here, record(DATES, rain_mm=rain), knowledge, ON)
    if not [one for one in problems if "too closely" in one.what]:
        for known, rough in zip(settled.pools, hasty.pools, strict=True):
            assert np.array_equal(rough.level_low_l, known.level_low_l)
    story = story_in_order(knowledge, here, rain, "any", seed)
    for true, rough in zip(story.pools, hasty.pools, strict=True):
        level_l = np.where(true.in_service, true.yas.level_l + true.dead_l, 0.0)
        assert (rough.level_low_l <= level_l + 1e-6).all()
        assert (rough.level_high_l >= level_l - 1e-6).all()


def feeds_a_watered_bed(here: Yard) -> bool:
    """Whether some storage runs over onto a bed that takes its water from a storage."""
    fed = {storage.empties_to for storage in here.storages}
    return any(bed.name in fed and bed.watered_from != "rain" for bed in here.beds)


def brackets_hold(knowledge: Any, here: Yard, seed: int, share: float) -> None:
    """The brackets of the record with holes contain those of the whole one."""
    rain = made_up_rain(seed)
    full, _ = network.run(here, record(DATES, rain_mm=rain), knowledge, ON)
    gappy, _ = network.run(here, record(DATES, rain_mm=with_gaps(rain, seed, share)), knowledge, ON)
    for whole, holed in zip(full.pools, gappy.pools, strict=True):
        assert (holed.level_low_l <= whole.level_low_l + 1e-9).all()
        assert (holed.level_high_l >= whole.level_high_l - 1e-9).all()
    for dry, holed_bed in zip(full.beds, gappy.beds, strict=True):
        inside = dry.growing
        assert (holed_bed.depletion_low_mm <= dry.depletion_low_mm + 1e-9)[inside].all()
        assert (holed_bed.depletion_high_mm >= dry.depletion_high_mm - 1e-9)[inside].all()


@given(seed=seeds, gaps=st.booleans())
def test_level_bracket_side_by_side_is_the_one_step_by_step(seed: int, gaps: bool) -> None:
    luck = np.random.default_rng(seed)
    size = int(luck.integers(40, 200))
    came = luck.uniform(0.0, 120.0, size) * (luck.random(size) < 0.4)
    most = came + luck.uniform(0.0, 30.0, size) * (luck.random(size) < 0.1)
    asked = luck.uniform(0.0, 60.0, size) * (luck.random(size) < 0.5)
    if gaps:
        most[luck.random(size) < 0.03] = np.inf
    begins = luck.random(size) < 0.1
    begins[0] = True
    readings = [(int(luck.integers(0, size)), 50.0)]
    arguments: dict[str, Any] = {
        "begins": begins,
        "readings": readings,
        "known_at_first": bool(luck.random() < 0.5),
    }
    quick = level_bracket(Bounds(came, most), Bounds(asked, asked), 200.0, **arguments)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pools, "FEWEST_LANES", size + 1)
        slow = level_bracket(Bounds(came, most), Bounds(asked, asked), 200.0, **arguments)
    assert np.array_equal(quick.level.low, slow.level.low)
    assert np.array_equal(quick.level.high, slow.level.high)
    assert np.array_equal(quick.spilled.low, slow.spilled.low)
    assert np.array_equal(quick.spilled.high, slow.spilled.high)
    assert np.array_equal(quick.known, slow.known)


@given(seed=seeds, rule=st.sampled_from(["yas", "ybs"]))
def test_account_side_by_side_is_the_one_step_by_step(seed: int, rule: str) -> None:
    luck = np.random.default_rng(seed)
    size = int(luck.integers(40, 200))
    ends = luck.random(size) < 0.1
    came = np.where(ends, 0.0, luck.uniform(0.0, 120.0, size) * (luck.random(size) < 0.4))
    asked = np.where(ends, 0.0, luck.uniform(0.0, 60.0, size))
    readings = [(int(luck.integers(0, size)), 77.0)] if luck.random() < 0.5 else []
    readings = [pair for pair in readings if not ends[pair[0]]]
    quick = account(came, asked, 150.0, rule, ends=ends, readings=readings)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pools, "FEWEST_LANES", size + 2)
        slow = account(came, asked, 150.0, rule, ends=ends, readings=readings)
    for name in ("level_l", "supplied_l", "spilled_l", "unmet_l"):
        assert np.array_equal(getattr(quick.run, name), getattr(slow.run, name))
    assert np.array_equal(quick.emptied_l, slow.emptied_l)
    assert np.array_equal(quick.corrected_l, slow.corrected_l)


@given(seed=seeds)
def test_beds_played_side_by_side_are_those_played_day_by_day(seed: int) -> None:
    luck = np.random.default_rng(seed)
    stories = []
    for _ in range(int(luck.integers(1, 5))):
        size = int(luck.integers(20, 150))
        restarts = luck.random(size) < 0.15
        taw = np.full(size, 60.0)
        stories.append(
            soil.Story(
                luck.gamma(0.5, 8.0, size) * (luck.random(size) < 0.4),
                luck.uniform(0.0, 9.0, size),
                taw,
                luck.uniform(10.0, 60.0, size),
                start_mm=float(luck.uniform(0.0, 60.0)),
                irrigation_mm=5.0 * (luck.random(size) < 0.1),
                look_days=luck.random(size) < 0.7,
                trigger_mm=[None, 0.0, 20.0][int(luck.integers(3))],
                dose_mm=[None, 12.0][int(luck.integers(2))],
                restarts=restarts,
            )
        )
    together = soil.play(stories)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(soil, "_FEWEST_STRETCHES", 10_000)
        alone = soil.play(stories)
    for quick, slow in zip(together, alone, strict=True):
        for name in ("depletion_mm", "irrigation_mm", "evapotranspiration_mm", "percolation_mm", "reset_mm"):
            assert np.array_equal(getattr(quick, name), getattr(slow, name))
        assert quick.closure_error_mm() < 1e-9


@given(seed=seeds, gaps=st.floats(0.0, 0.2))
def test_snow_that_fell_has_melted_or_been_cleared_or_lies_there(seed: int, gaps: float) -> None:
    luck = np.random.default_rng(seed)
    mean = luck.normal(0.0, 6.0, 120)
    rain = np.where(luck.random(120) < 0.4, luck.gamma(0.7, 9.0, 120), 0.0)
    rain[luck.random(120) < gaps] = np.nan
    run = held_snow(
        rain, mean, snow_at_c=1.0, melt_mm_per_c=2.74, most_mm=100.0, cleared=luck.random(120) < 0.02
    )
    assert run.closure_error_mm() < 1e-9
    assert (run.held_mm >= 0.0).all()
    known = ~np.isnan(run.liquid_mm) & ~np.isnan(rain)
    assert run.liquid_mm[known] == pytest.approx((rain - run.snow_mm + run.melt_mm)[known], abs=1e-9)


def test_hours_of_rain_are_shares_of_their_day() -> None:
    from dooryard.water.steps import hours_of_rain

    table = np.tile(np.array([0.0, 1.0, 3.0] + [0.0] * 21), (4, 1))
    kept: HoursOfRain = hours_of_rain(
        record(DATES[:4], rain_mm=np.array([4.0, 5.0, 0.0, np.nan])),
        hourly(table, DATES[0]),
        agreement=0.5,
        only=np.ones(4, dtype=bool),
    )
    assert kept.used.tolist() == [True, True, False, False]
    assert kept.share[1, :3].tolist() == [0.0, 0.25, 0.75]
    assert (kept.differing, kept.unknown) == (1, 1)
