"""Daily values of the Dutch weather service: a heading in two languages, then STN,YYYYMMDD and its columns.

Source: the heading of the files themselves (source W-KNMI of the knowledge tables). Everything is in tenths;
-1 is rain of less than 0.05 mm. A station's day is that of Universal Time, but a rain gauge's day (RD) ends at
08:00 Universal Time of its date, so its rain belongs to the day before.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.cells import parse_cells
from dooryard.weather.conversion import SAME, TENTHS, Conversion
from dooryard.weather.dates import parse_dates
from dooryard.weather.day_boundary import move
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.plain import take_apart
from dooryard.weather.record import Codes, Flag, Floats, Source, Station, WeatherRecord, on_calendar

LAYOUT = "KNMI daily values"

_JOULES_A_CM2 = Conversion(divide=100.0)
_COLUMNS: Mapping[str, tuple[str, Conversion]] = MappingProxyType(
    {
        "TN": ("t_min_c", TENTHS),
        "TX": ("t_max_c", TENTHS),
        "TG": ("t_mean_c", TENTHS),
        "RH": ("rain_mm", TENTHS),
        "RD": ("rain_mm", TENTHS),
        "FG": ("wind_m_s", TENTHS),
        "Q": ("solar_mj_m2", _JOULES_A_CM2),
        "UG": ("humidity_pct", SAME),
    }
)
_RAIN_DAY_ENDS = 8.0 + 1.0  # 08:00 Universal Time is 09:00 by the clock there (10:00 in summer)
_HEADER = re.compile(r"#?\s*STN\s*,\s*YYYYMMDD\s*,")
_PLACE = re.compile(r"#?\s*(\d+):?\s+(-?\d+\.\d+)\s+(-?\d+\.\d+)\s+(-?\d+\.\d+)\s+(\S.*)")


def is_header(line: str) -> bool:
    """True for the line that names the columns."""
    return _HEADER.match(line) is not None


def read(opened: Opened) -> WeatherRecord:
    """The record of a file of one station. InputError listing every fault with its line."""
    faults = Faults(opened.name)
    heading = next((row for row, line in enumerate(opened.lines) if is_header(line)), None)
    if heading is None:
        raise InputError(Problem("There is no line that begins with STN,YYYYMMDD.", file=opened.name))
    # The heading becomes comments, so that every line keeps its number.
    lines = [f"# {line}" for line in opened.lines[:heading]]
    lines += [opened.lines[heading].lstrip("# "), *opened.lines[heading + 1 :]]
    table = take_apart(replace(opened, data="\n".join(lines).encode()), faults)
    names = [name.strip().upper() for name in table.header]
    faults.raise_any()
    stations = sorted({cell.strip() for cell in table.cells[names.index("STN")]})
    if len(stations) > 1:
        what = f"The file mixes {len(stations)} stations ({', '.join(stations[:5])})."
        faults.add(what, "Keep the lines of one station.", name="STN")
    if not set(_COLUMNS) & set(names):
        what = "There is neither rain (RH, RD) nor temperature (TN, TX)."
        faults.add(what, "Order the file with these columns.", line=table.header_line)
    if {"RH", "RD"} <= set(names):
        what = "Rain stands here twice, as RH and as RD."
        faults.add(what, "Take one of the two columns out.", line=table.header_line)
    days = [cell.strip() for cell in table.cells[names.index("YYYYMMDD")]]
    dates, issues = parse_dates(days, table.lines, faults)
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name, (element, unit) in _COLUMNS.items():
        if name in names and element not in values:
            numbers, codes = parse_cells(table.cells[names.index(name)], table.lines, faults, name=name)
            if element == "rain_mm":
                trace = numbers == -1
                numbers, codes[trace] = np.where(trace, 0.0, numbers), Flag.TRACE
            values[element], flags[element] = unit.apply(numbers), codes
    faults.raise_any()
    station = _station(stations[0], opened.lines[:heading])
    source = Source(opened.name, LAYOUT, opened.sha256, "published in tenths")
    record = on_calendar(station, dates, values, flags, issues, source)
    if "RD" in names:
        return move(record, {"rain_mm": _RAIN_DAY_ENDS}, "08:00 Universal Time, as the file's heading says")
    return record


def _station(number: str, heading: Sequence[str]) -> Station:
    """Name and place, if the heading has a line for the station."""
    for line in heading:
        match = _PLACE.fullmatch(line.strip())
        if match and match[1] == number:
            longitude, latitude, elevation_m = (float(match[place]) for place in (2, 3, 4))
            return Station(match[5].strip(), number, latitude, longitude, elevation_m)
    return Station(number, number)
