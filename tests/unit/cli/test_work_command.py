"""The sums on the command line: answers, exit codes, and what is said to nonsense."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard

CARD, FORECAST = "card.toml", "forecast.csv"
"""Files that each run finds in its folder: the card of the manual, three days of which the last may have rain."""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with a card and a forecast, to run in."""
    page = (Path(__file__).parents[3] / "docs" / "label-card.md").read_text(encoding="utf-8")
    (tmp_path / CARD).write_text(page.split("```toml\n")[1].split("```")[0], encoding="utf-8")
    days = "".join(f"2031-07-{day},65,84,0,{chance}\n" for day, chance in ((12, 10), (13, 20), (14, 60)))
    (tmp_path / FORECAST).write_text(f"date,tmin_F,tmax_F,rain_in,rain_chance_pct\n{days}", encoding="utf-8")
    monkeypatch.chdir(tmp_path)


def _run(*words: str) -> Result:
    return CliRunner().invoke(dooryard, ["work", *words])


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["wound", "--girth", "22 in", "--width", "4.5 in at 0", "--width", "3 in at 4 in"], 0, "31.8 %"),
        (["wound", "--girth", "22 in", "--width", "30 in"], 2, "not wider than the girth"),
        (["wound", "--girth", "22 in", "--width", "four"], 2, "--width"),
        (["wound", "--girth", "22 in"], 2, "--width"),
        (["mulch", "--area", "180 sq ft"], 0, "45 cu ft"),
        (["mulch", "--area", "180"], 2, "unit"),
        (["mulch"], 2, "Neither a ring nor a bed"),
        (["mulch", "--ring", "3 ft"], 2, "The trunk is missing"),
        (["mulch", "--ring", "0 ft", "--trunk", "7 in"], 2, "above zero"),
        (["plugs", "--area", "10 m2"], 2, "nothing to reckon with"),
        (["plugs", "--area", "10 m2", "--mat", "6 ft", "--plug", "4 in"], 2, "two lengths"),
        (["plugs", "--area", "10 m2", "--spacing", "20 cm", "--lost", "120 %"], 2, "not a share"),
        (["plugs", "--area", "10 m2", "--spacing", "20 cm", "--units", "metric"], 1, "250"),
        (["drench", "--girth", "60 in", "--crown-lost", "60 %"], 1, "licensed applicator"),
        (["mix", "--plant", "tomato", "--water", "1 gal"], 1, "No amount without the label"),
        (["mix", "--plant", "tomato", "--card", "nowhere.toml"], 2, "There is no file"),
        (["tree-water", "--trunk", "22 in"], 2, "not the girth"),
        (["tree-water", "--trunk", "2 in", "--planted", "in spring"], 2, "is not a day"),
        (
            ["soil", "--area", "400 sq ft", "--lime", "60 lb per 1,000 sq ft", "--cce", "90 %"],
            1,
            "soil report",
        ),
        (["soil", "--area", "400 sq ft", "--report", "2026-03-01"], 2, "No rate is given"),
        (
            ["soil", "--area", "400 sq ft", "--report", "2026-03-01", "--lime", "60 lb"],
            2,
            "how much of something",
        ),
        (["soil", "--area", "400 sq ft", "--grade", "10-6"], 2, "three numbers"),
        (["prune", "--plant", "forsythya"], 2, "forsythia"),
        (["prune", "--plant", "oak", "--state", "wisconson"], 2, "wisconsin"),
        (["divide", "--plant", "lupine"], 0, "Do not divide"),
        (
            ["no-bloom", "--plant", "hydrangea", "--pruned", "2026-10-01", "--on", "2026-11-01"],
            0,
            "cut at the wrong",
        ),
        (["no-bloom", "--plant", "spaceship"], 2, "wood it blooms"),
        (["treat", "--organism", "bagwurm", "--plant", "juniper", "--weather", "none.csv"], 2, "bagworm"),
        (["treat", "--organism", "bagworm", "--plant", "juniper", "--weather", "none.csv"], 2, "none.csv"),
        (
            ["mix", "--plant", "rose", "--card", CARD, "--water", "1 gal", "--on", "2031-07-12"],
            1,
            "No amount from this card",
        ),
        (
            ["mix", "--plant", "tomato", "--card", CARD, "--water", "1 gal", "--on", "2033-07-12"],
            1,
            "labels change",
        ),
        (
            ["days", "--plant", "rose", "--card", CARD, "--forecast", FORECAST, "--on", "2031-07-12"],
            1,
            "No day from this",
        ),
        (
            ["days", "--plant", "tomato", "--card", CARD, "--forecast", FORECAST, "--on", "2031-07-12"],
            0,
            "Monday 14 July",
        ),
        (
            ["days", "--plant", "tomato", "--card", "no.toml", "--forecast", "no.csv", "--log", "no.log"],
            2,
            "3 problems",
        ),
        (["mulhc"], 2, "mulch"),
    ],
)
def test_work_command_answers_or_says_what_to_write(words: list[str], code: int, says: str) -> None:
    result = _run(*words)
    assert result.exit_code == code
    assert says in result.output
    assert "Traceback" not in result.output


def test_work_command_gives_json_and_files(tmp_path: Path) -> None:
    words = ("mulch", "--area", "180 sq ft", "--on", "2031-05-20")
    document = json.loads(_run(*words, "--json").stdout)
    assert document["report"] == "work"
    assert document["figures"]["mulch.bags"]["value"] == 23
    result = _run(*words, "--out", str(tmp_path / "out"))
    assert result.exit_code == 0
    assert {path.suffix for path in (tmp_path / "out").iterdir()} == {
        ".html",
        ".pdf",
        ".ics",
        ".json",
        ".csv",
    }
