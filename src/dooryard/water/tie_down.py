"""The strap that keeps an empty barrel in a gust where it stands: how hard it is pulled."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.water.outlet import require_not_negative
from dooryard.water.stand import weight

Floats = NDArray[np.float64]


def drag(wind_m_s: ArrayLike, face_m2: float, drag_coefficient: float, air_density_kg_m3: float) -> Floats:
    """Push of a steady wind on an upright body [N]: half the air's density x speed squared x face x coefficient.

    face_m2 : width times height towards the wind [m2]. Raises InputError for a wind below zero.
    """
    require_not_negative("wind_m_s", wind_m_s, "m/s")
    speed = np.asarray(wind_m_s, dtype=np.float64)
    return np.asarray(0.5 * air_density_kg_m3 * np.square(speed) * drag_coefficient * face_m2)


def strap_pull(
    wind_m_s: ArrayLike,
    *,
    mass_kg: float,
    base_m: float,
    height_m: float,
    strap_height_m: float,
    friction: float,
    drag_coefficient: float,
    air_density_kg_m3: float,
) -> Floats:
    """Pull on a level strap that holds a round storage against the wind [N]; 0 while it stands by itself.

    Parameters
    ----------
    wind_m_s : float or array
        Wind at the storage [m/s].
    mass_kg : float
        All of it, empty or with water [kg].
    base_m, height_m : float
        Width it stands on, which is also the width the wind meets, and its height [m].
    strap_height_m : float
        Of the strap over the edge it would turn on [m].
    friction : float
        Of its base on what it stands on [1].
    drag_coefficient, air_density_kg_m3 : float
        Of an upright drum [1]; of the air [kg/m3].

    Returns
    -------
    float or array
        The larger of what tipping asks, ((F H / 2) - (W b / 2)) / h, and what sliding asks, F - friction x W.

    Source
    ------
    Balance of moments and of forces. `stand.wind_to_tip` and `stand.wind_to_slide` are where each begins.
    """
    force = drag(wind_m_s, base_m * height_m, drag_coefficient, air_density_kg_m3)
    held = float(weight(mass_kg))
    tipping = (force * height_m / 2.0 - held * base_m / 2.0) / strap_height_m
    sliding = force - friction * held
    return np.asarray(np.maximum(np.maximum(tipping, sliding), 0.0))
