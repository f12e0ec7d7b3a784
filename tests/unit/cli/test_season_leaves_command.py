"""`dooryard season leaves` on hours and days made here."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.letter import plain


def hours(folder: Path) -> Path:
    """Two weeks of 20 degC, humid from midnight to eight."""
    lines = ["time,temp_C,humidity_pct,rain_mm"]
    for hour in np.arange(np.datetime64("2031-06-01T00"), np.datetime64("2031-06-15T00")):
        humid = 95 if int(str(hour)[11:13]) < 8 else 60
        lines.append(f"{str(hour).replace('T', ' ')}:00,20.0,{humid},0.0")
    path = folder / "hours.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def days(folder: Path, *, dew: bool, latitude: bool = True) -> Path:
    head = ["# latitude: 40.0"] if latitude else []
    lines = [*head, "date,tmin_C,tmax_C,rain_mm" + (",dew_point_C" if dew else "")]
    for day in np.arange(np.datetime64("2031-05-01"), np.datetime64("2031-06-15")):
        lines.append(f"{day},15.0,27.0,0.0" + (",16.0" if dew else ""))
    path = folder / "days.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def told(*words: object) -> Result:
    return CliRunner().invoke(dooryard, ["season", "leaves", *(str(word) for word in words)])


def test_leaves_of_hours_say_the_sum_and_what_helps_before_any_spray(tmp_path: Path) -> None:
    result = told(hours(tmp_path), "--on", "2031-06-15", "--disease", "early-blight")
    assert result.exit_code == 0, result.output
    text = " ".join(result.output.split())
    assert "days come to 7 of at most 28" in text
    assert text.index("First: stake the plants") < text.index("Those who spray")
    assert "made from each day's two temperatures" not in text
    assert plain.grade(result.output) <= 8


def test_leaves_as_data_and_drawing_hold_the_same_days(tmp_path: Path) -> None:
    result = told(hours(tmp_path), "--on", "2031-06-15", "--json", "--out", tmp_path / "out")
    data = json.loads(result.stdout)
    assert data["schema"] == "dooryard-leaves-1"
    assert [day["wet_h"] for day in data["days"]] == [8.0] * 14
    assert [day["severity"] for day in data["days"]] == [1.0] * 14
    assert json.loads((tmp_path / "out" / "leaves.json").read_text("utf-8")) == data
    ElementTree.parse(tmp_path / "out" / "leaves.svg")


def test_leaves_of_days_say_how_far_they_may_be_off(tmp_path: Path) -> None:
    result = told(days(tmp_path, dew=True), "--on", "2031-06-15", "--disease", "scab")
    assert result.exit_code == 0, result.output
    assert "five stations" in " ".join(result.output.split())


def test_leaves_of_days_without_dew_point_or_latitude_are_refused(tmp_path: Path) -> None:
    dry = told(days(tmp_path, dew=False), "--on", "2031-06-15")
    assert dry.exit_code == 2
    assert "neither humidity nor dew point" in dry.output
    nowhere = told(days(tmp_path, dew=True, latitude=False), "--on", "2031-06-15")
    assert nowhere.exit_code == 2
    assert "--latitude" in nowhere.output


def test_leaves_outside_the_record_cannot_tell_and_say_so_by_exit_code(tmp_path: Path) -> None:
    result = told(hours(tmp_path), "--on", "2032-06-15", "--disease", "early-blight")
    assert result.exit_code == 1
    assert "cannot tell" in result.output
