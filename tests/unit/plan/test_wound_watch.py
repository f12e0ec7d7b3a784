"""Borers after a wound: by the warmth at a station, for the borers of that tree, this year and the next."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard import knowledge
from dooryard.cli.app import dooryard
from dooryard.plan.work.wound_watch import borers_of

KNOWN = knowledge.load()
WOUND = ("work", "wound", "--girth", "22 in", "--width", "4 in")


def _run(*words: str) -> Result:
    return CliRunner().invoke(dooryard, [*WOUND, *words])


@pytest.fixture
def record(tmp_path: Path) -> str:
    """Twelve years nearly alike: from 24 °F in January to 76 °F in July, a few degrees up and down each day."""
    from math import cos, pi
    from random import Random

    drawn = Random(7)

    lines = ["# station: Alder Flat", "date,tmin_F,tmax_F,rain_in"]
    day = date(2019, 1, 1)
    while day < date(2031, 5, 1):
        mean = 50 - 26 * cos(2 * pi * (day.timetuple().tm_yday - 15) / 365)
        mean += drawn.uniform(-6, 6)
        wide = drawn.uniform(8, 13)
        lines.append(f"{day},{mean - wide:.0f},{mean + wide:.0f},{drawn.choice((0, 0, 0.2)):g}")
        day += timedelta(days=1)
    path = tmp_path / "alder.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return str(path)


@pytest.mark.check("P-3.1", source="borers come after stress", status="common practice")
def test_borers_of_the_tree_get_dates_this_year_and_the_next(record: str) -> None:
    result = _run("--tree", "dogwood", "--weather", record, "--on", "2031-05-01", "--json")
    assert result.exit_code == 0
    document = json.loads(result.stdout)
    looks = [task for task in document["tasks"] + document["ahead"] if "dogwood borer" in task["what"]]
    assert [task["from"][:4] for task in looks] == ["2031", "2032"]
    # Years nearly alike: this year's dates and the usual ones lie close.
    first, second = (date.fromisoformat(task["from"]) for task in looks)
    assert abs((second - first).days - 366) <= 7
    assert looks[1]["what"].startswith("in 2032")
    assert document["organisms"] == []
    assert "Borers come to trees under stress" in json.dumps(document)


def test_wound_without_a_record_names_the_borers_and_says_what_is_missing() -> None:
    result = _run("--tree", "peach", "--on", "2031-05-01")
    assert result.exit_code == 1
    assert "peachtree borer, lesser peachtree borer" in " ".join(result.output.split())


@pytest.mark.parametrize(
    ("tree", "code", "says"),
    [
        ("ook", 2, "--tree (found ook)"),
        ("bagworm", 2, "Name the tree"),
        ("oak", 0, "no dates for a borer of oak"),
    ],
)
def test_wound_of_a_tree_that_is_none_or_has_no_borer_on_file(tree: str, code: int, says: str) -> None:
    result = _run("--tree", tree, "--on", "2031-05-01")
    assert result.exit_code == code
    assert says in " ".join(result.output.split())
    assert "Traceback" not in result.output


def test_borers_of_a_trunk_leave_out_those_of_stalks_and_vines() -> None:
    assert "emerald-ash-borer" in borers_of(KNOWN, "ash")
    for plant in ("sweet corn", "squash"):
        assert KNOWN.organisms_on(plant)
    assert borers_of(KNOWN, "sweet corn") == ()


def test_oak_is_the_one_tree_whose_wound_is_covered() -> None:
    said = {
        tree: " ".join(_run("--tree", tree, "--on", "2031-05-01").output.split()) for tree in ("oak", "peach")
    }
    assert "cover a fresh wound of an oak at once" in said["oak"]
    assert "oak" not in said["peach"]
