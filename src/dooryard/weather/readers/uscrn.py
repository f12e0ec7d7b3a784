"""US Climate Reference Network, one line a day: as published (28 fields apart by blanks) or as CSV with names.

Source: the network's own description (source W-USCRN of the knowledge tables): degC, mm, MJ/m2 and percent,
days from midnight to midnight local standard time, the lowest number of a field for missing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np

from dooryard.weather.cells import parse_cells
from dooryard.weather.dates import parse_dates
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.plain import take_apart
from dooryard.weather.record import Codes, Flag, Floats, Source, Station, WeatherRecord, on_calendar

LAYOUT = "US Climate Reference Network daily"

FIELDS = (
    *("WBANNO", "LST_DATE", "CRX_VN", "LONGITUDE", "LATITUDE", "T_DAILY_MAX", "T_DAILY_MIN"),
    *("T_DAILY_MEAN", "T_DAILY_AVG", "P_DAILY_CALC", "SOLARAD_DAILY", "SUR_TEMP_DAILY_TYPE"),
    *("SUR_TEMP_DAILY_MAX", "SUR_TEMP_DAILY_MIN", "SUR_TEMP_DAILY_AVG"),
    *("RH_DAILY_MAX", "RH_DAILY_MIN", "RH_DAILY_AVG"),
    *(f"SOIL_MOISTURE_{depth}_DAILY" for depth in (5, 10, 20, 50, 100)),
    *(f"SOIL_TEMP_{depth}_DAILY" for depth in (5, 10, 20, 50, 100)),
)
"""The fields of a line as published, in their order."""

_ELEMENTS: Mapping[str, str] = MappingProxyType(
    {
        "T_DAILY_MAX": "t_max_c",
        "T_DAILY_MIN": "t_min_c",
        "T_DAILY_AVG": "t_mean_c",
        "P_DAILY_CALC": "rain_mm",
        "SOLARAD_DAILY": "solar_mj_m2",
        "RH_DAILY_AVG": "humidity_pct",
    }
)
_FILE_NAME = re.compile(r"CRND\d+-\d{4}-([A-Z]{2})_(\w+)\.txt")
_MISSING = (-9999.0, -99.0)  # the second is a value no field of ours can reach


def read(opened: Opened) -> WeatherRecord:
    """The record of one or more station-years. Its place stands in the file, its name only in the file's name."""
    faults = Faults(opened.name)
    cells, lines = _cells(opened, faults)
    faults.raise_any()
    wban = "WBANNO" if "WBANNO" in cells else "WBAN"
    stations = sorted(set(cells[wban]))
    if len(stations) > 1:
        what = f"The file mixes {len(stations)} stations ({', '.join(stations[:5])})."
        faults.add(what, "Keep the lines of one station.", name=wban)
    dates, issues = parse_dates(cells["LST_DATE"], lines, faults)
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name, element in _ELEMENTS.items():
        if name in cells:
            numbers, codes = parse_cells(cells[name], lines, faults, name=name)
            absent = np.isin(numbers, _MISSING)
            codes[absent] = Flag.MISSING
            values[element], flags[element] = np.where(absent, np.nan, numbers), codes
    places, _ = parse_cells(
        [cells[name][-1] for name in ("LATITUDE", "LONGITUDE")], [lines[-1]] * 2, faults, name="LATITUDE"
    )
    faults.raise_any()
    named = _FILE_NAME.match(opened.name)
    name = f"{named[2].replace('_', ' ')}, {named[1]}" if named else stations[0]
    station = Station(name, stations[0], float(places[0]), float(places[1]))
    source = Source(opened.name, LAYOUT, opened.sha256, "days of local standard time")
    return on_calendar(station, dates, values, flags, issues, source)


def _cells(opened: Opened, faults: Faults) -> tuple[dict[str, Sequence[str]], Sequence[int]]:
    """The columns by their published name, and the line number of each row."""
    if "," in opened.lines[0]:
        table = take_apart(opened, faults)
        names = [name.strip().upper() for name in table.header]
        for needed in ("LATITUDE", "LONGITUDE", *_ELEMENTS):
            if needed not in names:
                what = f"There is no column {needed}."
                faults.add(what, "Keep the columns of the published file.", line=table.header_line)
        return dict(zip(names, table.cells, strict=True)), table.lines
    rows: list[list[str]] = []
    lines: list[int] = []
    for number, line in enumerate(opened.lines, start=1):
        fields = line.split()
        if not fields or fields[0].upper() == FIELDS[0]:
            continue
        if len(fields) == len(FIELDS):
            rows.append(fields)
            lines.append(number)
        else:
            what = f"This line has {len(fields)} fields where the layout has {len(FIELDS)}."
            faults.add(what, "Fetch the file again.", line=number, found=line)
    if not rows and not faults.problems:
        faults.add("There is no day in this file.", "Fetch the file again.")
    return dict(zip(FIELDS, map(list, zip(*rows, strict=True)), strict=True)) if rows else {}, lines
