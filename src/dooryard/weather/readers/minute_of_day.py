"""Wet intervals only: year, month, day, minute of the day and rain. What the file leaves out was dry."""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.cells import parse_cells
from dooryard.weather.clock import STANDARD, WRITE_CLOCK, Minutes, to_standard
from dooryard.weather.conversion import INCHES, UNITS, Conversion
from dooryard.weather.gauge import DAY_MIN, GaugeRecord, in_order
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.plain import Table, normal, split_header, station_of, take_apart
from dooryard.weather.record import Issue, Source
from dooryard.weather.times import parse_times

LAYOUT = "wet intervals by minute of the day"

_SITE = re.compile(r"U?(\d{8,15})\.(\d{5})")
_RAIN_IN_INCHES = "00045"


def is_header(first_line: str) -> bool:
    """True if a header names year, month, day, minute and rain."""
    names = {normal(name) for name in split_header(first_line)[0]}
    return (
        {"year", "month", "day", "minute"} <= names
        and "hour" not in names
        and any(name.split("_")[0] == "rain" for name in names)
    )


def read(opened: Opened, *, clock: str | None = None) -> GaugeRecord:
    """The wet intervals, dry between them, from the first day with rain to the last.

    clock : overrules a comment such as "# clock: America/Chicago"; by default standard time all year. A minute
    marks the end of its step. InputError listing every fault, or if the unit of the rain is not said.
    """
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    faults.raise_any()
    names = [normal(name) for name in table.header]
    days = _days(table, names, faults)
    minute = _whole(table, names.index("minute"), faults)
    rain_at = next(at for at, name in enumerate(names) if name.split("_")[0] == "rain")
    depth, flags = parse_cells(table.cells[rain_at], table.lines, faults, name="rain", trace=True)
    identifier, conversion = _unit(table, names, rain_at, faults)
    station = station_of({"id": identifier} | table.comments, opened.name, faults)
    for row in np.flatnonzero((minute < 0) | (minute > DAY_MIN)).tolist():
        faults.add("There is no such minute.", "Minutes run from 0 to 1440.", line=table.lines[row])
    faults.raise_any()
    local = days + minute.astype("timedelta64[m]")
    said = clock or table.comments.get("clock")
    standard = to_standard(local, said or STANDARD, table.lines, faults)
    order = np.argsort(standard.times, kind="stable")
    end = standard.times[order]
    for row in order[1:][np.diff(end).astype(int) == 0].tolist():
        faults.add(
            "This minute stands in the file already.", "Keep one of the two lines.", line=table.lines[row]
        )
    faults.raise_any()
    step = _step(end)
    start = end - np.timedelta64(step, "m")
    first, last = start[0].astype("datetime64[D]"), start[-1].astype("datetime64[D]") + np.timedelta64(1, "D")
    return in_order(
        station,
        start,
        np.full(len(end), step),
        conversion.apply(depth[order]),
        flags[order],
        (*standard.issues, *_told(step, said)),
        Source(opened.name, LAYOUT, opened.sha256, "absence means dry"),
        first=first.astype("datetime64[m]"),
        last=last.astype("datetime64[m]"),
        dry_between=True,
        offset_h=standard.offset_h,
    )


def _days(table: Table, names: list[str], faults: Faults) -> Minutes:
    """Midnight of each row's day, from one column or from three."""
    if "date" in names:
        texts = [cell.strip() for cell in table.cells[names.index("date")]]
    else:
        parts = zip(*(table.cells[names.index(name)] for name in ("year", "month", "day")), strict=True)
        texts = ["-".join(part.strip() for part in day) for day in parts]
    times, _ = parse_times([f"{day} 00:00" for day in texts], table.lines, faults, "date")
    return times


def _whole(table: Table, index: int, faults: Faults) -> NDArray[np.int64]:
    name = table.header[index]
    values, _ = parse_cells(table.cells[index], table.lines, faults, name=name)
    for row in np.flatnonzero(np.isnan(values) | (values != np.round(values))).tolist():
        faults.add(
            "This is no whole number.", "Write one, or leave out the line.", line=table.lines[row], name=name
        )
    return np.clip(np.nan_to_num(values), -1, 2 * DAY_MIN).astype(np.int64)


def _unit(table: Table, names: list[str], rain_at: int, faults: Faults) -> tuple[str, Conversion]:
    """The gauge's number if the file has it, and the rain's unit from its code, the header or a comment."""
    sites = {
        cell.strip() for at, name in enumerate(names) if name.startswith("site") for cell in table.cells[at]
    }
    if len(sites) > 1:
        faults.add(
            f"The file mixes {len(sites)} gauges ({', '.join(sorted(sites)[:5])}).", "Keep the lines of one."
        )
    match = _SITE.fullmatch(next(iter(sites))) if sites else None
    identifier = f"USGS:{match[1]}" if match else ""
    if match and match[2] == _RAIN_IN_INCHES:
        return identifier, INCHES
    unit = names[rain_at].removeprefix("rain").strip("_") or table.comments.get("units", "")
    if unit not in UNITS["rain_mm"]:
        what = "The file does not say the unit of its rain." if not unit else "This unit is not known here."
        instead = "Call the column rain_in or rain_mm, or put a first line # units: in into the file."
        faults.add(what, instead, line=table.header_line, name="header", found=unit)
        return identifier, INCHES
    return identifier, UNITS["rain_mm"][unit]


def _step(end: NDArray[np.datetime64]) -> int:
    """The step [min]: the longest that divides every time of the file, an hour at most."""
    minutes = (end - end.astype("datetime64[D]")).astype(np.int64)
    return int(np.gcd.reduce(np.append(minutes, 60)))


def _told(step: int, said: str | None) -> tuple[Issue, ...]:
    text = "The file holds wet intervals only: what lies between them was taken for dry, "
    text += f"and each interval for {step} minutes."
    issues = (Issue("absent", text, instead="A time when the gauge was out of order cannot be seen in it."),)
    if said is not None:
        return issues
    text = "The file does not say its clock; its times were taken as standard time all year."
    return (*issues, Issue("clock", text, instead=f"If that is wrong: {WRITE_CLOCK}"))
