"""GHCN-Daily fixed width (.dly): a line holds one element of one month, 31 values of eight characters."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.conversion import SAME, TENTHS
from dooryard.weather.dates import days_of
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.ghcn import ELEMENTS, TOTAL, TOTAL_DAYS, apply_marks, mark_totals
from dooryard.weather.record import Codes, Days, Floats, Issue, Source, Station, WeatherRecord, on_calendar

LAYOUT = "GHCN-Daily fixed width"
_LINE = re.compile(r"[A-Z0-9][A-Z0-9_\-.]{10}\d{6}[A-Z0-9]{4}[ \d-]{5}")
_WIDTH = 269
_MISSING = -9999
# The file gives tenths of a unit for everything but the number of days in a total.
_UNITS = dict.fromkeys([*ELEMENTS, TOTAL], TENTHS) | {TOTAL_DAYS: SAME}


def read(opened: Opened) -> WeatherRecord:
    """The record of a .dly file. It carries no name and no place of the station, only its identifier.

    InputError listing every line that is broken, or if lines of several stations are mixed.
    """
    faults = Faults(opened.name)
    lines, numbers = _wanted(opened.lines, faults)
    _one_station(lines, faults)
    faults.raise_any()
    if not lines:
        raise InputError(
            Problem("No line holds rain or temperature.", "Fetch the file of another station.", opened.name)
        )
    values, measurement, quality = _taken_apart(lines, numbers, faults)
    days = _days_of_lines(lines, numbers, values, faults)
    faults.raise_any()
    elements = np.array([line[17:21] for line in lines])
    # A line is a whole month, so the file of the current month runs into days that have not been yet.
    known = days[~np.isnan(values)]
    if not known.size:
        raise InputError(
            Problem("Every value is missing.", "Fetch the file of another station.", opened.name)
        )
    first, last = known.min(), known.max()
    dates = np.arange(first, last + np.timedelta64(1, "D"))

    def lay(name: str) -> tuple[Floats, NDArray[np.str_], NDArray[np.str_]]:
        rows = elements == name
        real = (days[rows] >= first) & (days[rows] <= last)
        where = (days[rows][real] - first).astype(int)
        column = np.full(len(dates), np.nan)
        column[where] = _UNITS[name].apply(values[rows][real])
        marks = [np.full(len(dates), "", dtype="U1"), np.full(len(dates), "", dtype="U1")]
        for mark, letters in zip(marks, (measurement, quality), strict=True):
            mark[where] = letters[rows][real]
        return column, marks[0], marks[1]

    columns: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    issues: tuple[Issue, ...] = ()
    for name, element in ELEMENTS.items():
        if name in elements:
            columns[element], flags[element], told = apply_marks(element, *lay(name), dates)
            issues += told
    if TOTAL in elements and "rain_mm" in columns:
        total, _, doubted = lay(TOTAL)
        total = np.where(doubted == "", total, np.nan)
        flags["rain_mm"], told = mark_totals(
            dates, columns["rain_mm"], flags["rain_mm"], total, lay(TOTAL_DAYS)[0]
        )
        issues += told
    identifier = lines[0][:11]
    return on_calendar(
        Station(name=identifier, id=identifier),
        dates,
        columns,
        flags,
        issues,
        Source(opened.name, LAYOUT, opened.sha256, "values published in tenths of mm, degC and m/s"),
    )


def _wanted(lines: Sequence[str], faults: Faults) -> tuple[list[str], list[int]]:
    wanted, numbers = [], []
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        if _LINE.match(line) is None or len(line) > _WIDTH:
            instead = "Fetch the file again: each line holds 31 values of 8 characters."
            faults.add("This line is not of the fixed-width layout.", instead, line=number, found=line)
        elif line[17:21] in _UNITS:
            wanted.append(line.ljust(_WIDTH))
            numbers.append(number)
    return wanted, numbers


def _one_station(lines: list[str], faults: Faults) -> None:
    stations = sorted({line[:11] for line in lines})
    if len(stations) > 1:
        what = f"The file mixes {len(stations)} stations ({', '.join(stations[:5])})."
        faults.add(what, "Keep the lines of one station.")
    seen: dict[str, int] = {}
    for row, line in enumerate(lines):
        key = line[:21]
        if key in seen:
            faults.add("This month and element stand twice.", "Keep one of the two lines.", found=key)
        seen[key] = row


def _taken_apart(
    lines: list[str], numbers: list[int], faults: Faults
) -> tuple[Floats, NDArray[np.str_], NDArray[np.str_]]:
    """Raw values (lines, 31) with NaN for missing, and their measurement and quality marks ("" for none)."""
    letters = np.frombuffer("".join(lines).encode("latin-1", "replace"), dtype="S1").reshape(
        len(lines), _WIDTH
    )
    fields = letters[:, 21:].reshape(len(lines), 31, 8)
    text = np.ascontiguousarray(fields[:, :, :5]).view("S5")[:, :, 0]
    values = np.full(text.shape, np.nan)
    try:
        # A short line was padded with blanks: no value there.
        values[:] = np.where(text == b" " * 5, str(_MISSING).encode(), text).astype(np.int64)
    except ValueError:
        for number, row in zip(numbers, text, strict=True):
            for cell in row.tolist():
                if cell.strip() and not re.fullmatch(rb"\s*-?\d+", cell):
                    found = cell.decode("latin-1")
                    faults.add("This is no whole number.", "Fetch the file again.", line=number, found=found)
        faults.raise_any()
        raise
    values[values == _MISSING] = np.nan
    marks = [np.char.strip(fields[:, :, place].astype("U1")) for place in (5, 6)]
    return values, marks[0], marks[1]


def _days_of_lines(lines: list[str], numbers: list[int], values: Floats, faults: Faults) -> Days:
    """Calendar day of each value (lines, 31); NaT behind the end of a month, where no value may stand."""
    years = np.array([int(line[11:15]) for line in lines])[:, None]
    months = np.array([int(line[15:17]) for line in lines])[:, None]
    days = days_of(*np.broadcast_arrays(years, months, np.arange(1, 32)[None, :]))
    for row in np.flatnonzero((np.isnat(days) & ~np.isnan(values)).any(axis=1)).tolist():
        what = "There is a value behind the end of the month, or no such month."
        faults.add(what, "Fetch the file again.", line=numbers[row], found=lines[row][:21])
    return days
