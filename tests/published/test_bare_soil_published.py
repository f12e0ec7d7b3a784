"""Drying of bare soil against the printed examples of FAO-56, chapter 7, and three rules of what rain counts."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water.bare_soil import (
    covered_share,
    drying,
    evaporable_water,
    evaporation_factor,
    exposed_share,
    largest_factor,
)
from dooryard.water.effective_rain import fao_month, scs_month, texas

IN_MM = 25.4


@pytest.mark.check("W-08-4", source="FAO-56 example 31", status="seen")
def test_bare_loam_dries_for_ten_days_fao56_example_31() -> None:
    run = drying(np.full(10, 4.5), np.zeros(10), basal=0.15, largest=1.20, evaporable_mm=20.0, readily_mm=9.0)
    printed = [4.73, 9.45, 13.98, 16.57, 18.04, 18.88, 19.36, 19.64, 19.79, 19.88]
    assert run.depletion_mm == pytest.approx(printed, abs=0.006)
    assert run.crop_et_mm == pytest.approx([5.4, 5.4, 5.2, 3.3, 2.1, 1.5, 1.2, 0.9, 0.8, 0.8], abs=0.051)


@pytest.mark.check("W-08-8", source="FAO-56 example 32", status="seen")
def test_cotton_with_open_ground_fao56_example_32() -> None:
    largest = largest_factor(0.9, 3.0, 20.0, 1.0)
    covered = covered_share(0.9, largest, 1.0)
    exposed = exposed_share(covered)
    factor = evaporation_factor(0.9, largest, exposed)
    assert (largest, covered, exposed) == pytest.approx((1.30, 0.53, 0.47), abs=0.005)
    assert (factor, 0.9 + factor) == pytest.approx((0.40, 1.30), abs=0.005)


@pytest.mark.check("W-08-9", source="FAO-56 examples 33 and 34", status="seen")
@pytest.mark.parametrize(("under_leaves", "exposed", "factor"), [(False, 0.30, 0.39), (True, 0.19, 0.25)])
def test_furrows_and_drip_lines_wet_a_part_of_the_ground(
    under_leaves: bool, exposed: float, factor: float
) -> None:
    largest = largest_factor(0.9, 3.0, 20.0, 1.0)
    share = exposed_share(covered_share(0.9, largest, 1.0), 0.3, under_leaves=under_leaves)
    assert share == pytest.approx(exposed, abs=0.006)
    assert evaporation_factor(0.9, largest, share) == pytest.approx(factor, abs=0.005)


def test_rain_wets_the_upper_soil_again() -> None:
    run = drying(
        [5.0, 5.0], [0.0, 30.0], basal=0.15, largest=1.2, evaporable_mm=20.0, readily_mm=9.0, start_mm=20.0
    )
    assert run.evaporation_factor.tolist() == [0.0, 0.0]  # a dry morning decides the day, as eq. 74 has it
    assert run.depletion_mm.tolist() == [20.0, 0.0]


def test_upper_soil_of_a_loam_holds_what_table_19_says() -> None:
    """TEW of a loam at 0.25 and 0.12 over 0.10 m is 19 mm; the table prints 16 to 22."""
    assert evaporable_water(0.25, 0.12, 0.10) == pytest.approx(19.0)


@pytest.mark.parametrize(("readily", "exposed"), [(20.0, 1.0), (-1.0, 1.0), (9.0, 0.0)])
def test_soil_without_water_to_give_is_refused(readily: float, exposed: float) -> None:
    with pytest.raises(InputError):
        drying([5.0], [0.0], basal=0.15, largest=1.2, evaporable_mm=20.0, readily_mm=readily, exposed=exposed)


@pytest.mark.check("W-08-18", source="Texas evapotranspiration network", status="computed")
def test_texas_rule_counts_the_middle_of_a_rain() -> None:
    rain_in = np.array([0.05, 0.1, 0.5, 1.0, 1.5, 2.0, 2.5])
    counted = [0.0, 0.0, 0.4, 0.9, 1.2333, 1.5667, 1.5667]
    assert texas(rain_in * IN_MM) / IN_MM == pytest.approx(counted, abs=5e-5)


@pytest.mark.check("W-08-19", source="FAO training manual 3", status="second-hand")
def test_fao_rule_counts_part_of_a_month() -> None:
    assert fao_month([60.0, 100.0, 75.0, 10.0]) == pytest.approx([26.0, 55.0, 35.0, 0.0])


@pytest.mark.check("W-08-20", source="USDA-SCS formula", status="from memory")
@pytest.mark.parametrize(("rain_in", "used_in", "counted_in"), [(3.0, 5.0, 2.166), (4.0, 6.0, 2.947)])
def test_soil_conservation_service_formula(rain_in: float, used_in: float, counted_in: float) -> None:
    assert scs_month(rain_in * IN_MM, used_in * IN_MM) / IN_MM == pytest.approx(counted_in, abs=5e-4)


def test_no_more_rain_counts_than_fell_or_is_used() -> None:
    assert scs_month([0.0, 100.0], [100.0, 20.0]) == pytest.approx([0.0, 20.0])
