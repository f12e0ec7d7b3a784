"""What a plan says of a barrel's room, its marks and its tables, for barrels whose amounts are plain to see."""

from __future__ import annotations

import datetime as dt
import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.plan.assemble import Sky
from dooryard.plan.build import plan
from dooryard.plan.figures import FigureBook
from dooryard.plan.water_report import water
from dooryard.units import System
from dooryard.yard.model import Bed, Level, Storage
from tests.water_yards import days, record, yard

ON = dt.date(2010, 6, 15)
# Straight sides over 0.25 m2: 0.8 m hold 200 L, 0.72 m hold 180 L, 0.08 m hold 20 L.
DIAMETER_M = 2 * math.sqrt(0.25 / math.pi)
BARREL = Storage(
    "barrel",
    200.0,
    diameter_m=DIAMETER_M,
    height_m=0.8,
    outlet_height_m=0.08,
    overflow_height_m=0.72,
    fed_by=("spout",),
)


def made(knowledge: Knowledge, storage: Storage, level_l: float, system: System = "metric") -> dict[str, Any]:
    """The plan of a rainless yard whose barrel was read on the eve."""
    levels = (Level("barrel", ON - dt.timedelta(days=1), level_l),)
    dates = days("2000-01-01", "2010-06-14")
    place = replace(yard(storages=(storage,), levels=levels), units=system)
    return plan(place, record(dates), knowledge, ON).document()


def chart(document: dict[str, Any], kind: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in document["charts"] if one["kind"] == kind)
    return found


@pytest.mark.parametrize(("level_l", "words"), [(180.0, "full"), (100.0, "room for 80 L")])
def test_plan_glass_says_full_or_how_much_room_is_left(
    knowledge: Knowledge, level_l: float, words: str
) -> None:
    assert chart(made(knowledge, BARREL, level_l), "glass")["free_text"] == words


def test_plan_glass_of_an_uncertain_level_says_up_to(knowledge: Knowledge) -> None:
    """100 L, then a day without a record: anything from 100 L to full."""
    dates = days("2000-01-01", "2010-06-14")
    rain = [0.0] * (len(dates) - 1) + [math.nan]
    levels = (Level("barrel", ON - dt.timedelta(days=2), 100.0),)
    place = replace(yard(storages=(BARREL,), levels=levels), units="metric")
    document = plan(place, record(dates, rain_mm=rain), knowledge, ON).document()
    glass = chart(document, "glass")
    # 100 L stand 0.40 m high, 180 L 0.72 m.
    assert (glass["level_low"], glass["level_high"]) == pytest.approx((40.0, 72.0))
    assert glass["free_text"] == "room for up to 80 L"


def test_plan_ribbon_marks_overflow_and_outlet(knowledge: Knowledge) -> None:
    marks = chart(made(knowledge, BARREL, 100.0), "ribbon")["marks"]
    assert marks == [{"label": "overflow", "value": 180.0}, {"label": "outlet", "value": 20.0}]


def test_plan_ribbon_of_a_barrel_without_heights_marks_full(knowledge: Knowledge) -> None:
    bare = Storage("barrel", 200.0, fed_by=("spout",))
    assert chart(made(knowledge, bare, 100.0), "ribbon")["marks"] == [{"label": "full", "value": 200.0}]


@pytest.mark.parametrize("system", ["us", "metric"])
def test_plan_outlet_of_unknown_height_gives_no_amount_below_it(knowledge: Knowledge, system: System) -> None:
    document = made(knowledge, replace(BARREL, outlet_height_m=None), 100.0, system)
    assert "storage.barrel.dead" not in document["figures"]
    assert chart(document, "glass")["stranded_text"] == ""
    inputs = document["figures"]["storage.barrel.level"]["inputs"]
    assert not any("outlet" in item["name"] for item in inputs)
    assert "the yard file has no outlet height" in json.dumps(document)


def test_plan_ribbon_table_has_days_in_words_and_fixed_decimals(knowledge: Knowledge) -> None:
    rows = chart(made(knowledge, BARREL, 100.0), "ribbon")["table"]["rows"]
    assert rows[-1] == ["14 June", "0.0", "100", "100"]
    assert chart(made(knowledge, BARREL, 100.0, "us"), "ribbon")["table"]["rows"][-1] == [
        "14 June",
        "0.00",
        "26.4",  # 100 L / 3.785411784
        "26.4",
    ]


@pytest.mark.parametrize(
    ("system", "value_m", "words"),
    [
        ("us", 0.0381, "1.5 in"),
        ("us", 0.9144, "3 ft"),
        ("metric", 0.0381, "3.81 cm"),
        ("metric", 1.2, "1.2 m"),
    ],
)
def test_exact_length_stands_in_the_unit_it_is_measured_in(
    system: System, value_m: float, words: str
) -> None:
    assert FigureBook(system).exact(value_m, "length") == words


def test_report_points_to_one_refusal_and_to_several(knowledge: Knowledge) -> None:
    """Without heights nothing is said of the outlet; without a width nothing of the ground either."""
    for storage, count, words in (
        (replace(BARREL, outlet_height_m=None, overflow_height_m=None), 1, "what is missing for it."),
        (Storage("barrel", 200.0, fed_by=("spout",)), 2, "what is missing for them."),
    ):
        weather = record(days("2000-01-01", "2010-06-14"))
        document = water(yard(storages=(storage,)), Sky(weather), knowledge, ON).document()
        assert len(document["refusals"]) == count
        assert document["summary"][-1].endswith(words)


@pytest.mark.parametrize(
    ("use_l", "beds", "words"),
    [
        (0.0, (Bed("bed", 4.0, "tomato", "loam", "barrel"),), "its beds wanted."),
        (5.0, (Bed("bed", 4.0, "tomato", "loam", "barrel"),), "its beds and other uses wanted."),
        (5.0, (), "its other uses wanted."),
    ],
)
def test_report_tells_who_asks_for_the_water(
    knowledge: Knowledge, use_l: float, beds: tuple[Bed, ...], words: str
) -> None:
    dates = days("2000-01-01", "2010-06-14")
    rain = (np.arange(len(dates)) % 5 == 0) * 12.0
    here = yard(storages=(replace(BARREL, daily_use_l=use_l),), beds=beds)
    document = water(here, Sky(record(dates, rain_mm=rain)), knowledge, ON).document()
    (told,) = [text for stop in document["walk"] for text in stop["sentences"] if "Over the years" in text]
    assert told.endswith(words)
    assert f"{words.removesuffix('ed.')}." in document["summary"][1]


def test_report_warns_of_a_barrel_wider_than_its_stand(knowledge: Knowledge) -> None:
    """A bottom of 56 cm turns on the edge of a stand of 40 cm: 40 / 56 of the push of one that rests in full."""
    dates = days("2000-01-01", "2010-06-14")
    pushes = []
    for base_m in (0.4, 0.6):
        barrel = replace(BARREL, stand_height_m=0.4, stand_base_m=(base_m, 0.6), stand_on="clay")
        place = replace(yard(storages=(barrel,)), units="metric")
        document = water(place, Sky(record(dates)), knowledge, ON).document()
        pushes.append(document["figures"]["storage.barrel.push-full"]["value"])
        told = " ".join(text for stop in document["walk"] for text in stop["sentences"])
        assert ("wider than its stand (56 cm on 40 cm)" in told) == (base_m < 0.5)
        assert ("storage.barrel.stand" in {task["id"] for task in document["tasks"]}) == (base_m < 0.5)
    assert pushes[0] / pushes[1] == pytest.approx(0.4 / DIAMETER_M)


@pytest.mark.parametrize(
    ("height_m", "words"),
    [
        (0.4064, ""),
        (0.5, "That is 9.4 cm lower than the 50 cm of the yard file"),
        (0.32, "higher than the 32 cm"),
    ],
)
def test_report_says_when_whole_blocks_miss_the_height_of_the_stand(
    knowledge: Knowledge, height_m: float, words: str
) -> None:
    """Blocks are 8 in, 20.3 cm, high with their joint: two make 40.6 cm."""
    barrel = replace(BARREL, stand_height_m=height_m, stand_base_m=(0.61, 0.61), stand_on="clay")
    place = replace(yard(storages=(barrel,)), units="metric")
    document = water(place, Sky(record(days("2000-01-01", "2010-06-14"))), knowledge, ON).document()
    told = " ".join(text for stop in document["walk"] for text in stop["sentences"])
    assert words in told
    assert ("of the yard file, so pressure" in told) == bool(words)


@pytest.mark.parametrize("children", [True, False])
def test_report_of_a_barrel_without_measures_still_thinks_of_children(
    knowledge: Knowledge, children: bool
) -> None:
    bare = yard(storages=(Storage("barrel", 200.0, fed_by=("spout",)),))
    place = replace(bare, household=replace(bare.household, children=children))
    document = water(place, Sky(record(days("2000-01-01", "2010-06-14"))), knowledge, ON).document()
    (told,) = [" ".join(stop["sentences"]) for stop in document["walk"] if stop["name"] == "barrel"]
    assert ("a lid on it that a child cannot lift" in told) == children
    assert ("how easily a child pulls it over: tie it down" in told) == children
