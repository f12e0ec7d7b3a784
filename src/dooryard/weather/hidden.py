"""How wrong an estimate usually is: sizes of error on real days that were hidden and estimated anew."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.neighbours import Months
from dooryard.weather.record import Floats

FEWEST = 20  # hidden stretches below which no usual error is given
ABOUT_D = 365  # days on either side that tell whether the relation holds about a day


@dataclass(frozen=True, slots=True)
class Usual:
    """Errors of one element, in its own unit, over the hidden days of some season.

    days : hidden days. daily : mean size of a day's error; nine_in_ten : size that nine days in ten keep below.
    bias : mean error, plus is too much. guess : mean size of the error of a guess without neighbour.
    """

    days: int
    daily: float
    nine_in_ten: float
    bias: float
    guess: float


def usual_error(
    error: Floats, guess_error: Floats, month: Months | None = None, centre: int = 0
) -> Usual | None:
    """Usual error over all hidden days (days,), or over those of a month and its two neighbours.

    month : (days,) 0 for January, or None for the whole year; centre : the month asked. None if fewer than
    `FEWEST` days were hidden.
    """
    known = ~np.isnan(error)
    if month is not None:
        known &= in_season(month, centre)
    size = np.abs(error[known])
    if size.size < FEWEST:
        return None
    return Usual(
        days=int(size.size),
        daily=float(size.mean()),
        nine_in_ten=float(np.sort(size)[int(0.9 * (size.size - 1) + 0.5)]),
        bias=float(error[known].mean()),
        guess=float(np.abs(guess_error[known]).mean()),
    )


def usual_sum_error(error: Floats, month: Months, centre: int, length: int) -> float | None:
    """Mean size of the error of the sum over `length` days in a row that begin in a month or beside it.

    Errors of a gap partly cancel (temperature) or hang on one storm (rain), so this is measured, not worked
    out from the daily error. None if fewer than `FEWEST` such stretches were hidden whole.
    """
    if length > len(error):
        return None
    known = ~np.isnan(error)
    total = np.concatenate(([0.0], np.cumsum(np.where(known, error, 0.0))))
    count = np.concatenate(([0], np.cumsum(known)))
    whole = count[length:] - count[:-length] == length
    whole &= in_season(month[: len(whole)], centre)
    sums = np.abs(total[length:] - total[:-length])[whole]
    return float(sums.mean()) if sums.size >= FEWEST else None


def steady_error(error: Floats) -> Floats:
    """Mean error (days,) over the hidden days of the year before and the year after each day.

    A station that was moved, or its gauge or tree beside it, shows as an error that does not cancel. NaN where
    fewer than a sixth of those days were hidden.
    """
    known = ~np.isnan(error)
    total = np.concatenate(([0.0], np.cumsum(np.where(known, error, 0.0))))
    count = np.concatenate(([0], np.cumsum(known)))
    day = np.arange(len(error))
    first, end = np.maximum(day - ABOUT_D, 0), np.minimum(day + ABOUT_D + 1, len(error))
    days = count[end] - count[first]
    mean = (total[end] - total[first]) / np.maximum(days, 1)
    return np.where(days * 6 >= 2 * ABOUT_D, mean, np.nan)


def own_day_errors(values: Floats, length: int) -> tuple[Floats, NDArray[np.int64]]:
    """Errors of straight lines over `length` measured days, hidden in turn wherever both ends are measured.

    Returns the errors (stretches, length) and the index of each stretch's first day (stretches,).
    """
    starts = np.arange(1, max(len(values) - length, 1))
    days = starts[:, None] + np.arange(length)
    before, after = values[starts - 1], values[starts + length]
    weight = (np.arange(length) + 1) / (length + 1)
    line = before[:, None] * (1 - weight) + after[:, None] * weight
    errors = line - values[days]
    whole = ~np.isnan(errors).any(axis=1)
    return errors[whole], starts[whole]


def in_season(month: Months, centre: int) -> NDArray[np.bool_]:
    """Which days (days,) lie in a month (0 to 11) or the month before or after it."""
    return (month - centre + 1) % 12 <= 2
