"""One station's hours: every hour from first to last in standard time, with what is missing kept missing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.clock import Minutes
from dooryard.weather.gauge import GaugeRecord, in_order, told
from dooryard.weather.record import (
    Codes,
    Flag,
    Floats,
    Issue,
    Source,
    Station,
    WeatherRecord,
    on_calendar,
)

Hours = NDArray[np.datetime64]

ELEMENTS = ("temperature_c", "rain_mm", "dew_point_c", "humidity_pct", "wind_m_s", "solar_w_m2")
HOURS_A_DAY = 24
_W_H_M2_IN_MJ_M2 = 0.0036

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "temperature_c": "temperature",
        "rain_mm": "rain",
        "dew_point_c": "dew point",
        "humidity_pct": "humidity",
        "wind_m_s": "wind",
        "solar_w_m2": "sunshine",
    }
)


@dataclass(frozen=True, slots=True, eq=False)
class HourlyRecord:
    """One station's hours. All arrays have shape (hours,), last axis time, and cannot be written to.

    hours : every hour from first to last, datetime64[h], the station's standard time; an hour is named after
    its beginning. temperature_c, dew_point_c [degC], humidity_pct [%], wind_m_s [m/s] : the hour's regular
    reading, or the mean of its steps. low_c, high_c : lowest and highest reading within the hour [degC].
    rain_mm : rain that fell in the hour [mm]. solar_w_m2 : mean sunshine of the hour on flat ground [W/m2].
    An element the file does not have is None. flags : element name to `Flag` codes. offset_h : hours ahead of
    UTC, None if not known.
    """

    station: Station
    hours: Hours
    flags: Mapping[str, Codes]
    issues: tuple[Issue, ...]
    source: Source
    offset_h: float | None = None
    temperature_c: Floats | None = None
    low_c: Floats | None = None
    high_c: Floats | None = None
    rain_mm: Floats | None = None
    dew_point_c: Floats | None = None
    humidity_pct: Floats | None = None
    wind_m_s: Floats | None = None
    solar_w_m2: Floats | None = None

    @property
    def elements(self) -> tuple[str, ...]:
        """Names of the elements this record has, in a fixed order."""
        return tuple(name for name in ELEMENTS if getattr(self, name) is not None)

    def element(self, name: str) -> Floats:
        """The values of one element by name. KeyError if the record has none."""
        values: Floats | None = getattr(self, name) if name in ELEMENTS else None
        if values is None:
            raise KeyError(name)
        return values

    def gauge(self) -> GaugeRecord:
        """The rain as intervals of an hour, for bursts. KeyError if the record has no rain."""
        rain = self.element("rain_mm")
        return in_order(
            self.station,
            self.hours.astype("datetime64[m]"),
            np.full(len(rain), 60),
            rain.copy(),
            self.flags["rain_mm"].copy(),
            self.issues,
            self.source,
            offset_h=self.offset_h,
        )

    def to_daily(self, *, blank_rain_is_dry: bool = False) -> WeatherRecord:
        """The same station by days, midnight to midnight standard time.

        Rain and sunshine need all 24 hours. Temperatures and means bear a few missing hours (knowledge fact
        `weather.hourly.missing_temperature_h`) and are then flagged ESTIMATED. blank_rain_is_dry : count an
        hour whose report came without rain as dry, flagged ESTIMATED; by default its rain is missing.
        """
        from dooryard import knowledge

        bearable = knowledge.load().fact("weather.hourly.missing_temperature_h").value
        days = _Days(self, blank_rain_is_dry=blank_rain_is_dry)
        values: dict[str, Floats] = {}
        flags: dict[str, Codes] = {}
        issues = self.issues
        if self.rain_mm is not None:
            values["rain_mm"], flags["rain_mm"], told_rain = days.rain()
            issues += told_rain
        if self.low_c is not None and self.high_c is not None:
            values["t_min_c"], flags["t_min_c"] = days.of("temperature_c", self.low_c, "low", bearable)
            values["t_max_c"], flags["t_max_c"] = days.of("temperature_c", self.high_c, "high", bearable)
            issues += days.narrow(flags["t_min_c"])
        means = {"temperature_c": "t_mean_c", "dew_point_c": "dew_point_c", "humidity_pct": "humidity_pct"}
        for name, daily in (means | {"wind_m_s": "wind_m_s"}).items():
            if name in self.elements:
                values[daily], flags[daily] = days.of(name, self.element(name), "mean", bearable)
        if self.solar_w_m2 is not None:
            mean, flags["solar_mj_m2"] = days.of("solar_w_m2", self.solar_w_m2, "mean", 0)
            values["solar_mj_m2"] = mean * HOURS_A_DAY * _W_H_M2_IN_MJ_M2
        held = np.flatnonzero(np.any([code != Flag.MISSING for code in flags.values()], axis=0))
        keep = slice(int(held[0]), int(held[-1]) + 1) if held.size else slice(None)
        return on_calendar(
            self.station,
            days.dates[keep],
            {name: column[keep] for name, column in values.items()},
            {name: code[keep] for name, code in flags.items()},
            issues,
            self.source,
        )


class _Days:
    """The hours of a record in rows of 24, NaN and MISSING where the record does not reach."""

    def __init__(self, record: HourlyRecord, *, blank_rain_is_dry: bool) -> None:
        first, last = (record.hours[place].astype("datetime64[D]") for place in (0, -1))
        self.dates = np.arange(first, last + np.timedelta64(1, "D"))
        self._before = int((record.hours[0] - first.astype("datetime64[h]")).astype(int))
        self._record = record
        self._blank_is_dry = blank_rain_is_dry

    def _rows(self, values: NDArray[np.generic], filler: float) -> NDArray[np.generic]:
        size = len(self.dates) * HOURS_A_DAY
        laid = np.full(size, filler, dtype=values.dtype)
        laid[self._before : self._before + len(values)] = values
        return laid.reshape(-1, HOURS_A_DAY)

    def of(
        self, name: str, values: Floats, how: Literal["low", "high", "mean"], bearable_h: float
    ) -> tuple[Floats, Codes]:
        """Lowest, highest or mean of each day, NaN where more than `bearable_h` hours are missing."""
        hours = self._rows(values, np.nan).astype(np.float64)
        codes = self._rows(self._record.flags[name], Flag.MISSING)
        known = ~np.isnan(hours)
        count = known.sum(axis=1)
        if how == "mean":
            result = np.where(known, hours, 0.0).sum(axis=1) / np.maximum(count, 1)
        elif how == "low":
            result = np.where(known, hours, np.inf).min(axis=1)
        else:
            result = np.where(known, hours, -np.inf).max(axis=1)
        enough = (count > 0) & (HOURS_A_DAY - count <= bearable_h)
        flags = np.where(enough, np.uint8(Flag.OBSERVED), np.uint8(Flag.MISSING))
        flags[~enough & (codes == Flag.SUSPECT).any(axis=1)] = Flag.SUSPECT
        part = (count < HOURS_A_DAY) | (codes == Flag.ESTIMATED).any(axis=1)
        flags[enough & part] = Flag.ESTIMATED
        return np.where(enough, result, np.nan), flags

    def rain(self) -> tuple[Floats, Codes, tuple[Issue, ...]]:
        """Rain of each day, NaN unless all 24 hours are known."""
        record = self._record
        values, codes = record.element("rain_mm"), record.flags["rain_mm"]
        if self._blank_is_dry:
            others = [~np.isnan(record.element(name)) for name in record.elements if name != "rain_mm"]
            reported = np.any(others, axis=0) if others else np.zeros(len(values), dtype=bool)
            blank = reported & np.isnan(values) & (codes == Flag.MISSING)
            values, codes = np.where(blank, 0.0, values), np.where(blank, np.uint8(Flag.ESTIMATED), codes)
        hours = self._rows(values, np.nan).astype(np.float64)
        marks = self._rows(codes, Flag.MISSING)
        known = ~np.isnan(hours)
        whole = known.all(axis=1)
        part_mm = np.where(known, hours, 0.0).sum(axis=1)
        flags = np.full(len(hours), Flag.MISSING, dtype=np.uint8)
        for lost in (Flag.SUSPECT, Flag.ACCUMULATED):
            flags[(marks == lost).any(axis=1)] = lost
        flags[whole] = Flag.OBSERVED
        flags[whole & (marks == Flag.ESTIMATED).any(axis=1)] = Flag.ESTIMATED
        flags[whole & (part_mm == 0) & (marks == Flag.TRACE).any(axis=1)] = Flag.TRACE
        issues: tuple[Issue, ...] = ()
        partly = ~whole & (part_mm > 0)
        if partly.any():
            fell = f"({part_mm[partly].sum():,.1f} mm fell in the others)"
            text = f"On {{days}} the rain of some hours is not known {fell}."
            issues += (told("missing", self.dates, partly, text, "These days have no rain value."),)
        return np.where(whole, part_mm, np.nan), flags, issues

    def narrow(self, flags: Codes) -> tuple[Issue, ...]:
        """That the extremes are those of readings, and on how many days a few of them are missing."""
        text = "Lowest and highest temperatures are those of the hourly readings; "
        text += "between two readings it can have been colder or warmer."
        issues: tuple[Issue, ...] = (Issue("hourly", text),)
        part = flags == Flag.ESTIMATED
        if part.any():
            text = "On {days} a few hours of temperature are missing."
            issues += (told("hourly", self.dates, part, text, "The other hours were used, as estimated."),)
        return issues


def on_hours(
    station: Station,
    times: Minutes,
    values: Mapping[str, Floats],
    flags: Mapping[str, Codes],
    issues: tuple[Issue, ...],
    source: Source,
    *,
    regular_min: int,
    step_min: int | None = None,
    offset_h: float | None = None,
) -> HourlyRecord:
    """Reports as a file gives them, in any order, laid on the hours; all arrays (rows,).

    times : standard time. regular_min : minute of the hour at which the regular report is made. Reports belong
    to the hour that ends with the regular one; if that is made in the first half of an hour (on the hour, as a
    rule), they tell of the hour before. Of several reports the regular one counts. Their rain is a running
    sum since the last regular report, so the largest counts; with `step_min` each row has the rain of its own
    step instead, and the steps are added up if none is missing.
    """
    late = regular_min >= 30
    hour = (times + np.timedelta64(59 - regular_min if late else -regular_min - 1, "m")).astype(
        "datetime64[h]"
    )
    first = hour.min()
    place = (hour - first).astype(int)
    length = int(place.max()) + 1
    minute = (times - times.astype("datetime64[h]")).astype(int)
    regular = minute == regular_min
    laid: dict[str, Floats] = {}
    codes: dict[str, Codes] = {}
    for name in ELEMENTS:
        if name not in values:
            continue
        column, code = values[name], flags[name]
        if name == "rain_mm" and step_min is not None:
            laid[name], codes[name] = _added(place, length, column, code, 60 // step_min)
        else:
            key = np.where(code == Flag.TRACE, 1e-9, column) if name == "rain_mm" else regular
            laid[name], codes[name] = _chosen(place, length, column, code, (times, key))
    if "temperature_c" in values:
        known = ~np.isnan(values["temperature_c"])
        for name, pick in (("low_c", np.fmin), ("high_c", np.fmax)):
            extreme = np.full(length, np.nan)
            pick.at(extreme, place[known], values["temperature_c"][known])
            laid[name] = extreme
    hours = np.arange(first, first + np.timedelta64(length, "h"))
    _freeze(hours, *laid.values(), *codes.values())
    return HourlyRecord(station, hours, MappingProxyType(codes), issues, source, offset_h, **laid)


def from_gauge(record: GaugeRecord) -> HourlyRecord:
    """A gauge's intervals by hours of the clock: a record that has rain only."""
    hours, rain, flags = record.to_hourly()
    _freeze(hours, rain, flags)
    codes = MappingProxyType({"rain_mm": flags})
    return HourlyRecord(
        record.station, hours, codes, record.issues, record.source, record.offset_h, rain_mm=rain
    )


def _freeze(*arrays: NDArray[Any]) -> None:
    for array in arrays:
        array.setflags(write=False)


def _chosen(
    place: NDArray[np.int64],
    length: int,
    values: Floats,
    flags: Codes,
    keys: tuple[NDArray[np.generic], NDArray[np.generic]],
) -> tuple[Floats, Codes]:
    """The one value of each hour: a known one before none, then the largest last key, then the first key."""
    column = np.full(length, np.nan)
    code = np.full(length, Flag.MISSING, dtype=np.uint8)
    order = np.lexsort((*keys, ~np.isnan(values)))
    # With a repeated index the last assignment stands.
    column[place[order]] = values[order]
    code[place[order]] = flags[order]
    return column, code


def _added(
    place: NDArray[np.int64], length: int, values: Floats, flags: Codes, steps: int
) -> tuple[Floats, Codes]:
    known = ~np.isnan(values)
    total = np.bincount(place[known], weights=values[known], minlength=length)
    whole = np.bincount(place[known], minlength=length) >= steps
    has = {flag: np.bincount(place[flags == flag], minlength=length) > 0 for flag in Flag}
    code = np.full(length, Flag.MISSING, dtype=np.uint8)
    code[has[Flag.SUSPECT]] = Flag.SUSPECT
    code[whole] = Flag.OBSERVED
    code[whole & has[Flag.ESTIMATED]] = Flag.ESTIMATED
    code[whole & has[Flag.TRACE] & (total == 0)] = Flag.TRACE
    return np.where(whole, total, np.nan), code
