"""A yard in a hollow: its own nights, not its station's, decide its dates."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.plan.build import plan
from dooryard.problem import InputError
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard import file

YARD = """
name = "hollow"
units = "us"
[place]
latitude = 38.2
longitude = -85.1
elevation = "600 ft"
station = "Creek Bottom"
"""
ON = dt.date(2031, 4, 20)


def station() -> WeatherRecord:
    """Twelve years that are all alike: warm and cold by the season, 12 degC between night and day."""
    dates = np.arange(np.datetime64("2019-01-01"), np.datetime64(ON))
    day = (dates - dates.astype("datetime64[Y]")).astype(int)
    low = 6 - 11 * np.cos(2 * np.pi * (day - 15) / 365.25)
    values = {"t_min_c": low, "t_max_c": low + 12, "rain_mm": np.where(day % 4 == 0, 8.0, 0.0)}
    flags = {name: np.zeros(len(dates), dtype=np.uint8) for name in values}
    return on_calendar(Station("Creek Bottom"), dates, values, flags, (), Source("creek.csv", "made"))


def document(tmp_path: Path, knowledge: Knowledge, more: str = "", on: dt.date = ON) -> dict[str, Any]:
    path = tmp_path / "yard.toml"
    path.write_text(YARD + more, encoding="utf-8")
    return plan(file.read(path, knowledge), station(), knowledge, on).document()


def test_plan_of_a_yard_in_a_hollow_says_what_was_done_to_the_record(
    tmp_path: Path, knowledge: Knowledge
) -> None:
    told = document(tmp_path, knowledge, 'night_offset = "-5 °F"\n')
    (note,) = [line for line in told["record"] if "not its station" in line]
    assert "each night 5 °F colder" in note
    assert [line for line in document(tmp_path, knowledge)["record"] if "not its station" in line] == []


def test_plan_of_a_yard_in_a_hollow_expects_its_last_frost_later(
    tmp_path: Path, knowledge: Knowledge
) -> None:
    """In a record whose years are all alike, nights 5 °F colder freeze for longer: the advice waits for longer."""
    bed = """
[[beds]]
name = "bed"
area = "40 sq ft"
grows = "tomato"
soil = "silt-loam"
watered_from = "tap"
how = "can"
"""
    days = []
    for more in ("", 'night_offset = "-5 °F"\n'):
        told = document(tmp_path, knowledge, more + bed, dt.date(2031, 2, 20))
        days += [task["to"] for task in (*told["tasks"], *told["ahead"]) if task["kind"] == "frost"]
    assert len(days) == 2
    assert days[0] < days[1]


def test_plan_still_claims_dates_for_a_yard_whose_nights_were_moved() -> None:
    """Moved readings are readings: they are not held back as estimates are."""
    from dooryard.season import timing
    from dooryard.weather import site
    from dooryard.weather.outlook import ahead

    moved = site.moved(station(), -2.0)
    assert set(moved.flags["t_min_c"].tolist()) == {Flag.MOVED}
    assert not (moved.flags["t_min_c"] == Flag.ESTIMATED).any()
    found = timing.crossing(
        moved.until(ON), ahead(moved, ON), 50.0, method="single sine", lower_c=10.0, start=(1, 1), on=ON
    )
    assert found.refused is None
    assert found.reached is not None


@pytest.mark.parametrize("typed", ['"30 °F"', '"-25 °C"'])
def test_yard_offset_that_is_a_temperature_is_refused(
    tmp_path: Path, knowledge: Knowledge, typed: str
) -> None:
    with pytest.raises(InputError, match="the difference, not the temperature"):
        document(tmp_path, knowledge, f"night_offset = {typed}\n")


def test_yard_offset_without_its_unit_is_refused(tmp_path: Path, knowledge: Knowledge) -> None:
    with pytest.raises(InputError, match="night_offset"):
        document(tmp_path, knowledge, "night_offset = -3\n")
