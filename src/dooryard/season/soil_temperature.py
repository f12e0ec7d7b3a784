"""How warm the soil is, from the warmth of the air: an estimate where nobody put a thermometer in.

The lag model follows the mean air temperature of each day. The damped wave says how much of a swing at the
surface is left at a depth, and how much later it comes there.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

Numbers = NDArray[np.float64]


def lagged(air_c: ArrayLike, start_c: float, *, leaf_area: float = 0.0) -> Numbers:
    """Daily mean temperature of topsoil that follows the air with a lag.

    Parameters
    ----------
    air_c : array (days,)
        Mean air temperature of each day [degC]; from a NaN on the soil is not known.
    start_c : float
        Soil temperature on the eve [degC].
    leaf_area : float
        Leaf area over ground area: 0 for bare soil. Shade slows the warming.

    Returns
    -------
    array (days,)
        Soil temperature of each day [degC]: ``soil + 0.25 exp(-0.45 leaf area) (air - soil)``.

    Source
    ------
    The form of Zheng, Hunt and Running 1993, Climate Research 2:183.

    Example
    -------
    >>> lagged([12, 15], 10.0).tolist()
    [10.5, 11.625]
    """
    share = 0.25 * exp(-0.45 * leaf_area)
    soil, days = start_c, []
    for air in np.asarray(air_c, dtype=np.float64).tolist():
        soil += share * (air - soil)
        days.append(soil)
    return np.array(days, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Estimate:
    """Soil warmth now [degC], from so many days of air; why not, if it cannot be given."""

    soil_c: float | None
    days: int
    bridged_d: int = 0
    refused: str = ""


def estimate(air_c: ArrayLike, *, days: int, bridged_most: int, leaf_area: float = 0.0) -> Estimate:
    """Soil warmth on the last day of a run of days, from the run's own air alone.

    Parameters
    ----------
    air_c : array (days,)
        Mean air temperature of each day [degC], the last of them the day asked for.
    days : int
        How many of the last ones are used [d]; the soil begins at the first one's air. On bare soil a share of
        0.75 ** days of that beginning is left, 0.0002 after 30 days.
    bridged_most : int
        Missing days in a row that are bridged by a straight line [d]; a longer gap, or one at an end, refuses.
    leaf_area : float
        As in `lagged`.

    Returns
    -------
    Estimate
    """
    run = np.asarray(air_c, dtype=np.float64)[-days:]
    if run.size < days:
        return Estimate(None, int(run.size), refused=f"it needs {days} days of temperature before today")
    known = ~np.isnan(run)
    where = np.flatnonzero(known)
    if not known[0] or not known[-1] or np.diff(where).max(initial=1) - 1 > bridged_most:
        return Estimate(None, int(known.sum()), refused=f"temperatures are missing in the last {days} days")
    filled = np.interp(np.arange(run.size), where, run[where])
    soil = lagged(filled[1:], float(filled[0]), leaf_area=leaf_area)
    return Estimate(float(soil[-1]), int(known.sum()), int((~known).sum()))


def damping_depth_m(diffusivity_m2_s: float, period_s: float) -> float:
    """Depth at which a swing of the surface is down to a 1/e, 37 % [m]: ``sqrt(D P / pi)``.

    Parameters
    ----------
    diffusivity_m2_s : float
        How fast warmth spreads in the soil [m2/s].
    period_s : float
        Length of the swing, a day or a year [s].

    Source
    ------
    Heat conduction into a half space (Carslaw and Jaeger).
    """
    return sqrt(diffusivity_m2_s * period_s / pi)


@dataclass(frozen=True, slots=True)
class Wave:
    """What is left of a surface swing at a depth (share) and how much later it comes [s]."""

    share: float
    lag_s: float


def wave_at(depth_m: float, diffusivity_m2_s: float, period_s: float) -> Wave:
    """Share and lag of a surface swing at a depth; arguments as in `damping_depth_m`, depth in metres.

    Parameters
    ----------
    depth_m : float
        Below the surface [m].
    diffusivity_m2_s : float
        How fast warmth spreads in the soil [m2/s].
    period_s : float
        Length of the swing [s].
    """
    parts = depth_m / damping_depth_m(diffusivity_m2_s, period_s)
    return Wave(exp(-parts), parts / (2 * pi) * period_s)
