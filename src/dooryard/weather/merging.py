"""Two records of one station made into one: the newer file's values win, and what changed is counted and told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather import quality
from dooryard.weather.distance import great_circle_km
from dooryard.weather.record import (
    ELEMENTS,
    WORDS,
    Codes,
    Flag,
    Floats,
    Issue,
    Source,
    Station,
    WeatherRecord,
    as_date,
    on_calendar,
)
from dooryard.weather.shelf_limits import ShelfLimits

_UNUSED = (Flag.ACCUMULATED, Flag.SUSPECT)


@dataclass(frozen=True, slots=True, eq=False)
class Merged:
    """One record of two. from_new : (days,), True where the newer file says something. replaced : values it changed."""

    record: WeatherRecord
    from_new: NDArray[np.bool_]
    replaced: int


def merge(old: WeatherRecord, new: WeatherRecord, limits: ShelfLimits, *, again: bool = False) -> Merged:
    """Both records on one calendar.

    Where the newer file has a value, a total over several days or a doubt, it stands; elsewhere the older one stays.
    again : the newer is a file read anew and thinned out, so that what it lacks means nothing.
    InputError if the two are plainly not one station: places far apart, or values that differ on too many days.
    """
    _refuse_strangers(old, new, limits)
    first, last = min(old.dates[0], new.dates[0]), max(old.dates[-1], new.dates[-1])
    dates = np.arange(first, last + np.timedelta64(1, "D"))
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    issues: list[Issue] = []
    from_new = np.zeros(len(dates), dtype=bool)
    replaced = 0
    for name in ELEMENTS:
        if name not in old.elements and name not in new.elements:
            continue
        before, before_flags = _laid(old, name, dates)
        after, after_flags = _laid(new, name, dates)
        says = ~np.isnan(after) | np.isin(after_flags, _UNUSED)
        changed = says & ~np.isnan(before) & ~_same(before, after)
        withdrawn = _within(new, dates) & ~says & ~np.isnan(before) & (name in new.elements)
        values[name] = np.where(says, after, before)
        flags[name] = np.where(says, after_flags, before_flags)
        from_new |= says
        replaced += int(changed.sum())
        issues += _told(
            changed, dates, name, "The newer file has another {word} on {days}.", "The newer one stands."
        )
        text = "The newer file has no {word} on {days} for which the older one has."
        withdrawn &= not again
        issues += _told(withdrawn, dates, name, text, "The older value stands.")
    source = Source(
        path_name=f"{old.source.path_name}, {new.source.path_name}",
        layout="station shelf",
        sha256="",
        note="several files, the newer one first",
    )
    kept = _from_reading(old) + tuple(
        issue for issue in _from_reading(new) if issue not in _from_reading(old)
    )
    together = on_calendar(_station(old.station, new.station), dates, values, flags, (*kept, *issues), source)
    return Merged(quality.examine(together), from_new, replaced)


def _from_reading(record: WeatherRecord) -> tuple[Issue, ...]:
    """Issues the check would not find again in the values: it is asked anew about the whole record."""
    found = quality.examine(replace(record, issues=())).issues
    return tuple(
        issue for issue in record.issues if issue not in found and issue.kind not in ("gap", "missing")
    )


def _refuse_strangers(old: WeatherRecord, new: WeatherRecord, limits: ShelfLimits) -> None:
    places = (old.station.latitude, old.station.longitude, new.station.latitude, new.station.longitude)
    apart_km = great_circle_km(*places) if None not in places else 0.0  # type: ignore[arg-type]
    instead = "If they are two stations, give this one another --key; to start afresh, add --replace."
    if apart_km > limits.moved_km:
        what = f"This file's station stands {apart_km:.0f} km from the one on the shelf under this key."
        raise InputError(Problem(what, instead, new.source.path_name))
    for name, room in (("t_min_c", limits.same_c), ("t_max_c", limits.same_c), ("rain_mm", limits.same_mm)):
        shared, differing = _compared(old, new, name, room)
        if shared >= limits.least_shared and differing > limits.different_share * shared:
            what = f"The {WORDS[name]} differs from the one on the shelf on {differing:,} of {shared:,} shared days."
            instead_units = f"Check the units and the day it counts rain to. {instead}"
            raise InputError(Problem(what, instead_units, new.source.path_name))


def _compared(old: WeatherRecord, new: WeatherRecord, name: str, room: float) -> tuple[int, int]:
    """Days on which both have a value (for rain: on which at least one has rain), and on how many they differ."""
    first, last = max(old.dates[0], new.dates[0]), min(old.dates[-1], new.dates[-1])
    if first > last:
        return 0, 0
    dates = np.arange(first, last + np.timedelta64(1, "D"))
    before, after = _laid(old, name, dates)[0], _laid(new, name, dates)[0]
    both = ~np.isnan(before) & ~np.isnan(after)
    if name == "rain_mm":
        # Dry days agree between any two stations.
        both &= (before > 0) | (after > 0)
    return int(both.sum()), int((np.abs(before - after)[both] > room).sum())


def _laid(record: WeatherRecord, name: str, dates: NDArray[np.datetime64]) -> tuple[Floats, Codes]:
    """An element's values and flags on other dates, missing where the record has none."""
    values = np.full(len(dates), np.nan)
    flags = np.full(len(dates), Flag.MISSING, dtype=np.uint8)
    if name in record.elements:
        first = max(dates[0], record.dates[0])
        last = min(dates[-1], record.dates[-1])
        count = int((last - first).astype(int)) + 1
        to, of = int((first - dates[0]).astype(int)), int((first - record.dates[0]).astype(int))
        values[to : to + count] = record.element(name)[of : of + count]
        flags[to : to + count] = record.flags[name][of : of + count]
    return values, flags


def _within(record: WeatherRecord, dates: NDArray[np.datetime64]) -> NDArray[np.bool_]:
    found: NDArray[np.bool_] = (dates >= record.dates[0]) & (dates <= record.dates[-1])
    return found


def _same(before: Floats, after: Floats) -> NDArray[np.bool_]:
    # A hair of room: one file may be in Fahrenheit or inches, and the conversion leaves the last bit.
    found: NDArray[np.bool_] = np.abs(before - after) <= 1e-6
    return found


def _told(
    where: NDArray[np.bool_], dates: NDArray[np.datetime64], name: str, text: str, instead: str
) -> tuple[Issue, ...]:
    rows = np.flatnonzero(where)
    if not rows.size:
        return ()
    days = "1 day" if rows.size == 1 else f"{rows.size:,} days"
    first, last = as_date(dates[rows[0]]), as_date(dates[rows[-1]])
    said = text.replace("{word}", WORDS[name]).replace("{days}", days)
    return (Issue("changed", said, first, last, int(rows.size), instead, element=name),)


def _station(old: Station, new: Station) -> Station:
    """The newer file's particulars, the older one's where it has none."""
    places: Mapping[str, float | None] = {
        name: getattr(old if getattr(new, name) is None else new, name)
        for name in ("latitude", "longitude", "elevation_m")
    }
    name = old.name if not new.name or new.name == new.id else new.name
    return Station(name=name, id=new.id or old.id, **places)
