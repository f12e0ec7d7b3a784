"""One storage, day by day: what it supplied, what it spilled, what was asked for and not there.

Two published orders of events bracket the truth of a daily step. *Yield after spillage* (``"yas"``) lets
the day's rain overflow before anyone draws water, so it is the cautious one; *yield before spillage*
(``"ybs"``) lets the household draw first. A small barrel under a big roof lies between the two; hourly
steps bring them together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem
from dooryard.water.yield_curve import YieldCurve, yield_curve

__all__ = ["RULES", "StorageRun", "YieldCurve", "simulate", "yield_curve"]

Floats = NDArray[np.float64]

RULES: dict[str, float] = {"yas": 0.0, "ybs": 1.0}
"""The two named rules as the share of the day's inflow that may be drawn before the storage spills."""


@dataclass(frozen=True, slots=True)
class StorageRun:
    """What one run of a storage did; every array has time on its last axis.

    level_l : water above the outlet at the end of the day [L].
    supplied_l, spilled_l : taken by the household, and lost through the overflow, on that day [L].
    unmet_l : asked for and not there [L].
    rule : ``"yas"``, ``"ybs"`` or the share of the day's inflow drawn before spilling, as text.
    """

    level_l: Floats
    supplied_l: Floats
    spilled_l: Floats
    unmet_l: Floats
    rule: str

    def closure_error_l(self, inflow_l: ArrayLike, start_l: ArrayLike = 0.0) -> float:
        """Litres made or lost by the run: start + inflow - supplied - spilled - last level; 0 to rounding.

        ``inflow_l`` and ``start_l`` are those the run was given. Counted over the days before the first
        missing one; the largest error of all storages in the run.
        """
        inflow = np.broadcast_to(np.asarray(inflow_l, dtype=np.float64), self.level_l.shape)
        start = np.broadcast_to(np.asarray(start_l, dtype=np.float64), self.level_l.shape[:-1])
        if self.level_l.shape[-1] == 0:
            return 0.0
        known = ~np.isnan(self.level_l)
        gained = np.where(known, inflow - self.supplied_l - self.spilled_l, 0.0).sum(axis=-1)
        last = np.maximum(known.sum(axis=-1) - 1, 0)[..., np.newaxis]
        end = np.take_along_axis(self.level_l, last, axis=-1)[..., 0]
        end = np.where(known.any(axis=-1), end, start)
        return float(np.max(np.abs(start + gained - end)))

    def volume_share(self) -> Floats:
        """Share of the water asked for that was supplied (volumetric reliability), over the known days.

        Shape (...): one value a storage; NaN where nothing was asked for.
        """
        supplied = np.nansum(self.supplied_l, axis=-1)
        asked = supplied + np.nansum(self.unmet_l, axis=-1)
        return np.asarray(np.divide(supplied, asked, out=np.full(asked.shape, np.nan), where=asked > 0))

    def days_share(self) -> Floats:
        """Share of the known days on which everything asked for was supplied (time reliability).

        Shape (...): one value a storage. A day without demand counts as met, as in the published measure.
        """
        known = (~np.isnan(self.unmet_l)).sum(axis=-1)
        met = (self.unmet_l <= 0.0).sum(axis=-1).astype(np.float64)
        return np.asarray(np.divide(met, known, out=np.full(met.shape, np.nan), where=known > 0))


def simulate(
    inflow_l: ArrayLike,
    demand_l: ArrayLike,
    capacity_l: ArrayLike,
    rule: str | float = "yas",
    start_l: ArrayLike = 0.0,
) -> StorageRun:
    """Run a storage through the days: level, supply, spill and shortfall.

    Parameters
    ----------
    inflow_l : array (N,) or (..., N)
        Water reaching the storage each day [L].
    demand_l : float or array, broadcast against ``inflow_l``
        Water asked for each day [L].
    capacity_l : float or array (K,)
        Active capacity: overflow lip minus what stays below the outlet [L]; may be infinite. An array runs
        every size at once; its shape is aligned with the axes of ``inflow_l`` before time, so ``(K,)`` with
        ``(N,)`` gives ``(K, N)``.
    rule : str or float
        ``"yas"``, ``"ybs"``, or the share of the day's inflow (0 to 1) that may be drawn before spilling:
        0 is yield after spillage, 1 is yield before spillage.
    start_l : float or array like ``capacity_l``
        Water above the outlet on the evening before the first day [L].

    Returns
    -------
    StorageRun
        Arrays shaped like capacity's axes with time last. A missing inflow or demand (NaN) makes that day
        and all later days NaN: nobody knows the level after it.

    Raises
    ------
    InputError
        Unknown rule; an inflow, demand or capacity below zero; an infinite inflow or demand; a start above
        the capacity.

    Source
    ------
    Y = min(D, V + tQ); V' = min(V + Q - Y, S - (1 - t)Y) with t the share; Jenkins et al. 1978, Latham 1983,
    Fewkes and Butler 2000, Mitchell 2007. Strictly between the named rules the last term can fall below zero
    in a storage smaller than the day's rain; it is held at zero, so that no level is negative.

    Example
    -------
    >>> run = simulate([0, 150, 0], 30, 200, "yas", start_l=50)
    >>> run.supplied_l.tolist(), run.level_l.tolist()
    ([30.0, 20.0, 30.0], [20.0, 150.0, 120.0])
    """
    inflow = np.atleast_1d(np.asarray(inflow_l, dtype=np.float64))
    demand = np.broadcast_to(np.asarray(demand_l, dtype=np.float64), inflow.shape)
    capacity = np.asarray(capacity_l, dtype=np.float64)
    start = np.asarray(start_l, dtype=np.float64)
    drawn_first = _share_drawn_first(rule)
    _require_possible(inflow, demand, capacity, start)
    if inflow.ndim == 1 and capacity.ndim == 0 and start.ndim == 0:
        parts = _one_storage(inflow, demand, float(capacity), drawn_first, float(start))
    else:
        parts = _many_storages(inflow, demand, capacity, drawn_first, start)
    level, supplied, spilled = parts
    return StorageRun(
        level, supplied, spilled, demand - supplied, rule if isinstance(rule, str) else f"{rule:g}"
    )


def _one_storage(
    inflow: Floats, demand: Floats, capacity: float, drawn_first: float, start: float
) -> tuple[Floats, Floats, Floats]:
    """Plain numbers, far quicker than arrays of length one; same order of operations as `_many_storages`."""
    unknown = np.isnan(inflow + demand)
    days = int(unknown.argmax()) if unknown.any() else inflow.size
    after = 1.0 - drawn_first
    level = start
    levels, supplies, spills = [], [], []
    for q, d in zip(inflow[:days].tolist(), demand[:days].tolist(), strict=True):
        at_hand = level + drawn_first * q
        supply = min(at_hand, d)
        stored = level + q - supply
        room = capacity - after * supply
        if stored > room:
            level = room if room > 0.0 else 0.0
            spills.append(stored - level)
        else:
            level = stored
            spills.append(0.0)
        levels.append(level)
        supplies.append(supply)
    out = np.full((3, inflow.size), np.nan)
    out[:, :days] = (levels, supplies, spills)
    return out[0], out[1], out[2]


def _many_storages(
    inflow: Floats, demand: Floats, capacity: Floats, drawn_first: float, start: Floats
) -> tuple[Floats, Floats, Floats]:
    """One vector step a day over all storages, into buffers with time first, turned at the end."""
    shape = np.broadcast_shapes(inflow.shape[:-1], capacity.shape, start.shape)
    days = inflow.shape[-1]
    after = 1.0 - drawn_first
    q_rows = np.ascontiguousarray(np.moveaxis(inflow, -1, 0))
    d_rows = np.ascontiguousarray(np.moveaxis(demand, -1, 0))
    first_rows = drawn_first * q_rows
    level = np.broadcast_to(start, shape).copy()
    out = np.empty((3, days, *shape))
    room, stored = np.empty(shape), np.empty(shape)
    for day in range(days):
        supply = out[1, day, ...]
        np.add(level, first_rows[day], out=supply)
        np.minimum(supply, d_rows[day], out=supply)
        np.add(level, q_rows[day], out=stored)
        np.subtract(stored, supply, out=stored)
        np.multiply(supply, after, out=room)
        np.subtract(capacity, room, out=room)
        np.maximum(room, 0.0, out=room)
        level = np.minimum(stored, room, out=out[0, day, ...])
        np.subtract(stored, room, out=stored)
        np.maximum(stored, 0.0, out=out[2, day, ...])
    turned = np.moveaxis(out, 1, -1)
    return turned[0], turned[1], turned[2]


def _share_drawn_first(rule: str | float) -> float:
    if isinstance(rule, str):
        if rule not in RULES:
            raise InputError(
                Problem(
                    "This operating rule is not known.",
                    f"Write one of: {', '.join(RULES)}, or a share from 0 to 1.",
                    field="rule",
                    found=rule,
                )
            )
        return RULES[rule]
    if not 0.0 <= rule <= 1.0:
        raise InputError(
            Problem(
                "The share drawn before spilling is outside 0 to 1.",
                "Write a share from 0 (yas) to 1 (ybs).",
                field="rule",
                found=str(rule),
            )
        )
    return float(rule)


def _require_possible(inflow: Floats, demand: Floats, capacity: Floats, start: Floats) -> None:
    for name, values in (("inflow_l", inflow), ("demand_l", demand)):
        wrong = (values < 0.0) | np.isinf(values)
        if wrong.any():
            where = int(np.flatnonzero(wrong.reshape(-1))[0])
            raise InputError(
                Problem(
                    f"Day {where % values.shape[-1]} (counted from 0) is below zero or infinite.",
                    "Give litres a day, zero or more; leave a missing day as NaN.",
                    field=name,
                    found=f"{values.reshape(-1)[where]:g} L",
                )
            )
    if not (capacity >= 0.0).all():
        raise InputError(
            Problem(
                "The capacity is below zero or missing.",
                "Give the litres between outlet and overflow.",
                field="capacity_l",
                found=f"{float(np.min(capacity)):g} L",
            )
        )
    if not ((start >= 0.0) & (start <= capacity)).all():
        raise InputError(
            Problem(
                "The starting level does not fit the storage.",
                "Give litres from 0 to the capacity.",
                field="start_l",
                found=f"{start.tolist()} L in {capacity.tolist()} L",
            )
        )
