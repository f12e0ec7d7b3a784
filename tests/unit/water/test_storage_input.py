"""What the storage kernels say to input they cannot use, and the shapes they answer with."""

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water.storage import simulate, yield_curve


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (([1.0], 1.0, 5.0, "yes"), "rule"),
        (([1.0], 1.0, 5.0, 1.5), "rule"),
        (([1.0, -2.0], 1.0, 5.0), "inflow_l"),
        (([1.0, np.inf], 1.0, 5.0), "inflow_l"),
        (([1.0], -1.0, 5.0), "demand_l"),
        (([1.0], 1.0, -5.0), "capacity_l"),
        (([1.0], 1.0, np.nan), "capacity_l"),
        (([1.0], 1.0, [5.0, -1.0]), "capacity_l"),
        (([1.0], 1.0, 5.0, "yas", 6.0), "start_l"),
        (([1.0], 1.0, 5.0, "yas", -1.0), "start_l"),
    ],
)
def test_simulate_impossible_input_is_refused_by_name(arguments, field):
    with pytest.raises(InputError) as caught:
        simulate(*arguments)
    assert caught.value.problems[0].field == field
    assert caught.value.problems[0].instead


def test_simulate_names_the_first_wrong_day():
    with pytest.raises(InputError, match="Day 2"):
        simulate([1.0, 2.0, -3.0, -4.0], 1.0, 5.0)


@pytest.mark.parametrize("wrong", [np.nan, -1.0, np.inf])
def test_yield_curve_refuses_a_record_with_unknown_days(wrong):
    with pytest.raises(InputError, match="Day 1") as caught:
        yield_curve([1.0, wrong, 2.0], 1.0)
    assert caught.value.problems[0].field == "inflow_l"
    with pytest.raises(InputError) as caught:
        yield_curve([1.0, 1.0, 2.0], [0.0, wrong, 0.0])
    assert caught.value.problems[0].field == "demand_l"


def test_yield_curve_refuses_several_records_at_once():
    with pytest.raises(InputError, match="one record"):
        yield_curve([[1.0, 2.0], [3.0, 4.0]], 1.0)


def test_yield_curve_refuses_impossible_sizes_and_shares():
    curve = yield_curve([3.0, 0.0], 1.0)
    for ask in (curve.supplied_l, curve.days_met, lambda size: curve.worth_of_next(size, 1.0)):
        with pytest.raises(InputError):
            ask(-1.0)
        with pytest.raises(InputError):
            ask(np.nan)
    for share in (-0.1, 1.1, np.nan):
        with pytest.raises(InputError):
            curve.capacity_for(share)


def test_yield_curve_by_hand():
    # 9 L come, then 2 L a day are asked for, with 1 L of rain on the third dry day.
    curve = yield_curve([9, 0, 0, 1, 0], [0, 2, 2, 2, 2])
    # In a 3 L tank: 2, then the last 1, then 1 of the same day, then nothing.
    assert curve.supplied_l([0, 3, 7, 100]).tolist() == [1.0, 4.0, 8.0, 8.0]
    assert curve.days_met([0, 2, 4, 5, 7]).tolist() == [1, 2, 3, 4, 5]
    assert curve.capacity_for([0.0, 0.5, 1.0]).tolist() == [0.0, 3.0, 7.0]
    assert curve.worth_of_next([0, 3, 6], 3).tolist() == [3.0, 3.0, 1.0]
    assert (curve.asked_l, curve.days, curve.idle_days) == (8.0, 5, 1)


def test_yield_curve_share_that_no_size_supplies_is_infinite():
    curve = yield_curve([0, 4, 0], 2.0)
    assert float(curve.capacity_for(2 / 3)) == 2.0
    assert float(curve.capacity_for(0.9)) == np.inf


def test_endless_capacity_is_allowed():
    assert simulate([4.0, 0.0], 1.0, np.inf).level_l.tolist() == [4.0, 3.0]
    assert float(yield_curve([4.0, 0.0], 1.0).supplied_l(np.inf)) == 2.0


def test_empty_record_gives_empty_answers():
    run = simulate([], 1.0, 5.0)
    assert run.level_l.shape == (0,)
    assert run.closure_error_l([]) == 0.0
    assert np.isnan(run.volume_share())
    curve = yield_curve([], 1.0)
    assert (float(curve.supplied_l(5.0)), int(curve.days_met(5.0))) == (0.0, 0)


def test_shares_without_demand_are_unknown_by_volume_and_whole_by_days():
    run = simulate([1.0, 2.0], 0.0, 5.0)
    assert np.isnan(run.volume_share())
    assert float(run.days_share()) == 1.0


def test_start_levels_may_differ_between_storages():
    run = simulate([0.0, 0.0], 1.0, [5.0, 5.0], "yas", start_l=[0.0, 5.0])
    assert run.level_l.tolist() == [[0.0, 0.0], [4.0, 3.0]]
    assert run.closure_error_l([0.0, 0.0], [0.0, 5.0]) == 0.0
