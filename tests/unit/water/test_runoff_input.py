"""Roof runoff: missing days, events and impossible input, in numbers small enough for the head."""

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water.catchment import runoff

ROOF = {"area_m2": 10.0, "coefficient": 0.5, "initial_loss_mm": 2.0, "first_flush_l": 5.0}


def test_runoff_charges_losses_again_only_after_enough_dry_days():
    rain = [4.0, 0.0, 4.0, 0.0, 0.0, 4.0]
    # First: (4 - 2) x 5 = 10, less 5 of flush. One dry day does not reset, two do.
    assert runoff(rain, **ROOF, dry_reset_days=2).tolist() == [5.0, 0.0, 20.0, 0.0, 0.0, 5.0]
    assert runoff(rain, **ROOF, dry_reset_days=1).tolist() == [5.0, 0.0, 5.0, 0.0, 0.0, 5.0]
    assert runoff(rain, **ROOF, dry_reset_days=3).tolist() == [5.0, 0.0, 20.0, 0.0, 0.0, 20.0]
    assert runoff([4.0, 4.0], **ROOF, dry_reset_days=0).tolist() == [5.0, 5.0]


def test_runoff_losses_may_last_over_several_wet_days():
    assert runoff([1.0, 1.0, 0.8, 0.2, 1.0], **ROOF, dry_reset_days=1).tolist() == pytest.approx(
        [0.0, 0.0, 0.0, 0.0, 5.0]
    )


def test_runoff_missing_day_is_missing_and_losses_are_charged_afresh_after_it():
    litres = runoff([4.0, np.nan, 4.0, 4.0], **ROOF, dry_reset_days=3)
    assert litres[[0, 2, 3]].tolist() == [5.0, 5.0, 20.0]
    assert np.isnan(litres[1])


def test_runoff_missing_day_among_dry_days_stays_missing():
    litres = runoff([0.0, np.nan, 0.0], **ROOF, dry_reset_days=1)
    assert litres[[0, 2]].tolist() == [0.0, 0.0]
    assert np.isnan(litres[1])


def test_runoff_of_no_days_is_empty():
    assert runoff([], **ROOF, dry_reset_days=1).shape == (0,)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("rain_mm", [1.0, -0.1]),
        ("rain_mm", [np.inf]),
        ("area_m2", -1.0),
        ("area_m2", np.nan),
        ("coefficient", 1.2),
        ("coefficient", -0.1),
        ("initial_loss_mm", -1.0),
        ("first_flush_l", np.inf),
        ("dry_reset_days", -1.0),
    ],
)
def test_runoff_impossible_input_is_refused_by_name(field, value):
    arguments = {"rain_mm": [1.0], **ROOF, "dry_reset_days": 1.0, field: value}
    with pytest.raises(InputError) as caught:
        runoff(**arguments)
    assert caught.value.problems[0].field == field
