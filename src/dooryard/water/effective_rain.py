"""How much of a rain counts for plants, by three published rules of thumb.

They stand in for an account where there is none. The daily account of a bed lets water run through and off by
itself, so none of them is applied there: that would take the same loss twice.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
_IN_MM = 25.4


def texas(rain_mm: ArrayLike) -> Floats:
    """What counts of a day's rain [mm]: the first 0.1 in is lost, all up to 1 in, two thirds up to 2 in, no more.

    rain_mm : any shape. Source: Texas evapotranspiration network.
    """
    inches = np.asarray(rain_mm, dtype=np.float64) / _IN_MM
    counts = np.clip(inches - 0.1, 0.0, 0.9) + 2.0 / 3.0 * np.clip(inches - 1.0, 0.0, 1.0)
    return counts * _IN_MM


def fao_month(rain_mm: ArrayLike) -> Floats:
    """What counts of a month's rain [mm]: 0.6 P - 10 up to 75 mm, 0.8 P - 25 above, never below 0.

    rain_mm : any shape. Source: FAO irrigation water management, training manual 3.
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    return np.maximum(np.where(rain <= 75.0, 0.6 * rain - 10.0, 0.8 * rain - 25.0), 0.0)


def scs_month(rain_mm: ArrayLike, crop_et_mm: ArrayLike, storage_factor: float = 1.0) -> Floats:
    """What counts of a month's rain by the US Soil Conservation Service [mm].

    rain_mm, crop_et_mm : of the month, any shapes that fit. storage_factor : 1 for soil that holds 3 in when due.
    No more counts than fell, and no more than the plants use. Source: USDA-SCS technical release 21.
    """
    rain = np.asarray(rain_mm, dtype=np.float64) / _IN_MM
    used = np.asarray(crop_et_mm, dtype=np.float64) / _IN_MM
    counts = storage_factor * (0.70917 * rain**0.82416 - 0.11556) * 10.0 ** (0.02426 * used)
    return np.clip(counts, 0.0, np.minimum(rain, used)) * _IN_MM
