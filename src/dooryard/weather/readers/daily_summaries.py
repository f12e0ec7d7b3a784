"""NOAA daily summaries as CSV: STATION, DATE, then one column per element, with or without columns of marks.

The file does not say whether it was ordered in metric or standard units or holds raw tenths; see
`unit_choice.py`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.cells import parse_cells
from dooryard.weather.dates import parse_dates
from dooryard.weather.limits import limits
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.ghcn import ELEMENTS, TOTAL, TOTAL_DAYS, apply_marks, mark_totals
from dooryard.weather.readers.plain import Table, take_apart
from dooryard.weather.record import (
    Codes,
    Flag,
    Floats,
    Issue,
    Source,
    Station,
    WeatherRecord,
    on_calendar,
)
from dooryard.weather.unit_choice import DEGREES, DEPTHS, SPEEDS, SYSTEMS, choose

LAYOUT = "NOAA daily summaries CSV"
_ATTRIBUTES = "_ATTRIBUTES"


@dataclass(frozen=True, slots=True)
class _Raw:
    """One element's column as it stands in the file: numbers, flags of the cells, and marks ("" for none)."""

    values: Floats
    flags: Codes
    measurement: NDArray[np.str_]
    quality: NDArray[np.str_]


def read(opened: Opened, units: str | None = None) -> WeatherRecord:
    """The record of a daily-summaries file.

    units : "tenths", "metric" or "standard" to say what the file is in; else a comment line `# units:
    metric` in the file; else it is decided from the numbers, and an issue tells how. InputError listing
    every fault, or if the units cannot be decided, or if the file mixes stations.
    """
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    names = [name.strip().upper() for name in table.header]
    _check_header(names, table.header_line, faults)
    faults.raise_any()
    dates, issues = parse_dates(table.cells[names.index("DATE")], table.lines, faults)
    station = _station(table, names, faults)
    raw = {
        name: _column(name, table, names, faults) for name in (*ELEMENTS, TOTAL, TOTAL_DAYS) if name in names
    }
    faults.raise_any()
    system, told = _decided(raw, units or table.comments.get("units"), opened.name)
    issues += told
    days = np.arange(dates[0], dates[-1] + np.timedelta64(1, "D"))
    where = (dates - dates[0]).astype(int)
    columns: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name, element in ELEMENTS.items():
        if name not in raw:
            continue
        values, codes, told = apply_marks(
            element,
            _converted(element, raw[name].values, system),
            raw[name].measurement,
            raw[name].quality,
            dates,
        )
        # Marks typed into the cell itself (a T for trace) speak where the mark columns say nothing.
        codes = np.where(codes == Flag.OBSERVED, raw[name].flags, codes)
        columns[element], flags[element] = _laid(values, codes, where, len(days))
        issues += told
    if TOTAL in raw and "rain_mm" in columns:
        total = np.where(raw[TOTAL].quality == "", DEPTHS[system].apply(raw[TOTAL].values), np.nan)
        counts = raw[TOTAL_DAYS].values if TOTAL_DAYS in raw else np.full(len(dates), np.nan)
        laid = [_laid(values, raw[TOTAL].flags, where, len(days))[0] for values in (total, counts)]
        flags["rain_mm"], told = mark_totals(days, columns["rain_mm"], flags["rain_mm"], laid[0], laid[1])
        issues += told
    source = Source(opened.name, LAYOUT, opened.sha256, f"read as {SYSTEMS[system]}")
    return on_calendar(station, days, columns, flags, issues, source)


def _check_header(names: list[str], line: int, faults: Faults) -> None:
    for name in ("DATE", *ELEMENTS):
        if names.count(name) > 1:
            faults.add("This column stands twice.", "Keep one of them.", line=line, name="header", found=name)
    if not {"PRCP", "TMAX", "TMIN"} & set(names):
        what = "There is neither rain (PRCP) nor temperature (TMAX, TMIN)."
        faults.add(
            what, "Order the file with these elements.", line=line, name="header", found=",".join(names)
        )


def _column(name: str, table: Table, names: list[str], faults: Faults) -> _Raw:
    cells = table.cells[names.index(name)]
    values, flags = parse_cells(cells, table.lines, faults, name=name, trace=name == "PRCP")
    nothing = np.full(len(cells), "", dtype="U1")
    if name + _ATTRIBUTES not in names:
        return _Raw(values, flags, nothing, nothing)
    attributes = table.cells[names.index(name + _ATTRIBUTES)]
    # mflag,qflag,sflag: few different texts, each taken apart once.
    known = {text: [part.strip()[:1] for part in [*text.split(","), ""][:2]] for text in set(attributes)}
    marks = [nothing, nothing]
    for place in (0, 1):
        letters = {text: parts[place] for text, parts in known.items()}
        if any(letters.values()):
            marks[place] = np.array([letters[text] for text in attributes], dtype="U1")
    return _Raw(values, flags, marks[0], marks[1])


def _station(table: Table, names: list[str], faults: Faults) -> Station:
    stations = sorted(set(table.cells[names.index("STATION")]))
    if len(stations) > 1:
        what = f"The file mixes {len(stations)} stations ({', '.join(stations[:5])})."
        faults.add(what, "Keep the lines of one station.", name="STATION")

    def text(name: str) -> str:
        return table.cells[names.index(name)][0].strip() if name in names else ""

    def number(name: str) -> float | None:
        try:
            return float(text(name)) if text(name) else None
        except ValueError:
            faults.add("This is no number.", "Write degrees or metres.", name=name, found=text(name))
            return None

    identifier = stations[0].strip() if stations else ""
    return Station(
        name=text("NAME") or identifier,
        id=identifier,
        latitude=number("LATITUDE"),
        longitude=number("LONGITUDE"),
        elevation_m=number("ELEVATION"),
    )


def _decided(raw: dict[str, _Raw], said: str | None, file: str) -> tuple[str, tuple[Issue, ...]]:
    """The unit system, and the issue that tells how it was found."""
    write = "Put a first line such as # units: standard (or metric, or tenths) into the file."
    if said is not None:
        if said not in SYSTEMS:
            raise InputError(Problem("These units are not known.", write, file, field="units", found=said))
        return said, ()

    def good(name: str) -> Floats:
        # A value the publisher doubts must not decide about the unit.
        return (
            np.where(raw[name].quality == "", raw[name].values, np.nan) if name in raw else np.array([np.nan])
        )

    t_min, t_max = good("TMIN"), good("TMAX")
    if t_min.shape != t_max.shape:
        t_min, t_max = np.broadcast_arrays(t_min, t_max)
    choice = choose(t_min, t_max, good("PRCP"), limits())
    evidence = "; ".join(choice.evidence) or "there are too few numbers to go by"
    if len(choice.systems) != 1:
        left = " or ".join(SYSTEMS[system] for system in choice.systems)
        what = (
            f"The file does not say its units, and they could be {left}" if left else "No units fit this file"
        )
        raise InputError(Problem(f"{what}: {evidence}.", write, file, field="units"))
    system = choice.systems[0]
    text = f"The file does not say its units. It was read as {SYSTEMS[system]}, because {evidence}."
    return system, (Issue("units", text, instead=f"If that is wrong: {write[0].lower()}{write[1:]}"),)


def _converted(element: str, values: Floats, system: str) -> Floats:
    of_element = {"rain_mm": DEPTHS, "wind_m_s": SPEEDS}.get(element, DEGREES)
    return of_element[system].apply(values)


def _laid(values: Floats, codes: Codes, where: NDArray[np.int64], length: int) -> tuple[Floats, Codes]:
    column = np.full(length, np.nan)
    column[where] = values
    flags = np.full(length, Flag.MISSING, dtype=np.uint8)
    flags[where] = codes
    return column, flags
