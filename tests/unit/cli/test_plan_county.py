"""A plan with a county's own table: the number counts, and the plan says whose it is."""

from __future__ import annotations

import json
import shutil
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.knowledge import load
from dooryard.knowledge.county import FOLDER, OWN

SOURCES = "id,author,year,title,edition,licence,note\nOWN-1,Our office,2025,Scouting notes,,,\n"
STAGES = (
    "key,organism,stage,kind,use,dd_low,dd_high,unit,base,upper,cutoff,method,start,start_used,first,last,place,"
    "source,status,note\n"
    "bagworm.hatch.ohio,bagworm,bags seen to hatch,heat,look,700,,F,50,,none,average,01-01,01-01,,,here,"
    "OWN-1,seen,\n"
)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(dooryard, [str(word) for word in words], prog_name="dooryard")


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    assert run("demo", "--out", folder).exit_code == 0
    return folder


def own_folder(parent: Path, stages: str = STAGES) -> Path:
    (parent / "sources").mkdir(parents=True)
    (parent / "sources" / "own.csv").write_text(SOURCES, encoding="utf-8")
    (parent / "stages.csv").write_text(stages, encoding="utf-8")
    return parent


def test_plan_with_a_county_folder_names_its_rows_and_its_source(demo: Path, tmp_path: Path) -> None:
    folder = own_folder(tmp_path / "ours")
    result = run("plan", demo / "household-12.toml", "--on", "2031-05-20", "--county", folder, "--json")
    assert result.exit_code == 0, result.output
    document = json.loads(result.stdout)
    rows = {row["id"]: row for one in document["organisms"] for row in one["rows"]}
    assert rows["bagworm.hatch.ohio"]["stage"] == f"bags seen to hatch ({OWN})"
    assert rows["bagworm.hatch.ohio"]["range"] == "700 °F·d"
    assert OWN not in rows["bagworm.small.newjersey"]["stage"]
    assert document["sources"]["OWN-1"]["title"] == f"Scouting notes ({OWN})"


def test_plan_takes_the_folder_county_beside_the_yard_file(demo: Path, tmp_path: Path) -> None:
    place = tmp_path / "place"
    shutil.copytree(demo, place)
    own_folder(place / FOLDER)
    result = run("plan", place / "household-12.toml", "--on", "2031-05-20", "--json")
    assert OWN in result.stdout


def test_faulty_county_folder_stops_plan_and_check_with_line_and_field(demo: Path, tmp_path: Path) -> None:
    place = tmp_path / "place"
    shutil.copytree(demo, place)
    own_folder(place / FOLDER, STAGES.replace("700", "seven hundred").replace("OWN-1", "OWN-2"))
    for words in (
        ("plan", place / "household-12.toml", "--on", "2031-05-20"),
        ("check", place / "household-12.toml"),
    ):
        result = run(*words)
        assert result.exit_code == 2
        assert "stages.csv line 2, dd_low (found seven hundred)" in result.stderr
        assert "stages.csv line 2, source (found OWN-2)" in result.stderr


def test_plan_names_only_organisms_that_live_on_what_grows_in_the_yard(demo: Path) -> None:
    """Sixty-three are known; a yard with five plants and two beds hears of its own."""
    path = demo / "household-12.toml"
    yard = tomllib.loads(path.read_text(encoding="utf-8"))
    kinds = [plant["kind"] for plant in yard["plants"]] + [
        bed["grows"].replace("-", " ") for bed in yard["beds"]
    ]
    hosted = {row.organism for row in load().hosts if row.plant_kind in kinds}
    document = json.loads(run("plan", path, "--on", "2031-05-20", "--json").stdout)
    assert {one["id"] for one in document["organisms"]} == hosted
    assert 0 < len(hosted) < len(load().organisms) / 2


@pytest.mark.parametrize("command", ["water", "storm"])
def test_water_commands_take_a_county_folder_and_refuse_a_faulty_one(
    demo: Path, tmp_path: Path, command: str
) -> None:
    yard = demo / "household-12.toml"
    words = (command, yard, "--on", "2031-05-20", "--forecast", demo / "forecast.csv")
    folder = tmp_path / "ours"
    (folder / "facts").mkdir(parents=True)
    (folder / "sources").mkdir()
    (folder / "sources" / "own.csv").write_text(SOURCES, encoding="utf-8")
    head = "key,value,low,high,unit,source,place,status,note\n"
    (folder / "facts" / "own.csv").write_text(
        head + "storm.drain_head,none,,,m,OWN-1,here,seen,\n", encoding="utf-8"
    )
    assert run(*words).exit_code in (0, 1)
    refused = run(*words, "--county", folder)
    assert refused.exit_code == 2
    assert "own.csv line 2, value (found none)" in refused.stderr
