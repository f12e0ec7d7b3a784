"""Stations of NOAA's daily archive near a place, found by asking for one week of everything in a box around it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from math import cos, isfinite, nan, radians
from urllib.parse import urlencode

from dooryard.problem import InputError, Problem
from dooryard.weather.fetch.daily import PATH, UNITS
from dooryard.weather.fetch.obtaining import Ask, ChangedError, Desk, obtain
from dooryard.weather.fetch.parts import checker, take_apart
from dooryard.weather.readers.stations import NOT_KNOWN
from dooryard.weather.record import Station

_WANTED = ("PRCP", "TMAX", "TMIN")
_KM_A_DEGREE = 111.2  # of latitude, on a globe of the Earth's mean radius
_SETTLED = timedelta(days=21)  # by then most volunteers' cards are in
_WEEK = 7


@dataclass(frozen=True, slots=True)
class Reporting:
    """A station that reported in the week looked at. days : element name to days with a value, out of seven."""

    station: Station
    days: dict[str, int]


@dataclass(frozen=True, slots=True)
class Found:
    """Stations in the box, in no particular order; the week looked at; a warning if the answer is old."""

    stations: tuple[Reporting, ...]
    first: date
    last: date
    warning: str


def near(latitude: float, longitude: float, desk: Desk) -> Found:
    """Stations within the knowledge table's distance north, south, east and west of a place [degree].

    InputError if the service cannot say and has not said before.
    """
    last = _week_end(desk.now.date())
    first = last - timedelta(days=_WEEK - 1)
    box = _box(latitude, longitude, desk.limits.box_km)
    asked = {
        "dataset": "daily-summaries",
        "boundingBox": ",".join(f"{edge:.2f}" for edge in box),
        "startDate": first.isoformat(),
        "endDate": last.isoformat(),
        "dataTypes": ",".join(_WANTED),
        "format": "csv",
        "units": UNITS,
        "includeStationName": "true",
        "includeStationLocation": "1",
    }
    url = f"{desk.settings.daily_url}{PATH}?{urlencode(asked, safe=',-')}"
    ask = Ask(
        key=f"stations {asked['boundingBox']}",
        url=url,
        accept="text/csv",
        what=f"The list of stations around {latitude:.2f}, {longitude:.2f}",
        fresh=timedelta(days=desk.limits.point_fresh_d),
        by_hand="Look for a station's identifier on NOAA's climate data pages (the archive is called daily summaries).",
    )
    # The box of an old answer is the same, its week is not: any day is let pass.
    of_any_day = checker(date.min, date.max)

    def check(body: bytes) -> None:
        of_any_day(body)
        _reporting(body)

    got = obtain(ask, desk, check)
    return Found(_reporting(got.answer.body), first, last, got.warning)


def _week_end(today: date) -> date:
    """The last Saturday that lies three weeks back: the same question for a whole week is answered once."""
    back = today - _SETTLED
    return back - timedelta(days=(back.weekday() - 5) % 7)


def _box(latitude: float, longitude: float, reach_km: float) -> tuple[float, float, float, float]:
    """North, west, south, east [degree]. InputError beyond the reach of the archive's boxes."""
    if not abs(latitude) <= 85 or not abs(longitude) <= 179:
        what = "There are no stations to look for so near a pole or the date line."
        raise InputError(Problem(what, "Check it.", field="place", found=f"{latitude}, {longitude}"))
    up = reach_km / _KM_A_DEGREE
    across = up / cos(radians(latitude))
    return latitude + up, longitude - across, latitude - up, longitude + across


def _reporting(body: bytes) -> tuple[Reporting, ...]:
    counts: dict[str, dict[str, int]] = defaultdict(lambda: dict.fromkeys(_WANTED, 0))
    about: dict[str, dict[str, str]] = {}
    for row in take_apart(body).rows:
        about[row["STATION"]] = row
        for name in _WANTED:
            counts[row["STATION"]][name] += bool(row.get(name, "").strip())
    return tuple(Reporting(_station(row), counts[name]) for name, row in about.items())


def _station(row: dict[str, str]) -> Station:
    return Station(
        name=row.get("NAME", "").strip() or row["STATION"],
        id=row["STATION"],
        latitude=_number(row, "LATITUDE"),
        longitude=_number(row, "LONGITUDE"),
        elevation_m=_number(row, "ELEVATION"),
    )


def _number(row: dict[str, str], name: str) -> float | None:
    text = row.get(name, "").strip()
    try:
        number = float(text) if text else None
    except ValueError:
        number = nan
    if number is not None and number <= NOT_KNOWN:
        return None
    if number is not None and not isfinite(number):
        raise ChangedError(
            f"The service sent a place that is no number: {name} {text[:20]} of {row['STATION'][:20]}."
        )
    return number
