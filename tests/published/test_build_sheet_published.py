"""Published barrel designs read against our build sheet: each part, tool, hole and step is there, or why not.

The lists are what each design names, in our words; the names of products are left out.
"""

from __future__ import annotations

from datetime import date

import pytest

from dooryard import knowledge
from dooryard.plan.build_report import build
from dooryard.plan.kit_report import kit
from dooryard.water.build_measures import hole_m
from dooryard.water.workshop import drills
from tests.build_yards import GALLON_L, INCH_M, barrel, yard

ON = date(2031, 5, 20)
KNOWN = knowledge.load()

# What a design names, and the part or tool of ours that is it.
TENNESSEE = {
    "food-grade 55 gal drum": "barrel",
    "3/4 in hose bibb": "spigot",
    "thread tape": "thread-tape",
    "caulk": "sealant",
    "1 1/2 in hose": "overflow-hose",
    "adapter of the hose": "overflow-adapter",
    "1 1/2 in locknut": "overflow-nut",
    "1 1/2 in 90-degree elbow": "overflow-elbow",
    "flexible downspout section": "flexible-downspout",
    "two sheet-metal screws": "downspout-screw",
    "downspout strainer": "strainer",
}
TENNESSEE_TOOLS = {
    "strong drill": "drill",
    "4 in hole saw": "inlet-saw",
    "1 7/8 in hole saw": "overflow-saw",
    "1/4 in pilot bit": "pilot",
    "1 in bit": "spade-bit",
    "hex driver bit": "hex-bit",
    "utility knife": "knife",
    "safety glasses": "safety-glasses",
    "gloves": "gloves",
}
TENNESSEE_STEPS = (
    "past",  # clean the barrel
    "spout",  # choose the downspout
    "gather",  # gather tools
    "hole-inlet",
    "hole-spigot",
    "hole-overflow",
    "fit-spigot",
    "fit-overflow",
    "join",  # fit the flexible section with its screws and strainer
)
WINCHESTER = {
    "hose bibb, 1 in outside": "spigot",
    "two washers": "spigot-washer",
    "locknut": "spigot-nut",
    "silicone sealant": "sealant",
    "bricks or cinder blocks": "block",
    "screening": "screen",
    # Coarse wire keeps leaves and mice out: the strainer and a closed head do that here.
    "hardware cloth": "strainer",
}
WINCHESTER_TOOLS = {
    "drill": "drill",
    "1 in bit": "spade-bit",
    "wrench, pliers": "wrench",
    "screwdriver": "screwdriver",
    "utility knife": "knife",
    "small saber saw": "jigsaw",
    "scissors": "scissors",
    "hacksaw": "hacksaw",
}
LEE_TOOLS = {
    "drill": "drill",
    "spade bit": "spade-bit",
    "jigsaw": "jigsaw",
    "marking pens": "marker",
    "safety glasses": "safety-glasses",
    "hacksaw": "hacksaw",
}


def named_parts() -> str:
    parts = next(stop.table for stop in build(yard(), KNOWN, ON).walk if stop.id == "parts")
    assert parts is not None
    return "\n".join(row[0] for row in parts.rows)


def named_tools() -> set[str]:
    tools = next(stop.table for stop in build(yard(), KNOWN, ON).walk if stop.id == "tools")
    assert tools is not None
    return {row[0] for row in tools.rows}


def holds_parts(design: dict[str, str]) -> None:
    listed = named_parts()
    for item, key in design.items():
        name = KNOWN.parts[key].name.replace("{overflow}", "1 1/2 in")
        assert name in listed, item


def holds_tools(design: dict[str, str]) -> None:
    listed = named_tools()
    for item, key in design.items():
        assert KNOWN.tools[key].name in listed, item


@pytest.mark.check(
    "P-1.3-tennessee-design",
    source="University of Tennessee Extension, drum with 1 1/2 in overflow",
    status="second-hand",
)
def test_build_sheet_has_every_part_and_tool_of_a_university_design() -> None:
    holds_parts(TENNESSEE)
    holds_tools(TENNESSEE_TOOLS)


@pytest.mark.check(
    "P-1.3-tennessee-steps", source="University of Tennessee Extension, order of work", status="second-hand"
)
def test_build_sheet_has_every_step_of_a_university_design_in_its_order() -> None:
    order = [key for key in KNOWN.steps if key in TENNESSEE_STEPS]
    assert order == list(TENNESSEE_STEPS)
    rows = [row[1] for stop in build(yard(), KNOWN, ON).walk if stop.table for row in stop.table.rows]
    for key in TENNESSEE_STEPS:
        opening = KNOWN.steps[key].text.split("{")[0][:24]
        assert any(row.startswith(opening) for row in rows), key


@pytest.mark.check(
    "P-1.3-tennessee-holes",
    source="University of Tennessee Extension: inlet 4 in, spigot 1 in, overflow 1 7/8 in; 2 in up, 3 in down",
    status="second-hand",
)
def test_build_sheet_holes_are_those_of_a_university_design() -> None:
    assert KNOWN.fact("hole.inlet").value == pytest.approx(4 * INCH_M)
    assert KNOWN.fact("hole.spigot").value == pytest.approx(1 * INCH_M)
    assert hole_m(KNOWN, 1.5 * INCH_M) == pytest.approx(1.875 * INCH_M)
    # A barrel drilled as the design says is drawn without a word against it.
    drilled = barrel(outlet_height_m=2 * INCH_M, overflow_height_m=(35 - 3 - 0.75) * INCH_M)
    plan = build(yard(drilled), KNOWN, ON)
    heights = {mark["part"]: mark["at"] for mark in plan.charts[0]["heights"]}
    assert heights["spigot"] == pytest.approx(16 + 2)
    assert heights["overflow"] == pytest.approx(16 + 35 - 3)
    said = " ".join(text for stop in plan.walk for text in stop.sentences)
    assert "On a stand the spigot is usually" not in said


@pytest.mark.check("P-1.3-winchester-design", source="City of Winchester, make a rain barrel", status="seen")
def test_build_sheet_has_every_part_and_tool_of_a_citys_design() -> None:
    holds_parts(WINCHESTER)
    holds_tools(WINCHESTER_TOOLS)


@pytest.mark.check(
    "P-1.3-lee-county-tools",
    source="Lee County Extension: tools; a 7/8 in hole with a threading tap",
    status="second-hand",
)
def test_build_sheet_has_a_countys_tools_and_says_why_it_takes_no_threading_tap() -> None:
    holds_tools(LEE_TOOLS)
    plan = build(yard(), KNOWN, ON)
    said = " ".join(text for stop in plan.walk for text in stop.sentences)
    assert KNOWN.fact("hole.spigot").low == pytest.approx(0.875 * INCH_M, abs=0.0001)
    assert "from 7/8 in to 1 in" in said
    assert "no tap is needed" in said


@pytest.mark.check(
    "P-1.3-lee-county-overflow",
    source="Lee County Extension: overflow through 3/4 in elbows",
    status="second-hand",
)
def test_build_sheet_draws_a_narrow_overflow_but_says_that_it_is_too_narrow() -> None:
    plan = build(yard(barrel(overflow_bore_m=0.75 * INCH_M)), KNOWN, ON)
    said = " ".join(text for stop in plan.walk for text in stop.sentences)
    assert "narrower than the downspout" in said
    assert "water.overflow_small" in plan.cautions


@pytest.mark.check("P-1in-hole-for-bibb", source="rain-barrel handouts", status="common practice")
def test_one_inch_hole_for_a_three_quarter_bibb_is_just_under_its_thread() -> None:
    """Pipe thread of 3/4 in is 1.050 in outside: a 1 in hole grips it in plastic, a 3/4 in hole would not take it."""
    thread = 1.050 * INCH_M
    hole = KNOWN.fact("hole.spigot").value
    assert 0.94 < hole / thread < 1.0


@pytest.mark.check("P-spigot-3-4-in-up", source="rain-barrel handouts", status="common practice")
@pytest.mark.parametrize(("up_in", "usual"), [(3, True), (4, True), (2, True), (8, False), (1, False)])
def test_spigot_three_to_four_inches_up_passes_and_other_heights_are_told(up_in: float, usual: bool) -> None:
    plan = build(yard(barrel(outlet_height_m=up_in * INCH_M)), KNOWN, ON)
    said = " ".join(text for stop in plan.walk for text in stop.sentences)
    assert ("On a stand the spigot is usually" not in said) == usual


@pytest.mark.check(
    "P-1.3-spigot-8-in-strands", source="Lee County Extension: spigot 8 in up; 8 of 35 in", status="computed"
)
def test_spigot_eight_inches_up_strands_nearly_a_quarter() -> None:
    low = barrel(outlet_height_m=8 * INCH_M)
    assert low.dead_l / low.volume_l == pytest.approx(8 / 35)
    assert barrel().dead_l / GALLON_L == pytest.approx(55 * 3 / 35)


@pytest.mark.check(
    "P-1.13-drills",
    source="extension workshop trainers: 3 to 4 drills for 20 drums",
    status="common practice",
)
def test_workshop_of_twenty_takes_three_to_four_drills() -> None:
    each = KNOWN.fact("kit.hole_minutes")
    minutes, holes = KNOWN.fact("kit.drilling_minutes").value, KNOWN.fact("kit.holes").value
    assert each.low is not None
    assert each.high is not None
    assert (drills(20, holes, each.low, minutes), drills(20, holes, each.high, minutes)) == (3, 4)


@pytest.mark.check("P-1.13-two-hours", source="extension workshop trainers", status="common practice")
def test_workshop_talk_build_and_survey_fill_two_hours() -> None:
    """30 min of talk, 60 to 75 of building, 15 of questions: 105 to 120 min. Sign-in and sweeping come on top."""
    steps = [KNOWN.steps[f"run-{part}"] for part in ("talk", "build", "survey")]
    low = sum(step.minutes_low or 0 for step in steps)
    high = sum(step.minutes_high or 0 for step in steps)
    assert low <= 120 <= high
    assert low == 105


@pytest.mark.check(
    "P-1.13-spares", source="extension workshop trainers: one part in ten", status="common practice"
)
def test_workshop_of_twenty_takes_two_spare_bibbs() -> None:
    table = next(stop.table for stop in kit(20, KNOWN, ON).walk if stop.name == "Shopping list")
    assert table is not None
    assert {row[0]: row[1] for row in table.rows}["3/4 in hose bibb"] == "22"


@pytest.mark.check(
    "P-1.12-built-cost", source="trainers: $40 to $70 for drum and fittings", status="from memory"
)
def test_workshop_cost_of_drum_and_fittings_overlaps_what_trainers_say() -> None:
    figure = kit(20, KNOWN, ON).figures["kit.barrel-cost"]
    assert isinstance(figure.low, float)
    assert isinstance(figure.high, float)
    assert figure.low < 70 < figure.high


@pytest.mark.check(
    "P-1.2-two-courses",
    source="rain-barrel handouts: 16 in is two courses of block",
    status="common practice",
)
def test_stand_of_sixteen_inches_is_two_courses_of_four_blocks() -> None:
    plan = build(yard(), KNOWN, ON)
    rows = [row[1] for stop in plan.walk if stop.table for row in stop.table.rows]
    blocks = next(figure for key, figure in plan.figures.items() if key.endswith(".blocks"))
    assert blocks.value == 8
    assert any("2 courses" in row for row in rows)
