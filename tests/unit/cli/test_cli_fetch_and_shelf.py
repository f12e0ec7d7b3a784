"""`dooryard weather fetch …` and `… shelf …` as a person types them, against a service on this computer."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from dooryard import weather
from dooryard.cli.app import dooryard
from dooryard.demo import county, households
from dooryard.weather import forecast
from dooryard.weather.fetch import asking
from dooryard.weather.record import Flag
from tests.forecast_cell import grid, point
from tests.weather_service import Made, Service, body, made_days, running, status

TODAY = date.today()
FIRST = date(TODAY.year - 12, 1, 1)
STATION = "USC00150001"
YARD = """
name = "Try"
units = "us"
[place]
latitude = 38.21
longitude = -85.11
elevation = "620 ft"
station = "Creek Bottom"
"""


@pytest.fixture(autouse=True)
def service(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Service]:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("DOORYARD_SHELF", str(tmp_path / "shelf"))
    monkeypatch.setenv("DOORYARD_CACHE", str(tmp_path / "cache"))
    monkeypatch.setattr(asking.Asker, "_pause", lambda *_: 0.0)
    with running() as found:
        monkeypatch.setenv("DOORYARD_DAILY_URL", found.url)
        monkeypatch.setenv("DOORYARD_FORECAST_URL", found.url)
        count = (TODAY - FIRST).days
        found.stations[STATION] = Made("CREEK BOTTOM, KY US", 38.2, -85.1, 186.0, made_days(FIRST, count))
        found.stations["USC00150002"] = Made(
            "HILL TOP, KY US", 38.4, -85.0, 470.4, made_days(FIRST, count, seed=8)
        )
        found.points["38.21,-85.11"] = point()
        found.grids["LMK/50,60"] = grid(TODAY)
        yield found


def run(*words: str, code: int = 0) -> Result:
    ran = CliRunner().invoke(dooryard, ["weather", *words])
    assert ran.exit_code == code, ran.output
    return ran


def run_json(*words: str, code: int = 0) -> Any:
    return json.loads(run(*words, "--json", code=code).stdout)


def test_fetch_record_puts_the_record_on_the_shelf_where_every_command_finds_it() -> None:
    said = run_json("fetch", "record", STATION, "--from", str(FIRST), code=0)
    assert said["change"] == "new"
    assert said["record"]["key"] == "usc00150001"
    assert said["record"]["complete_years"] == 12
    assert said["record"]["last"] == str(TODAY - timedelta(days=1))
    looked = run_json("look", f"shelf:{STATION}")
    assert "CREEK BOTTOM, KY US" in json.dumps(looked)
    again = run_json("fetch", "record", STATION, "--from", str(FIRST))
    assert (again["change"], again["questions"]) == ("unchanged", 0)


def test_fetch_record_whose_archive_was_revised_tells_how_many_values(
    service: Service, tmp_path: Path
) -> None:
    run("fetch", "record", STATION, "--from", str(FIRST))
    days = service.stations[STATION].days
    for step in range(3):
        days[TODAY - timedelta(days=20 + step)]["PRCP"] = "99.9"
    for kept in (tmp_path / "cache").iterdir():
        kept.unlink()
    said = run("fetch", "record", STATION, "--from", str(FIRST)).stdout
    assert "The archive has revised 3 values." in said


def test_fetch_record_without_a_network_says_how_to_bring_it_and_that_way_works(
    service: Service, tmp_path: Path
) -> None:
    service.spoil_all = status(503)
    ran = run("fetch", "record", STATION, "--from", str(FIRST), code=2)
    assert f"stations={STATION}" in ran.stderr
    assert f"shelf add {STATION}.csv --layout daily-summaries-metric" in ran.stderr
    service.spoil_all = None
    import urllib.request

    address = next(word for word in ran.stderr.split() if word.startswith("http"))
    (tmp_path / f"{STATION}.csv").write_bytes(urllib.request.urlopen(address).read())
    run("shelf", "add", f"{STATION}.csv", "--layout", "daily-summaries-metric", code=0)
    assert weather.read(f"shelf:{STATION}").station.name == "CREEK BOTTOM, KY US"


def test_fetch_record_from_an_old_answer_needs_a_person(service: Service) -> None:
    run("fetch", "record", STATION, "--from", str(FIRST))
    for kept in Path("cache").iterdir():
        head, _, rest = kept.read_bytes().partition(b"\n")
        about = json.loads(head)
        about["fresh_until"] = about["fetched"]
        kept.write_bytes(json.dumps(about).encode() + b"\n" + rest)
    service.spoil_all = body(b"<html>sign in</html>")
    said = run("fetch", "record", STATION, "--from", str(FIRST), code=1).stdout
    assert "because no newer one was to be had" in said
    assert "web page came instead of data" in said
    assert run_json("fetch", "record", STATION, "--from", str(FIRST), "--offline", code=1)["questions"] == 0


def test_fetch_forecast_writes_what_the_plan_reads(tmp_path: Path) -> None:
    (tmp_path / "yard.toml").write_text(YARD, encoding="utf-8")
    said = run("fetch", "forecast", "yard.toml").stdout
    assert "Forecast of LMK near Shelbyville, KY" in said
    assert "forecast.json" in said
    found = forecast.read("forecast.json")
    assert found.layout == "grid"
    assert found.first == TODAY
    shown = CliRunner().invoke(dooryard, ["weather", "forecast", "forecast.json"])
    assert shown.exit_code == 0, shown.output


def test_fetch_forecast_for_no_place_or_two_is_refused(service: Service, tmp_path: Path) -> None:
    (tmp_path / "yard.toml").write_text(YARD, encoding="utf-8")
    assert "not clear for which place" in run("fetch", "forecast", code=2).stderr
    assert "Two places" in run("fetch", "forecast", "yard.toml", "--at", "38,-85", code=2).stderr
    assert "no place" in run("fetch", "forecast", "--at", "Kentucky", code=2).stderr
    assert service.asked == []
    assert not (tmp_path / "forecast.json").exists()


def test_fetch_stations_lists_the_nearest_first(tmp_path: Path) -> None:
    (tmp_path / "yard.toml").write_text(YARD, encoding="utf-8")
    said = run("fetch", "stations", "yard.toml").stdout
    assert said.index(STATION) < said.index("USC00150002")
    assert "7/7/7" in said
    assert "higher" in said
    listed = run_json("fetch", "stations", "--at", "38.21, -85.11")
    assert [one["id"] for one in listed["stations"]] == [STATION, "USC00150002"]
    assert listed["stations"][0]["distance_km"] == pytest.approx(1.4, abs=0.1)


def test_fetch_stations_where_there_is_none_needs_a_person() -> None:
    assert "No station" in run("fetch", "stations", "--at", "45, -100", code=1).stdout


def test_shelf_lists_shows_and_removes() -> None:
    assert "shelf is empty" in run("shelf", "list").stdout
    run("fetch", "record", STATION, "--from", str(FIRST))
    assert "usc00150001" in run("shelf", "list").stdout
    shown = run("shelf", "show", STATION).stdout
    assert "CREEK BOTTOM" in shown
    assert "12 whole years" in shown
    assert "SHA-256" in shown
    assert "trace" in shown
    origin = run_json("shelf", "show", STATION)["origins"][0]
    assert origin["read_on"] == str(TODAY)
    assert len(origin["sha256"]) == 64
    run("shelf", "remove", STATION)
    assert run_json("shelf", "list")["stations"] == []


def test_shelf_add_leaves_out_only_the_file_that_cannot_be_read(tmp_path: Path) -> None:
    good = "# station: Creek\ndate,tmin_C,tmax_C,rain_mm\n2031-01-01,1,11,0\n2031-01-02,2,12,1\n"
    (tmp_path / "good.csv").write_text(good, encoding="utf-8")
    (tmp_path / "bad.csv").write_text("rubbish\n", encoding="utf-8")
    said = run_json("shelf", "add", "bad.csv", "good.csv", code=2)
    assert [sorted(one) for one in said] == [["file", "problems"], ["change", "file", "record", "replaced"]]
    assert run_json("shelf", "add", "good.csv")[0]["change"] == "unchanged"


def test_shelf_nearest_chooses_and_says_why_not_the_others(tmp_path: Path) -> None:
    (tmp_path / "yard.toml").write_text(YARD, encoding="utf-8")
    run("fetch", "record", STATION, "--from", str(FIRST))
    run("fetch", "record", "USC00150002", "--from", str(FIRST))
    (first, second) = run_json("shelf", "nearest", "yard.toml")
    assert (first["key"], first["chosen"], first["against"]) == ("usc00150001", True, [])
    assert first["distance_km"] == pytest.approx(1.4, abs=0.1)
    assert first["rise_m"] == pytest.approx(186.0 - 620 * 0.3048)
    assert second["against"] == ["It lies much higher than the yard."]
    said = run("shelf", "nearest", "yard.toml").stdout
    assert "-> usc00150001: CREEK BOTTOM, KY US, 1 mile away, as high as the yard" in said
    assert "--weather shelf:usc00150001" in said
    late = str(TODAY + timedelta(days=100))
    assert "101 days before" in run("shelf", "nearest", "yard.toml", "--on", late, code=1).stdout


def test_shelf_offset_found_from_a_yards_own_nights_and_applied(tmp_path: Path) -> None:
    """A yard that is 3 F colder on every night: found as 3 F, and the exported record has every night 3 F colder."""
    run("fetch", "record", STATION, "--from", str(FIRST))
    record = weather.read(f"shelf:{STATION}")
    days, lows = record.dates[-30:].astype(str).tolist(), (record.t_min_c[-30:] * 1.8 + 32 - 3).tolist()
    rows = [f"{day},{low:.2f}" for day, low in zip(days, lows, strict=True)]
    (tmp_path / "hollow.csv").write_text("date,tmin_F\n" + "\n".join(rows) + "\n", encoding="utf-8")
    found = run_json("shelf", "offset", STATION, "hollow.csv")
    assert found["nights"] == 30
    assert found["middle_c"] == pytest.approx(-3 / 1.8, abs=0.01)
    said = run("shelf", "offset", STATION, "hollow.csv").stdout
    assert "3 °F colder" in said
    assert 'night_offset = "-3 °F"' in said
    run(
        "shelf",
        "export",
        STATION,
        "--night-offset",
        "-3 °F",
        "--reason",
        "Low ground.",
        "--write",
        "moved.csv",
    )
    moved = weather.read("moved.csv")
    assert moved.t_min_c == pytest.approx(record.t_min_c - 3 / 1.8, abs=0.06)
    assert (moved.flags["t_min_c"] == Flag.MOVED).all()
    assert moved.t_max_c.tobytes() == record.t_max_c.tobytes()
    (told,) = [issue for issue in moved.issues if issue.kind == "site"]
    assert told.text == "The yard is not its station: each night 3 °F colder. Low ground."
    assert "once more" in told.instead


def test_shelf_offset_from_too_few_nights_is_refused(tmp_path: Path) -> None:
    run("fetch", "record", STATION, "--from", str(FIRST))
    yesterday = TODAY - timedelta(days=1)
    (tmp_path / "hollow.csv").write_text(f"date,tmin_F\n{yesterday},40\n", encoding="utf-8")
    assert "1 night is in both" in run("shelf", "offset", STATION, "hollow.csv", code=1).stdout


def test_plan_takes_a_record_from_the_shelf(tmp_path: Path) -> None:
    run("fetch", "record", STATION, "--from", str(FIRST))
    (tmp_path / "yard.toml").write_text(YARD + f'weather = "shelf:{STATION}"\n', encoding="utf-8")
    ran = CliRunner().invoke(dooryard, ["plan", "yard.toml", "--json"])
    assert ran.exit_code in (0, 1), ran.output
    assert json.loads(ran.stdout)["station"]["name"] == "CREEK BOTTOM, KY US"
    there = CliRunner().invoke(dooryard, ["plan", "yard.toml", "--weather", "shelf:nowhere"])
    assert there.exit_code == 2
    assert "no such station on the shelf" in there.stderr


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("DOORYARD_DAILY_URL", "http://elsewhere.invalid"),
        ("DOORYARD_FORECAST_URL", "ftp://127.0.0.1"),
        ("DOORYARD_CONTACT", "me\nX-Evil: 1"),
    ],
)
def test_fetch_settings_that_cannot_be_right_are_refused(
    service: Service, monkeypatch: pytest.MonkeyPatch, name: str, value: str
) -> None:
    monkeypatch.setenv(name, value)
    assert name in run("fetch", "record", STATION, code=2).stderr
    assert service.asked == []


def test_fetch_sends_the_contact_that_is_set(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DOORYARD_CONTACT", "office@county.example")
    run("fetch", "stations", "--at", "38.21, -85.11")
    assert "office@county.example" in service.asked[0].headers["user-agent"]


def test_fetch_record_says_what_was_asked_for_and_what_came() -> None:
    said = run("fetch", "record", STATION, "--from", str(FIRST)).stdout
    yesterday = TODAY - timedelta(days=1)
    days = (TODAY - FIRST).days
    assert f"asked for {FIRST} to {yesterday}, received {days:,} days from {FIRST} to {yesterday}." in said
    assert "Ordered, but not one value came: mean temperature (TAVG) and wind (AWND)." in said
    told = run_json("fetch", "record", STATION, "--from", str(FIRST), "--refresh")
    assert told["questions"] > 0
    assert (told["asked"], told["days"]) == ([str(FIRST), str(yesterday)], days)
    assert told["empty"] == ["TAVG", "AWND", "MDPR", "DAPR"]


def test_fetch_record_that_needs_a_person_says_why(service: Service) -> None:
    service.stations[STATION].days[FIRST + timedelta(days=40)]["PRCP"] = "1900.0"
    said = run("fetch", "record", STATION, "--from", str(FIRST), code=1).stdout
    assert "The rain cannot be right on 1 day, such as 1900 mm." in said
    assert "Suspect, rain, 10 February" in said


def test_fetch_offline_and_refresh_together_are_refused(service: Service) -> None:
    for words in (
        ("record", STATION),
        ("forecast", "--at", "38.21,-85.11"),
        ("stations", "--at", "38.21,-85.11"),
    ):
        ran = run("fetch", *words, "--offline", "--refresh", code=2)
        assert "Leave out --offline or --refresh." in ran.stderr
    assert service.asked == []


def test_shelf_nearest_leaves_invented_weather_to_the_yards_of_its_county(tmp_path: Path) -> None:
    county.write(tmp_path / "demo")
    households.write(tmp_path / "demo")
    run("shelf", "add", "demo/stations/creek-bottom.csv", "demo/stations/ridge-school.csv", code=1)
    last = str(weather.read(tmp_path / "demo/stations/creek-bottom.csv").last)
    home = tmp_path / "demo" / "household-12.toml"
    assert any(one["chosen"] for one in run_json("shelf", "nearest", str(home), "--on", last))
    real = tmp_path / "demo" / "real.toml"
    said = home.read_text(encoding="utf-8").splitlines()
    real.write_text("\n".join(line for line in said if not line.startswith("weather")), encoding="utf-8")
    listed = run_json("shelf", "nearest", str(real), "--on", last, code=1)
    assert [one["invented"] for one in listed] == [True, True]
    assert all("invented" in one["against"][0] for one in listed)
    assert "invented" in run("shelf", "list").stdout


@pytest.mark.parametrize(
    "address", ["http://[", "https://x:99999999", "https://x:port", "https://", "https://x/?a=1", "ftp://x"]
)
def test_fetch_from_an_address_that_is_none_is_refused(monkeypatch: pytest.MonkeyPatch, address: str) -> None:
    monkeypatch.setenv("DOORYARD_DAILY_URL", address)
    ran = run("fetch", "record", STATION, "--offline", code=2)
    assert "DOORYARD_DAILY_URL" in ran.stderr
    assert "not one of a secure service" in ran.stderr


def test_fetch_record_with_a_save_that_cannot_be_written_leaves_the_shelf_alone(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    ran = run("fetch", "record", STATION, "--from", str(FIRST), "--save", "file/new.csv", code=2)
    assert "--save: Cannot write there" in ran.stderr
    assert run_json("shelf", "list")["stations"] == []


def test_shelf_that_is_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    for words in (("list",), ("nearest", "--at", "38,-85"), ("show", "x")):
        assert "a shelf is a folder" in run("shelf", *words, "--shelf", "file", code=2).stderr


def test_shelf_add_that_ends_with_1_says_why(tmp_path: Path) -> None:
    text = "# station: Creek\ndate,tmin_C,tmax_C,rain_mm\n2031-01-01,1,11,0\n2031-01-04,2,12,1\n"
    (tmp_path / "gap.csv").write_text(text, encoding="utf-8")
    said = run("shelf", "add", "gap.csv", code=1).stdout
    listed = run_json("check", "gap.csv", code=1)[0]["findings"]
    assert f'{len(listed)} findings; "dooryard weather check gap.csv" lists them.' in said


def test_shelf_export_never_writes_over_a_file(tmp_path: Path) -> None:
    text = "# station: Creek\ndate,tmin_C,tmax_C,rain_mm\n2031-01-01,1,11,0\n2031-01-02,2,12,1\n"
    (tmp_path / "good.csv").write_text(text, encoding="utf-8")
    run("shelf", "add", "good.csv")
    assert "never written over" in run("shelf", "export", "creek", "--write", "good.csv", code=2).stderr
    assert (tmp_path / "good.csv").read_text(encoding="utf-8") == text


def test_option_whose_unit_is_missing_is_named(tmp_path: Path) -> None:
    text = "# station: Creek\ndate,tmin_C,tmax_C,rain_mm\n2031-01-01,1,11,0\n"
    (tmp_path / "good.csv").write_text(text, encoding="utf-8")
    for words in (
        ("add", "good.csv", "--elevation", "high"),
        ("nearest", "--at", "38,-85", "--elevation", "high"),
    ):
        assert run("shelf", *words, code=2).stderr.startswith('--elevation (found "high"): ')
    run("shelf", "add", "good.csv")
    ran = run("shelf", "export", "creek", "--write", "new.csv", "--night-offset", "cold", code=2)
    assert ran.stderr.startswith('--night-offset (found "cold"): ')
    assert not (tmp_path / "new.csv").exists()


def test_fetch_that_is_to_save_over_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    for words in (("record", STATION, "--from", str(FIRST)), ("forecast", "--at", "38.21,-85.11")):
        ran = run("fetch", *words, "--save", "folder", code=2)
        assert "--save: This is a folder" in ran.stderr
    assert list((tmp_path / "folder").iterdir()) == []


def test_fetch_that_cannot_keep_answers_says_so_once(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("DOORYARD_CACHE", str(tmp_path / "file"))
    said = run("fetch", "record", STATION, "--from", str(FIRST), code=1).stdout
    assert said.count("could not be kept") == 1


def test_shelf_export_with_a_reason_of_two_lines_can_be_read_again(tmp_path: Path) -> None:
    text = "# station: Creek\ndate,tmin_C,tmax_C,rain_mm\n2031-01-01,1,11,0\n2031-01-02,2,12,1\n"
    (tmp_path / "good.csv").write_text(text, encoding="utf-8")
    run("shelf", "add", "good.csv", "--name", "Creek\nBottom")
    run(
        "shelf",
        "export",
        "creek-bottom",
        "--write",
        "new.csv",
        "--night-offset",
        "-3 F",
        "--reason",
        "low\nground",
    )
    assert weather.read(tmp_path / "new.csv").station.name == "Creek Bottom"
    assert weather.read(tmp_path / "new.csv").t_min_c.tolist() == pytest.approx(
        [1 - 5 / 3, 2 - 5 / 3], abs=0.06
    )


def test_shelf_export_with_an_offset_beyond_any_yard_is_refused(tmp_path: Path) -> None:
    text = "# station: Creek\ndate,tmin_C,tmax_C,rain_mm\n2031-01-01,1,11,0\n"
    (tmp_path / "good.csv").write_text(text, encoding="utf-8")
    run("shelf", "add", "good.csv")
    for option in ("--night-offset", "--day-offset"):
        ran = run("shelf", "export", "creek", "--write", "new.csv", option, "900 F", code=2)
        assert ran.stderr.startswith(f"{option}: No yard is so much colder or warmer")
    assert not (tmp_path / "new.csv").exists()


def test_shelf_in_the_home_of_nobody_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DOORYARD_SHELF", "~nobody-of-this-name/shelf")
    assert "DOORYARD_SHELF (found ~nobody-of-this-name/shelf)" in run("shelf", "list", code=2).stderr
