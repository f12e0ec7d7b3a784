"""The plain rules a forecast has to beat: the long-term dates, and the last fortnight's rate carried on.

The third rival, the station's past years taken as they were, is the forecast itself without its moves, so it lives
in `hindcast`. Every rule gives its range by the same ranks (`ensemble.whole_days`) from the same thirty years.
"""

from __future__ import annotations

import math
from datetime import date

import numpy as np

from dooryard.season.ensemble import ROUNDING_CD, Counts, Numbers, whole_days

NEVER = 10_000
"""Stands for a threshold not reached in its year [d]."""


class PastYears:
    """Every calendar year of a record: when each threshold was reached, and what a fortnight's rate would have said.

    Only the years asked for are looked at, and of those only what was known when they were over.
    """

    def __init__(
        self,
        first: date,
        heat_cd: Numbers,
        last_day_cd: Numbers,
        start: tuple[int, int],
        thresholds_cd: Numbers,
        rate_d: int,
    ) -> None:
        """heat_cd : heat of each day (n,) from ``first``, and of each day if the next is not known yet [degC.d].

        thresholds_cd : (K,) [degC.d]. rate_d : span of the rate [d].
        """
        self._first = first
        self._heat = heat_cd
        self._last_day = last_day_cd
        self._start = start
        self._thresholds = thresholds_cd
        self._rate_d = rate_d
        self._wrong: dict[tuple[int, int], Numbers] = {}
        self._years = {
            year: self._sums(year) for year in range(first.year, first.year + len(heat_cd) // 365 + 2)
        }

    def _sums(self, year: int) -> tuple[int, Numbers, Counts] | None:
        """First index of the year, its running sums before each day (1 January first), and days of the thresholds."""
        at = (date(year, 1, 1) - self._first).days
        begin = (date(year, *self._start) - self._first).days
        end = (date(year + 1, 1, 1) - self._first).days
        if at < 0 or end > len(self._heat) or np.isnan(self._heat[begin:end]).any():
            return None
        daily = self._heat[at:end].copy()
        daily[: begin - at] = 0.0
        sums = np.concatenate([[0.0], np.cumsum(daily)])
        days = np.searchsorted(sums[1:], self._thresholds - ROUNDING_CD)
        return at, sums, np.where(days < end - at, days, NEVER)

    def long_term(self, day: date, years: Counts, chosen: Counts, end: int) -> Counts:
        """The usual dates of those years, whatever this one is like; never before the day asked. (K, 3)."""
        issued = (day - date(day.year, 1, 1)).days
        known = [found[2] for year in years.tolist() if (found := self._years.get(year)) is not None]
        if not known:
            return np.full((len(chosen), 3), -1)
        days = np.array(known)[:, chosen].T - issued
        return whole_days(np.sort(np.clip(days, 0, end), axis=1), end)

    def carried_on(
        self, day: date, at: int, years: Counts, chosen: Counts, missing_cd: Numbers, least: int, end: int
    ) -> Counts:
        """The last fortnight's rate carried on, with the range of that rule's own errors in those years. (K, 3).

        -1 where fewer than ``least`` of the years had the threshold still to come on this day.
        """
        found = np.full((len(chosen), 3), -1)
        issued = (day - date(day.year, 1, 1)).days
        known = [self._errors(year, issued) for year in years.tolist() if self._years.get(year) is not None]
        if not known:
            return found
        past = np.sort(np.array(known)[:, chosen].T, axis=1)  # NaN last
        counts = (~np.isnan(past)).sum(axis=1)
        now = _days_at(missing_cd, self._rate(at), end)
        for count in np.unique(counts[counts >= least]).tolist():
            rows = np.flatnonzero(counts == count)
            days = np.clip(now[rows, None] + past[rows, :count], 0, end)
            found[rows] = whole_days(days, end)
        return found

    def _errors(self, year: int, issued: int) -> Numbers:
        """Days by which the rule was too early in a whole year, for each threshold (K,); NaN where it was past."""
        if (year, issued) not in self._wrong:
            held = self._years[year]
            assert held is not None
            first, sums, reached = held
            end = len(sums) - 1 - issued
            missing = self._thresholds - sums[issued]
            said = _days_at(missing, self._rate(first + issued), end)
            came = np.minimum(reached - issued, end)
            wrong: Numbers = np.where(missing > ROUNDING_CD, came - said, np.nan)
            self._wrong[year, issued] = wrong
        return self._wrong[year, issued]

    def _rate(self, at: int) -> float:
        """Mean heat of the last days before an index [degC.d/d], known ones only; 0 if none is."""
        span = [*self._heat[max(at - self._rate_d, 0) : at - 1].tolist(), float(self._last_day[at - 1])]
        known = [heat for heat in span if not math.isnan(heat)]
        return sum(known) / len(known) if known else 0.0


def _days_at(missing_cd: Numbers, rate_cd: float, end: int) -> Numbers:
    """Days a steady rate needs, the first day of heat being today; ``end`` if that is too long."""
    if rate_cd <= 0:
        return np.full(len(missing_cd), float(end))
    days: Numbers = np.ceil(missing_cd / rate_cd - ROUNDING_CD) - 1
    return np.clip(days, 0, end)
