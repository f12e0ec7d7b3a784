"""Mosquitoes in standing water: how long they need at a warmth, when it is warm enough, when larvicide is due again."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]


def days_in_water(t_mean_c: ArrayLike, base_c: float, heat_cd: float) -> Floats:
    """Days from hatching to flight at a steady warmth [d]: heat over warmth above the base; infinite at or below it.

    t_mean_c : mean temperature of the water [degC]. base_c : below it nothing grows [degC]. heat_cd : degree-days
    from hatching to flight [degC.d].

    >>> float(days_in_water(25.5, 5.5, 200.0))
    10.0
    """
    above = np.maximum(np.asarray(t_mean_c, dtype=np.float64) - base_c, 0.0)
    with np.errstate(divide="ignore"):
        return np.asarray(heat_cd / above)


def mesh_opening(meshes_per_inch: float, wire_mm: float) -> float:
    """Clear opening of a woven screen [mm]: an inch over its meshes, less the wire.

    meshes_per_inch : in each direction [1/in]. wire_mm : thickness of its wire [mm]. InputError if the wire fills it.

    >>> round(mesh_opening(16, 0.2794), 3)
    1.308
    """
    opening = 25.4 / meshes_per_inch - wire_mm
    if not opening > 0.0:
        raise InputError(
            Problem(
                "The wire fills the mesh.", "Give a thinner wire.", field="wire_mm", found=f"{wire_mm:g} mm"
            )
        )
    return opening


@dataclass(frozen=True, slots=True)
class WarmSeason:
    """First and last warm day of one calendar year, day of the year from 1; the days between them are its length."""

    year: int
    first: int
    last: int

    @property
    def days(self) -> int:
        """Days from the first to the last, both counted [d]."""
        return self.last - self.first + 1


def warm_seasons(
    dates: NDArray[np.datetime64], t_mean_c: ArrayLike, above_c: float, window_d: int
) -> tuple[WarmSeason, ...]:
    """The warm season of each whole calendar year of a record.

    Parameters
    ----------
    dates : array (N,)
        Every day of the record, in order.
    t_mean_c : array (N,)
        Mean air temperature [degC], NaN where missing.
    above_c : float
        A day is warm if the mean of the window that ends with it lies above this [degC].
    window_d : int
        Days of that window [d], fewer where the record begins; one with less than half of its days known tells
        nothing.

    Returns
    -------
    tuple of WarmSeason
        Years without a warm day, and years of which a window tells nothing, are left out.

    Raises
    ------
    InputError
        A window of no day.
    """
    if window_d < 1:
        raise InputError(Problem("A window has at least one day.", "Give 1 or more.", field="window_d"))
    mean = _trailing_mean(np.asarray(t_mean_c, dtype=np.float64), window_d)
    years = dates.astype("datetime64[Y]").astype(int) + 1970
    day = (dates - dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(int) + 1
    found = []
    for year in np.unique(years).tolist():
        here = years == year
        whole = int(np.count_nonzero(here)) == (366 if _leap(year) else 365)
        if not whole or np.isnan(mean[here]).any():
            continue
        warm = day[here][mean[here] > above_c]
        if warm.size:
            found.append(WarmSeason(year, int(warm[0]), int(warm[-1])))
    return tuple(found)


def doses(season_d: float, lasts_d: float) -> int:
    """Times a material that lasts so many days is due to cover a season [1]: season over lasting, rounded up.

    >>> doses(183.0, 30.0)
    7
    """
    if not lasts_d > 0.0:
        raise InputError(
            Problem("It must last some time.", "Give days above 0.", field="lasts_d", found=f"{lasts_d:g}")
        )
    return math.ceil(max(season_d, 0.0) / lasts_d)


def flushes(spilled_l: ArrayLike, holds_l: float, times: float = 1.0) -> int:
    """Days on which at least `times` what the storage holds ran over [1]; unknown days (NaN) do not count.

    spilled_l : (N,) [L]. holds_l : what it holds up to the overflow [L].
    """
    spilled = np.asarray(spilled_l, dtype=np.float64)
    with np.errstate(invalid="ignore"):
        return int(np.count_nonzero(spilled >= max(times * holds_l, np.finfo(float).tiny)))


def _trailing_mean(values: Floats, window: int) -> Floats:
    """Mean of the `window` days up to each, NaN where less than half of those there are is known."""
    known = ~np.isnan(values)
    sums = np.cumsum(np.concatenate(([0.0], np.where(known, values, 0.0))))
    counts = np.cumsum(np.concatenate(([0], known.astype(np.int64))))
    last = np.arange(1, len(values) + 1)
    first = np.maximum(last - window, 0)
    count = counts[last] - counts[first]
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = (sums[last] - sums[first]) / count
    return np.where(2 * count < last - first, np.nan, mean)


def _leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
