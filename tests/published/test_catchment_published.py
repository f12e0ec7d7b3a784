"""Roof arithmetic against printed figures and exact conversions (inch, foot and gallon are exact)."""

import numpy as np
import pytest

from dooryard.knowledge import load
from dooryard.water.catchment import (
    five_percent_of_demand,
    five_percent_of_yield,
    rain_volume,
    runoff,
    slope_ratio,
    wind_driven_area,
)

IN_MM = 25.4
FT_M = 0.3048
FT2_M2 = 0.09290304
GAL_L = 3.785411784


@pytest.mark.check("W-00-5", source="definition of the litre", status="computed")
def test_one_millimetre_on_one_square_metre_is_one_litre():
    assert float(rain_volume(1.0, 1.0)) == 1.0
    assert runoff([1.0], 1.0, 1.0).tolist() == [1.0]


@pytest.mark.check("W-01-1", source="exact conversions; rule of 623 gal", status="common practice")
def test_an_inch_on_a_thousand_square_feet_is_about_623_gallons():
    gallons = float(rain_volume(IN_MM, 1000 * FT2_M2)) / GAL_L
    assert gallons == pytest.approx(623.377, rel=1e-5)
    assert round(gallons) == 623


@pytest.mark.check("W-01-2", source="Purdue Extension, 10 by 20 ft roof", status="seen")
def test_ten_by_twenty_feet_prints_124_gallons_with_the_rounded_factor():
    gallons = float(rain_volume(IN_MM, 10 * 20 * FT2_M2)) / GAL_L
    assert gallons == pytest.approx(124.675, abs=0.0005)
    assert gallons * 0.62 / (144 / 231) == pytest.approx(124, abs=0.5)  # the bulletin multiplies by 0.62


@pytest.mark.check("W-01-3", source="Colorado State University Extension", status="seen")
def test_half_an_inch_on_two_hundred_square_feet_overfills_a_55_gallon_barrel():
    gallons = float(rain_volume(0.5 * IN_MM, 200 * FT2_M2)) / GAL_L
    assert gallons == pytest.approx(62.338, abs=0.0005)
    assert gallons > 55


@pytest.mark.check("W-01-4", source="San Francisco fact sheet, 45 by 25 ft, 22 in", status="seen")
def test_a_year_of_rain_differs_from_the_sheet_by_its_rounding_of_feet():
    gallons = float(rain_volume(22 * IN_MM, 45 * 25 * FT2_M2)) / GAL_L
    assert gallons == pytest.approx(15428.57, abs=0.005)
    assert gallons * 1.84 / (22 / 12) == pytest.approx(15484, abs=1)  # it wrote 22 in as 1.84 ft


@pytest.mark.check("W-01-5", source="exact conversions", status="computed")
def test_an_inch_on_a_hundred_square_metres_is_2540_litres():
    litres = float(rain_volume(IN_MM, 100.0))
    assert litres == pytest.approx(2540.0, rel=1e-12)
    assert litres / GAL_L == pytest.approx(670.997, abs=0.0005)


@pytest.mark.check("W-01-6", source="geometry of the pitch", status="computed")
@pytest.mark.parametrize(
    ("rise", "ratio"), [(3, 1.03078), (4, 1.05409), (6, 1.11803), (8, 1.20185), (12, 1.41421)]
)
def test_slope_ratio_of_common_pitches(rise, ratio):
    assert slope_ratio(rise, 12) == pytest.approx(ratio, abs=5e-6)


@pytest.mark.check("W-01-7", source="EN 12056-3 as given by trade guides", status="second-hand")
def test_wind_driven_area_of_a_ten_metre_eaves():
    assert wind_driven_area(10.0, 5.0, 3.0) == 65.0


@pytest.mark.check("W-01-8", source="event form of the loss model", status="computed")
@pytest.mark.parametrize(("rain_mm", "litres"), [(0.4, 0.0), (1.0, 5.067), (5.0, 138.847), (25.4, 821.127)])
def test_single_event_pays_wetting_then_first_flush(rain_mm, litres):
    found = runoff([0.0, rain_mm, 0.0], 400 * FT2_M2, 0.9, 0.4, 15.0, 1.0)
    assert found.tolist() == pytest.approx([0.0, litres, 0.0], abs=1e-3)


@pytest.mark.check("W-01-9", source="monthly depths times area times 0.85", status="computed")
def test_monthly_volumes_from_400_square_feet():
    inches = np.array([2.1, 1.9, 3.0, 3.4, 4.1, 3.9, 3.6, 3.3, 3.2, 2.8, 2.9, 2.5])
    printed = [445.1, 402.7, 635.8, 720.6, 869.0, 826.6, 763.0, 699.4, 678.2, 593.5, 614.6, 529.9]
    gallons = rain_volume(inches * IN_MM, 400 * FT2_M2, 0.85) / GAL_L
    assert gallons.tolist() == pytest.approx(printed, abs=0.05)
    assert gallons.sum() == pytest.approx(7778.5, abs=0.05)


@pytest.mark.check("W-01-10", source="BS 8515 rule as applied by a design guide", status="second-hand")
def test_five_percent_of_a_year_of_yield():
    assert five_percent_of_yield(100.0, 0.8, 0.9, 800.0) == pytest.approx(2880.0, rel=1e-12)


@pytest.mark.check("W-01-11", source="BS 8515 rule as applied by a design guide", status="second-hand")
def test_five_percent_of_a_year_of_demand():
    assert five_percent_of_demand(50.0, 3) == pytest.approx(2737.5, rel=1e-12)


@pytest.mark.check("W-00-1", source="exact conversions; table of facts", status="computed")
def test_table_of_facts_holds_the_gallons_of_an_inch_on_a_square_foot():
    fact = load().fact("roof.gallons_per_sq_ft_in")
    assert fact.value == pytest.approx(float(rain_volume(IN_MM, FT2_M2)) / GAL_L, abs=5e-6)
