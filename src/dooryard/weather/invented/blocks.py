"""Weather from the record's own days, in pieces of chance length: nothing is fitted, so nothing is smoothed away.

The other way to weather that could have been: whatever hangs together within a few days of the record stays
together, storms and cold snaps included; but no day is new, and spells much longer than a piece are broken.

Source: Politis and Romano 1994 (Journal of the American Statistical Association 89, 1303-1313), the stationary
bootstrap; that a piece begins near its own date in some other year is our addition, for the seasons.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.invented.making import INVENTED
from dooryard.weather.record import Source, Station, WeatherRecord, on_calendar

Positions = NDArray[np.int64]


def positions(days: int, count: int, mean_piece_d: float, seed: int) -> Positions:
    """Which of `days` days to take, `count` of them (count,): pieces of geometric length, mean `mean_piece_d`.

    Each piece begins anywhere; behind the last day comes the first. A mean of 1 takes every day by itself.
    """
    chance = np.random.RandomState(seed)
    begins = chance.random_sample(count) < 1 / mean_piece_d
    begins[0] = True
    return _walk(begins, chance.randint(0, days, count)) % days


def resample(
    record: WeatherRecord,
    first: date,
    last: date,
    *,
    mean_piece_d: float,
    window_d: int,
    seed: int,
    station: Station | None = None,
) -> WeatherRecord:
    """Days from `first` to `last`, both included, each a whole day of the record at about its own date.

    mean_piece_d : mean length of a piece [d], 1 or more. window_d : how far from its own date a piece may begin
    [d], in any year of the record. Missing days of the record are taken as they come, and stay missing.
    InputError if `last` is before `first`, the record is shorter than a year, or a length makes no sense.
    """
    problems = []
    if last < first:
        problems.append(Problem(f"{last} is before {first}.", "Give the days in order."))
    if len(record.dates) < 366:
        problems.append(Problem("The record is shorter than a year.", "Use a longer record."))
    if mean_piece_d < 1 or not 0 <= window_d <= 182:
        what = f"Pieces of {mean_piece_d:g} days within {window_d} days make no weather."
        problems.append(Problem(what, "Use 1 day or more, within 0 to 182 days."))
    if problems:
        raise InputError(problems)
    dates = np.arange(np.datetime64(first, "D"), np.datetime64(last, "D") + 1)
    chance = np.random.RandomState(seed)
    begins = chance.random_sample(len(dates)) < 1 / mean_piece_d
    begins[0] = True
    at = _walk(begins, _starts(record, dates, window_d, chance))
    # Past the record's end a piece goes on a whole number of years earlier, so the season stays.
    length = len(record.dates)
    over = np.maximum(at - length + 1, 0)
    at = at - 365 * -(-over // 365)
    values = {name: record.element(name)[at] for name in record.elements}
    flags = {name: codes[at] for name, codes in record.flags.items()}
    source = Source(record.source.path_name, "invented", record.source.sha256, f"pieces, seed {seed}")
    owner = station or replace(record.station, name=f"{record.station.name} (invented)")
    return on_calendar(owner, dates, values, flags, (INVENTED,), source)


def _walk(begins: NDArray[np.bool_], starts: Positions) -> Positions:
    """Positions that follow each other by one, but where a piece begins jump to their start."""
    place = np.arange(len(begins))
    latest = np.maximum.accumulate(np.where(begins, place, 0))
    result: Positions = starts[latest] + (place - latest)
    return result


def _starts(
    record: WeatherRecord, dates: NDArray[np.datetime64], window_d: int, chance: np.random.RandomState
) -> Positions:
    """For every date a day of the record (days,) at most `window_d` from that date, in a year drawn by chance."""
    year = chance.randint(0, max(len(record.dates) // 365, 1), len(dates))
    aside = chance.randint(-window_d, window_d + 1, len(dates))
    day = (dates - dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(np.int64) + aside
    begin = record.dates[0].astype("datetime64[Y]") + year
    wanted = begin.astype("datetime64[D]") + day
    at: Positions = (wanted - record.dates[0]).astype(np.int64)
    # Before the record's first day or behind its last: the same date a year later or earlier.
    at = np.where(at < 0, at + 365 * -(at // 365), at)
    over = np.maximum(at - len(record.dates) + 1, 0)
    result: Positions = at - 365 * -(-over // 365)
    return result
