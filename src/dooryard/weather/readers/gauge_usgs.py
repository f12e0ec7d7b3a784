"""Recording gauge of the US Geological Survey: rain since the reading before, at steps that change.

Two spellings of one table: the service's own tab-separated text, and the CSV that statistics software makes of
it. Parameter 00045 is rain in inches. A time marks the end of its step; steps of the gauge's own lengths are
measured, anything longer is a hole.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.cells import parse_cells
from dooryard.weather.clock import Standard, fixed_offset, from_offsets, to_standard
from dooryard.weather.conversion import INCHES
from dooryard.weather.gauge import HOUR_MIN, GaugeRecord, in_order, told
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.plain import split_header, take_apart
from dooryard.weather.record import Flag, Floats, Issue, Source, Station
from dooryard.weather.times import parse_times

LAYOUT = "USGS recording gauge"

_CODE = re.compile(r"(?:.*_)?00045(?:_\d{5})?_cd")
_FEWEST = 10  # a step length seen less often is no habit of the gauge
_FETCH = "Fetch the file again."


@dataclass(frozen=True, slots=True)
class _Rows:
    """The table's columns that are read, all (rows,), and the line number of each row."""

    times: Sequence[str]
    rain: Sequence[str]
    codes: Sequence[str]
    zones: Sequence[str]
    sites: Sequence[str]
    lines: Sequence[int]


def is_header(first_line: str) -> bool:
    """True if a header names an agency, a site and a rain code column (parameter 00045)."""
    names = [name.strip() for name in split_header(first_line)[0]]
    return {"agency_cd", "site_no"} <= set(names) and any(_CODE.fullmatch(name.lower()) for name in names)


def read(opened: Opened, *, clock: str | None = None) -> GaugeRecord:
    """The gauge's intervals. clock : overrules the zone in the file. InputError listing every fault."""
    faults = Faults(opened.name)
    rows = _rows(opened, faults)
    sites = sorted(set(rows.sites))
    if len(sites) > 1:
        faults.add(f"The file mixes {len(sites)} gauges ({', '.join(sites[:5])}).", "Keep the lines of one.")
    local, _ = parse_times(rows.times, rows.lines, faults, "dateTime")
    depth, flags = parse_cells(rows.rain, rows.lines, faults, name="rain")
    faults.raise_any()
    standard = _standard(local, rows, clock, faults)
    faults.raise_any()
    order = np.argsort(standard.times, kind="stable")
    order, again = _without_repeats(order, standard.times, rows, faults)
    faults.raise_any()
    end = standard.times[order]
    depth, flags = INCHES.apply(depth[order]), flags[order]
    estimated, issues = _codes(rows.codes, order, end)
    flags = np.where(estimated & ~np.isnan(depth), np.uint8(Flag.ESTIMATED), flags)
    minutes, late, holes = _steps(end, depth)
    depth, flags = np.where(late, np.nan, depth), np.where(late, np.uint8(Flag.SUSPECT), flags)
    station = Station(f"USGS {sites[0]}", f"USGS:{sites[0]}")
    source = Source(opened.name, LAYOUT, opened.sha256, "parameter 00045, inches")
    return in_order(
        station,
        end - minutes.astype("timedelta64[m]"),
        minutes,
        depth,
        flags,
        standard.issues + again + issues + holes,
        source,
        offset_h=standard.offset_h,
    )


def _rows(opened: Opened, faults: Faults) -> _Rows:
    table = take_apart(opened, faults)
    faults.raise_any()
    names = [name.strip() for name in table.header]
    code = next(at for at, name in enumerate(names) if _CODE.fullmatch(name.lower()))
    time = next((at for at, name in enumerate(names) if name.lower() == "datetime"), -1)
    value = names[code].removesuffix("_cd")
    rain = names.index(value) if value in names else names.index("rain") if "rain" in names else -1
    for at, word in ((time, "dateTime"), (rain, "rain")):
        if at < 0:
            found = ",".join(names)
            faults.add(
                f"There is no {word} column.", _FETCH, line=table.header_line, name="header", found=found
            )
    faults.raise_any()
    zone = names.index("tz_cd") if "tz_cd" in names else -1
    times = list(table.cells[time])
    # The service's own text has a second header line with the width of each column.
    skip = 1 if times and re.fullmatch(r"\d+[snd]", times[0].strip()) else 0

    def column(at: int) -> list[str]:
        return list(table.cells[at])[skip:] if at >= 0 else []

    return _Rows(
        times[skip:],
        column(rain),
        column(code),
        column(zone),
        column(names.index("site_no")),
        list(table.lines)[skip:],
    )


def _standard(local: NDArray[np.datetime64], rows: _Rows, clock: str | None, faults: Faults) -> Standard:
    zones = [zone.strip() for zone in rows.zones]
    named = sorted(set(zones))
    if clock is None and len(named) == 1 and fixed_offset(named[0]) is None:
        clock = named[0]
    if clock is not None:
        return to_standard(local, clock, rows.lines, faults)
    offsets = {zone: fixed_offset(zone) for zone in named}
    for row, zone in enumerate(zones):
        if offsets[zone] is None:
            instead = "Write EST, CDT and the like, or a zone such as America/Chicago in every line."
            faults.add("This clock is not known.", instead, line=rows.lines[row], name="tz_cd", found=zone)
    if not zones:
        faults.add("There is no tz_cd column.", "Say the clock, such as America/Chicago.", name="header")
    faults.raise_any()
    return from_offsets(local, np.array([offsets[zone] for zone in zones], dtype=np.float64))


def _without_repeats(
    order: NDArray[np.int64], times: NDArray[np.datetime64], rows: _Rows, faults: Faults
) -> tuple[NDArray[np.int64], tuple[Issue, ...]]:
    """The rows in the order of time without those that say the same again; others of one time are faults."""
    same = np.diff(times[order]).astype(int) == 0
    for earlier, row in zip(order[:-1][same].tolist(), order[1:][same].tolist(), strict=True):
        if rows.rain[earlier].strip() != rows.rain[row].strip():
            what = f"This time stands in line {rows.lines[earlier]} already, with another depth."
            faults.add(what, "Keep one of the two lines.", line=rows.lines[row], found=rows.times[row])
    if not same.any():
        return order, ()
    text = f"{int(same.sum()):,} lines stand in the file twice."
    return order[np.concatenate(([True], ~same))], (Issue("repeated", text, instead="One of each was used."),)


def _codes(
    codes: Sequence[str], order: NDArray[np.int64], end: NDArray[np.datetime64]
) -> tuple[NDArray[np.bool_], tuple[Issue, ...]]:
    """Which values the publisher estimated, and what the codes say of the rest."""
    parts = [codes[row].split() for row in order.tolist()]
    estimated = np.array(["e" in part or "E" in part for part in parts])
    provisional = np.array([bool(part) and part[0] == "P" for part in parts])
    days = end.astype("datetime64[D]")
    issues: tuple[Issue, ...] = ()
    if estimated.any():
        text = f"The publisher estimated {int(estimated.sum()):,} values on {{days}}."
        issues += (told("estimated", days, estimated, text, "They were kept, as estimated."),)
    if provisional.any():
        text = "The values of {days} are provisional."
        issues += (told("provisional", days, provisional, text, "Fetch them again in a few months."),)
    return estimated, issues


def _steps(
    end: NDArray[np.datetime64], depth: Floats
) -> tuple[NDArray[np.int64], NDArray[np.bool_], tuple[Issue, ...]]:
    """Length of each value's step [min], which values may hold the rain of a silence, and what was silent."""
    from dooryard import knowledge

    steps = np.diff(end).astype(np.int64)
    if not steps.size:
        return np.full(len(end), 1), np.zeros(len(end), dtype=bool), ()
    share = knowledge.load().fact("weather.gauge.regular_share").value
    lengths, counts = np.unique(steps, return_counts=True)
    usual = int(lengths[counts.argmax()])
    often = lengths[(counts >= max(share * steps.size, _FEWEST)) & (lengths <= HOUR_MIN)]
    longest = max(usual, int(often.max(initial=0)))
    hole = np.concatenate(([False], steps > longest))
    minutes = np.where(hole, usual, np.concatenate(([usual], steps)))
    # A gauge that was silent may give the whole silence's rain at once.
    late = hole & (depth > 0)
    if not hole.any():
        return minutes, late, ()
    silent_h = float((steps - usual)[hole[1:]].sum()) / HOUR_MIN
    text = f"The gauge was silent {int(hole.sum()):,} times, {silent_h:,.1f} hours in all."
    issues: tuple[Issue, ...] = (Issue("gap", text, instead="Days with such a hole have no rain value."),)
    if late.any():
        text = f"{int(late.sum()):,} readings right after a silence may hold its rain as well."
        issues += (Issue("suspect", text, instead="They are left out."),)
    return minutes, late, issues
