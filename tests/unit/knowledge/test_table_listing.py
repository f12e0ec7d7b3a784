"""Tables by name: which there are, what is found in them, what an own folder changes, which sources are used."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.knowledge import load
from dooryard.knowledge.listing import Change, changes, names, rows_of, uses
from dooryard.knowledge.load import SHIPPED
from dooryard.problem import InputError

SOURCES = "id,author,year,title,edition,licence,note\nOWN-1,Our office,2025,Scouting notes,,,\n"
HOSTS = "organism,plant_kind,source,status\nbagworm,juniper,OWN-1,seen\nbagworm,our hedge,OWN-1,seen\n"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(dooryard, [str(word) for word in words], prog_name="dooryard")


def own(tmp_path: Path, hosts: str = HOSTS) -> Path:
    (tmp_path / "sources").mkdir()
    (tmp_path / "sources" / "own.csv").write_text(SOURCES, encoding="utf-8")
    (tmp_path / "hosts.csv").write_text(hosts, encoding="utf-8")
    return tmp_path


def test_tables_are_named_after_their_files_and_folders() -> None:
    assert {"organisms", "windows_by_date", "division", "bearing", "facts", "methods", "sources"} <= set(
        names()
    )
    assert names() == tuple(sorted(names()))


@pytest.mark.parametrize("table", names())
def test_table_lists_as_many_rows_as_its_files_hold(table: str) -> None:
    if table == "methods":
        assert len(rows_of(load(), table)) == len(load().methods)
        return
    files = (
        [SHIPPED / f"{table}.csv"] if (SHIPPED / f"{table}.csv").exists() else (SHIPPED / table).glob("*.csv")
    )
    lines = 0
    for path in files:
        with path.open(encoding="utf-8", newline="") as stream:
            lines += sum(1 for _ in csv.DictReader(line for line in stream if not line.startswith("#")))
    assert len(rows_of(load(), table)) == lines
    # What runs wild is each county's own list, so that table alone is shipped empty.
    assert (lines > 0) is (table != "invasive")


def test_word_picks_the_rows_that_hold_it_whatever_their_case() -> None:
    assert list(rows_of(load(), "organisms", "THYRIDOPTERYX")) == ["bagworm"]
    assert rows_of(load(), "organisms", "no such word anywhere") == {}


def test_unknown_table_is_told_with_a_near_name() -> None:
    with pytest.raises(InputError, match="stages"):
        rows_of(load(), "stagges")


def test_sources_are_counted_over_all_tables(tmp_path: Path) -> None:
    from dooryard.knowledge.county import with_county

    counted = uses(with_county(own(tmp_path)))
    assert counted["OWN-1"] == 2
    assert counted["S-UMD-OLD"] == uses(load())["S-UMD-OLD"] > 20


def test_changes_tell_new_rows_from_replaced_ones(tmp_path: Path) -> None:
    from dooryard.knowledge.county import with_county

    assert changes(load()) == ()
    assert changes(with_county(own(tmp_path))) == (
        Change("hosts", "bagworm on juniper", True),
        Change("hosts", "bagworm on our hedge", False),
        Change("sources", "OWN-1", False),
    )


def test_knowledge_check_says_what_the_folder_changes(tmp_path: Path) -> None:
    result = run("knowledge", "check", own(tmp_path))
    assert result.exit_code == 0
    assert result.stdout.splitlines() == [
        "hosts: bagworm on juniper replaces the shipped row",
        "hosts: bagworm on our hedge is new",
        "sources: OWN-1 is new",
        "The folder is in order. It holds 3 rows.",
    ]


def test_knowledge_check_of_a_faulty_folder_tells_each_fault(tmp_path: Path) -> None:
    folder = own(tmp_path, HOSTS.replace("our hedge,OWN-1,seen", "our hedge,OWN-9,perhaps"))
    result = run("knowledge", "check", folder)
    assert result.exit_code == 2
    assert "hosts.csv line 3, source (found OWN-9)" in result.stderr
    assert "hosts.csv line 3, status (found perhaps)" in result.stderr


def test_knowledge_show_prints_a_row_with_source_and_status(tmp_path: Path) -> None:
    folder = own(tmp_path)
    result = run("knowledge", "show", "hosts", "our hedge", "--county", folder)
    assert result.stdout.splitlines() == [
        "bagworm on our hedge (from your county's own table)",
        "  organism: bagworm",
        "  plant_kind: our hedge",
        "  source: OWN-1",
        "  status: seen",
        "1 row.",
    ]
    rows = json.loads(run("knowledge", "show", "hosts", "our hedge", "--county", folder, "--json").stdout)
    assert [row["plant_kind"] for row in rows] == ["our hedge"]


def test_knowledge_show_without_a_table_lists_the_tables() -> None:
    assert run("knowledge", "show").stdout.split() == list(names())


def test_knowledge_sources_counts_the_rows(tmp_path: Path) -> None:
    result = run("knowledge", "sources", "scouting notes", "--county", own(tmp_path))
    assert result.stdout.splitlines() == [
        "OWN-1: Our office, Scouting notes, 2025 (from your county's own table). Rows: 2."
    ]
