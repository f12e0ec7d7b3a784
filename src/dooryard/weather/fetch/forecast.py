"""The US National Weather Service: which grid cell a place lies in, then that cell's forecast.

Interface: GET /points/{latitude},{longitude} names the cell; GET /gridpoints/{office}/{x},{y} gives its layers by
the hour, the same with /forecast its periods of half a day. A refusal is JSON with title, status and detail.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from dooryard.problem import InputError, Problem
from dooryard.weather import forecast as reader
from dooryard.weather.distance import great_circle_km
from dooryard.weather.fetch.obtaining import Ask, ChangedError, Desk, Obtained, age_words, obtain
from dooryard.weather.opening import Opened
from dooryard.weather.plain_json import JsonError, read_object
from dooryard.weather.shelf_limits import limits
from dooryard.weather.standard_clock import in_zone

Kind = Literal["grid", "periods"]

_OFFICE = re.compile(r"[A-Z]{3}")
_ACCEPT = "application/geo+json"
_ANY_YEAR = 2000  # whether a zone is known does not depend on the year
_LAYERS = ("temperature", "maxTemperature", "minTemperature", "quantitativePrecipitation")


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of the forecast grid: the office that makes it, its place in the grid, its clock, the nearest town."""

    office: str
    x: int
    y: int
    time_zone: str
    town: str


@dataclass(frozen=True, slots=True)
class FetchedForecast:
    """A forecast as fetched.

    content : the service's JSON with one member of ours, `fetched` (when, for which place, in which time zone).
    updated : when the service made it. asked : questions that went out. warnings : sentences about what is old.
    """

    cell: Cell
    content: bytes
    updated: datetime
    asked: int
    warnings: tuple[str, ...]


def forecast(latitude: float, longitude: float, desk: Desk, *, kind: Kind = "grid") -> FetchedForecast:
    """The forecast for a place [degree]. InputError if it can be had neither now nor from an earlier answer."""
    cell, point = _cell(latitude, longitude, desk)
    tail = "" if kind == "grid" else "/forecast"
    url = f"{desk.settings.forecast_url}/gridpoints/{cell.office}/{cell.x},{cell.y}{tail}"
    ask = Ask(
        key=f"forecast {kind} {cell.office} {cell.x} {cell.y}",
        url=url,
        accept=_ACCEPT,
        what=f"The forecast for {_spot(latitude)}, {_spot(longitude)}",
        fresh=timedelta(hours=desk.limits.forecast_fresh_h),
        by_hand=_by_hand(url),
    )
    place = (latitude, longitude)
    got = obtain(ask, desk, _examiner(cell, place, _LAYERS if kind == "grid" else ()))
    said = read_object(_with_clock(got.answer.body, cell))
    said["fetched"] = {
        "at": got.answer.fetched.isoformat(),
        "from": url,
        "latitude": latitude,
        "longitude": longitude,
        "time_zone": cell.time_zone,
        "town": cell.town,
    }
    content = json.dumps(said, ensure_ascii=False, indent=1).encode("utf-8")
    updated = _updated(said)
    warnings = tuple(
        warning for warning in (point.warning, got.warning, _stale(updated, desk.now)) if warning
    )
    return FetchedForecast(cell, content, updated, point.asked + got.asked, warnings)


def _stale(updated: datetime, now: datetime) -> str:
    """A warning if the service's own forecast is old, however short a while ago it was fetched."""
    from dooryard import knowledge

    age = now - updated
    if age <= timedelta(days=knowledge.load().fact("weather.forecast.stale_d").value):
        return ""
    return f"The service made this forecast {age_words(age)} ago; it may have stopped making new ones."


def _examiner(cell: Cell, place: tuple[float, float], layers: tuple[str, ...]) -> Callable[[bytes], None]:
    """A check that a body is a forecast with these layers, as any file of its layout is read and checked.

    It raises ChangedError. place : latitude and longitude asked for [degree]. layers : names; none for periods.
    """

    def check(body: bytes) -> None:
        properties = _properties(body)
        _updated({"properties": properties})
        for name in layers:
            layer = properties.get(name)
            if (
                not isinstance(layer, dict)
                or not isinstance(layer.get("values"), list)
                or not layer.get("uom")
            ):
                raise ChangedError(f"The service's forecast has changed: {name} is not as described.")
        periods = properties.get("periods")
        if not layers and not (isinstance(periods, list) and all(isinstance(one, dict) for one in periods)):
            raise ChangedError("The service's forecast has changed: its periods are not as described.")
        opened = Opened("the answer", _with_clock(body, cell), "")
        try:
            found = reader.understand(opened)
        except InputError as error:
            told = error.problems[0]
            where = " ".join(word for word in (told.field, told.found) if word)
            more = len(error.problems) - 1
            rest = (
                f" There {'is 1 more fault' if more == 1 else f'are {more} more faults'} in it."
                if more
                else ""
            )
            at = f" ({where})" if where else ""
            raise ChangedError(f"The service's forecast cannot be read. {told.what}{at}{rest}") from error

        away_km = 0.0 if found.place is None else great_circle_km(*found.place, *place)
        if away_km > limits().far_km:
            raise ChangedError(f"The service answered with the forecast of a place {away_km:,.0f} km away.")

    return check


def _with_clock(body: bytes, cell: Cell) -> bytes:
    """A forecast that says which clock its days follow: only the answer about the place names it."""
    said = read_object(body)
    if cell.time_zone:
        said["properties"].setdefault("timeZone", cell.time_zone)
    return json.dumps(said, ensure_ascii=False).encode("utf-8")


def _cell(latitude: float, longitude: float, desk: Desk) -> tuple[Cell, Obtained]:
    if not abs(latitude) <= 90 or not abs(longitude) <= 180:
        what = "This is no place on Earth."
        raise InputError(
            Problem(
                what, "Write degrees such as 38.04, -84.50.", field="place", found=f"{latitude}, {longitude}"
            )
        )
    place = f"{_spot(latitude)},{_spot(longitude)}"
    url = f"{desk.settings.forecast_url}/points/{place}"
    ask = Ask(
        key=f"point {place}",
        url=url,
        accept=_ACCEPT,
        what=f"The forecast's grid cell for {place.replace(',', ', ')}",
        fresh=timedelta(days=desk.limits.point_fresh_d),
        by_hand=_by_hand(f"{url} and from there the address under forecastGridData"),
    )

    def check(body: bytes) -> None:
        read_cell(body)

    got = obtain(ask, desk, check)
    return read_cell(got.answer.body), got


def read_cell(body: bytes) -> Cell:
    """The cell a points answer names. ChangedError if it names none (places outside the United States have none)."""
    properties = _properties(body)
    office, x, y = properties.get("gridId"), properties.get("gridX"), properties.get("gridY")
    if office is None or x is None or y is None:
        raise ChangedError("The service has no forecast for this place; it serves the United States only.")
    # Built from these parts and not from the addresses in the answer, so that no other host is ever asked.
    if not isinstance(office, str) or not _OFFICE.fullmatch(office):
        raise ChangedError("The service's answer about places has changed.")
    try:
        cell_x, cell_y = int(x), int(y)
    except (TypeError, ValueError, OverflowError) as error:
        raise ChangedError("The service's answer about places has changed.") from error
    near = properties.get("relativeLocation")
    named = near.get("properties", {}) if isinstance(near, dict) else {}
    town = ", ".join(
        str(named[part]) for part in ("city", "state") if isinstance(named, dict) and named.get(part)
    )
    return Cell(office, cell_x, cell_y, _known_zone(properties.get("timeZone")), town)


def _known_zone(name: object) -> str:
    """A time zone of the answer if this computer knows it; else none, and the forecast's days follow the sun."""
    if not isinstance(name, str) or not name:
        return ""
    try:
        in_zone(name, _ANY_YEAR)
    except InputError:
        return ""
    return name


def _properties(body: bytes) -> dict[str, Any]:
    if body.lstrip()[:1] == b"<":
        what = "A web page came instead of data: a sign-in page of your network, or the service has changed."
        raise ChangedError(what)
    try:
        properties = read_object(body).get("properties")
    except JsonError as error:
        raise ChangedError(f"The service's answer cannot be read. {error}") from error
    if not isinstance(properties, dict):
        raise ChangedError("The service's answer has changed: it holds no forecast.")
    return properties


def _updated(said: dict[str, Any]) -> datetime:
    text = said["properties"].get("updateTime")
    try:
        return datetime.fromisoformat(text)
    except (TypeError, ValueError) as error:
        raise ChangedError("The service's forecast does not say when it was made.") from error


def _spot(degrees: float) -> str:
    """Four decimals without trailing zeros: the one spelling the service does not send on to another address."""
    return f"{round(degrees, 4) + 0.0:.4f}".rstrip("0").rstrip(".")


def _by_hand(address: str) -> str:
    return (
        f"Where there is a network, open {address} , save what it shows as forecast.json, then run "
        '"dooryard plan YARD --forecast forecast.json".'
    )
