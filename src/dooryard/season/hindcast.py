"""The look-back: every past year of a record forecast again, each from what could be known on the day.

On fixed calendar days (every ten days from 1 February, never counted back from the event) the date of each threshold
is forecast from the heat gathered so far and the thirty years before, by the very functions the plan uses
(`ensemble`), and by three plain rivals (`rivals`). Nothing of that day or later enters a forecast: a year's own days
from then on, and all later years, serve to score it and for nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError, Problem
from dooryard.season import heat, rivals
from dooryard.season.ensemble import (
    ROUNDING_CD,
    YEAR_D,
    Counts,
    Leaning,
    Numbers,
    Warmth,
    days_to_reach,
    moves,
    whole_days,
)
from dooryard.season.timing import HeatSum
from dooryard.weather.outlook import bridge_gaps, same_day
from dooryard.weather.record import Flag, WeatherRecord

OURS, LONG_TERM, RATE, PLAIN = "ours", "long-term dates", "14-day rate", "past years as they were"
RULES = (OURS, LONG_TERM, RATE, PLAIN)

FIRST_ISSUE = (2, 1)
THRESHOLDS_F = (100.0, 200.0, 300.0, 500.0, 700.0, 1000.0, 1400.0, 2000.0)
"""The usual thresholds [degF.d]: from the first spring insects to midsummer."""


@dataclass(frozen=True, slots=True)
class Limits:
    """When and from how much a look-back forecasts (knowledge facts ``season.lookback.…``)."""

    least_years: int
    every_d: int
    rate_d: int
    least_errors: int

    @classmethod
    def of(cls, knowledge: Knowledge) -> Limits:
        """The limits of the tables."""
        names = ("least_years", "every", "rate", "least_errors")
        return cls(*(int(knowledge.fact(f"season.lookback.{name}").value) for name in names))


@dataclass(frozen=True, slots=True, eq=False)
class Forecasts:
    """Forecasts and what came, one row each (N,).

    year : of the forecast. issued : day of that year (1 January is 0). threshold : [degC.d].
    came : days from the issue to the day it was reached; ``end`` if it was not reached that year.
    end : days from the issue to 31 December, and one more.
    days : rule to (N, 3) earliest, likely, latest [days from the issue]; ``end`` for one not expected that year, -1
        where the rule gives none.
    """

    year: Counts
    issued: Counts
    threshold: Numbers
    came: Counts
    end: Counts
    days: dict[str, Counts]

    @property
    def count(self) -> int:
        """Number of forecasts."""
        return len(self.year)


def together(parts: Sequence[Forecasts]) -> Forecasts:
    """Several stations' forecasts as one."""

    def joined(name: str) -> NDArray[Any]:
        whole: NDArray[Any] = np.concatenate([getattr(one, name) for one in parts])
        return whole

    return Forecasts(
        year=joined("year"),
        issued=joined("issued"),
        threshold=joined("threshold"),
        came=joined("came"),
        end=joined("end"),
        days={rule: np.concatenate([one.days[rule] for one in parts]) for rule in RULES},
    )


def issue_days(year: int, every_d: int) -> Iterator[date]:
    """Every so many days from 1 February to the end of the year."""
    day = date(year, *FIRST_ISSUE)
    while day.year == year:
        yield day
        day += timedelta(days=every_d)


class Hindcast:
    """One record and one kind of heat sum, with everything that is worked out once for all forecasts."""

    def __init__(
        self,
        record: WeatherRecord,
        heat_sum: HeatSum,
        thresholds_cd: Sequence[float],
        knowledge: Knowledge,
        *,
        fill_d: int = 3,
    ) -> None:
        """thresholds_cd : [degC.d], in any order. fill_d : missing days in a row that are bridged."""
        self.record = record
        self._first = record.first.toordinal()
        self.leaning = Leaning.of(knowledge)
        self.limits = Limits.of(knowledge)
        self.heat_sum = heat_sum
        self.thresholds = np.asarray(thresholds_cd, dtype=np.float64)
        # On a day whose eve is missing no forecast is made, so a bridge over a gap never leads past an issue day.
        low, low_filled = bridge_gaps(record.t_min_c, fill_d)
        high, high_filled = bridge_gaps(record.t_max_c, fill_d)
        filled = low_filled | high_filled
        self._low, self._high = low, np.where(filled, np.maximum(low, high), high)
        self._measured = ~np.isnan(record.t_min_c) & ~np.isnan(record.t_max_c)
        estimated = (record.flags["t_min_c"] == Flag.ESTIMATED) | (record.flags["t_max_c"] == Flag.ESTIMATED)
        self._doubtful = filled | estimated
        self._function = heat.method(heat_sum.method)
        self._heat = self._heat_of(self._low, self._high)
        # A method that looks at tomorrow's minimum does not know it on the eve of the issue.
        self._last_day = self._heat_of(self._low[:, None], self._high[:, None])[:, 0]
        known = ~np.isnan(self._heat)
        self._unknown = np.concatenate([[0], np.cumsum(~known)])
        self._warmth = Warmth(self._low, self._high, self.leaning.known_share)
        self._past = rivals.PastYears(
            record.first, self._heat, self._last_day, heat_sum.start, self.thresholds, self.limits.rate_d
        )

    def years(self) -> range:
        """Years that may be forecast: those with enough years of record before them."""
        return range(self.record.first.year + self.limits.least_years, self.record.last.year + 1)

    def run(self, years: Iterable[int] | None = None) -> Forecasts:
        """All forecasts of these years (by default of all that can be).

        Raises InputError if the record is too short for a single one.
        """
        rows = [row for year in (self.years() if years is None else years) for row in self._year(year)]
        if not rows:
            least = self.limits.least_years
            raise InputError(
                Problem(
                    "No past year of this record can be forecast again.",
                    f"Give a record with daily temperatures of more than {least} whole years.",
                    file=self.record.source.path_name,
                    found=f"{self.record.first} to {self.record.last}",
                )
            )
        return together(rows)

    def _year(self, year: int) -> Iterator[Forecasts]:
        reached = self._reached(year)
        if reached is None:
            return
        for day in issue_days(year, self.limits.every_d):
            found = self._issue(day, reached)
            if found is not None:
                yield found

    def _reached(self, year: int) -> Counts | None:
        """Day of the year (1 January is 0) each threshold was reached; a large number if not; -1 if not known."""
        begin = self._index(date(year, *self.heat_sum.start))
        end = min(self._index(date(year + 1, 1, 1)), len(self._heat))
        if begin < 0 or end <= begin:
            return None
        sums = np.cumsum(
            self._heat[begin:end]
        )  # NaN from the first unknown day on, which sorts behind all numbers
        at = np.searchsorted(sums, self.thresholds - ROUNDING_CD)
        inside = at < len(sums)
        met = np.where(inside, sums[np.minimum(at, len(sums) - 1)], np.nan)
        sure = ~np.isnan(met) & ~self._doubtful[begin + np.minimum(at, len(sums) - 1)]
        whole = not np.isnan(sums[-1]) and self._index(date(year + 1, 1, 1)) <= len(self._heat)
        days = np.where(inside, at + begin - self._index(date(year, 1, 1)), rivals.NEVER)
        return np.where(inside, np.where(sure, days, -1), rivals.NEVER if whole else -1).astype(np.int64)

    def issue(self, day: date) -> tuple[NDArray[np.intp], dict[str, Counts]] | None:
        """The forecasts made on one day: which thresholds are still to come (K,), and rule to days (K, 3).

        None if too little is known: the eve is missing, the sum has a hole, or too few past years are whole. Only
        days before ``day`` are read.
        """
        year, at = day.year, self._index(day)
        begin = self._index(date(year, *self.heat_sum.start))
        if at < 1 or at > len(self._heat) or not self._measured[at - 1] or min(begin, at) < 0:
            return None
        now = 0.0
        if begin < at:
            if self._unknown[at - 1] - self._unknown[begin]:
                return None
            now = float(self._heat[begin : at - 1].sum() + self._last_day[at - 1])
        to_come = np.flatnonzero(now < self.thresholds - ROUNDING_CD)
        starts, years = self._members(day)
        if len(years) < self.limits.least_years or not len(to_come):
            return None
        end = (date(year, 12, 31) - day).days + 1
        missing = self.thresholds[to_come] - now
        waiting = max(begin - at, 0)
        window = starts[:, None] + np.arange(YEAR_D if self.heat_sum.method.startswith("double") else end)
        low, high = self._low[window], self._high[window]
        moved = self._moves(at, starts, year - years, low.shape[1])
        days = {
            OURS: self._ranges(low + moved, high + moved, missing, end, waiting),
            PLAIN: self._ranges(low, high, missing, end, waiting),
            LONG_TERM: self._past.long_term(day, years, to_come, end),
            RATE: self._past.carried_on(day, at, years, to_come, missing, self.limits.least_errors, end),
        }
        return to_come, days

    def _issue(self, day: date, reached: Counts) -> Forecasts | None:
        found = self.issue(day)
        if found is None:
            return None
        to_come, days = found
        issued = (day - date(day.year, 1, 1)).days
        end = (date(day.year, 12, 31) - day).days + 1
        came = reached[to_come]
        known = came >= 0
        count = int(known.sum())
        return Forecasts(
            np.full(count, day.year),
            np.full(count, issued),
            self.thresholds[to_come[known]],
            np.minimum(came[known] - issued, end),
            np.full(count, end),
            {rule: values[known] for rule, values in days.items()},
        )

    def _members(self, day: date) -> tuple[Counts, Counts]:
        """Where the window of each usable year starts in the record, and the years (as `outlook.ahead` has it)."""
        at = self._index(day)
        years = np.arange(day.year - self.leaning.years, day.year)
        starts = np.array([self._index(same_day(day, year)) for year in years.tolist()])
        inside = (starts >= 0) & (starts + YEAR_D <= at)
        starts, years = starts[inside], years[inside]
        whole = self._unknown[starts + YEAR_D] == self._unknown[starts]
        return starts[whole], years[whole]

    def _moves(self, at: int, starts: Counts, back: Counts, days: int) -> Numbers:
        recent_d, here = self.leaning.recent_d, np.array([at])
        return moves(
            self.leaning,
            back.astype(np.float64),
            self._warmth.before(starts, YEAR_D),
            self._warmth.before(starts, recent_d),
            (float(self._warmth.before(here, YEAR_D)[0]), float(self._warmth.before(here, recent_d)[0])),
            days,
        )

    def _ranges(self, low: Numbers, high: Numbers, missing: Numbers, end: int, waiting: int) -> Counts:
        ahead = self._heat_of(low, high)[:, :end]
        ahead[:, :waiting] = 0.0
        return whole_days(days_to_reach(np.cumsum(ahead, axis=1), missing), end)

    def _heat_of(self, low: Numbers, high: Numbers) -> Numbers:
        kind = self.heat_sum
        return self._function(low, high, kind.lower_c, kind.upper_c, kind.cutoff)

    def _index(self, day: date) -> int:
        return day.toordinal() - self._first
