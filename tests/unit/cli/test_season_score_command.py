"""`dooryard season score` on a record made here: words, JSON, picture, several records, and what is refused."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard


def write(path: Path, name: str, years: int, seed: int) -> Path:
    """A record of years that differ, in a plain file."""
    first = date(2001, 1, 1)
    count = (date(2001 + years, 1, 1) - first).days
    source = np.random.default_rng(seed)
    spells = np.convolve(source.normal(0, 2, count + 9), np.ones(10) / 3, mode="valid")
    middle = 12 - 12 * np.cos(2 * np.pi * (np.arange(count) - 20) / 365.25) + spells
    rows = [
        f"{first + timedelta(days=day)},{value - 5:.1f},{value + 5:.1f},"
        for day, value in enumerate(middle.tolist())
    ]
    path.write_text(
        f"# station: {name}\ndate,tmin_C,tmax_C,rain_mm\n" + "\n".join(rows) + "\n", encoding="utf-8"
    )
    return path


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("score") / "mill-hollow.csv", "Mill Hollow", 23, 1)


def run(*words: object) -> Result:
    return CliRunner().invoke(dooryard, ["season", "score", *(str(word) for word in words)])


def test_score_answers_first_and_says_against_what(record: Path) -> None:
    result = run(record)
    assert result.exit_code == 0, result.output
    told = " ".join(result.output.split())
    assert told.startswith("Mill Hollow Of ")
    assert "ranges issued" in told
    assert "held the day; they say 80 %" in told
    assert "Usual width" in told
    for rival in ("long-term dates", "last 14 days' rate", "past years as they were"):
        assert f"Against the {rival}" in told or f"Against {rival}" in told
    assert "2021 to 2023, every 10 days from 1 February" in told


def test_score_as_json_counts_every_dated_forecast_in_one_group_of_leads(record: Path) -> None:
    told = json.loads(run(record, "--json").output)
    counts = [group["rules"]["ours"]["count"] for group in told["leads"] if group["rules"]["ours"]]
    assert sum(counts) == told["all"]["rules"]["ours"]["count"]
    assert told["stations"][0]["forecast"] == [2021, 2023]
    assert told["stations"][0]["invented"] is False


def test_score_of_some_years_is_part_of_the_whole(record: Path) -> None:
    whole, part = (json.loads(run(record, "--json", *more).output) for more in ((), ("--to-year", 2021)))
    assert part["stations"][0]["forecast"] == [2021, 2021]
    assert 0 < part["stations"][0]["forecasts"] < whole["stations"][0]["forecasts"]


def test_several_records_are_scored_together(record: Path, tmp_path: Path) -> None:
    other = write(tmp_path / "creek.csv", "Creek Bottom", 22, 2)
    one, two, both = (
        json.loads(run(*which, "--json").output) for which in ((record,), (other,), (record, other))
    )
    held = [
        told["all"]["rules"]["ours"]["held"] * told["all"]["rules"]["ours"]["count"]
        for told in (one, two, both)
    ]
    assert held[2] == pytest.approx(held[0] + held[1])
    assert [station["name"] for station in both["stations"]] == ["Mill Hollow", "Creek Bottom"]


def test_out_writes_a_picture_and_the_same_json(record: Path, tmp_path: Path) -> None:
    shown = run(record, "--json", "--out", tmp_path / "out")
    assert shown.exit_code == 0
    saved = (tmp_path / "out" / "season-score.json").read_text("utf-8")
    assert json.loads(saved)["schema"] == "dooryard-season-score-1"
    root = ElementTree.parse(tmp_path / "out" / "season-score.svg").getroot()
    words = " ".join(node.text or "" for node in root.iter() if node.tag.endswith("text"))
    assert "ranges that held the day, of 100" in words
    assert "long-term dates" in words


@pytest.mark.parametrize("method", ["single sine", "double triangle"])
def test_every_method_may_be_scored(record: Path, method: str) -> None:
    told = json.loads(run(record, "--json", "--method", method, "--base", "43 F").output)
    assert told["heat"].startswith(f"{method}, above 43 °F")


def test_years_the_record_does_not_allow_are_refused_with_those_it_does(record: Path) -> None:
    result = run(record, "--from-year", 2040)
    assert result.exit_code == 2
    assert "This record allows 2021 to 2023." in result.output


def test_record_of_ten_years_is_refused(tmp_path: Path) -> None:
    result = run(write(tmp_path / "short.csv", "Short", 10, 3))
    assert result.exit_code == 2
    assert "more than 20 whole years" in result.output


def test_base_that_is_no_temperature_is_refused(record: Path) -> None:
    result = run(record, "--base", "fifty")
    assert result.exit_code == 2
    assert "fifty" in result.output
