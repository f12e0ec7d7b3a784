"""What is usual at one station: smooth normals of every calendar day, and running totals of a year.

A calendar of 366 days carries everything: slot 0 is 1 January, slot 59 is 29 February, which most years lack.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.quantiles import quantiles
from dooryard.weather.record import Days, Floats
from dooryard.weather.usual_limits import usual_limits

SLOTS = 366
_LEAP_DAY = 59
_LEAP_YEAR = 2000


@dataclass(frozen=True, slots=True, eq=False)
class DailyNormals:
    """The usual value of each calendar day; arrays have slots last.

    mean, spread : (366,) mean and standard deviation. points : (shares, 366) the values below which the shares of the
    years lie. years : the calendar years with any value, in order.
    """

    mean: Floats
    spread: Floats
    shares: tuple[float, ...]
    points: Floats
    years: tuple[int, ...]

    def on(self, day: date) -> tuple[float, float, Floats]:
        """Mean, spread and points (shares,) of one calendar day."""
        slot = slot_of(day)
        return float(self.mean[slot]), float(self.spread[slot]), self.points[:, slot]


@dataclass(frozen=True, slots=True, eq=False)
class YearTable:
    """Daily values by year and day of the year that begins on `start` (month, day).

    years : (Y,) the calendar year each row begins in. values : (Y, 366), NaN where missing. is_day : (Y, 366)
    False only for 29 February in a row that has none.
    """

    start: tuple[int, int]
    years: tuple[int, ...]
    values: Floats
    is_day: NDArray[np.bool_]

    def running_totals(self, allowed_missing: int = 0) -> Floats:
        """Sums from the start of each row to each day, included (Y, 366); NaN once more days than allowed lack
        a value, because the sum is then not known any more."""
        lacking = np.cumsum(self.is_day & np.isnan(self.values), axis=1)
        return np.where(lacking > allowed_missing, np.nan, np.nancumsum(self.values, axis=1))


def slot_of(day: date) -> int:
    """Slot of a calendar day, 0 to 365."""
    return (day.replace(year=_LEAP_YEAR) - date(_LEAP_YEAR, 1, 1)).days


def slots(dates: Days) -> NDArray[np.int64]:
    """Slot of each date, (days,)."""
    years = dates.astype("datetime64[Y]")
    number = (dates - years.astype("datetime64[D]")).astype(np.int64)
    year = years.astype(np.int64) + 1970
    leap = (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0))
    result: NDArray[np.int64] = number + ((number >= _LEAP_DAY) & ~leap)
    return result


def daily(
    dates: Days,
    values: Floats,
    shares: Sequence[float] = (0.1, 0.5, 0.9),
    *,
    half_width_d: int | None = None,
) -> DailyNormals:
    """Normals of every calendar day from a daily series such as a temperature, both (days,).

    The mean of a calendar day is the mean of the days up to `half_width_d` before and after it (fact
    `weather.normals.window_d`) over all years, near days counting more (weights fall off in a straight line).
    Spread and points come from how far the days within the window lie from their own mean, so that the season's course
    inside the window does not widen them. NaN where no day of any year is known.
    """
    half = int(usual_limits().window_d) if half_width_d is None else half_width_d
    table = by_year(dates, values)
    known = ~np.isnan(table.values)
    kernel = 1 - np.abs(np.arange(-half, half + 1)) / (half + 1)
    mean = _share(np.where(known, table.values, 0).sum(axis=0), known.sum(axis=0), kernel)
    apart = table.values - mean
    square = np.where(known, apart, 0) ** 2
    spread = np.sqrt(_share(square.sum(axis=0), known.sum(axis=0), kernel))
    near = (np.arange(SLOTS)[:, None] + np.arange(-half, half + 1)) % SLOTS
    pooled = np.moveaxis(apart[:, near], 2, 1).reshape(-1, SLOTS)
    rows = np.flatnonzero(known.any(axis=1)).tolist()
    years = tuple(table.years[row] for row in rows)
    return DailyNormals(mean, spread, tuple(shares), mean + quantiles(pooled, shares), years)


def by_year(dates: Days, values: Floats, start: tuple[int, int] = (1, 1)) -> YearTable:
    """A daily series (days,) as rows of years that begin on `start`; days outside the series are NaN."""
    first_slot = slot_of(date(_LEAP_YEAR, *start))
    slot, year = slots(dates), dates.astype("datetime64[Y]").astype(np.int64) + 1970
    row_year = year - (slot < first_slot)
    first = int(row_year[0])
    count = int(row_year[-1]) - first + 1
    laid = np.full((count, SLOTS), np.nan)
    laid[row_year - first, (slot - first_slot) % SLOTS] = values
    years = np.arange(first, first + count)
    leap_column = (_LEAP_DAY - first_slot) % SLOTS
    leap_year = years + (first_slot > _LEAP_DAY)
    is_day = np.ones((count, SLOTS), dtype=bool)
    is_day[:, leap_column] = (leap_year % 4 == 0) & ((leap_year % 100 != 0) | (leap_year % 400 == 0))
    return YearTable(start, tuple(years.tolist()), laid, is_day)


def _share(sums: Floats, counts: NDArray[np.int64], kernel: Floats) -> Floats:
    """Weighted mean around the year: sums and counts (366,) smoothed by the same weights."""
    top, bottom = _around(sums, kernel), _around(counts.astype(np.float64), kernel)
    mean: Floats = np.divide(top, bottom, out=np.full(SLOTS, np.nan), where=bottom > 1e-9)
    return mean


def _around(values: Floats, kernel: Floats) -> Floats:
    """Values (366,) smoothed by weights, December meeting January."""
    half = len(kernel) // 2
    circle = np.concatenate([values[-half:], values, values[:half]]) if half else values
    smoothed: Floats = np.convolve(circle, kernel, "valid")
    return smoothed
