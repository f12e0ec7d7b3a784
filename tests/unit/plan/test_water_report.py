"""The water report: every part of it there and held together, one trouble alone, and yards that lack a part."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.demo import county, households
from dooryard.knowledge import Knowledge
from dooryard.letter import calendar, page, screen, sheet
from dooryard.letter.prose import footnotes
from dooryard.plan.assemble import Sky
from dooryard.plan.files import water_from_files
from dooryard.plan.water_report import water
from dooryard.yard.model import Bed, Storage, Yard
from tests.water_yards import days, record, yard

jsonschema = pytest.importorskip("jsonschema")
SCHEMA = json.loads((files("dooryard.plan") / "plan.schema.json").read_text("utf-8"))
ON = households.MADE_ON
DRUM = Storage(
    "barrel",
    200.0,
    diameter_m=0.6,
    height_m=0.8,
    outlet_height_m=0.08,
    overflow_height_m=0.72,
    overflow_bore_m=0.04,
    stand_height_m=0.4,
    stand_base_m=(0.6, 0.6),
    stand_on="clay",
    empty_mass_kg=10.0,
    fed_by=("spout",),
    empties_to="ground",
    wall_distance_m=2.0,
)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    households.write(folder)
    return folder


@pytest.fixture(scope="module")
def documents(demo: Path) -> dict[str, Any]:
    """Water reports of demo yards at several times of the year."""
    return {
        f"{name} {on}": water_from_files(demo / name, weather=None, forecast=None, on=on).document()
        for name in (households.SHOWN_YARD, households.METRIC_YARD)
        for on in (ON, dt.date(2031, 1, 12), dt.date(2030, 10, 4))
    }


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(dooryard, [str(word) for word in words], prog_name="dooryard")


def small(knowledge: Knowledge, place: Yard, trouble: str = "") -> dict[str, Any]:
    """The report of a small yard over ten rainy years: 10 mm every fifth day."""
    dates = days("2000-01-01", "2010-06-14")
    rain = np.where(np.arange(len(dates)) % 5 == 0, 10.0, 0.0)
    sky = Sky(record(dates, rain_mm=rain))
    return water(place, sky, knowledge, dt.date(2010, 6, 15), trouble=trouble).document()


def said(document: dict[str, Any], stop: str) -> str:
    found = next(one for one in document["walk"] if one["id"] == stop)
    return " ".join(found["sentences"])


def test_water_report_of_every_demo_yard_follows_the_schema(documents: dict[str, Any]) -> None:
    for name, document in documents.items():
        jsonschema.validate(document, SCHEMA, format_checker=jsonschema.FormatChecker())
        assert document["report"] == "water", name
        assert footnotes(document)
        ids = [stop["id"] for stop in document["walk"]]
        assert len(ids) == len(set(ids)), name
        charts = [chart["id"] for chart in document["charts"]]
        assert sorted(charts) == sorted(set(charts)), name


def test_water_report_prints_in_every_form(documents: dict[str, Any]) -> None:
    document = documents[f"{households.SHOWN_YARD} {ON}"]
    assert "water report of 20 May 2031" in screen.render(document, why=True)
    assert "From roof to root" in page.render(document)
    assert sheet.render(document)[:5] == b"%PDF-"
    stamp = dt.datetime(2031, 5, 20, tzinfo=dt.UTC)
    assert b"BEGIN:VEVENT" in calendar.render(document, stamp=stamp)


def test_water_report_tells_every_part_of_the_way(documents: dict[str, Any]) -> None:
    """Roof, pipe, barrel, where water goes, beds, upkeep, frost, troubles: in that order."""
    document = documents[f"{households.SHOWN_YARD} {ON}"]
    assert [stop["id"] for stop in document["walk"]] == [
        "garage-north-roof",
        "spout-garage-downspout",
        "back-barrel",
        "back-barrel-account",
        "choices",
        "tomato-bed",
        "flower-bed",
        "upkeep",
        "freeze",
        "troubles",
    ]
    figures = document["figures"]
    # One inch on 310 sq ft of shingle: 310 x 0.6234 x 0.85.
    assert figures["yard.gives"]["value"] / 3.785411784 == pytest.approx(310 * 144 / 231 * 0.85, rel=1e-6)
    # 29 in of 35 between spigot and overflow, of 55 gal.
    assert figures["yard.holds"]["value"] / 3.785411784 == pytest.approx(55 * 29 / 35, rel=1e-6)
    for part in ("pressure-full", "blocks", "wind-tips", "fill-minutes", "given", "lean-half"):
        assert f"storage.back-barrel.{part}" in figures, part


def test_water_report_speaks_only_of_water(documents: dict[str, Any]) -> None:
    for document in documents.values():
        assert document["organisms"] == []
        assert {task["kind"] for task in document["tasks"]} <= {"storage", "water", "upkeep", "frost"}


def test_water_account_of_a_mean_year_closes(knowledge: Knowledge) -> None:
    """What reaches the barrel is what waters, runs over, is poured out and is held more, by each end of a range."""
    bed = Bed("bed", 10.0, "tomato", "loam", "barrel")
    document = small(knowledge, yard(storages=(DRUM,), beds=(bed,)))
    figures = document["figures"]
    reached = figures["storage.barrel.account-into-the-storage"]
    gone = [figures[f"storage.barrel.account-{part}"] for part in ("watering", "overflow")]
    assert reached["value"] > 0
    low = sum(part["low"] for part in gone)
    high = sum(part["high"] for part in gone)
    # Watering is least where overflow is most, so their sums bracket what reached, but for what is poured out.
    assert low <= reached["high"] + 1e-6
    assert high >= 0.9 * reached["low"]
    rows = next(one for one in document["walk"] if one["id"] == "barrel-account")["table"]["rows"]
    assert {row[0] for row in rows} >= {"Rain and melt on its roofs", "Reaches it", "Runs over", "Waters"}


def test_water_report_without_roof_or_barrel_says_so(knowledge: Knowledge) -> None:
    bare = small(knowledge, replace(yard(), roofs=(), storages=(), downspouts=()))
    assert "no roof and no barrel" in bare["summary"][0]
    assert [stop["id"] for stop in bare["walk"]] == ["troubles"]
    roof_only = small(knowledge, yard(storages=()))
    assert "there is no barrel to hold any" in roof_only["summary"][0]


def test_water_report_with_a_short_record_gives_no_mean_year(knowledge: Knowledge) -> None:
    dates = days("2010-01-01", "2010-06-14")
    sky = Sky(record(dates, rain_mm=1.0))
    document = water(yard(storages=(DRUM,)), sky, knowledge, dt.date(2010, 6, 15)).document()
    assert "less than a year" in said(document, "barrel-account")
    assert "too few whole years" in said(document, "upkeep")


# --- one trouble ----------------------------------------------------------------------------------------


def test_trouble_report_holds_its_entry_and_the_yards_own_numbers(knowledge: Knowledge) -> None:
    document = small(knowledge, yard(storages=(DRUM,)), "low pressure")
    assert [stop["id"] for stop in document["walk"]] == [
        "trouble-low-pressure-at-the-spigot-or-hose",
        "barrel",
    ]
    assert "[[storage.barrel.pressure-full]]" in said(document, "barrel")
    assert "storage.barrel.push-full" not in document["figures"]
    assert document["tasks"] == []
    assert "trouble finder" in screen.render(document).splitlines()[0]


def test_trouble_report_on_mosquitoes_and_ice_tells_the_stations_dates(knowledge: Knowledge) -> None:
    bites = small(knowledge, yard(storages=(DRUM,)), "mosquitoes")
    assert "[[mosquito.season]]" in said(bites, "mosquitoes")
    assert "water.larvicide" in {caution["id"] for caution in bites["cautions"]}
    ice = small(knowledge, yard(storages=(DRUM,)), "ice")
    assert any(stop["id"] == "freeze" for stop in ice["walk"])


# --- the command ----------------------------------------------------------------------------------------


def test_water_command_writes_every_form(demo: Path, tmp_path: Path) -> None:
    result = run("water", demo / households.SHOWN_YARD, "--on", ON, "--out", tmp_path)
    assert result.exit_code == 0, result.output
    stem = f"{Path(households.SHOWN_YARD).stem}-water"
    found = {path.name for path in tmp_path.iterdir()}
    assert found == {f"{stem}{ending}" for ending in (".html", ".pdf", ".ics", ".json", "-tasks.csv")}
    assert max(map(len, result.stdout.splitlines()[:60])) <= 80


def test_water_command_gives_its_data_as_json(demo: Path) -> None:
    result = run("water", demo / households.SHOWN_YARD, "--on", ON, "--json", "--trouble", "leak")
    assert json.loads(result.stdout)["title"].startswith("trouble finder")


def test_water_command_answers_an_unknown_trouble_with_a_near_one(demo: Path) -> None:
    result = run("water", demo / households.SHOWN_YARD, "--on", ON, "--trouble", "mosquitos")
    assert result.exit_code == 2
    assert 'Did you mean "mosquitoes"?' in result.stderr
