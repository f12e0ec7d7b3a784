"""Rain by intervals of any length: a recording gauge's minutes, or a household's notebook.

An interval says how much fell between two times and nothing about when within them. What lies between
intervals was not measured, unless the file keeps wet intervals only and says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.clock import Minutes
from dooryard.weather.record import (
    Codes,
    Days,
    Flag,
    Floats,
    Issue,
    Source,
    Station,
    WeatherRecord,
    as_date,
    on_calendar,
)

HOUR_MIN, DAY_MIN = 60, 1440
# An interval this short may cross the end of its hour or day and still belongs to the one that holds most of it.
_SHORT_MIN = {HOUR_MIN: 15, DAY_MIN: 60}
_LOSS_OF_RANK = (Flag.MISSING, Flag.SUSPECT, Flag.ACCUMULATED)


@dataclass(frozen=True, slots=True)
class Burst:
    """The hardest rain of a stretch of record in any window of one length.

    window_min : length of the window [min]. low_mm : rain that fell in one such window for certain, each
    interval's rain spread evenly within it [mm]. high_mm : the most it can have been, all the rain of every
    interval the window can touch [mm]; both of what was measured. start : the window behind low_mm.
    """

    window_min: float
    low_mm: float
    high_mm: float
    start: np.datetime64

    @property
    def low_mm_h(self) -> float:
        """The certain depth as a rate [mm/h]."""
        return self.low_mm * 60 / self.window_min

    @property
    def high_mm_h(self) -> float:
        """The highest possible depth as a rate [mm/h]."""
        return self.high_mm * 60 / self.window_min


@dataclass(frozen=True, slots=True)
class YearBurst:
    """The hardest rain of one calendar year; covered : share of the year with measured rain [1]."""

    year: int
    burst: Burst
    covered: float


@dataclass(frozen=True, slots=True, eq=False)
class GaugeRecord:
    """Rain by intervals, in the order of time and without overlap; arrays (intervals,), not to be written to.

    start : datetime64[m], the station's standard time. minutes : length of each interval [min].
    depth_mm : rain of the interval [mm], NaN where missing or suspect. Flag ACCUMULATED marks a total over
    several readings that were due; its depth is known, its days are not.
    first, last : what the record covers; without `dry_between` only the intervals themselves are measured.
    day_begins_h : hour of the clock at which a day of rain begins (0 for a recording gauge, 7 for a gauge read
    at 7 am). offset_h : hours ahead of UTC, None if not known.
    """

    station: Station
    start: Minutes
    minutes: NDArray[np.int64]
    depth_mm: Floats
    flags: Codes
    issues: tuple[Issue, ...]
    source: Source
    first: np.datetime64
    last: np.datetime64
    dry_between: bool = False
    day_begins_h: float = 0.0
    offset_h: float | None = None

    @property
    def end(self) -> Minutes:
        """End of each interval, (intervals,) datetime64[m]."""
        ends: Minutes = self.start + self.minutes.astype("timedelta64[m]")
        return ends

    @property
    def total_mm(self) -> float:
        """All rain measured [mm], totals over several days included."""
        return float(np.nansum(self.depth_mm))

    def burst(self, window_min: float) -> Burst:
        """The hardest rain in any window of that length [min]; see `Burst`."""
        return _burst(self.start, self.minutes, self.depth_mm, window_min)

    def yearly_bursts(self, window_min: float) -> tuple[YearBurst, ...]:
        """The hardest rain of every calendar year with a measured interval, with the share measured."""
        years = self.start.astype("datetime64[Y]").astype(int) + 1970
        found = []
        for year in range(int(years[0]), int(years[-1]) + 1):
            here = (years == year) & ~np.isnan(self.depth_mm)
            if not here.any():
                continue
            burst = _burst(self.start[here], self.minutes[here], self.depth_mm[here], window_min)
            found.append(YearBurst(year, burst, self._covered(year, here)))
        return tuple(found)

    def to_hourly(self) -> tuple[Minutes, Floats, Codes]:
        """Rain by hours of the clock: beginnings (hours,) datetime64[h], rain [mm] and flags.

        An hour of which any minute is not measured has no value (NaN).
        """
        sums = self._binned(HOUR_MIN, 0)
        rain, flags = sums.settled(0)
        keep = _worth_keeping(flags)
        hours = np.arange(sums.bin0, sums.bin0 + len(rain)).astype("datetime64[h]")
        return hours[keep], rain[keep], flags[keep]

    def _binned(self, size_min: int, begins_min: int) -> _Bins:
        first, last = (
            int(edge.astype("datetime64[m]").astype(np.int64)) - begins_min
            for edge in (self.first, self.last)
        )
        bin0 = first // size_min
        sums = _Bins(bin0, (last - 1) // size_min - bin0 + 1, size_min)
        sums.add(self.start.astype(np.int64) - begins_min, self.minutes, self.depth_mm, self.flags)
        if self.dry_between:
            sums.presume_dry()
        return sums

    def _covered(self, year: int, here: NDArray[np.bool_]) -> float:
        begin, end = (np.datetime64(f"{y}-01-01T00:00", "m") for y in (year, year + 1))
        length = float((end - begin).astype(int))
        if not self.dry_between:
            return min(1.0, float(self.minutes[here].sum()) / length)
        return max(0.0, float((min(end, self.last) - max(begin, self.first)).astype(int))) / length

    def to_daily(self, *, allowed_missing_min: float = 0) -> WeatherRecord:
        """Rain by days; temperatures are missing throughout.

        A day belongs to the calendar date on which it begins if it begins before noon, else to the date on
        which it ends: rain read at 7 am is the day before's, rain read at 6 pm the same day's. A day with more
        than `allowed_missing_min` unmeasured minutes has no rain value (NaN). A total over several days is
        never spread: its days are ACCUMULATED, unless nothing fell at all.
        """
        begins = round(self.day_begins_h * 60)
        sums = self._binned(DAY_MIN, begins)
        rain, flags = sums.settled(allowed_missing_min)
        dates = np.arange(sums.bin0, sums.bin0 + len(rain)).astype("datetime64[D]")
        dates += np.timedelta64(1 if begins >= DAY_MIN // 2 else 0, "D")
        keep = _worth_keeping(flags)
        issues = self.issues + _day_issues(dates, sums.rain, rain, flags)
        return on_calendar(
            self.station, dates[keep], {"rain_mm": rain[keep]}, {"rain_mm": flags[keep]}, issues, self.source
        )


def in_order(
    station: Station,
    start: Minutes,
    minutes: NDArray[np.int64],
    depth_mm: Floats,
    flags: Codes,
    issues: tuple[Issue, ...],
    source: Source,
    *,
    first: np.datetime64 | None = None,
    last: np.datetime64 | None = None,
    dry_between: bool = False,
    day_begins_h: float = 0.0,
    offset_h: float | None = None,
) -> GaugeRecord:
    """A record of intervals given in any order, all arrays (intervals,); overlaps are the caller's fault.

    first, last : what the record covers, by default from the first start to the last end.
    """
    sort = np.argsort(start, kind="stable")
    arrays = start[sort].astype("datetime64[m]"), minutes[sort].astype(np.int64), depth_mm[sort], flags[sort]
    ends = arrays[0] + arrays[1].astype("timedelta64[m]")
    if (ends[:-1] > arrays[0][1:]).any():
        raise ValueError("intervals of a gauge overlap")
    codes = arrays[3].astype(np.uint8)
    codes[np.isnan(arrays[2]) & (codes == Flag.OBSERVED)] = Flag.MISSING
    for values in (*arrays[:3], codes):
        values.setflags(write=False)
    return GaugeRecord(
        station,
        *arrays[:3],
        codes,
        issues,
        source,
        first=arrays[0][0] if first is None else first,
        last=ends[-1] if last is None else last,
        dry_between=dry_between,
        day_begins_h=day_begins_h,
        offset_h=offset_h,
    )


class _Bins:
    """Rain, measured minutes and marks of a row of days, or of hours, while intervals are added to them."""

    def __init__(self, bin0: int, count: int, size_min: int) -> None:
        self.bin0, self.count, self.size_min = bin0, count, size_min
        self.rain = np.zeros(count)
        self.known_min = np.zeros(count)
        self.touched_min = np.zeros(count)
        self.marked = {flag: np.zeros(count, dtype=bool) for flag in Flag}

    def add(self, start: NDArray[np.int64], minutes: NDArray[np.int64], depth: Floats, flags: Codes) -> None:
        """Add intervals; start : minutes since the epoch."""
        end = start + minutes
        a, b = start // self.size_min - self.bin0, (end - 1) // self.size_min - self.bin0
        single = (a == b) | ((b == a + 1) & (minutes <= _SHORT_MIN[self.size_min]))
        known = ~np.isnan(depth) & (single | (depth == 0))
        head = np.minimum(end, (a + 1 + self.bin0) * self.size_min) - start
        for bins, length in ((a, head), (b, np.where(a == b, 0, minutes - head))):
            self._cover(bins[single], length[single], known[single])
        most = np.where(head * 2 >= minutes, a, b)
        here = single & known
        self.rain += np.bincount(most[here], weights=depth[here], minlength=self.count)
        for flag in Flag:
            self.marked[flag][most[single & (flags == flag)]] = True
        for row in np.flatnonzero(~single).tolist():
            self._add_long(int(start[row]), int(end[row]), float(depth[row]), Flag(int(flags[row])))

    def _cover(self, bins: NDArray[np.int64], length: NDArray[np.int64], known: NDArray[np.bool_]) -> None:
        self.touched_min += np.bincount(bins, weights=length, minlength=self.count)
        self.known_min += np.bincount(bins[known], weights=length[known], minlength=self.count)

    def _add_long(self, start: int, end: int, depth: float, flag: Flag) -> None:
        """A long interval over several bins: nothing fell, or a total that is not spread, or nothing known."""
        bins = np.arange(start // self.size_min, (end - 1) // self.size_min + 1)
        length = np.minimum(end, (bins + 1) * self.size_min) - np.maximum(start, bins * self.size_min)
        dry = depth == 0
        self._cover(bins - self.bin0, length, np.full(len(bins), dry))
        if np.isnan(depth):
            mark = flag
        elif not dry:
            mark = Flag.ACCUMULATED
        else:
            # Over several bins a little may have dried up again in the gauge, so this is not quite a reading.
            mark = Flag.TRACE if flag == Flag.TRACE else Flag.ESTIMATED
        self.marked[mark][bins - self.bin0] = True

    def presume_dry(self) -> None:
        """Count every minute without an interval as measured and dry."""
        free = self.size_min - self.touched_min
        self.marked[Flag.ESTIMATED] |= (free > 0) & (self.touched_min == 0)
        self.known_min += np.maximum(free, 0)

    def settled(self, allowed_missing_min: float) -> tuple[Floats, Codes]:
        """Rain [mm] and flag of each bin."""
        whole = self.known_min >= self.size_min - allowed_missing_min
        flags = np.full(self.count, Flag.MISSING, dtype=np.uint8)
        for lost in _LOSS_OF_RANK[1:]:
            flags[self.marked[lost]] = lost
        flags[whole] = Flag.OBSERVED
        flags[whole & self.marked[Flag.ESTIMATED]] = Flag.ESTIMATED
        flags[whole & self.marked[Flag.TRACE] & (self.rain == 0)] = Flag.TRACE
        return np.where(whole, self.rain, np.nan), flags


def _worth_keeping(flags: Codes) -> slice:
    """From the first to the last day that is not simply missing; all of them if every day is."""
    held = np.flatnonzero(flags != Flag.MISSING)
    return slice(int(held[0]), int(held[-1]) + 1) if held.size else slice(0, len(flags))


def _day_issues(dates: Days, part_mm: Floats, rain: Floats, flags: Codes) -> tuple[Issue, ...]:
    issues: tuple[Issue, ...] = ()
    partly = np.isnan(rain) & (part_mm > 0) & (flags != Flag.ACCUMULATED)
    if partly.any():
        text = f"On {{days}} the rain of some hours is not known ({part_mm[partly].sum():,.1f} mm fell in the others)."
        issues += (told("missing", dates, partly, text, "These days have no rain value."),)
    shared = flags == Flag.ACCUMULATED
    if shared.any():
        text = "{days} lie in totals over several days."
        instead = "The totals are not spread over the days; their rain is missing."
        issues += (told("accumulated", dates, shared, text, instead),)
    return issues


def told(kind: str, dates: Days, where: NDArray[np.bool_], text: str, instead: str) -> Issue:
    """An issue about some rows, with the number of days they touch put in place of {days}.

    dates, where : (rows,), the dates ascending, a day in one row or in several.
    """
    rows = np.flatnonzero(where)
    count = int((np.diff(dates[rows]).astype(int) > 0).sum()) + 1
    days = "1 day" if count == 1 else f"{count:,} days"
    return Issue(
        kind, text.replace("{days}", days), as_date(dates[rows[0]]), as_date(dates[rows[-1]]), count, instead
    )


def _burst(start: Minutes, minutes: NDArray[np.int64], depth_mm: Floats, window_min: float) -> Burst:
    known = ~np.isnan(depth_mm)
    if not known.any():
        return Burst(window_min, np.nan, np.nan, np.datetime64("NaT", "m"))
    begin = start[known].astype(np.int64).astype(np.float64)
    end = begin + minutes[known]
    so_far = np.concatenate(([0.0], np.cumsum(depth_mm[known])))
    # Between the ends of intervals the mass curve is straight, so the best window begins or ends at one.
    times = np.column_stack((begin, end)).ravel()
    mass = np.column_stack((so_far[:-1], so_far[1:])).ravel()
    tries = np.concatenate((begin, end - window_min))
    fallen = np.interp(tries + window_min, times, mass) - np.interp(tries, times, mass)
    best = int(np.argmax(fallen))
    # A window that catches the last moment of interval i reaches every interval that begins before i's end + w.
    reached = np.searchsorted(begin, end + window_min, side="left")
    high = float((so_far[reached] - so_far[:-1]).max())
    moment = np.datetime64(int(np.floor(tries[best])), "m")
    return Burst(window_min, float(fallen[best]), max(high, float(fallen[best])), moment)
