"""A yard's roofs, barrels and beds run together through a station's record.

`run` is the door. `layout` turns the yard's names into pools, `pools` keeps the water of each, `beds` the
soil of each bed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.problem import Problem
from dooryard.water import catchment, evapotranspiration
from dooryard.water.beds import BedRun, run_bed, sky
from dooryard.water.evapotranspiration import ReferenceET
from dooryard.water.growing_season import UsualSeason, usual_season
from dooryard.water.layout import downhill, pools_of
from dooryard.water.pools import Account, Bounds, Pool, PoolRun, account, level_bracket
from dooryard.water.storage import StorageRun
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Yard

__all__ = ["BedRun", "PoolRun", "YardRun", "run"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: Water a run may make or lose on a day by rounding [L]; more is a mistake of ours.
_CLOSURE_L = 1e-9
#: Facts that set when beds grow and when barrels stand in service.
_GROWING_FACT, _SERVICE_FACT = "season.frost_c", "frost.drain_at"


@dataclass(frozen=True, slots=True, eq=False)
class YardRun:
    """What the water of a yard did on every day of the record before the planning day.

    dates : (N,) days. reference : the grass reference of the station. pools, beds : one run each, in the
    yard's order. growing, service : the usual frost-free season, and the season barrels stand in service;
    None if the record is too short to tell, and then taken as all year.
    notes : what a person should know about how this was worked out.
    closure_l : largest amount of water made or lost on any day by any account.
    """

    dates: NDArray[np.datetime64]
    reference: ReferenceET
    pools: tuple[PoolRun, ...]
    beds: tuple[BedRun, ...]
    growing: UsualSeason | None
    service: UsualSeason | None
    notes: tuple[str, ...]
    closure_l: float

    def pool_of(self, storage_name: str) -> PoolRun:
        """The pool a storage belongs to; KeyError if there is none."""
        for pool in self.pools:
            if storage_name in pool.storages:
                return pool
        raise KeyError(storage_name)

    def bed(self, name: str) -> BedRun:
        """The bed of that name; KeyError if there is none."""
        for bed in self.beds:
            if bed.name == name:
                return bed
        raise KeyError(name)


def run(
    yard: Yard, record: WeatherRecord, knowledge: Knowledge, on: date
) -> tuple[YardRun, tuple[Problem, ...]]:
    """Run a yard's water up to the eve of `on`.

    Parameters
    ----------
    yard : Yard
        As read, every name resolved.
    record : WeatherRecord
        The station's days; only those before `on` are used.
    knowledge : Knowledge
        Tables of coverings, crops, soils and facts.
    on : date
        The morning from which the yard is seen.

    Returns
    -------
    (YardRun, problems)
        Problems are faults of the yard that were worked around; nothing is dropped without one.

    Raises
    ------
    InputError
        If the record begins on or after `on`, or nobody knows the latitude.
    """
    known = record.until(on)
    reference = evapotranspiration.reference(known, yard.place.latitude, yard.place.elevation_m)
    growing = _season(known, reference.latitude, knowledge, _GROWING_FACT)
    service = _season(known, reference.latitude, knowledge, _SERVICE_FACT)
    in_service = np.ones(len(known.dates), dtype=bool) if service is None else service.contains(known.dates)
    above = sky(known.dates, known.rain_mm, reference.et_mm)
    beds = tuple(run_bed(bed, knowledge, above, reference, growing, on) for bed in yard.beds)
    layout, problems = pools_of(yard, known.first, len(known.dates))
    stage = _Stage(known, knowledge, in_service)
    pools = _run_pools(layout, beds, stage)
    closures = [pool.closure_l for pool in pools] + [bed.closure_mm * bed.area_m2 for bed in beds]
    closure_l = max(closures, default=0.0)
    if closure_l > _CLOSURE_L:
        raise AssertionError(f"the water account is out by {closure_l} L in a day")
    result = YardRun(
        dates=known.dates,
        reference=reference,
        pools=pools,
        beds=beds,
        growing=growing,
        service=service,
        notes=tuple(_notes(stage, growing, service)),
        closure_l=closure_l,
    )
    return result, (*problems, *_unused_readings(layout, stage), *_beds_without_use(beds))


@dataclass(frozen=True, slots=True)
class _Stage:
    """What every pool of a yard stands in."""

    record: WeatherRecord
    knowledge: Knowledge
    in_service: Flags


@dataclass(slots=True)
class _Received:
    """Overflow that reaches a pool from those above it: as bounds, and under each rule."""

    bounds: Bounds
    by_rule: dict[str, Array]
    missing: Flags


def _season(
    record: WeatherRecord, latitude: float, knowledge: Knowledge, threshold: str
) -> UsualSeason | None:
    return usual_season(
        record.dates,
        record.t_min_c,
        knowledge.fact(threshold).value,
        latitude=latitude,
        gap_days=knowledge.fact("season.frost_gap_days").value,
    )


def _run_pools(layout: Sequence[Pool], beds: Sequence[BedRun], stage: _Stage) -> tuple[PoolRun, ...]:
    """Every pool, those uphill first, so that overflow is known where it arrives."""
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
    pool: Pool, beds: Sequence[BedRun], stage: _Stage, received: _Received, below: _Received | None
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


def _roof_inflow(pool: Pool, stage: _Stage) -> tuple[Array, Array, float, tuple[float, float]]:
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


def _unused_readings(layout: Sequence[Pool], stage: _Stage) -> list[Problem]:
    dates = stage.record.dates
    return [
        Problem(
            what=f"The level of {pool.storages[0]} was read on {dates[day]}, when barrels here are usually "
            "off the downspout and empty. The reading is not used.",
            instead="If it stands in service all winter, its frozen days are not reckoned here.",
            field="levels",
            found=str(dates[day]),
        )
        for pool in layout
        for day, _ in pool.readings
        if day < len(dates) and not stage.in_service[day]
    ]


def _beds_without_use(beds: Sequence[BedRun]) -> list[Problem]:
    return [
        Problem(
            what=f'How much water the bed "{bed.name}" uses is not known: in some months in which it grows '
            "the station has never measured temperature. It is not counted in what its barrel must give.",
            instead="Name a station that measures temperature.",
            field="weather",
        )
        for bed in beds
        if bed.growing.any() and np.isnan(bed.depletion_high_mm).all()
    ]


def _notes(stage: _Stage, growing: UsualSeason | None, service: UsualSeason | None) -> list[str]:
    record = stage.record
    notes = []
    if growing is None or service is None:
        notes.append(
            "The record holds no complete spring and autumn, so frost dates are not known: "
            "beds and barrels are taken to be in use all year."
        )
    else:
        notes.append(
            f"Beds grow {growing.words()}, barrels stand in service {service.words()}: the middle of "
            f"{growing.years} years. Outside of that a barrel is empty and off the downspout."
        )
        few = stage.knowledge.fact("season.frost_years").value
        if growing.years < few:
            notes.append(f"Frost dates from fewer than {few:.0f} years are rough.")
    mean_c = (record.t_min_c + record.t_max_c) / 2
    freezing = np.count_nonzero((record.rain_mm > 0.0) & (mean_c <= 0.0) & stage.in_service)
    if freezing:
        notes.append(
            f"On {freezing} days in service what fell was likely snow; it is counted on the day it fell, "
            "not when it melted."
        )
    notes.append("Water given to a bed is reckoned as reaching the roots in full, whatever it is given with.")
    return notes
