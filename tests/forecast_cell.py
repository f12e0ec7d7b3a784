"""A place and its forecast as the Weather Service answers, made for any day."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Any


def point() -> dict[str, Any]:
    """The answer about a place near Louisville's office."""
    return {
        "properties": {
            "gridId": "LMK",
            "gridX": 50,
            "gridY": 60,
            "timeZone": "America/Kentucky/Louisville",
            "relativeLocation": {"properties": {"city": "Shelbyville", "state": "KY"}},
        }
    }


def layer(unit: str, values: list[tuple[str, float | None]]) -> dict[str, Any]:
    """One layer of a grid cell."""
    return {
        "uom": f"wmoUnit:{unit}",
        "values": [{"validTime": when, "value": value} for when, value in values],
    }


def grid(day: date) -> dict[str, Any]:
    """Three days of a grid cell from 10 UTC of a day: 20 degC and no rain."""
    start = datetime.combine(day, time(10), UTC)
    hours = [(start + timedelta(hours=step)).isoformat() + "/PT1H" for step in range(72)]
    whole = start.isoformat() + "/PT72H"
    return {
        "geometry": {"type": "Polygon", "coordinates": [[[-85.12, 38.2], [-85.1, 38.2], [-85.1, 38.22]]]},
        "properties": {
            "updateTime": (start - timedelta(hours=1)).isoformat(),
            "temperature": layer("degC", [(hour, 20.0) for hour in hours]),
            "maxTemperature": layer("degC", [(f"{start.isoformat()}/PT13H", 25.0)]),
            "minTemperature": layer("degC", [(f"{(start + timedelta(hours=14)).isoformat()}/PT14H", 14.0)]),
            "quantitativePrecipitation": layer("mm", [(whole, 0.0)]),
        },
    }
