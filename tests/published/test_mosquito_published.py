"""Screens, larvicide and the growth of larvae against what districts, labels and a laboratory say of them."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from dooryard.water.mosquito import days_in_water, doses, mesh_opening

IN_MM, FT2_M2, GAL_L = 25.4, 0.09290304, 3.785411784


@pytest.mark.check("W-10-2", source="an inch over the meshes less 0.011 in of wire", status="computed")
@pytest.mark.parametrize(("mesh", "opening_mm"), [(16, 1.308), (18, 1.132), (20, 0.991)])
def test_screen_openings_of_usual_meshes(mesh: int, opening_mm: float) -> None:
    assert mesh_opening(mesh, 0.011 * IN_MM) == pytest.approx(opening_mm, abs=5e-4)


@pytest.mark.check("W-10-1", source="Marin/Sonoma vector control: openings of at most 1/16 in", status="seen")
def test_screen_of_sixteen_meshes_keeps_below_a_sixteenth_of_an_inch(knowledge: Any) -> None:
    mesh, wire = knowledge.fact("mosquito.screen_mesh").value, knowledge.fact("mosquito.screen_wire").value
    assert mesh == 16
    assert mesh_opening(mesh, wire) < IN_MM / 16
    assert knowledge.fact("mosquito.screen_opening").value == pytest.approx(IN_MM / 16)


@pytest.mark.check("W-10-4", source="label text and fact sheets of Bti for containers", status="second-hand")
def test_larvicide_lasts_from_a_day_to_thirty(knowledge: Any) -> None:
    assert knowledge.fact("larvicide.bti_lasts").value == 30
    assert knowledge.fact("larvicide.bti_lasts_least").value == 1
    # A season of 183 days (1 April to 30 September) wants seven times thirty days.
    assert doses(183, knowledge.fact("larvicide.bti_lasts").value) == 7


@pytest.mark.check("W-10-5", source="100 sq ft a ring, a barrel of 22.5 in", status="computed")
def test_larvicide_ring_covers_thirty_six_barrels_by_surface(knowledge: Any) -> None:
    surface_m2 = pi / 4 * (22.5 * IN_MM / 1000) ** 2
    assert surface_m2 / FT2_M2 == pytest.approx(2.76, abs=0.005)
    rings = knowledge.fact("larvicide.surface_per_ring").value
    assert rings == pytest.approx(100 * FT2_M2, rel=1e-5)
    assert round(rings / surface_m2) == 36


@pytest.mark.check(
    "practice-half-a-ring", source="trainers' handouts: half a ring a barrel", status="common practice"
)
def test_half_a_ring_is_far_more_than_the_surface_of_a_barrel_asks(knowledge: Any) -> None:
    """Half of a ring for 100 sq ft is made for 50 sq ft, 18 times a barrel's surface: a least part, not a dose."""
    half = knowledge.fact("larvicide.ring_share").value * knowledge.fact("larvicide.surface_per_ring").value
    assert half / (2.76 * FT2_M2) == pytest.approx(18, abs=0.2)


@pytest.mark.check(
    "W-10-6", source="Walker 1995, LC50 0.1, 0.2 and 0.9 ppm at 22, 4 and 0 degC", status="seen"
)
def test_larvicide_in_ice_water_needs_nine_times_as_much(knowledge: Any) -> None:
    assert knowledge.fact("larvicide.cold_dose_ratio").value == pytest.approx(0.9 / 0.1)


@pytest.mark.check(
    "W-10-9", source="Rutgers fact sheet as quoted by Illinois Extension", status="second-hand"
)
def test_barrel_is_washed_with_three_per_cent_of_bleach(knowledge: Any) -> None:
    assert knowledge.fact("quality.bleach_wash").value == 0.03
    assert knowledge.fact("quality.bleach_wait").value == 24


@pytest.mark.check("W-10-12", source="Colorado State University Extension, House Bill 16-1005", status="seen")
def test_colorado_allows_two_barrels_of_fifty_five_gallons(knowledge: Any) -> None:
    assert knowledge.fact("rules.colorado_volume").value / GAL_L == pytest.approx(110, rel=1e-5)


@pytest.mark.check(
    "W-10-14", source="reviews of roofing tests; zinc noted by Connecticut Extension", status="from memory"
)
def test_roofs_to_keep_off_food_plants_are_marked_so(knowledge: Any) -> None:
    coverings = knowledge.coverings
    assert coverings["metal-galvanized"].edible == "no"
    assert {key for key, row in coverings.items() if row.edible not in ("no", "with care", "yes")} == set()
    assert not [key for key, row in coverings.items() if row.edible == "yes"]


@pytest.mark.check("mosquito-heat", source="Loetti 2011: 199.5 degree-days above 5.5 degC", status="seen")
@pytest.mark.parametrize(("t_c", "days"), [(15.5, 19.95), (25.5, 9.975), (5.5, float("inf"))])
def test_culex_from_hatch_to_flight(knowledge: Any, t_c: float, days: float) -> None:
    """Ten degrees above the base take a tenth of the heat a day; at the base it never ends."""
    base, heat = knowledge.fact("mosquito.base").value, knowledge.fact("mosquito.heat").value
    assert float(days_in_water(t_c, base, heat)) == pytest.approx(days)


@pytest.mark.check("W-10-7", source="Rutgers fact sheet FS1218", status="seen")
def test_water_near_food_plants_goes_on_the_soil_in_the_morning(knowledge: Any) -> None:
    caution = knowledge.cautions["water.edibles"]
    for words in ("the soil only", "in the morning", "do not pick right after", "wash what you pick"):
        assert words in caution.text
    assert (caution.source, caution.status) == ("W-RUTGERS", "seen")
    assert "not drinking water" in knowledge.cautions["water.not_drinking"].text


@pytest.mark.check("W-10-8", source="Rutgers paper as quoted by Illinois Extension", status="second-hand")
def test_no_sample_was_fit_to_drink_and_nine_in_a_hundred_not_to_water_with(knowledge: Any) -> None:
    assert knowledge.fact("quality.over_drinking_limit").value == 1.0
    assert knowledge.fact("quality.over_watering_limit").value == pytest.approx(0.09)


@pytest.mark.check(
    "W-10-10", source="1 fl oz in 55 gal and 1/8 teaspoon in 1 gal, bleach of 5.5 %", status="computed"
)
def test_two_doses_of_bleach_agree_within_fifteen_per_cent(knowledge: Any) -> None:
    """A fluid ounce is 1/128 gal and 6 teaspoons. Bleach of 5.5 % holds 55 mg of chlorine in a millilitre."""
    barrel, can = (knowledge.fact(f"quality.bleach_per_{vessel}").value for vessel in ("barrel", "can"))
    ounce_ml = GAL_L * 1000 / 128
    assert barrel * 55 * GAL_L == pytest.approx(ounce_ml, rel=1e-4)
    assert can * GAL_L == pytest.approx(ounce_ml / 6 / 8, rel=1e-4)
    assert (55 * barrel, 55 * can) == pytest.approx((7.8, 9.0), abs=0.06)
    assert can / barrel == pytest.approx(1.146, abs=5e-4)


@pytest.mark.check("W-10-11", source="chlorine kills what a Bti larvicide is made of", status="from memory")
def test_bleach_and_larvicide_are_kept_apart(knowledge: Any) -> None:
    assert "Chlorine undoes a larvicide" in knowledge.cautions["water.bleach"].text
    assert "never mix it with anything" in knowledge.cautions["water.bleach"].text


@pytest.mark.check("W-10-13", source="plumbing codes: no cross-connection", status="from memory")
def test_barrel_is_never_joined_to_the_house_pipes(knowledge: Any) -> None:
    assert "Never join a barrel" in knowledge.cautions["water.backflow"].text
    assert "to the house water pipes" in knowledge.cautions["water.backflow"].text
    assert knowledge.cautions["water.backflow"].status == "from memory"
