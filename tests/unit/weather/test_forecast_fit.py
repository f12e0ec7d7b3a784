"""Whether a forecast is for this place and these days."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from dooryard.demo import county, households
from dooryard.plan.files import plan_from_files
from dooryard.weather import forecast
from dooryard.weather.forecast_fit import against
from tests.forecast_cell import grid

Put = Callable[..., Path]
PLAIN = "# issued: 2031-05-20\ndate,tmin_F,tmax_F,rain_in\n2031-05-20,50,70,0\n"


def test_forecast_made_for_a_place_far_away_is_told_with_the_distance(put: Put) -> None:
    found = replace(forecast.read(put(PLAIN, "f.csv")), place=(38.0, -85.0))
    # A degree of latitude is 111.2 km or 69.1 miles on a globe of the Earth's mean radius.
    assert against(found, 39.0, -85.0, date(2031, 5, 20), "us") == (
        "The forecast was made for a place 69 miles away: fetch the one for this place.",
    )
    assert "111 km away" in against(found, 39.0, -85.0, date(2031, 5, 20), "metric")[0]
    assert against(found, 38.2, -85.0, date(2031, 5, 20), "us") == ()
    assert against(replace(found, place=None), 39.0, -85.0, date(2031, 5, 20), "us") == ()


@pytest.mark.parametrize(("on", "old"), [(date(2031, 5, 22), False), (date(2031, 5, 23), True)])
def test_forecast_older_than_two_days_is_told(put: Put, on: date, old: bool) -> None:
    said = against(forecast.read(put(PLAIN, "f.csv")), 38.0, -85.0, on, "us")
    assert any("made on 2031-05-20, 3 days before 2031-05-23" in line for line in said) is old


def test_plan_and_forecast_command_say_that_the_forecast_is_for_elsewhere(tmp_path: Path) -> None:
    import json

    county.write(tmp_path)
    households.write(tmp_path)
    yard = tmp_path / households.SHOWN_YARD
    cell = grid(households.MADE_ON)
    (tmp_path / "here.json").write_text(json.dumps(cell), encoding="utf-8")
    far = cell | {"fetched": {"latitude": 47.0, "longitude": -120.0}}
    (tmp_path / "far.json").write_text(json.dumps(far), encoding="utf-8")

    def notes(name: str) -> str:
        plan = plan_from_files(yard, weather=None, forecast=tmp_path / name, on=households.MADE_ON)
        return json.dumps(plan.document()["record"])

    assert "miles away: fetch the one for this place" in notes("far.json")
    assert "fetch the one for this place" not in notes("here.json")
    ran = CliRunner().invoke(
        dooryard,
        ["weather", "forecast", str(tmp_path / "far.json"), "--yard", str(yard)],
        prog_name="dooryard",
    )
    assert ran.exit_code == 1
    assert "miles away: fetch the one for this place" in " ".join(ran.stdout.split())
