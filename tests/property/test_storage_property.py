"""What every storage run must do, whatever the weather: close, stay inside its walls, grow with its size."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.water.storage import simulate

amounts = st.one_of(st.just(0.0), st.floats(0.0, 500.0), st.integers(0, 300).map(float))
records = st.lists(st.tuples(amounts, amounts), min_size=1, max_size=60)
capacities = st.one_of(st.just(0.0), st.floats(0.0, 2000.0), st.integers(1, 400).map(float))
rules = st.one_of(st.sampled_from(["yas", "ybs"]), st.floats(0.0, 1.0))


def parts(record):
    return np.array(record, dtype=float).T


@given(records, capacities, rules, st.floats(0.0, 1.0))
def test_every_litre_is_accounted_for(record, capacity, rule, filled):
    inflow, demand = parts(record)
    start = filled * capacity
    run = simulate(inflow, demand, capacity, rule, start_l=start)
    assert run.closure_error_l(inflow, start) <= 1e-9 * max(1.0, start + inflow.sum())
    # The same account kept here, with correctly rounded sums.
    account = math.fsum([start, *inflow, *(-run.supplied_l), *(-run.spilled_l), -run.level_l[-1]])
    assert abs(account) <= 1e-9 * max(1.0, start + inflow.sum())
    np.testing.assert_allclose(run.supplied_l + run.unmet_l, demand, rtol=1e-12, atol=1e-12)
    for values in (run.level_l, run.supplied_l, run.spilled_l, run.unmet_l):
        assert (values >= 0.0).all()
    assert (run.level_l <= capacity).all()


def test_closure_error_sees_a_lost_litre():
    inflow = np.array([5.0, 0.0, 9.0])
    run = simulate(inflow, 2.0, 6.0, "ybs")
    assert run.closure_error_l(inflow) == 0.0
    assert run.closure_error_l(np.array([5.0, 1.0, 9.0])) == 1.0
    assert run.closure_error_l(inflow, start_l=0.5) == 0.5


@given(records, st.lists(capacities, min_size=1, max_size=6), rules)
def test_one_size_many_sizes_and_many_records_agree_to_the_bit(record, sizes, rule):
    inflow, demand = parts(record)
    vector = simulate(inflow, demand, np.array(sizes), rule)
    stacked = simulate(np.stack([inflow, inflow]), demand, np.array(sizes)[:, np.newaxis], rule)
    assert vector.level_l.shape == (len(sizes), inflow.size)
    assert stacked.level_l.shape == (len(sizes), 2, inflow.size)
    for k, size in enumerate(sizes):
        one = simulate(inflow, demand, size, rule)
        for name in ("level_l", "supplied_l", "spilled_l", "unmet_l"):
            expected = getattr(one, name)
            assert np.array_equal(expected, getattr(vector, name)[k])
            assert np.array_equal(expected, getattr(stacked, name)[k, 1])


@given(records, capacities)
def test_named_rules_are_the_ends_of_the_general_one_to_the_bit(record, capacity):
    inflow, demand = parts(record)
    for name, share in (("yas", 0.0), ("ybs", 1.0)):
        named, general = simulate(inflow, demand, capacity, name), simulate(inflow, demand, capacity, share)
        assert np.array_equal(named.level_l, general.level_l)
        assert np.array_equal(named.supplied_l, general.supplied_l)
        assert np.array_equal(named.spilled_l, general.spilled_l)


@pytest.mark.check("W-02-10", source="limits of the storage rules", status="computed")
@given(amounts, amounts, capacities, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_one_step_from_the_same_level_is_ordered_between_the_rules(inflow, demand, capacity, filled, share):
    start = filled * capacity
    cautious, between, hopeful = (
        simulate([inflow], demand, capacity, rule, start_l=start) for rule in ("yas", share, "ybs")
    )
    assert cautious.supplied_l[0] <= between.supplied_l[0] <= hopeful.supplied_l[0]
    assert cautious.spilled_l[0] >= hopeful.spilled_l[0] - 1e-9


@pytest.mark.check("W-02-10", source="limits of the storage rules", status="computed")
@given(records, st.lists(capacities, min_size=2, max_size=8), st.sampled_from(["yas", "ybs"]))
def test_supply_never_falls_with_a_larger_storage(record, sizes, rule):
    inflow, demand = parts(record)
    supplied = simulate(inflow, demand, np.sort(sizes), rule).supplied_l.sum(axis=-1)
    assert (np.diff(supplied) >= -1e-9 * max(1.0, supplied.max())).all()


@pytest.mark.check("W-02-10", source="limits of the storage rules", status="computed")
@given(records, capacities, st.floats(1.0, 5.0), st.sampled_from(["yas", "ybs"]))
def test_supply_never_falls_with_a_larger_roof(record, capacity, factor, rule):
    inflow, demand = parts(record)
    small = simulate(inflow, demand, capacity, rule).supplied_l.sum()
    large = simulate(inflow * factor, demand, capacity, rule).supplied_l.sum()
    assert large >= small - 1e-9 * max(1.0, small)


@pytest.mark.check("W-02-10", source="limits of the storage rules", status="computed")
@given(records)
def test_no_storage_gives_nothing_or_the_same_day(record):
    inflow, demand = parts(record)
    assert simulate(inflow, demand, 0.0, "yas").supplied_l.sum() == 0.0
    assert np.array_equal(simulate(inflow, demand, 0.0, "ybs").supplied_l, np.minimum(inflow, demand))


@pytest.mark.check("W-02-10", source="limits of the storage rules", status="computed")
@given(records, st.floats(0.0, 500.0), st.sampled_from(["yas", "ybs"]))
def test_endless_storage_supplies_all_that_came_or_was_asked_for(record, start, rule):
    inflow, demand = parts(record)
    # All rain before all demand, one step between: then only the totals count.
    quiet = np.zeros(inflow.size)
    run = simulate(np.r_[inflow, quiet], np.r_[quiet, demand], np.inf, rule, start_l=start)
    expected = min(demand.sum(), start + inflow.sum())
    assert run.supplied_l.sum() == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert (run.spilled_l == 0.0).all()
    # In any order no storage does better.
    mixed = simulate(inflow, demand, np.inf, rule, start_l=start).supplied_l.sum()
    assert mixed <= min(demand.sum(), start + inflow.sum()) * (1 + 1e-12) + 1e-9


@given(records, st.floats(1.0, 400.0), st.floats(0.5, 60.0), st.sampled_from(["yas", "ybs"]))
def test_volume_share_is_at_least_days_share_under_constant_demand(record, capacity, demand, rule):
    inflow, _ = parts(record)
    run = simulate(inflow, demand, capacity, rule)
    assert float(run.volume_share()) >= float(run.days_share()) - 1e-12


@given(records, capacities, st.integers(0, 59), rules)
def test_missing_day_makes_it_and_all_later_days_unknown(record, capacity, position, rule):
    inflow, demand = parts(record)
    day = position % inflow.size
    whole = simulate(inflow, demand, capacity, rule)
    for spoiled in (inflow, demand):
        kept = spoiled[day]
        spoiled[day] = np.nan
        for size in (capacity, np.array([capacity, capacity])):
            run = simulate(inflow, demand, size, rule)
            for name in ("level_l", "supplied_l", "spilled_l", "unmet_l"):
                values = np.atleast_2d(getattr(run, name))[0]
                assert np.array_equal(values[:day], getattr(whole, name)[:day])
                assert np.isnan(values[day:]).all()
            assert run.closure_error_l(inflow) <= 1e-9 * max(1.0, float(np.nansum(inflow)))
        spoiled[day] = kept


@settings(deadline=None, max_examples=5)
@given(st.integers(0, 2**32 - 1))
def test_half_a_century_closes(seed):
    rng = np.random.default_rng(seed)
    days = 18262
    inflow = np.where(rng.random(days) < 0.3, rng.gamma(0.75, 300.0, days), 0.0)
    demand = np.where(np.arange(days) % 365 < 180, 60.0, 0.0)
    for rule in ("yas", "ybs"):
        run = simulate(inflow, demand, 208.2, rule)
        assert run.closure_error_l(inflow) <= 1e-9 * inflow.sum()
