"""Every pool of a yard run through a record: roofs to barrels, barrels to the barrels below them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.water import catchment
from dooryard.water.beds import BedRun
from dooryard.water.layout import downhill
from dooryard.water.pools import Account, Bounds, Pool, PoolRun, account, level_bracket
from dooryard.water.storage import StorageRun
from dooryard.weather.record import WeatherRecord

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Stage:
    """What every pool of a yard stands in: the record, the tables, and the days in service (N,)."""

    record: WeatherRecord
    knowledge: Knowledge
    in_service: Flags


@dataclass(slots=True)
class _Received:
    """Overflow that reaches a pool from those above it: as bounds, and under each rule."""

    bounds: Bounds
    by_rule: dict[str, Array]
    missing: Flags


def run_pools(layout: Sequence[Pool], beds: Sequence[BedRun], stage: Stage) -> tuple[PoolRun, ...]:
    """Run every pool, those uphill first, so that overflow is known where it arrives.

    layout : the pools, as `layout.pools_of` gives them. beds : runs of the same days, with what they ask [L].
    KeyError if a covering is not in the tables (the yard reader has checked them).
    """
    days = len(stage.in_service)
    received = [
        _Received(
            Bounds(np.zeros(days), np.zeros(days)),
            {rule: np.zeros(days) for rule in ("yas", "ybs")},
            np.zeros(days, dtype=bool),
        )
        for _ in layout
    ]
    runs: dict[int, PoolRun] = {}
    for index in downhill(layout):
        pool = layout[index]
        below = None if pool.empties_to is None else received[pool.empties_to]
        runs[index] = _run_pool(pool, beds, stage, received[index], below)
    return tuple(runs[index] for index in range(len(layout)))


def _run_pool(
    pool: Pool, beds: Sequence[BedRun], stage: Stage, received: _Received, below: _Received | None
) -> PoolRun:
    in_service, record = stage.in_service, stage.record
    days = len(in_service)
    own_l, own_high_l, area_m2, shares = _roof_inflow(pool, stage)
    own_missing = np.isnan(own_l)
    missing = own_missing | received.missing
    own_known_l = np.where(own_missing, 0.0, own_l)
    demand = _demand(pool, beds, in_service)

    # only days in service are played, and the one after, on which the storage is emptied
    ends = np.zeros(days, dtype=bool)
    ends[1:] = in_service[:-1] & ~in_service[1:]
    where = np.flatnonzero(in_service | ends)
    begins = np.zeros(len(where), dtype=bool)
    begins[:1] = True
    begins[1:] = np.diff(where) > 1
    readings = [
        (int(np.searchsorted(where, day)), level)
        for day, level in pool.readings
        if day < days and in_service[day]
    ]

    accounts: dict[str, Account] = {}
    for rule in ("yas", "ybs"):
        inflow_l = own_known_l + received.by_rule[rule]
        accounts[rule] = account(
            inflow_l[where],
            demand["likely"][where],
            pool.capacity_l,
            rule,
            ends=ends[where],
            readings=readings,
        )
    bracket = level_bracket(
        Bounds(
            (own_known_l + received.bounds.low)[where],
            np.where(own_missing, np.inf, own_high_l + received.bounds.high)[where],
        ),
        Bounds(demand["low"][where], demand["high"][where]),
        pool.capacity_l,
        begins=begins,
        lag_l=demand["lag"][where],
        readings=readings,
        known_at_first=not (days and in_service[0]),
    )
    if below is not None:
        _pass_on(below, where, bracket.spilled, accounts, missing)

    standing = in_service[where]
    low_l, high_l = (
        _laid(np.where(standing, end + pool.dead_l, 0.0), where, np.zeros(days)) for end in bracket.level
    )
    known_since = _known_since(bracket.known, where, record.dates)
    if pool.readings and pool.readings[-1][0] == days:  # read this very morning
        low_l[-1] = high_l[-1] = pool.readings[-1][1] + pool.dead_l
        known_since = record.dates[-1].astype(date)
    runs = {rule: _on_calendar(accounts[rule].run, where, missing) for rule in accounts}
    return PoolRun(
        storages=pool.storages,
        roofs=tuple(roof.name for roof in pool.roofs),
        capacity_l=pool.capacity_l,
        dead_l=pool.dead_l,
        area_m2=area_m2,
        low_share=shares[0],
        high_share=shares[1],
        dates=record.dates,
        in_service=in_service,
        inflow_l=np.where(missing, np.nan, own_known_l + received.by_rule["yas"]),
        demand_l=demand["likely"],
        yas=runs["yas"],
        ybs=runs["ybs"],
        emptied_l=np.array([_laid(kept.emptied_l, where, np.zeros(days)) for kept in accounts.values()]),
        level_low_l=low_l,
        level_high_l=high_l,
        known_since=known_since,
        closure_l=max(kept.closure_l for kept in accounts.values()),
    )


def _roof_inflow(pool: Pool, stage: Stage) -> tuple[Array, Array, float, tuple[float, float]]:
    """Litres a day from a pool's roofs, NaN on a missing day in service; the same at most; plan area; ends of
    the coverings' range. At most: after a gap the roof may be wet and the first flush full, so no loss is
    charged until it has surely dried; `runoff` charges them afresh."""
    rain_mm = stage.record.rain_mm
    inflow_l, high_l = np.zeros(len(stage.in_service)), np.zeros(len(stage.in_service))
    coverings = [stage.knowledge.coverings[roof.covering] for roof in pool.roofs]
    yields = [roof.area_m2 * kind.coefficient for roof, kind in zip(pool.roofs, coverings, strict=True)]
    whole = sum(yields)
    reset_days = stage.knowledge.fact("roof.dry_reset").value
    maybe_wet = _after_gap(rain_mm, reset_days)
    for roof, kind, share in zip(pool.roofs, coverings, yields, strict=True):
        litres = catchment.runoff(
            rain_mm,
            roof.area_m2,
            kind.coefficient,
            kind.wetting_loss_mm,
            pool.first_flush_l * (share / whole if whole > 0.0 else 0.0),
            reset_days,
        )
        inflow_l += litres
        high_l += np.where(maybe_wet, rain_mm * share, litres)
    ends = (1.0, 1.0)
    if whole > 0.0:
        pairs = list(zip(pool.roofs, coverings, strict=True))
        ends = (
            sum(roof.area_m2 * kind.low for roof, kind in pairs) / whole,
            sum(roof.area_m2 * kind.high for roof, kind in pairs) / whole,
        )
    inflow_l, high_l = (np.where(stage.in_service, litres, 0.0) for litres in (inflow_l, high_l))
    return inflow_l, high_l, sum(roof.area_m2 for roof in pool.roofs), ends


def _after_gap(rain_mm: Array, reset_days: float) -> Flags:
    """Days from a gap in the rain until as many known dry days in a row as it takes a roof to dry."""
    missing = np.isnan(rain_mm)
    out = np.zeros(len(rain_mm), dtype=bool)
    after = np.flatnonzero(missing[:-1] & ~missing[1:]) + 1
    for start in after.tolist():
        dry = 0
        for day in range(start, len(rain_mm)):
            if missing[day] or dry >= reset_days:
                break
            dry = 0 if rain_mm[day] > 0.0 else dry + 1
            out[day] = True
    return out


def _demand(pool: Pool, beds: Sequence[BedRun], in_service: Flags) -> dict[str, Array]:
    """What is asked of a pool each day, as reckoned and as bounds [L]; nothing while it is out of service."""
    asked = {name: np.full(len(in_service), pool.daily_use_l) for name in ("likely", "low", "high")}
    asked["lag"] = np.zeros(len(in_service))
    for bed in beds:
        if bed.watered_from in pool.storages:
            asked["likely"] += bed.demand_l
            asked["low"] += bed.demand_low_l
            asked["high"] += bed.demand_high_l
            asked["lag"] += bed.demand_lag_l
    return {name: np.where(in_service, litres, 0.0) for name, litres in asked.items()}


def _pass_on(
    below: _Received,
    where: NDArray[np.int64],
    spilled: Bounds,
    accounts: dict[str, Account],
    missing: Flags,
) -> None:
    below.bounds.low[where] += spilled.low
    below.bounds.high[where] += spilled.high
    for rule, kept in accounts.items():
        below.by_rule[rule][where] += kept.run.spilled_l
    below.missing |= missing


def _on_calendar(run: StorageRun, where: NDArray[np.int64], missing: Flags) -> StorageRun:
    """A run over days in service laid on the calendar: 0 out of service, NaN on days without rain record."""

    def laid(values: Array) -> Array:
        whole = _laid(values, where, np.zeros(len(missing)))
        whole[missing] = np.nan
        return whole

    return replace(
        run,
        level_l=laid(run.level_l),
        supplied_l=laid(run.supplied_l),
        spilled_l=laid(run.spilled_l),
        unmet_l=laid(run.unmet_l),
    )


def _known_since(known: Flags, where: NDArray[np.int64], dates: NDArray[np.datetime64]) -> date | None:
    if len(known) == 0:
        return dates[0].astype(date) if len(dates) else None
    if not known[-1]:
        return None
    unknown = np.flatnonzero(~known)
    first = where[unknown[-1] + 1] if len(unknown) else 0
    since: date = dates[first].astype(date)
    return since


def _laid(values: Array, where: NDArray[np.int64], onto: Array) -> Array:
    onto[where] = values
    return onto
