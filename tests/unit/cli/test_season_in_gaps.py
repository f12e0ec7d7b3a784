"""`dooryard season NAME` where days are missing: a day hidden in a gap is given as the days it may be."""

from __future__ import annotations

import json
import math
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from dooryard.demo import county


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    return folder / "stations" / "creek-bottom.csv"


def asked(record: Path, on: date) -> dict[str, Any]:
    words = ["season", "bagworm", "--weather", str(record), "--on", str(on), "--json"]
    result = CliRunner().invoke(dooryard, words)
    assert result.exit_code in (0, 1), result.output
    document: dict[str, Any] = json.loads(result.output)
    return document


def shown(document: dict[str, Any], end: str) -> dict[str, Any]:
    figure: dict[str, Any] = document["figures"][f"organism.bagworm.{end}"]
    return figure


def without(record: Path, first: date, days: int, to: Path) -> Path:
    """The record with the temperatures of some days lost."""
    lost = {str(first + timedelta(days=i)) for i in range(days)}
    lines = []
    for line in record.read_text("utf-8").splitlines():
        cells = line.split(",")
        if cells[0] in lost:
            cells[1] = cells[2] = ""
        lines.append(",".join(cells))
    to.write_text("\n".join(lines) + "\n", "utf-8")
    return to


def test_season_opening_hidden_in_a_gap_is_told_as_the_days_it_may_be(station: Path, tmp_path: Path) -> None:
    on = date(2030, 6, 8)
    opened = date.fromisoformat(shown(asked(station, on), "opens")["value"])
    gap = without(station, opened - timedelta(days=1), 3, tmp_path / "gap.csv")
    document = asked(gap, on)
    hidden = shown(document, "opens")
    assert hidden["value"] == "unknown"
    assert hidden["low"] < hidden["high"]
    assert hidden["shown"].startswith("between ")
    assert "at the earliest" not in json.dumps(document)
    assert "not at all" not in json.dumps(document)


def test_season_of_a_long_record_tells_the_number_of_years_it_plays_on(tmp_path: Path) -> None:
    """Forty-five years of the same mild wave: a look ahead goes back thirty, and says so."""
    lines = ["# station: Long Hollow", "# latitude: 38", "date,tmin_F,tmax_F,rain_in"]
    day = date(1986, 1, 1)
    while day < date(2031, 4, 1):
        turn = 2 * math.pi * (day.timetuple().tm_yday - 18) / 365
        middle = 52 - 22 * math.cos(turn) + day.year % 7 + 3 * math.sin(day.toordinal())
        lines.append(f"{day},{middle - 10:.0f},{middle + 10:.0f},0")
        day += timedelta(days=1)
    record = tmp_path / "long.csv"
    record.write_text("\n".join(lines) + "\n")
    document = asked(record, date(2031, 4, 1))
    inputs = {one["name"]: one["shown"] for one in shown(document, "opens")["inputs"]}
    assert inputs["past years of this station played on"] == "30"
    assert "one of 30 past years" in json.dumps(document["walk"])
    rests = next(note for note in document["record"] if note.startswith("Dates ahead rest on"))
    assert "those of heat sums on the last 30 of them" in rests


@pytest.mark.parametrize(("days_behind", "told"), [(3, False), (10, True)])
def test_season_says_so_where_the_record_stops_before_the_day_asked(
    station: Path, days_behind: int, told: bool
) -> None:
    """The demo's record ends on 19 May."""
    document = asked(station, date(2031, 5, 20) + timedelta(days=days_behind))
    assert any("end on 19 May; the 10 days since have none" in said for said in document["summary"]) == told
