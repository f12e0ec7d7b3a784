"""Last and first cold days of the year, and the dates of given chances, from a station's own record.

A day is cold if its lowest temperature, in the shelter, is at or below a threshold. The last such day of
spring lies before 24 July, the first of autumn on or after it (northern half of the world).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.weather.record import WeatherRecord

Numbers = NDArray[np.float64]

MIDSUMMER = (7, 24)
"""Month and day from which cold days count as autumn's (Utah State University's definition)."""

ALLOWED_MISSING_D = 10
"""A half year with more missing days gives no date (the same source)."""


@dataclass(frozen=True, slots=True, eq=False)
class ColdDates:
    """Last and first cold days of each calendar year of a record.

    years : (Y,). last_spring, first_autumn : (Y,) day of the year, 1 for 1 January and 60 for 1 March in
    every
        year (29 February counts as 28 February); NaN if that half year had no such day or is not known.
    spring_known, autumn_known : (Y,) whether enough of the half year was measured.
    season_d : (Y,) days from the day after the last to the eve of the first; NaN if either is not there.
    """

    threshold_c: float
    years: tuple[int, ...]
    last_spring: Numbers
    first_autumn: Numbers
    spring_known: NDArray[np.bool_]
    autumn_known: NDArray[np.bool_]
    season_d: Numbers


def last_and_first(
    record: WeatherRecord, threshold_c: float, *, allowed_missing_d: int = ALLOWED_MISSING_D
) -> ColdDates:
    """The last cold day of each spring and the first of each autumn.

    Parameters
    ----------
    record : WeatherRecord
        Days of a station; only its lowest temperatures are used.
    threshold_c : float
        A day is cold at or below it [degC].
    allowed_missing_d : int
        Missing days in a half year above which it gives no date; days outside the record are missing [d].

    Returns
    -------
    ColdDates

    Source
    ------
    Utah State University climate centre, help page on frost dates.
    """
    years = tuple(range(record.first.year, record.last.year + 1))
    spring = [
        _half(record, date(y, 1, 1), date(y, *MIDSUMMER), threshold_c, allowed_missing_d) for y in years
    ]
    autumn = [
        _half(record, date(y, *MIDSUMMER), date(y + 1, 1, 1), threshold_c, allowed_missing_d) for y in years
    ]
    last = [cold[-1] if known and cold else None for known, cold in spring]
    first = [cold[0] if known and cold else None for known, cold in autumn]
    season = [
        np.nan if a is None or b is None else float((b - a).days - 1)
        for a, b in zip(last, first, strict=True)
    ]
    return ColdDates(
        threshold_c=threshold_c,
        years=years,
        last_spring=np.array([_day_of_year(day) for day in last]),
        first_autumn=np.array([_day_of_year(day) for day in first]),
        spring_known=np.array([known for known, _ in spring], dtype=np.bool_),
        autumn_known=np.array([known for known, _ in autumn], dtype=np.bool_),
        season_d=np.array(season, dtype=np.float64),
    )


def dates_at(
    last_days: ArrayLike, levels: Sequence[float], *, share_of_years: float = 1.0
) -> tuple[float | None, ...]:
    """Days of the year by which a last spring cold day has that chance of being followed by another.

    The date at level 0.9 has such cold after it in nine years of ten. A normal curve is laid through the
    dates of the years that had such cold: ``mean + z(1 - level / q) s``.

    Parameters
    ----------
    last_days : array (Y,)
        Day of the year of the last cold day, of the years that had one; NaN is left out [d].
    levels : sequence of float
        Chances of such cold later, between 0 and 1.
    share_of_years : float
        Share q of years that had such cold at all.

    Returns
    -------
    tuple of float or None
        Day of the year for each level [d]; None if fewer than that share of years have such cold at all, or
        fewer than two years are given.

    Notes
    -----
    For first autumn days give the days, and levels of cold *before*: the date at level p is then
    ``dates_at(-days, levels)`` with its sign turned.

    Source
    ------
    Levels: NOAA National Centers for Environmental Information. Normal fit: Thom & Shaw 1958.

    Example
    -------
    >>> [round(day, 2) for day in dates_at([90.0, 100.0, 110.0], [0.5])]
    [100.0]
    """
    from statistics import NormalDist  # 15 ms that only this needs

    days = np.asarray(last_days, dtype=np.float64)
    days = days[~np.isnan(days)]
    if days.size < 2:
        return tuple(None for _ in levels)
    mean, spread = float(days.mean()), float(days.std(ddof=1))
    found: list[float | None] = []
    for level in levels:
        within = 1 - level / share_of_years if share_of_years > 0 else 0.0
        possible = 0 < within < 1
        found.append(mean + NormalDist().inv_cdf(within) * spread if possible else None)
    return tuple(found)


def dates_by_rank(
    last_days: ArrayLike, levels: Sequence[float], *, share_of_years: float = 1.0
) -> tuple[float | None, ...]:
    """The same dates without a curve: straight lines between the ranked years at i / (n + 1) (Weibull).

    Arguments and NaN as in `dates_at`. None where a level lies outside the ranks, which reach from 1 / (n + 1)
    to n / (n + 1).

    Source
    ------
    Weibull plotting position (quantile type 6).
    """
    days = np.asarray(last_days, dtype=np.float64)
    ranked = np.sort(days[~np.isnan(days)])
    if not ranked.size:
        return tuple(None for _ in levels)
    places = np.arange(1, ranked.size + 1) / (ranked.size + 1)
    at = np.array([1 - level / share_of_years if share_of_years > 0 else 0.0 for level in levels])
    inside = (at >= places[0] - 1e-12) & (at <= places[-1] + 1e-12)
    values = np.interp(at, places, ranked)
    return tuple(float(v) if ok else None for v, ok in zip(values, inside, strict=True))


def _half(
    record: WeatherRecord, begin: date, end: date, threshold_c: float, allowed_missing_d: int
) -> tuple[bool, list[date]]:
    """Whether enough of the days from begin up to end is known, and the cold days among them, in order."""
    i = min(max((begin - record.first).days, 0), len(record.dates))
    j = min(max((end - record.first).days, i), len(record.dates))
    lows = record.t_min_c[i:j]
    missing = (end - begin).days - int((~np.isnan(lows)).sum())
    with np.errstate(invalid="ignore"):
        cold = np.flatnonzero(lows <= threshold_c)
    return missing <= allowed_missing_d, [record.first + timedelta(days=i + int(day)) for day in cold]


def _day_of_year(day: date | None) -> float:
    """Day of a year of 365 days; NaN for no date."""
    if day is None:
        return float("nan")
    if (day.month, day.day) == (2, 29):
        day = day.replace(day=28)
    return float((day.replace(year=2001) - date(2000, 12, 31)).days)
