"""A person may say which layout a file is in, and when the gauge is read."""

import json

import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard


def run(*words):
    return CliRunner().invoke(dooryard, ["weather", *(str(word) for word in words)])


@pytest.fixture
def cut_out(tmp_path):
    """Two days that could be in any unit."""
    path = tmp_path / "cut.csv"
    path.write_text("DATE,PRCP,TMAX,TMIN\n2031-05-02,10,20,10\n2031-05-03,0,21,11\n")
    return path


def test_look_takes_the_units_a_person_says(cut_out):
    assert run("look", cut_out, "--json").exit_code == 2
    said = run("look", cut_out, "--json", "--layout", "daily-summaries-tenths")
    assert json.loads(said.stdout)["years"][0]["rain_mm"] == 1.0


def test_look_moves_a_morning_reading_if_told(cut_out):
    said = run("look", cut_out, "--json", "--layout", "daily-summaries-metric", "--day-ends", "7 am")
    told = json.loads(said.stdout)
    assert (told["first"], said.exit_code) == ("2031-05-01", 1)
    assert "day boundary" in {issue["kind"] for issue in told["issues"]}


def test_check_takes_both_for_all_files(cut_out):
    said = run(
        "check", cut_out, cut_out, "--json", "--layout", "daily-summaries-metric", "--day-ends", "07:00"
    )
    assert [file["findings"][0]["kind"] for file in json.loads(said.stdout)] == ["day boundary"] * 2


def test_layout_and_hour_that_are_none_are_told(cut_out):
    for words in (
        ("--layout", "daily-sumaries"),
        ("--layout", "daily-summaries-metric", "--day-ends", "dawn"),
    ):
        said = run("look", cut_out, *words)
        assert said.exit_code == 2
        assert words[-1] in said.output
