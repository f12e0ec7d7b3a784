"""Hourly reports as CSV: an airport's local climatological data, network extracts, or a sheet of one's own.

Several reports may tell of one hour, the clock may repeat and skip an hour, and the file may hold several
stations. The columns that are read stand in `hourly_columns.py`; all others are passed over.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import nearest
from dooryard.weather.cells import parse_cells
from dooryard.weather.clock import (
    STANDARD,
    WRITE_CLOCK,
    Minutes,
    Standard,
    at_longitude,
    fixed_offset,
    from_offsets,
    to_standard,
)
from dooryard.weather.hourly import HourlyRecord, on_hours
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.hourly_columns import Column, columns_of, converted, meaning_of
from dooryard.weather.readers.plain import Table, normal, split_header, station_of, take_apart
from dooryard.weather.record import Codes, Flag, Floats, Issue, Source, Station
from dooryard.weather.times import parse_times

LAYOUT = "hourly CSV"

_RUNNING = frozenset({"hourlyprecip", "hourlyprecipitation", "p01i", "p01m"})
"""Rain columns that run on from one regular report to the next."""

_TIMES = ("date", "datetime", "time", "valid", "timestamp", "date_time")
_STATIONS = ("station", "origin", "station_id", "id")
_NETWORK_TRACE_IN = 0.0001


def is_header(first_line: str) -> bool:
    """True if a header names a time of day and at least one element."""
    names = [normal(name) for name in split_header(first_line)[0]]
    timed = bool({"hour", "valid", "datetime", "timestamp", "date_time", "time"} & set(names))
    lcd = any(name.startswith("hourly") for name in names) and "date" in names
    return (timed or lcd) and any(meaning_of(name) is not None for name in names)


def read(opened: Opened, *, station: str | None = None, clock: str | None = None) -> HourlyRecord:
    """The hourly record of one station in the file.

    station : which one, if the file holds several. clock : overrules what the file says of its clock, such as
    "America/New_York" or "UTC-5". InputError listing every fault, or if the units cannot be decided.
    """
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    names = [normal(name) for name in table.header]
    faults.raise_any()
    rows, place = _station(table, names, station, faults)
    columns = columns_of(names)
    if not columns:
        faults.add("There is no weather column.", "Write a header such as time,temp_F,rain_in.")
    faults.raise_any()
    lines = [table.lines[row] for row in rows]
    said = clock or table.comments.get("clock")
    standard, running = _times(table, names, rows, lines, said, place, faults)
    values, flags = _values(table, columns, rows, lines, faults)
    faults.raise_any()
    values, told = converted(columns, values, standard.times, table.comments.get("units"), opened.name)
    if any(normal(column.header) == "p01i" for column in columns):
        _network_trace(values, flags)
    step_min, regular_min, times = _rhythm(standard.times, values, running, table.comments.get("times", ""))
    if not running:
        _refuse_repeats(times, lines, faults)
        faults.raise_any()
    source = Source(opened.name, LAYOUT, opened.sha256)
    return on_hours(
        place,
        times,
        values,
        flags,
        standard.issues + told,
        source,
        regular_min=regular_min,
        step_min=step_min,
        offset_h=standard.offset_h,
    )


def _station(
    table: Table, names: list[str], wanted: str | None, faults: Faults
) -> tuple[NDArray[np.int64], Station]:
    """The rows of the station asked for, and who it is."""
    where = next((names.index(name) for name in _STATIONS if name in names), None)
    everything = np.arange(len(table.lines))
    if where is None:
        return everything, station_of(table.comments, faults.file, faults)
    cells = np.array([cell.strip() for cell in table.cells[where]])
    stations = sorted(set(cells.tolist()))
    if wanted is None and len(stations) > 1:
        what = f"The file mixes {len(stations)} stations ({', '.join(stations[:5])})."
        instead = f'Put one on the shelf: "dooryard weather shelf add {faults.file} --station {stations[0]}".'
        faults.add(what, instead, name="station")
    elif wanted is not None and wanted not in stations:
        instead = nearest(wanted, stations) or f"Write one of {', '.join(stations[:10])}."
        faults.add("This station is not in the file.", instead, name="station", found=wanted)
    faults.raise_any()
    rows = everything if wanted is None else np.flatnonzero(cells == wanted)

    def cell(name: str) -> str:
        return table.cells[names.index(name)][int(rows[0])].strip() if name in names else ""

    comments = {name: cell(name) for name in ("latitude", "longitude") if cell(name)}
    if cell("elevation"):
        comments["elevation"] = f"{cell('elevation')} m"
    identifier = str(cells[rows[0]])
    comments |= {"id": identifier, "station": cell("name") or identifier}
    return rows, station_of(comments | table.comments, faults.file, faults)


def _times(
    table: Table,
    names: list[str],
    rows: NDArray[np.int64],
    lines: Sequence[int],
    said: str | None,
    place: Station,
    faults: Faults,
) -> tuple[Standard, bool]:
    """Every row's time in standard time, and whether the rain is a running sum of reports."""
    running = bool(_RUNNING & set(names))

    def cells(name: str) -> list[str]:
        return _texts(table, names.index(name), rows)

    if {"year", "month", "day"} <= set(names):
        parts = zip(*(cells(name) for name in ("year", "month", "day")), strict=True)
        own, texts = "date", ["-".join(part.strip() for part in day) for day in parts]
    else:
        own = next(name for name in _TIMES if name in names)
        texts = cells(own)
    clock = next((name for name in ("time", "hour") if name in names and own == "date"), None)
    if clock is not None:
        texts = [f"{day} {_clock_text(hour)}" for day, hour in zip(texts, cells(clock), strict=True)]
    local, offsets = parse_times(texts, lines, faults, own)
    if "time_hour" in names and np.isnan(offsets).all():
        utc, _ = parse_times(cells("time_hour"), lines, faults, "time_hour")
        offsets = (local - utc).astype("timedelta64[m]").astype(np.float64) / 60
    faults.raise_any()
    lcd = any(name.startswith("hourly") for name in names)
    return _standard(local, offsets, said, place, lcd, lines, faults), running


def _standard(
    local: Minutes,
    offsets: Floats,
    said: str | None,
    place: Station,
    lcd: bool,
    lines: Sequence[int],
    faults: Faults,
) -> Standard:
    written = ~np.isnan(offsets)
    if said is not None and fixed_offset(said) != 0:
        return to_standard(local, said, lines, faults)
    if lcd:
        issues: tuple[Issue, ...] = ()
        if written.any():
            text = "The times bear the mark of UTC, but this layout is written in standard time: "
            text += "they were taken as that."
            issues = (Issue("clock", text, instead=f"If that is wrong: {WRITE_CLOCK}"),)
        return Standard(local, None, issues)
    if said is not None or (written.all() and not offsets.any()):
        return at_longitude(local, place.longitude)
    if written.all():
        return from_offsets(local, offsets)
    text = "The file does not say its clock; its times were taken as standard time all year."
    standard = to_standard(local, STANDARD, lines, faults)
    return Standard(standard.times, None, (Issue("clock", text, instead=f"If that is wrong: {WRITE_CLOCK}"),))


def _clock_text(cell: str) -> str:
    """A cell of hours, "7" or "0700" or "07:00", as a time of day."""
    text = cell.strip()
    if text.isdigit():
        return f"{text.zfill(2)}:00" if len(text) <= 2 else f"{text[:-2].zfill(2)}:{text[-2:]}"
    return text


def _texts(table: Table, index: int, rows: NDArray[np.int64]) -> list[str]:
    column = list(table.cells[index])
    return column if len(rows) == len(column) else [column[row] for row in rows.tolist()]


def _values(
    table: Table,
    columns: tuple[Column, ...],
    rows: NDArray[np.int64],
    lines: Sequence[int],
    faults: Faults,
) -> tuple[dict[str, Floats], dict[str, Codes]]:
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for column in columns:
        # A star stands for a value the publisher took out.
        cells = ["" if cell.strip() == "*" else cell for cell in _texts(table, column.index, rows)]
        values[column.element], flags[column.element] = parse_cells(
            cells,
            lines,
            faults,
            name=column.header,
            trace=column.element == "rain_mm",
            decimal_comma=table.separator == ";",
        )
    return values, flags


def _network_trace(values: dict[str, Floats], flags: dict[str, Codes]) -> None:
    """The network that writes p01i has a ten-thousandth of an inch stand for a trace."""
    rain = values["rain_mm"]
    trace = (rain > 0) & (rain <= _NETWORK_TRACE_IN * 25.4 * 1.001)
    values["rain_mm"] = np.where(trace, 0.0, rain)
    flags["rain_mm"] = np.where(trace, np.uint8(Flag.TRACE), flags["rain_mm"])


def _rhythm(
    times: Minutes, values: dict[str, Floats], running: bool, mark: str
) -> tuple[int | None, int, Minutes]:
    """Length of the steps if they are shorter than an hour, minute of the regular report, and times to use.

    mark : what the file says its times mark; "end" if they stand at the end of a step or an hour.
    """
    minute = (times - times.astype("datetime64[h]")).astype(int)
    if running:
        told = ~np.isnan(values["rain_mm"]) if "rain_mm" in values else np.ones(len(times), dtype=bool)
        return None, int(np.bincount(minute[told] if told.any() else minute).argmax()), times
    steps = np.diff(np.sort(times)).astype(int)
    usual = int(np.bincount(np.minimum(steps, 60)).argmax()) if steps.size else 60
    end = mark.strip().lower().startswith("end")
    if 0 < usual < 60 and 60 % usual == 0:
        return usual, 59, times - np.timedelta64(usual, "m") if end else times
    most = int(np.bincount(minute).argmax())
    # A time on the hour names the hour that begins, unless the file says that it ends it.
    return None, most if most or end else 59, times


def _refuse_repeats(times: Minutes, lines: Sequence[int], faults: Faults) -> None:
    order = np.argsort(times, kind="stable")
    for row in order[1:][np.diff(times[order]).astype(int) == 0].tolist():
        what = "This time stands in the file already; a clock with summer time repeats an hour in autumn."
        faults.add(what, WRITE_CLOCK, line=lines[row], name="time", found=str(times[row]).replace("T", " "))
