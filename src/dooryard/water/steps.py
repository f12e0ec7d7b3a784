"""The steps a yard is run in: whole days, and the hours of those days whose hours of rain are known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import WeatherRecord

if TYPE_CHECKING:  # a plan on days alone need not load the readers of hours
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.hourly import HourlyRecord

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]

HOURS = 24


@dataclass(frozen=True, slots=True, eq=False)
class HoursOfRain:
    """How the rain of days is spread over their hours, for a record of N days.

    share : of the day's rain in each hour (N, 24) [1]; 0 on a day that is not used. used : days (N,) whose
    hours are used. differing : days on which hours and day did not measure the same rain. unknown : days
    without a full set of hours.
    """

    share: Floats
    used: Flags
    differing: int
    unknown: int


@dataclass(frozen=True, slots=True, eq=False)
class Steps:
    """Steps in order; arrays (M,).

    day : index of its day. hour : hour of the day it is, -1 for a whole day. share : of its day's rain [1].
    first : index of the first step of each day (N,).
    """

    day: Indices
    hour: Indices
    share: Floats
    first: Indices

    @property
    def whole_days(self) -> bool:
        """Whether every step is a day."""
        return len(self.day) == len(self.first)

    @property
    def begins_d(self) -> Floats:
        """When each step begins [d]."""
        return np.asarray(self.day + np.maximum(self.hour, 0) / HOURS)

    @property
    def ends_d(self) -> Floats:
        """When each step ends [d]."""
        return np.asarray(self.day + np.where(self.hour < 0, HOURS, self.hour + 1) / HOURS)

    def at_hour(self, hour: float) -> Indices:
        """The step of each day (N,) in which that hour of the day lies."""
        last = np.append(self.first[1:], len(self.day)) - 1
        return np.asarray(np.minimum(self.first + int(hour), last))

    def placed(self, daily: Floats, hour: float) -> Floats:
        """A day's amount (N,), all of it in the step in which that hour lies (M,)."""
        if self.whole_days:
            return daily
        out = np.zeros(len(self.day))
        out[self.at_hour(hour)] = daily
        return out

    def sums(self, values: Floats) -> Floats:
        """Amounts of steps (..., M) added up by days (..., N)."""
        if self.whole_days:
            return values
        return np.asarray(np.add.reduceat(values, self.first, axis=-1))

    def evenings(self, values: Floats) -> Floats:
        """What stands at the end of each day (..., N), from that at the end of each step (..., M)."""
        if self.whole_days:
            return values
        last = np.append(self.first[1:], len(self.day)) - 1
        return np.asarray(values[..., last])


def day_steps(days: int) -> Steps:
    """Steps of whole days."""
    day = np.arange(days)
    return Steps(day, np.full(days, -1), np.ones(days), day)


def hour_steps(hours: HoursOfRain) -> Steps:
    """Steps of hours where hours are used, of whole days elsewhere."""
    length = np.where(hours.used, HOURS, 1)
    first = np.cumsum(length) - length
    day = np.repeat(np.arange(len(length)), length)
    within = np.arange(len(day)) - first[day]
    hour = np.where(hours.used[day], within, -1)
    share = np.where(hour < 0, 1.0, hours.share[day, np.maximum(hour, 0)])
    return Steps(day, hour, share, first)


def hours_of_rain(
    record: WeatherRecord, hours: HourlyRecord | GaugeRecord, *, agreement: float, only: Flags
) -> HoursOfRain:
    """How the rain of a record's days is spread over their hours.

    Parameters
    ----------
    record : WeatherRecord
        The days (N,); their totals stay as they are.
    hours : HourlyRecord or GaugeRecord
        Rain of hours, or of shorter intervals, of the same place, in standard time.
    agreement : float
        Hours are used if their sum and the day differ at most by this share of the larger, or by 1 mm [1].
    only : bool array (N,)
        Days on which hours may be used at all.

    Returns
    -------
    HoursOfRain
        A dry day that is dry in both is used as well.

    Raises
    ------
    KeyError
        If the hours have no rain.
    """
    start, rain_mm = _rain_by_hour(hours)
    table = np.full((len(record.dates), HOURS), np.nan)
    place = (start - record.dates[0].astype("datetime64[h]")).astype(np.int64)
    inside = (place >= 0) & (place < table.size)
    table.reshape(-1)[place[inside]] = rain_mm[inside]
    whole = ~np.isnan(table).any(axis=1) & ~np.isnan(record.rain_mm)
    sums = np.where(whole, np.nan_to_num(table).sum(axis=1), 0.0)
    day_mm = np.nan_to_num(record.rain_mm)
    larger, apart = np.maximum(sums, day_mm), np.abs(sums - day_mm)
    same = (apart <= np.maximum(agreement * larger, _GAUGE_MM)) & ((sums > 0.0) | (day_mm == 0.0))
    used = whole & same & only
    spread = np.divide(
        table, sums[:, None], out=np.zeros(table.shape), where=used[:, None] & (sums[:, None] > 0)
    )
    return HoursOfRain(
        share=spread,
        used=used,
        differing=int(np.count_nonzero(whole & ~same & only)),
        unknown=int(np.count_nonzero(~whole & only)),
    )


#: Two gauges side by side differ by this much on days of little rain [mm].
_GAUGE_MM = 1.0


def _rain_by_hour(hours: HourlyRecord | GaugeRecord) -> tuple[NDArray[np.datetime64], Floats]:
    from dooryard.weather.gauge import GaugeRecord

    if isinstance(hours, GaugeRecord):
        start, rain_mm, _ = hours.to_hourly()
        return start.astype("datetime64[h]"), rain_mm
    return hours.hours, hours.element("rain_mm")
