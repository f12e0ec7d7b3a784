"""NOAA's public data service: the daily record of one station, a few years at a time.

Interface: GET /access/services/data/v1 with dataset, stations, startDate, endDate, dataTypes, units, format and
include… parameters; a refusal is JSON with errorMessage, errorCode and errors.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import isfinite, nan
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import urlencode

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.fetch.obtaining import Ask, ChangedError, Desk, obtain
from dooryard.weather.fetch.parts import Rows, checker, join, last_day, take_apart
from dooryard.weather.readers.ghcn import ELEMENTS as _ELEMENTS
from dooryard.weather.record import WORDS, WeatherRecord
from dooryard.words import list_words

PATH = "/access/services/data/v1"
ELEMENTS = ("PRCP", "TMAX", "TMIN", "TAVG", "AWND", "MDPR", "DAPR")
UNITS = "metric"
_CORE = ("PRCP", "TMAX", "TMIN")
_COMMENTS = ("source: NOAA data service, daily summaries", f"units: {UNITS}")
_STATION = re.compile(r"[A-Z]{2}[A-Z0-9_.\-]{9}")
_EARLIEST = date(1763, 1, 1)  # the first day of any station in the archive


@dataclass(frozen=True, slots=True, eq=False)
class Fetched:
    """A station's record as fetched.

    content : a daily-summaries CSV that says its units; record : the same, read and checked. wanted : first and last
    day asked for. days : rows in it. first, last : of the rows. asked : questions that went out. empty : elements
    ordered of which not one value came. notes : sentences about what is not in it, of no harm. warnings : sentences
    about parts that are old or missing.
    """

    station: str
    content: bytes
    record: WeatherRecord
    wanted: tuple[date, date]
    days: int
    first: date
    last: date
    asked: int
    empty: tuple[str, ...]
    notes: tuple[str, ...]
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
    or if the stretches do not make a record that can be read; then none of them is kept.
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
    questions = [_ask(station, start, end, desk) for start, end in pieces]
    for number, ((start, end), question) in enumerate(zip(pieces, questions, strict=True), 1):
        desk.tell(f"{station}: {start.year} to {end.year}, part {number} of {len(pieces)}.")
        got = obtain(question, desk, _examiner(start, end, station, desk.limits.odd_share))
        parts.append(take_apart(got.answer.body))
        asked += got.asked
        warnings += [got.warning] if got.warning else []
    days = [date.fromisoformat(row["DATE"]) for part in parts for row in part.rows]
    if not days:
        what = f"The archive holds nothing of {station} from {first} to {last}."
        instead = 'Check the identifier; "dooryard weather fetch stations" lists those near you.'
        raise InputError(Problem(what, instead, field="station", found=station))
    content = join(parts, ELEMENTS, _COMMENTS)
    try:
        whole = _read(station, content)
    except InputError:
        for question in questions:
            desk.answers.drop(question.key)
        raise
    empty = tuple(name for name in ELEMENTS if not any(row.get(name, "").strip() for row in _all(parts)))
    notes, doubts = _lacking(pieces, parts, empty, desk)
    return Fetched(
        station=station,
        content=content,
        record=whole,
        wanted=(first, last),
        days=len(days),
        first=min(days),
        last=max(days),
        asked=asked,
        empty=empty,
        notes=notes,
        # The same reason for several stretches is told once.
        warnings=tuple(dict.fromkeys((*warnings, *doubts))),
    )


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
    return Ask(
        key=f"daily {station} {first}",
        url=url,
        accept="text/csv",
        what=f"The record of {station} from {first} to {last}",
        fresh=fresh,
        by_hand=by_hand,
        # Cut between two lines a table looks whole. So only one that reaches the last day asked for is kept for long.
        whole=lambda body: last_day(body) == last,
        brief=timedelta(hours=limits.recent_fresh_h),
    )


def _examiner(first: date, last: date, station: str, odd_share: float) -> Callable[[bytes], None]:
    """A check that an answer can be read as these days of this station, in the units ordered."""
    of_these_days = checker(first, last, station)

    def check(body: bytes) -> None:
        of_these_days(body)
        part = take_apart(body)
        if not part.rows or not set(_CORE) & set(part.header):
            return
        _check_units(part, station, odd_share)
        try:
            _read(station, join([part], ELEMENTS, _COMMENTS))
        except InputError as error:
            told = error.problems[0]
            where = " ".join(word for word in (told.field, told.found) if word)
            raise ChangedError(f"The service's table cannot be read: {where}: {told.what}") from error

    return check


def _read(station: str, content: bytes) -> WeatherRecord:
    """The table as any file of its layout is read and checked. InputError listing every fault."""
    from dooryard.weather import file

    with TemporaryDirectory() as folder:
        path = Path(folder) / f"{station}.csv"
        path.write_bytes(content)
        return file.read(path)


def _check_units(part: Rows, station: str, odd_share: float) -> None:
    """The service was asked for metric units; numbers that cannot be metric mean that it has changed.

    odd_share : of a column. So few impossible values are slips of a single day, for the record's own check to name.
    """
    from dooryard.weather.limits import limits
    from dooryard.weather.unit_choice import SYSTEMS, choose

    bounds = limits()

    def column(name: str, least: float, most: float) -> np.ndarray:
        values = np.array([_number(row, name) for row in part.rows])
        odd = (values < least) | (values > most)
        return np.where(odd, nan, values) if odd.sum() <= odd_share * len(values) else values

    degrees = (bounds.coldest_c, bounds.hottest_c)
    rain = column("PRCP", 0.0, bounds.wettest_day_mm)
    found = choose(column("TMIN", *degrees), column("TMAX", *degrees), rain, bounds)
    if UNITS in found.systems:
        return
    like = " or ".join(SYSTEMS[system] for system in found.systems) or "no units we know"
    evidence = "; ".join(found.evidence)
    raise ChangedError(
        f"The numbers of {station} came in {like}, not in the units ordered: {evidence}. Nothing was kept."
    )


def _number(row: dict[str, str], name: str) -> float:
    # A value the archive doubts must not decide about the unit.
    marks = row.get(f"{name}_ATTRIBUTES", "").split(",")
    text = row.get(name, "").strip()
    if not text or (len(marks) > 1 and marks[1].strip()):
        return nan
    try:
        number = float(text)
    except ValueError:
        number = nan
    if not isfinite(number):
        raise ChangedError(
            f"The service sent something that is no number: {name} {text[:20]} on {row['DATE']}."
        )
    return number


def _lacking(
    pieces: Sequence[tuple[date, date]], parts: Sequence[Rows], empty: Sequence[str], desk: Desk
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What was ordered and did not come, in sentences: of no harm, and what a person should know."""
    notes, doubts = [], []
    hours = f"{desk.limits.recent_fresh_h:.0f} hours"
    ends = [max((row["DATE"] for row in part.rows), default=None) for part in parts]
    filled = [at for at, end in enumerate(ends) if end is not None]
    for at in range(filled[0], filled[-1] + 1):
        start, wanted = pieces[at]
        if at == filled[-1]:
            # What follows the last row is one gap, however many stretches it goes through.
            wanted = pieces[-1][1]
        end = ends[at]
        short_d = (wanted - (start if end is None else date.fromisoformat(end))).days
        if short_d == 0:
            continue
        came = f"{start} to {wanted} was asked for, " + (
            "and nothing came" if end is None else f"the last day that came is {end}"
        )
        if short_d > desk.limits.lag_d:
            doubts.append(
                f"{came}. The station did not report, or the answer was cut short: after {hours}, "
                "or with --refresh, it is asked for again."
            )
        else:
            notes.append(f"{came}.")
    for names, told in ((_CORE, doubts), (("TAVG", "AWND"), notes)):
        lacking = [f"{WORDS[_ELEMENTS[name]]} ({name})" for name in names if name in empty]
        if lacking:
            told.append(f"Ordered, but not one value came: {list_words(lacking)}.")
    return tuple(notes), tuple(doubts)


def _all(parts: Sequence[Rows]) -> Iterator[dict[str, str]]:
    return (row for part in parts for row in part.rows)
