"""Where a yard's water came from and went, by name, over a stretch of days: the account a household can read.

Every flow has a name, a place it leaves and a place it reaches. What comes into a storage less what leaves it
is what it holds more, to rounding; likewise for roofs and beds.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.water.network import YardRun
from dooryard.water.pools import PoolRun
from dooryard.water.storage import StorageRun
from dooryard.yard.model import DOWNSPOUT, GROUND, TAP

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

AIR, STORE, OTHERS = "air", "store", "other storages"


@dataclass(frozen=True, slots=True)
class Flow:
    """Water that went from one place to another, under yield after and yield before spillage [L].

    name : what it is, in words. source, target : names of roofs (joined by commas), storages, beds, or `TAP`,
    `GROUND`, `DOWNSPOUT`, `AIR`, `OTHERS` (the storages above); `STORE` is what a storage holds more at the end
    than at the start.
    """

    name: str
    source: str
    target: str
    yas_l: float
    ybs_l: float


@dataclass(frozen=True, slots=True)
class Budget:
    """The flows of one storage or group of joined storages and its roofs.

    days, missing_days : counted, and left out because nobody knows the rain. closure_l : water made or lost by
    the flows, the larger of both rules; 0 but for rounding.
    """

    storages: tuple[str, ...]
    days: int
    missing_days: int
    flows: tuple[Flow, ...]
    closure_l: float

    def total_l(self, name: str) -> tuple[float, float]:
        """All flows of one name under the two rules [L]."""
        here = [flow for flow in self.flows if flow.name == name]
        return sum(flow.yas_l for flow in here), sum(flow.ybs_l for flow in here)


def budgets(run: YardRun, first: date, end: date) -> tuple[Budget, ...]:
    """One budget for each pool from `first` (included) to `end` (not), over days with a rain record."""
    return tuple(_budget(run, pool, first, end) for pool in run.pools)


def tap_l(run: YardRun, first: date, end: date) -> tuple[float, float]:
    """Water from the tap from `first` (included) to `end` (not), least and most of the two rules [L].

    For beds on the tap, and for all that was asked of storages and not there; over days with a rain record.
    """
    inside = (run.dates >= np.datetime64(first)) & (run.dates < np.datetime64(end))
    total = np.zeros(2)
    for bed in run.beds:
        total += np.nansum(run.mains_l(bed.name)[:, inside], axis=1)
    for pool in run.pools:
        total += np.nansum(_unmet_use(pool)[:, inside], axis=1)
    return float(total.min()), float(total.max())


def _unmet_use(pool: PoolRun) -> Array:
    """The part of what was asked and not there that was not for beds, under the two rules (2, N) [L]."""
    return np.asarray(pool.use_l - pool.use_given_l)


def _budget(run: YardRun, pool: PoolRun, first: date, end: date) -> Budget:
    inside = (pool.dates >= np.datetime64(first)) & (pool.dates < np.datetime64(end))
    known = inside & ~np.isnan(pool.inflow_l) & ~np.isnan(pool.roof_account.fell_l)
    roofs, storages = ", ".join(pool.roofs), ", ".join(pool.storages)

    def both(name: str, source: str, target: str, litres: Array) -> Flow:
        sums = np.sum(np.atleast_2d(litres)[:, known], axis=1)
        return Flow(name, source, target, float(sums[0]), float(sums[-1]))

    went = pool.roof_account
    flows = [
        both("rain and melt", AIR, roofs, went.fell_l),
        both("wetting", roofs, AIR, went.wetted_l),
        both("splash", roofs, AIR, went.splashed_l),
        both("out of service", roofs, DOWNSPOUT, went.disconnected_l),
        both("past the diverter", roofs, DOWNSPOUT, went.bypassed_l),
        both("first flush", roofs, GROUND, went.flushed_l),
        both("into the storage", roofs, storages, went.reached_l),
        both("overflow of others", OTHERS, storages, pool.received_l),
    ]
    for bed in run.beds:
        if bed.watered_from in pool.storages:
            flows.append(both("watering", storages, bed.name, run.given_l(bed.name)))
            flows.append(both("tap", TAP, bed.name, np.where(known, run.mains_l(bed.name), 0.0)))
    spilled = np.array([pool.yas.spilled_l, pool.ybs.spilled_l])
    flows += [
        both("other use", storages, GROUND, pool.use_given_l),
        both("overflow", storages, pool.overflow, spilled),
        both("poured out", storages, GROUND, pool.emptied_l),
        both("set right by a reading", STORE, storages, pool.corrected_l),
        both("held more", storages, STORE, _held(pool, known)),
    ]
    flows = [flow for flow in flows if flow.yas_l != 0.0 or flow.ybs_l != 0.0]
    return Budget(
        storages=pool.storages,
        days=int(np.count_nonzero(known)),
        missing_days=int(np.count_nonzero(inside & ~known)),
        flows=tuple(flows),
        closure_l=_closure(flows, storages, roofs),
    )


def _held(pool: PoolRun, known: Flags) -> Array:
    """By how much the storage held more each evening than the evening before (2, N) [L].

    After a day nobody measured the evening before is reckoned back from the day's own flows.
    """
    rows = []
    for number, kept in enumerate((pool.yas, pool.ybs)):
        came = np.nan_to_num(pool.roof_account.reached_l) + pool.received_l[number] + pool.corrected_l[number]
        gone = kept.supplied_l + kept.spilled_l + pool.emptied_l[number]
        rows.append(np.where(known, _change(kept, came - gone), 0.0))
    return np.array(rows)


def _change(kept: StorageRun, net_l: Array) -> Array:
    before = np.concatenate([[0.0], kept.level_l[:-1]])
    return np.where(np.isnan(before), net_l, kept.level_l - before)


def _closure(flows: list[Flow], storages: str, roofs: str) -> float:
    """Water made or lost in the storages and on their roofs."""
    worst = 0.0
    for place in (storages, roofs):
        for rule in ("yas_l", "ybs_l"):
            came = sum(getattr(flow, rule) for flow in flows if flow.target == place)
            gone = sum(getattr(flow, rule) for flow in flows if flow.source == place)
            worst = max(worst, abs(came - gone))
    return worst
