"""NOAA global summary of the day as CSV: degF, inches and knots, made from the hourly reports of a station.

Source: the network's own description (source W-GSOD of the knowledge tables). Its days are those of Universal
Time, and its rain needs the mark beside it: a nought marked I is no measurement.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.cells import parse_cells
from dooryard.weather.conversion import FAHRENHEIT, INCHES, KNOTS, Conversion
from dooryard.weather.dates import parse_dates
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.packed import distinct
from dooryard.weather.readers.notes import noted
from dooryard.weather.readers.plain import Table, take_apart
from dooryard.weather.readers.stations import one_station
from dooryard.weather.record import Codes, Days, Flag, Floats, Issue, Source, WeatherRecord, on_calendar

LAYOUT = "NOAA global summary of the day CSV"

_COLUMNS: Mapping[str, tuple[str, Conversion, float]] = MappingProxyType(
    {
        "MIN": ("t_min_c", FAHRENHEIT, 9999.9),
        "MAX": ("t_max_c", FAHRENHEIT, 9999.9),
        "PRCP": ("rain_mm", INCHES, 99.99),
        "TEMP": ("t_mean_c", FAHRENHEIT, 9999.9),
        "DEWP": ("dew_point_c", FAHRENHEIT, 9999.9),
        "WDSP": ("wind_m_s", KNOTS, 999.9),
    }
)
"""Column to our element, its unit, and the number that stands for missing."""

_PART_OF_DAY = ("A", "B", "C", "E")  # 6, 12, 18 hours of 6-hour reports; one of 12 hours
_NO_MEASUREMENT = ("H", "I")


def read(opened: Opened) -> WeatherRecord:
    """The record of one or more station-years one below the other. InputError listing every fault."""
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    names = [name.strip().upper() for name in table.header]
    if "DATE" not in names or not {"MAX", "MIN", "PRCP"} & set(names):
        what = "This is no summary of the day: it needs DATE and one of MAX, MIN and PRCP."
        instead = "Leave --layout out, so that the layout is found by looking into the file."
        faults.add(what, instead, line=table.header_line, name="header", found=",".join(table.header))
    station = one_station(table, names, faults)
    faults.raise_any()
    dates, issues = parse_dates(table.cells[names.index("DATE")], table.lines, faults, written=opened.written)
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name, (element, unit, missing) in _COLUMNS.items():
        if name not in names:
            continue
        numbers, codes = parse_cells(table.cells[names.index(name)], table.lines, faults, name=name)
        absent = numbers == missing
        codes[absent] = Flag.MISSING
        values[element] = unit.apply(np.where(absent, np.nan, numbers))
        flags[element] = codes
    faults.raise_any()
    if "rain_mm" in values:
        marks = _marks(table, names, "PRCP")
        values["rain_mm"], flags["rain_mm"], told = _rain(values["rain_mm"], flags["rain_mm"], marks, dates)
        issues += told
    for name, word, beyond in (("MAX", "highest", "warmer"), ("MIN", "lowest", "colder")):
        element = _COLUMNS[name][0]
        if element in values:
            hourly = (_marks(table, names, name) == "*") & ~np.isnan(values[element])
            text = f"On {{days}} the {word} temperature is that of the hourly reports: the day has none of its own."
            instead = f"Kept, as measured: between two reports it can have been {beyond}."
            issues += noted("hourly", hourly, dates, text, instead, element)
    source = Source(opened.name, LAYOUT, opened.sha256, "published in degF, inches and knots")
    return on_calendar(station, dates, values, flags, (*issues, _universal(station.longitude)), source)


def _marks(table: Table, names: list[str], name: str) -> NDArray[np.str_]:
    column = f"{name}_ATTRIBUTES"
    if column not in names:
        return np.full(len(table.lines), "", dtype="U1")
    texts, rows = distinct(table.cells[names.index(column)])
    return np.array([text.strip()[:1] for text in texts], dtype="U1")[rows]


def _rain(
    rain_mm: Floats, codes: Codes, marks: NDArray[np.str_], dates: Days
) -> tuple[Floats, Codes, tuple[Issue, ...]]:
    given = ~np.isnan(rain_mm)
    false = np.isin(marks, _NO_MEASUREMENT) & given
    text = "The file says 0 rain on {days} without any report of an amount: a nought that was not measured."
    issues = noted("false zeros", false, dates, text, "These days count as without a rain value.", "rain_mm")
    part = np.isin(marks, _PART_OF_DAY) & given
    letters, counts = np.unique(marks[part], return_counts=True)
    text = "The rain of {days} comes from reports of part of the day only and may be too little."
    evidence = ", ".join(f"mark {letter} {count:,}" for letter, count in zip(letters, counts, strict=True))
    issues += noted("estimated", part, dates, text, "Kept, as estimated.", "rain_mm", evidence)
    codes[part] = Flag.ESTIMATED
    codes[false] = Flag.SUSPECT
    return np.where(false, np.nan, rain_mm), codes, issues


def _universal(longitude: float | None) -> Issue:
    text = "Days end at midnight Universal Time"
    if longitude is not None:
        hour = (24 + longitude / 15) % 24
        text += f", about {int(hour):02d}:{int(hour % 1 * 60):02d} by the sun here"
    return Issue(
        "day boundary",
        f"{text}. Rain around that hour may stand on the neighbouring day.",
        instead="Nothing was moved. A record whose day ends at local midnight is better if there is one.",
    )
