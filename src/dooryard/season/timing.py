"""The day a heat sum was or will be reached: earliest, likely and latest, from the record and what may come.

The sum runs from its start date in the calendar year of the day asked, over the days before that day. From
there the forecast and the station's own last thirty years (the outlook, moved by what this year is known to
differ: `ensemble`) carry it on, to 31 December at most: sums do not run from one year into the next. Short
gaps in the record are bridged and counted; after a long one the sum is unknown, and a date is refused. A sum
reached on a bridged, estimated or missing day is never given a date, only the days around it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from dooryard import knowledge
from dooryard.season import heat
from dooryard.season.ensemble import ROUNDING_CD, Leaning, Warmth, days_to_reach, moves, whole_days
from dooryard.season.ensemble import YEAR_D as SPAN_D
from dooryard.weather.outlook import Outlook, bridge_gaps, same_day
from dooryard.weather.record import Flag, WeatherRecord
from dooryard.words import day_words

Numbers = NDArray[np.float64]
Marks = NDArray[np.bool_]

LONGEST_FILLED_D = 3
"""Missing days in a row that are bridged by a straight line; one more and the sum is unknown (our rule)."""

FEWEST_YEARS = 5
"""Other years that must tell about a missing day before its heat is held to their range (our rule)."""

_YEAR_D = 365.25


@dataclass(frozen=True, slots=True)
class HeatSum:
    """How a sum is made: method word, thresholds [degC], cutoff, and the month and day it starts."""

    method: str
    lower_c: float
    upper_c: float | None
    cutoff: str
    start: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Crossing:
    """When a heat sum reaches a threshold.

    threshold, sum_now, sum_low, sum_high : [degC.d]; ``sum_now`` is the sum up to the eve of the day asked,
    None if
        a long gap hides it; ``sum_low`` and ``sum_high`` enclose it, with missing days as cool and as warm
        as the same time of year has been at this station.
    gap_days : days since the start that were bridged, are estimates in the record, or are missing.
    passed : the threshold was reached before the day asked; None if a gap leaves it open.
    reached : the day it was reached; None if it was not, or fell into a gap (then see earliest and latest).
    earliest, likely, latest : dates by which 10, 50 and 90 % of the futures reach it (the day itself if it is
        known); None if fewer of them reach it this year.
    years, beyond : number of futures (30 at most), and how many of them do not reach it this year.
    refused : why no date is given, or None.
    """

    threshold: float
    sum_now: float | None
    sum_low: float
    sum_high: float
    gap_days: int
    passed: bool | None
    reached: date | None
    earliest: date | None
    likely: date | None
    latest: date | None
    years: int
    beyond: int
    refused: str | None


@dataclass(frozen=True, slots=True, eq=False)
class _Past:
    """One sum's days of this year so far, and its futures."""

    first: date  # the day the sum starts, which may lie ahead
    so_far: Numbers  # (n,) cumulative, bridged days included; NaN from the first unknown day on
    certain: Numbers  # (n,) cumulative over observed days only
    doubtful: Marks  # (n,) bridged, estimated or unknown
    unknown: Marks  # (n,)
    now: float | None
    low: float
    high: float
    ahead: Numbers  # (M, h) cumulative heat to come, up to 31 December


class SeasonHeat:
    """The heat of one station as seen on one morning; each kind of sum is worked out once."""

    def __init__(
        self,
        record: WeatherRecord,
        outlook: Outlook,
        on: date,
        *,
        fill_d: int = LONGEST_FILLED_D,
        leaning: Leaning | None = None,
    ) -> None:
        """leaning : how past years are moved; by default as the shipped tables say."""
        self.on = on
        self.station = record.station
        self._outlook = outlook
        self._fill_d = fill_d
        self._leaning = leaning or Leaning.of(knowledge.load())
        self._record = record.until(on)
        self._daily: dict[tuple[str, float, float | None, str], tuple[Numbers, Numbers]] = {}
        self._running: dict[tuple[str, float, float | None, str], tuple[Numbers, NDArray[np.int64]]] = {}
        self._sums: dict[HeatSum, _Past | str] = {}
        self._first = self._record.first

    def crossings(self, heat_sum: HeatSum, thresholds_cd: Sequence[float]) -> tuple[Crossing, ...]:
        """When each threshold [degC.d] is reached, in the order given."""
        past = self._sum(heat_sum)
        if isinstance(past, str):
            return tuple(_unknown(threshold, past, len(self._futures[0])) for threshold in thresholds_cd)
        now = past.low if past.now is None else past.now
        days_ahead = days_to_reach(past.ahead, [threshold - now for threshold in thresholds_cd])
        return tuple(
            self._crossing(past, threshold, days)
            for threshold, days in zip(thresholds_cd, days_ahead, strict=True)
        )

    def course(self, heat_sum: HeatSum) -> tuple[Numbers, Numbers] | None:
        """Cumulative heat so far (n,), NaN from the first unknown day on, and still to come (M, h) [degC.d].

        None if the record begins after the sum's start.
        """
        past = self._sum(heat_sum)
        return None if isinstance(past, str) else (past.so_far, past.ahead)

    def past_years(
        self, heat_sum: HeatSum, thresholds_cd: Sequence[float]
    ) -> tuple[tuple[int, ...], Numbers]:
        """Days after 1 January on which each threshold was reached in each whole past year.

        Returns the years (Y,) and the days (K, Y), NaN where a year did not reach it. A year counts if
        every day from the start to 31 December is known (short gaps bridged).
        """
        total, unknown = self._totals(heat_sum)
        years: list[int] = []
        found: list[Numbers] = []
        wanted = np.asarray(thresholds_cd) - ROUNDING_CD
        for year in range(self._first.year, self.on.year):
            begin = date(year, *heat_sum.start)
            i, j = self._index(begin), self._index(date(year, 12, 31)) + 1
            if i < 0 or j >= len(total) or unknown[j] > unknown[i]:
                continue
            days = np.searchsorted(total[i + 1 : j + 1], wanted + total[i], side="left").astype(np.float64)
            days[days == j - i] = np.nan
            years.append(year)
            found.append(days + (begin - date(year, 1, 1)).days)
        empty = np.empty((len(thresholds_cd), 0))
        return tuple(years), np.stack(found, axis=1) if found else empty

    def _totals(self, heat_sum: HeatSum) -> tuple[Numbers, NDArray[np.int64]]:
        """Heat, and unknown days, before each day of the record and after its last (n + 1,)."""
        key = (heat_sum.method, heat_sum.lower_c, heat_sum.upper_c, heat_sum.cutoff)
        if key not in self._running:
            daily = self._daily_heat(heat_sum)[0]
            gone = np.isnan(daily)
            total = np.concatenate([[0.0], np.cumsum(np.where(gone, 0.0, daily))])
            self._running[key] = (total, np.concatenate([[0], np.cumsum(gone)]))
        return self._running[key]

    def past_courses(self, heat_sum: HeatSum, days: int) -> Numbers:
        """Cumulative heat of each whole past year (Y, days), from the sum's start [degC.d]."""
        daily = self._daily_heat(heat_sum)[0]
        found = []
        for year in range(self._first.year, self.on.year):
            i, j = self._index(date(year, *heat_sum.start)), self._index(date(year, 12, 31)) + 1
            if i >= 0 and j <= len(daily):
                sums = np.cumsum(daily[i : min(i + days, j)])
                if not np.isnan(daily[i:j]).any():
                    # A leap year asked about is a day longer than most: the last sum stands.
                    found.append(np.append(sums, np.full(days - len(sums), sums[-1])))
        return np.array(found) if found else np.empty((0, days))

    @cached_property
    def _bridged(self) -> tuple[Numbers, Numbers, Marks]:
        """Temperatures with short gaps bridged, and which days were bridged or estimated, over the record."""
        # One day beyond the record, so that a short gap up to this morning can be bridged towards it.
        tomorrow_min, tomorrow_max = np.nan, np.nan
        if self._outlook.years and len(self._outlook.dates):
            tomorrow_min = float(np.median(self._outlook.t_min_c[:, 0]))
            tomorrow_max = float(np.median(self._outlook.t_max_c[:, 0]))
        low, low_filled = bridge_gaps(np.append(self._record.t_min_c, tomorrow_min), self._fill_d)
        high, high_filled = bridge_gaps(np.append(self._record.t_max_c, tomorrow_max), self._fill_d)
        filled = low_filled | high_filled
        high = np.where(filled, np.maximum(low, high), high)  # two lines drawn apart may cross
        # Whoever estimated a day in the record, its value counts and its date does not.
        estimated = (self._record.flags["t_min_c"] == Flag.ESTIMATED) | (
            self._record.flags["t_max_c"] == Flag.ESTIMATED
        )
        return low[:-1], high[:-1], filled[:-1] | estimated

    def _daily_heat(self, heat_sum: HeatSum) -> tuple[Numbers, Numbers]:
        """Heat of every day of the record (n,) and of the outlook (M, H)."""
        key = (heat_sum.method, heat_sum.lower_c, heat_sum.upper_c, heat_sum.cutoff)
        if key not in self._daily:
            function = heat.method(heat_sum.method)
            low, high, _ = self._bridged
            ahead_low, ahead_high = self._futures
            self._daily[key] = (function(low, high, *key[1:]), function(ahead_low, ahead_high, *key[1:]))
        return self._daily[key]

    @cached_property
    def _futures(self) -> tuple[Numbers, Numbers]:
        """Lowest and highest temperatures of the days ahead (M, H): the forecast, then past years moved."""
        ahead, led = self._outlook, self._outlook.forecast_days
        recent = np.array(
            [self.on.year - year <= self._leaning.years for year in ahead.years], dtype=np.bool_
        )
        low, high = ahead.t_min_c[recent], np.maximum(ahead.t_min_c, ahead.t_max_c)[recent]
        if not len(low) or low.shape[1] <= led:
            return low, high
        years = np.array(ahead.years)[recent]
        # Days that are forecast are this year's last days; the past years' last days are those of the same dates.
        known_low, known_high = (
            np.concatenate([past, future[:, :led].mean(axis=0)])
            for past, future in zip(self._bridged[:2], (low, high), strict=True)
        )
        warmth = Warmth(known_low, known_high, self._leaning.known_share)
        then = np.array([self._index(same_day(self.on, year)) for year in years.tolist()]) + led
        here = np.array([len(known_low)])
        moved = moves(
            self._leaning,
            (self.on.year - years).astype(np.float64),
            warmth.before(then, SPAN_D),
            warmth.before(then, self._leaning.recent_d),
            (
                float(warmth.before(here, SPAN_D)[0]),
                float(warmth.before(here, self._leaning.recent_d)[0]),
            ),
            low.shape[1] - led,
        )
        moved = np.concatenate([np.zeros((len(low), led)), moved], axis=1)
        return low + moved, high + moved

    def _index(self, day: date) -> int:
        return (day - self._first).days

    def _sum(self, heat_sum: HeatSum) -> _Past | str:
        if heat_sum not in self._sums:
            self._sums[heat_sum] = self._add_up(heat_sum)
        return self._sums[heat_sum]

    def _add_up(self, heat_sum: HeatSum) -> _Past | str:
        begin = date(self.on.year, *heat_sum.start)
        start = min(self._index(begin), len(self._record.dates))
        if start < 0:
            first = day_words(self._record.first, year=True)
            return f"The record begins on {first}, after the sum's start on {day_words(begin)}."
        daily, daily_ahead = self._daily_heat(heat_sum)
        here = daily[start:]
        filled = self._bridged[2][start:]
        unknown = np.isnan(here)
        doubtful = filled | unknown
        observed = np.where(doubtful, 0.0, here)
        sure = float(observed.sum())
        low, high = sure, sure
        if doubtful.any():
            coolest, warmest = self._usual_span(daily, start + np.flatnonzero(doubtful))
            bridged = float(here[filled & ~unknown].sum())
            low, high = sure + coolest, sure + warmest
            if not unknown.any():
                low, high = min(low, sure + bridged), max(high, sure + bridged)
        ahead = daily_ahead[:, : (date(self.on.year, 12, 31) - self.on).days + 1]
        waiting = max((begin - self.on).days, 0)
        if waiting:
            ahead = ahead.copy()
            ahead[:, :waiting] = 0.0
        ahead = np.cumsum(ahead, axis=1)
        if ahead.shape[1]:
            ahead = ahead[~np.isnan(ahead[:, -1])]  # a future with a hole in it is no future
        now = None if unknown.any() else float(here.sum())
        return _Past(begin, np.cumsum(here), np.cumsum(observed), doubtful, unknown, now, low, high, ahead)

    def _usual_span(self, daily: Numbers, positions: NDArray[np.int64]) -> tuple[float, float]:
        """Least and greatest heat the missing days can have had, by the same fortnight of other years.

        A day about which fewer than `FEWEST_YEARS` other years tell counts from nothing to no limit.
        """
        least, most = 0.0, 0.0
        for position in positions.tolist():
            centres = np.arange(position % _YEAR_D, len(daily), _YEAR_D).round().astype(int)
            centres = centres[np.abs(centres - position) > _YEAR_D / 2]
            days = centres[:, None] + np.arange(-7, 8)
            values = np.where((days >= 0) & (days < len(daily)), daily.take(days, mode="clip"), np.nan)
            if int((~np.isnan(values)).any(axis=1).sum()) < FEWEST_YEARS:
                most = np.inf
                continue
            least += float(np.nanmin(values))
            most += float(np.nanmax(values))
        return least, most

    def _crossing(self, past: _Past, threshold: float, days: NDArray[np.int64]) -> Crossing:
        goal = threshold - ROUNDING_CD
        years, beyond = len(days), int((days == past.ahead.shape[1]).sum())
        passed: bool | None
        reached = earliest = likely = latest = None
        refused = None
        at = int(np.searchsorted(past.so_far, goal, side="left"))  # NaN sorts behind every number
        if at < len(past.so_far) and past.so_far[at] >= goal:
            passed, beyond = True, 0
            reached, earliest, likely, latest = self._when_reached(past, at)
        elif past.now is not None:
            passed = False
            earliest, likely, latest = self._ahead(past, days)
            if not years:
                refused = "No past year of this station is whole enough to look ahead."
        else:
            refused = _gap_words(past)
            passed = None if past.high >= goal else False
            if past.certain[-1] >= goal:
                # The days on record alone are enough: it was reached in the gap or after, by this day.
                passed, beyond = True, 0
                earliest = past.first + timedelta(days=int(np.argmax(np.isnan(past.so_far))))
                latest = past.first + timedelta(days=int(np.searchsorted(past.certain, goal, side="left")))
        return Crossing(
            threshold=threshold,
            sum_now=past.now,
            sum_low=past.low,
            sum_high=past.high,
            gap_days=int(past.doubtful.sum()),
            passed=passed,
            reached=reached,
            earliest=earliest,
            likely=likely,
            latest=latest,
            years=years,
            beyond=beyond,
            refused=refused,
        )

    def _when_reached(self, past: _Past, at: int) -> tuple[date | None, date, date | None, date]:
        """Reached, earliest, likely, latest of a sum reached on day ``at``; a bridged day is not claimed."""
        if not past.doubtful[at]:
            day = past.first + timedelta(days=at)
            return day, day, day, day
        before = np.flatnonzero(~past.doubtful[:at])
        after = np.flatnonzero(~past.doubtful[at:])
        first = int(before[-1]) + 1 if before.size else 0
        last = at + int(after[0]) - 1 if after.size else len(past.doubtful) - 1
        return None, past.first + timedelta(days=first), None, past.first + timedelta(days=last)

    def _ahead(self, past: _Past, days: NDArray[np.int64]) -> tuple[date | None, date | None, date | None]:
        """Earliest, likely and latest day by which the futures (days sorted) have reached the sum."""
        never = past.ahead.shape[1]
        if not len(days):
            return None, None, None
        earliest, likely, latest = (
            None if day == never else self.on + timedelta(days=day)
            for day in whole_days(days[None, :], never)[0].tolist()
        )
        return earliest, likely, latest


def crossing(
    record: WeatherRecord,
    outlook: Outlook,
    threshold_cd: float,
    *,
    method: str,
    lower_c: float,
    upper_c: float | None = None,
    cutoff: str = "none",
    start: tuple[int, int] = (1, 1),
    on: date,
) -> Crossing:
    """When one heat sum reaches one threshold; for many, keep a `SeasonHeat` and ask it for all at once.

    Parameters
    ----------
    record, outlook : WeatherRecord, Outlook
        The station's days, and what may come from ``on``.
    threshold_cd : float
        Heat sum [degC.d].
    method, lower_c, upper_c, cutoff : see `heat`
        The method word of the knowledge rows, thresholds [degC] and cutoff.
    start : (month, day)
        Where the sum starts, in the year of ``on``.
    on : date
        The day asked; only days before it are known.

    Returns
    -------
    Crossing

    Raises
    ------
    InputError
        If the record begins on or after ``on``, or a method or cutoff word is unknown.
    """
    heat_sum = HeatSum(method, lower_c, upper_c, cutoff, start)
    return SeasonHeat(record, outlook, on).crossings(heat_sum, (threshold_cd,))[0]


def _unknown(threshold: float, why: str, years: int) -> Crossing:
    """A crossing about which nothing can be said."""
    return Crossing(
        threshold=threshold,
        sum_now=None,
        sum_low=0.0,
        sum_high=np.inf,
        gap_days=0,
        passed=None,
        reached=None,
        earliest=None,
        likely=None,
        latest=None,
        years=years,
        beyond=0,
        refused=why,
    )


def _gap_words(past: _Past) -> str:
    gone = np.flatnonzero(past.unknown)
    first, last = (past.first + timedelta(days=int(day)) for day in (gone[0], gone[-1]))
    return (
        f"{len(gone)} days between {day_words(first)} and {day_words(last)} have no temperatures, in gaps too long to "
        "bridge, so the heat sum is unknown."
    )
