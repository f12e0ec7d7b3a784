"""Weather of the US estuarine research reserves: every quarter of an hour, a mark beside each value.

Marks: <0> good, <1> suspect, <-1> and <-2> not measured, <-3> rejected; what stands behind them in brackets is
the reserve's own reason. Times are standard time all year and mark the end of their quarter.
"""

from __future__ import annotations

import re
from collections import Counter

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.cells import parse_cells
from dooryard.weather.clock import STANDARD, to_standard
from dooryard.weather.gauge import GaugeRecord, in_order
from dooryard.weather.hourly import HourlyRecord, on_hours
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.plain import Table, split_header, station_of, take_apart
from dooryard.weather.record import Codes, Flag, Floats, Issue, Source, Station
from dooryard.weather.times import parse_times

LAYOUT = "estuarine reserve weather, every quarter of an hour"
STEP_MIN = 15

_ELEMENTS = {
    "atemp": "temperature_c",
    "rh": "humidity_pct",
    "wspd": "wind_m_s",
    "totprcp": "rain_mm",
}
_MARK = re.compile(r"\s*<(-?\d)>.*")
_FLAG_OF = {"0": Flag.OBSERVED, "1": Flag.SUSPECT, "-3": Flag.SUSPECT, "-1": Flag.MISSING, "-2": Flag.MISSING}
_WORDS = {"temperature_c": "temperature", "humidity_pct": "humidity", "wind_m_s": "wind", "rain_mm": "rain"}


def is_header(first_line: str) -> bool:
    """True if a header holds this network's columns with their marks."""
    names = {name.strip().lower() for name in split_header(first_line)[0]}
    return "datetimestamp" in names and bool({"f_totprcp", "f_atemp"} & names)


def read_hourly(opened: Opened) -> HourlyRecord:
    """The record by hours: means of four quarters, rain added up. InputError listing every fault."""
    station, times, values, flags, issues, source = _read(opened)
    # A quarter that ends at 14:00 belongs to the hour that begins at 13:00.
    start = times - np.timedelta64(STEP_MIN, "m")
    return on_hours(station, start, values, flags, issues, source, regular_min=59, step_min=STEP_MIN)


def read_gauge(opened: Opened) -> GaugeRecord:
    """The rain by quarters of an hour. InputError listing every fault, or if the file has no rain."""
    station, times, values, flags, issues, source = _read(opened)
    if "rain_mm" not in values:
        faults = Faults(opened.name)
        faults.add("There is no rain (totprcp) in this file.", "Fetch the file with its rain.")
        faults.raise_any()
    start = times - np.timedelta64(STEP_MIN, "m")
    minutes = np.full(len(start), STEP_MIN)
    return in_order(station, start, minutes, values["rain_mm"], flags["rain_mm"], issues, source)


def _read(
    opened: Opened,
) -> tuple[Station, NDArray[np.datetime64], dict[str, Floats], dict[str, Codes], tuple[Issue, ...], Source]:
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    faults.raise_any()
    names = [name.strip().lower() for name in table.header]
    local, _ = parse_times(table.cells[names.index("datetimestamp")], table.lines, faults, "datetimestamp")
    faults.raise_any()
    times = to_standard(local, STANDARD, table.lines, faults).times
    order = np.argsort(times, kind="stable")
    for row in order[1:][np.diff(times[order]).astype(int) < STEP_MIN].tolist():
        what = "This quarter of an hour stands in the file already."
        faults.add(what, "Keep one of the two lines.", line=table.lines[row], found=str(times[row]))
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    issues: tuple[Issue, ...] = ()
    for name, element in _ELEMENTS.items():
        if name in names:
            values[element], flags[element], told = _column(table, names, name, element, faults)
            issues += told
    faults.raise_any()
    station = station_of(table.comments, opened.name, faults)
    faults.raise_any()
    return station, times, values, flags, issues, Source(opened.name, LAYOUT, opened.sha256)


def _column(
    table: Table, names: list[str], name: str, element: str, faults: Faults
) -> tuple[Floats, Codes, tuple[Issue, ...]]:
    """Values and flags of one element after its marks, and how many were left out."""
    values, flags = parse_cells(table.cells[names.index(name)], table.lines, faults, name=name)
    if f"f_{name}" not in names:
        text = f"The {_WORDS[element]} has no column of marks."
        return values, flags, (Issue("quality", text, instead="It was taken as it stands."),)
    cells = list(table.cells[names.index(f"f_{name}")])
    marks = {cell: _mark(cell) for cell in set(cells)}
    for row, cell in enumerate(cells):
        if marks[cell] not in _FLAG_OF:
            instead = "Write <0>, <1>, <-1>, <-2> or <-3>."
            faults.add(
                "This mark is not known.", instead, line=table.lines[row], name=f"f_{name}", found=cell
            )
    given = np.array([_FLAG_OF.get(marks[cell], Flag.SUSPECT) for cell in cells], dtype=np.uint8)
    known = ~np.isnan(values)
    out = known & (given != Flag.OBSERVED)
    counts = Counter(marks[cells[row]] for row in np.flatnonzero(out).tolist())
    flags = np.where(known, given, flags)
    return np.where(out, np.nan, values), flags, _told(element, values[out], counts)


def _mark(cell: str) -> str:
    match = _MARK.fullmatch(cell)
    return match[1] if match else cell


def _told(element: str, out: Floats, counts: Counter[str]) -> tuple[Issue, ...]:
    if not out.size:
        return ()
    words = {"1": "suspect", "-3": "rejected", "-1": "not measured", "-2": "not measured"}
    parts = [f"{count:,} {words.get(mark, 'marked')}" for mark, count in sorted(counts.items(), reverse=True)]
    text = f"The publisher marked {' and '.join(parts)} values of {_WORDS[element]}"
    text += f" ({out.sum():,.1f} mm)." if element == "rain_mm" else "."
    return (Issue("quality", text, instead="These values are left out."),)
