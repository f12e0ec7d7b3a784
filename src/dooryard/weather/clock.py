"""Clocks on the wall, which repeat an hour in autumn and skip one in spring, put into standard time.

Inside the program every sub-daily time is the station's standard time all year: no hour comes twice, none is
absent, and a day runs from midnight to midnight as climate services count it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.opening import Faults
from dooryard.weather.record import Floats, Issue, as_date

Minutes = NDArray[np.datetime64]

WRITE_CLOCK = (
    "Put a first line such as # clock: America/Chicago (summer time in summer) or # clock: UTC-6 "
    "(standard time all year) into the file."
)
STANDARD = "standard"
"""The word for standard time all year at an unknown distance from UTC."""

ABBREVIATIONS = MappingProxyType(
    {
        "UTC": 0, "GMT": 0, "Z": 0, "AST": -4, "ADT": -3, "EST": -5, "EDT": -4, "CST": -6, "CDT": -5,
        "MST": -7, "MDT": -6, "PST": -8, "PDT": -7, "AKST": -9, "AKDT": -8, "HST": -10,
    }
)  # fmt: skip
"""Hours ahead of UTC of the short names that United States services write."""

_FIXED = re.compile(r"(?:UTC|GMT)\s*([-+])(\d{1,2})(?::?(\d\d))?")
_EPOCH = datetime(1970, 1, 1)


@dataclass(frozen=True, slots=True)
class Standard:
    """Times in the station's standard time.

    times : (rows,) datetime64[m], NaT where not known. offset_h : hours ahead of UTC, None if not known.
    """

    times: Minutes
    offset_h: float | None
    issues: tuple[Issue, ...] = ()


def fixed_offset(clock: str) -> float | None:
    """Hours ahead of UTC of a clock without summer time, such as "UTC-5" or "EST"; None for any other."""
    text = clock.strip().upper()
    if text in ABBREVIATIONS:
        return float(ABBREVIATIONS[text])
    match = _FIXED.fullmatch(text)
    if match is None:
        return None
    hours = int(match[2]) + int(match[3] or 0) / 60
    return -hours if match[1] == "-" else hours


def to_standard(local: Minutes, clock: str, lines: Sequence[int], faults: Faults) -> Standard:
    """Times as the file's clock shows them, in standard time.

    local : (rows,) datetime64[m] in the order of the file. clock : a zone such as "America/New_York", a fixed
    distance such as "UTC-5", or `STANDARD`. An hour that comes twice is told apart by its order in the file;
    a time that the clock skipped is told to `faults`. InputError if the clock is not known.
    """
    if clock == STANDARD:
        return Standard(local, None)
    offset_h = fixed_offset(clock)
    if offset_h is not None:
        return Standard(local, offset_h)
    zone = _zone(clock, faults.file)
    known = local[~np.isnat(local)]
    if not known.size:
        return Standard(local, None)
    year = as_date(known[known.size // 2]).year
    # The smaller of the two is standard time, on both halves of the globe.
    standard_min = min(_offset_min(zone, datetime(year, month, 1)) for month in (1, 7))
    # A day whose two midnights agree keeps one clock throughout: only the others are looked at row by row.
    days, day_of_row = np.unique(local.astype("datetime64[D]"), return_inverse=True)
    midnights = [_EPOCH + timedelta(days=int(day.astype(int))) for day in days if not np.isnat(day)]
    before = [_offset_min(zone, midnight) for midnight in midnights]
    after = [_offset_min(zone, midnight + timedelta(days=1)) for midnight in midnights]
    offsets = np.array([*before, 0], dtype=np.int64)[np.minimum(day_of_row, len(midnights))]
    issues: tuple[Issue, ...] = ()
    for day in np.flatnonzero(np.array(before) != np.array(after)).tolist():
        rows = np.flatnonzero(day_of_row == day)
        offsets[rows], told = _change_day(
            local[rows], zone, clock, [lines[row] for row in rows.tolist()], faults
        )
        issues += told
    return Standard(local + (standard_min - offsets).astype("timedelta64[m]"), standard_min / 60, issues)


def from_offsets(local: Minutes, offsets_h: Floats) -> Standard:
    """Times whose distance from UTC stands in every row: nothing has to be guessed; both arrays (rows,).

    The smallest distance in the file is taken for standard time; an issue says so if there is only one.
    """
    known = offsets_h[~np.isnan(offsets_h)]
    if not known.size:
        return Standard(local, None)
    standard_h = float(known.min())
    times = local + np.round((standard_h - offsets_h) * 60).astype("timedelta64[m]")
    if known.max() > standard_h:
        return Standard(times, standard_h)
    text = f"Every line is {standard_h:+g} hours from UTC; that was taken for standard time."
    instead = "If the file was written in summer time only, its days end an hour early."
    return Standard(times, standard_h, (Issue("clock", text, instead=instead),))


def at_longitude(utc: Minutes, longitude: float | None) -> Standard:
    """Times in UTC, moved to the standard time a place at that longitude would keep.

    Without a longitude the times stay as they are, and an issue says that days end at midnight UTC.
    """
    if longitude is None:
        text = "The times are UTC and the file does not say where the station stands: its days end at midnight UTC."
        return Standard(utc, 0.0, (Issue("clock", text, instead=f"To settle it: {WRITE_CLOCK}"),))
    hours = round(longitude / 15)
    text = f"The times are UTC; they were moved by {hours:+d} hours, as the longitude has it."
    return Standard(utc + np.timedelta64(hours * 60, "m"), float(hours), (Issue("clock", text),))


def _change_day(
    local: Minutes, zone: tzinfo, clock: str, lines: list[int], faults: Faults
) -> tuple[NDArray[np.int64], tuple[Issue, ...]]:
    """Offsets [min] of the rows of one day on which the clock changes, in file order."""
    first = np.array([_offset_min(zone, _moment(time)) for time in local])
    second = np.array([_offset_min(zone, _moment(time).replace(fold=1)) for time in local])
    day = as_date(local[0])
    for row in np.flatnonzero(first < second).tolist():
        what = f"The clock of {clock} skipped this time."
        faults.add(what, WRITE_CLOCK, line=lines[row], name="time", found=str(local[row]).replace("T", " "))
    twice = np.flatnonzero(first > second)
    if not twice.size:
        return first, ()
    again = _second_pass(local[twice])
    offsets = first.copy()
    offsets[twice[again]] = second[twice[again]]
    if again.any():
        text = f"The hour that comes twice on {day} was told apart by the order of the lines."
    else:
        text = f"The hour that comes twice on {day} stands in the file once; it was taken for the first of the two."
    return offsets, (Issue("clock", text, day, day, 1),)


def _second_pass(local: Minutes) -> NDArray[np.bool_]:
    """Which rows of the repeated hour belong to its second passage; local : (rows,) in file order."""
    steps = np.diff(local).astype(int)
    if (steps <= 0).sum() <= 1:
        return np.concatenate(([False], np.cumsum(steps <= 0) > 0))
    # Not in the order of time: the second line that bears the same time is the later one.
    seen: set[int] = set()
    again = []
    for time in local.astype(int).tolist():
        again.append(time in seen)
        seen.add(time)
    return np.array(again)


def _zone(clock: str, file: str) -> tzinfo:
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

    try:
        return ZoneInfo(clock)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        problem = Problem("This clock is not known.", WRITE_CLOCK, file, field="clock", found=clock)
        raise InputError(problem) from error


def _moment(time: np.datetime64) -> datetime:
    return _EPOCH + timedelta(minutes=int(time.astype("datetime64[m]").astype(int)))


def _offset_min(zone: tzinfo, moment: datetime) -> int:
    offset = moment.replace(tzinfo=zone).utcoffset()
    return 0 if offset is None else round(offset.total_seconds() / 60)
