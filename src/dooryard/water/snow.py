"""Snow on a roof: held where it fell until days above freezing melt it.

The simplest published melt: so many millimetres of water for each degree by which the day's mean is above
freezing. Sun, wind, a warm attic and a slide off the roof are not in it. Good enough to say that a foot of
snow in a late frost does not fill a barrel that day; not good enough for a flood.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class RoofSnow:
    """Snow on a surface, day by day; arrays (N,) in depth of water [mm].

    liquid_mm : rain and melt that run on that day; NaN where nobody can know: a day without rain record that
    was not surely cold, or one on which snow of such a day may have melted.
    snow_mm : fell and stayed. melt_mm : of what lay there. cleared_mm : lay there on a morning on which the
    surface was taken as bare. held_mm : lies there in the evening. Snow nobody measured is in none of them.
    """

    liquid_mm: Floats
    snow_mm: Floats
    melt_mm: Floats
    cleared_mm: Floats
    held_mm: Floats

    def closure_error_mm(self) -> float:
        """Largest amount of water made or lost on any day by what lies there; 0 but for rounding [mm]."""
        change = np.diff(self.held_mm, prepend=0.0)
        errors = np.abs(self.snow_mm - self.melt_mm - self.cleared_mm - change)
        return float(np.max(errors, initial=0.0))


def held_snow(
    rain_mm: ArrayLike,
    mean_c: ArrayLike,
    *,
    snow_at_c: float,
    melt_mm_per_c: float,
    most_mm: float,
    cleared: ArrayLike | None = None,
) -> RoofSnow:
    """Rain, snow and melt of each day.

    Parameters
    ----------
    rain_mm : array (N,)
        What fell, as depth of water [mm]; NaN where missing.
    mean_c : array (N,)
        Mean temperature of the day [degC]. NaN counts as not cold: without it nothing is held.
    snow_at_c : float
        What falls on a day with this mean or a lower one is snow [degC].
    melt_mm_per_c : float
        Water that melts in a day for each degree of its mean above freezing.
    most_mm : float
        The most that may have fallen unmeasured on a cold day [mm].
    cleared : bool array (N,), optional
        Mornings on which the surface is taken as bare.

    Returns
    -------
    RoofSnow
        The surface is bare on the first day.

    Source
    ------
    Degree-day method, M = C (T - 0 degC): US National Engineering Handbook, part 630, chapter 11.

    Example
    -------
    >>> held_snow([8, 0, 5], [-3, 1, 2], snow_at_c=1, melt_mm_per_c=3, most_mm=100).liquid_mm.tolist()
    [0.0, 3.0, 10.0]
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    mean = np.asarray(mean_c, dtype=np.float64)
    cold = mean <= snow_at_c
    liquid = np.where(cold, 0.0, rain)
    snow = np.where(cold, np.nan_to_num(rain), 0.0)
    unmeasured = np.where(cold & np.isnan(rain), most_mm, 0.0)
    potential = melt_mm_per_c * np.maximum(np.nan_to_num(mean), 0.0)
    bare = np.zeros(len(rain), dtype=bool) if cleared is None else np.asarray(cleared, dtype=bool)
    if not (snow + unmeasured).any():
        return RoofSnow(liquid, snow, np.zeros(len(rain)), np.zeros(len(rain)), np.zeros(len(rain)))
    followed = _followed(snow, unmeasured, potential, bare)
    melt, gone, held = (np.array(values) for values in followed[:3])
    liquid = liquid + melt
    liquid[followed.doubtful] = np.nan
    return RoofSnow(liquid, snow, melt, gone, held)


class _Followed(NamedTuple):
    """Snow followed through the days; `doubtful` are days on which unmeasured snow may have melted as well."""

    melt_mm: list[float]
    cleared_mm: list[float]
    held_mm: list[float]
    doubtful: list[int]


def _followed(fell: Floats, unmeasured: Floats, most: Floats, bare: Flags) -> _Followed:
    """Follow snow from the day it fell until it has melted or is cleared away; other days are passed over."""
    news, maybes, potentials, clearings = (values.tolist() for values in (fell, unmeasured, most, bare))
    days = len(news)
    out = _Followed([0.0] * days, [0.0] * days, [0.0] * days, [])
    day = 0
    for first in np.flatnonzero(fell + unmeasured).tolist():
        if first < day:  # fell on snow that has been followed
            continue
        day = first
        lying = doubt = 0.0
        while True:
            lying += news[day]
            doubt += maybes[day]
            potential = potentials[day]
            if potential > 0.0:
                melted = lying if lying < potential else potential
                out.melt_mm[day] = melted
                lying -= melted
                if doubt > 0.0 and potential > melted:
                    doubt = max(doubt - (potential - melted), 0.0)
                    out.doubtful.append(day)
            out.held_mm[day] = lying
            day += 1
            if day == days or lying + doubt == 0.0:
                break
            if clearings[day]:
                out.cleared_mm[day] = lying
                break
    return out
