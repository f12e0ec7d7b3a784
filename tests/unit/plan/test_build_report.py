"""The build sheet and the workshop in words: nothing made up, each caution at its step, lists that add up."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import jsonschema
import pytest

from dooryard import knowledge
from dooryard.letter import data, page, screen
from dooryard.plan.build_report import build
from dooryard.plan.document import Plan
from dooryard.plan.kit_report import kit, kits_from_text
from dooryard.plan.tape import tape_words
from dooryard.problem import InputError
from tests.build_yards import FOOT_M, INCH_M, barrel, yard

ON = date(2031, 5, 20)
KNOWN = knowledge.load()
SCHEMA = Path(__file__).parents[3] / "src/dooryard/plan/plan.schema.json"


def told(plan: Plan) -> str:
    return " ".join(screen.render(plan.document(), width=4000).split())


@pytest.mark.parametrize("units", ["us", "metric"])
def test_build_document_fits_the_schema_and_every_form(units: str) -> None:
    import json

    document = build(yard(units=units), KNOWN, ON).document()
    jsonschema.validate(document, json.loads(SCHEMA.read_text(encoding="utf-8")))
    assert document["report"] == "build"
    assert document["station"] is None
    assert data.render(document)
    assert "<svg" in page.render(document)


def test_build_of_a_full_yard_file_refuses_nothing() -> None:
    plan = build(yard(), KNOWN, ON)
    assert not plan.needs_a_person
    assert "19 in over the ground line" in told(plan)
    assert "Cut the downspout 63 in" in told(plan)
    assert "8 blocks in 2 courses" in told(plan)


def test_build_with_a_measure_missing_draws_nothing_and_names_the_key() -> None:
    plan = build(yard(barrel(outlet_height_m=None)), KNOWN, ON)
    assert plan.needs_a_person
    assert plan.charts == ()
    assert 'outlet_height = "3 in"' in told(plan)
    assert "Drill" not in told(plan)


def test_build_without_the_grounds_fall_draws_it_flat_and_says_so() -> None:
    plan = build(yard(barrel(ground_drop_m=None)), KNOWN, ON)
    assert plan.charts[0]["fall"] is None
    assert "drawn flat" in " ".join(plan.charts[0]["notes"])
    assert 'ground_drop = "6 in"' in told(plan)


def test_build_without_wall_distance_leaves_the_hose_unsaid() -> None:
    plan = build(yard(barrel(wall_distance_m=None)), KNOWN, ON)
    assert "overflow hose, 1 1/2 in" not in told(plan)
    assert "wall_distance" in told(plan)


def test_build_says_what_is_wrong_with_the_measures_as_written() -> None:
    said = told(
        build(
            yard(barrel(wall_distance_m=3 * FOOT_M, stand_height_m=32 * INCH_M, outlet_height_m=8 * INCH_M)),
            KNOWN,
            ON,
        )
    )
    assert "That is too near: at least 5 ft" in said
    assert "taller than it is wide" in said
    assert "yours is 8 in" in said
    assert "narrower than the downspout" in said  # 1 1/2 in of bore against 2 by 3 in


def test_build_with_a_wide_overflow_does_not_warn_of_it() -> None:
    assert "narrower than the downspout" not in told(
        build(yard(barrel(overflow_bore_m=3 * INCH_M)), KNOWN, ON)
    )


def test_build_warns_of_a_hole_that_would_cut_through_the_rim() -> None:
    """A 3 in bore whose lower edge stands 32 in up a 35 in barrel reaches the rim; 1 1/2 in at 31 in does not."""
    through = barrel(overflow_bore_m=3 * INCH_M, overflow_height_m=32 * INCH_M, height_m=35 * INCH_M)
    clear = barrel(overflow_bore_m=1.5 * INCH_M, overflow_height_m=31 * INCH_M, height_m=35 * INCH_M)
    assert "cut through it" in told(build(yard(through), KNOWN, ON))
    assert "cut through it" not in told(build(yard(clear), KNOWN, ON))


def test_build_puts_each_caution_at_its_step_and_in_full_once() -> None:
    plan = build(yard(), KNOWN, ON)
    rows = [row for stop in plan.walk if stop.table for row in stop.table.rows]
    for step in KNOWN.steps.values():
        if step.caution and step.phase not in ("ahead", "run", "hand-out"):
            assert any(f"Caution: {step.caution}" in row[1] for row in rows), step.key
            assert set(step.cautions) <= set(plan.cautions)
    for key in (
        "not_drinking",
        "children",
        "level_base",
        "electricity",
        "ladder",
        "empty_barrel",
        "backflow",
    ):
        assert f"water.{key}" in plan.cautions


def test_build_of_two_alike_is_drawn_once_and_bought_twice() -> None:
    plan = build(yard(barrel(), barrel(name="front barrel")), KNOWN, ON)
    assert len(plan.charts) == 2
    assert "Build 2 alike" in told(plan)
    parts = next(stop.table for stop in plan.walk if stop.id == "parts")
    assert parts is not None
    assert next(row for row in parts.rows if row[0].startswith("concrete block"))[1] == "16"


def test_build_of_linked_barrels_refuses_the_link_and_asks_no_overflow_of_the_second() -> None:
    first = barrel(linked_to=("second",))
    second = barrel(
        name="second", overflow_height_m=None, overflow_bore_m=None, linked_to=("back barrel",), fed_by=()
    )
    plan = build(yard(first, second), KNOWN, ON)
    assert "water.linked" in plan.cautions
    assert "We will not draw the link of the second" in told(plan)
    assert "spills through the one it is linked to" in told(plan)
    second_chart = next(chart for chart in plan.charts if chart["id"] == "build-second")
    assert {mark["part"] for mark in second_chart["heights"]} == {"rim", "spigot", "stand", "ground"}


def test_build_of_names_that_differ_only_in_signs_keeps_them_apart() -> None:
    plan = build(yard(barrel(name="a b", height_m=0.9), barrel(name="a-b")), KNOWN, ON)
    assert len({chart["id"] for chart in plan.charts}) == 4
    assert len({stop.id for stop in plan.walk}) == len(plan.walk)


def test_build_on_a_stand_narrower_than_a_block_is_refused_by_name() -> None:
    plan = build(yard(barrel(stand_base_m=(0.1, 0.1)), barrel(name="other")), KNOWN, ON)
    assert "We will not draw the back barrel" in told(plan)
    assert [chart["id"] for chart in plan.charts] == ["build-other", "template-other"]


def test_build_of_one_named_barrel_leaves_the_others_out() -> None:
    plan = build(yard(barrel(), barrel(name="front barrel")), KNOWN, ON, storage="front barrel")
    assert "back barrel" not in told(plan)


def test_build_of_a_barrel_that_is_not_there_suggests_the_near_name() -> None:
    with pytest.raises(InputError, match="back barrel"):
        build(yard(), KNOWN, ON, storage="bak barrel")


@pytest.mark.parametrize(
    ("inches", "parts", "words"),
    [
        (48.75, 8, "48 3/4 in"),
        (0.5, 8, "1/2 in"),
        (19, 8, "19 in"),
        (1.875, 16, "1 7/8 in"),
        (11.97, 8, "12 in"),
    ],
)
def test_tape_words_are_read_as_on_a_tape(inches: float, parts: int, words: str) -> None:
    assert tape_words(inches * INCH_M, "us", parts=parts) == words


# --- the workshop ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["0", "-3", "100000", "ten", "1.5", "", "20 kits", "1e3", "٣"])
def test_kit_number_that_makes_no_sense_is_refused_plainly(text: str) -> None:
    with pytest.raises(InputError) as caught:
        kits_from_text(text, KNOWN)
    assert caught.value.problems[0].field == "KITS"
    assert caught.value.problems[0].instead


def test_kit_document_fits_the_schema() -> None:
    import json

    document = kit(20, KNOWN, ON).document()
    jsonschema.validate(document, json.loads(SCHEMA.read_text(encoding="utf-8")))
    assert document["report"] == "kit"


def test_kit_list_of_twenty_has_a_tenth_of_spares_and_whole_packs() -> None:
    """20 and a tenth are 22; two washers each are 44, five packs of ten; drums have no spare."""
    plan = kit(20, KNOWN, ON)
    table = next(stop.table for stop in plan.walk if stop.name == "Shopping list")
    assert table is not None
    rows = {row[0]: row for row in table.rows}
    assert rows["3/4 in hose bibb"][1:3] == ("22", "22")
    assert rows["washer for the bibb"][1:3] == ("44", "5 x pack of 10")
    assert rows["barrel, food grade, closed head"][1] == "20"
    assert rows["concrete block, 8 by 8 by 16 in"][1] == "160"


def test_kit_cost_is_the_list_shared_by_the_households() -> None:
    plan = kit(7, KNOWN, ON)
    table = next(stop.table for stop in plan.walk if stop.name == "Shopping list")
    assert table is not None
    sums = [0.0, 0.0]
    for row in table.rows:
        for end, words in enumerate(row[3].replace("$", "").replace(",", "").split(" to ")):
            sums[end] += float(words)
    low = sum(plan.figures[key].low for key in ("kit.barrel-cost", "kit.stand-cost"))  # type: ignore[misc]
    high = sum(plan.figures[key].high for key in ("kit.barrel-cost", "kit.stand-cost"))  # type: ignore[misc]
    assert [low, high] == pytest.approx([sums[0] / 7, sums[1] / 7])
    assert "from memory" in told(plan)


def test_kit_of_a_yards_barrel_takes_its_measures() -> None:
    plan = kit(4, KNOWN, ON, yard=yard(barrel(stand_height_m=8 * INCH_M)))
    table = next(stop.table for stop in plan.walk if stop.name == "Shopping list")
    assert table is not None
    assert {row[0]: row[1] for row in table.rows}["concrete block, 8 by 8 by 16 in"] == "16"


def test_kit_of_a_barrel_with_a_measure_missing_is_refused_with_its_key() -> None:
    with pytest.raises(InputError, match="height"):
        kit(4, KNOWN, ON, yard=yard(barrel(height_m=None)))


def test_kit_of_a_big_tank_is_no_workshop() -> None:
    with pytest.raises(InputError, match="no drum for a workshop"):
        kit(4, KNOWN, ON, yard=yard(barrel(volume_l=1000.0)))


def test_kit_of_a_yard_with_two_barrels_asks_which() -> None:
    with pytest.raises(InputError, match="front barrel"):
        kit(4, KNOWN, ON, yard=yard(barrel(), barrel(name="front barrel")))
