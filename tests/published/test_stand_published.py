"""Weight, ground pressure and tipping of a 55 gal drum, worked out independently in inches and pounds."""

import math

import pytest

from dooryard.knowledge import load
from dooryard.water.stand import (
    bearing_pressure,
    ice_expansion,
    lean_to_tip,
    settlement_lean,
    stability,
    tipping_push,
    water_mass,
    weight,
    wind_to_slide,
    wind_to_tip,
)

IN = 0.0254
GAL_L = 3.785411784
LB = 0.45359237
LBF = LB * 9.80665
PSF_KPA = LBF / 0.3048**2 / 1000
MPH = 0.44704
DENSITY = 8.34 * LB / GAL_L  # the trade's 8.34 lb a gallon

WATER_LB = 55 * 8.34
DRUM = {"diameter_m": 22.5 * IN, "height_m": 34.5 * IN, "empty_kg": 22 * LB, "density_kg_l": DENSITY}


@pytest.mark.check("W-05-1", source="8.34 lb a gallon", status="computed")
def test_full_barrel_weighs_459_pounds_of_water():
    kilograms = float(water_mass(55 * GAL_L, DENSITY))
    assert kilograms / LB == pytest.approx(458.7, abs=0.05)
    assert kilograms == pytest.approx(208.0, abs=0.1)
    assert kilograms / LB + 22 == pytest.approx(480.7, abs=0.05)


@pytest.mark.check("P-1.2-full-barrel", source="rain-barrel handouts", status="common practice")
def test_full_barrel_by_the_tables_is_450_to_460_pounds_of_water():
    facts = load().facts
    volume, density = facts["storage.drum.volume"].value, facts["water.density"].value
    assert 450 <= float(water_mass(volume, density)) / LB <= 460


@pytest.mark.check("W-05-2", source="weight over area", status="computed")
def test_contact_pressure_of_a_full_drum():
    kpa = float(bearing_pressure((WATER_LB + 22) * LB, math.pi / 4 * (22.5 * IN) ** 2))
    assert kpa / PSF_KPA == pytest.approx(174.1, abs=0.05)
    assert kpa / 6.894757 == pytest.approx(1.209, abs=0.0005)


@pytest.mark.check("W-05-3", source="weight over area", status="computed")
def test_bearing_pressure_of_drum_and_stand_on_a_pad():
    kpa = float(bearing_pressure((WATER_LB + 22 + 160) * LB, (24 * IN) ** 2))
    assert kpa / PSF_KPA == pytest.approx(160.2, abs=0.05)
    assert kpa < load().bearing_soils["clay"].pressure_kpa


@pytest.mark.check("W-05-4", source="weight over area", status="computed")
def test_bearing_pressure_on_two_blocks():
    kpa = float(bearing_pressure((WATER_LB + 22 + 70) * LB, 2 * 8 * 16 * IN**2))
    assert kpa / PSF_KPA == pytest.approx(309.8, abs=0.05)


@pytest.mark.check("W-05-5", source="balance of moments", status="computed")
def test_full_barrel_on_the_ground():
    (way,) = stability(volume_l=55 * GAL_L, **DRUM)
    assert way.centre_m / IN == pytest.approx(16.04, abs=0.005)
    assert way.push_n / LBF == pytest.approx(156.75, abs=0.01)
    assert float(lean_to_tip(22.5 * IN, way.centre_m)) == pytest.approx(35.05, abs=0.01)
    assert way.lean_deg == pytest.approx(33.5, abs=0.05)  # with the water free to move


@pytest.mark.check("W-05-6", source="balance of moments", status="computed")
def test_empty_barrel_tips_at_seven_pounds():
    (way,) = stability(volume_l=0.0, **DRUM)
    assert way.push_n / LBF == pytest.approx(7.17, abs=0.005)
    assert way.lean_deg == pytest.approx(33.11, abs=0.005)


def both(*, gallons: float, stand_in: float, base_in: float, stand_lb: float):
    """The way in which barrel and stand go over together."""
    ways = stability(
        volume_l=gallons * GAL_L,
        stand_height_m=stand_in * IN,
        stand_base_m=base_in * IN,
        stand_kg=stand_lb * LB,
        **DRUM,
    )
    return next(way for way in ways if way.mode == "storage and stand")


@pytest.mark.parametrize(
    ("gallons", "stand_in", "base_in", "stand_lb", "centre_in", "push_lb", "lean"),
    [
        pytest.param(
            55,
            16,
            24,
            160,
            26.03,
            152.25,
            24.75,
            marks=pytest.mark.check("W-05-7", source="balance of moments", status="computed"),
        ),
        pytest.param(
            0,
            16,
            24,
            160,
            None,
            43.25,
            47.35,
            marks=pytest.mark.check("W-05-8", source="balance of moments", status="computed"),
        ),
        pytest.param(
            55,
            32,
            24,
            320,
            35.23,
            144.49,
            18.81,
            marks=pytest.mark.check("W-05-9", source="balance of moments", status="computed"),
        ),
        pytest.param(
            55,
            32,
            16,
            210,
            38.30,
            83.09,
            11.80,
            marks=pytest.mark.check("W-05-10", source="balance of moments", status="computed"),
        ),
    ],
)
def test_barrel_and_stand_together(gallons, stand_in, base_in, stand_lb, centre_in, push_lb, lean):
    way = both(gallons=gallons, stand_in=stand_in, base_in=base_in, stand_lb=stand_lb)
    if centre_in is not None:
        assert way.centre_m / IN == pytest.approx(centre_in, abs=0.006)
    assert way.push_n / LBF == pytest.approx(push_lb, abs=0.02)
    # The printed leans are those of a rigid load.
    assert float(lean_to_tip(base_in * IN, way.centre_m)) == pytest.approx(lean, abs=0.01)
    assert way.lean_deg <= lean + 0.01


@pytest.mark.check("W-05-11", source="geometry", status="computed")
@pytest.mark.parametrize(("sunk_in", "degrees"), [(1, 2.386), (2, 4.764), (3, 7.125)])
def test_lean_from_settlement(sunk_in, degrees):
    assert float(settlement_lean(sunk_in * IN, 24 * IN)) == pytest.approx(degrees, abs=0.0005)


@pytest.mark.check("W-05-12", source="densities of water and ice", status="computed")
def test_ice_takes_nine_per_cent_more_room():
    assert ice_expansion() == pytest.approx(0.0905, abs=0.00005)
    assert load().fact("water.ice_expansion").value == pytest.approx(ice_expansion(), abs=1e-6)


@pytest.mark.check("W-05-13", source="drag against moments and friction", status="computed")
@pytest.mark.parametrize(
    ("drag", "tips", "slides"), [(0.7, 38.1, 29.9), (1.0, 31.9, 25.0), (1.2, 29.1, 22.8)]
)
def test_wind_on_an_empty_barrel(drag, tips, slides):
    air = 0.002377 * 14.593903 / 0.3048**3  # slug per cubic foot
    face_m2 = 5.51 * 0.3048**2
    speed = wind_to_tip(22 * LB, 22.5 * IN, 34.5 * IN, face_m2, drag, air)
    assert speed / MPH == pytest.approx(tips, abs=0.06)
    assert wind_to_slide(22 * LB, face_m2, 0.4, drag, air) / MPH == pytest.approx(slides, abs=0.06)


def test_push_does_not_depend_on_the_unit_of_weight():
    assert float(tipping_push(480.7, 22.5, 34.5)) == pytest.approx(156.75, abs=0.005)
    assert float(weight(1.0)) == 9.80665
