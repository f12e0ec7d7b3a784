"""Daily values of the Irish weather service: name and place, a list of the columns, then date,ind,…

The layout is written from memory and from files quoted in public code (source W-MET-EIREANN of the knowledge
tables); no complete file was at hand. So the issues say what was taken for granted.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.cells import parse_cells
from dooryard.weather.conversion import KNOTS, SAME, Conversion
from dooryard.weather.dates import parse_dates
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.notes import noted
from dooryard.weather.readers.plain import Table, take_apart
from dooryard.weather.record import Codes, Flag, Floats, Issue, Source, Station, WeatherRecord, on_calendar

LAYOUT = "Met Eireann daily values"

_JOULES_A_CM2 = Conversion(divide=100.0)
_COLUMNS: Mapping[str, tuple[str, Conversion]] = MappingProxyType(
    {
        "maxtp": ("t_max_c", SAME),
        "maxt": ("t_max_c", SAME),
        "mintp": ("t_min_c", SAME),
        "mint": ("t_min_c", SAME),
        "rain": ("rain_mm", SAME),
        "wdsp": ("wind_m_s", KNOTS),
        "g_rad": ("solar_mj_m2", _JOULES_A_CM2),
        "glorad": ("solar_mj_m2", _JOULES_A_CM2),
    }
)
# What the indicator in front of a value means, as remembered.
_TEMPERATURE_ESTIMATED, _TEMPERATURE_ABSENT = (2, 3), (4,)
_RAIN_FINE, _RAIN_TRACE = (0, 1), (2, 3, 4)
_HEADER = re.compile(r"date\s*,(\s*ind\w*\s*,)?\s*(maxtp|rain)\b", re.IGNORECASE)
_PLACE = re.compile(r"latitude\s*:\s*(-?\d+\.?\d*)\s*,\s*longitude\s*:\s*(-?\d+\.?\d*)", re.IGNORECASE)
_DAY = re.compile(r"date\s*:?\s*-\s*(\d\d)\s*(?:to|-)\s*(\d\d)\s*utc", re.IGNORECASE)


def is_header(line: str) -> bool:
    """True for the line that names the columns of a daily file (an hourly one is date,ind,rain,ind,temp)."""
    names = [name.strip().lower() for name in line.split(",")]
    return _HEADER.match(line.strip()) is not None and "temp" not in names


def read(opened: Opened) -> WeatherRecord:
    """The record of a daily file. InputError listing every fault with its line."""
    faults = Faults(opened.name)
    heading = next((row for row, line in enumerate(opened.lines) if is_header(line)), None)
    if heading is None:
        raise InputError(Problem("There is no line that begins with date,ind.", file=opened.name))
    lines = [f"# {line}" for line in opened.lines[:heading]]
    table = take_apart(replace(opened, data="\n".join([*lines, *opened.lines[heading:]]).encode()), faults)
    names = [name.strip().lower() for name in table.header]
    faults.raise_any()
    dates, issues = parse_dates(table.cells[names.index("date")], table.lines, faults, written=opened.written)
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name, (element, unit) in _COLUMNS.items():
        if name not in names or element in values:
            continue
        place = names.index(name)
        numbers, codes = parse_cells(table.cells[place], table.lines, faults, name=name)
        marked = _indicators(table, names, place, faults)
        if element == "rain_mm":
            trace = np.isin(marked, _RAIN_TRACE) & (numbers == 0)
            codes[trace] = Flag.TRACE
            doubtful = ~np.isin(marked, _RAIN_FINE) & ~np.isnan(marked) & ~trace & ~np.isnan(numbers)
        else:
            absent = np.isin(marked, _TEMPERATURE_ABSENT)
            numbers, codes[absent] = np.where(absent, np.nan, numbers), Flag.MISSING
            doubtful = np.isin(marked, _TEMPERATURE_ESTIMATED) & ~np.isnan(numbers)
        codes[doubtful] = Flag.ESTIMATED
        text = "The publisher's indicator says that the value of {days} is no plain measurement."
        issues += noted("estimated", doubtful, dates, text, "Kept, as estimated.", element)
        values[element], flags[element] = unit.apply(numbers), codes
    faults.raise_any()
    station, told = _heading(opened.lines[:heading], opened.name)
    source = Source(opened.name, LAYOUT, opened.sha256, "layout and indicators from memory")
    return on_calendar(station, dates, values, flags, issues + told, source)


def _indicators(table: Table, names: list[str], place: int, faults: Faults) -> Floats:
    """The indicator column in front of a value, NaN where there is none."""
    if place == 0 or not names[place - 1].startswith(("ind", "i")) or names[place - 1] in _COLUMNS:
        return np.full(len(table.lines), np.nan)
    return parse_cells(table.cells[place - 1], table.lines, faults, name="ind")[0]


def _heading(lines: Sequence[str], file_name: str) -> tuple[Station, tuple[Issue, ...]]:
    """Name and place of the station, and what the heading says of the day."""
    name, elevation_m = file_name.split(".")[0], None
    latitude = longitude = None
    issues: list[Issue] = []
    for line in lines:
        key, _, value = line.partition(":")
        if key.strip().lower() == "station name":
            name = value.strip().rstrip(",").title()
        elif key.strip().lower() == "station height" and (found := re.search(r"-?\d+\.?\d*", value)):
            elevation_m = float(found[0])
        if match := _PLACE.search(line):
            latitude, longitude = float(match[1]), float(match[2])
        if (match := _DAY.search(line)) and match[1] != "00":
            text = (
                f"Days run from {match[1]}:00 to {match[2]}:00 Universal Time. Each value was taken to stand "
            )
            text += "on the day its 24 hours begin, as is usual there; the file does not say so."
            issues.append(Issue("day boundary", text, instead="Nothing was moved."))
    return Station(name, "", latitude, longitude, elevation_m), tuple(issues)
