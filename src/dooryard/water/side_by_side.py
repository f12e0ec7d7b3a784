"""Many possible stores of a yard played through the same years at once, keeping sums only.

Barrels at different downspouts do not share their water: each has its own rim. Who waters takes from all of
them in proportion to what stands in each. One step of the loop moves every choice in every year by a day.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

#: Supply that misses the demand by less than this share of it misses it by rounding only.
_ROUNDING = 1e-12


class Sums(NamedTuple):
    """What each choice did in each year, (B, C, Y): water supplied [L], and days on which all asked for was there.

    first_met : days on which at least what is first in line was there.
    """

    supplied_l: Floats
    met_days: Floats
    first_met_days: Floats


def play(
    inflow_l: Floats,
    demand_l: Floats,
    capacity_l: Floats,
    rule: str,
    *,
    emptied: NDArray[np.bool_] | None = None,
    first_l: Floats | None = None,
) -> Sums:
    """Play every pair of a demand and a set of stores through every year, each from an empty start.

    Parameters
    ----------
    inflow_l : array (T, S, Y)
        Water at each of S places on each day of each year [L].
    demand_l : array (T, B, Y)
        Water asked for in each of B ways [L].
    capacity_l : array (C, S)
        Size of the store at each place in each of C ways [L]; where it is 0 there is none, and the water runs off.
    rule : str
        ``"yas"`` or ``"ybs"``.
    emptied : bool array (T, Y), optional
        Days at whose end all stores are poured out.
    first_l : array (T, B, Y), optional
        The part of the demand that is served first [L]; all of it if not given.

    Returns
    -------
    Sums

    Notes
    -----
    With one place this is `storage.simulate`. With several, all draw Y = min(D, sum of V), and each store gives
    the share of it that stands in that store. Under ``"ybs"`` a larger store somewhere never means less water on
    any day: every level rises with it.
    """
    days, places, years = inflow_l.shape
    ways, kept = demand_l.shape[1], capacity_l.shape[0]
    rims = capacity_l.T[:, None, :, None]
    here = (capacity_l > 0.0).T[:, :, None].astype(np.float64)
    level = np.zeros((places, ways, kept, years))
    sums = Sums(*(np.zeros((ways, kept, years)) for _ in range(3)))
    after_rain = rule == "ybs"
    first = demand_l if first_l is None else first_l
    stays_put = np.ones((days, years)) if emptied is None else (~emptied).astype(np.float64)
    pours = stays_put.min(axis=1, initial=1.0) == 0.0
    for day in range(days):
        came = (inflow_l[day][:, None, :] * here)[:, None]
        asked = demand_l[day][:, None, :]
        if after_rain:
            level += came
        standing = level[0] if places == 1 else level.sum(axis=0)
        given = np.minimum(asked, standing)
        # the share that stays; an empty yard gives nothing of nothing
        stays = 1.0 - given / np.where(standing > 0.0, standing, 1.0)
        if after_rain:
            level *= stays
            np.minimum(level, rims, out=level)
        else:
            drawn = level * (1.0 - stays)
            level += came
            np.minimum(level, rims, out=level)
            level -= drawn
            np.maximum(level, 0.0, out=level)
        if asked.any():
            sums.supplied_l[...] += given
            sums.met_days[...] += _met(given, asked)
            if first_l is not None:
                sums.first_met_days[...] += _met(given, first[day][:, None, :])
        if pours[day]:
            level *= stays_put[day]
    return sums if first_l is not None else sums._replace(first_met_days=sums.met_days)


def _met(given: Floats, asked: Floats) -> NDArray[np.bool_]:
    return np.asarray((given >= asked * (1.0 - _ROUNDING)) & (asked > 0.0))
