"""The US National Weather Service: which grid cell a place lies in, then that cell's forecast.

Interface: GET /points/{latitude},{longitude} names the cell; GET /gridpoints/{office}/{x},{y} gives its layers by
the hour, the same with /forecast its periods of half a day. A refusal is JSON with title, status and detail.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from dooryard.problem import InputError, Problem
from dooryard.weather.fetch.obtaining import Ask, ChangedError, Desk, Obtained, obtain

Kind = Literal["grid", "periods"]

_OFFICE = re.compile(r"[A-Z]{3}")
_ACCEPT = "application/geo+json"
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
    got = obtain(ask, desk, check_grid if kind == "grid" else check_periods)
    said = json.loads(got.answer.body)
    if cell.time_zone:
        # Only the answer about the place names the clock that the forecast's days follow.
        said["properties"].setdefault("timeZone", cell.time_zone)
    said["fetched"] = {
        "at": got.answer.fetched.isoformat(),
        "from": url,
        "latitude": latitude,
        "longitude": longitude,
        "time_zone": cell.time_zone,
        "town": cell.town,
    }
    content = json.dumps(said, ensure_ascii=False, indent=1).encode("utf-8")
    warnings = tuple(warning for warning in (point.warning, got.warning) if warning)
    return FetchedForecast(cell, content, _updated(said), point.asked + got.asked, warnings)


def check_grid(body: bytes) -> None:
    """ChangedError unless a body is a grid cell's layers, with temperatures and rain and their units."""
    properties = _properties(body)
    _updated({"properties": properties})
    for name in _LAYERS:
        layer = properties.get(name)
        if not isinstance(layer, dict) or not isinstance(layer.get("values"), list) or not layer.get("uom"):
            raise ChangedError(f"The service's forecast has changed: {name} is not as described.")
        for entry in layer["values"]:
            if not isinstance(entry, dict) or "validTime" not in entry or "value" not in entry:
                raise ChangedError(f"The service's forecast has changed: {name} is not as described.")
    if not any(entry["value"] is not None for name in _LAYERS for entry in properties[name]["values"]):
        raise ChangedError("The service's forecast is empty at present.")


def check_periods(body: bytes) -> None:
    """ChangedError unless a body is a list of periods with their times and temperatures."""
    properties = _properties(body)
    _updated({"properties": properties})
    periods = properties.get("periods")
    if not isinstance(periods, list) or not all(isinstance(period, dict) for period in periods):
        raise ChangedError("The service's forecast has changed: its periods are not as described.")
    known = [
        period for period in periods if period.get("startTime") and period.get("temperature") is not None
    ]
    if not known:
        raise ChangedError("The service's forecast is empty at present.")


def _cell(latitude: float, longitude: float, desk: Desk) -> tuple[Cell, Obtained]:
    if not abs(latitude) <= 90 or not abs(longitude) <= 180:
        what = "This is no place on Earth."
        raise InputError(
            Problem(what, "Write degrees such as 38.04, -84.50.", found=f"{latitude}, {longitude}")
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
    except (TypeError, ValueError) as error:
        raise ChangedError("The service's answer about places has changed.") from error
    near = properties.get("relativeLocation")
    named = near.get("properties", {}) if isinstance(near, dict) else {}
    town = ", ".join(
        str(named[part]) for part in ("city", "state") if isinstance(named, dict) and named.get(part)
    )
    return Cell(office, cell_x, cell_y, str(properties.get("timeZone") or ""), town)


def _properties(body: bytes) -> dict[str, Any]:
    if body.lstrip()[:1] == b"<":
        what = "A web page came instead of data: a sign-in page of your network, or the service has changed."
        raise ChangedError(what)
    try:
        said = json.loads(body)
    except ValueError as error:
        raise ChangedError("The service's answer is cut short or damaged.") from error
    properties = said.get("properties") if isinstance(said, dict) else None
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
