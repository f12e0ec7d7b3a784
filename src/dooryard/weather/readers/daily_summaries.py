"""NOAA daily summaries as CSV: STATION, DATE, then one column per element, with or without columns of marks.

Files cut out of such a table (DATE, PRCP, TMAX, TMIN without STATION) are read as well. The file does not say
whether it was ordered in metric or standard units or holds raw tenths; see `unit_choice.py`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.cells import parse_cells
from dooryard.weather.dates import parse_dates
from dooryard.weather.day_boundary import move, move_read_values, parse_hour, said_in
from dooryard.weather.limits import limits
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.packed import distinct
from dooryard.weather.readers.ghcn import ELEMENTS, TOTAL, TOTAL_DAYS, apply_marks, mark_totals
from dooryard.weather.readers.plain import Table, take_apart
from dooryard.weather.readers.stations import one_station
from dooryard.weather.record import Codes, Days, Flag, Floats, Issue, Source, WeatherRecord, on_calendar
from dooryard.weather.unit_choice import DEGREES, DEPTHS, SPEEDS, SYSTEMS, choose

LAYOUT = "NOAA daily summaries CSV"
_ATTRIBUTES = "_ATTRIBUTES"


@dataclass(frozen=True, slots=True)
class _Raw:
    """One element's column as it stands in the file: numbers, flags of the cells, and marks ("" for none).

    hours : at which the value was read, NaN where the file does not say.
    """

    values: Floats
    flags: Codes
    measurement: NDArray[np.str_]
    quality: NDArray[np.str_]
    hours: Floats


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
    dates, issues = parse_dates(
        table.cells[names.index("DATE")],
        table.lines,
        faults,
        first_year=table.comments.get("first year", ""),
        written=opened.written,
    )
    station = one_station(table, names, faults)
    raw = {
        name: _column(name, table, names, faults) for name in (*ELEMENTS, TOTAL, TOTAL_DAYS) if name in names
    }
    said_hours = said_in(table.comments, faults)
    faults.raise_any()
    system, told = _decided(raw, units or table.comments.get("units"), opened.name)
    issues += told
    columns: dict[str, tuple[Days, Floats, Codes]] = {}
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
        issues += told
        # Marks typed into the cell itself (a T for trace) speak where the mark columns say nothing.
        codes = np.where(codes == Flag.OBSERVED, raw[name].flags, codes)
        hours = np.full(len(dates), np.nan) if said_hours else raw[name].hours
        moved, values, codes, told = move_read_values(element, dates, values, codes, hours)
        columns[element] = (moved, values, codes)
        issues += told
    first = min(column[0][0] for column in columns.values())
    days = np.arange(first, dates[-1] + np.timedelta64(1, "D"))
    laid = {element: _laid(*column, days) for element, column in columns.items()}
    flags = {element: codes for element, (_, codes) in laid.items()}
    if TOTAL in raw and "rain_mm" in laid:
        total = np.where(raw[TOTAL].quality == "", DEPTHS[system].apply(raw[TOTAL].values), np.nan)
        counts = raw[TOTAL_DAYS].values if TOTAL_DAYS in raw else np.full(len(dates), np.nan)
        given = np.where(np.isnan(total), np.uint8(Flag.MISSING), np.uint8(Flag.OBSERVED))
        hours = np.full(len(dates), np.nan) if said_hours else raw[TOTAL].hours
        ends = [
            _laid(*move_read_values("rain_mm", dates, numbers, given, hours)[:3], days)[0]
            for numbers in (total, counts)
        ]
        flags["rain_mm"], told = mark_totals(days, laid["rain_mm"][0], flags["rain_mm"], ends[0], ends[1])
        issues += told
    source = Source(opened.name, LAYOUT, opened.sha256, f"read as {SYSTEMS[system]}")
    record = on_calendar(
        station, days, {element: values for element, (values, _) in laid.items()}, flags, issues, source
    )
    return move(record, said_hours, "as a comment in the file says")


def _check_header(names: list[str], line: int, faults: Faults) -> None:
    if "DATE" not in names:
        faults.add(
            "There is no column DATE.", "Keep the columns of the ordered file.", line=line, name="header"
        )
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
    unsaid = np.full(len(cells), np.nan)
    if name + _ATTRIBUTES not in names:
        return _Raw(values, flags, nothing, nothing, unsaid)
    attributes = table.cells[names.index(name + _ATTRIBUTES)]
    # mflag,qflag,sflag and perhaps the hour of reading: few different texts, each taken apart once.
    texts, rows = distinct(attributes)
    parts = [[part.strip() for part in [*text.split(","), "", "", ""][:4]] for text in texts]
    marks = [np.array([part[place][:1] for part in parts], dtype="U1")[rows] for place in (0, 1)]
    hours = np.array([_hour(part[3]) for part in parts])[rows]
    return _Raw(values, flags, marks[0], marks[1], hours)


def _hour(text: str) -> float:
    """0700 or 1800 or 2400, as a number of hours; NaN for none."""
    hour = parse_hour(text) if text else None
    return np.nan if hour is None else hour


def _decided(raw: dict[str, _Raw], said: str | None, file: str) -> tuple[str, tuple[Issue, ...]]:
    """The unit system, and the issue that tells how it was found."""
    write = (
        "Put a first line such as # units: standard (or metric, or tenths) into the file, or read it with "
    )
    write += "--layout daily-summaries-standard (or -metric, -tenths)."
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


def _laid(dates: Days, values: Floats, codes: Codes, days: Days) -> tuple[Floats, Codes]:
    """A column on the calendar `days`, MISSING where it has no row."""
    where = (dates - days[0]).astype(int)
    column = np.full(len(days), np.nan)
    column[where] = values
    flags = np.full(len(days), Flag.MISSING, dtype=np.uint8)
    flags[where] = codes
    return column, flags
