"""A storm at two linked drums, told in numbers a hydrologist would reckon, through the command as a person runs it.

The case is invented for this program; its numbers were worked out by hand. 620 sq ft of shingle (share 0.85) on two
linked drums of 55 gal, 60 % full; 2.1 in forecast (1.2 to 3.0) with 1.5 in/h in the hardest minutes, 4 in/h to design
for. Draining to 15 %: the spigots sit at 15 % of the height. Tolerance 1 %.
"""

from __future__ import annotations

import json
from math import pi, sqrt
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard

GAL_L, IN_M, FT_M = 3.785411784, 0.0254, 0.3048
GPM_L_S = GAL_L / 60
YARD = """
name = "two drums"
units = "us"

[place]
latitude = 38.2
longitude = -85.1
elevation = "625 ft"
station = "made up"
weather = "station.csv"
design_rain = "design.csv"

[[roofs]]
name = "south roof"
area = "620 sq ft"
covering = "asphalt-shingle"
downspout = "south spout"
measured_twice = true

[[downspouts]]
name = "south spout"
width = "3 in"
depth = "4 in"

[[storages]]
name = "left drum"
volume = "55 gal"
diameter = "23 in"
height = "35 in"
outlet_height = "5 1/4 in"
overflow_bore = "1 1/2 in"
stand_height = "16 in"
fed_by = ["south spout"]
linked_to = ["right drum"]
empties_to = "ground"
wall_distance = "10 ft"

[[storages]]
name = "right drum"
volume = "55 gal"
diameter = "23 in"
height = "35 in"
outlet_height = "5 1/4 in"
stand_height = "16 in"

[[levels]]
storage = "left drum"
date = 2031-06-02
volume = "33 gal"

[[levels]]
storage = "right drum"
date = 2031-06-02
volume = "33 gal"
"""
# The same rate whatever the minutes and the years: 4 in/h.
DESIGN = """Point precipitation frequency estimates (inches)
by duration for ARI (years):, 1, 2, 10, 100
5-min:, 0.3333333, 0.3333333, 0.3333333, 0.3333333
10-min:, 0.6666667, 0.6666667, 0.6666667, 0.6666667
60-min:, 4.0, 4.0, 4.0, 4.0
"""
FORECAST = """# issued: 2031-06-02
date,tmin_F,tmax_F,rain_in,rain_low_in,rain_high_in,burst_in_h
2031-06-02,60,80,0.00,0.00,0.00,0.0
2031-06-03,60,74,2.10,1.20,3.00,1.5
"""
KEY = "storage.left-drum"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The household's files: no rain in the station's year and a half before the storm."""
    made = tmp_path_factory.mktemp("two-drums")
    days = [f"2030-{month:02}-{day:02},50,70,0.00" for month, last in _MONTHS for day in range(1, last + 1)]
    days += [
        f"2031-{month:02}-{day:02},50,70,0.00"
        for month, last in _MONTHS
        for day in range(1, last + 1)
        if (month, day) < (6, 2)
    ]
    (made / "station.csv").write_text("\n".join(["date,tmin_F,tmax_F,rain_in", *days, ""]), encoding="utf-8")
    (made / "yard.toml").write_text(YARD, encoding="utf-8")
    (made / "design.csv").write_text(DESIGN, encoding="utf-8")
    (made / "forecast.csv").write_text(FORECAST, encoding="utf-8")
    return made


_MONTHS = tuple(zip(range(1, 13), (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31), strict=True))


def run(folder: Path, *words: str) -> Result:
    """The storm command in that folder."""
    line = [
        "storm",
        str(folder / "yard.toml"),
        "--forecast",
        str(folder / "forecast.csv"),
        "--on",
        "2031-06-02",
    ]
    return CliRunner().invoke(dooryard, [*line, *words], prog_name="dooryard")


@pytest.fixture(scope="module")
def document(folder: Path) -> dict[str, Any]:
    """What `dooryard storm --json` prints."""
    found: dict[str, Any] = json.loads(run(folder, "--json").stdout)
    return found


def ends(document: dict[str, Any], part: str) -> tuple[float, float, float]:
    """Low end, value and high end of a figure."""
    figure = document["figures"][f"{KEY}.{part}"]
    return figure["low"], figure["value"], figure["high"]


@pytest.mark.check(
    "scenario-storm-inflow", source="invented household, worked out by hand", status="computed"
)
def test_storm_scenario_water_that_comes_finds_room_and_runs_over(document: dict[str, Any]) -> None:
    """620 sq ft x 0.6234 x 0.85 x 2.1 in is 690 gal; 40 % of 110 gal is 44."""
    assert [one / GAL_L for one in ends(document, "storm")] == pytest.approx([394, 690, 986], rel=0.01)
    assert document["figures"][f"{KEY}.room"]["value"] / GAL_L == pytest.approx(44, rel=0.01)
    assert document["figures"][f"{KEY}.spill-kept"]["value"] / GAL_L == pytest.approx(646, rel=0.01)
    assert document["figures"][f"{KEY}.fills-rest"]["value"] == pytest.approx(0.134 * 25.4, rel=0.01)


@pytest.mark.check("scenario-storm-peaks", source="invented household, worked out by hand", status="computed")
def test_storm_scenario_hardest_minutes_and_the_bore_they_need(document: dict[str, Any]) -> None:
    figures = document["figures"]
    for part, gpm, bore_in in (("forecast", 9.7, 1.42), ("design", 25.8, 2.31)):
        assert figures[f"{KEY}.peak-{part}"]["value"] / GPM_L_S == pytest.approx(gpm, rel=0.01)
        assert figures[f"{KEY}.bore-{part}"]["value"] / IN_M == pytest.approx(bore_in, rel=0.01)


@pytest.mark.check(
    "scenario-storm-outlets", source="invented household, worked out by hand", status="computed"
)
def test_storm_scenario_outlets_at_two_inches_of_water(document: dict[str, Any]) -> None:
    """C a sqrt(2 g h) with 0.6: 2.7, 10.8, 19.2 and 43 gal a minute, printed to whole gallons from 10 on."""
    table = next(stop["table"] for stop in document["walk"] if stop["name"].startswith("The hardest minutes"))
    passes = {row[0].removesuffix(" (yours)"): row[1:] for row in table["rows"]}
    assert passes["0.75 in"] == ["2.7 gal/min", "too small", "too small"]
    assert passes["1.5 in"] == ["11 gal/min", "enough", "too small"]
    assert passes["2 in"] == ["19 gal/min", "enough", "too small"]
    assert passes["3 in"] == ["43 gal/min", "enough", "enough"]
    assert document["figures"][f"{KEY}.passes"]["value"] / GPM_L_S == pytest.approx(10.8, rel=0.01)


@pytest.mark.check(
    "scenario-storm-drawdown", source="invented household, worked out by hand", status="computed"
)
def test_storm_scenario_draining_holds_about_fifty_gallons_more(document: dict[str, Any]) -> None:
    """From 60 to 15 % of 110 gal is 49.5 gal, 7 % of the storm."""
    figures = document["figures"]
    assert figures[f"{KEY}.drain"]["value"] / GAL_L == pytest.approx(49.5, rel=0.01)
    assert figures[f"{KEY}.held"]["value"] / GAL_L == pytest.approx(50, rel=0.02)
    assert figures[f"{KEY}.held-share"]["value"] == pytest.approx(0.0718, rel=0.01)
    # 7 of 100 of the storm most likely; 13 of the least of it, 5 of the most.
    assert figures[f"{KEY}.held-share"]["shown"] == "7 % (5 to 13)"
    assert figures[f"{KEY}.spill"]["value"] / GAL_L == pytest.approx(646 - 49.5, rel=0.01)


def test_storm_scenario_time_to_let_it_out(document: dict[str, Any]) -> None:
    """Each drum lets 24.75 gal out of a 3/4 in spigot, loss factors 2 to 5, from 15.75 in of water to none."""
    surface = 55 * GAL_L / 1000 / (35 * IN_M)
    bore_m2 = pi / 4 * (0.75 * IN_M) ** 2
    minutes = [
        2 * surface * sqrt(15.75 * IN_M) / (bore_m2 / sqrt(1 + loss) * sqrt(2 * 9.80665)) / 60
        for loss in (2, 5)
    ]
    low, _, high = ends(document, "drain-time")
    assert [low * 60, high * 60] == pytest.approx(minutes, rel=1e-6)


def test_storm_scenario_refuses_to_be_flood_protection(folder: Path) -> None:
    result = run(folder)
    assert result.exit_code == 1
    assert "We will not call this flood protection" in result.stdout
    assert "This is not flood protection" in " ".join(result.stdout.split())
    assert "contractor" in result.stdout


def test_storm_scenario_says_when_to_open_and_to_close(document: dict[str, Any]) -> None:
    task = next(task for task in document["tasks"] if task["verb"] == "Do")
    assert (task["from"], task["to"]) == ("2031-06-02", "2031-06-02")
    assert "before 3 June" in task["what"]
    assert "until no more comes" in task["what"]
    assert "Then close it" in task["what"]


def test_storm_scenario_is_written_in_every_form(folder: Path, tmp_path: Path) -> None:
    result = run(folder, "--out", str(tmp_path))
    assert result.exit_code == 1
    starts = {".html": b"<!doctype html>", ".pdf": b"%PDF-", ".ics": b"BEGIN:VCALENDAR", ".json": b"{"}
    for ending, start in starts.items():
        content = (tmp_path / f"yard-storm{ending}").read_bytes()
        assert content[:20].lower().startswith(start.lower()), ending
        assert b"storm drill of 2 June 2031" in content or ending in (".pdf", ".json", ".ics")
    assert b"From the storm drill of" in (tmp_path / "yard-storm.ics").read_bytes().replace(b"\r\n ", b"")


def test_storm_scenario_follows_the_schema(document: dict[str, Any]) -> None:
    from importlib.resources import files

    jsonschema = pytest.importorskip("jsonschema")
    schema = json.loads((files("dooryard.plan") / "plan.schema.json").read_text("utf-8"))
    jsonschema.validate(document, schema, format_checker=jsonschema.FormatChecker())
    assert document["report"] == "storm"
