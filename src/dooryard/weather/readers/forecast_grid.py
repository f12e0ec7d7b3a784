"""The US weather service's forecast grid: layers of values over intervals, laid on hours and gathered to days."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from math import inf
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.conversion import FAHRENHEIT, MILES_AN_HOUR, SAME, Conversion
from dooryard.weather.forecast import Forecast, ForecastHours
from dooryard.weather.forecast_days import gather
from dooryard.weather.intervals import Hours, Interval, parse_interval, parse_moment, span, spread
from dooryard.weather.opening import Faults
from dooryard.weather.readers.forecast_json import finite
from dooryard.weather.record import Floats, as_date
from dooryard.weather.standard_clock import StandardClock, by_longitude, in_zone

UNITS: Mapping[str, Conversion] = MappingProxyType(
    {
        "degC": SAME,
        "degF": FAHRENHEIT,
        "mm": SAME,
        "in": Conversion(multiply=25.4),
        "km_h-1": Conversion(divide=3.6),
        "m_s-1": SAME,
        "kt": Conversion(multiply=1852.0, divide=3600.0),
        "mi_h-1": MILES_AN_HOUR,
        "percent": SAME,
    }
)
"""Unit of a layer, without the vocabulary before its colon, to ours."""


class _Kind(NamedTuple):
    name: str
    units: tuple[str, ...]
    kind: Literal["level", "amount"] = "level"
    least: float = -inf
    most: float = inf


_DEGREES = ("degC", "degF")
_SPEEDS = ("km_h-1", "m_s-1", "kt", "mi_h-1")
_LAYERS = (
    _Kind("temperature", _DEGREES),
    _Kind("maxTemperature", _DEGREES),
    _Kind("minTemperature", _DEGREES),
    _Kind("dewpoint", _DEGREES),
    _Kind("relativeHumidity", ("percent",), least=0.0, most=100.0),
    _Kind("quantitativePrecipitation", ("mm", "in"), "amount", least=0.0),
    _Kind("probabilityOfPrecipitation", ("percent",), least=0.0, most=100.0),
    _Kind("windSpeed", _SPEEDS, least=0.0),
    _Kind("windGust", _SPEEDS, least=0.0),
    _Kind("skyCover", ("percent",), least=0.0, most=100.0),
)


class _Layer(NamedTuple):
    intervals: list[Interval]
    values: list[float]


def read(properties: Mapping[str, Any], source: str, zone: str | None, longitude: float | None) -> Forecast:
    """The forecast of a grid answer's properties.

    zone : names the clock that days follow; else the answer's own timeZone, else the sun at `longitude`.
    InputError listing every interval, unit or value that cannot be read.
    """
    faults = Faults(source)
    layers = {kind.name: _layer(properties.get(kind.name), kind, faults) for kind in _LAYERS}
    made_at = _made_at(properties, faults)
    faults.raise_any()
    hourly = [layers[name].intervals for name in ("temperature", "quantitativePrecipitation")]
    if not any(hourly):
        raise InputError(
            Problem("This forecast is empty: no temperature and no rain in it.", "Fetch it again.", source)
        )
    try:
        first, count = span(hourly)
    except ValueError as error:
        raise InputError(Problem(str(error), "Fetch the forecast again.", source)) from None
    clock = _clock(zone or properties.get("timeZone"), as_date(first).year, longitude, source)
    hours = _hours(layers, clock, first, count)
    return gather(
        hours,
        highs=_by_day(layers["maxTemperature"], clock, "start"),
        lows=_by_day(layers["minTemperature"], clock, "end"),
        issued=None if made_at is None else clock.day(made_at),
        made_at=made_at,
        source=source,
        layout="grid",
    )


def _layer(layer: object, kind: _Kind, faults: Faults) -> _Layer:
    """A layer's intervals and values in our units; nulls are left out, faults are told."""
    found = _Layer([], [])
    entries = layer.get("values") if isinstance(layer, dict) else None
    if not isinstance(layer, dict) or not isinstance(entries, list) or not entries:
        return found
    unit = str(layer.get("uom", "")).rpartition(":")[2]
    if unit not in kind.units:
        instead = f"Units read here: {', '.join(kind.units)}. The service may have changed; fetch it anew."
        faults.add(
            "This layer is in a unit that is not known here.", instead, name=kind.name, found=unit or "none"
        )
        return found
    for entry in entries:
        time, value = (
            (entry.get("validTime"), entry.get("value")) if isinstance(entry, dict) else (None, "none")
        )
        if value is None:
            continue
        number = finite(value)
        if number is None:
            faults.add("This is no number.", "Fetch the forecast again.", name=kind.name, found=str(value))
            continue
        if not kind.least <= number <= kind.most:
            what = f"This is {'below' if number < kind.least else 'above'} what there can be."
            instead = f"It lies over {time}. Fetch the forecast again; nothing of it was used."
            faults.add(what, instead, name=kind.name, found=f"{number:g}")
            continue
        try:
            found.intervals.append(parse_interval(str(time)))
        except ValueError as error:
            instead = "An interval reads 2031-05-20T21:00:00+00:00/PT6H."
            faults.add(str(error), instead, name=kind.name, found=str(time))
            continue
        found.values.append(number)
    converted: list[float] = UNITS[unit].apply(np.array(found.values, dtype=np.float64)).tolist()
    return _Layer(found.intervals, converted)


def _hours(
    layers: Mapping[str, _Layer], clock: StandardClock, first: np.datetime64, count: int
) -> ForecastHours:
    laid: dict[str, Floats] = {
        kind.name: spread(*layers[kind.name], first, count, kind.kind) for kind in _LAYERS
    }
    every: Hours = first + np.arange(count)
    return ForecastHours(
        local=clock.local(every),
        clock=clock.words,
        t_c=laid["temperature"],
        dew_point_c=laid["dewpoint"],
        humidity_pct=laid["relativeHumidity"],
        rain_mm=laid["quantitativePrecipitation"],
        rain_chance_pct=laid["probabilityOfPrecipitation"],
        wind_m_s=laid["windSpeed"],
        gust_m_s=laid["windGust"],
        sky_pct=laid["skyCover"],
    )


def _by_day(
    layer: _Layer, clock: StandardClock, belongs: Literal["start", "end"]
) -> dict[np.datetime64, float]:
    """A layer of one value a day: the day on which its stretch starts (a high) or ends (a low, at dawn)."""
    if not layer.intervals:
        return {}
    edge = [
        interval.first + np.timedelta64(0 if belongs == "start" else interval.hours, "h")
        for interval in layer.intervals
    ]
    days = clock.local(np.array(edge)).astype("datetime64[D]")
    return dict(zip(days, layer.values, strict=True))


def _clock(zone: object, year: int, longitude: float | None, source: str) -> StandardClock:
    if zone:
        return in_zone(str(zone), year)
    if longitude is None:
        what = "This forecast does not say where it is, so it is not known when its days begin."
        raise InputError(Problem(what, "Say its time zone, such as America/Chicago.", source, field="zone"))
    return by_longitude(longitude)


def _made_at(properties: Mapping[str, Any], faults: Faults) -> datetime | None:
    text = properties.get("updateTime") or properties.get("generatedAt")
    if text is None:
        return None
    try:
        return parse_moment(str(text))
    except ValueError as error:
        faults.add(str(error), "It reads 2031-05-20T21:00:00+00:00.", name="updateTime", found=str(text))
        return None
