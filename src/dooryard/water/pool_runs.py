"""Every pool of a yard run through a record: roofs to barrels, barrels to the barrels below them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.water import catchment
from dooryard.water.beds import BedRun
from dooryard.water.draws import draw_days
from dooryard.water.layout import downhill
from dooryard.water.pools import (
    Account,
    Bounds,
    ByFloor,
    Pool,
    PoolRun,
    RoofAccount,
    account,
    account_by_floor,
    level_bracket,
)
from dooryard.water.reach import Reach
from dooryard.water.snow import RoofSnow, held_snow
from dooryard.water.steps import Steps
from dooryard.water.storage import StorageRun
from dooryard.weather.record import WeatherRecord

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """What every pool of a yard stands in: the record, the tables, and the usual days in service (N,).

    mean_c : mean temperature of each day as far as it tells snow from rain [degC].
    """

    record: WeatherRecord
    knowledge: Knowledge
    in_service: Flags
    mean_c: Array
    _snow: dict[bytes, RoofSnow] = field(default_factory=dict, init=False, repr=False)

    def service_of(self, pool: Pool) -> Flags:
        """The days a pool stands in service."""
        if pool.off_months is None:
            return self.in_service
        month = self.record.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
        return np.asarray(~np.isin(month, pool.off_months))

    def snow(self, in_service: Flags) -> RoofSnow:
        """Rain, snow and melt on a roof that is bare on the morning its barrel is put out."""
        key = in_service.tobytes()
        if key not in self._snow:
            put_out = in_service.copy()
            put_out[1:] &= ~in_service[:-1]
            put_out[:1] = False
            self._snow[key] = held_snow(
                self.record.rain_mm,
                self.mean_c,
                snow_at_c=self.knowledge.fact("snow.at").value,
                melt_mm_per_c=self.knowledge.fact("snow.melt").value,
                most_mm=self.knowledge.fact("snow.most_in_a_day").value,
                cleared=put_out,
            )
        return self._snow[key]


@dataclass(slots=True)
class _Received:
    """Overflow that reaches a pool from those above it, by steps: as bounds, and under each rule."""

    bounds: Bounds
    by_rule: dict[str, Array]
    missing: Flags


def run_pools(
    layout: Sequence[Pool], beds: Sequence[BedRun], stage: Stage, steps: Steps
) -> tuple[PoolRun, ...]:
    """Run every pool, those uphill first, so that overflow is known where it arrives.

    layout : the pools, as `layout.pools_of` gives them. beds : runs of the same days, with what they ask [L].
    steps : days, or hours of some of them. KeyError if a covering is not in the tables (the yard reader has
    checked them).
    """
    size = len(steps.day)
    received = [
        _Received(
            Bounds(np.zeros(size), np.zeros(size)),
            {rule: np.zeros(size) for rule in ("yas", "ybs")},
            np.zeros(size, dtype=bool),
        )
        for _ in layout
    ]
    runs: dict[int, PoolRun] = {}
    for index in downhill(layout):
        pool = layout[index]
        below = None if pool.empties_to is None else received[pool.empties_to]
        runs[index] = _run_pool(pool, beds, stage, steps, received[index], below)
    return tuple(runs[index] for index in range(len(layout)))


def _run_pool(
    pool: Pool,
    beds: Sequence[BedRun],
    stage: Stage,
    steps: Steps,
    received: _Received,
    below: _Received | None,
) -> PoolRun:
    in_service, record = stage.service_of(pool), stage.record
    days = len(in_service)
    roofs = _roofs(pool, stage, steps, in_service)
    own_missing = np.isnan(roofs.reached_l)
    missing = own_missing | received.missing
    own_known_l = np.where(own_missing, 0.0, roofs.reached_l)
    demand = _demand(pool, beds, stage, steps, in_service)

    # only days in service are played, and the one after, on which the storage is emptied
    ends = np.zeros(days, dtype=bool)
    ends[1:] = in_service[:-1] & ~in_service[1:]
    standing = in_service[steps.day]
    emptying = np.zeros(len(steps.day), dtype=bool)
    emptying[steps.first[ends]] = True
    where = np.flatnonzero(standing | emptying)
    begins = np.zeros(len(where), dtype=bool)
    begins[:1] = True
    begins[1:] = np.diff(where) > 1
    readings = [
        (int(np.searchsorted(where, steps.first[day])), level)
        for day, level in pool.readings
        if day < days and in_service[day]
    ]

    accounts: dict[str, Account] = {}
    for rule in ("yas", "ybs"):
        inflow_l = own_known_l + received.by_rule[rule]
        accounts[rule] = (
            account(
                inflow_l[where],
                demand.likely[where],
                pool.capacity_l,
                rule,
                ends=emptying[where],
                readings=readings,
            )
            if len(demand.groups) == 1
            else account_by_floor(
                inflow_l[where],
                np.array([group.likely for group in demand.groups])[:, where],
                [group.floor_l for group in demand.groups],
                pool.capacity_l,
                rule,
                ends=emptying[where],
                readings=readings,
            )
        )
    known_at_first = not (days and in_service[0])
    bracket = level_bracket(
        Bounds(
            (own_known_l + received.bounds.low)[where],
            np.where(own_missing, np.inf, roofs.most_l + received.bounds.high)[where],
        ),
        Bounds(demand.low[where], demand.high[where]),
        pool.capacity_l,
        begins=begins,
        lag_l=demand.lag[where],
        readings=readings,
        known_at_first=known_at_first,
        by_floor=None if len(demand.groups) == 1 else demand.by_floor(where),
    )
    if below is not None:
        _pass_on(below, where, bracket.spilled, accounts, missing)

    def by_day(values: Array) -> Array:
        return steps.sums(_laid(values, where, np.zeros(len(steps.day))))

    low_l, high_l = (
        steps.evenings(
            _laid(np.where(standing[where], end + pool.dead_l, 0.0), where, np.zeros(len(steps.day)))
        )
        for end in bracket.level
    )
    lost_days = steps.sums(missing.astype(np.float64)) > 0.0
    step_dates = record.dates[steps.day]
    known_since = _known_since(bracket.known, where, step_dates)
    settled = _first_known(bracket.known, where, step_dates, known_at_first)
    if pool.readings and pool.readings[-1][0] == days:  # read this very morning
        low_l[-1] = high_l[-1] = pool.readings[-1][1] + pool.dead_l
        known_since = record.dates[-1].astype(date)
        settled = settled or known_since
    runs = {rule: _on_calendar(accounts[rule].run, where, lost_days, steps) for rule in accounts}
    demand_l = steps.sums(demand.likely)
    reaches: tuple[Reach, ...] = (
        Reach(0.0, demand.groups[0].beds, demand_l, np.array([run.supplied_l for run in runs.values()])),
    )
    if len(demand.groups) > 1:
        reaches = tuple(
            Reach(
                group.floor_l,
                group.beds,
                steps.sums(group.likely),
                np.array(
                    [
                        np.where(lost_days, np.nan, by_day(kept.by_floor_l[number]))
                        for kept in accounts.values()
                    ]
                ),
            )
            for number, group in enumerate(demand.groups)
        )
    roof_account, roof_closure_l = roofs.account(steps)
    got = np.array([steps.sums(received.by_rule[rule]) for rule in accounts])
    reached_l = np.nan_to_num(roof_account.reached_l)
    return PoolRun(
        storages=pool.storages,
        roofs=tuple(roof.name for roof in pool.roofs),
        capacity_l=pool.capacity_l,
        dead_l=pool.dead_l,
        area_m2=sum(roof.area_m2 for roof in pool.roofs),
        low_share=roofs.shares[0],
        high_share=roofs.shares[1],
        dates=record.dates,
        in_service=in_service,
        inflow_l=np.where(lost_days, np.nan, reached_l + got[0]),
        demand_l=demand_l,
        use_l=steps.sums(demand.use),
        roof_account=roof_account,
        received_l=got,
        yas=runs["yas"],
        ybs=runs["ybs"],
        reaches=reaches,
        emptied_l=np.array([by_day(kept.emptied_l) for kept in accounts.values()]),
        corrected_l=np.array([by_day(kept.corrected_l) for kept in accounts.values()]),
        overflow=pool.overflow,
        spill_low_l=by_day(bracket.spilled.low),
        spill_high_l=by_day(bracket.spilled.high),
        level_low_l=low_l,
        level_high_l=high_l,
        known_since=known_since,
        settled=settled,
        closure_l=max(roof_closure_l, *(kept.closure_l for kept in accounts.values())),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Roofs:
    """The roofs of a pool added up, by steps (M,) [L].

    parts : in the order of `RoofAccount`. most_l : what reaches the pool at most: after a gap the roof may be
    wet and the first flush full, so no loss is charged until it has surely dried; `roof_fluxes` charges them
    afresh. shares : ends of the coverings' range over the coefficient.
    """

    parts: Array
    most_l: Array
    shares: tuple[float, float]

    @property
    def reached_l(self) -> Array:
        """What reaches the pool, NaN on a missing step in service [L]."""
        return np.asarray(self.parts[-1])

    def account(self, steps: Steps) -> tuple[RoofAccount, float]:
        """The same by days, and its largest closure error [L]."""
        kept = RoofAccount(*steps.sums(self.parts))
        return kept, kept.closure_error_l()


def _roofs(pool: Pool, stage: Stage, steps: Steps, in_service: Flags) -> _Roofs:
    """Where the rain on a pool's roofs goes, step by step."""
    rain_mm = stage.snow(in_service).liquid_mm[steps.day] * steps.share
    coverings = [stage.knowledge.coverings[roof.covering] for roof in pool.roofs]
    yields = [
        roof.area_m2 * kind.coefficient * roof.diverted_share
        for roof, kind in zip(pool.roofs, coverings, strict=True)
    ]
    whole = sum(yields)
    reset_days = stage.knowledge.fact("roof.dry_reset").value
    standing = in_service[steps.day]
    begins_d, ends_d = steps.begins_d, steps.ends_d
    maybe_wet = _after_gap(rain_mm, begins_d, ends_d, reset_days)
    parts, most_l = np.zeros((7, len(rain_mm))), np.zeros(len(rain_mm))
    for roof, kind, share in zip(pool.roofs, coverings, yields, strict=True):
        went = catchment.roof_fluxes(
            rain_mm,
            roof.area_m2,
            kind.coefficient,
            kind.wetting_loss_mm,
            pool.first_flush_l * (share / whole if whole > 0.0 else 0.0),
            reset_days,
            diverted_share=roof.diverted_share,
            begins_d=begins_d,
            ends_d=ends_d,
        )
        past = went.bypassed_l + went.flushed_l + went.reached_l
        parts[0] += went.fell_l
        parts[1] += went.wetted_l
        parts[2] += went.splashed_l
        parts[3] += np.where(standing, 0.0, past)
        parts[4] += np.where(standing, went.bypassed_l, 0.0)
        parts[5] += np.where(standing, went.flushed_l, 0.0)
        parts[6] += np.where(standing, went.reached_l, 0.0)
        most_l += np.where(maybe_wet & standing, rain_mm * share, np.where(standing, went.reached_l, 0.0))
    ends = (1.0, 1.0)
    if whole > 0.0:
        trio = list(zip(pool.roofs, coverings, strict=True))
        ends = (
            sum(roof.area_m2 * kind.low * roof.diverted_share for roof, kind in trio) / whole,
            sum(roof.area_m2 * kind.high * roof.diverted_share for roof, kind in trio) / whole,
        )
    return _Roofs(parts, most_l, ends)


def _after_gap(rain_mm: Array, begins_d: Array, ends_d: Array, reset_days: float) -> Flags:
    """Steps from a gap in the rain until it has surely been dry for as long as it takes a roof to dry."""
    missing = np.isnan(rain_mm)
    out = np.zeros(len(rain_mm), dtype=bool)
    after = np.flatnonzero(missing[:-1] & ~missing[1:]) + 1
    for start in after.tolist():
        dry_d = 0.0
        for step in range(start, len(rain_mm)):
            if missing[step] or dry_d >= reset_days:
                break
            dry_d = 0.0 if rain_mm[step] > 0.0 else dry_d + float(ends_d[step] - begins_d[step])
            out[step] = True
    return out


@dataclass(frozen=True, slots=True, eq=False)
class _Group:
    """What those who are served down to one floor ask for in each step, as reckoned and as bounds (M,) [L]."""

    floor_l: float
    beds: tuple[str, ...]
    likely: Array
    low: Array
    high: Array


@dataclass(frozen=True, slots=True, eq=False)
class _Demand:
    """What is asked of a pool in each step (M,) [L], by floor; use : not for beds.

    lag : once more at most, as in `BedRun.demand_lag_l`.
    """

    groups: tuple[_Group, ...]
    lag: Array
    use: Array

    @property
    def likely(self) -> Array:
        """As reckoned."""
        return self._all("likely")

    @property
    def low(self) -> Array:
        """At least."""
        return self._all("low")

    @property
    def high(self) -> Array:
        """At most."""
        return self._all("high")

    def _all(self, name: str) -> Array:
        parts: list[Array] = [getattr(group, name) for group in self.groups]
        return parts[0] if len(parts) == 1 else np.asarray(np.sum(parts, axis=0))

    def by_floor(self, where: NDArray[np.int64]) -> ByFloor:
        """The bounds by floor, on some steps."""
        low, high = (
            np.array([getattr(group, name) for group in self.groups])[:, where] for name in ("low", "high")
        )
        return ByFloor(tuple(group.floor_l for group in self.groups), low, high)


def _demand(pool: Pool, beds: Sequence[BedRun], stage: Stage, steps: Steps, in_service: Flags) -> _Demand:
    """What is asked of a pool; nothing while it is out of service."""
    days = len(in_service)
    served = [bed for bed in beds if bed.watered_from in pool.storages]
    use_low, use_high = np.zeros(days), np.zeros(days)
    for use in pool.uses:
        drawn = draw_days(stage.record.dates, stage.record.rain_mm, use.weekdays, use.dry_days)
        use_low += np.where(drawn.surely, use.litres, 0.0)
        use_high += np.where(drawn.perhaps, use.litres, 0.0)
    bed_hour, other_hour = (stage.knowledge.fact(key).value for key in ("draw.bed_hour", "draw.other_hour"))
    nothing = np.zeros(days)

    def placed(for_beds: Array, other: Array) -> Array:
        there = np.where(in_service, for_beds, 0.0)
        return steps.placed(there, bed_hour) + steps.placed(np.where(in_service, other, 0.0), other_hour)

    def group(floor_l: float) -> _Group:
        here = [bed for bed in served if floor_of.get(bed.name, 0.0) == floor_l]
        likely, low, high = (
            sum((getattr(bed, name) for bed in here), nothing)
            for name in ("demand_l", "demand_low_l", "demand_high_l")
        )
        other_low, other_high = (use_low, use_high) if floor_l == 0.0 else (nothing, nothing)
        return _Group(
            floor_l,
            tuple(bed.name for bed in here),
            placed(likely, other_high),
            placed(low, other_low),
            placed(high, other_high),
        )

    floor_of = dict(pool.floors)
    lag = sum((bed.demand_lag_l for bed in served), nothing)
    return _Demand(
        groups=tuple(group(floor_l) for floor_l in sorted({0.0, *floor_of.values()})),
        lag=np.where(in_service, lag, 0.0)[steps.day],
        use=placed(nothing, use_high),
    )


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


def _on_calendar(run: StorageRun, where: NDArray[np.int64], lost_days: Flags, steps: Steps) -> StorageRun:
    """A run over steps in service by days of the calendar: 0 out of service, NaN on days without rain record."""

    def laid(values: Array) -> Array:
        return _laid(values, where, np.zeros(len(steps.day)))

    level, supplied, spilled, unmet = (
        np.where(lost_days, np.nan, values)
        for values in (
            steps.evenings(laid(run.level_l)),
            steps.sums(laid(run.supplied_l)),
            steps.sums(laid(run.spilled_l)),
            steps.sums(laid(run.unmet_l)),
        )
    )
    return StorageRun(level, supplied, spilled, unmet, run.rule)


def _known_since(known: Flags, where: NDArray[np.int64], dates: NDArray[np.datetime64]) -> date | None:
    if len(known) == 0:
        return dates[0].astype(date) if len(dates) else None
    if not known[-1]:
        return None
    unknown = np.flatnonzero(~known)
    first = where[unknown[-1] + 1] if len(unknown) else 0
    since: date = dates[first].astype(date)
    return since


def _first_known(
    known: Flags, where: NDArray[np.int64], dates: NDArray[np.datetime64], known_at_first: bool
) -> date | None:
    """First day from which the start of the record does not matter any more."""
    if known_at_first or len(known) == 0:
        return dates[0].astype(date) if len(dates) else None
    first = np.flatnonzero(known)
    settled: date | None = dates[where[first[0]]].astype(date) if len(first) else None
    return settled


def _laid(values: Array, where: NDArray[np.int64], onto: Array) -> Array:
    onto[where] = values
    return onto
