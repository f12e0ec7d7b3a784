"""A county's folder: station records, a person's own tables, sightings. Read whole; what cannot be read is told."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Literal

from dooryard import weather
from dooryard.knowledge import Knowledge
from dooryard.knowledge.county import FOLDER, with_county
from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Sighting

STATIONS = "stations"
SIGHTINGS = "sightings.csv"
ABOUT = "county.toml"
COLUMNS = ("date", "station", "organism", "sign", "sure")
_SURE: dict[str, Literal["certain", "likely", "unsure"]] = {
    "certain": "certain",
    "likely": "likely",
    "unsure": "unsure",
}
# Files that lie beside records and are none.
_OTHERS = ("forecast", "sightings", "readme", "design-rain", "gauge")
_RECORDS = (".csv", ".dly", ".gz", ".txt")


@dataclass(frozen=True)
class County:
    """What a folder holds.

    name : of the county, from county.toml or the folder. records : one for each station, in order of their names.
    knowledge : the shipped tables with the folder's own. sightings : by station. unread : stations that could not be
    read, with their problems.
    """

    name: str
    records: tuple[WeatherRecord, ...]
    knowledge: Knowledge
    sightings: dict[str, tuple[Sighting, ...]]
    unread: tuple[tuple[str, tuple[Problem, ...]], ...]


def read(folder: Path) -> County:
    """The county in a folder: records in its folder `stations`, else in itself; tables in its folder `county`.

    A record that cannot be read is kept among the unread. Raises InputError if there is no folder, no record that can
    be read, or a fault in the tables or in sightings.csv.
    """
    if not folder.is_dir():
        what = "This is no folder." if folder.exists() else "There is no such folder."
        raise InputError(Problem(what, "Name the folder that holds the station records.", str(folder)))
    tables = folder / FOLDER
    knowledge = with_county(tables if tables.is_dir() else None)
    place = folder / STATIONS if (folder / STATIONS).is_dir() else folder
    records: list[WeatherRecord] = []
    unread: list[tuple[str, tuple[Problem, ...]]] = []
    for path in _record_files(place):
        try:
            records.append(weather.read(path))
        except InputError as error:
            unread.append((path.name, error.problems))
    if not records:
        told = [problem for _, problems in unread for problem in problems]
        nothing = Problem("No station record lies in this folder.", "Put daily records into it.", str(place))
        raise InputError(told or nothing)
    named = _unique(sorted(records, key=lambda record: record.station.name))
    sightings = _sightings(folder / SIGHTINGS, [record.station.name for record in named], knowledge)
    return County(_name(folder), named, knowledge, sightings, tuple(unread))


def _name(folder: Path) -> str:
    """What county.toml calls the county, else the folder's own name in words."""
    path = folder / ABOUT
    if not path.exists():
        return folder.resolve().name.replace("-", " ")
    try:
        name = tomllib.loads(path.read_text(encoding="utf-8-sig")).get("name")
    except (tomllib.TOMLDecodeError, UnicodeDecodeError):
        name = None
    if not isinstance(name, str) or not name.strip() or "[[" in name:
        raise InputError(
            Problem("The county's name cannot be read.", 'Write one line: name = "…"', path.name)
        )
    return " ".join(name.split())


def _record_files(place: Path) -> list[Path]:
    return [
        path
        for path in sorted(place.iterdir())
        if path.is_file()
        and path.suffix.lower() in _RECORDS
        and not path.name.startswith(".")
        and not any(path.name.lower().startswith(word) for word in _OTHERS)
    ]


def _unique(records: Sequence[WeatherRecord]) -> tuple[WeatherRecord, ...]:
    """Records whose stations have names of their own; two of one name would be told as one place."""
    seen: dict[str, str] = {}
    problems = []
    for record in records:
        name = record.station.name
        if name in seen:
            what = f"Two records are of the station {name}: {seen[name]} and {record.source.path_name}."
            problems.append(Problem(what, "Keep one of them in the folder."))
        seen[name] = record.source.path_name
    if problems:
        raise InputError(problems)
    return tuple(records)


def _sightings(path: Path, stations: Sequence[str], knowledge: Knowledge) -> dict[str, tuple[Sighting, ...]]:
    """Sightings by station; nothing without the file."""
    if not path.exists():
        return {}
    found: dict[str, list[Sighting]] = {}
    problems: list[Problem] = []
    with path.open(encoding="utf-8-sig", newline="") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
        header = tuple(name.strip() for name in rows.fieldnames or ())
        if set(header) != set(COLUMNS):
            what = f"The columns are {', '.join(header) or 'missing'}."
            raise InputError(Problem(what, f"Write the header: {','.join(COLUMNS)}", path.name, 1))
        for row in rows:
            cells = {name: (row.get(name) or "").strip() for name in COLUMNS}
            faults = list(_faults(cells, stations, knowledge))
            problems += [problem.at(file=path.name, line=rows.line_num) for problem in faults]
            if not faults:
                seen = Sighting(
                    date=date.fromisoformat(cells["date"]),
                    plant=cells["station"],
                    organism=cells["organism"] or None,
                    sign=cells["sign"] or None,
                    sure=_SURE[cells["sure"]],
                )
                found.setdefault(cells["station"], []).append(seen)
    if problems:
        raise InputError(problems)
    return {station: tuple(seen) for station, seen in found.items()}


def _faults(cells: dict[str, str], stations: Sequence[str], knowledge: Knowledge) -> Iterator[Problem]:
    try:
        date.fromisoformat(cells["date"])
    except ValueError:
        yield Problem("This is not a day.", "Write it as 2031-05-20.", field="date", found=cells["date"])
    if cells["station"] not in stations:
        hint = nearest(cells["station"], stations) or f"Stations: {', '.join(stations)}."
        yield Problem("No record is of this station.", hint, field="station", found=cells["station"])
    if not cells["organism"] and not cells["sign"]:
        yield Problem("Neither an organism nor a sign is named.", "Name one of them.", field="organism")
    if cells["organism"] and cells["organism"] not in knowledge.organisms:
        hint = nearest(cells["organism"], knowledge.organisms) or "Write a key such as bagworm."
        yield Problem("No organism has this key.", hint, field="organism", found=cells["organism"])
    if cells["sure"] not in _SURE:
        yield Problem(
            "This is none of the words used here.",
            f"Write one of: {', '.join(_SURE)}.",
            field="sure",
            found=cells["sure"],
        )
