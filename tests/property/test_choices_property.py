"""For every yard: choices are played as one storage is, none on the list is beaten, and more never gives less."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.water import choices, side_by_side, storage
from dooryard.water.choices import Choice, Choices, Kind, Years
from dooryard.water.yield_curve import yield_curve

seeds = st.integers(0, 2**32 - 1)
DRUM = Kind("drum", 208.0, 170.0, 40.0, 55.0, 70.0, 0.58, 4)
SMALL = Kind("small-drum", 114.0, 90.0, 35.0, 45.0, 60.0, 0.48, 4)


def made_up(seed: int, places: int = 2, ways: int = 3, years: int = 5, days: int = 60) -> Years:
    luck = np.random.default_rng(seed)
    wet = luck.random((days, 1, years)) < 0.3
    inflow = np.where(wet, luck.gamma(0.7, 200.0, (days, places, years)), 0.0)
    single = np.where(luck.random((days, ways - 1, years)) < 0.3, luck.uniform(0, 150, (1, ways - 1, 1)), 0.0)
    demand = np.concatenate([single.sum(axis=1, keepdims=True), single], axis=1)
    beds = tuple(f"bed {number}" for number in range(ways - 1))
    emptied = np.zeros((days, years), dtype=bool)
    emptied[luck.integers(0, days, years), np.arange(years)] = True
    return Years(
        tuple(range(2000, 2000 + years)), (), tuple(f"spout {i}" for i in range(places)),
        luck.choice([0.0, 150.0], places), inflow, (beds, *((bed,) for bed in beds)), 0, demand, emptied, 2000,
        2001, 2002,
    )  # fmt: skip


@given(seed=seeds, rule=st.sampled_from(["yas", "ybs"]))
def test_choice_at_one_place_is_the_published_storage(seed: int, rule: str) -> None:
    years = made_up(seed, places=1)
    sizes = np.array([0.0, 10.0, 100.0, 1000.0])
    sums = side_by_side.play(years.inflow_l, years.demand_l, sizes[1:, None], rule)
    for way in range(3):
        for year in range(5):
            came, asked = years.inflow_l[:, 0, year], years.demand_l[:, way, year]
            run = storage.simulate(came, asked, sizes[1:], rule)
            assert sums.supplied_l[way, :, year] == pytest.approx(run.supplied_l.sum(axis=1), abs=1e-6)
            # a day that is met to the last drop may be missed by rounding in either of the two
            short = run.unmet_l > 1e-6
            assert sums.met_days[way, :, year].tolist() == ((~short) & (asked > 0.0)).sum(axis=1).tolist()
            if rule == "ybs":
                curve = yield_curve(came, asked)
                assert sums.supplied_l[way, :, year] == pytest.approx(curve.supplied_l(sizes[1:]), abs=1e-6)


@given(seed=seeds)
def test_stores_poured_out_start_anew(seed: int) -> None:
    years = made_up(seed, places=2)
    day = 30
    emptied = np.zeros_like(years.emptied)
    emptied[day] = True
    sizes = np.array([[120.0, 60.0]])
    for rule in choices.RULES:
        whole = side_by_side.play(years.inflow_l, years.demand_l, sizes, rule, emptied=emptied)
        parts = [
            side_by_side.play(years.inflow_l[cut], years.demand_l[cut], sizes, rule)
            for cut in (slice(0, day + 1), slice(day + 1, None))
        ]
        assert whole.supplied_l == pytest.approx(parts[0].supplied_l + parts[1].supplied_l)


@given(seed=seeds, more=st.floats(0.0, 300.0), place=st.integers(0, 2))
def test_more_barrels_never_less_water(seed: int, more: float, place: int) -> None:
    years = made_up(seed, places=3)
    luck = np.random.default_rng(seed)
    small = luck.choice([0.0, 40.0, 200.0], 3)
    large = small.copy()
    large[place] += more
    less, greater = (
        side_by_side.play(years.inflow_l, years.demand_l, size[None, :], "ybs", emptied=years.emptied)
        for size in (small, large)
    )
    assert (greater.supplied_l >= less.supplied_l - 1e-9).all()
    assert (greater.met_days >= less.met_days).all()


@given(seed=seeds, more=st.floats(0.0, 300.0), rule=st.sampled_from(choices.RULES))
def test_a_larger_store_at_one_place_never_gives_less_under_either_rule(
    seed: int, more: float, rule: str
) -> None:
    years = made_up(seed, places=1)
    sizes = np.array([[40.0], [40.0 + more]])
    got = side_by_side.play(years.inflow_l, years.demand_l, sizes, rule, emptied=years.emptied).supplied_l
    assert (got[:, 1] >= got[:, 0] - 1e-9).all()


@given(seed=seeds)
def test_separate_stores_never_beat_one_store_of_all_their_water(seed: int) -> None:
    years = made_up(seed, places=2)
    apart = side_by_side.play(years.inflow_l, years.demand_l, np.array([[100.0, 150.0]]), "ybs")
    joined = side_by_side.play(
        years.inflow_l.sum(axis=1, keepdims=True), years.demand_l, np.array([[250.0]]), "ybs"
    )
    assert (apart.supplied_l <= joined.supplied_l + 1e-9).all()


def all_of(seed: int) -> Choices:
    return choices.play(made_up(seed), (SMALL, DRUM))


def beats(one: Choice, other: Choice) -> bool:
    mine, theirs = choices.objectives([one, other])
    return bool((mine >= theirs).all() and (mine > theirs).any())


@given(seed=seeds, step=st.sampled_from([1e-9, 20.0, 200.0]))
def test_no_choice_on_the_list_is_beaten_by_any_that_was_played(seed: int, step: float) -> None:
    found = all_of(seed)
    best = choices.unbeaten(found.played, least_gain_l=step, least_share=0.01)
    listed = choices.short_list(best, most=8, now=0)
    assert 1 <= len(listed) <= 8
    assert not [1 for one in listed for other in found.played if beats(other, one)]
    assert max(one.yearly_l for one in listed) == pytest.approx(max(one.yearly_l for one in best))
    assert max(one.met_share for one in listed) == pytest.approx(max(one.met_share for one in best))
    assert [one.barrels for one in listed] == sorted(one.barrels for one in listed)


@given(seed=seeds)
def test_what_is_dropped_is_beaten_or_alike(seed: int) -> None:
    found = all_of(seed)
    best = choices.unbeaten(found.played, least_gain_l=1e-9, least_share=1e-9)
    kept = choices.objectives(best)
    for row in choices.objectives(found.played):
        assert (kept >= row - np.array([1e-6, 1e-6, 0.0, 0.0])).all(axis=1).any()


@given(seed=seeds)
def test_each_rung_of_a_ladder_adds_one_barrel_and_never_takes_water_away_under_the_kinder_rule(
    seed: int,
) -> None:
    found = all_of(seed)
    rungs = found.ladder(DRUM, 0)
    assert [one.barrels for one in rungs] == list(range(rungs[0].barrels, DRUM.most + 2))
    for less, more in pairwise(rungs):
        assert (more.used_l[1] >= less.used_l[1] - 1e-9).all()
    assert len(choices.gains_l(rungs)) == len(rungs) - 1


@given(seed=seeds)
def test_being_first_in_line_never_meets_fewer_days_than_all_together(seed: int) -> None:
    years = made_up(seed)
    found = choices.play(years, (DRUM,))
    one = found.best(DRUM, 2, 0)
    assert one is not None
    served = choices.first_served(years, one, DRUM.usable_l, [1, 2])
    assert [name for name, _ in served] == ["bed 0", "bed 1"]
    for (_, share), way in zip(served, (1, 2), strict=True):
        both = (years.demand_l[:, 0] > 0.0) & (years.demand_l[:, way] > 0.0)
        assert 0.0 <= share <= 1.0
        if both.all():
            assert share >= one.met_share
