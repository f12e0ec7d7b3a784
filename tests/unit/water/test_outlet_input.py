"""Outlet and stand at their edges: nothing in, nothing out; missing stays missing; impossible is refused."""

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water.outlet import bore_needed, drain_time, fill_time, head, orifice_flow, pressure
from dooryard.water.stand import Body, bearing_pressure, centre_of_mass, stability, water_shift


def test_head_below_the_outlet_is_none():
    assert head([1.0, 0.5, 0.2], 0.5).tolist() == [0.5, 0.0, 0.0]


def test_flow_without_head_is_none_and_missing_stays_missing():
    assert float(orifice_flow(0.02, 0.0, 0.6)) == 0.0
    assert np.isnan(orifice_flow(0.02, np.nan, 0.6))
    assert np.isnan(pressure(np.nan))
    assert float(fill_time(10.0, 0.0)) == np.inf


def test_bore_needed_is_the_flow_solved_for_the_bore():
    bore_m = bore_needed([0.1, 0.5], 0.3, 0.62)
    assert orifice_flow(bore_m, 0.3, 0.62).tolist() == pytest.approx([0.1, 0.5], rel=1e-12)


@pytest.mark.parametrize(
    "call",
    [
        lambda: orifice_flow(0.02, -0.1, 0.6),
        lambda: orifice_flow(-0.02, 0.1, 0.6),
        lambda: drain_time(0.3, 0.02, 0.6, 0.2, 0.5),
        lambda: drain_time(-0.3, 0.02, 0.6, 0.5),
        lambda: bore_needed(-1.0, 0.1, 0.6),
        lambda: bearing_pressure(100.0, 0.0),
    ],
    ids=["head", "bore", "rising level", "surface", "flow", "no base"],
)
def test_impossible_input_is_refused(call):
    with pytest.raises(InputError):
        call()


def test_centre_of_mass_of_two_bodies_lies_between_them():
    both = centre_of_mass([Body(3.0, 0.0), Body(1.0, 4.0)])
    assert (both.mass_kg, both.centre_m) == (4.0, 1.0)


def test_water_shift_of_an_empty_storage_is_none():
    assert water_shift(0.5, 0.0, 0.0, 10.0) == 0.0


def test_stability_puts_the_weaker_way_first():
    narrow = stability(
        volume_l=200.0,
        diameter_m=0.6,
        height_m=0.9,
        empty_kg=10.0,
        stand_height_m=0.8,
        stand_base_m=0.4,
        stand_kg=50.0,
    )
    assert [way.mode for way in narrow] == ["storage and stand", "storage on its stand"]
    assert narrow[0].push_n < narrow[1].push_n
