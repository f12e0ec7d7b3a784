"""Every size of storage at once: supply and days met as exact functions of capacity, from one pass.

Valid for *yield before spillage* from an empty start. Under that rule only the day's net (inflow minus
demand) matters. Think of a tank without a rim whose water is a stack of slabs, newest on top. A tank of
capacity S still holds a given litre if the water never stood more than S above that litre's underside since
it came in. So for each slab we only keep how thick it is and how far its top lies below the highest the
water has stood since (its *drop*):

      highest since   - - - - - - -  }
                                     } drop
      top of slab     =============  }
                      |   thick    |    taking x from the top needs tanks of drop .. drop + x
      bottom of slab  =============

A wet day pushes a slab with drop 0, and swallows every slab below whose highest mark it has reached. A dry
day takes slabs off the top; each piece taken is an interval of capacities over which one more litre of tank
gives one more litre of water. The day is fully met by every tank at least as large as the deepest end it
reached.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class YieldCurve:
    """Supply and days met for every capacity, ``"ybs"``, from an empty start.

    knots_l : capacities where the supply curve bends, ascending, first 0 [L]; shape (J,). knot_supplied_l :
    water supplied over the record at those capacities [L]; shape (J,). Between knots the curve is
        straight, beyond the last it is level.
    needed_l : smallest capacity that fully meets a day, for each day that needs a tank and can be met,
    ascending [L]. met_without : days met by no tank at all (the day's own inflow does, or nothing is asked
    for). days : days in the record. idle_days : of these, days with no demand. asked_l : water asked for
    over the record [L].
    """

    knots_l: Floats
    knot_supplied_l: Floats
    needed_l: Floats
    met_without: int
    days: int
    idle_days: int
    asked_l: float

    def supplied_l(self, capacity_l: ArrayLike) -> Floats:
        """Water supplied over the record [L] by tanks of these capacities; shape of ``capacity_l``."""
        capacity = _capacities(capacity_l, "capacity_l")
        return np.asarray(np.interp(capacity, self.knots_l, self.knot_supplied_l))

    def days_met(self, capacity_l: ArrayLike) -> NDArray[np.int64]:
        """Days on which all that was asked for was supplied; idle days count (see ``idle_days``)."""
        capacity = _capacities(capacity_l, "capacity_l")
        return np.asarray(self.met_without + np.searchsorted(self.needed_l, capacity, side="right"))

    def capacity_for(self, share: ArrayLike) -> Floats:
        """Smallest capacity [L] that supplies this share (0 to 1) of the demand; infinite if none does."""
        wanted = np.asarray(share, dtype=np.float64)
        if not ((wanted >= 0.0) & (wanted <= 1.0)).all():
            raise InputError(
                Problem(
                    "The share is outside 0 to 1.",
                    "Write a share such as 0.8 for four fifths.",
                    field="share",
                    found=str(wanted.tolist()),
                )
            )
        target = wanted * self.asked_l
        most = self.knot_supplied_l[-1]
        capacity = np.interp(target, self.knot_supplied_l, self.knots_l)
        # A whole share computed by rounding must not miss the last knot by one unit in the last place.
        return np.asarray(np.where(target > most * (1.0 + 1e-12), np.inf, capacity))

    def worth_of_next(self, capacity_l: ArrayLike, step_l: ArrayLike) -> Floats:
        """Extra water over the record [L] from ``step_l`` more capacity on top of ``capacity_l``."""
        capacity = _capacities(capacity_l, "capacity_l")
        step = _capacities(step_l, "step_l")
        return self.supplied_l(capacity + step) - self.supplied_l(capacity)


def yield_curve(inflow_l: ArrayLike, demand_l: ArrayLike) -> YieldCurve:
    """Supply and days met as exact functions of capacity, under yield before spillage from an empty start.

    Parameters
    ----------
    inflow_l : array (N,)
        Water reaching the storage each day [L].
    demand_l : float or array (N,)
        Water asked for each day [L].

    Returns
    -------
    YieldCurve
        Agrees with ``simulate(inflow_l, demand_l, capacity, "ybs")`` at any capacity, up to rounding.

    Raises
    ------
    InputError
        A missing, infinite or negative value: a curve over unknown days would be a guess. Cut the record
        first.

    Source
    ------
    Own derivation from the behaviour of the yield-before-spillage rule (see the module's sketch); exact.

    Example
    -------
    >>> curve = yield_curve([9, 0, 0, 0], [0, 2, 2, 2])
    >>> curve.supplied_l([0, 1, 2, 5, 6, 50]).tolist()
    [0.0, 1.0, 2.0, 5.0, 6.0, 6.0]
    >>> curve.days_met([1, 2, 4, 6]).tolist()    # the day of rain asks for nothing and counts
    [1, 2, 3, 4]
    """
    inflow = np.atleast_1d(np.asarray(inflow_l, dtype=np.float64))
    if inflow.ndim > 1:
        raise InputError(
            Problem(
                "A curve is drawn over one record at a time.",
                "Give one value a day; call once for each record.",
                field="inflow_l",
                found=f"an array of shape {inflow.shape}",
            )
        )
    demand = np.broadcast_to(np.asarray(demand_l, dtype=np.float64), inflow.shape)
    for name, values in (("inflow_l", inflow), ("demand_l", demand)):
        _require_known(name, values)
    net = inflow - demand
    starts, ends, needed = _capacity_intervals(net.tolist())
    knots, supplied = _stack_intervals(np.array(starts), np.array(ends))
    return YieldCurve(
        knots_l=knots,
        knot_supplied_l=supplied + float(np.minimum(inflow, demand).sum()),
        needed_l=np.sort(np.array(needed, dtype=np.float64)),
        met_without=int((net >= 0.0).sum()),
        days=inflow.size,
        idle_days=int((demand == 0.0).sum()),
        asked_l=float(demand.sum()),
    )


def _capacity_intervals(net: list[float]) -> tuple[list[float], list[float], list[float]]:
    """Starts and ends of the capacity intervals, and the capacity each day that a tank can meet needs.

    Depths are kept relative to each slab (never as a height above the ground), so that a huge slab at the
    bottom cannot wash out the digits of small ones above it. Days that go on taking from one slab share one
    interval.
    """
    starts: list[float] = []
    ends: list[float] = []
    needed: list[float] = []
    below: list[tuple[float, float]] = []
    thick = drop = opened = (
        0.0  # the slab on top; thick 0 is an empty tank; opened is where its interval began
    )
    for n in net:
        if n > 0.0:
            if drop > opened:
                starts.append(opened)
                ends.append(drop)
            if drop > n:
                below.append((thick, drop))
                thick = n
            else:
                thick += n
                while below and below[-1][1] <= thick:
                    thick += below.pop()[0]
            drop = opened = 0.0
        elif n < 0.0 and thick > 0.0:
            want = -n
            while want >= thick > 0.0:
                drop += thick
                starts.append(opened)
                ends.append(drop)
                want -= thick
                if want == 0.0:
                    needed.append(drop)
                thick, drop = below.pop() if below else (0.0, 0.0)
                opened = drop
            if 0.0 < want < thick:
                drop += want
                thick -= want
                needed.append(drop)
    if drop > opened:
        starts.append(opened)
        ends.append(drop)
    return starts, ends, needed


def _stack_intervals(starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """Knots and heights of the curve whose slope at S is the number of intervals that cover S."""
    at = np.concatenate(([0.0], starts, ends))
    change = np.concatenate(([0.0], np.ones(starts.size), -np.ones(ends.size)))
    order = np.argsort(at, kind="stable")
    at = at[order]
    slope = np.cumsum(change[order])
    last_of_equal = np.append(at[1:] != at[:-1], True)
    knots, slope = at[last_of_equal], slope[last_of_equal]
    height = np.concatenate(([0.0], np.cumsum(slope[:-1] * np.diff(knots))))
    return knots, height


def _capacities(values: ArrayLike, field: str) -> Floats:
    capacity = np.asarray(values, dtype=np.float64)
    if not (capacity >= 0.0).all():
        raise InputError(
            Problem(
                "A capacity is below zero or missing.",
                "Give litres, zero or more.",
                field=field,
                found=str(capacity.tolist()),
            )
        )
    return capacity


def _require_known(field: str, values: Floats) -> None:
    wrong = ~((values >= 0.0) & (values < np.inf))
    if wrong.any():
        day = int(wrong.argmax())
        raise InputError(
            Problem(
                f"Day {day} (counted from 0) is missing, below zero or infinite.",
                "Cut the record to days that are known; a curve over unknown days would be a guess.",
                field=field,
                found=str(float(values[day])),
            )
        )
