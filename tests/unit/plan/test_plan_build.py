"""The whole plan, from files and from small yards whose answers can be worked out by hand."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest

from dooryard.demo import county, households
from dooryard.knowledge import Knowledge
from dooryard.letter.prose import footnotes, texts
from dooryard.plan.build import plan
from dooryard.plan.document import marks
from dooryard.plan.files import plan_from_files
from dooryard.problem import InputError
from dooryard.weather import forecast as forecast_reader
from dooryard.yard.model import Bed, Level, Plant, Roof, Storage
from tests.water_yards import days, record, yard

ON = households.MADE_ON


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo county written once."""
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    households.write(folder)
    return folder


@pytest.fixture(scope="module")
def documents(demo: Path) -> dict[str, Any]:
    """Plan documents of the demo yards, with and without forecast, at several times of year."""
    made = {}
    for yard_name in (households.SHOWN_YARD, households.METRIC_YARD):
        for on in (ON, dt.date(2031, 1, 12), dt.date(2030, 7, 4), dt.date(2030, 11, 20)):
            made[f"{yard_name} {on}"] = plan_from_files(
                demo / yard_name, weather=None, forecast=None, on=on
            ).document()
    made["with forecast"] = plan_from_files(
        demo / households.SHOWN_YARD, weather=None, forecast=demo / households.FORECAST, on=ON
    ).document()
    return made


def schema() -> dict[str, Any]:
    """The published schema of the plan document."""
    found: dict[str, Any] = json.loads(files("dooryard.plan").joinpath("plan.schema.json").read_text("utf-8"))
    return found


def test_plan_of_every_demo_yard_follows_the_published_schema(documents: dict[str, Any]) -> None:
    """Each document validates, after a trip through JSON text."""
    for document in documents.values():
        jsonschema.validate(json.loads(json.dumps(document)), schema())


def test_plan_every_figure_mark_has_its_figure_and_every_figure_its_method(documents: dict[str, Any]) -> None:
    """A printed number can always be asked why, and no figure is entered for nothing."""
    for document in documents.values():
        used = set(footnotes(document))
        for figure_id in used:
            assert document["figures"][figure_id]["method"] in document["methods"]
        assert set(marks(texts(document))) == used


def test_plan_every_figure_lies_in_its_own_range(documents: dict[str, Any]) -> None:
    """low <= value <= high for every figure that has a range, dates included."""
    for document in documents.values():
        for key, figure in document["figures"].items():
            if isinstance(figure["value"], float):
                assert figure["low"] is None or figure["low"] <= figure["value"] * (1 + 1e-9) + 1e-9, key
                assert figure["high"] is None or figure["value"] <= figure["high"] * (1 + 1e-9) + 1e-9, key
            elif figure["unit"] == "date" and figure["value"] != "unknown":
                assert figure["low"] is None or figure["low"] <= figure["value"], key
                assert figure["high"] is None or figure["value"] <= figure["high"], key


def test_plan_tasks_stand_in_date_order_inside_their_windows(documents: dict[str, Any]) -> None:
    """Sorted by the day to act; near tasks begin in the 21 days, later ones after."""
    for document in documents.values():
        for tasks in (document["tasks"], document["ahead"]):
            acts = [task["best"] or task["from"] for task in tasks]
            assert acts == sorted(acts)
            assert all(task["from"] <= (task["best"] or task["from"]) <= task["to"] for task in tasks)
        assert all(document["on"] <= task["from"] < document["until"] for task in document["tasks"])
        assert all(task["from"] >= document["until"] for task in document["ahead"])
        ids = [task["id"] for task in (*document["tasks"], *document["ahead"])]
        assert len(ids) == len(set(ids))


def test_plan_water_always_comes_with_its_cautions(documents: dict[str, Any]) -> None:
    """A yard with a barrel never goes out without these four."""
    for document in documents.values():
        keys = {caution["id"] for caution in document["cautions"]}
        assert {"water.not_drinking", "water.weight", "water.empty_barrel", "water.mosquitoes"} <= keys


def test_plan_never_calls_barrel_water_safe_for_food(documents: dict[str, Any]) -> None:
    """No text of any plan says that roof water is safe to drink or on vegetables."""
    for document in documents.values():
        said = " ".join(texts(document)).lower()
        assert "safe for vegetables" not in said
        assert "safe to drink" not in said
        assert "safe on vegetables" not in said


def test_plan_same_inputs_give_the_same_document(demo: Path) -> None:
    """Made twice, it is the same to the letter."""
    once, twice = (
        json.dumps(
            plan_from_files(demo / households.SHOWN_YARD, weather=None, forecast=None, on=ON).document()
        )
        for _ in range(2)
    )
    assert once == twice


def test_plan_looking_back_uses_no_later_day(demo: Path, knowledge: Knowledge) -> None:
    """Days from the planning day on may not change the plan: the record is cut first."""
    from dooryard import weather
    from dooryard.yard import file

    found = file.read(demo / households.SHOWN_YARD, knowledge)
    whole = weather.read(demo / "stations" / "creek-bottom.csv")
    on = dt.date(2030, 7, 4)
    later = whole.dates >= np.datetime64(on)
    spoilt = replace(whole, rain_mm=np.where(later, 77.0, whole.rain_mm))
    assert plan(found, whole, knowledge, on).document() == plan(found, spoilt, knowledge, on).document()


# --- a yard small enough to do in the head -------------------------------------------------------


def steady_plan(knowledge: Knowledge, *, rain_mm: Any = 0.0, **parts: Any) -> dict[str, Any]:
    """The plan of a made-up yard on 15 June 2010 after ten years of the same weather."""
    dates = days("2000-01-01", "2010-06-14")
    made = plan(yard(**parts), record(dates, rain_mm=rain_mm), knowledge, dt.date(2010, 6, 15))
    return made.document()


def test_plan_level_reading_of_yesterday_without_rain_or_use_is_the_level(knowledge: Knowledge) -> None:
    """80 L read on the eve, nothing in or out: 80 L this morning, low and high alike."""
    document = steady_plan(knowledge, levels=(Level("barrel", dt.date(2010, 6, 14), 80.0),))
    level = document["figures"]["storage.barrel.level"]
    assert (level["low"], level["high"]) == pytest.approx((80.0, 80.0))


def test_plan_missing_rain_opens_the_level_and_asks_for_a_reading(knowledge: Knowledge) -> None:
    """A day without record yesterday: anything from the outlet to full, and a task to go and look."""
    dates = days("2000-01-01", "2010-06-14")
    rain = np.zeros(len(dates))
    rain[-1] = np.nan
    document = steady_plan(knowledge, rain_mm=rain)
    level = document["figures"]["storage.barrel.level"]
    assert (level["low"], level["high"]) == pytest.approx((0.0, 200.0))
    assert any(task["id"] == "storage.barrel.read" and task["verb"] == "Look" for task in document["tasks"])


def test_plan_in_months_of_hard_frost_looks_that_the_barrel_is_drained(knowledge: Knowledge) -> None:
    """December, frost from November to March: no level, no larvae, one look that it stands dry."""
    dates = days("2000-01-01", "2010-12-09")
    document = plan(yard(), record(dates, rain_mm=1.0), knowledge, dt.date(2010, 12, 10)).document()
    ids = {task["id"] for task in document["tasks"]}
    assert "storage.barrel.drained" in ids
    assert "upkeep.mosquitoes" not in ids
    assert "storage.barrel.level" not in document["figures"]


def test_plan_roof_gives_area_times_depth_times_coefficient(knowledge: Knowledge) -> None:
    """20 m2 of metal roof under one inch: 20 x 25.4 x 0.92 L."""
    document = steady_plan(knowledge)
    gives = document["figures"]["roof.roof.gives"]
    share = knowledge.coverings["metal"].coefficient
    assert gives["value"] == pytest.approx(20 * 25.4 * share)


def test_plan_full_barrel_weighs_its_water_and_itself(knowledge: Knowledge) -> None:
    """200 L and 10 kg: 210 kg."""
    storage = Storage("barrel", 200.0, fed_by=("spout",), empty_mass_kg=10.0)
    document = steady_plan(knowledge, storages=(storage,))
    assert document["figures"]["storage.barrel.mass"]["value"] == pytest.approx(210.0)


def test_plan_overflow_too_small_for_the_wettest_day_becomes_a_task(knowledge: Knowledge) -> None:
    """A garden-hose overflow under 100 m2 of roof and 60 mm days: a task to widen it, with its caution."""
    dates = days("2000-01-01", "2010-06-14")
    rain = np.where(np.array([str(day)[5:] == "05-01" for day in dates]), 60.0, 0.0)
    storage = Storage("barrel", 200.0, fed_by=("spout",), overflow_bore_m=0.019, wall_distance_m=3.0)
    roofs = (Roof("roof", 100.0, "metal", "spout"),)
    document = steady_plan(knowledge, rain_mm=rain, roofs=roofs, storages=(storage,))
    task = next(task for task in document["tasks"] if task["id"] == "storage.barrel.overflow")
    assert "water.overflow_small" in task["cautions"]
    # 60 mm x 0.137 of it in six minutes = 82.2 mm/h; on 100 m2 that is 2.283 L/s.
    assert document["figures"]["storage.barrel.peak"]["value"] == pytest.approx(
        100 * 60 * 0.137 / 0.1 / 3600, rel=0.01
    )


def test_plan_overflow_at_the_wall_becomes_a_task(knowledge: Knowledge) -> None:
    """It ends 1 m from the wall, less than 5 ft."""
    storage = Storage("barrel", 200.0, fed_by=("spout",), wall_distance_m=1.0)
    document = steady_plan(knowledge, rain_mm=1.0, storages=(storage,))
    assert any(task["id"] == "storage.barrel.wall" for task in document["tasks"])


def test_plan_vegetables_under_a_roof_with_metals_are_sent_to_the_tap(knowledge: Knowledge) -> None:
    """Zinc on the roof, tomatoes in the bed: the barrel's water is refused for them, and the tap named."""
    roofs = (Roof("roof", 20.0, "asphalt-shingle", "spout", metals=("zinc",)),)
    beds = (Bed("tomatoes", 4.0, "tomato", "loam", "barrel", planted=dt.date(2010, 5, 10)),)
    document = steady_plan(knowledge, roofs=roofs, beds=beds)
    assert any("will not send water" in refusal["what"] for refusal in document["refusals"])
    assert "water.roof_edible" in {caution["id"] for caution in document["cautions"]}
    stop = next(stop for stop in document["walk"] if stop["name"] == "tomatoes")
    assert "from the tap" in " ".join(stop["sentences"])


def test_plan_bed_in_steady_drought_is_due_when_its_store_is_used(knowledge: Knowledge) -> None:
    """Watered to the full yesterday, no rain in any year: due after about store over daily use days."""
    beds = (Bed("flowers", 4.0, "annual-flowers", "loam", "tap", last_watered=dt.date(2010, 6, 15)),)
    document = steady_plan(knowledge, beds=beds)
    due = document["figures"]["bed.flowers.due"]
    use_mm = document["figures"]["bed.flowers.use"]["value"]
    raw = next(
        float(item["shown"].split()[0]) * 25.4
        for item in document["figures"]["bed.flowers.amount"]["inputs"]
        if item["name"].startswith("missing when due")
    )
    waited = (dt.date.fromisoformat(due["value"]) - dt.date(2010, 6, 15)).days
    assert due["low"] == due["value"] == due["high"]  # every year is the same year
    assert abs(waited - raw / use_mm) <= 1.5


def test_plan_long_gap_in_spring_refuses_the_pest_instead_of_guessing(knowledge: Knowledge) -> None:
    """Mean 16 degC makes 6 degC.d a day; 600 degF.d from 1 March are due on 25 April, but 35 days are gone."""
    dates = days("2000-01-01", "2010-06-14")
    winter = np.isin(dates.astype("datetime64[M]").astype(int) % 12, (0, 1))
    warm = np.where(winter, -20.0, 8.0)
    gone = (dates >= np.datetime64("2010-03-10")) & (dates < np.datetime64("2010-04-14"))
    warm[gone] = np.nan
    made_up = record(dates, t_min_c=warm, t_max_c=warm + 16.0)
    place = replace(yard(), plants=(Plant("hedge", "juniper"),))
    made = plan(place, made_up, knowledge, dt.date(2010, 4, 28))
    verdict = next(entry for entry in made.document()["organisms"] if entry["id"] == "bagworm")
    assert verdict["word"] == "cannot tell"
    assert made.needs_a_person


def test_plan_record_that_ended_long_ago_is_refused_with_what_to_write(demo: Path) -> None:
    """A plan for 2033 from a record that ends in 2031: exit with the day to ask for."""
    with pytest.raises(InputError) as caught:
        plan_from_files(demo / households.SHOWN_YARD, weather=None, forecast=None, on=dt.date(2033, 5, 20))
    assert "--on" in caught.value.problems[0].instead


def test_plan_storm_drill_holds_what_the_forecast_brings(demo: Path) -> None:
    """Water let out, kept and spilled add up: what comes is what finds room plus what still runs over."""
    document = plan_from_files(
        demo / households.SHOWN_YARD, weather=None, forecast=demo / households.FORECAST, on=ON
    ).document()
    figures = document["figures"]
    comes = figures["storage.back-barrel.storm"]["value"]
    room = figures["storage.back-barrel.room"]["value"]
    let_out = figures["storage.back-barrel.drain"]["value"]
    assert figures["storage.back-barrel.spill"]["value"] == pytest.approx(comes - room - let_out)
    # The days around the wettest one that follow each other with rain make one storm.
    foretold = forecast_reader.read(demo / households.FORECAST)
    assert figures["forecast.rain"]["value"] == pytest.approx(2.45 * 25.4)
    assert float(np.nanmax(foretold.rain_mm)) == pytest.approx(2.0 * 25.4)


# --- roots that grow -----------------------------------------------------------------------------


def tomatoes_plan(
    knowledge: Knowledge, on: dt.date, planted: dt.date = dt.date(2010, 5, 10)
) -> dict[str, Any]:
    """The plan of a rainless tomato bed in silt loam, watered from the tap."""
    dates = days("2000-01-01", str(on - dt.timedelta(days=1)))
    bed = Bed("tomatoes", 4.0, "tomato", "silt-loam", "tap", planted=planted)
    return plan(yard(beds=(bed,)), record(dates), knowledge, on).document()


def said_of(document: dict[str, Any], name: str) -> str:
    """All that a plan says at one stop of the walk."""
    return " ".join(next(stop for stop in document["walk"] if stop["name"] == name)["sentences"])


def test_plan_young_tomatoes_have_the_soil_their_roots_reach(knowledge: Knowledge) -> None:
    """Day 7 of 70: 0.15 m + 0.055 m, in soil that holds 140 mm a metre (0.29 - 0.15)."""
    document = tomatoes_plan(knowledge, dt.date(2010, 5, 17))
    figures = document["figures"]
    assert figures["bed.tomatoes.roots"]["value"] == pytest.approx(0.205)
    assert figures["bed.tomatoes.roots"]["method"] == "water.root_depth"
    assert figures["bed.tomatoes.full"]["value"] == pytest.approx(140 * 0.205)
    assert "[[bed.tomatoes.roots]]" in said_of(document, "tomatoes")
    ribbon = next(chart for chart in document["charts"] if chart["id"] == "tomatoes.ribbon")
    # the deepest roots of the strip are today's; the mark is at what is left when today's RAW is used
    assert ribbon["capacity"] == pytest.approx(140 * 0.205 / 25.4, abs=0.005)
    raw = next(i for i in figures["bed.tomatoes.left"]["inputs"] if i["name"].startswith("roots use"))
    assert ribbon["marks"][0]["value"] == pytest.approx(
        140 * 0.205 / 25.4 - float(raw["shown"].split()[0]), abs=0.01
    )


def test_plan_young_tomatoes_get_little_water_and_soon(knowledge: Knowledge) -> None:
    """Planted today in drought: due when the use of whole days has passed p x 140 mm/m x depth of that day."""
    on = dt.date(2010, 5, 10)
    young = tomatoes_plan(knowledge, on)["figures"]
    grown = tomatoes_plan(knowledge, dt.date(2010, 7, 25))["figures"]
    assert young["bed.tomatoes.left"]["value"] == pytest.approx(140 * 0.15)  # watered in this morning
    waited = (dt.date.fromisoformat(young["bed.tomatoes.due"]["value"]) - on).days
    assert 3 <= waited <= 7
    # at most what roots can use (p is 0.8 at the most) down to the depth of the day it is due, on 4 m2
    assert young["bed.tomatoes.amount"]["value"] <= 0.8 * 140 * (0.15 + 0.55 * waited / 70) * 4.0
    assert young["bed.tomatoes.amount"]["value"] < grown["bed.tomatoes.amount"]["value"] / 3


def test_plan_newly_planted_bed_is_looked_at_for_the_first_weeks_only(knowledge: Knowledge) -> None:
    """Fourteen days from planting, the planting day counted: 10 to 23 May."""
    for on, asked in (
        (dt.date(2010, 5, 10), True),
        (dt.date(2010, 5, 23), True),
        (dt.date(2010, 5, 24), False),
    ):
        tasks = {task["id"]: task for task in tomatoes_plan(knowledge, on)["tasks"]}
        assert ("bed.tomatoes.new" in tasks) == asked
        if asked:
            assert tasks["bed.tomatoes.new"]["to"] == "2010-05-23"


def test_plan_bed_before_its_planting_day_says_nothing_grows_in_it(knowledge: Knowledge) -> None:
    """On the eve of planting and after the season: no store, no watering, no look at plants."""
    for on in (dt.date(2010, 5, 9), dt.date(2010, 10, 2)):  # 145 days from 10 May end on 1 October
        document = tomatoes_plan(knowledge, on)
        assert "Nothing is taken to grow in it on this day." in said_of(document, "tomatoes")
        assert not any(key.startswith("bed.tomatoes") for key in document["figures"])
        assert not any(task["place"] == "tomatoes" for task in document["tasks"])
    assert "to be planted 10 May." in said_of(tomatoes_plan(knowledge, dt.date(2010, 5, 9)), "tomatoes")
    assert "planted 10 May." in said_of(tomatoes_plan(knowledge, dt.date(2010, 5, 11)), "tomatoes")
    assert "as planted 10 May each year" in said_of(tomatoes_plan(knowledge, dt.date(2009, 6, 1)), "tomatoes")
