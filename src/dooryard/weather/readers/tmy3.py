"""TMY3: a typical year of hours, each month from another real year, hours numbered 01:00 to 24:00.

The header promises rain in millimetres, yet files are known whose rain is in tenths of them. Rain measured in
hundredths of an inch gives it away: in whole tenths of a millimetre it can only be 3, 5, 8, 10, 13 and so on.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.cells import parse_cells
from dooryard.weather.conversion import TENTHS
from dooryard.weather.dates import days_of
from dooryard.weather.hourly import HourlyRecord, on_hours
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.record import Codes, Flag, Floats, Issue, Source, Station
from dooryard.weather.times import clock_times

LAYOUT = "TMY3 typical year"
NOMINAL_YEAR = 2001
"""The year the hours are laid on: not a leap year, as a typical year has no 29 February."""

_COLUMNS = {
    "Dry-bulb (C)": "temperature_c",
    "Dew-point (C)": "dew_point_c",
    "RHum (%)": "humidity_pct",
    "Wspd (m/s)": "wind_m_s",
    "GHI (W/m^2)": "solar_w_m2",
    "Lprecip depth (mm)": "rain_mm",
}
_DATE, _TIME, _QUANTITY = "Date (MM/DD/YYYY)", "Time (HH:MM)", "Lprecip quantity (hr)"
_WRITTEN = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4}) (\d{1,2}):(\d\d)", re.ASCII)
_MISSING = -9900.0
_HUNDREDTH_INCH_IN_TENTHS_MM = 2.54
_FETCH = "Fetch the file again."


def is_header(second_line: str) -> bool:
    """True if the second line of a file is the header of this layout."""
    return second_line.startswith(f"{_DATE},{_TIME},") and "Dry-bulb (C)" in second_line


def read(opened: Opened) -> HourlyRecord:
    """The typical year, laid on one nominal year. InputError listing every fault with its line."""
    faults = Faults(opened.name)
    station, offset_h = _station(opened.lines[0], faults)
    cells, lines = _take_apart(opened, faults)
    faults.raise_any()
    times, years = _times(cells[_DATE], cells[_TIME], lines, faults)
    faults.raise_any()
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name, element in _COLUMNS.items():
        if name in cells:
            numbers, _ = parse_cells(cells[name], lines, faults, name=name)
            values[element] = np.where(numbers <= _MISSING, np.nan, numbers)
            flags[element] = np.where(np.isnan(values[element]), Flag.MISSING, Flag.OBSERVED).astype(np.uint8)
    issues: tuple[Issue, ...] = (_typical(years),)
    if "rain_mm" in values:
        hours = np.ones(len(times))
        if _QUANTITY in cells:
            hours, _ = parse_cells(cells[_QUANTITY], lines, faults, name=_QUANTITY)
        values["rain_mm"], flags["rain_mm"], told = _rain(values["rain_mm"], flags["rain_mm"], hours)
        issues += told
    faults.raise_any()
    source = Source(opened.name, LAYOUT, opened.sha256, "months of different years joined")
    # 14:00 closes the hour that begins at 13:00.
    return on_hours(station, times, values, flags, issues, source, regular_min=0, offset_h=offset_h)


def _station(line: str, faults: Faults) -> tuple[Station, float | None]:
    cells = [cell.strip() for cell in next(csv.reader([line]))]
    try:
        code, name, state = cells[:3]
        offset_h, latitude, longitude, elevation_m = (float(cell) for cell in cells[3:7])
    except ValueError:
        what = "The first line does not name the station, its zone and its place."
        faults.add(what, _FETCH, line=1, found=line)
        return Station(faults.file), None
    return Station(f"{name}, {state}", code, latitude, longitude, elevation_m), offset_h


def _take_apart(opened: Opened, faults: Faults) -> tuple[Mapping[str, Sequence[str]], range]:
    """Columns by their name in the header, and the line number of each row."""
    header = next(csv.reader([opened.lines[1]]))
    rows = list(csv.reader(opened.lines[2:]))
    lines = range(3, 3 + len(rows))
    for row, line in zip(rows, lines, strict=True):
        if len(row) != len(header):
            what = f"This line has {len(row)} cells where the header has {len(header)}."
            faults.add(what, _FETCH, line=line)
    if not rows:
        faults.add("The header is there, but no hour follows it.", _FETCH, line=2)
    faults.raise_any()
    return dict(zip(header, zip(*rows, strict=True), strict=True)), lines


def _times(
    dates: Sequence[str], clocks: Sequence[str], lines: range, faults: Faults
) -> tuple[NDArray[np.datetime64], NDArray[np.int64]]:
    """Times on the nominal year, and the real year of each row."""
    numbers = np.zeros((len(dates), 5), dtype=np.int64)
    for row, (day, clock) in enumerate(zip(dates, clocks, strict=True)):
        match = _WRITTEN.fullmatch(f"{day.strip()} {clock.strip()}")
        if match is None:
            faults.add("This is no time.", _FETCH, line=lines[row], name="time", found=f"{day} {clock}")
        else:
            numbers[row] = [int(part) for part in match.groups()]
    faults.raise_any()
    month, day_number, year, hour, minute = numbers.T
    times = clock_times(days_of(np.full_like(year, NOMINAL_YEAR), month, day_number), hour, minute)
    for row in np.flatnonzero(np.isnat(times)).tolist():
        faults.add("There is no such hour.", _FETCH, line=lines[row], found=f"{dates[row]} {clocks[row]}")
    faults.raise_any()
    for row in (1 + np.flatnonzero(np.diff(times).astype(int) <= 0)).tolist():
        found = f"{dates[row]} {clocks[row]}"
        faults.add("This hour does not follow the one before it.", _FETCH, line=lines[row], found=found)
    return times, year


def _typical(years: NDArray[np.int64]) -> Issue:
    text = f"This is no year that was: its months come from years between {years.min()} and {years.max()}."
    instead = f"It was laid on {NOMINAL_YEAR}. Do not take it for a past season."
    return Issue("typical", text, instead=instead)


def _rain(depth: Floats, flags: Codes, hours: Floats) -> tuple[Floats, Codes, tuple[Issue, ...]]:
    """Rain in millimetres, NaN throughout if its unit cannot be told; flags; and the issues about it.

    depth : as in the file. hours : how long each value was gathered [h]. All (rows,).
    """
    issues: tuple[Issue, ...] = ()
    long = (hours > 1) & (depth > 0)
    if long.any():
        text = f"{int(long.sum()):,} rain values are totals over more than an hour."
        instead = "They are not spread over the hours; they are left out."
        issues += (Issue("accumulated", text, instead=instead),)
    unit, why = _unit(depth[depth > 0])
    if unit == "unknown":
        flags = np.where(np.isnan(depth), flags, np.uint8(Flag.SUSPECT))
        text = f"The rain may be in millimetres or in tenths of them: {why}."
        return np.full_like(depth, np.nan), flags, (*issues, Issue("units", text, instead="It is left out."))
    if unit == "tenths":
        depth = TENTHS.apply(depth)
        text = f"The header says that the rain is in millimetres. It was read as tenths of them: {why}."
        issues += (Issue("units", text, instead="Compare the yearly total with another source."),)
    flags = np.where(long, np.uint8(Flag.ACCUMULATED), flags)
    return np.where(long, np.nan, depth), flags, issues


def _unit(wet: Floats) -> tuple[str, str]:
    """ "mm", "tenths" or "unknown", and the evidence in words; wet : all values above 0."""
    from dooryard import knowledge

    facts = knowledge.load()
    if not wet.size or (wet != np.round(wet)).any():
        return "mm", ""
    if wet.size < facts.fact("weather.tmy3.fewest_wet_hours").value:
        return "unknown", f"only {wet.size} hours are wet"
    nearest = np.round(wet / _HUNDREDTH_INCH_IN_TENTHS_MM) * _HUNDREDTH_INCH_IN_TENTHS_MM
    share = float(np.mean(np.abs(wet - nearest) <= 0.5))
    if share < facts.fact("weather.tmy3.hundredth_share").value:
        return "mm", ""
    return "tenths", f"{share:.0%} of its values are hundredths of an inch in whole tenths of a millimetre"
