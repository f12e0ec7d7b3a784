"""P-days: how much warmth a potato plant had for growing, by which early blight is timed."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Numbers = NDArray[np.float64]


def rate(temperature_c: ArrayLike) -> Numbers:
    """How well potato grows at a temperature, 0 to 10: best at 21 degC, nothing at or below 7 or from 30 on.

    Parameters
    ----------
    temperature_c : float or array
        Temperature [degC].

    Source
    ------
    Sands, Hackett and Nix 1979.
    """
    warm = np.asarray(temperature_c, dtype=np.float64)
    width = np.where(warm <= 21.0, 14.0, 9.0)
    curve = 10.0 * (1.0 - ((warm - 21.0) / width) ** 2)
    return np.where(np.isnan(warm), np.nan, np.where((warm > 7.0) & (warm < 30.0), curve, 0.0))


def p_days(t_min_c: ArrayLike, t_max_c: ArrayLike) -> Numbers:
    """P-days of each day, 0 to 10, from four points of its warmth.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest temperature of the day [degC].

    Returns
    -------
    array
        ``[5 P(min) + 8 P((2 min + max) / 3) + 8 P((min + 2 max) / 3) + 3 P(max)] / 24``.

    Notes
    -----
    The last term is the day's highest temperature. Public codes of one group have the lowest there; with it a hot
    day counts too much or too little.

    Source
    ------
    Pscheidt and Stevenson 1988, American Potato Journal 65:425, after Sands and others 1979.
    """
    low, high = np.asarray(t_min_c, dtype=np.float64), np.asarray(t_max_c, dtype=np.float64)
    weighed = 5 * rate(low) + 8 * rate((2 * low + high) / 3) + 8 * rate((low + 2 * high) / 3) + 3 * rate(high)
    return np.asarray(weighed / 24)
