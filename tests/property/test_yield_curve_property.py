"""The curve for every size against simulating that size, on well over ten thousand random records."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.water.storage import simulate, yield_curve

RECORDS = 60  # random records in each example of the first test; 200 examples make 12,000


@settings(max_examples=200, deadline=None)
@given(
    seed=st.integers(0, 2**32 - 1),
    days=st.integers(1, 80),
    wet=st.floats(0.02, 0.98),
    mean_l=st.floats(0.5, 400.0),
    demand_l=st.floats(0.0, 200.0),
    idle=st.floats(0.0, 0.9),
    constant=st.booleans(),
)
def test_supply_agrees_with_simulation_at_any_size(seed, days, wet, mean_l, demand_l, idle, constant):
    rng = np.random.default_rng(seed)
    shape = (RECORDS, days)
    inflow = np.where(rng.random(shape) < wet, rng.gamma(0.75, mean_l, shape), 0.0)
    asked = np.full(shape, demand_l) if constant else demand_l * 2 * rng.random(shape)
    demand = np.where(rng.random(shape) < idle, 0.0, asked)
    sizes = np.concatenate(([0.0, np.inf], 10 ** rng.uniform(-2, 5, 5), mean_l * 8 * rng.random(5)))
    simulated = simulate(inflow, demand, sizes[:, np.newaxis], "ybs").supplied_l.sum(axis=-1)
    for k in range(RECORDS):
        curve = yield_curve(inflow[k], demand[k])
        np.testing.assert_allclose(curve.supplied_l(sizes), simulated[:, k], rtol=1e-9, atol=0.0)


uneven = st.one_of(
    st.just(0.0),
    st.integers(0, 6).map(float),
    st.floats(1e-6, 1e6),
    st.integers(-6, 6).map(lambda power: 10.0**power),
)


@settings(max_examples=300, deadline=None)
@given(
    st.lists(st.tuples(uneven, uneven), min_size=1, max_size=40), st.lists(uneven, min_size=1, max_size=12)
)
def test_supply_agrees_with_simulation_on_awkward_records(record, sizes):
    inflow, demand = np.array(record).T
    curve = yield_curve(inflow, demand)
    # A size at each bend of the curve and just beside it is where an error would show.
    capacities = np.unique(
        np.r_[sizes, curve.knots_l, curve.knots_l * 1.001, curve.knots_l * 0.999, curve.needed_l]
    )
    simulated = simulate(inflow, demand, capacities, "ybs").supplied_l.sum(axis=-1)
    np.testing.assert_allclose(curve.supplied_l(capacities), simulated, rtol=1e-9, atol=0.0)


whole = st.integers(0, 12)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.tuples(whole, whole), min_size=1, max_size=60))
def test_days_met_agree_with_simulation_in_whole_litres(record):
    inflow, demand = np.array(record, dtype=float).T
    curve = yield_curve(inflow, demand)
    sizes = np.arange(0.0, 60.0)
    run = simulate(inflow, demand, sizes, "ybs")
    assert np.array_equal(curve.days_met(sizes), (run.unmet_l == 0.0).sum(axis=-1))
    assert np.array_equal(curve.supplied_l(sizes), run.supplied_l.sum(axis=-1))
    assert curve.idle_days == (demand == 0).sum()
    assert curve.asked_l == demand.sum()


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(1, 120))
def test_days_met_agree_with_simulation_away_from_the_needed_sizes(seed, days):
    rng = np.random.default_rng(seed)
    inflow = np.where(rng.random(days) < 0.3, rng.gamma(0.75, 80.0, days), 0.0)
    demand = 40 * rng.random(days)
    curve = yield_curve(inflow, demand)
    edges = np.r_[0.0, curve.needed_l, 2 * curve.needed_l.max(initial=1.0)]
    sizes = (edges[1:] + edges[:-1]) / 2
    sizes = sizes[np.diff(edges) > 1e-6]
    met = (simulate(inflow, demand, sizes, "ybs").unmet_l == 0.0).sum(axis=-1)
    assert np.array_equal(curve.days_met(sizes), met)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(1, 120))
def test_curve_rises_ever_less_steeply(seed, days):
    rng = np.random.default_rng(seed)
    inflow = np.where(rng.random(days) < 0.3, rng.gamma(0.75, 80.0, days), 0.0)
    curve = yield_curve(inflow, 40 * rng.random(days))
    sizes = np.linspace(0.0, curve.knots_l[-1] * 1.1 + 1.0, 200)
    steps = np.diff(curve.supplied_l(sizes))
    tolerance = 1e-9 * max(1.0, curve.knot_supplied_l[-1])
    assert (steps >= -tolerance).all()
    assert (np.diff(steps) <= tolerance).all()
    # The next barrel is therefore never worth more than the one before.
    worth = curve.worth_of_next(np.arange(6) * 50.0, 50.0)
    assert (np.diff(worth) <= tolerance).all()


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(1, 120), st.floats(0.0, 1.0))
def test_capacity_for_a_share_is_the_smallest_that_supplies_it(seed, days, share):
    rng = np.random.default_rng(seed)
    inflow = np.where(rng.random(days) < 0.3, rng.gamma(0.75, 80.0, days), 0.0)
    demand = 40 * rng.random(days)
    curve = yield_curve(inflow, demand)
    capacity = float(curve.capacity_for(share))
    wanted = share * curve.asked_l
    if np.isinf(capacity):
        assert float(simulate(inflow, demand, np.inf, "ybs").supplied_l.sum()) < wanted
        return
    assert simulate(inflow, demand, capacity, "ybs").supplied_l.sum() >= wanted * (1 - 1e-9)
    if capacity > 0.0:
        smaller = max(0.0, capacity - 1e-3)
        assert simulate(inflow, demand, smaller, "ybs").supplied_l.sum() < wanted
