"""When things grow and a barrel stands in service: the middle year of a station's last and first cold day.

Only what the water side needs. Dates by chance level (nine years in ten) belong to the frost pages.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from dooryard.words import day_words

Array = NDArray[np.float64]

#: First day of the year's second half for frosts: 24 July, counted from 1 on 1 January of a common year.
_SECOND_HALF = 205
_COMMON_YEAR = 365
#: What a southern year is turned by, so that its winter also falls around the turn of the year [d].
_HALF_YEAR = 183


@dataclass(frozen=True, slots=True)
class UsualSeason:
    """The part of the year between the usual last and first cold day.

    first_day : day of the (common) year after the last cold day, 1 to 365. end_day : the first cold day,
    not part of the season; smaller than `first_day` if the season runs over New Year.
    all_year : such cold days come in less than half of the years.
    years : how many springs and autumns (the smaller number) it rests on.
    """

    first_day: int
    end_day: int
    all_year: bool
    years: int

    def contains(self, dates: NDArray[np.datetime64]) -> NDArray[np.bool_]:
        """Which days (N,) lie in the season."""
        if self.all_year:
            return np.ones(len(dates), dtype=bool)
        day = common_day(dates)
        if self.first_day <= self.end_day:
            return np.asarray((day >= self.first_day) & (day < self.end_day))
        return np.asarray((day >= self.first_day) | (day < self.end_day))

    def words(self) -> str:
        """The season in words, such as "1 May to 9 October"."""
        if self.all_year:
            return "all year"
        return f"{_day_words(self.first_day)} to {_day_words(self.end_day - 1)}"


def common_day(dates: NDArray[np.datetime64]) -> NDArray[np.int64]:
    """Day of the year counted as in a common year, 1 to 365; 29 February counts as 28."""
    years = dates.astype("datetime64[Y]")
    day = (dates.astype("datetime64[D]") - years.astype("datetime64[D]")).astype(np.int64) + 1
    length = ((years + 1).astype("datetime64[D]") - years.astype("datetime64[D]")).astype(np.int64)
    return np.asarray(day - ((length == _COMMON_YEAR + 1) & (day > 59)))


def usual_season(
    dates: NDArray[np.datetime64],
    t_min_c: Array,
    threshold_c: float,
    *,
    latitude: float,
    gap_days: float,
) -> UsualSeason | None:
    """The season between the median last cold day of spring and the median first one after summer.

    Parameters
    ----------
    dates, t_min_c : arrays (N,)
        Every calendar day, and its lowest temperature [degC], NaN where missing.
    threshold_c : float
        A day counts if its lowest temperature is at or below this [degC].
    latitude : float
        Only its sign matters [degree]: south of the equator winter lies in July.
    gap_days : float
        A spring or autumn with more missing days than this is left out [d].

    Returns
    -------
    UsualSeason or None
        None if no spring or no autumn of the record is complete enough.

    Source
    ------
    A state climate office's rule: last such day before 24 July, first one after it, and a gap limit.
    """
    turned = dates if latitude >= 0 else dates + np.timedelta64(_HALF_YEAR, "D")
    day = common_day(turned)
    year = turned.astype("datetime64[Y]").astype(np.int64)
    spring = day < _SECOND_HALF
    lasts = _extremes(year, day, t_min_c, threshold_c, spring, gap_days, last=True)
    firsts = _extremes(year, day, t_min_c, threshold_c, ~spring, gap_days, last=False)
    if not lasts or not firsts:
        return None
    last, first = float(np.median(lasts)), float(np.median(firsts))
    first_day, end_day = int(np.floor(last)) + 1, int(np.ceil(first))
    if latitude < 0:
        first_day, end_day = ((value - _HALF_YEAR - 1) % _COMMON_YEAR + 1 for value in (first_day, end_day))
    all_year = last == 0.0 and first > _COMMON_YEAR
    return UsualSeason(first_day, end_day, all_year, min(len(lasts), len(firsts)))


def _extremes(
    year: NDArray[np.int64],
    day: NDArray[np.int64],
    t_min_c: Array,
    threshold_c: float,
    half: NDArray[np.bool_],
    gap_days: float,
    *,
    last: bool,
) -> list[int]:
    """Last (or first) cold day of each complete half year; 0 (or 366) if none came."""
    days_due = _SECOND_HALF - 1 if last else _COMMON_YEAR - _SECOND_HALF + 1
    never = 0 if last else _COMMON_YEAR + 1
    here = np.flatnonzero(half)
    if len(here) == 0:
        return []
    years, starts = np.unique(year[here], return_index=True)
    known = np.add.reduceat((~np.isnan(t_min_c[here])).astype(np.int64), starts)
    cold = t_min_c[here] <= threshold_c
    if last:
        found = np.maximum.reduceat(np.where(cold, day[here], never), starts)
    else:
        found = np.minimum.reduceat(np.where(cold, day[here], never), starts)
    complete = known >= days_due - gap_days
    return [int(value) for value in found[complete]] if len(years) else []


def _day_words(day: int) -> str:
    return day_words(date(2001, 1, 1) + timedelta(days=(day - 1) % _COMMON_YEAR))
