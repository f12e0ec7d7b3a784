"""Small made-up stations for the tests of gaps: values given day by day, None where nothing was measured."""

from datetime import date, timedelta

import numpy as np

from dooryard.weather.record import CORE, Flag, Source, Station, on_calendar


def station(first, *, t_min_c=None, t_max_c=None, rain_mm=None, name="Here", flags=None, place=None):
    """A record from `first` on. place : (latitude, longitude, elevation_m). flags : element to {row: Flag}."""
    given = {"t_min_c": t_min_c, "t_max_c": t_max_c, "rain_mm": rain_mm}
    length = max(len(column) for column in given.values() if column is not None)
    values = {
        element: np.array([np.nan if v is None else v for v in column], dtype=float)
        for element, column in given.items()
        if column is not None
    }
    codes = {element: np.full(length, Flag.OBSERVED, dtype=np.uint8) for element in values}
    for element, rows in (flags or {}).items():
        for row, flag in rows.items():
            codes[element][row] = flag
    days = np.datetime64(first, "D") + np.arange(length)
    where = Station(name, "", *(place or (None, None, None)))
    return on_calendar(where, days, values, codes, (), Source(f"{name.lower()}.csv", "made here", "ab12"))


def day(first, offset):
    """The calendar day so many days after `first`."""
    return first + timedelta(days=offset)


def noise(seed, days):
    """Weather-like wobble without a season: (days,) of mean 0 and spread 4, each day half like the last."""
    draws = np.random.RandomState(seed).standard_normal(days) * 4
    wobble = np.zeros(days)
    for number in range(1, days):
        wobble[number] = 0.5 * wobble[number - 1] + draws[number]
    return wobble


def rain_of(seed, days):
    """Rain on about one day in three, 0.1 mm steps."""
    chance = np.random.RandomState(seed)
    return np.where(chance.rand(days) < 0.35, np.round(chance.gamma(0.8, 9.0, days) + 0.1, 1), 0.0)


FIRST = date(2020, 1, 1)
YEARS_4 = 1461
assert set(CORE) == {"t_min_c", "t_max_c", "rain_mm"}
