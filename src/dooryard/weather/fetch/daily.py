"""NOAA's public data service: the daily record of one station, a few years at a time.

Interface: GET /access/services/data/v1 with dataset, stations, startDate, endDate, dataTypes, units, format and
include… parameters; a refusal is JSON with errorMessage, errorCode and errors.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import urlencode

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.fetch.obtaining import Ask, Desk, obtain
from dooryard.weather.fetch.parts import Rows, checker, join, take_apart
from dooryard.weather.record import WeatherRecord

PATH = "/access/services/data/v1"
ELEMENTS = ("PRCP", "TMAX", "TMIN", "TAVG", "AWND", "MDPR", "DAPR")
UNITS = "metric"
_STATION = re.compile(r"[A-Z]{2}[A-Z0-9_.\-]{9}")
_EARLIEST = date(1763, 1, 1)  # the first day of any station in the archive


@dataclass(frozen=True, slots=True)
class Fetched:
    """A station's record as fetched.

    content : a daily-summaries CSV that says its units. days : rows in it. first, last : of the rows. asked :
    questions that went out. warnings : sentences about parts that are old or missing.
    """

    station: str
    content: bytes
    days: int
    first: date
    last: date
    asked: int
    warnings: tuple[str, ...]


def station_id(text: str) -> str:
    """A station's identifier as the archive writes it. InputError if the text is none."""
    found = text.strip().upper().removeprefix("GHCND:")
    if _STATION.fullmatch(found):
        return found
    what = "This is no station identifier of the daily archive."
    instead = (
        'It has eleven signs, such as USW00094846. "dooryard weather fetch stations" lists those near you.'
    )
    raise InputError(Problem(what, instead, field="station", found=text[:30]))


def record(station: str, first: date, last: date, desk: Desk) -> Fetched:
    """The daily summaries of a station from first to last (both included).

    InputError if a stretch can be had neither from the service nor from an earlier answer, if there is not one day,
    or if the numbers are not in the units ordered.
    """
    station = station_id(station)
    first = max(first, _EARLIEST)
    if first > last:
        what = f"The first day, {first}, comes after the last, {last}."
        raise InputError(Problem(what, "Give an earlier first day.", field="--from"))
    parts: list[Rows] = []
    warnings: list[str] = []
    asked = 0
    pieces = stretches(first, last, int(desk.limits.years_per_request))
    for number, (start, end) in enumerate(pieces, 1):
        desk.tell(f"{station}: {start.year} to {end.year}, part {number} of {len(pieces)}.")
        got = obtain(_ask(station, start, end, desk), desk, checker(start, end, station))
        parts.append(take_apart(got.answer.body))
        asked += got.asked
        warnings += [got.warning] if got.warning else []
    days = [date.fromisoformat(row["DATE"]) for part in parts for row in part.rows]
    if not days:
        what = f"The archive holds nothing of {station} from {first} to {last}."
        instead = 'Check the identifier; "dooryard weather fetch stations" lists those near you.'
        raise InputError(Problem(what, instead, field="station", found=station))
    comments = ("source: NOAA data service, daily summaries", f"units: {UNITS}")
    content = join(parts, ELEMENTS, comments)
    _check_units(parts, station)
    return Fetched(station, content, len(days), min(days), max(days), asked, tuple(warnings))


def read(fetched: Fetched) -> WeatherRecord:
    """The fetched record as any file of its layout is read and checked. InputError listing every fault."""
    from dooryard.weather import file

    with TemporaryDirectory() as folder:
        path = Path(folder) / f"{fetched.station}.csv"
        path.write_bytes(fetched.content)
        return file.read(path)


def stretches(first: date, last: date, years: int) -> tuple[tuple[date, date], ...]:
    """The days from first to last (both included) cut at round years, so that the same cuts come back tomorrow."""
    pieces = []
    start = first
    while start <= last:
        end = min(date(start.year - start.year % years + years - 1, 12, 31), last)
        pieces.append((start, end))
        start = end + timedelta(days=1)
    return tuple(pieces)


def address(base: str, station: str, first: date, last: date) -> str:
    """The full address of one question, which also opens in a browser."""
    asked = {
        "dataset": "daily-summaries",
        "stations": station,
        "startDate": first.isoformat(),
        "endDate": last.isoformat(),
        "dataTypes": ",".join(ELEMENTS),
        "format": "csv",
        "units": UNITS,
        "includeAttributes": "true",
        "includeStationName": "true",
        "includeStationLocation": "1",
    }
    return f"{base}{PATH}?{urlencode(asked, safe=',')}"


def _ask(station: str, first: date, last: date, desk: Desk) -> Ask:
    url = address(desk.settings.daily_url, station, first, last)
    limits = desk.limits
    settled = (desk.now.date() - last).days > limits.settled_after_d
    fresh = timedelta(days=limits.settled_fresh_d) if settled else timedelta(hours=limits.recent_fresh_h)
    by_hand = (
        f"Where there is a network, open {url} , save what it shows as {station}.csv, then run "
        f'"dooryard weather shelf add {station}.csv --layout daily-summaries-{UNITS}".'
    )
    what = f"The record of {station} from {first} to {last}"
    return Ask(f"daily {station} {first}", url, "text/csv", what, fresh, by_hand)


def _check_units(parts: list[Rows], station: str) -> None:
    """The service was asked for metric units; numbers that cannot be metric mean that it has changed."""
    from dooryard.weather.limits import limits
    from dooryard.weather.unit_choice import SYSTEMS, choose

    def column(name: str) -> np.ndarray:
        return np.array([_number(row, name) for part in parts for row in part.rows])

    found = choose(column("TMIN"), column("TMAX"), column("PRCP"), limits())
    if UNITS in found.systems:
        return
    like = " or ".join(SYSTEMS[system] for system in found.systems) or "no units we know"
    what = f"The numbers of {station} came in {like}, not in the units ordered: {'; '.join(found.evidence)}."
    raise InputError(
        Problem(what, "Nothing was kept. The service may have changed; tell who looks after this program.")
    )


def _number(row: dict[str, str], name: str) -> float:
    # A value the archive doubts must not decide about the unit.
    marks = row.get(f"{name}_ATTRIBUTES", "").split(",")
    if len(marks) > 1 and marks[1].strip():
        return float("nan")
    try:
        return float(row.get(name, "") or "nan")
    except ValueError as error:
        raise InputError(
            Problem(
                "The service sent something that is no number.",
                "Try again tomorrow.",
                field=name,
                found=row[name],
            )
        ) from error
