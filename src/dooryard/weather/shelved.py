"""A record as one columnar file and back, to the last bit, with everything that is known about where it came from."""

from __future__ import annotations

import io
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.plain_json import read_object
from dooryard.weather.record import CORE, ELEMENTS, MADE_UP, Flag, Issue, Source, Station, WeatherRecord

KEY = "dooryard.station"
VERSION = 1
_FLAG = "_flag"
_ORIGIN = "origin"
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Origin:
    """One file that went into a shelved record.

    sha256 : of the file as read. read_on : the day; program : the version that read it. first, last : its days.
    flagged : element to flag name to number of days. issues : what the reader and the check said then. note :
    how it was read (units). replaced : values it changed that an earlier file had otherwise.
    """

    path_name: str
    layout: str
    sha256: str
    note: str
    read_on: date
    program: str
    first: date
    last: date
    flagged: Mapping[str, Mapping[str, int]]
    issues: tuple[Issue, ...]
    replaced: int = 0


@dataclass(frozen=True, slots=True)
class About:
    """What a shelved file says about itself without its days being read.

    missing : element to number of days without a value. origins : the files it was made from, oldest first.
    """

    key: str
    station: Station
    first: date
    last: date
    missing: Mapping[str, int]
    complete_years: int
    origins: tuple[Origin, ...]
    issues: tuple[Issue, ...]

    @property
    def days(self) -> int:
        """Calendar days from first to last."""
        return (self.last - self.first).days + 1

    @property
    def invented(self) -> bool:
        """True if a generator made this weather, or part of it."""
        return any(issue.kind == MADE_UP for issue in self.issues)


@dataclass(frozen=True, slots=True, eq=False)
class Shelved:
    """A shelved record. origin : (days,) index into about.origins of the file each day came from."""

    about: About
    record: WeatherRecord
    origin: NDArray[np.uint8]


def origin_of(record: WeatherRecord, read_on: date, program: str, replaced: int = 0) -> Origin:
    """What will be remembered about the file a record was read from."""
    flagged: dict[str, dict[str, int]] = {}
    for name in record.elements:
        counts = np.bincount(record.flags[name], minlength=len(Flag))
        flagged[name] = {flag.name.lower(): int(counts[flag]) for flag in Flag if flag and counts[flag]}
    source = record.source
    return Origin(
        path_name=source.path_name,
        layout=source.layout,
        sha256=source.sha256,
        note=source.note,
        read_on=read_on,
        program=program,
        first=record.first,
        last=record.last,
        flagged=flagged,
        issues=record.issues,
        replaced=replaced,
    )


def shelve(
    key: str, record: WeatherRecord, origins: tuple[Origin, ...], origin: NDArray[np.uint8] | None = None
) -> Shelved:
    """A record with its origins, ready to be written. origin : as in `Shelved`; all of the last file if None."""
    whole = [set(record.complete_years(name)) for name in CORE]
    about = About(
        key=key,
        station=record.station,
        first=record.first,
        last=record.last,
        missing={name: int(np.isnan(record.element(name)).sum()) for name in record.elements},
        complete_years=len(set.intersection(*whole)),
        origins=origins,
        issues=record.issues,
    )
    if origin is None:
        origin = np.full(len(record.dates), len(origins) - 1, dtype=np.uint8)
    return Shelved(about, record, origin)


def packed(shelved: Shelved) -> bytes:
    """The bytes of a Parquet file: a row a day, values and flags of each element, and `About` as its metadata.

    The same record gives the same bytes.
    """
    import polars

    record = shelved.record
    columns: dict[str, Any] = {"date": record.dates}
    for name in record.elements:
        columns[name] = record.element(name)
        columns[name + _FLAG] = record.flags[name]
    columns[_ORIGIN] = shelved.origin
    said = {
        "version": VERSION,
        "about": asdict(shelved.about),
        "source": asdict(record.source),
    }
    text = json.dumps(said, ensure_ascii=False, sort_keys=True, default=_as_text)
    out = io.BytesIO()
    polars.DataFrame(columns).write_parquet(out, compression="zstd", metadata={KEY: text})
    return out.getvalue()


def read_about(path: Path) -> About:
    """What a shelved file says about itself. InputError if it is damaged or not ours."""
    return _about(_said(path)["about"], path)


def read(path: Path) -> Shelved:
    """A shelved record, as it was written. InputError if it is damaged or not ours."""
    import polars

    said = _said(path)
    about = _about(said["about"], path)
    try:
        table = polars.read_parquet(path)
        values = {name: _held(table[name].to_numpy()) for name in ELEMENTS if name in table.columns}
        flags = {name: _held(table[name + _FLAG].to_numpy()) for name in values}
        record = WeatherRecord(
            station=about.station,
            dates=_held(table["date"].to_numpy()),
            flags=MappingProxyType(flags),
            issues=about.issues,
            source=_made(Source, said["source"]),
            **values,
        )
        origin = _held(table[_ORIGIN].to_numpy())
    except (OSError, polars.exceptions.PolarsError, KeyError, TypeError) as error:
        raise _damaged(path) from error
    if len(record.dates) != about.days or record.first != about.first:
        raise _damaged(path)
    return Shelved(about, record, origin)


def _said(path: Path) -> dict[str, Any]:
    import polars

    try:
        said = read_object(polars.read_parquet_metadata(path)[KEY])
        if said["version"] != VERSION:
            what = "This shelved record was written by another version of the program."
            raise InputError(Problem(what, "Add its file to the shelf again.", str(path)))
    except (OSError, polars.exceptions.PolarsError, KeyError, ValueError, TypeError) as error:
        raise _damaged(path) from error
    return said


def _about(said: dict[str, Any], path: Path) -> About:
    try:
        return _made(
            About,
            {
                **said,
                "station": _made(Station, said["station"]),
                "first": date.fromisoformat(said["first"]),
                "last": date.fromisoformat(said["last"]),
                "origins": tuple(_origin(origin) for origin in said["origins"]),
                "issues": _issues(said["issues"]),
            },
        )
    except (KeyError, TypeError, ValueError) as error:
        raise _damaged(path) from error


def _origin(said: dict[str, Any]) -> Origin:
    dates = {name: date.fromisoformat(said[name]) for name in ("read_on", "first", "last")}
    return _made(Origin, {**said, **dates, "issues": _issues(said["issues"])})


def _issues(said: list[dict[str, Any]]) -> tuple[Issue, ...]:
    issues = []
    for one in said:
        dates = {
            name: None if one[name] is None else date.fromisoformat(one[name]) for name in ("first", "last")
        }
        issues.append(_made(Issue, {**one, **dates}))
    return tuple(issues)


def _made(kind: type[_T], said: Mapping[str, Any]) -> _T:
    """A record of a kind from a mapping; a key an older or newer version had besides is passed over."""
    known = {one.name for one in fields(kind)}  # type: ignore[arg-type]
    return kind(**{name: value for name, value in said.items() if name in known})


def _held(values: NDArray[Any]) -> NDArray[Any]:
    values.setflags(write=False)
    return values


def _as_text(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} cannot be written")


def _damaged(path: Path) -> InputError:
    return InputError(
        Problem("This shelved record is damaged or no record.", "Add its file to the shelf again.", str(path))
    )
