"""What a plan says beside the name of its station, where nobody can pass it over."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.plan.build import plan
from dooryard.weather.record import MADE_UP, Flag, Issue, Source, Station, WeatherRecord, on_calendar
from dooryard.yard import file

YARD = """
name = "mill"
units = "us"
[place]
latitude = 38.2
longitude = -85.1
elevation = "600 ft"
station = "Mill"
"""
ON = dt.date(2031, 4, 20)


def record(*lacking: str, issues: tuple[Issue, ...] = ()) -> WeatherRecord:
    """Four years with rain every fourth day; all values of the elements named are put aside."""
    dates = np.arange(np.datetime64("2027-01-01"), np.datetime64(ON))
    day = (dates - dates.astype("datetime64[Y]")).astype(int)
    low = 6 - 11 * np.cos(2 * np.pi * (day - 15) / 365.25)
    values = {"t_min_c": low, "t_max_c": low + 12, "rain_mm": np.where(day % 4 == 0, 8.0, 0.0)}
    flags = {name: np.zeros(len(dates), dtype=np.uint8) for name in values}
    for name in lacking:
        values[name] = np.full(len(dates), np.nan)
        flags[name][:] = Flag.SUSPECT
    return on_calendar(Station("Mill"), dates, values, flags, issues, Source("mill.csv", "made"))


@pytest.mark.parametrize(
    ("lacking", "said"),
    [
        ((), "the file does not say where it stands"),
        (("rain_mm",), "the file does not say where it stands, without any usable rain"),
        (
            ("rain_mm", "t_min_c", "t_max_c"),
            "the file does not say where it stands, without any usable rain and temperature",
        ),
    ],
)
def test_plan_says_beside_its_station_what_that_lacks(
    tmp_path: Path, knowledge: Knowledge, lacking: tuple[str, ...], said: str
) -> None:
    path = tmp_path / "yard.toml"
    path.write_text(YARD, encoding="utf-8")
    told = plan(file.read(path, knowledge), record(*lacking), knowledge, ON).document()["station"]
    assert told["words"] == said
    assert (told["first"], told["last"]) == ("2027-01-01", "2031-04-19")


def test_plan_says_first_that_its_weather_is_invented(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "yard.toml"
    path.write_text(YARD, encoding="utf-8")
    issues = (Issue("filled", "Somebody filled it."), Issue(MADE_UP, "Nobody measured this."))
    told = plan(file.read(path, knowledge), record(issues=issues), knowledge, ON).document()
    assert told["station"]["words"].startswith("invented weather, not measured")
    assert told["record"][0] == "Nobody measured this."


@pytest.mark.parametrize(("degrees", "said"), [(0.015, "about a mile from"), (0.03, "about 2 miles from")])
def test_plan_tells_one_mile_as_a_mile(
    tmp_path: Path, knowledge: Knowledge, degrees: float, said: str
) -> None:
    """A degree of latitude is 69 miles."""
    path = tmp_path / "yard.toml"
    path.write_text(YARD, encoding="utf-8")
    here = replace(record(), station=Station("Mill", latitude=38.2 + degrees, longitude=-85.1))
    assert said in plan(file.read(path, knowledge), here, knowledge, ON).document()["station"]["words"]
