"""From a yard and its run to what choices are played through: places for barrels, ways of watering, whole years."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.water import catchment
from dooryard.water.choices import Floats, Kind, Years, named_years
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.worth import calendar_years, season_inflow, why_incomplete
from dooryard.words import list_words
from dooryard.yard.model import RAIN, Yard

#: Ways of watering one bed alone that are played at most; the beds that ask for most come first.
_MOST_SINGLE = 4
_KINDS = ("small-drum", "drum", "tote")


def kinds_of(knowledge: Knowledge) -> tuple[Kind, ...]:
    """Barrels that can be had, smallest first, as the facts tell."""
    return tuple(_kind(knowledge, key) for key in _KINDS)


def _kind(knowledge: Knowledge, key: str) -> Kind:
    volume, height, width, cost = (
        knowledge.fact(f"barrel.{key}.{name}") for name in ("volume", "height", "diameter", "cost")
    )
    lost_m = knowledge.fact("storage.outlet_height").value + knowledge.fact("overflow.below_rim").value
    return Kind(
        key=key,
        volume_l=volume.value,
        usable_l=volume.value * max(0.0, 1.0 - lost_m / height.value),
        cost_low=cost.value if cost.low is None else cost.low,
        cost=cost.value,
        cost_high=cost.value if cost.high is None else cost.high,
        width_m=width.value,
        most=round(knowledge.fact("choice.most_totes" if key == "tote" else "choice.most_barrels").value),
    )


class _Place(NamedTuple):
    """A downspout, or several that feed one store: its name, what stands there [L], what comes (N,) [L]."""

    name: str
    capacity_l: float
    inflow_l: Floats


def years_of(yard: Yard, run: YardRun, knowledge: Knowledge, *, extra_use_l: float = 0.0) -> Years | None:
    """What choices in a yard are played through; None if no roof gives water, nothing asks, or no year is whole.

    extra_use_l : taken on every day in service besides what the yard file says [L/d].
    """
    in_service = _in_service(run)
    places = _places(yard, run, knowledge, in_service)
    asks, demand_l, now = _asks(yard, run, in_service, extra_use_l)
    if not places or not asks:
        return None
    inflow_l = np.array([place.inflow_l for place in places])
    kept, excluded = _whole_years(run.dates, inflow_l.sum(axis=0), demand_l.sum(axis=0))
    if not kept:
        return None
    ends = np.zeros(len(run.dates), dtype=bool)
    ends[1:] = in_service[:-1] & ~in_service[1:]
    days = max(span.stop - span.start for _, span in kept)
    inflow, demand = _table(inflow_l, kept, days), _table(demand_l, kept, days)
    season_l = np.array([season_inflow(inflow_l[:, span].sum(0), demand_l[now, span]) for _, span in kept])
    years = tuple(year for year, _ in kept)
    named = named_years(years, season_l)
    if named is None:
        return None
    busy = np.flatnonzero(inflow.any(axis=(1, 2)) | demand.any(axis=(1, 2)))
    until = int(busy[-1]) + 1 if len(busy) else 0
    return Years(
        years=years,
        excluded=tuple(excluded),
        places=tuple(place.name for place in places),
        capacity_l=np.array([place.capacity_l for place in places]),
        inflow_l=inflow[:until],
        asks=asks,
        now=now,
        demand_l=demand[:until],
        emptied=_table(ends[None, :], kept, days)[:until, 0] > 0.0,
        dry=named[0],
        middling=named[1],
        wet=named[2],
    )


def _in_service(run: YardRun) -> NDArray[np.bool_]:
    """Days barrels stand at their spouts: as the first that is there, or as is usual."""
    if run.pools:
        return run.pools[0].in_service
    return np.ones(len(run.dates), dtype=bool) if run.service is None else run.service.contains(run.dates)


def _places(yard: Yard, run: YardRun, knowledge: Knowledge, in_service: NDArray[np.bool_]) -> list[_Place]:
    """Where barrels stand or could stand: stores that a roof feeds, then downspouts that feed none yet."""
    places = [
        _Place(
            f"the {list_words(pool.storages)}",
            pool.capacity_l + sum(below.capacity_l for below in _fed_by_overflow(run.pools, pool)),
            pool.roof_account.reached_l,
        )
        for pool in run.pools
        if pool.area_m2 > 0.0
    ]
    taken = {spout for storage in yard.storages for spout in storage.fed_by}
    for spout in yard.downspouts:
        roofs = yard.roofs_of(spout.name)
        if spout.name in taken or not roofs:
            continue
        reached = np.zeros(len(run.dates))
        for roof in roofs:
            kind = knowledge.coverings[roof.covering]
            reached += catchment.roof_fluxes(
                run.snow.liquid_mm,
                roof.area_m2,
                kind.coefficient,
                kind.wetting_loss_mm,
                0.0,
                knowledge.fact("roof.dry_reset").value,
                diverted_share=spout.diverted_share,
            ).reached_l
        places.append(_Place(f"the {spout.name}", 0.0, np.where(in_service, reached, 0.0)))
    return places


def _fed_by_overflow(pools: Sequence[PoolRun], above: PoolRun) -> list[PoolRun]:
    """Stores without a roof of their own that a store spills into, one after the other."""
    found: list[PoolRun] = []
    here = above
    while True:
        below = next((pool for pool in pools if here.overflow in pool.storages), None)
        if below is None or below.area_m2 > 0.0 or below in found:
            return found
        found.append(below)
        here = below


def _asks(
    yard: Yard, run: YardRun, in_service: NDArray[np.bool_], extra_use_l: float
) -> tuple[tuple[tuple[str, ...], ...], Floats, int]:
    """Ways of watering: as today, each bed alone, all beds; what each asks for (B, N) [L]; which is today's."""
    asked = {
        bed.name: np.where(in_service, bed.demand_l, 0.0)
        for bed in run.beds
        if bed.watered_from != RAIN
        and bed.demand_l.any()
        and not _out_of_reach(run, bed.name, bed.watered_from)
    }
    stored = {storage.name for storage in yard.storages}
    today = tuple(bed.name for bed in run.beds if bed.name in asked and bed.watered_from in stored)
    heavy = sorted(asked, key=lambda name: -float(asked[name].sum()))[:_MOST_SINGLE]
    single = [(bed.name,) for bed in run.beds if bed.name in heavy]
    use_l = _use(run, in_service) + np.where(in_service, extra_use_l, 0.0)
    ways = dict.fromkeys([today or tuple(asked), *single, tuple(asked)])
    asks = [way for way in ways if way] or ([()] if use_l.any() else [])
    demand_l = np.array([sum((asked[name] for name in way), use_l) for way in asks]).reshape(
        len(asks), len(run.dates)
    )
    return tuple(asks), demand_l, 0


def _out_of_reach(run: YardRun, bed: str, storage: str) -> bool:
    """Whether a bed lies above all water of the storage it is joined to by a hose or line."""
    pool = next((pool for pool in run.pools if storage in pool.storages), None)
    return pool is not None and np.isinf(pool.reach_of(bed).floor_l)


def _use(run: YardRun, in_service: NDArray[np.bool_]) -> Floats:
    """Other use of all barrels together, as the yard file says (N,) [L]."""
    return np.asarray(sum((pool.use_l for pool in run.pools), np.zeros(len(run.dates))) * in_service)


def _whole_years(
    dates: NDArray[np.datetime64], inflow_l: Floats, demand_l: Floats
) -> tuple[list[tuple[int, slice]], list[tuple[int, str]]]:
    kept: list[tuple[int, slice]] = []
    excluded: list[tuple[int, str]] = []
    for year, span in calendar_years(dates):
        reason = why_incomplete(year, inflow_l[span], demand_l[span])
        if reason:
            excluded.append((year, reason))
        else:
            kept.append((year, span))
    return kept, excluded


def _table(values: NDArray[np.generic], kept: Sequence[tuple[int, slice]], days: int) -> Floats:
    """Daily series (S, N) by day of the year, series and year (T, S, Y); 0 on the day a plain year lacks."""
    out = np.zeros((days, len(values), len(kept)))
    for index, (_, span) in enumerate(kept):
        out[: span.stop - span.start, :, index] = values[:, span].T
    return out
