"""A hard rain at a barrel in words: minutes to fill, fall of the ground, a bed that takes the overflow."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter.prose import spell
from dooryard.plan import barrel_burst, barrel_storm
from dooryard.plan.assemble import Sky
from dooryard.plan.draft import Draft
from dooryard.plan.storages import filling
from dooryard.plan.water_report import water
from dooryard.water import network
from dooryard.yard.model import Bed, Downspout, Roof, Storage
from tests.unit.plan.test_roof_survey_words import FT2, IN, IN_MM, ON, draft, house, table

GAL_L = 3.785411784
ROOF = Roof("roof", 432 * FT2, "asphalt-shingle", "spout")
BARREL = Storage("barrel", 55 * GAL_L, fed_by=("spout",), empties_to="ground")


def drafted(
    knowledge: Knowledge, barrel: Storage, rate_mm_h: float = 3 * IN_MM
) -> tuple[Draft, network.YardRun]:
    made = replace(house(ROOF), storages=(barrel,))
    found = draft(knowledge, made, table(rate_mm_h))
    run, _ = network.run(made, found.record, knowledge, ON)
    return found, run


def spelled(made: Draft, sentences: list[str]) -> str:
    return spell(
        " ".join(sentences), {key: {"shown": figure.shown} for key, figure in made.book.figures.items()}
    )


@pytest.mark.check("P-fills-in-five-minutes", source="rain-barrel workshops", status="common practice")
def test_barrel_fills_in_about_five_minutes_of_hard_rain(knowledge: Knowledge) -> None:
    """A quarter of a usual roof fills 55 gallons in about five minutes at 3 in/h: 0.24 in (0.21 to 0.27) over 3."""
    made, run = drafted(knowledge, BARREL)
    text = spelled(made, barrel_storm.filling(made, run.pools[0]))
    minutes = made.book.figures["storage.barrel.fill-minutes"]
    # 55 gal over 432 sq ft at 0.95 and at 0.75, in inches, at 3 in/h.
    inches = [55 / (432 * 144 / 231 * share) for share in (0.95, 0.75)]
    assert inches == pytest.approx([0.215, 0.272], abs=0.001)
    assert (minutes.low, minutes.high) == pytest.approx([depth / 3 * 60 for depth in inches])
    assert "from empty in 4 to 5 minutes" in text


@pytest.mark.parametrize(
    ("rate_in_h", "words"),
    [(30.0, "in less than 1 minute."), (12.0, "in 1 minute."), (0.5, "in 26 to 33 minutes.")],
)
def test_minutes_are_worded_as_people_count(knowledge: Knowledge, rate_in_h: float, words: str) -> None:
    made, run = drafted(knowledge, BARREL, rate_in_h * IN_MM)
    assert words in spelled(made, barrel_storm.filling(made, run.pools[0]))


def test_barrel_without_a_roof_is_not_filled(knowledge: Knowledge) -> None:
    made, run = drafted(knowledge, replace(BARREL, fed_by=()))
    assert barrel_storm.filling(made, run.pools[0]) == []


@pytest.mark.check(
    "W-06-ground-fall", source="IRC R401.3 as quoted by an inspection bulletin", status="second-hand"
)
@pytest.mark.parametrize(
    ("drop_m", "words", "tasks"),
    [
        (6 * IN, "falls 6 in from the wall", 0),
        (2 * IN, "falls only 2 in there; 6 in is asked for", 1),
        (-1 * IN, "falls towards the wall by 1 in there", 1),
        (None, "is not in the yard file", 0),
    ],
)
def test_ground_is_judged_by_six_inches_in_ten_feet(
    knowledge: Knowledge, drop_m: float | None, words: str, tasks: int
) -> None:
    barrel = replace(BARREL, ground_drop_m=drop_m)
    made, _ = drafted(knowledge, barrel)
    assert words in spelled(made, barrel_storm.ground(made, barrel))
    assert len(made.tasks) == tasks


@pytest.mark.parametrize(("bed_sq_ft", "words"), [(60, "runs on beyond it"), (100, "so it can take that")])
def test_bed_under_the_overflow_is_measured_against_an_inch_of_rain(
    knowledge: Knowledge, bed_sq_ft: float, words: str
) -> None:
    # 432 sq ft, an inch into a pond of 6 in: 72 sq ft.
    barrel = replace(BARREL, empties_to="fern bed")
    made, run = drafted(knowledge, barrel)
    fern = Bed("fern bed", bed_sq_ft * FT2, "annual-flowers", "loam", "rain")
    made.yard = replace(made.yard, beds=(fern,))
    text = spelled(made, barrel_storm.hollow(made, run.pools[0], barrel))
    assert float(made.book.figures["storage.barrel.garden"].value) / FT2 == pytest.approx(72)
    assert words in text


def test_overflow_to_the_ground_needs_no_hollow(knowledge: Knowledge) -> None:
    made, run = drafted(knowledge, BARREL)
    assert barrel_storm.hollow(made, run.pools[0], BARREL) == []


def in_a_row(knowledge: Knowledge, *barrels: Storage, rate_mm_h: float = 3 * IN_MM) -> Draft:
    """A yard of two roofs, the second of 200 sq ft."""
    roofs = (ROOF, Roof("shed", 200 * FT2, "asphalt-shingle", "shed spout"))
    spouts = tuple(Downspout(name, 3 * IN, 2 * IN) for name in ("spout", "shed spout"))
    made = replace(house(ROOF), roofs=roofs, downspouts=spouts, storages=barrels)
    return draft(knowledge, made, table(rate_mm_h))


def peak_gpm(made: Draft, name: str) -> float:
    return float(made.book.figures[f"storage.{name}.peak"].value) * 60 / GAL_L


def test_last_barrel_of_a_row_is_judged_by_the_water_of_all_roofs_above_it(knowledge: Knowledge) -> None:
    """432 and 200 sq ft at 3 in/h send 632 / 96.25 * 3 = 19.7 gal/min, 432 alone 13.5; 1 1/2 in passes 10.8."""
    upper = replace(BARREL, empties_to="second", overflow_bore_m=4 * IN, wall_distance_m=1.0)
    second = Storage(
        "second", 55 * GAL_L, fed_by=("shed spout",), overflow_bore_m=1.5 * IN, wall_distance_m=48 * IN
    )
    made = in_a_row(knowledge, upper, second)
    text = spelled(made, barrel_burst.sentences(made, second))
    assert peak_gpm(made, "second") == pytest.approx(19.70, abs=0.01)
    assert (
        "the roofs send it 20 gal/min, with what runs over from the barrel. Its overflow passes only 11"
        in text
    )
    assert "only 4 ft from the wall" in text
    assert [task.id for task in made.tasks] == ["storage.second.overflow", "storage.second.wall"]
    # What runs over from the upper one reaches no ground, so its end is not measured from the wall.
    assert "wall" not in spelled(made, barrel_burst.sentences(made, upper))


def test_last_barrel_without_a_roof_of_its_own_is_judged_too(knowledge: Knowledge) -> None:
    upper = replace(BARREL, empties_to="second")
    second = Storage("second", 55 * GAL_L)
    made = in_a_row(knowledge, upper, second)
    text = spelled(made, barrel_burst.sentences(made, second))
    assert peak_gpm(made, "second") == pytest.approx(13.46, abs=0.01)
    assert "does not say how wide the overflow is" in text
    run, _ = network.run(made.yard, made.record, knowledge, ON)
    assert "it takes what runs over from the barrel" in spelled(made, filling(made, run.pools[1], second))


def test_joined_barrels_are_judged_once_by_all_their_overflows(knowledge: Knowledge) -> None:
    """19.7 gal/min come to both; two overflows of 1 1/2 in pass 21.6 together."""
    left = replace(BARREL, overflow_bore_m=1.5 * IN, linked_to=("right",))
    right = Storage(
        "right", 55 * GAL_L, fed_by=("shed spout",), overflow_bore_m=1.5 * IN, empties_to="ground"
    )
    made = in_a_row(knowledge, left, right)
    text = spelled(made, barrel_burst.sentences(made, left))
    assert "the roofs send it and the right 20 gal/min. The overflows of this level together pass 22" in text
    assert (
        spelled(made, barrel_burst.sentences(made, right))
        == "It shares its overflow with the barrel: see there."
    )
    assert made.tasks == []


def food_yard(knowledge: Knowledge, *, onto_bed: bool) -> dict[str, Any]:
    """A zinc-edged roof feeds the upper barrel, a clean one the lower; tomatoes get water of the lower one."""
    zinc = replace(ROOF, metals=("zinc",))
    roofs = (zinc, Roof("shed", 200 * FT2, "asphalt-shingle", "shed spout"))
    upper = replace(BARREL, empties_to="bed" if onto_bed else "second")
    second = Storage("second", 55 * GAL_L, fed_by=("shed spout",))
    spouts = tuple(Downspout(name, 3 * IN, 2 * IN) for name in ("spout", "shed spout"))
    bed = Bed("bed", 4.0, "tomato", "loam", "second", how="hose")
    made = replace(house(zinc), roofs=roofs, downspouts=spouts, storages=(upper, second), beds=(bed,))
    found = draft(knowledge, made)
    return water(made, Sky(found.record), knowledge, ON).document()


def test_overflow_of_a_zinc_roof_keeps_the_barrel_below_off_food_plants(knowledge: Knowledge) -> None:
    document = food_yard(knowledge, onto_bed=False)
    assert [one["what"] for one in document["refusals"] if "send water" in one["what"]] == [
        "We will not send water from the second to the bed"
    ]
    roof = next(stop for stop in document["walk"] if stop["name"] == "roof")
    assert "Keep this water off food plants." in " ".join(roof["sentences"])
    assert not any("beds want" in text for text in document["summary"])
    told = {stop["name"]: " ".join(stop["sentences"]) for stop in document["walk"]}
    counts = "That counts the bed, though this water should stay off food plants:"
    assert counts in told["What more barrels would be worth"]


def test_overflow_of_a_zinc_roof_onto_food_plants_is_told(knowledge: Knowledge) -> None:
    """The barrel below now gets its own clean roof alone, so its water may go to the bed."""
    document = food_yard(knowledge, onto_bed=True)
    assert not any("send water" in one["what"] for one in document["refusals"])
    assert not any("That counts the bed" in text for stop in document["walk"] for text in stop["sentences"])
    barrel = next(stop for stop in document["walk"] if stop["name"] == "barrel")
    assert "lead the overflow elsewhere" in " ".join(barrel["sentences"])
