"""Head, flow and time to empty against hydraulics worked out independently (US units, exact conversions)."""

import numpy as np
import pytest

from dooryard.water.outlet import (
    bore_area,
    discharge_coefficient,
    drain_time,
    fill_time,
    head_for_pressure,
    orifice_flow,
    pressure,
)

IN = 0.0254
FT = 0.3048
GAL_L = 3.785411784
PSI_KPA = 6.894757
GPM_L_S = GAL_L / 60
DRUM_BORE = 22.5 * IN
FULL_DRUM = 2.6628 * FT  # 55 gal in a 22.5 in drum


@pytest.mark.check("W-04-1", source="hydrostatics, 0.4335 psi a foot", status="computed")
def test_pressure_of_common_heads():
    kpa = pressure(np.array([1, 2, 4, 10]) * FT)
    assert kpa.tolist() == pytest.approx([2.989, 5.978, 11.956, 29.89], abs=0.006)
    assert (kpa / PSI_KPA).tolist() == pytest.approx([0.4335, 0.867, 1.734, 4.335], abs=0.001)


@pytest.mark.check("W-04-2", source="hydrostatics, 0.4335 psi a foot", status="computed")
def test_head_that_gives_house_pressure():
    assert float(head_for_pressure(40 * PSI_KPA)) / FT == pytest.approx(92.27, abs=0.02)


@pytest.mark.check("W-04-3", source="force on the base equals the weight of the water", status="computed")
def test_force_on_the_base_equals_the_weight_of_the_water():
    depth_m = 55 * GAL_L / 1000 / float(bore_area(DRUM_BORE))
    assert depth_m / IN == pytest.approx(31.954, abs=0.0005)
    assert float(bore_area(DRUM_BORE)) / IN**2 == pytest.approx(397.61, abs=0.005)
    force_n = float(pressure(depth_m)) * 1000 * float(bore_area(DRUM_BORE))
    assert force_n / 9.80665 == pytest.approx(55 * GAL_L, rel=1e-12)  # a kilogram a litre
    assert float(pressure(depth_m)) / PSI_KPA == pytest.approx(1.1543, abs=0.0005)


@pytest.mark.check("W-04-4", source="falling-head tank, closed form", status="computed")
def test_drain_time_of_a_square_metre():
    bore_m = float(np.sqrt(4 * 0.001 / np.pi))
    hours = drain_time(1.0, bore_m, 0.6, [1.0, 1.0], [0.0, 0.25])
    assert (hours * 3600).tolist() == pytest.approx([752.668, 376.334], abs=0.0005)


@pytest.mark.check("W-04-5", source="falling-head tank, closed form", status="computed")
def test_drain_time_of_a_drum_through_a_half_inch_hole():
    left = np.array([0.0, 0.5, 0.75, 0.25])  # share of the depth still there
    hours = drain_time(bore_area(DRUM_BORE), 0.5 * IN, 0.62, FULL_DRUM, FULL_DRUM * left)
    assert (hours * 3600).tolist() == pytest.approx([1328.8, 389.2, 178.0, 664.4], abs=0.06)


@pytest.mark.check("W-04-6", source="falling-head tank, closed form", status="computed")
@pytest.mark.parametrize(
    ("bore_in", "coefficient", "seconds"), [(0.75, 0.62, 590.6), (0.5, 0.82, 1004.7), (0.75, 0.82, 446.5)]
)
def test_drain_time_of_a_drum_through_other_outlets(bore_in, coefficient, seconds):
    hours = drain_time(bore_area(DRUM_BORE), bore_in * IN, coefficient, FULL_DRUM)
    assert float(hours) * 3600 == pytest.approx(seconds, abs=0.06)


HEADS = np.array([1.0, 2.0, 4.0]) * FT


@pytest.mark.check("W-04-7", source="Torricelli's law", status="computed")
def test_flow_of_a_half_inch_hole_and_time_to_fill_a_can():
    flow = orifice_flow(0.5 * IN, HEADS, 0.62)
    assert (flow / GPM_L_S).tolist() == pytest.approx([3.044, 4.305, 6.088], abs=0.001)
    assert fill_time(2 * GAL_L, flow).tolist() == pytest.approx([39.4, 27.9, 19.7], abs=0.05)


@pytest.mark.check("W-04-8", source="energy equation, loss sum 2", status="computed")
def test_flow_of_a_three_quarter_inch_spigot():
    flow = orifice_flow(0.75 * IN, HEADS, discharge_coefficient(2.0))
    assert (flow / GPM_L_S).tolist() == pytest.approx([6.377, 9.019, 12.755], abs=0.001)
    assert fill_time(2 * GAL_L, flow).tolist() == pytest.approx([18.8, 13.3, 9.4], abs=0.05)


@pytest.mark.check("W-04-9", source="energy equation, loss sum 5", status="computed")
def test_flow_of_a_tight_spigot():
    flow = orifice_flow(0.75 * IN, HEADS, discharge_coefficient(5.0))
    assert (flow / GPM_L_S).tolist() == pytest.approx([4.509, 6.377, 9.019], abs=0.001)
    assert fill_time(2 * GAL_L, flow).tolist() == pytest.approx([26.6, 18.8, 13.3], abs=0.05)


@pytest.mark.check("W-04-10", source="Torricelli's law", status="computed")
def test_four_times_the_head_doubles_the_flow_and_halves_the_time():
    once, fourfold = orifice_flow(0.02, [0.3, 1.2], 0.6)
    assert fourfold == pytest.approx(2 * once, rel=1e-12)
    assert float(fill_time(8.0, fourfold)) == pytest.approx(float(fill_time(8.0, once)) / 2, rel=1e-12)
    assert float(discharge_coefficient(3.0)) == 0.5


def test_emptying_takes_twice_the_volume_over_the_first_flow():
    hours = float(drain_time(0.25, 0.02, 0.6, 0.8))
    assert hours * 3600 == pytest.approx(2 * 200.0 / float(orifice_flow(0.02, 0.8, 0.6)), rel=1e-12)


def test_drain_time_agrees_with_small_steps_of_the_flow():
    surface, bore, coefficient, level, seconds = 0.3, 0.012, 0.6, 0.9, 0.0
    while level > 0.3:  # midpoint steps of a second: an independent route to the closed form
        middle = level - float(orifice_flow(bore, level, coefficient)) / 1000 / surface / 2
        level -= float(orifice_flow(bore, middle, coefficient)) / 1000 / surface
        seconds += 1.0
    closed = float(drain_time(surface, bore, coefficient, 0.9, level)) * 3600
    assert closed == pytest.approx(seconds, rel=1e-6)
