"""Fire blight of open blossoms: heat since bloom, and whether four things came together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Numbers = NDArray[np.float64]


def degree_hours(temperature_c: ArrayLike, above_c: float) -> Numbers:
    """Degree-hours of each hour above a base [degC.h]; NaN for a missing hour.

    Parameters
    ----------
    temperature_c : array (hours,)
        Temperature of each hour [degC].
    above_c : float
        The base [degC].
    """
    return np.maximum(np.asarray(temperature_c, dtype=np.float64) - above_c, 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class BlossomDays:
    """Each day of bloom: share of the heat that is needed, wet or not, warm enough or not.

    share : (days,) sum since first bloom over the sum needed. wet, warm : (days,) booleans. risk : (days,) all of
    them, on open bloom.
    """

    share: Numbers
    wet: NDArray[np.bool_]
    warm: NDArray[np.bool_]
    risk: NDArray[np.bool_]


def blossom_days(
    heat_ch: ArrayLike,
    wet: ArrayLike,
    mean_c: ArrayLike,
    *,
    needed_ch: float,
    least_mean_c: float,
) -> BlossomDays:
    """The days of bloom on which blossoms may have been infected.

    Parameters
    ----------
    heat_ch : array (days,)
        Degree-hours of each day from first open bloom on [degC.h]; an unknown day adds nothing, so a risk may be
        seen late.
    wet : array (days,)
        Whether rain or dew wetted the blossoms that day.
    mean_c : array (days,)
        Mean temperature of the day [degC].
    needed_ch : float
        Heat since bloom that is needed [degC.h].
    least_mean_c : float
        Mean temperature below which a wet day does not infect [degC].

    Source
    ------
    Steiner's four conditions, as extension offices print them.
    """
    total = np.cumsum(np.nan_to_num(np.asarray(heat_ch, dtype=np.float64)))
    wetted = np.asarray(wet, dtype=np.bool_)
    with np.errstate(invalid="ignore"):
        warm = np.asarray(mean_c, dtype=np.float64) >= least_mean_c
    return BlossomDays(total / needed_ch, wetted, warm, (total >= needed_ch) & wetted & warm)
