"""Design rain for one place: the point table of NOAA Atlas 14, as served or as a spreadsheet saved it again.

A preamble, then for each duration a line of depths (or mean rates) by return period. Served files end their row
labels in a colon and close with date and run time; a spreadsheet pads every line with commas and drops the words
over the columns. The file with all three tables also holds the bounds of the 90 % confidence interval. A table
typed by hand needs its unit on a line of its own, a line ``by duration for ARI (years):, 2, 10, 100`` and rows
such as ``60-min, 1.5, 2.2, 3.2``.

Source: the files themselves (W-ATLAS14 of the knowledge tables); the layout with bounds, and that of annual
maxima (``'1/2`` over the columns), are known from programs that read them.
"""

from __future__ import annotations

import csv
import math
import re
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.opening import Faults, Opened, open_text
from dooryard.weather.record import Floats, Source

LAYOUT = "NOAA Atlas 14 point table"

_INCH_MM, _FOOT_M, _HOUR_MIN = 25.4, 0.3048, 60.0
_MINUTES = {"min": 1.0, "hr": 60.0, "hour": 60.0, "day": 1440.0}
_DURATION = re.compile(r"(\d+(?:\.\d+)?)\s*-?\s*(min|hr|hour|day)s?\s*:?$", re.IGNORECASE)
_CHANCE = re.compile(r"'?\s*1\s*/\s*(\d+)$")
_UNIT = re.compile(r"\b(inch(?:es)?|in|millimet(?:er|re)s?|mm)\b(\s*/\s*h(?:ou)?r?)?", re.IGNORECASE)


class _Block(NamedTuple):
    """One table: durations [min], return periods [years], values (D, Y) as typed, and the line of each row."""

    minutes: Floats
    years: Floats
    values: Floats
    lines: list[int]


@dataclass(frozen=True, slots=True, eq=False)
class DesignTable:
    """Rain depths by duration and return period at one place.

    minutes : durations, ascending [min], (D,). years : average recurrence intervals, ascending, (Y,). depth_mm :
    depths (D, Y) [mm]; low_mm, high_mm : bounds of the 90 % confidence interval, None if the file has none.
    series : "partial duration" or "annual maximum" (whose chances a year are turned into recurrence
    intervals). elevation_m, latitude, longitude : None if not given.
    """

    place: str
    edition: str
    series: str
    latitude: float | None
    longitude: float | None
    elevation_m: float | None
    minutes: Floats
    years: Floats
    depth_mm: Floats
    low_mm: Floats | None
    high_mm: Floats | None
    source: Source


def read(path: Path | str) -> DesignTable:
    """The table in a file. InputError with every fault and its line if it cannot be used."""
    return read_opened(open_text(Path(path)))


def read_opened(opened: Opened) -> DesignTable:
    """The table in an opened text; see `read`."""
    faults = Faults(opened.name)
    rows = list(csv.reader(opened.lines))
    header = next((at for at, row in enumerate(rows) if _is_header(row)), None)
    if header is None:
        what = "There is no line of return periods, such as: by duration for ARI (years):, 1, 2, 5, 10."
        raise InputError(Problem(what, "Give the table as it was served, in CSV.", opened.name))
    preamble = rows[:header]
    unit_mm, is_rate = _unit(preamble, faults)
    blocks = _blocks(rows, header, faults)
    faults.raise_any()
    minutes, years, values, lines = blocks["estimate"]
    per_row = unit_mm * (minutes[:, None] / _HOUR_MIN if is_rate else np.ones((len(minutes), 1)))
    depth_mm = values * per_row
    for row in np.flatnonzero((np.diff(depth_mm, axis=0) < 0.0).any(axis=1)).tolist():
        what = "Less rain is said to fall in this duration than in the shorter one above it."
        faults.add(
            what, "Look at this row and the one above: a point may have been lost.", line=lines[row + 1]
        )
    faults.raise_any()
    bounds: dict[str, Floats | None] = {"lower": None, "upper": None}
    for name in bounds:
        if name in blocks and blocks[name].values.shape == values.shape:
            bounds[name] = blocks[name].values * per_row
    return DesignTable(
        place=_said(preamble, "Location name"),
        edition=next((row[0].strip() for row in preamble if row and row[0].startswith("NOAA Atlas")), ""),
        series="annual maximum" if _is_annual(rows[header]) else "partial duration",
        latitude=_number(_said(preamble, "Latitude")),
        longitude=_number(_said(preamble, "Longitude")),
        elevation_m=_elevation_m(_said(preamble, "Elevation")),
        minutes=minutes,
        years=years,
        depth_mm=depth_mm,
        low_mm=bounds["lower"],
        high_mm=bounds["upper"],
        source=Source(opened.name, LAYOUT, opened.sha256, "mean rates turned into depths" if is_rate else ""),
    )


def _is_header(row: list[str]) -> bool:
    """Words over the columns, or (saved again) an empty cell and rising whole years."""
    first, *rest = [cell.strip() for cell in row] or [""]
    years = [cell for cell in rest if cell]
    if first.lower().startswith(("by duration for", "duration")):
        return bool(years)
    return not first and len(years) > 1 and all(cell.isdigit() or _CHANCE.match(cell) for cell in years)


def _is_annual(header: list[str]) -> bool:
    return any(_CHANCE.match(cell.strip()) for cell in header[1:])


def _blocks(rows: list[list[str]], header: int, faults: Faults) -> dict[str, _Block]:
    """Durations [min], return periods [years] and values (D, Y) of the estimates and of their bounds."""
    found: dict[str, _Block] = {}
    which, at = "estimate", header
    for line, row in enumerate(rows):
        words = row[0].lower() if row else ""
        if "bound" in words:
            which = "upper" if "upper" in words else "lower"
        if line >= header and _is_header(row) and which not in found:
            at = line
            found[which] = _block(rows, at, faults)
    return found


def _block(rows: list[list[str]], header: int, faults: Faults) -> _Block:
    years = _years([cell.strip() for cell in rows[header][1:]], header + 1, faults)
    minutes: list[float] = []
    values: list[list[float]] = []
    lines: list[int] = []
    for line, row in enumerate(rows[header + 1 :], start=header + 2):
        duration = _DURATION.match(row[0].strip()) if row else None
        if duration is None:
            if minutes:
                break
            continue
        cells = [cell.strip() for cell in row[1:]]
        while cells and not cells[-1]:
            cells.pop()
        numbers = [_number(cell) for cell in cells]
        if len(numbers) != len(years):
            what = f"This row has {len(numbers)} values under {len(years)} return periods."
            faults.add(what, "Fetch the table again, or take the row out.", line=line, found=row[0])
            continue
        if any(number is None or number <= 0.0 for number in numbers):
            bad = next(c for c, n in zip(cells, numbers, strict=True) if n is None or n <= 0.0)
            faults.add("This is no rain depth.", "Fetch the table again.", line=line, name=row[0], found=bad)
            continue
        minutes.append(float(duration[1]) * _MINUTES[duration[2].lower()])
        lines.append(line)
        values.append([number for number in numbers if number is not None])
        if any(one > next_one for one, next_one in pairwise(values[-1])):
            what = "Rarer rain is smaller here than commoner rain."
            faults.add(what, "Look at this row: a point may have been lost.", line=line, name=row[0])
        if len(minutes) > 1 and minutes[-1] <= minutes[-2]:
            faults.add(
                "The durations do not rise from row to row.", "Put them in order.", line=line, found=row[0]
            )
    if len(minutes) < 2:
        faults.add("There are not two rows of depths.", "Give the table as it was served.", line=header + 1)
    return _Block(np.array(minutes), np.array(years), np.array(values, ndmin=2), lines)


def _years(cells: list[str], line: int, faults: Faults) -> list[float]:
    """Average recurrence intervals; a chance of one in n a year is -1 / ln(1 - 1/n) years."""
    years: list[float] = []
    for cell in cells:
        if not cell:
            continue
        chance = _CHANCE.match(cell)
        number = float(chance[1]) if chance else _number(cell)
        if number is None or number <= (1.0 if chance else 0.0):
            what = "This is no return period."
            instead = "Write 1, 2, 5, 10 …; a spreadsheet may have made a date of a chance such as 1/2."
            faults.add(what, instead, line=line, found=cell)
            continue
        years.append(-1.0 / math.log(1.0 - 1.0 / number) if chance else number)
    if any(later <= earlier for earlier, later in pairwise(years)):
        faults.add("The return periods do not rise from left to right.", "Put them in order.", line=line)
    return years


def _unit(preamble: list[list[str]], faults: Faults) -> tuple[float, bool]:
    """Millimetres in one unit of the table, and whether its values are rates an hour."""
    text = " ".join(cell for row in preamble for cell in row)
    is_rate = "intensity" in _said(preamble, "Data type").lower()
    unit = _UNIT.search(text)
    if unit is None:
        instead = "Write a line such as: Point precipitation frequency estimates (inches)."
        faults.add("The table does not say whether it is in inches or millimetres.", instead, line=1)
        return math.nan, is_rate
    return (1.0 if unit[1].lower().startswith("m") else _INCH_MM), is_rate or bool(unit[2])


def _said(preamble: list[list[str]], name: str) -> str:
    """What the preamble says behind a name and a colon; a comma in it is no end of a cell."""
    for row in preamble:
        line = ",".join(row).rstrip(",")
        if line.startswith(name) and ":" in line:
            return line.split(":", 1)[1].strip()
    return ""


def _number(text: str) -> float | None:
    match = re.match(r"[-+]?\d+(?:\.\d*)?|[-+]?\.\d+", text.strip())
    return float(match[0]) if match else None


def _elevation_m(text: str) -> float | None:
    number = _number(text)
    if number is None:
        return None
    return number * _FOOT_M if "ft" in text or "feet" in text else number
