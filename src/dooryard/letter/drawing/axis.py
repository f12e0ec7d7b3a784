"""Scales of days and numbers, their ticks, and the routine that keeps labels from lying on each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from dooryard.letter.drawing.ink import HAIR, INK, RULE, SMALL, text_width
from dooryard.letter.drawing.pen import line, text
from dooryard.words import MONTHS

_SHORT = tuple(month[:3] for month in MONTHS)


@dataclass(frozen=True)
class Span:
    """A straight scale: `low` lands on `start`, `high` on `end` [drawing units]."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value lands. A scale without length puts everything on its start."""
        if self.high == self.low:
            return self.start
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


@dataclass(frozen=True)
class Days:
    """A scale of whole days, a column each: `first` begins at `start`, the day `last` ends at `end`."""

    first: date
    last: date
    start: float
    end: float

    @property
    def column(self) -> float:
        """Width of one day."""
        return (self.end - self.start) / ((self.last - self.first).days + 1)

    def left(self, day: date) -> float:
        """Left edge of a day's column, held inside the scale."""
        x = self.start + (day - self.first).days * self.column
        return min(max(x, self.start), self.end)

    def right(self, day: date) -> float:
        """Right edge of a day's column, held inside the scale."""
        return self.left(day + timedelta(days=1))

    def middle(self, day: date) -> float:
        """Middle of a day's column."""
        return (self.left(day) + self.right(day)) / 2

    def holds(self, day: date) -> bool:
        """Whether the day lies on the scale."""
        return self.first <= day <= self.last


def month_starts(first: date, last: date) -> list[date]:
    """The first of each month from `first` to `last`, both included."""
    starts = []
    year, month = first.year, first.month
    while date(year, month, 1) <= last:
        if date(year, month, 1) >= first:
            starts.append(date(year, month, 1))
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return starts


def month_axis(days: Days, top: float, base: float, *, guides: bool = True) -> list[str]:
    """The line of days at `base`, months named below it, with rules up to `top` if `guides`.

    Names shorten to three letters, then to every second or third month, as the room asks; where a month is
    wide the 10th and the 20th are marked too.
    """
    marks = [line(days.start, base, days.end, base, colour=INK)]
    month = days.column * 30.4
    tens = days.column * 10 >= 40
    every = 1 if month >= 34 else 2 if month >= 17 else 3
    # A cut first month would lose its name to a number close behind it: the name goes first.
    hidden = _too_close(days) if tens else None
    for i, day in enumerate(sorted({days.first, *month_starts(days.first, days.last)})):
        x = days.left(day)
        if day.day == 1:
            marks.append(line(x, top if guides else base, x, base, colour=HAIR))
            marks.append(line(x, base, x, base + 6, colour=RULE))
        room = min(_next_mark(day, hidden, tens=tens) * days.column, days.end - x) - 6
        names = (MONTHS[day.month - 1], _SHORT[day.month - 1])
        fitting = [word for word in names if text_width(word, SMALL) <= room * every]
        if fitting and i % every == 0:
            marks.append(text(x + 3, base + 19, fitting[0], size=SMALL, halo=False))
    if tens:
        for day in (days.first + timedelta(days=i) for i in range((days.last - days.first).days + 1)):
            if day.day in (10, 20) and day != hidden:
                x = days.middle(day)
                marks.append(line(x, base, x, base + 4, colour=RULE))
                marks.append(text(x, base + 19, str(day.day), anchor="middle", size=SMALL, halo=False))
    return marks


def _too_close(days: Days) -> date | None:
    """The first number on the axis, if the name of the month before it would not fit in front of it."""
    ahead = [mark for mark in (10, 20) if mark > days.first.day]
    if not ahead:
        return None
    room = (ahead[0] - days.first.day - 1) * days.column - 6
    fits = text_width(_SHORT[days.first.month - 1], SMALL) <= room
    return None if fits else days.first.replace(day=ahead[0])


def _next_mark(day: date, hidden: date | None, *, tens: bool) -> int:
    """Days from a month's name to the next words on the axis (a number's own half width taken off)."""
    if not tens:
        return 32 - day.day
    hides = hidden is not None and (hidden.year, hidden.month) == (day.year, day.month)
    marks = [mark for mark in (10, 20) if mark > day.day and not (hidden and hides and mark == hidden.day)]
    return min([*marks, 32]) - day.day - 1


def nice_step(extent: float, parts: int = 4) -> float:
    """A round step (1, 2, 2.5 or 5 times a power of ten) that cuts `extent` into about `parts`."""
    if extent <= 0:
        return 1.0
    raw = extent / parts
    size = 10.0 ** math.floor(math.log10(raw))
    for share in (1, 2, 2.5, 5, 10):
        if share * size >= raw * 0.999:
            return share * size
    return 10 * size


def plain(value: float, digits: int | None = None) -> str:
    """A number as people write it: thousands with a comma, no trailing zeros, no powers of ten."""
    if digits is None:
        size = abs(value)
        digits = 0 if size >= 100 else 1 if size >= 10 else 2
    words = f"{value:,.{digits}f}"
    return words.rstrip("0").rstrip(".") if "." in words else words


def rounded(value: float) -> str:
    """A number rounded for use: whole from 10 on, one decimal from 1 on, else two."""
    size = abs(value)
    return plain(value, 0 if size >= 10 else 1 if size >= 1 else 2)


def spread(wanted: Sequence[float], heights: Sequence[float], low: float, high: float) -> list[float]:
    """Middles for labels so that none lies on another and each is as near its wanted place as can be.

    wanted : (n,) middle each label would like; heights : (n,) room each needs; low, high : the room for all.
    Order is kept. Least squares under the order (pool adjacent violators). If the room is too small for all,
    the labels keep apart and run past `high`.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    offsets: list[float] = []
    reach = 0.0
    for i in order:
        offsets.append(reach + heights[i] / 2)
        reach += heights[i]
    pools: list[tuple[float, int]] = []
    for place, i in enumerate(order):
        mean, count = wanted[i] - offsets[place], 1
        while pools and pools[-1][0] > mean:
            before, many = pools.pop()
            mean, count = (mean * count + before * many) / (count + many), count + many
        pools.append((mean, count))
    top = max(low, high - reach)
    shifts = [min(max(mean, low), top) for mean, count in pools for _ in range(count)]
    placed = [0.0] * len(order)
    for place, i in enumerate(order):
        placed[i] = shifts[place] + offsets[place]
    return placed


def runs(missing: Sequence[bool]) -> list[tuple[int, int]]:
    """Runs of True as (first, one past the last)."""
    found: list[tuple[int, int]] = []
    start: int | None = None
    for i, gone in enumerate([*missing, False]):
        if gone and start is None:
            start = i
        elif not gone and start is not None:
            found.append((start, i))
            start = None
    return found
