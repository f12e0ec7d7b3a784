"""What a run tells about snow and missing temperatures: one day is one day, in the yard's own units."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dooryard.units import System
from dooryard.water import network
from tests.water_yards import day, days, record, yard

DATES = days("2019-01-01", "2021-07-31")
ON = day("2021-08-01")
SNOWED = int(np.searchsorted(DATES, np.datetime64("2021-04-10")))


def notes(
    knowledge: Any, *, system: System = "metric", mean_c: float = 0.0, gap: slice = slice(0, 0)
) -> list[str]:
    """Notes of a yard on which 8 mm fell on 10 April 2021, at a mean of 0 degC, with a gap in the temperatures."""
    rain = np.zeros(len(DATES))
    rain[SNOWED] = 8.0
    month = DATES.astype("datetime64[M]").astype(int) % 12 + 1
    winter = (month >= 11) | (month <= 3)
    low, high = np.where(winter, -10.0, 12.0), np.where(winter, 5.0, 25.0)
    low[SNOWED], high[SNOWED] = mean_c - 5.0, mean_c + 5.0
    low[gap] = high[gap] = np.nan
    here = replace(yard(), units=system)
    made, _ = network.run(here, record(DATES, rain_mm=rain, t_min_c=low, t_max_c=high), knowledge, ON)
    return list(made.notes)


def test_one_day_of_snow_is_told_as_one_day(knowledge: Any) -> None:
    (told,) = [note for note in notes(knowledge) if "likely snow" in note]
    assert told.startswith("On 1 day in service what fell")


@pytest.mark.parametrize(
    ("system", "melt"),
    [("us", "0.06 in of water a day for each °F"), ("metric", "2.74 mm of water a day for each °C")],
)
def test_melt_is_told_in_the_units_of_the_yard(knowledge: Any, system: System, melt: str) -> None:
    (told,) = [note for note in notes(knowledge, system=system) if "likely snow" in note]
    assert melt in told


def test_temperature_missing_on_dry_days_with_snow_on_the_roof_is_told(knowledge: Any) -> None:
    told = notes(knowledge, gap=slice(SNOWED + 1, SNOWED + 6))
    assert any(
        "On 1 day without rain but with snow on the roof the temperature is missing" in note for note in told
    )


def test_temperature_missing_on_dry_days_without_snow_is_no_matter_for_the_roof(knowledge: Any) -> None:
    told = notes(knowledge, gap=slice(SNOWED + 20, SNOWED + 26))
    assert not any("snow on the roof" in note for note in told)


def test_temperature_missing_on_one_wet_day_is_told_as_one(knowledge: Any) -> None:
    told = notes(knowledge, gap=slice(SNOWED, SNOWED + 1))
    assert any(note.startswith("On 1 wet day the temperature is missing") for note in told)
