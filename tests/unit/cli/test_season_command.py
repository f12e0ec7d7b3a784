"""`dooryard season NAME` on the demo county: every form, what was seen, blooms, places, and nonsense."""

from __future__ import annotations

import json
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.demo import county, households

jsonschema = pytest.importorskip("jsonschema")
SCHEMA = json.loads((files("dooryard.plan") / "plan.schema.json").read_text("utf-8"))
ON = households.MADE_ON


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    households.write(folder)
    return folder


def run(*words: object) -> Result:
    return CliRunner().invoke(dooryard, ["season", *(str(word) for word in words)])


def asked(demo: Path, *words: object, on: date = ON) -> dict[str, Any]:
    result = run(*words, "--weather", demo / "stations" / "creek-bottom.csv", "--on", on, "--json")
    assert result.exit_code in (0, 1), result.output
    document: dict[str, Any] = json.loads(result.output)
    return document


def said(document: dict[str, Any]) -> str:
    parts = [*document["summary"], *(text for stop in document["walk"] for text in stop["sentences"])]
    return " ".join(parts)


@pytest.mark.parametrize("name", ["bagworm", "fall webworm", "magnolia-scale", "juniper", "red maple"])
@pytest.mark.parametrize("on", [date(2031, 2, 10), ON])
def test_season_report_follows_the_schema(demo: Path, name: str, on: date) -> None:
    document = asked(demo, name, on=on)
    jsonschema.validate(document, SCHEMA)
    assert document["report"] == "season"


def test_season_report_tells_word_rule_tables_and_next_year(demo: Path) -> None:
    document = asked(demo, "bagworm")
    told = said(document)
    assert document["summary"][0].startswith(f"Bagworm: {document['organisms'][0]['word']}. ")
    assert "The rule that decided" in told
    assert "middle eight of ten" in told
    assert "For next year's calendar" in told
    table = next(stop["table"] for stop in document["walk"] if stop["name"] == "Why this word")
    assert [row[0].split(",")[0] for row in table["rows"]] == ["New Jersey", "Ohio"]
    assert [chart["kind"] for chart in document["charts"]] == ["season", "fan"]


def test_season_report_is_written_in_every_form(demo: Path, tmp_path: Path) -> None:
    result = run("bagworm", "--weather", demo / "stations/creek-bottom.csv", "--on", ON, "--out", tmp_path)
    assert result.exit_code == 0, result.output
    assert {path.suffix for path in tmp_path.iterdir()} == {".html", ".pdf", ".ics", ".json", ".csv"}
    page = (tmp_path / "season-bagworm.html").read_text("utf-8")
    assert "How we know, and what else to know" in page


def test_season_sighting_told_with_the_question_is_shown_and_shifts(demo: Path) -> None:
    seen = f"{ON.year}-05-18: bags hatching at Creek Bottom"
    document = asked(demo, "bagworm", "--seen", seen)
    part = next(stop for stop in document["walk"] if stop["name"] == "What was seen here")
    assert any("bags hatching" in row[1] for row in part["table"]["rows"])
    assert document["organisms"][0]["word"] == "now"


def test_season_sighting_of_no_known_sign_moves_no_date(demo: Path) -> None:
    document = asked(demo, "bagworm", "--seen", f"{ON.year}-05-18: something odd")
    assert "it moves no date" in said(document)


def test_season_bloom_is_a_second_opinion(demo: Path) -> None:
    told = said(asked(demo, "bagworm", "--seen", f"{ON.year}-05-02: black locust first bloom"))
    assert "Black locust, first bloom, was seen on 2 May" in told
    assert "agrees with the heat" in told or "disagrees with the heat" in told


def test_season_sum_from_a_day_only_a_person_sees_starts_on_that_day(demo: Path) -> None:
    """Without the day it says how to tell it; with it the rows are dated and the start of the sum is said."""
    without = asked(demo, "codling moth")
    assert 'Tell it with --seen "' in said(without)
    told = asked(demo, "codling moth", "--seen", f"{ON.year}-05-03: first steady catch")
    assert any(text.startswith("Counted from the first steady catch") for text in told["summary"])
    assert without["refusals"]
    assert not told["refusals"]
    part = next(stop for stop in told["walk"] if stop["name"] == "Counted from what you see")
    assert all("from 3 May" in row[0] for row in part["table"]["rows"])


def test_season_heat_by_the_hour_stands_beside_the_daily_method(demo: Path, tmp_path: Path) -> None:
    """Ten days of 41 degF by night and 59 by day: the plain mean counts nothing, the hours 4.5 a day."""
    lines = ["time,temp_F"]
    for day in range(1, 11):
        lines += [
            f"{ON.year}-03-{day:02d} {hour:02d}:00,{59 if 6 <= hour < 18 else 41}" for hour in range(24)
        ]
    hours = tmp_path / "hours.csv"
    hours.write_text("\n".join(lines) + "\n")
    document = asked(demo, "bagworm", "--hours", hours, on=date(ON.year, 3, 11))
    part = next(stop for stop in document["walk"] if stop["name"] == "By the hour")
    rows = {row[0].split(",")[1].strip(): row[1:] for row in part["table"]["rows"]}
    assert rows["not stated"] == ["10", "0", "45", "0", "-45"]


def test_season_printed_dates_are_moved_only_with_that_places_record(demo: Path) -> None:
    without = said(asked(demo, "bagworm"))
    assert "Without that place's weather they are not moved." in without
    there = said(asked(demo, "bagworm", "--there", demo / "stations/ridge-school.csv"))
    assert "Moved here by heat it begins" in there


def test_season_of_a_yard_names_its_plants_and_takes_its_record(demo: Path) -> None:
    result = run("bagworm", "--yard", demo / households.SHOWN_YARD, "--on", ON, "--json")
    document = json.loads(result.output)
    assert "juniper hedge" in document["organisms"][0]["place"]


def test_season_over_says_what_helps_later(demo: Path) -> None:
    document = asked(demo, "bagworm", on=date(2030, 10, 1))
    assert document["organisms"][0]["word"] == "over"
    assert "autumn" in " ".join(document["summary"])
    assert "Sums begin anew on 1 January 2031." in document["summary"]
    assert document["summary"][-1].startswith("For next year's calendar: from ")
    assert "2031" in document["summary"][-1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["bagwrom", "--weather", "x.csv"], "bagworm"),
        (["bagworm"], "No weather record is named"),
        ([], "Usage"),
        (["of"], "No name is given"),
        (["bagworm", "--seen", "yesterday: bags", "--weather", "stations/creek-bottom.csv"], "2031-06-09"),
        (
            ["bagworm", "--seen", "2032-06-09: bags hatching", "--weather", "stations/creek-bottom.csv"],
            "seen after the day asked",
        ),
    ],
)
def test_season_nonsense_is_answered_plainly(
    demo: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], says: str
) -> None:
    monkeypatch.chdir(demo)
    result = run(*words, *(["--on", ON] if words else []))
    assert says in result.output
    assert result.exit_code == 2 or not words


def test_season_list_gives_organisms_and_plants() -> None:
    result = run("--list")
    assert result.exit_code == 0
    assert "  bagworm\n" in result.output
    assert "  juniper\n" in result.output


@pytest.mark.parametrize(("on", "wanted"), [("1999-05-01", "older"), ("2041-05-01", "newer")])
def test_season_outside_the_record_asks_for_days_on_the_right_side(demo: Path, on: str, wanted: str) -> None:
    result = run("bagworm", "--weather", demo / "stations" / "creek-bottom.csv", "--on", on)
    assert result.exit_code == 2
    assert f"holds {wanted} days" in " ".join(result.output.split())
