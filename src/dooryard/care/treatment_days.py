"""Which of the coming days and hours pass every limit at once, and which limit closed each of the others.

By hours where the forecast has them; else by days, and then what only hours could tell stays open (None).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.forecast import Forecast, ForecastHours

Numbers = NDArray[np.float64]
_DAY = np.timedelta64(1, "D")


@dataclass(frozen=True)
class Bounds:
    """The limits of one material, from its label where that names them, else the trade's.

    calm_m_s, windiest_m_s : wind band [m/s]. coldest_c, hottest_c : air [degC], None for no limit. thaw_h : hours
    that must stay above freezing [h]. dry_h : hours without rain afterwards [h]. wet_h : hours without rain before
    [h]. rain_mm : that counts as rain [mm]. chance_pct : of rain that is too high [%]. clear_pct : sky cover below
    which a calm hour may be an inversion [%]. humid_pct : from which leaves are taken as wet [%].
    rest_of_day_h : hours left of a day after a morning's treatment [h]. gusts : times the highest wind that gusts may
    reach.
    """

    calm_m_s: float
    windiest_m_s: float
    coldest_c: float | None
    hottest_c: float | None
    thaw_h: float
    dry_h: float
    wet_h: float
    rain_mm: float
    chance_pct: float
    clear_pct: float
    humid_pct: float
    rest_of_day_h: float
    gusts: float


@dataclass(frozen=True)
class Check:
    """One limit on one day or hour. limit : its key. passes : None if the forecast does not tell.

    found : what it was held against, in canonical units; None if there is nothing to show.
    """

    limit: str
    passes: bool | None
    found: float | None = None


@dataclass(frozen=True)
class Day:
    """One day. checks : of the whole day. hours : first and last hour (start) of each run that passes; empty if the
    forecast has no hours for it or none passes. by_hours : whether hours decided.
    closed_by : the limits that closed it, in the order they were asked.
    """

    day: date
    checks: tuple[Check, ...]
    hours: tuple[tuple[int, int], ...]
    by_hours: bool
    closed_by: tuple[str, ...]

    @property
    def open(self) -> bool:
        """Whether a treatment may fall on it, as far as the forecast tells."""
        return not self.closed_by

    @property
    def untold(self) -> tuple[str, ...]:
        """Limits that stay open because the forecast does not tell."""
        return tuple(check.limit for check in self.checks if check.passes is None)


Rule = Callable[[date], Check]


def days(
    forecast: Forecast,
    bounds: Bounds,
    on: date,
    daylight: Callable[[date], tuple[int, int]],
    rules: Sequence[Rule],
) -> tuple[Day, ...]:
    """Every foretold day from `on`, judged.

    forecast : what is foretold. bounds : the weather limits. daylight : of a day, its first and last hour (start)
    in which one can see to work. rules : further limits that hold for whole days: interval, season, harvest, bloom,
    stage; asked first, in order.
    """
    found = []
    for at, stamp in enumerate(forecast.dates):
        day = stamp.astype(object)
        if day < on:
            continue
        checks = [rule(day) for rule in rules]
        checks += _day_checks(forecast, at, bounds)
        closed = [check.limit for check in checks if check.passes is False]
        hours = None if forecast.hours is None else _Hours(forecast.hours, stamp, bounds)
        runs: tuple[tuple[int, int], ...] = ()
        by_hours = hours is not None and hours.told
        if hours is not None and by_hours:
            first, last = daylight(day)
            runs, shut = hours.runs(first, last)
            # Hours decide what a day's mean could only hint at; a limit for the whole day stands.
            checks = [check for check in checks if check.limit not in _BY_HOUR]
            closed = [check.limit for check in checks if check.passes is False]
            if not runs:
                closed += [limit for limit in shut if limit not in closed]
        else:
            checks += [Check(limit, None) for limit in ("inversion", "wet leaves")]
        found.append(Day(day, tuple(checks), () if closed else runs, by_hours, tuple(closed)))
    return tuple(found)


_BY_HOUR = ("wind", "rain", "rain after", "rain before", "cold")


def _day_checks(forecast: Forecast, at: int, bounds: Bounds) -> list[Check]:
    checks = [_heat(forecast, at, bounds), _cold(forecast, at, bounds), _frost(forecast, at, bounds)]
    checks.append(_dry("rain", forecast, at, bounds))
    # A treatment early in the day leaves the rest of it; a longer wait reaches into the next day.
    if bounds.dry_h > bounds.rest_of_day_h:
        checks.append(_dry("rain after", forecast, at + 1, bounds))
    wind = None if forecast.wind_m_s is None else float(forecast.wind_m_s[at])
    if wind is None or np.isnan(wind):
        checks.append(Check("wind", None))
    else:
        # A day's mean says nothing for its calm hours, so only too much of it closes a day.
        checks.append(Check("wind", wind <= bounds.windiest_m_s, wind))
    return checks


def _heat(forecast: Forecast, at: int, bounds: Bounds) -> Check:
    """The hottest hour of the day counts, not that of the treatment: the film stays on the leaf."""
    high = float(forecast.t_max_c[at])
    if bounds.hottest_c is None:
        return Check("heat", True)
    return Check(
        "heat", None if np.isnan(high) else high <= bounds.hottest_c, None if np.isnan(high) else high
    )


def _cold(forecast: Forecast, at: int, bounds: Bounds) -> Check:
    high = float(forecast.t_max_c[at])
    if bounds.coldest_c is None:
        return Check("cold", True)
    return Check(
        "cold", None if np.isnan(high) else high >= bounds.coldest_c, None if np.isnan(high) else high
    )


def _frost(forecast: Forecast, at: int, bounds: Bounds) -> Check:
    """The night before is over by the morning of the treatment; the next one is not."""
    if bounds.thaw_h <= 0:
        return Check("frost after", True)
    if at + 1 >= len(forecast.dates) or np.isnan(forecast.t_min_c[at + 1]):
        return Check("frost after", None)
    low = float(forecast.t_min_c[at + 1])
    return Check("frost after", low > 0.0, low)


def _dry(limit: str, forecast: Forecast, at: int, bounds: Bounds) -> Check:
    if at >= len(forecast.dates):
        return Check(limit, None)
    rain = float(forecast.rain_mm[at])
    chance = np.nan if forecast.rain_chance_pct is None else float(forecast.rain_chance_pct[at])
    if not np.isnan(chance) and chance >= bounds.chance_pct:
        return Check(limit, False, None if np.isnan(rain) else rain)
    if np.isnan(rain):
        return Check(limit, None if np.isnan(chance) else True)
    high = float(forecast.rain_high_mm[at])
    worst = rain if np.isnan(high) else high
    return Check(limit, worst < bounds.rain_mm, worst)


class _Hours:
    """The hours of one day, each held against every limit that changes by the hour."""

    def __init__(self, hours: ForecastHours, stamp: np.datetime64, bounds: Bounds) -> None:
        start = stamp.astype("datetime64[h]")
        inside = (hours.local >= start) & (hours.local < start + np.timedelta64(24, "h"))
        self.at = np.flatnonzero(inside)
        self.hour = (hours.local[self.at] - start).astype(int)
        self.bounds = bounds
        self.all = hours
        self.told = self.at.size > 0 and not np.isnan(hours.wind_m_s[self.at]).all()

    def runs(self, first: int, last: int) -> tuple[tuple[tuple[int, int], ...], tuple[str, ...]]:
        """Runs of hours that pass everything, and the limits that shut the others, the commonest first."""
        shut: dict[str, int] = {}
        good: list[int] = []
        for row, hour in zip(self.at, self.hour, strict=True):
            if not first <= hour <= last:
                continue
            fails = [limit for limit, passes in self._limits(int(row)) if not passes]
            for limit in fails:
                shut[limit] = shut.get(limit, 0) + 1
            if not fails:
                good.append(int(hour))
        order = sorted(shut, key=lambda limit: -shut[limit])
        return tuple(_runs(good)), tuple(order)

    def _limits(self, row: int) -> Iterable[tuple[str, bool]]:
        """Each limit at one hour; what the forecast does not tell does not pass."""
        all_, bounds = self.all, self.bounds
        wind = float(all_.wind_m_s[row])
        gust = float(all_.gust_m_s[row])
        yield "wind", wind <= bounds.windiest_m_s and not gust > bounds.windiest_m_s * bounds.gusts
        clear = not float(all_.sky_pct[row]) >= bounds.clear_pct
        yield "inversion", wind >= bounds.calm_m_s or not clear
        if bounds.coldest_c is not None:
            yield "cold", float(all_.t_c[row]) >= bounds.coldest_c
        yield "wet leaves", not float(all_.humidity_pct[row]) >= bounds.humid_pct
        yield "rain before", self._dry(row - int(bounds.wet_h), row)
        yield "rain after", self._dry(row, row + max(1, int(bounds.dry_h)))

    def _dry(self, start: int, end: int) -> bool:
        """No rain from row `start` up to `end`; hours the forecast does not reach do not pass."""
        if end > self.all.rain_mm.size:
            return False
        rows = slice(max(0, start), end)
        rain, chance = self.all.rain_mm[rows], self.all.rain_chance_pct[rows]
        if np.isnan(rain).any() and np.isnan(chance).any():
            return False
        return not (
            float(np.nansum(rain)) >= self.bounds.rain_mm or bool((chance >= self.bounds.chance_pct).any())
        )


def _runs(hours: Sequence[int]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for hour in hours:
        if runs and runs[-1][1] == hour - 1:
            runs[-1] = (runs[-1][0], hour)
        else:
            runs.append((hour, hour))
    return runs


def not_before(limit: str, earliest: date | None) -> Rule:
    """A rule that closes the days before one; all of them if there is none."""
    return lambda day: Check(limit, earliest is not None and day >= earliest)


def picked_after(limit: str, harvest: date | None, wait_d: int | None) -> Rule:
    """A rule that closes days too near the next picking.

    harvest : the next day of picking, None if nothing is picked. wait_d : from treatment to picking [d], None if
    the label does not say, which closes every day when something is picked.
    """

    def rule(day: date) -> Check:
        if harvest is None or day > harvest:
            return Check(limit, True)
        return Check(limit, wait_d is not None and day + timedelta(days=wait_d) <= harvest)

    return rule


def always(limit: str, passes: bool | None) -> Rule:
    """A rule that is the same on every day."""
    return lambda _: Check(limit, passes)
