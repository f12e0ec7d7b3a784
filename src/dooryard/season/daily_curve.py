"""Hours made out of a day's lowest and highest temperature, where only those were written down.

The curve is that of Linvill 1990: a sine from sunrise to sunset, then a fall that slows down until the next
sunrise. It knows no fronts and no clouds; how far it lies from real hours is among the facts
(``chill.curve_error``).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.water.radiation import daylight_hours

Numbers = NDArray[np.float64]
HOURS = 24


def hours_of_days(t_min_c: ArrayLike, t_max_c: ArrayLike, day_of_year: ArrayLike, latitude: float) -> Numbers:
    """Temperatures of all hours of successive days, after Linvill 1990.

    Parameters
    ----------
    t_min_c, t_max_c : array (days,)
        Lowest and highest temperature [degC]; a NaN leaves the hours that need it unknown.
    day_of_year : array (days,)
        1 for 1 January.
    latitude : float
        Degrees, north above 0.

    Returns
    -------
    array (days, 24)
        Temperature at each full hour of sun time, 0 to 23 [degC]. Before the first sunrise and after the last
        sunset the day's own lowest temperature stands in for the neighbour's. Where the sun does not rise or
        does not set, all hours have the day's mean.

    Notes
    -----
    By day ``low + (high - low) sin(pi (t - sunrise) / (day + 4))``; by night
    ``set - (set - next low) ln(h + 1) / ln(night + 1)`` with h the hours since sunset. The 1 is in the code of the
    R package chillR; it starts the fall at the temperature of sunset.

    Source
    ------
    Linvill 1990, HortScience 25:14.
    """
    low, high = np.asarray(t_min_c, dtype=np.float64), np.asarray(t_max_c, dtype=np.float64)
    day = np.broadcast_to(np.asarray(daylight_hours(np.asarray(day_of_year, float), latitude)), low.shape)
    if not low.size:
        return np.empty((0, HOURS))
    rise, down = 12.0 - day / 2, 12.0 + day / 2
    at_sunset = low + (high - low) * np.sin(np.pi * day / (day + 4.0))
    next_low = np.append(low[1:], low[-1])
    next_rise = np.append(rise[1:], rise[-1]) + HOURS
    last_sunset = np.concatenate([at_sunset[:1], at_sunset[:-1]])
    last_down = np.concatenate([down[:1], down[:-1]]) - HOURS
    clock = np.arange(HOURS, dtype=np.float64)[None, :]
    sunny = low[:, None] + (high - low)[:, None] * np.sin(
        np.pi * np.clip((clock - rise[:, None]) / (day[:, None] + 4.0), 0.0, 1.0)
    )
    evening = _fall(clock - down[:, None], at_sunset, next_low, next_rise - down)
    morning = _fall(clock - last_down[:, None], last_sunset, low, rise - last_down)
    result = np.where(clock <= rise[:, None], morning, np.where(clock <= down[:, None], sunny, evening))
    polar = (day <= 0.0) | (day >= HOURS)
    return np.where(polar[:, None], ((low + high) / 2)[:, None], result)


def _fall(since: Numbers, start: Numbers, end: Numbers, night: Numbers) -> Numbers:
    """The night's fall from sunset to the next lowest temperature, by hours since sunset."""
    share = np.log1p(np.clip(since, 0.0, None)) / np.log1p(np.maximum(night, 1e-6))[:, None]
    return start[:, None] - (start - end)[:, None] * share
