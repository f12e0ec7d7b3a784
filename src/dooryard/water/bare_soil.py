"""Water that dries from bare, wet soil: the two-part crop factor of FAO-56, chapter 7.

The account of a bed uses one factor for plant and soil together. This one parts them, for soil that lies bare
between seed rows and for drip lines that wet a part of the ground only.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class BareSoilRun:
    """The upper soil through days of drying, arrays (N,).

    depletion_mm : water gone from it each evening. evaporation_factor : Ke of each day [1].
    crop_et_mm : what plant and soil used together [mm].
    """

    depletion_mm: Floats
    evaporation_factor: Floats
    crop_et_mm: Floats


def evaporable_water(field_capacity: float, wilting_point: float, depth_m: float) -> float:
    """Water that can dry from the upper soil, TEW [mm], eq. 73; water shares [m3/m3], depth of 0.10 to 0.15 m."""
    return 1000.0 * (field_capacity - 0.5 * wilting_point) * depth_m


def largest_factor(basal: float, wind_m_s: float, humidity_min_pct: float, height_m: float) -> float:
    """The most plant and wet soil can use, Kc max, eq. 72 [1].

    basal : Kcb [1]. wind_m_s : at 2 m, taken as 1 to 6. humidity_min_pct : taken as 20 to 80. height_m : of the crop.

    >>> round(largest_factor(0.9, 3.0, 20.0, 1.0), 2)
    1.3
    """
    wind, humidity = min(max(wind_m_s, 1.0), 6.0), min(max(humidity_min_pct, 20.0), 80.0)
    climate: float = (0.04 * (wind - 2.0) - 0.004 * (humidity - 45.0)) * (height_m / 3.0) ** 0.3
    return max(1.2 + climate, basal + 0.05)


def covered_share(basal: float, largest: float, height_m: float, least: float = 0.15) -> float:
    """Share of the ground that leaves shade, fc, eq. 76 [1]; least : Kc of dry bare soil."""
    leafy = max(basal - least, 0.0) / (largest - least)
    return float(leafy ** (1.0 + 0.5 * height_m))


def exposed_share(covered: float, wetted: float = 1.0, *, under_leaves: bool = False) -> float:
    """Share of the ground that is wet and open to the sun, few, eq. 75 [1].

    wetted : share that was wetted. under_leaves : the emitters lie below the leaves, which shade most of what they
    wet.
    """
    open_share = max(1.0 - covered, 0.01)
    return min(open_share, wetted * (1.0 - 2.0 / 3.0 * covered) if under_leaves else wetted)


def drying_share(depletion_mm: float, evaporable_mm: float, readily_mm: float) -> float:
    """How freely the soil still dries, Kr, eq. 74: 1 up to the readily evaporable water, 0 when all is gone."""
    if depletion_mm <= readily_mm:
        return 1.0
    return max((evaporable_mm - depletion_mm) / (evaporable_mm - readily_mm), 0.0)


def evaporation_factor(basal: float, largest: float, exposed: float, drying: float = 1.0) -> float:
    """Ke of a day, eq. 71 [1]: what energy leaves for the soil, and no more than its open wet part can give."""
    return min(drying * (largest - basal), exposed * largest)


def drying(
    reference_mm: ArrayLike,
    rain_mm: ArrayLike,
    *,
    basal: float,
    largest: float,
    evaporable_mm: float,
    readily_mm: float,
    exposed: float = 1.0,
    start_mm: float = 0.0,
) -> BareSoilRun:
    """Day by day account of the upper soil, eq. 77, for one basal factor.

    Parameters
    ----------
    reference_mm, rain_mm : array (N,)
        Reference evapotranspiration and rain or water given [mm/d].
    basal, largest, exposed : float
        Kcb, Kc max and the open wet share [1].
    evaporable_mm, readily_mm : float
        TEW and REW of the soil [mm].
    start_mm : float
        Depletion on the first morning [mm]; 0 is just wetted.

    Returns
    -------
    BareSoilRun

    Raises
    ------
    InputError
        If REW is not between 0 and TEW, or no part of the ground is open.

    Source
    ------
    FAO-56 (Allen et al. 1998), eq. 71 to 77. What roots take from the upper soil is left out, as there.
    """
    if not 0.0 <= readily_mm < evaporable_mm or exposed <= 0.0:
        raise InputError(
            Problem(
                "The upper soil has no water to give up.", "Give REW below TEW and an open share above 0."
            )
        )
    reference, rain = (
        np.asarray(reference_mm, dtype=float).tolist(),
        np.asarray(rain_mm, dtype=float).tolist(),
    )
    gone, factors, used = start_mm, [], []
    depletion = []
    for et_mm, wet_mm in zip(reference, rain, strict=True):
        share = drying_share(gone, evaporable_mm, readily_mm)
        factor = evaporation_factor(basal, largest, exposed, share)
        gone = min(max(gone - wet_mm, 0.0) + factor * et_mm / exposed, evaporable_mm)
        depletion.append(gone)
        factors.append(factor)
        used.append((factor + basal) * et_mm)
    return BareSoilRun(np.array(depletion), np.array(factors), np.array(used))
