"""What must hold for any parameters of the fitted generator."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.weather.invented import curves, occurrence, slow


@given(
    a=st.lists(st.floats(-0.4, 0.4), min_size=4, max_size=4),
    days=st.integers(2, 40),
)
def test_variance_of_a_mean_is_the_sum_over_all_pairs_of_days(a, days):
    a = np.array(a).reshape(2, 2)
    m0 = np.array([[1.0, 0.3], [0.3, 1.5]])
    total = np.zeros((2, 2))
    for first in range(days):
        for second in range(days):
            pair = np.linalg.matrix_power(a, abs(first - second)) @ m0
            total += pair if first >= second else pair.T
    assert slow.variance_of_mean(a, m0, days) == pytest.approx(total / days**2, abs=1e-9)


@given(
    monthly=st.floats(0, 2),
    yearly=st.floats(0, 2),
    weights=st.lists(st.floats(0.5, 5), min_size=12, max_size=12),
)
def test_deviations_come_back_from_the_variance_they_make(monthly, yearly, weights):
    w = np.array(weights)
    month_weight, year_weight = float(np.sum(w**2)), float(w.sum() ** 2)
    month_excess = month_weight * (monthly + yearly)
    year_excess = month_weight * monthly + year_weight * yearly
    found = slow.month_and_year(month_excess, year_excess, month_weight, year_weight)
    assert found == pytest.approx((monthly, yearly), abs=1e-9)


@given(month=st.floats(-50, 50), year=st.floats(-50, 50))
def test_deviations_are_never_less_than_none(month, year):
    assert min(slow.month_and_year(month, year, 3.0, 20.0)) >= 0


@given(
    seed=st.integers(0, 10_000),
    steps=st.lists(st.floats(-1, 1), max_size=5),
    stretch=st.floats(1, 1.5),
)
@settings(max_examples=25)
def test_one_run_and_many_runs_give_the_same_days(seed, steps, stretch):
    chance = np.random.RandomState(seed)
    angle = np.linspace(0, 12, 300)
    chain = occurrence.Occurrence(
        np.array([-1.0, 0.4, 0.2]), np.array([0.3]), np.array(steps), np.array(steps[::-1])
    )
    draw = chance.logistic(size=(300, 4))
    shift = chance.standard_normal((300, 4)) / 4
    many = occurrence.wet_days(chain, angle, draw, shift, stretch)
    for run in range(4):
        one = occurrence.wet_days(chain, angle, draw[:, run], shift[:, run], stretch)
        assert (one == many[:, run]).all()


@given(level=st.floats(-3, 3), swing=st.floats(-2, 2), harmonics=st.integers(1, 6))
def test_curve_comes_back_from_values_without_noise(level, swing, harmonics):
    angle = np.linspace(0, 2 * np.pi, 400, endpoint=False)
    curve = np.zeros(1 + 2 * harmonics)
    curve[0], curve[-1] = level, swing
    values = curves.value(curve, angle)
    found = curves.least_squares(curves.basis(angle, harmonics), values)
    assert found == pytest.approx(curve, abs=1e-9)
    logs, _, _ = curves.log_mean(curves.basis(angle, harmonics), np.exp(values))
    assert curves.value(logs, angle) == pytest.approx(values, abs=2e-3)


@given(wet=st.lists(st.sampled_from([0.0, 1.0, float("nan")]), min_size=1, max_size=60))
def test_spell_before_a_day_is_counted_back_to_a_change_that_was_seen(wet):
    wet = np.array(wet)
    run, was_wet = occurrence.spells_before(wet)
    for day in range(len(wet)):
        back = day - 1
        while back >= 0 and wet[back] == wet[day - 1]:
            back -= 1
        length = day - 1 - back
        seen = back >= 0 and not np.isnan(wet[back])
        if day and length and (seen or length >= occurrence.LONGEST):
            assert (run[day], was_wet[day]) == (length, wet[day - 1])
        else:
            assert run[day] == 0
