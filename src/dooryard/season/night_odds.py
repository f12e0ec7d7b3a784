"""The odds that a coming night falls to a limit in this yard, from a forecast low and from past years."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np
from numpy.typing import ArrayLike


@dataclass(frozen=True, slots=True)
class Night:
    """One coming night: its low in the yard [degC], how far that may be off (one standard deviation), its odds.

    lead : nights ahead, 1 for the coming one. odds : chance of each limit asked for, in their order.
    """

    lead: int
    low_c: float
    spread_c: float
    odds: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a forecast low may be off, one standard deviation [degC].

    first_c : for the coming night. later_c : added for each night after it. yard_c : how far the yard's own
    difference from its station varies from night to night, or is simply not known.
    """

    first_c: float
    later_c: float
    yard_c: float


def night(
    lead: int, forecast_low_c: float, offset_c: float, spread: Spread, limits_c: Sequence[float]
) -> Night:
    """The odds of one night, by a normal curve round the forecast low moved to the yard.

    Parameters
    ----------
    lead : int
        Nights ahead, 1 for the coming one.
    forecast_low_c, offset_c : float
        Low of the forecast, and what the yard adds to it on a usual night [degC].
    spread : Spread
        How far both may be off; the two are taken to have nothing to do with each other.
    limits_c : sequence of float
        Limits [degC]; the odds are of falling to them or below.

    Returns
    -------
    Night
    """
    from statistics import NormalDist

    low = forecast_low_c + offset_c
    width = hypot(spread.first_c + (lead - 1) * spread.later_c, spread.yard_c)
    curve = NormalDist(low, width)
    return Night(lead, low, width, tuple(curve.cdf(limit) for limit in limits_c))


def past_share(lows_c: ArrayLike, limit_c: float) -> tuple[int, int]:
    """In how many past years some night of a run fell to a limit, and of how many.

    Parameters
    ----------
    lows_c : array (years, nights)
        Lows of the same calendar nights in each year [degC]; a year with an unknown night and no cold one is left
        out.
    limit_c : float
        The limit [degC].
    """
    lows = np.atleast_2d(np.asarray(lows_c, dtype=np.float64))
    with np.errstate(invalid="ignore"):
        cold = (lows <= limit_c).any(axis=1)
    counted = cold | ~np.isnan(lows).any(axis=1)
    return int(cold.sum()), int(counted.sum())
