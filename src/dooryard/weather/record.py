"""A station's daily weather: every calendar day from first to last, with what is missing kept missing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import IntEnum
from types import MappingProxyType
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]
Days = NDArray[np.datetime64]
Codes = NDArray[np.uint8]

CORE = ("t_min_c", "t_max_c", "rain_mm")
OPTIONAL = ("t_mean_c", "wind_m_s", "dew_point_c", "solar_mj_m2", "humidity_pct")
ELEMENTS = CORE + OPTIONAL

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "t_min_c": "lowest temperature",
        "t_max_c": "highest temperature",
        "rain_mm": "rain",
        "t_mean_c": "mean temperature",
        "wind_m_s": "wind",
        "dew_point_c": "dew point",
        "solar_mj_m2": "sunshine",
        "humidity_pct": "humidity",
    }
)


MADE_UP = "invented"
"""Kind of the issue of a record that a generator made: nobody measured it."""

STATED = "stated"
"""Kind of the issue of values that look as if in another unit, and were kept because the unit is known."""


class Flag(IntEnum):
    """How one value of one day came about. Only the first two, ESTIMATED and MOVED carry a number."""

    OBSERVED = 0
    TRACE = 1  # rain that wets and cannot be measured: 0.0 mm, but not a dry day
    ACCUMULATED = 2  # part of a total over several days, never spread over them: NaN
    ESTIMATED = 3  # the publisher filled or presumed it
    SUSPECT = 4  # the publisher's check or ours refused it: NaN
    MISSING = 5  # NaN
    MOVED = 6  # measured at the station, then moved to the yard by a difference that was measured there


@dataclass(frozen=True, slots=True)
class Station:
    """Who measured. Latitude, longitude [degree] and elevation [m] only if the file carries them."""

    name: str
    id: str = ""
    latitude: float | None = None
    longitude: float | None = None
    elevation_m: float | None = None


@dataclass(frozen=True, slots=True)
class Issue:
    """What a person must know about a record.

    kind : one word (gap, units, quality, trace, accumulated, suspect, filled, dates, …).
    text : one or two plain sentences.
    first, last, days : when, and how many days are touched (0 if it concerns the record as a whole).
    instead : what was done about it, or what to do.
    evidence : the numbers the finding rests on, in words (empty if the text says it all).
    element : name of the element it concerns, such as "rain_mm" (empty if several, or none).
    """

    kind: str
    text: str
    first: date | None = None
    last: date | None = None
    days: int = 0
    instead: str = ""
    evidence: str = ""
    element: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """Which file, in which layout, with the SHA-256 of its bytes (empty for a record made by the program)."""

    path_name: str
    layout: str
    sha256: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class WeatherRecord:
    """One station's days. All arrays have shape (days,), last axis time, and cannot be written to.

    dates : every calendar day from first to last, datetime64[D].
    t_min_c, t_max_c [degC], rain_mm [mm] : NaN where missing, suspect or part of a several-day total.
    t_mean_c, wind_m_s, dew_point_c, solar_mj_m2, humidity_pct : None if the file has no such column.
    flags : element name to `Flag` codes, for every element that is not None.
    issues : what a person must know, as found by reader and quality check.
    """

    station: Station
    dates: Days
    t_min_c: Floats
    t_max_c: Floats
    rain_mm: Floats
    flags: Mapping[str, Codes]
    issues: tuple[Issue, ...]
    source: Source
    t_mean_c: Floats | None = None
    wind_m_s: Floats | None = None
    dew_point_c: Floats | None = None
    solar_mj_m2: Floats | None = None
    humidity_pct: Floats | None = None

    @property
    def first(self) -> date:
        """The first calendar day."""
        return as_date(self.dates[0])

    @property
    def last(self) -> date:
        """The last calendar day."""
        return as_date(self.dates[-1])

    @property
    def elements(self) -> tuple[str, ...]:
        """Names of the elements this record has, in a fixed order."""
        return tuple(name for name in ELEMENTS if getattr(self, name) is not None)

    @property
    def invented(self) -> bool:
        """True if a generator made this weather, or part of it: never evidence, never for filling gaps."""
        return any(issue.kind == MADE_UP for issue in self.issues)

    def element(self, name: str) -> Floats:
        """The values of one element by name. KeyError if the record has none."""
        values: Floats | None = getattr(self, name) if name in ELEMENTS else None
        if values is None:
            raise KeyError(name)
        return values

    def position(self, day: date) -> int:
        """Index of a calendar day. IndexError if it is outside the record."""
        index = (day - self.first).days
        if not 0 <= index < len(self.dates):
            raise IndexError(f"{day} is outside the record ({self.first} to {self.last})")
        return index

    def until(self, on: date) -> WeatherRecord:
        """What was known on the morning of `on`: the days before it.

        If the record stops earlier, days up to the eve of `on` are added as MISSING and an issue says so.
        Issues that begin on or after `on` are left out. InputError if the record begins on or after `on`.
        """
        if on <= self.first:
            raise InputError(
                Problem(
                    f"The weather record begins on {self.first}, which is not before {on}.",
                    "Give a record that begins earlier, or a later day.",
                    file=self.source.path_name,
                )
            )
        length = (on - self.first).days
        short = length - len(self.dates)
        issues = tuple(issue for issue in self.issues if issue.first is None or issue.first < on)
        if short > 0:
            issues += (
                Issue(
                    "gap",
                    f"The record stops on {self.last}, {short} days before {on}.",
                    first=self.last + timedelta(days=1),
                    last=on - timedelta(days=1),
                    days=short,
                    instead="These days count as missing. Fetch the newer days of the station.",
                ),
            )
        values: dict[str, Any] = {name: _fitted(self.element(name), length, np.nan) for name in self.elements}
        flags = {name: _fitted(codes, length, Flag.MISSING) for name, codes in self.flags.items()}
        dates = np.arange(self.dates[0], self.dates[0] + np.timedelta64(length, "D"))
        return replace(self, dates=_frozen(dates), flags=MappingProxyType(flags), issues=issues, **values)

    def complete_years(self, element: str, allowed_missing: int = 0) -> tuple[int, ...]:
        """Calendar years the record covers from 1 January to 31 December with enough values of `element`."""
        years = self.dates.astype("datetime64[Y]").astype(int) + 1970
        # Years are in order already: np.unique would cost 7 ms the first time, for loading the masked arrays.
        start = np.flatnonzero(np.diff(years, prepend=years[0] - 1))
        found, days = years[start], np.diff(start, append=len(years))
        missing = np.add.reduceat(np.isnan(self.element(element)).astype(int), start)
        length = np.where((found % 4 == 0) & ((found % 100 != 0) | (found % 400 == 0)), 366, 365)
        return tuple(int(year) for year in found[(days == length) & (missing <= allowed_missing)])


def as_date(day: np.datetime64) -> date:
    """A NumPy day as a plain date."""
    return date.fromordinal(int(day.astype("datetime64[D]").astype(int)) + _EPOCH)


def on_calendar(
    station: Station,
    dates: Days,
    values: Mapping[str, Floats],
    flags: Mapping[str, Codes],
    issues: tuple[Issue, ...],
    source: Source,
) -> WeatherRecord:
    """Rows as a file gives them, laid on the calendar: absent dates become days with everything missing.

    dates : (rows,) strictly increasing. values, flags : element name to (rows,). A core element that is
    absent becomes a column of NaN; an optional one stays None. NaN with flag OBSERVED is turned into MISSING.
    """
    length = int((dates[-1] - dates[0]).astype(int)) + 1
    # Most files hold every day: then nothing has to be looked up.
    where = slice(None) if length == len(dates) else (dates - dates[0]).astype(int)
    laid: dict[str, Floats] = {}
    codes: dict[str, Codes] = {}
    for name in ELEMENTS:
        if name not in values and name not in CORE:
            continue
        if name in values and length == len(dates):
            column, code = values[name].astype(np.float64), flags[name].astype(np.uint8)  # copies
        else:
            column = np.full(length, np.nan)
            code = np.full(length, Flag.MISSING, dtype=np.uint8)
            if name in values:
                column[where] = values[name]
                code[where] = flags[name]
        np.copyto(code, np.uint8(Flag.MISSING), where=(code == np.uint8(Flag.OBSERVED)) & np.isnan(column))
        laid[name], codes[name] = _frozen(column), _frozen(code)
    days = np.arange(dates[0], dates[0] + np.timedelta64(length, "D"))
    return WeatherRecord(
        station=station,
        dates=_frozen(days),
        flags=MappingProxyType(codes),
        issues=issues,
        source=source,
        **laid,
    )


_EPOCH = date(1970, 1, 1).toordinal()
_T = TypeVar("_T", bound=np.generic)


def _frozen(values: NDArray[_T]) -> NDArray[_T]:
    values.setflags(write=False)
    return values


def _fitted(values: NDArray[_T], length: int, filler: float) -> NDArray[_T]:
    if length <= len(values):
        return values[:length]
    return _frozen(np.concatenate([values, np.full(length - len(values), filler, dtype=values.dtype)]))
