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


HOURS = "station,time,temp_C,rain_mm\n"


@pytest.fixture
def airports(tmp_path):
    """Two days of hours at two airports: 1 mm an hour at one, 2 at the other."""
    path = tmp_path / "airports.csv"
    path.write_text(
        HOURS
        + "".join(
            f"{name},2031-05-0{day} {hour:02d}:00,{10 + hour / 2},{rain}\n"
            for name, rain in (("EWR", 1), ("JFK", 2))
            for day in (2, 3)
            for hour in range(24)
        )
    )
    return path


def test_hours_of_several_stations_are_refused_with_the_option_that_chooses(airports):
    said = run("look", airports)
    assert said.exit_code == 2
    assert "mixes 2 stations (EWR, JFK)" in said.output
    assert "--station EWR" in said.output


def test_look_check_and_shelf_take_one_station_of_several(airports, tmp_path, monkeypatch):
    monkeypatch.setenv("DOORYARD_SHELF", str(tmp_path / "shelf"))
    told = json.loads(run("look", airports, "--station", "JFK", "--json").stdout)
    assert told["years"][0]["rain_mm"] == 96.0
    checked = json.loads(run("check", airports, "--station", "JFK", "--json").stdout)
    assert (checked[0]["station"], checked[0]["first"]) == ("JFK", "2031-05-02")
    for name in ("JFK", "EWR"):
        (added,) = json.loads(run("shelf", "add", airports, "--station", name, "--json").stdout)
        assert (added["change"], added["record"]["key"]) == ("new", name.lower())
    assert run("look", "shelf:jfk", "--station", "JFK").exit_code == 2


def test_station_that_is_not_in_the_file_is_told_with_those_that_are(airports):
    said = run("look", airports, "--station", "LGA")
    assert said.exit_code == 2
    assert "EWR, JFK" in said.output


def test_days_of_several_stations_are_read_one_at_a_time_with_their_own_line_numbers(tmp_path):
    path = tmp_path / "two.csv"
    rows = [
        f'"{name}","2031-05-0{day}","{rain}","2{day}.5","1{day}.5"'
        for day in (2, 3)
        for name, rain in (("USC00150001", 1.5), ("USC00150002", 2.5))
    ]
    path.write_text("\n".join(['"STATION","DATE","PRCP","TMAX","TMIN"', *rows]) + "\n")
    mixed = run("look", path)
    assert mixed.exit_code == 2
    assert "--station USC00150001" in mixed.output
    told = json.loads(
        run("look", path, "--layout", "daily-summaries-metric", "--station", "usc00150002", "--json").stdout
    )
    assert told["years"][0]["rain_mm"] == 5.0
    path.write_text(
        path.read_text().replace('"USC00150002","2031-05-03","2.5"', '"USC00150002","2031-05-03","wet"')
    )
    spoilt = run("look", path, "--layout", "daily-summaries-metric", "--station", "USC00150002")
    assert "line 5" in spoilt.output
    assert run("look", path, "--layout", "daily-summaries-metric", "--station", "X").exit_code == 2


def test_station_is_no_choice_where_a_file_has_none(cut_out):
    said = run("look", cut_out, "--layout", "daily-summaries-metric", "--station", "A")
    assert said.exit_code == 2
    assert "no column STATION" in said.output
