"""Storages whose water does not all run to every bed: a raised bed on a hose is served from the upper part only.

Each of several askers has a floor, litres above the outlet below which nothing runs to it. On a day they are
served in the order of their floors, the highest first, since the others can take what it leaves:

      overflow  -----------------
                  raised bed and all others
      floor     - - - - - - - - -
                  cans and low beds only
      outlet    -----------------
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """Who takes water down to one floor, and how much they got.

    floor_l : water above the outlet that does not run to them [L]. beds : their names; other use counts with floor
    0. demand_l : asked by them (N,) [L]. supplied_l : under the two rules (2, N) [L], NaN on a missing day.
    """

    floor_l: float
    beds: tuple[str, ...]
    demand_l: Array
    supplied_l: Array


class ReachRun(NamedTuple):
    """A storage run for several floors; supplied_l by floor (G, N), the rest (N,) [L]."""

    level_l: Array
    supplied_l: Array
    spilled_l: Array
    emptied_l: Array
    corrected_l: Array


def serve(water_l: float, floors_l: Sequence[float], asked_l: Sequence[float]) -> list[float]:
    """What each asker gets out of so much water [L]; floors_l in ascending order.

    >>> serve(100.0, [0.0, 60.0], [30.0, 50.0])  # the raised bed takes what stands above 60, then the can its 30
    [30.0, 40.0]
    """
    got = [0.0] * len(floors_l)
    for index in range(len(floors_l) - 1, -1, -1):
        free = water_l - floors_l[index]
        if free > 0.0:
            taken = asked_l[index]
            got[index] = taken = taken if taken < free else free
            water_l -= taken
    return got


def drawn(water_l: float, floors_l: Sequence[float], asked_l: Sequence[float]) -> float:
    """What all of them together get [L]. It rises with the water, and never faster than the water does."""
    return sum(serve(water_l, floors_l, asked_l))


def simulate(
    inflow_l: Array,
    asked_l: Array,
    floors_l: Sequence[float],
    capacity_l: float,
    rule: str,
    *,
    ends: Flags,
    readings: Sequence[tuple[int, float]] = (),
) -> ReachRun:
    """Run a storage under one published rule for askers with floors.

    Parameters
    ----------
    inflow_l : array (N,)
        Water that comes each day [L].
    asked_l : array (G, N)
        Water asked for by those of each floor [L].
    floors_l : G numbers, ascending
        Litres above the outlet that do not run to them.
    capacity_l : float
        Litres between outlet and overflow.
    rule : str
        ``"yas"`` or ``"ybs"``.
    ends, readings :
        As in `pools.account`.

    Returns
    -------
    ReachRun
        With one floor of 0 it is `storage.simulate`.

    Source
    ------
    Yield after and before spillage as in `storage.simulate`; only the yield is bounded by the floors as well.
    """
    read = dict(readings)
    out = np.zeros((4, len(inflow_l)))
    given = np.zeros(asked_l.shape)
    before_spill = rule == "ybs"
    level = 0.0
    rows = zip(inflow_l.tolist(), asked_l.T.tolist(), ends.tolist(), strict=True)
    for day, (came, asked, end) in enumerate(rows):
        if day in read:
            out[3, day] = min(read[day], capacity_l) - level
            level = min(read[day], capacity_l)
        if end:
            out[2, day], level = level, 0.0
            continue
        stored = level + came
        got = serve(stored if before_spill else level, floors_l, asked)
        taken = sum(got)
        given[:, day] = got
        kept = min(stored - taken, capacity_l) if before_spill else max(min(stored, capacity_l) - taken, 0.0)
        out[1, day] = max(stored - taken - kept, 0.0)
        out[0, day] = level = kept
    return ReachRun(out[0], given, out[1], out[2], out[3])
