"""Amounts against printed examples: mulch, plugs, torn bark, mixtures, drenches, tree spray, tree water."""

from __future__ import annotations

import math

import pytest

from dooryard import units
from dooryard.care import mix, mulch, soil_report, spacing, tree_water
from dooryard.care.measures import FL_OZ_L, GALLON_L, TABLESPOON_L, kitchen
from dooryard.care.wound import Wound, share_lost

INCH_M, FOOT_M = 0.0254, 0.3048
SQ_FT_M2, CU_FT_L = FOOT_M**2, FOOT_M**3 * 1000
CU_YD_L = 27 * CU_FT_L


@pytest.mark.check("T-13", source="324 sq ft to the cubic yard at 1 in", status="computed")
@pytest.mark.check("S-07-02", source="324 sq ft to the cubic yard at 1 in", status="computed")
@pytest.mark.parametrize(("depth_in", "square_feet"), [(1, 324), (2, 162), (3, 108), (4, 81)])
def test_mulch_of_a_cubic_yard_covers_the_printed_area(depth_in: float, square_feet: float) -> None:
    assert mulch.volume_l(square_feet * SQ_FT_M2, depth_in * 25.4) == pytest.approx(CU_YD_L, rel=1e-9)


@pytest.mark.check("S-07-02", source="ring 8 ft across less 6 in radius, 3 in deep", status="computed")
def test_mulch_of_a_ring_needs_seven_bags() -> None:
    area = mulch.ring_area_m2(4 * FOOT_M, 0.0, 6 * INCH_M)
    volume = mulch.volume_l(area, 3 * 25.4)
    assert volume / CU_YD_L == pytest.approx(0.458, abs=0.0005)
    assert volume / CU_FT_L == pytest.approx(12.37, abs=0.005)
    assert mulch.bags(volume, 2 * CU_FT_L) == 7


@pytest.mark.check("S-07-02", source="border of 60 by 3 ft, 2 in deep", status="computed")
def test_mulch_of_a_border_is_the_printed_volume() -> None:
    assert mulch.volume_l(180 * SQ_FT_M2, 2 * 25.4) / CU_YD_L == pytest.approx(1.11, abs=0.005)


@pytest.mark.check("S-07-03", source="30 in around, 7 in torn", status="computed")
def test_wound_of_seven_inches_on_thirty_is_the_printed_share() -> None:
    assert share_lost(30 * INCH_M, [Wound(7 * INCH_M)]) == pytest.approx(0.233, abs=0.0005)


@pytest.mark.check("S-07-03", source="height does not matter, two sides add", status="from memory")
def test_wound_on_two_sides_adds_and_an_overlap_does_not() -> None:
    apart = share_lost(1.0, [Wound(0.2, 0.0), Wound(0.1, 0.5)])
    over = share_lost(1.0, [Wound(0.2, 0.0), Wound(0.1, 0.15)])
    assert apart == pytest.approx(0.3)
    assert over == pytest.approx(0.25)


@pytest.mark.check("S-04-10", source="2 % by volume of a gallon and of 0.757 L", status="computed")
def test_percent_by_volume_is_the_printed_amount() -> None:
    rate = mix.rate_from_percent(2)
    assert mix.product_for_water_l(rate, GALLON_L) / FL_OZ_L == pytest.approx(2.56, abs=1e-9)
    assert mix.product_for_water_l(rate, 0.757) * 1000 == pytest.approx(15.1, abs=0.05)


@pytest.mark.check("S-04-11", source="2 gal at 2.5 fl oz per gal in a fixed-ratio jar", status="computed")
def test_fixed_ratio_jar_holds_the_printed_amount() -> None:
    rate = 2.5 * FL_OZ_L / GALLON_L
    assert mix.fixed_ratio_jar_l(rate, 2 * GALLON_L) / FL_OZ_L == pytest.approx(5.0)
    assert mix.dial_setting(rate) == pytest.approx(2.5)


@pytest.mark.check("S-04-12", source="cylinder of crown, 0.918 gal per 1,000 cubic feet", status="computed")
@pytest.mark.parametrize(("width_ft", "height_ft", "gallons"), [(10, 12, 0.87), (20, 25, 7.2)])
def test_tree_spray_of_a_cylinder_is_the_printed_volume(
    width_ft: float, height_ft: float, gallons: float
) -> None:
    per_volume = 0.918 * GALLON_L / (1000 * FOOT_M**3)
    spray = mix.tree_spray_l(width_ft * FOOT_M, height_ft * FOOT_M, per_volume)
    assert spray / GALLON_L == pytest.approx(gallons, rel=0.01)


@pytest.mark.check("S-04-13", source="1 fl oz per inch of girth; 32 in around", status="computed")
def test_drench_by_girth_is_the_printed_amount() -> None:
    girth = 32 * INCH_M
    assert mix.product_for_trunk(FL_OZ_L / INCH_M, girth) / FL_OZ_L == pytest.approx(32)
    assert mix.trunk_diameter_m(girth) / INCH_M == pytest.approx(10.2, abs=0.05)


@pytest.mark.check(
    "T-9", source="two label rates by two routes: 1.43 and 1.4 g per inch across", status="computed"
)
def test_drench_by_girth_agrees_with_the_rate_by_width() -> None:
    """A household drench of 1.47 in 100 gives 0.456 g to the fl oz; offices print 1.4 g to the inch of trunk."""
    girth = 32 * INCH_M
    active_g = mix.product_for_trunk(FL_OZ_L / INCH_M, girth) / FL_OZ_L * 0.456
    assert active_g == pytest.approx(14.6, abs=0.05)
    per_inch_g = active_g / (mix.trunk_diameter_m(girth) / INCH_M)
    assert per_inch_g == pytest.approx(1.43, abs=0.005)
    assert per_inch_g == pytest.approx(1.4, rel=0.05)


@pytest.mark.check(
    "S-06-06", source="1.5 gal per inch, 2 in tree: 42 gal in two weeks, then 90", status="seen"
)
def test_tree_water_of_a_two_inch_tree_is_the_printed_total() -> None:
    each = tree_water.per_watering_l(2 * INCH_M, 1.5 * GALLON_L / INCH_M)
    assert each / GALLON_L == pytest.approx(3)
    daily, alternate = tree_water.Stage(14, 1), tree_water.Stage(60, 2)
    assert tree_water.stage_total_l(daily, each) / GALLON_L == pytest.approx(42)
    assert tree_water.stage_total_l(alternate, each) / GALLON_L == pytest.approx(90)


@pytest.mark.check(
    "P-4.5", source="3 tsp to the Tbsp, 2 Tbsp to the fl oz, 128 fl oz to the gal", status="common practice"
)
def test_kitchen_measures_agree_with_the_trade_and_the_unit_table() -> None:
    ounce = kitchen(units.parse("1 fl oz", "volume"))
    assert (ounce.tablespoons, ounce.teaspoons) == (pytest.approx(2), pytest.approx(6))
    assert ounce.millilitres == pytest.approx(29.57, abs=0.005)
    assert units.parse("1 gal", "volume") / FL_OZ_L == pytest.approx(128)


def test_tomato_mix_is_nine_teaspoons_for_a_gallon_and_a_half() -> None:
    """2 Tbsp per gallon in 1.5 gal, reckoned by hand: 3 Tbsp = 9 tsp = 1.5 fl oz = 44.4 mL."""
    rate = 2 * TABLESPOON_L / GALLON_L
    product = mix.product_for_water_l(rate, 1.5 * GALLON_L)
    found = kitchen(product)
    assert found.tablespoons == pytest.approx(3)
    assert found.teaspoons == pytest.approx(9)
    assert found.fluid_ounces == pytest.approx(1.5)
    assert found.millilitres == pytest.approx(44.4, abs=0.05)
    assert mix.rate_of_mix(product, 1.5 * GALLON_L) == pytest.approx(rate)


def test_mower_wound_changes_its_class_with_a_third_wound_and_the_ring_takes_four_bags() -> None:
    """Girth 22 in, wounds of 4.5, 3.0 and 4 in; ring to 3 ft, 3 in deep, 6 in clear of a 7 in trunk. By hand."""
    girth = 22 * INCH_M
    two = [Wound(4.5 * INCH_M), Wound(3.0 * INCH_M)]
    assert share_lost(girth, two) == pytest.approx(0.341, abs=0.0005)
    assert share_lost(girth, [*two, Wound(4 * INCH_M)]) == pytest.approx(0.523, abs=0.0005)
    area = mulch.ring_area_m2(3 * FOOT_M, 7 * INCH_M, 6 * INCH_M)
    volume = mulch.volume_l(area, 3 * 25.4)
    assert area / SQ_FT_M2 == pytest.approx(26.3, abs=0.05)
    assert volume / CU_FT_L == pytest.approx(6.6, abs=0.05)
    assert mulch.bags(volume, 2 * CU_FT_L) == 4


def test_ground_cover_mat_gives_the_plugs_and_spacings_reckoned_by_hand() -> None:
    """Mat of 6 by 5 ft in 4 in plugs, a tenth lost, onto 180 sq ft."""
    plugs = spacing.plugs_from_mat(6 * FOOT_M, 5 * FOOT_M, 4 * INCH_M)
    live = spacing.living(plugs, 0.10)
    area = 180 * SQ_FT_M2
    assert (plugs, live) == (270, 243)
    assert spacing.square_spacing_m(area, live) / INCH_M == pytest.approx(10.3, abs=0.05)
    assert spacing.square_count(area, 8 * INCH_M) == 405
    assert spacing.triangular_count(area, 8 * INCH_M) == 468
    assert spacing.triangular_spacing_m(area, 468) / INCH_M == pytest.approx(8.0, abs=0.005)


def test_wide_wound_is_worse_than_a_tall_one_on_the_same_trunk() -> None:
    """Common practice: on a 5 in trunk 3 in wide and 5 tall is better than 5 wide and 3 tall."""
    girth = math.pi * 5 * INCH_M
    assert share_lost(girth, [Wound(3 * INCH_M)]) < 0.25 < share_lost(girth, [Wound(5 * INCH_M)])


@pytest.mark.check(
    "P-8", source="rate x 100 / CCE; at most 50 lb on 1,000 sq ft at once", status="second-hand"
)
def test_lime_is_corrected_for_its_strength_and_split_at_fifty_pounds() -> None:
    pound, ground = 0.45359237, 1000 * SQ_FT_M2
    found = soil_report.lime(60 * pound / ground, 400 * SQ_FT_M2, 0.9, 50 * pound / ground)
    assert found.total_kg / pound == pytest.approx(60 * 100 / 90 * 0.4)
    assert found.times == 2
    assert found.each_kg * found.times == pytest.approx(found.total_kg)


def test_fertilizer_carries_the_nutrient_that_was_asked_for() -> None:
    """1 lb of nitrogen on 1,000 sq ft from 10-6-4 is 10 lb of it, by the meaning of the grade."""
    pound, ground = 0.45359237, 1000 * SQ_FT_M2
    assert soil_report.fertilizer_kg(pound / ground, ground, 0.10) / pound == pytest.approx(10)
