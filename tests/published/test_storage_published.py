"""The two operating rules against traces done by hand and against exactly solved Markov chains.

The chain's transitions are taken from one step of our own kernel, state by state; its stationary state is
then solved in whole fractions. So a spill before instead of after the yield, a late inflow or a lost litre
changes a printed fraction, and no random number can hide it. A long simulation of the same chain closes the
circle.
"""

from fractions import Fraction

import numpy as np
import pytest

from dooryard.water.storage import simulate, yield_curve

HAND_INFLOW = [0, 150, 0, 0, 120, 200, 0, 0, 0, 0]


@pytest.mark.check("W-02-1", source="ten days by hand, yield after spillage", status="computed")
def test_ten_days_by_hand_yield_after_spillage():
    run = simulate(HAND_INFLOW, 30, 200, "yas", start_l=50)
    assert run.supplied_l.tolist() == [30, 20, 30, 30, 30, 30, 30, 30, 30, 30]
    assert run.spilled_l.tolist() == [0, 0, 0, 0, 10, 170, 0, 0, 0, 0]
    assert run.level_l.tolist() == [20, 150, 120, 90, 170, 170, 140, 110, 80, 50]
    assert (run.supplied_l.sum(), run.spilled_l.sum()) == (290, 180)
    assert float(run.volume_share()) == pytest.approx(0.96667, abs=5e-6)
    assert float(run.days_share()) == pytest.approx(0.9)


@pytest.mark.check("W-02-2", source="ten days by hand, yield before spillage", status="computed")
def test_ten_days_by_hand_yield_before_spillage():
    run = simulate(HAND_INFLOW, 30, 200, "ybs", start_l=50)
    assert run.supplied_l.tolist() == [30] * 10
    assert run.spilled_l.tolist() == [0, 0, 0, 0, 0, 140, 0, 0, 0, 0]
    assert run.level_l.tolist() == [20, 140, 110, 80, 170, 200, 170, 140, 110, 80]
    assert (run.supplied_l.sum(), run.spilled_l.sum()) == (300, 140)
    assert (float(run.volume_share()), float(run.days_share())) == (1.0, 1.0)


# Weather of a chain: for each rain state, (probability, next rain state, inflow) of each thing that happens.
Weather = list[list[tuple[Fraction, int, int]]]


def independent(*chances: tuple[str, int]) -> Weather:
    """Rain that does not remember: one state."""
    return [[(Fraction(chance), 0, inflow) for chance, inflow in chances]]


THREE_IN_TEN = independent(("3/10", 3), ("7/10", 0))
ONE_IN_FOUR = independent(("1/4", 4), ("3/4", 0))
TWO_SIZES = independent(("7/10", 0), ("1/10", 1), ("2/10", 5))
# Wet follows dry on a quarter of days and wet on 55 %; it rains 3 on each wet day, that same day.
PERSISTENT: Weather = [
    [(Fraction(3, 4), 0, 0), (Fraction(1, 4), 1, 3)],
    [(Fraction(45, 100), 0, 0), (Fraction(55, 100), 1, 3)],
]


def solve(transition: list[list[Fraction]]) -> list[Fraction]:
    """Stationary distribution of a chain in whole fractions: pi P = pi, sum of pi = 1."""
    size = len(transition)
    rows = [[transition[j][i] - (i == j) for j in range(size)] + [Fraction(0)] for i in range(size)]
    rows[-1] = [Fraction(1)] * size + [Fraction(1)]
    for column in range(size):
        pivot = next(r for r in range(column, size) if rows[r][column] != 0)
        rows[column], rows[pivot] = rows[pivot], rows[column]
        rows[column] = [value / rows[column][column] for value in rows[column]]
        for r in range(size):
            if r != column and rows[r][column] != 0:
                rows[r] = [a - rows[r][column] * b for a, b in zip(rows[r], rows[column], strict=True)]
    return [row[-1] for row in rows]


def chain(weather: Weather, demand: int, capacity: int, rule: str):
    """(volumetric reliability, time reliability, mean overflow, distribution of levels), all as fractions."""
    start = (0, 0)
    states, todo = {start: 0}, [start]
    steps = {}
    while todo:  # only the states that can be reached from empty: the rest would make the chain singular
        rain, level = state = todo.pop()
        for chance, next_rain, inflow in weather[rain]:
            run = simulate([inflow], demand, capacity, rule, start_l=level)
            end = (next_rain, int(run.level_l[0]))
            assert end[1] == run.level_l[0]
            steps.setdefault(state, []).append((chance, end, run.supplied_l[0], run.spilled_l[0]))
            if end not in states:
                states[end] = len(states)
                todo.append(end)
    matrix = [[Fraction(0)] * len(states) for _ in states]
    for state, outcomes in steps.items():
        for chance, end, _, _ in outcomes:
            matrix[states[state]][states[end]] += chance
    share = dict(zip(states, solve(matrix), strict=True))
    supplied = sum(share[s] * c * Fraction(int(y)) for s, out in steps.items() for c, _, y, _ in out)
    met = sum(share[s] * c for s, out in steps.items() for c, _, y, _ in out if y >= demand)
    spilled = sum(share[s] * c * Fraction(int(o)) for s, out in steps.items() for c, _, _, o in out)
    levels: dict[int, Fraction] = {}
    for (_, level), part in share.items():
        levels[level] = levels.get(level, Fraction(0)) + part
    return supplied / demand, met, spilled, levels


@pytest.mark.check("W-02-3", source="exact Markov chain (Moran dam)", status="computed")
def test_moran_dam_yield_after_spillage_exact():
    volume, time, spilled, levels = chain(THREE_IN_TEN, 1, 4, "yas")
    assert levels == {
        0: Fraction("0.343"),
        1: Fraction("0.147"),
        2: Fraction("0.210"),
        3: Fraction("0.300"),
    }
    assert volume == time == Fraction("0.657")
    assert spilled == Fraction("0.243")


@pytest.mark.check("W-02-4", source="exact Markov chain (Moran dam)", status="computed")
def test_moran_dam_yield_before_spillage_exact():
    volume, time, spilled, _ = chain(THREE_IN_TEN, 1, 4, "ybs")
    assert volume == time == Fraction(53793, 70600)
    assert float(spilled) == pytest.approx(0.138059, abs=5e-7)


@pytest.mark.check("W-02-5", source="exact Markov chain", status="computed")
def test_rare_large_rain_on_a_small_tank_exact():
    assert chain(ONE_IN_FOUR, 1, 3, "yas")[0] == Fraction(37, 73)
    assert chain(ONE_IN_FOUR, 1, 3, "ybs")[0] == Fraction(175, 256)


@pytest.mark.check("W-02-6", source="exact Markov chain", status="computed")
def test_two_sizes_of_rain_and_demand_of_two_exact():
    volume, time, _, _ = chain(TWO_SIZES, 2, 6, "yas")
    assert (volume, time) == (Fraction(46021, 102820), Fraction(1951, 5141))
    volume, time, _, _ = chain(TWO_SIZES, 2, 6, "ybs")
    assert float(volume) == pytest.approx(0.525396, abs=5e-7)
    assert float(time) == pytest.approx(0.461289, abs=5e-7)


@pytest.mark.check("W-02-7", source="exact Markov chain with persistent rain", status="computed")
def test_persistent_rain_exact():
    assert chain(PERSISTENT, 1, 4, "yas")[0] == Fraction(143, 224)
    assert chain(PERSISTENT, 1, 4, "ybs")[0] == Fraction(11251, 14896)


CURVE_SIZES = [1, 2, 3, 4, 5, 6, 8, 10, 15, 20]
CURVES = {
    "yas": [0.2308, 0.4215, 0.5728, 0.6570, 0.7185, 0.7619, 0.8101, 0.8371, 0.8698, 0.8838],
    "ybs": [0.5100, 0.6570, 0.7185, 0.7619, 0.7895, 0.8101, 0.8371, 0.8540, 0.8766, 0.8872],
}


@pytest.mark.check("W-02-11", source="exact Markov chain for ten sizes", status="computed")
@pytest.mark.parametrize("rule", ["yas", "ybs"])
def test_reliability_curve_exact(rule):
    found = [float(chain(THREE_IN_TEN, 1, size, rule)[0]) for size in CURVE_SIZES]
    assert found == pytest.approx(CURVES[rule], abs=5e-5)


def long_rain(weather: Weather, days: int, seed: int) -> np.ndarray:
    """A long record of the chain's inflow."""
    rng = np.random.default_rng(seed)
    draws = rng.random(days).tolist()
    tables = [[(float(chance), to, inflow) for chance, to, inflow in outcomes] for outcomes in weather]
    inflow, state = [], 0
    for draw in draws:
        outcomes = iter(tables[state])
        chance, state, litres = next(outcomes)
        while draw >= chance:
            draw -= chance
            chance, state, litres = next(outcomes)
        inflow.append(litres)
    return np.array(inflow, dtype=float)


@pytest.mark.check("W-02-3", source="exact Markov chain (Moran dam)", status="computed")
@pytest.mark.check("W-02-4", source="exact Markov chain (Moran dam)", status="computed")
@pytest.mark.check("W-02-5", source="exact Markov chain", status="computed")
@pytest.mark.check("W-02-6", source="exact Markov chain", status="computed")
@pytest.mark.check("W-02-7", source="exact Markov chain with persistent rain", status="computed")
@pytest.mark.parametrize(
    ("weather", "demand", "capacity", "yas", "ybs"),
    [
        (THREE_IN_TEN, 1, 4, 0.657, 0.761941),
        (ONE_IN_FOUR, 1, 3, 0.506849, 0.683594),
        (TWO_SIZES, 2, 6, 0.447588, 0.525396),
        (PERSISTENT, 1, 4, 0.638393, 0.755303),
    ],
)
def test_long_simulation_comes_to_the_exact_reliability(weather, demand, capacity, yas, ybs):
    inflow = long_rain(weather, 200_000, seed=20)
    # The rules differ by 0.08 or more; five standard errors of 200,000 correlated days are about 0.01.
    assert float(simulate(inflow, demand, capacity, "yas").volume_share()) == pytest.approx(yas, abs=0.01)
    assert float(simulate(inflow, demand, capacity, "ybs").volume_share()) == pytest.approx(ybs, abs=0.01)
    curve = yield_curve(inflow, demand)
    assert float(curve.supplied_l(capacity)) / curve.asked_l == pytest.approx(ybs, abs=0.01)


@pytest.mark.check("W-02-11", source="exact Markov chain for ten sizes", status="computed")
def test_one_yield_curve_comes_to_the_exact_reliability_of_every_size():
    curve = yield_curve(long_rain(THREE_IN_TEN, 200_000, seed=11), 1.0)
    found = curve.supplied_l(CURVE_SIZES) / curve.asked_l
    assert found.tolist() == pytest.approx(CURVES["ybs"], abs=0.01)


@pytest.mark.check("W-02-8", source="24 steady hours by hand", status="computed")
def test_steady_inflow_hourly_against_daily_steps():
    hourly = np.full(24, 5.0)
    assert simulate(hourly, 5.0, 10.0, "yas").supplied_l.sum() == 115
    assert simulate(hourly, 5.0, 10.0, "ybs").supplied_l.sum() == 120
    assert simulate([120.0], 120.0, 10.0, "yas").supplied_l.sum() == 0
    assert simulate([120.0], 120.0, 10.0, "ybs").supplied_l.sum() == 120


@pytest.mark.check("W-02-9", source="two-hour burst by hand", status="computed")
def test_burst_hourly_against_daily_steps():
    hourly = np.zeros(24)
    hourly[:2] = 60.0
    rain_first, use_first = simulate(hourly, 5.0, 80.0, "yas"), simulate(hourly, 5.0, 80.0, "ybs")
    assert (rain_first.supplied_l.sum(), rain_first.spilled_l.sum()) == (80, 40)
    assert (use_first.supplied_l.sum(), use_first.spilled_l.sum()) == (90, 30)
    rain_first, use_first = simulate([120.0], 120.0, 80.0, "yas"), simulate([120.0], 120.0, 80.0, "ybs")
    assert (rain_first.supplied_l.sum(), rain_first.spilled_l.sum()) == (0, 40)
    assert (use_first.supplied_l.sum(), use_first.spilled_l.sum()) == (120, 0)
