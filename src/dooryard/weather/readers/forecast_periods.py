"""The US weather service's period forecast: days and nights, or single hours, with winds such as "5 to 10 mph"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.conversion import FAHRENHEIT, MILES_AN_HOUR, SAME, Conversion
from dooryard.weather.forecast import Forecast, ForecastHours
from dooryard.weather.forecast_days import gather
from dooryard.weather.intervals import Interval, parse_moment, span, spread, utc_hour
from dooryard.weather.opening import Faults
from dooryard.weather.readers.forecast_json import finite
from dooryard.weather.record import Floats
from dooryard.weather.standard_clock import StandardClock

KNOTS = Conversion(multiply=1852.0, divide=3600.0)
KILOMETRES_AN_HOUR = Conversion(divide=3.6)

_WIND = re.compile(
    r"(\d+(?:\.\d+)?)(?: ?(?:to|-) ?(\d+(?:\.\d+)?))? ?(mph|km/h|kts?|knots|m/s)", re.IGNORECASE
)
_SPEEDS: Mapping[str, Conversion] = MappingProxyType(
    {
        "mph": MILES_AN_HOUR,
        "km/h": KILOMETRES_AN_HOUR,
        "kt": KNOTS,
        "kts": KNOTS,
        "knots": KNOTS,
        "m/s": SAME,
        "km_h-1": KILOMETRES_AN_HOUR,
        "m_s-1": SAME,
    }
)
_DEGREES: Mapping[str, Conversion] = MappingProxyType(
    {"F": FAHRENHEIT, "C": SAME, "degF": FAHRENHEIT, "degC": SAME}
)
_AGAIN = "Fetch the forecast again; if it comes the same, the service has changed its layout."


class Wind(NamedTuple):
    """Ends of a stated wind [m/s]; the same twice if one number is given."""

    low_m_s: float
    high_m_s: float


class _Period(NamedTuple):
    start: datetime
    end: datetime
    daytime: bool
    t_c: float
    dew_point_c: float
    humidity_pct: float
    rain_chance_pct: float
    wind: Wind

    @property
    def interval(self) -> Interval:
        hours = round((self.end - self.start).total_seconds() / 3600)
        return Interval(utc_hour(self.start), hours)


def read(properties: Mapping[str, Any], source: str) -> Forecast:
    """The forecast of a period or hourly answer's properties.

    A day's highest temperature is that of its daytime period, its lowest that of the night which ends on it. There
    are no amounts of rain in this layout, only chances. InputError listing every fault, or if all periods are
    blank.
    """
    faults = Faults(source)
    periods = [period for entry in properties["periods"] if (period := _period(entry, faults)) is not None]
    made_at = _moment(properties.get("updateTime") or properties.get("updated"), "updateTime", faults)
    for before, after in pairwise(periods):
        if after.start < before.end:
            what = "This period begins before the one above it ends."
            faults.add(what, _AGAIN, name="startTime", found=after.start.isoformat())
    faults.raise_any()
    if not periods:
        what = "This forecast is empty: every period in it is blank."
        raise InputError(Problem(what, "Fetch it again in an hour.", source))
    try:
        axis = span([[period.interval for period in periods]])
    except ValueError as error:
        raise InputError(Problem(str(error), "Fetch it again.", source)) from None
    hourly = all(period.interval.hours == 1 for period in periods)
    clock = _clock(periods[0].start)
    return gather(
        _hours(periods, axis, clock, hourly=hourly),
        highs={} if hourly else {_day(p.start): p.t_c for p in periods if p.daytime},
        lows={} if hourly else {_day(p.end): p.t_c for p in periods if not p.daytime},
        issued=None if made_at is None else clock.day(made_at),
        made_at=made_at,
        source=source,
        layout="hours" if hourly else "periods",
    )


def parse_wind(text: str) -> Wind:
    """A wind such as "5 to 10 mph" or "15 km/h". ValueError if it is none."""
    match = _WIND.fullmatch(text.strip())
    if match is None:
        raise ValueError("This is no wind speed.")
    conversion = _SPEEDS[match[3].lower()]
    low, high = conversion.apply(np.array([match[1], match[2] or match[1]], dtype=np.float64)).tolist()
    return Wind(low, high)


def _hours(
    periods: Sequence[_Period], axis: tuple[np.datetime64, int], clock: StandardClock, *, hourly: bool
) -> ForecastHours:
    """What holds over a period stands in each of its hours; a day's high or low does not."""
    intervals = [period.interval for period in periods]
    first, count = axis

    def layer(value: Callable[[_Period], float]) -> Floats:
        return spread(intervals, [value(period) for period in periods], first, count, "level")

    nothing = np.full(count, np.nan)
    return ForecastHours(
        local=clock.local(first + np.arange(count)),
        clock=clock.words,
        t_c=layer(lambda period: period.t_c) if hourly else nothing,
        dew_point_c=layer(lambda period: period.dew_point_c),
        humidity_pct=layer(lambda period: period.humidity_pct),
        rain_mm=nothing,
        rain_chance_pct=layer(lambda period: period.rain_chance_pct),
        wind_m_s=layer(lambda period: (period.wind.low_m_s + period.wind.high_m_s) / 2),
        gust_m_s=layer(lambda period: period.wind.high_m_s),
        sky_pct=nothing,
    )


def _period(entry: object, faults: Faults) -> _Period | None:
    """One period, or None if it is blank or faulty (told)."""
    if not isinstance(entry, dict) or entry.get("startTime") is None:
        return None
    start = _moment(entry.get("startTime"), "startTime", faults)
    end = _moment(entry.get("endTime"), "endTime", faults)
    if start is None or end is None:
        return None
    if end <= start or any(moment.minute or moment.second for moment in (start, end)):
        what = "This period does not begin and end on whole hours."
        faults.add(what, _AGAIN, name="endTime", found=end.isoformat())
        return None
    return _Period(
        start=start,
        end=end,
        daytime=bool(entry.get("isDaytime")),
        t_c=_temperature(entry, faults),
        dew_point_c=_quantity(entry.get("dewpoint"), "dewpoint", _DEGREES, faults),
        humidity_pct=_quantity(entry.get("relativeHumidity"), "relativeHumidity", {"percent": SAME}, faults),
        rain_chance_pct=_quantity(
            entry.get("probabilityOfPrecipitation"), "probabilityOfPrecipitation", {"percent": SAME}, faults
        ),
        wind=_wind(entry.get("windSpeed"), faults),
    )


def _temperature(entry: Mapping[str, Any], faults: Faults) -> float:
    """As a bare number with its unit beside it, or (newer answers) with the unit inside."""
    value = entry.get("temperature")
    if not isinstance(value, dict):
        value = {"value": value, "unitCode": entry.get("temperatureUnit")}
    return _quantity(value, "temperature", _DEGREES, faults)


def _wind(value: object, faults: Faults) -> Wind:
    if value is None or value == "":
        return Wind(np.nan, np.nan)
    if isinstance(value, dict):
        low = _quantity(
            value | {"value": value.get("minValue", value.get("value"))}, "windSpeed", _SPEEDS, faults
        )
        high = _quantity(
            value | {"value": value.get("maxValue", value.get("value"))}, "windSpeed", _SPEEDS, faults
        )
        return Wind(low if np.isfinite(low) else high, high)
    try:
        return parse_wind(str(value))
    except ValueError as error:
        faults.add(str(error), "A wind reads 5 to 10 mph.", name="windSpeed", found=str(value))
        return Wind(np.nan, np.nan)


def _quantity(value: object, name: str, units: Mapping[str, Conversion], faults: Faults) -> float:
    """A number with its unit, NaN if it is null or absent; what cannot be read is told."""
    if not isinstance(value, dict) or value.get("value") is None:
        return np.nan
    number, unit = finite(value["value"]), str(value.get("unitCode")).rpartition(":")[2]
    if number is None:
        faults.add("This is no number.", _AGAIN, name=name, found=str(value["value"]))
        return np.nan
    if unit not in units:
        faults.add("This is in a unit that is not known here.", _AGAIN, name=name, found=f"{number} {unit}")
        return np.nan
    return float(units[unit].apply(np.array([number]))[0])


def _moment(text: object, name: str, faults: Faults) -> datetime | None:
    if text is None:
        return None
    try:
        return parse_moment(str(text))
    except ValueError as error:
        faults.add(str(error), "It reads 2031-05-20T18:00:00-05:00.", name=name, found=str(text))
        return None


def _day(moment: datetime) -> np.datetime64:
    return np.datetime64(moment.date(), "D")


def _clock(moment: datetime) -> StandardClock:
    """The clock the file itself shows at its first period."""
    offset = moment.utcoffset()
    assert offset is not None
    return StandardClock(
        round(offset.total_seconds() / 60), f"the clock of its first period (UTC{moment:%z})"
    )
