"""A hard rain at a barrel in words: minutes to fill, fall of the ground, a bed that takes the overflow."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter.prose import spell
from dooryard.plan import barrel_storm
from dooryard.plan.draft import Draft
from dooryard.water import network
from dooryard.yard.model import Bed, Roof, Storage
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
