"""Which day a reading belongs to, if the observer's day does not end at midnight.

A gauge read at seven in the morning holds the rain of the day before; a thermometer read at that hour shows
the afternoon before as its highest, and this very morning as its lowest value.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.limits import quality_limits
from dooryard.weather.opening import Faults
from dooryard.weather.record import (
    CORE,
    WORDS,
    Codes,
    Days,
    Flag,
    Floats,
    Issue,
    WeatherRecord,
    as_date,
    on_calendar,
)

_CLOCK = re.compile(r"(\d{1,2})(?:[:.h]?(\d{2}))?\s*(am|pm)?", re.IGNORECASE)


def parse_hour(text: str) -> float | None:
    """The hour of day in "07:00", "0700", "7 am", "24:00" or "midnight" (24), or None if it is none."""
    word = text.strip().lower()
    if word in ("midnight", "noon"):
        return 24.0 if word == "midnight" else 12.0
    match = _CLOCK.fullmatch(word)
    if match is None:
        return None
    hour, minute = int(match[1]), int(match[2] or 0)
    if match[3]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if match[3] == "pm" else 0)
    return hour + minute / 60 if minute < 60 and hour + minute / 60 <= 24 else None


def said_in(comments: Mapping[str, str], faults: Faults) -> dict[str, float]:
    """Element to the hour at which its day ends, from the comment lines of a file.

    `# day ends: 07:00` speaks for rain and temperatures, `# rain day ends: 07:00` for rain alone.
    """
    said: dict[str, float] = {}
    for key, elements in (("day ends", (*CORE, "t_mean_c")), ("rain day ends", ("rain_mm",))):
        if key not in comments:
            continue
        hour = parse_hour(comments[key])
        if hour is None:
            faults.add("This is no hour of the day.", "Write 07:00.", name=key, found=comments[key])
        else:
            said |= dict.fromkeys(elements, hour)
    return said


def belongs_to_the_day_before(element: str, hour: Floats) -> NDArray[np.bool_]:
    """Whether a value over the 24 hours that end at `hour` of its date (any shape) is of the day before.

    A highest value is of the day whose afternoon the 24 hours hold, a lowest one of the day whose dawn they
    hold, anything else of the day most of its hours are of. element : our name.
    """
    limits = quality_limits()
    latest = {"t_max_c": limits.highest_hour, "t_min_c": limits.lowest_hour}
    return hour < latest.get(element, limits.half_day_hour)


def move(record: WeatherRecord, hours: Mapping[str, float], why: str) -> WeatherRecord:
    """The same record with each named element on the day it belongs to, and an issue that tells.

    hours : element to the hour at which its 24 hours end, local time. why : how that hour is known, a clause.
    """
    moved = [
        name
        for name, hour in hours.items()
        if name in record.elements and bool(belongs_to_the_day_before(name, np.array(hour)))
    ]
    if not moved:
        return record
    stayed = [name for name in record.elements if name not in moved]
    first = record.dates[0] - np.timedelta64(1, "D")
    dates = np.arange(first, record.dates[-1] + np.timedelta64(1, "D"))
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for name in record.elements:
        start = 0 if name in moved else 1
        values[name] = np.full(len(dates), np.nan)
        values[name][start : start + len(record.dates)] = record.element(name)
        flags[name] = np.full(len(dates), Flag.MISSING, dtype=np.uint8)
        flags[name][start : start + len(record.dates)] = record.flags[name]
    empty = np.array([all(np.isnan(values[name][day]) for name in values) for day in (0, -1)])
    inside = slice(int(empty[0]), len(dates) - int(empty[1]))
    times = sorted({_clock(hours[name]) for name in moved})
    text = f"The day of the {_listed([WORDS[name] for name in moved])} ends at {_listed(times)} ({why}). "
    text += "Its values were moved to the day before, on which most of them fell."
    kept = [WORDS[name] for name in stayed if name in hours]
    if kept:
        text += f" The {_listed(kept)} stays on its date."
    issue = Issue(
        "day boundary",
        text,
        as_date(dates[0]),
        as_date(dates[-1]),
        len(record.dates),
        "The amounts are as they were. Hours of two days still share one value.",
        element=moved[0] if len(moved) == 1 else "",
    )
    return on_calendar(
        record.station,
        dates[inside],
        {name: column[inside] for name, column in values.items()},
        MappingProxyType({name: codes[inside] for name, codes in flags.items()}),
        (*record.issues, issue),
        record.source,
    )


def move_read_values(
    element: str, dates: Days, values: Floats, flags: Codes, hours: Floats
) -> tuple[Days, Floats, Codes, tuple[Issue, ...]]:
    """One element whose hour of reading stands beside each value, with every value on the day it belongs to.

    dates : strictly increasing, (rows,), like values, flags and hours (NaN where the file gives none: then the
    date stands). Where the hour of reading changes, one day gets two values or none: rain there becomes part of
    a total over several days (ACCUMULATED), a temperature SUSPECT. Returns the days as (new rows,) with theirs.
    """
    known = ~np.isnan(hours) & (flags != Flag.MISSING)
    before = known & belongs_to_the_day_before(element, np.where(known, hours, 24.0))
    if not before.any():
        return dates, values, flags, ()
    targets = dates - before.astype("timedelta64[D]")
    days = np.arange(targets.min(), dates[-1] + np.timedelta64(1, "D"))
    place = (targets - days[0]).astype(int)
    column = np.full(len(days), np.nan)
    codes = np.full(len(days), Flag.MISSING, dtype=np.uint8)
    # A day without a value must not wipe out the value that moves onto it.
    holds = flags != Flag.MISSING
    column[place[holds]], codes[place[holds]] = values[holds], flags[holds]
    twice = np.bincount(place[holds], minlength=len(days)) > 1
    # From morning to evening: no value for one day, and the next one reaches back over it.
    later = np.flatnonzero(
        (np.diff(dates).astype(int) == 1) & before[:-1] & ~before[1:] & known[1:] & holds[1:]
    )
    split = twice.copy()
    split[place[later + 1]] = True
    if element == "rain_mm":
        split[place[later + 1] - 1] = True
    column[split] = np.nan
    codes[split] = Flag.ACCUMULATED if element == "rain_mm" else Flag.SUSPECT
    rows = np.flatnonzero(before)
    times = sorted({_clock(float(hour)) for hour in hours[before]})
    text = f"The {WORDS[element]} of {len(rows):,} days was read at {_listed(times[:4])}"
    text += " and other hours" if len(times) > 4 else ""
    text += ". It was moved to the day before, on which most of it fell."
    if split.any():
        count = "1 day" if split.sum() == 1 else f"{int(split.sum())} days"
        text += f" On {count} the hour of reading changed; their values are left out."
    first, last = as_date(dates[rows[0]]), as_date(dates[rows[-1]])
    issue = Issue(
        "day boundary", text, first, last, len(rows), "The amounts are as they were.", element=element
    )
    return days, column, codes, (issue,)


def _clock(hour: float) -> str:
    whole, part = divmod(round(hour * 60), 60)
    return f"{whole:02d}:{part:02d}"


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
