"""Hours of a forecast gathered to calendar days; a day that is not whole says so or stays empty."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.forecast import Forecast, ForecastHours
from dooryard.weather.record import Days, Floats, Issue, as_date

_LAST_HOUR = 23


def gather(
    hours: ForecastHours,
    *,
    highs: Mapping[np.datetime64, float],
    lows: Mapping[np.datetime64, float],
    issued: date | None,
    made_at: datetime | None,
    source: str,
    layout: str,
) -> Forecast:
    """The daily forecast of unbroken hours.

    highs, lows : calendar day to the temperature the file gives for it [degC]. A day's highest temperature is
    the larger of its high and its hottest hour, its lowest the smaller of its low and its coldest hour. Without a
    high or low the hours stand for the day only if all are there; on the first day the ones before dawn
    may be gone (fact `weather.forecast.latest_start_h`). Rain is the sum of a day's hours if all are there; on the
    first day, of those still to come, which is told. InputError if not one day has anything.
    """
    from dooryard import knowledge

    latest = int(knowledge.load().fact("weather.forecast.latest_start_h").value)
    axis = _Axis(hours)
    warm = axis.whole(hours.t_c, latest)
    t_max = _extreme(np.fmax, axis, hours.t_c, _given(highs, axis.dates), warm)
    t_min = _extreme(np.fmin, axis, hours.t_c, _given(lows, axis.dates), warm)
    rain = np.where(axis.whole(hours.rain_mm, _LAST_HOUR), axis.total(hours.rain_mm), np.nan)
    something = np.flatnonzero(~np.isnan(t_min) | ~np.isnan(t_max) | ~np.isnan(rain))
    if something.size == 0:
        what = "This forecast holds not one whole day."
        raise InputError(Problem(what, "Fetch the forecast again.", source))
    kept = slice(int(something[0]), int(something[-1]) + 1)
    rained = np.flatnonzero(~np.isnan(rain[kept]))
    rain_days = int(rained[-1]) + 1 if rained.size else 0
    absent = np.full(len(axis.dates), np.nan)[kept]
    return Forecast(
        issued=issued,
        dates=axis.dates[kept],
        t_min_c=t_min[kept],
        t_max_c=t_max[kept],
        rain_mm=rain[kept],
        rain_low_mm=absent,
        rain_high_mm=absent,
        burst_mm_h=None,
        source=source,
        layout=layout,
        made_at=made_at,
        rain_chance_pct=axis.over(np.fmax, hours.rain_chance_pct)[kept],
        wind_m_s=axis.mean(hours.wind_m_s)[kept],
        gust_m_s=axis.over(np.fmax, hours.gust_m_s)[kept],
        humidity_pct=axis.mean(hours.humidity_pct)[kept],
        dew_point_c=axis.mean(hours.dew_point_c)[kept],
        rain_days=rain_days,
        hours=hours,
        issues=_issues(hours, axis.dates[kept], t_min[kept] + t_max[kept], rain_days),
    )


class _Axis:
    """Which of the days each hour is in, and sums and extremes by day; `dates` (days,)."""

    def __init__(self, hours: ForecastHours) -> None:
        day = hours.local.astype("datetime64[D]")
        clock_h = (hours.local - day).astype("timedelta64[h]").astype(int)
        self.dates: Days = np.arange(day[0], day[-1] + np.timedelta64(1, "D"))
        self._at = (day - self.dates[0]).astype(int)
        self._begins, self._ends = int(clock_h[0]), int(clock_h[-1])

    def over(self, extreme: np.ufunc, values: Floats) -> Floats:
        """Largest or smallest known value of each day, NaN if none is known."""
        found = np.full(len(self.dates), np.nan)
        extreme.at(found, self._at, values)
        return found

    def total(self, values: Floats) -> Floats:
        """Sum of the known values of each day."""
        return np.bincount(self._at, np.nan_to_num(values), len(self.dates)).astype(np.float64)

    def mean(self, values: Floats) -> Floats:
        """Mean of each day's hours, NaN unless all are known; on the first day of those still to come."""
        count = np.bincount(self._at, minlength=len(self.dates))
        return np.where(self.whole(values, _LAST_HOUR), self.total(values) / count, np.nan)

    def whole(self, values: Floats, latest_start_h: int) -> NDArray[np.bool_]:
        """Which days have every hour; the first may begin as late as the hour given. Hours are unbroken, so
        only the first and the last day can be cut."""
        missing = np.bincount(self._at, np.isnan(values), len(self.dates))
        whole: NDArray[np.bool_] = missing == 0
        whole[0] &= self._begins <= latest_start_h
        whole[-1] &= self._ends == _LAST_HOUR
        return whole


def _extreme(
    extreme: np.ufunc, axis: _Axis, values: Floats, given: Floats, warm: NDArray[np.bool_]
) -> Floats:
    found: Floats = extreme(given, axis.over(extreme, values))
    return np.where(np.isnan(given) & ~warm, np.nan, found)


def _given(by_day: Mapping[np.datetime64, float], dates: Days) -> Floats:
    return np.array([by_day.get(day, np.nan) for day in dates], dtype=np.float64)


def _issues(hours: ForecastHours, dates: Days, warmth: Floats, rain_days: int) -> tuple[Issue, ...]:
    issues = [Issue("clock", f"Its days begin at midnight by {hours.clock}.")]
    first = as_date(dates[0])
    begins = hours.local[0].item()
    if begins.date() == first and begins.hour > 0:
        lacking = " Its lowest or highest temperature is not known." if np.isnan(warmth[0]) else ""
        text = f"Its first day, {first}, begins at {begins:%H:%M}: what came before is not in it.{lacking}"
        issues.append(
            Issue("gap", text, first, first, 1, "Use the forecast made before that day for the whole of it.")
        )
    warm = np.flatnonzero(~np.isnan(warmth))
    if 0 < rain_days < (int(warm[-1]) + 1 if warm.size else 0):
        last = as_date(dates[rain_days - 1])
        text = f"Rain is foretold up to {last}, temperatures up to {dates[warm[-1]]}."
        issues.append(
            Issue("gap", text, as_date(dates[rain_days]), as_date(dates[-1]), len(dates) - rain_days)
        )
    if rain_days == 0:
        issues.append(Issue("gap", "No amount of rain is foretold.", first, as_date(dates[-1]), len(dates)))
    return tuple(issues)
