"""A JSON answer of the US weather service: which of its kinds it is, or a plain sentence what it is instead."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import isfinite
from typing import Any

from dooryard.problem import InputError, Problem
from dooryard.weather.forecast import Forecast
from dooryard.weather.opening import Opened
from dooryard.weather.plain_json import JsonError, read_object
from dooryard.weather.standard_clock import in_zone

_ANY_YEAR = 2000  # whether a zone is known does not depend on the year
_FETCH = "Fetch the forecast grid data of the place (the address under forecastGridData)."


def read(opened: Opened, zone: str | None = None) -> Forecast:
    """The forecast in a grid, a period or an hourly answer.

    zone : where days begin, for a grid. InputError if the text is no JSON, was cut short, or holds no forecast.
    """
    body = _body(opened)
    if zone is not None:
        # Periods have a clock of their own, but a name that is none is a slip all the same.
        in_zone(zone, _ANY_YEAR)
    return replace(_read(body, opened, zone), place=_place(body))


def _read(body: dict[str, Any], opened: Opened, zone: str | None) -> Forecast:
    properties = body.get("properties", body)
    if not isinstance(properties, dict):
        raise _not_one(opened, "This JSON is no forecast in a layout that can be read.")
    if isinstance(properties.get("periods"), list):
        from dooryard.weather.readers import forecast_periods

        return forecast_periods.read(properties, opened.name)
    if _is_layer(properties.get("temperature")) or _is_layer(properties.get("quantitativePrecipitation")):
        from dooryard.weather.readers import forecast_grid

        return forecast_grid.read(properties, opened.name, zone, longitude(body))
    if "forecastGridData" in properties:
        raise _not_one(opened, "This is the look-up of a place, which only says where its forecast is.")
    if body.get("features") is not None or "stationIdentifier" in properties:
        raise _not_one(opened, "These are observations of stations, not a forecast.")
    if "title" in body and "status" in body:
        what = f'This is no forecast but the service\'s refusal: "{str(body["title"])[:60]}".'
        raise _not_one(opened, what, "Fetch it again later.")
    raise _not_one(opened, "This JSON is no forecast in a layout that can be read.")


def longitude(body: Mapping[str, Any]) -> float | None:
    """Middle longitude [degree] of an answer's geometry, or None if it has none."""
    middle = _middle(body.get("geometry"))
    return None if middle is None else middle[1]


def _place(body: Mapping[str, Any]) -> tuple[float, float] | None:
    """Latitude and longitude [degree] a forecast is for: as it was fetched, else the middle of its cell."""
    fetched = body.get("fetched")
    if isinstance(fetched, dict):
        latitude, east = finite(fetched.get("latitude")), finite(fetched.get("longitude"))
        if latitude is not None and east is not None and abs(latitude) <= 90 and abs(east) <= 180:
            return latitude, east
    return _middle(body.get("geometry"))


def _middle(geometry: object) -> tuple[float, float] | None:
    found = [(north, east) for east, north in _pairs(geometry) if abs(east) <= 180 and abs(north) <= 90]
    if not found:
        return None
    norths, easts = zip(*found, strict=True)
    return (min(norths) + max(norths)) / 2, (min(easts) + max(easts)) / 2


def finite(value: object) -> float | None:
    """A JSON number as a float, or None if it is none or too large for one."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if isfinite(number) else None


def _pairs(geometry: object) -> Iterator[tuple[float, float]]:
    """Every longitude and latitude in a GeoJSON geometry, however deep."""
    if isinstance(geometry, dict):
        yield from _pairs(geometry.get("geometries"))
        yield from _pairs(geometry.get("coordinates"))
    elif isinstance(geometry, list):
        numbers = [finite(number) for number in geometry[:2]]
        if len(numbers) == 2 and numbers[0] is not None and numbers[1] is not None:
            yield numbers[0], numbers[1]
        else:
            for inner in geometry:
                yield from _pairs(inner)


def _is_layer(layer: object) -> bool:
    return isinstance(layer, dict) and isinstance(layer.get("values"), list)


def _body(opened: Opened) -> dict[str, Any]:
    try:
        return read_object(opened.text)
    except JsonError as error:
        raise InputError(Problem(str(error), "Fetch it again.", opened.name, error.line)) from None


def _not_one(opened: Opened, what: str, instead: str = _FETCH) -> InputError:
    return InputError(Problem(what, instead, opened.name))
