"""The station shelf: records kept as one file a station, with all that is known about where they came from.

Each is a Parquet file under its key, written whole or not at all. A file added twice changes nothing; a newer file of
the same station is merged with the older.
"""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal

import numpy as np

from dooryard import __version__
from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.file import SHELF
from dooryard.weather.merging import merge
from dooryard.weather.record import Flag, Station, WeatherRecord
from dooryard.weather.shelf_limits import limits
from dooryard.weather.shelved import About, Shelved, origin_of, packed, read, read_about, shelve
from dooryard.weather.writing import replace_file

_SUFFIX = ".parquet"
_MOST_FILES = 255  # a day's origin is one byte

Change = Literal["new", "unchanged", "merged", "replaced"]


@dataclass(frozen=True, slots=True)
class Added:
    """What adding a file did. replaced : values it changed that the shelf had otherwise."""

    about: About
    change: Change
    replaced: int = 0


@dataclass(frozen=True, slots=True)
class Shelf:
    """The folder of shelved records."""

    folder: Path

    def add(
        self,
        record: WeatherRecord,
        on: date,
        *,
        key: str | None = None,
        station: Station | None = None,
        afresh: bool = False,
    ) -> Added:
        """Put a record on the shelf, or into the one that stands there.

        on : today, for the provenance. key : its name on the shelf; else the station's identifier, its name or that
        of the file. station : particulars the file lacks (an empty or None part says nothing). afresh : forget what
        the shelf had. InputError if it is plainly another station than the one under that key.
        """
        if station is not None:
            record = replace(record, station=_completed(record.station, station))
        stem = record.source.path_name.split(".")[0]
        key = key_for(key or record.station.id or record.station.name or stem)
        path = self._path(key)
        if afresh or not path.exists():
            shelved = shelve(key, record, (origin_of(record, on, __version__),))
            change: Change = "replaced" if path.exists() else "new"
            replace_file(path, packed(shelved))
            return Added(shelved.about, change)
        standing = read(path)
        origins = standing.about.origins
        same = [at for at, origin in enumerate(origins) if origin.sha256 == record.source.sha256]
        if same and _read_alike(standing, same[0], record, station):
            return Added(standing.about, "unchanged")
        at = same[0] if same else len(origins)
        if at >= _MOST_FILES:
            what = f"{key} was put together from {_MOST_FILES} files already."
            raise InputError(Problem(what, "Add the newest with --replace.", str(path)))
        if same:
            record = _own_days(record, standing, at)
        merged = merge(standing.record, record, limits(), again=bool(same))
        note = origin_of(record, on, __version__, merged.replaced)
        origins = (*origins[:at], note, *origins[at + 1 :])
        whole = replace(
            merged.record,
            source=replace(
                merged.record.source,
                path_name=", ".join(dict.fromkeys(origin.path_name for origin in origins)),
                sha256=_joint([origin.sha256 for origin in origins]),
            ),
        )
        start = int((standing.record.dates[0] - whole.dates[0]).astype(int))
        origin_of_day = np.full(len(whole.dates), at, dtype=np.uint8)
        origin_of_day[start : start + len(standing.origin)] = standing.origin
        origin_of_day[merged.from_new] = at
        shelved = shelve(key, whole, origins, origin_of_day)
        replace_file(path, packed(shelved))
        return Added(shelved.about, "merged", merged.replaced)

    def record(self, word: str) -> WeatherRecord:
        """The record under a key, or of the station with that identifier or name. InputError if there is none."""
        return self.shelved(word).record

    def shelved(self, word: str) -> Shelved:
        """The same with its provenance."""
        return read(self.find(word))

    def find(self, word: str) -> Path:
        """The file of a station by its key, identifier or name. InputError with a near spelling if there is none."""
        word = word.removeprefix(SHELF).strip()
        if word and self._path(key_for(word)).exists():
            return self._path(key_for(word))
        held, _ = self.contents()
        for about in held:
            if word and word.lower() in (about.station.id.lower(), about.station.name.lower()):
                return self._path(about.key)
        known = [about.key for about in held]
        instead = nearest(word, known) or (
            f"On the shelf: {', '.join(known[:8])}."
            if known
            else 'Put one there with "dooryard weather shelf add FILE".'
        )
        raise InputError(
            Problem("There is no such station on the shelf.", instead, str(self.folder), found=word)
        )

    def contents(self) -> tuple[tuple[About, ...], tuple[Problem, ...]]:
        """What each record says about itself, in the order of their keys, and what is wrong with the others.

        InputError if the folder is a file. One that is not there yet is an empty shelf.
        """
        if self.folder.exists() and not self.folder.is_dir():
            what = "This is a file, and a shelf is a folder."
            raise InputError(Problem(what, "Name a folder.", str(self.folder), field="--shelf"))
        held: list[About] = []
        problems: list[Problem] = []
        for path in sorted(self.folder.glob(f"*{_SUFFIX}")):
            try:
                held.append(read_about(path))
            except InputError as error:
                problems += error.problems
        return tuple(held), tuple(problems)

    def remove(self, word: str) -> About | None:
        """Take a record off the shelf; what it said about itself, None if it was damaged."""
        path = self.find(word)
        try:
            about = read_about(path)
        except InputError:
            about = None
        try:
            path.unlink()
        except OSError as error:
            what = f"It cannot be taken off the shelf: {error.strerror or error}."
            raise InputError(Problem(what, "Check who may write there.", str(path))) from error
        return about

    def _path(self, key: str) -> Path:
        return self.folder / f"{key}{_SUFFIX}"


def key_for(text: str) -> str:
    """A key any file system takes: lower case letters, digits and hyphens. InputError if nothing is left."""
    key = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:60].strip("-")
    if not key:
        what = "A station on the shelf needs a key of letters and digits."
        raise InputError(
            Problem(what, "Give one with --key, such as creek-bottom.", field="key", found=text[:30])
        )
    # Some systems cannot name a file so, whatever its ending.
    return f"{key}-station" if re.fullmatch(r"con|prn|aux|nul|com\d|lpt\d", key) else key


def _read_alike(standing: Shelved, at: int, record: WeatherRecord, station: Station | None) -> bool:
    """True if these bytes were read before by this program, in the same layout and units, and nothing new is said."""
    before = standing.about.origins[at]
    now = (__version__, record.source.layout, record.source.note)
    known = standing.about.station
    return (before.program, before.layout, before.note) == now and (
        station is None or _completed(known, station) == known
    )


def _own_days(record: WeatherRecord, standing: Shelved, at: int) -> WeatherRecord:
    """A file read anew, with only the days it still speaks for: those of newer files stay theirs."""
    start = int((record.dates[0] - standing.record.dates[0]).astype(int))
    where = np.arange(len(record.dates)) + start
    inside = (where >= 0) & (where < len(standing.origin))
    others = np.zeros(len(record.dates), dtype=bool)
    others[inside] = standing.origin[where[inside]] != at
    values: dict[str, Any] = {
        name: np.where(others, np.nan, record.element(name)) for name in record.elements
    }
    flags = {name: np.where(others, np.uint8(Flag.MISSING), codes) for name, codes in record.flags.items()}
    return replace(record, flags=MappingProxyType(flags), **values)


def _completed(station: Station, more: Station) -> Station:
    """A station with the particulars that `more` gives in place of its own."""
    return Station(
        name=more.name or station.name,
        id=more.id or station.id,
        latitude=station.latitude if more.latitude is None else more.latitude,
        longitude=station.longitude if more.longitude is None else more.longitude,
        elevation_m=station.elevation_m if more.elevation_m is None else more.elevation_m,
    )


def _joint(hashes: list[str]) -> str:
    return hashes[0] if len(hashes) == 1 else hashlib.sha256("\n".join(hashes).encode()).hexdigest()
