"""Invented weather stays invented: through its file, the shelf, a second file, and in every report."""

import json
from datetime import date

import pytest
from click.testing import CliRunner

from dooryard import weather
from dooryard.cli.app import dooryard
from dooryard.demo import county
from dooryard.weather import plain_text
from dooryard.weather.store import Shelf

DAYS = "date,tmin_C,tmax_C,rain_mm\n2031-05-01,5,15,0\n2031-05-02,6,16,2.5\n"
MADE = (
    "# station: Mill\n# invented: made by a weather generator; nobody measured this\n# fitted to: mill.csv\n"
)


@pytest.fixture(scope="module")
def station(tmp_path_factory):
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    return folder / "stations" / "creek-bottom.csv"


def run(*words):
    return CliRunner().invoke(dooryard, [str(word) for word in words], prog_name="dooryard")


def test_plain_file_that_says_it_is_invented_is_told_and_known(put):
    record = weather.read(put(MADE + DAYS))
    assert record.invented
    issue = record.issues[0]
    assert issue.kind == "invented"
    assert "nobody measured it" in issue.text
    assert "mill.csv" in issue.evidence


@pytest.mark.parametrize("head", ["# station: Mill\n", "# invented: no\n", "# station: the invented mill\n"])
def test_plain_file_that_does_not_say_so_is_not_invented(put, head):
    record = weather.read(put(head + DAYS))
    assert not record.invented
    assert "invented" not in [issue.kind for issue in record.issues]


def test_invented_record_written_anew_still_says_so(put):
    record = weather.read(put(MADE + DAYS))
    assert weather.read(put(plain_text.render(record), "again.csv")).invented
    assert not weather.read(put(plain_text.render(weather.read(put(DAYS))), "real.csv")).invented


def test_invented_record_on_the_shelf_and_cut_at_a_day_still_says_so(put, tmp_path):
    record = weather.read(put(MADE + DAYS))
    shelf = Shelf(tmp_path / "shelf")
    shelf.add(record, date(2031, 5, 3))
    assert shelf.record("mill").invented
    assert record.until(date(2031, 5, 2)).invented


def test_real_days_put_beside_invented_ones_make_no_real_record(put, tmp_path):
    shelf = Shelf(tmp_path / "shelf")
    shelf.add(weather.read(put(MADE + DAYS)), date(2031, 5, 3))
    newer = "# station: Mill\ndate,tmin_C,tmax_C,rain_mm\n2031-05-02,6,16,2.5\n2031-05-03,7,17,0\n"
    shelf.add(weather.read(put(newer, "newer.csv")), date(2031, 5, 4))
    assert shelf.record("mill").invented


def test_demo_stations_say_that_they_are_invented(station):
    assert weather.read(station).invented


def test_look_check_and_compare_say_in_words_that_weather_is_invented(station):
    for command in ("look", "check", "compare"):
        shown = run("weather", command, station)
        assert "This weather is invented" in " ".join(shown.stdout.split()), command
        told = json.loads(run("weather", command, station, "--json").stdout)
        assert (told[0] if command == "check" else told)["invented"] is True


def test_plan_names_invented_weather_beside_its_station(station):
    folder = station.parent.parent
    assert run("demo", "--out", folder / "demo").exit_code in (0, 1)
    yard = sorted((folder / "demo").glob("household-*.toml"))[0]
    shown = run("plan", yard, "--weather", station, "--on", "2031-05-20")
    assert shown.exit_code in (0, 1), shown.output
    assert "invented weather, not measured" in " ".join(shown.stdout.split())
