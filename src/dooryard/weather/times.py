"""Times of day as sub-daily files write them: date and clock in one cell, with or without a distance to UTC."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.clock import Minutes
from dooryard.weather.dates import days_of
from dooryard.weather.opening import Faults
from dooryard.weather.record import Floats

_WRITE = "Write the year first, such as 2031-05-20 14:00."
_TAIL = re.compile(r"(?::\d\d(?:\.\d+)?)?\s*(Z|UTC|[-+]\d\d:?\d\d)?")
_LOOSE = re.compile(
    r"(?:(?P<y>\d{4})[-/.]?(?P<m>\d{1,2})[-/.]?(?P<d>\d{1,2})|(?P<a>\d{1,2})[/.](?P<b>\d{1,2})[/.](?P<yy>\d{4}))"
    r"[T ]+(?P<h>\d{1,2}):?(?P<min>\d\d)(?P<tail>(?::\d\d(?:\.\d+)?)?)\s*(?P<half>[AaPp][Mm])?\s*"
    r"(?P<zone>Z|UTC|[-+]\d\d:?\d\d)?"
)
_NEVER = np.datetime64("NaT", "m")


def parse_times(
    cells: Sequence[str], lines: Sequence[int], faults: Faults, name: str = "time"
) -> tuple[Minutes, Floats]:
    """Times as written, (rows,) datetime64[m], and their distance to UTC [h], (rows,), NaN where not written.

    Seconds are cut off; 24:00 is the midnight that ends the day. A cell that is no time is told to `faults`
    and becomes NaT. lines : line number of each cell.
    """
    texts = [cell.strip() for cell in cells]
    quick = _iso_times(texts)
    times, offsets = quick if quick is not None else _loose_times(texts)
    for row in np.flatnonzero(np.isnat(times)).tolist():
        faults.add("This is no time.", _WRITE, line=lines[row], name=name, found=texts[row] or "nothing")
    return times, offsets


def clock_times(
    days: NDArray[np.datetime64], hours: NDArray[np.int64], minutes: NDArray[np.int64] | int = 0
) -> Minutes:
    """Times of day, hour and minute numbers of one shape; hour 24 is the midnight that ends the day.

    NaT where there is no such hour or minute.
    """
    result = days.astype("datetime64[m]") + (hours * 60 + minutes).astype("timedelta64[m]")
    possible = (hours >= 0) & (np.asarray(minutes) >= 0) & (np.asarray(minutes) < 60)
    possible &= (hours < 24) | ((hours == 24) & (np.asarray(minutes) == 0))
    return np.where(possible, result, _NEVER)


def _iso_times(texts: list[str]) -> tuple[Minutes, Floats] | None:
    """All texts as YYYY-MM-DD HH:MM with any tail in one go, or None if any is something else."""
    if not texts or min(map(len, texts)) < 16:
        return None
    heads = "".join([text[:16] for text in texts])
    if not heads.isascii():
        return None
    codes = np.frombuffer(heads.encode("ascii"), dtype=np.uint8).reshape(-1, 16)
    digits = codes[:, (0, 1, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15)] - np.uint8(48)
    marks = codes[:, (4, 7, 10, 13)]
    fits = (digits <= 9).all() and (marks[:, :2] == ord("-")).all() and (marks[:, 3] == ord(":")).all()
    if not fits or not np.isin(marks[:, 2], (ord(" "), ord("T"))).all():
        return None
    tails = [text[16:] for text in texts]
    known = {tail: _TAIL.fullmatch(tail) for tail in set(tails)}
    if None in known.values():
        return None
    n = digits.astype(np.int64)
    pairs = n[:, 4::2] * 10 + n[:, 5::2]
    days = days_of(n[:, :4] @ np.array([1000, 100, 10, 1]), pairs[:, 0], pairs[:, 1])
    of_tail = {tail: _offset(match[1] if match else None) for tail, match in known.items()}
    return clock_times(days, pairs[:, 2], pairs[:, 3]), np.array([of_tail[tail] for tail in tails])


def _loose_times(texts: list[str]) -> tuple[Minutes, Floats]:
    known = {text: _LOOSE.fullmatch(text) for text in set(texts)}
    matches = [known[text] for text in texts]
    numbers = np.array([_numbers(match) for match in matches], dtype=np.int64)
    years, first, second, hours, minutes, year_last = numbers.T
    days = days_of(years, first, second)
    turned = year_last == 1
    if turned.any():
        days[turned] = _month_or_day_first(years[turned], first[turned], second[turned])
    offsets = np.array([_offset(match["zone"]) if match else np.nan for match in matches])
    return clock_times(days, hours, minutes), offsets


def _numbers(match: re.Match[str] | None) -> tuple[int, ...]:
    """Year, the two other date numbers, hour, minute, and 1 if the year stands last."""
    if match is None:
        return 0, 0, 0, 0, 0, 0
    hour = int(match["h"])
    if match["half"]:
        hour = -1 if not 1 <= hour <= 12 else hour % 12 + (12 if match["half"].lower() == "pm" else 0)
    if match["y"]:
        return int(match["y"]), int(match["m"]), int(match["d"]), hour, int(match["min"]), 0
    return int(match["yy"]), int(match["a"]), int(match["b"]), hour, int(match["min"]), 1


def _month_or_day_first(
    years: NDArray[np.int64], first: NDArray[np.int64], second: NDArray[np.int64]
) -> NDArray[np.datetime64]:
    """The reading with fewer impossible days, then with fewer leaps; NaT throughout if neither decides."""
    readings = [days_of(years, first, second), days_of(years, second, first)]
    scores = []
    for days in readings:
        known = days[~np.isnat(days)]
        scores.append((int(np.isnat(days).sum()), int(np.abs(np.diff(known).astype(int)).sum())))
    if scores[0] == scores[1] and (first != second).any():
        return np.full(len(years), np.datetime64("NaT", "D"))
    return readings[scores.index(min(scores))]


def _offset(zone: str | None) -> float:
    if not zone:
        return np.nan
    if zone in ("Z", "UTC"):
        return 0.0
    hours, minutes = int(zone[1:3]), int(zone[-2:])
    return (hours + minutes / 60) * (-1 if zone[0] == "-" else 1)
