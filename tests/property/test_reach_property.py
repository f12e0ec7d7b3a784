"""For every storage that serves a raised bed from its upper water only: no bed draws below its floor, litres add up."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.water import network, reach, storage
from dooryard.water.budget import budgets
from dooryard.yard.model import Bed, Roof, Storage, Yard
from tests.property.test_network_flows_property import DATES, ON, brackets_hold
from tests.property.test_network_property import made_up_rain
from tests.water_yards import record, yard

seeds = st.integers(0, 2**32 - 1)
FLOORS = (0.0, 60.0, 110.0)


def series(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    luck = np.random.default_rng(seed)
    size = int(luck.integers(20, 150))
    came = luck.uniform(0.0, 120.0, size) * (luck.random(size) < 0.4)
    asked = luck.uniform(0.0, 60.0, (len(FLOORS), size)) * (luck.random((len(FLOORS), size)) < 0.5)
    ends = luck.random(size) < 0.03
    return np.where(ends, 0.0, came), np.where(ends, 0.0, asked), ends


@given(seed=seeds, rule=st.sampled_from(["yas", "ybs"]))
def test_one_floor_at_the_outlet_is_the_published_storage(seed: int, rule: str) -> None:
    came, asked, ends = series(seed)
    plain = storage.simulate(came, asked[0], 150.0, rule)
    kept = reach.simulate(came, asked[:1], [0.0], 150.0, rule, ends=np.zeros_like(ends))
    assert kept.level_l == pytest.approx(plain.level_l, abs=1e-9)
    assert kept.supplied_l[0] == pytest.approx(plain.supplied_l, abs=1e-9)
    assert kept.spilled_l == pytest.approx(plain.spilled_l, abs=1e-9)


@given(seed=seeds, rule=st.sampled_from(["yas", "ybs"]))
def test_nobody_draws_below_their_floor_and_every_litre_is_somewhere(seed: int, rule: str) -> None:
    came, asked, ends = series(seed)
    kept = reach.simulate(came, asked, FLOORS, 150.0, rule, ends=ends, readings=[(5, 77.0)])
    before = np.concatenate([[0.0], kept.level_l[:-1]]) + kept.corrected_l
    at_hand = before + came if rule == "ybs" else before
    lowest_first = np.cumsum(kept.supplied_l[::-1], axis=0)[::-1]
    for floor_l, taken in zip(FLOORS, lowest_first, strict=True):
        assert (taken <= np.maximum(at_hand - floor_l, 0.0) + 1e-9).all()
    gone = kept.supplied_l.sum(axis=0) + kept.spilled_l + kept.emptied_l
    assert np.abs(before + came - gone - kept.level_l).max() < 1e-9
    assert (kept.supplied_l <= asked + 1e-9).all()
    assert (kept.level_l >= 0.0).all()
    assert (kept.level_l <= 150.0 + 1e-9).all()


@given(
    water=st.floats(0.0, 200.0),
    more=st.floats(0.0, 100.0),
    asked=st.lists(st.floats(0.0, 80.0), min_size=3, max_size=3),
)
def test_more_water_gives_more_and_leaves_more(water: float, more: float, asked: list[float]) -> None:
    less, greater = (reach.drawn(here, FLOORS, asked) for here in (water, water + more))
    assert greater >= less - 1e-9
    assert water + more - greater >= water - less - 1e-9


@st.composite
def raised(draw: st.DrawFn) -> Yard:
    """A barrel on a stand, a raised bed on drip whose soil lies anywhere from below the spigot to above the rim."""
    barrel = Storage(
        "barrel", 200.0, height_m=0.8, outlet_height_m=0.08, overflow_height_m=0.72, stand_height_m=0.3,
        fed_by=("spout",), daily_use_l=draw(st.sampled_from([0.0, 4.0])),
        empties_to=draw(st.sampled_from(["ground", "tank"])),
    )  # fmt: skip
    tank = Storage("tank", draw(st.floats(20.0, 300.0)))
    beds = (
        Bed("raised", 5.0, "tomato", "loam", "barrel", how="drip", height_m=draw(st.floats(0.0, 1.3))),
        Bed("low", draw(st.floats(1.0, 6.0)), "annual-flowers", "sandy-loam", "barrel"),
        Bed("far", 3.0, "tomato", "loam", "tank"),
    )
    return yard(
        roofs=(Roof("roof", draw(st.floats(2.0, 30.0)), "metal", "spout"),),
        storages=(barrel, tank),
        beds=beds,
    )


@given(here=raised(), seed=seeds)
@settings(max_examples=25)
def test_a_raised_bed_leaves_what_does_not_run_to_it(knowledge: Any, here: Yard, seed: int) -> None:
    run, _ = network.run(here, record(DATES, rain_mm=made_up_rain(seed)), knowledge, ON)
    pool = run.pool_of("barrel")
    # 0.72 - 0.08 m of a 200 L barrel 0.8 m high, less the part above the bed
    floor_l = min(max(here.beds[0].height_m - 0.38, 0.0) * 250.0, 160.0)
    given_l = run.given_l("raised")
    assert (given_l <= 160.0 - floor_l + pool.inflow_l + 1e-6).all()
    if floor_l > 159.9999:
        assert given_l.sum() == pytest.approx(0.0, abs=1e-6)
    assert (run.mains_l("raised") >= -1e-9).all()
    for budget in budgets(run, date(2020, 1, 1), ON):
        assert budget.closure_l < 1e-7
        assert all(
            flow.yas_l >= -1e-9 or flow.name in ("held more", "set right by a reading")
            for flow in budget.flows
        )
    assert pool.yas.supplied_l == pytest.approx(sum(part.supplied_l[0] for part in pool.reaches))
    lower, _ = network.run(
        replace(here, beds=(replace(here.beds[0], how="can"), *here.beds[1:])),
        record(DATES, rain_mm=made_up_rain(seed)), knowledge, ON,
    )  # fmt: skip
    plain = lower.pool_of("barrel")
    assert (pool.level_high_l >= plain.level_high_l - 1e-9).all()
    assert (pool.level_low_l >= plain.level_low_l - 1e-9).all()
    for rule in ("yas", "ybs"):
        level = getattr(pool, rule).level_l + pool.dead_l
        served = pool.in_service
        assert (level >= pool.level_low_l - 1e-9)[served].all()
        assert (level <= pool.level_high_l + 1e-9)[served].all()


@given(here=raised(), seed=seeds, share=st.floats(0.0, 0.06))
@settings(max_examples=25)
def test_brackets_of_a_gappy_record_hold_with_a_raised_bed(
    knowledge: Any, here: Yard, seed: int, share: float
) -> None:
    brackets_hold(knowledge, here, seed, share)
