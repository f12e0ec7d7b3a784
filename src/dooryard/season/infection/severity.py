"""Severity values: how much a wet day favours early blight of tomato, from 0 to 4; their sums, and sprays.

The values time a covering spray; they do not say that a garden needs one. Each spray sets the sum to nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.knowledge.season_rows import Severity

Numbers = NDArray[np.float64]


def value(rows: Sequence[Severity], mean_c: float, wet_h: float) -> int:
    """Severity value of one wet spell.

    Parameters
    ----------
    rows : sequence of Severity
        One disease's rows: both ends of their whole degrees and whole hours belong to them.
    mean_c : float
        Mean temperature of the wet hours [degC]; rounded to the nearest whole degree.
    wet_h : float
        Hours wet [h]; begun hours do not count.

    Returns
    -------
    int
        0 outside the table.

    Source
    ------
    Madden, Pennypacker and MacNab 1978, Phytopathology 68:1354; rounding is our own.
    """
    degree, hours = int(np.floor(mean_c + 0.5)), int(np.floor(wet_h + 1e-9))
    for row in rows:
        most = hours if row.wet_high_h is None else row.wet_high_h
        if row.t_low_c <= degree <= row.t_high_c and row.wet_low_h <= hours <= most:
            return row.value
    return 0


def values(rows: Sequence[Severity], mean_c: ArrayLike, wet_h: ArrayLike) -> Numbers:
    """Severity value of each day; NaN where its wet hours, or the warmth of some wet hours, are not known.

    Parameters
    ----------
    rows : sequence of Severity
        One disease's rows.
    mean_c, wet_h : array (days,)
        Mean temperature of the day's wet hours [degC] and their number [h].
    """
    warm, hours = np.asarray(mean_c, dtype=np.float64), np.asarray(wet_h, dtype=np.float64)
    found = np.full(hours.shape, np.nan)
    for index in np.flatnonzero(~np.isnan(hours)).tolist():
        if hours[index] == 0.0:
            found[index] = 0.0
        elif not np.isnan(warm[index]):
            found[index] = value(rows, float(warm[index]), float(hours[index]))
    return found


def spray_days(daily: ArrayLike, first_sum: float, later_sum: float) -> tuple[int, ...]:
    """Positions of the days on which the sum calls for a covering spray; each sets the sum to 0.

    Parameters
    ----------
    daily : array (days,)
        Severity values from transplanting on. An unknown day adds nothing, so a call may come late.
    first_sum, later_sum : float
        Sum that calls for the first spray, and for each one after it.
    """
    found: list[int] = []
    total = 0.0
    for index, one in enumerate(np.nan_to_num(np.asarray(daily, dtype=np.float64)).tolist()):
        total += one
        if total >= (later_sum if found else first_sum):
            found.append(index)
            total = 0.0
    return tuple(found)


def running(daily: ArrayLike, resets: Sequence[int] = ()) -> Numbers:
    """The sum at the end of each day, set to 0 after each day on which a spray was given.

    Parameters
    ----------
    daily : array (days,)
        Severity values; an unknown day adds nothing.
    resets : sequence of int
        Positions of spray days; the sum shown for such a day is the one that was reached.
    """
    one = np.nan_to_num(np.asarray(daily, dtype=np.float64))
    found, total = np.zeros(one.size), 0.0
    for index, add in enumerate(one.tolist()):
        total += add
        found[index] = total
        if index in resets:
            total = 0.0
    return found


def last_days(daily: ArrayLike, days: int) -> float:
    """Sum of the last days, NaN if one of them is not known.

    Parameters
    ----------
    daily : array (days,)
        Severity values.
    days : int
        How many of the last ones [d]; NaN if there are fewer.
    """
    run = np.asarray(daily, dtype=np.float64)[-days:]
    return float(run.sum()) if run.size == days else float("nan")
