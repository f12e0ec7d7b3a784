"""On which days the household draws water: on certain weekdays, or only after dry days, or on every day."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dooryard.words import WEEKDAYS, list_words

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: 1 January 1970, day 0 of the calendar, was a Thursday.
_DAY_0 = WEEKDAYS.index("Thursday")


class DrawDays(NamedTuple):
    """Days (N,) on which a rule surely lets water be drawn, and those on which it may; they differ by gaps."""

    surely: Flags
    perhaps: Flags


def draw_days(
    dates: NDArray[np.datetime64], rain_mm: Floats, weekdays: Sequence[str] = (), dry_days: int = 0
) -> DrawDays:
    """The days on which a rule lets water be drawn.

    Parameters
    ----------
    dates : array (N,)
        Every calendar day.
    rain_mm : array (N,)
        Rain of each day [mm], NaN where missing; a trace (0) is dry.
    weekdays : names
        Only on these; none named is every day.
    dry_days : int
        Only if so many days, the day itself included, were dry; before the first day it is taken as dry.

    Returns
    -------
    DrawDays

    Example
    -------
    >>> week = np.arange("2021-05-03", "2021-05-08", dtype="datetime64[D]")  # from a Monday on
    >>> draw_days(week, np.array([0, 0, 9.0, 0, 0]), dry_days=2).surely.tolist()
    [True, True, False, False, True]
    """
    named = np.ones(len(dates), dtype=bool)
    if weekdays:
        number = (dates.astype("datetime64[D]").astype(np.int64) + _DAY_0) % len(WEEKDAYS)
        named = np.isin(number, [WEEKDAYS.index(day.capitalize()) for day in weekdays])
    if dry_days == 0:
        return DrawDays(named, named)
    wet, unknown = rain_mm > 0.0, np.isnan(rain_mm)
    perhaps = named & ~_within(wet, dry_days)
    return DrawDays(perhaps & ~_within(unknown, dry_days), perhaps)


def rule_words(weekdays: Sequence[str], dry_days: int) -> str:
    """The rule in words, such as "on Monday and Thursday, after 2 dry days"; empty if there is none."""
    parts = [f"on {list_words([day.capitalize() for day in weekdays])}"] if weekdays else []
    if dry_days:
        parts.append(f"after {dry_days} dry {'day' if dry_days == 1 else 'days'}")
    return ", ".join(parts)


def _within(flags: Flags, days: int) -> Flags:
    """Whether any of the last so many days, the day itself included, is flagged."""
    so_far = np.concatenate([[0], np.cumsum(flags)])
    begins = np.maximum(np.arange(len(flags)) + 1 - days, 0)
    return np.asarray(so_far[1:] > so_far[begins])
