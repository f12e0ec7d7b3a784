"""A yard's roofs, barrels and beds run together through a station's record.

`run` is the door. `layout` turns the yard's names into pools, `pools` keeps the water of each, `beds` the
soil of each bed. What a storage spills onto a bed is credited to it, so beds and pools are run in turns
until neither changes any more.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.problem import Problem
from dooryard.water import evapotranspiration
from dooryard.water.beds import BedRun, Sky, run_beds, sky
from dooryard.water.evapotranspiration import ReferenceET
from dooryard.water.growing_season import UsualSeason, usual_season
from dooryard.water.layout import pools_of
from dooryard.water.network_notes import notes
from dooryard.water.pool_runs import Stage, run_pools
from dooryard.water.pools import Bounds, Pool, PoolRun
from dooryard.water.snow import RoofSnow
from dooryard.water.steps import HoursOfRain, Steps, day_steps, hour_steps, hours_of_rain
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words
from dooryard.yard.model import RAIN, Yard

if TYPE_CHECKING:  # a plan on days alone need not load the readers of hours
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.hourly import HourlyRecord

__all__ = ["BedRun", "Narrowing", "PoolRun", "YardRun", "run"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: Water a run may make or lose on a day by rounding [L]; more is a mistake of ours.
_CLOSURE_L = 1e-9
#: Facts that set when beds grow and when barrels stand in service.
_GROWING_FACT, _SERVICE_FACT = "season.frost_c", "frost.drain_at"
#: Turns in which beds and the storages that spill onto them are run; what differs even then is called unknown.
_MOST_TURNS = 12


@dataclass(frozen=True, slots=True)
class Narrowing:
    """What the hours of rain tell more of a pool than its days alone, over the days whose hours are used.

    days : how many in service. width_by_day_l, width_by_hour_l : mean width of the level's bracket in the
    evening [L]. supplied_by_day_l, supplied_by_hour_l : supplied in all, least and most of the two rules [L].
    """

    storages: tuple[str, ...]
    days: int
    width_by_day_l: float
    width_by_hour_l: float
    supplied_by_day_l: tuple[float, float]
    supplied_by_hour_l: tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class YardRun:
    """What the water of a yard did on every day of the record before the planning day.

    dates : (N,) days. reference : the grass reference of the station. pools, beds : one run each, in the
    yard's order. growing, service : the usual frost-free season, and the season barrels stand in service;
    None if the record is too short to tell, and then taken as all year.
    snow : rain, snow and melt on roofs of barrels that stand in service in the usual season.
    narrowed : what hours of rain tell more, one for each pool; empty if none were given.
    notes : what a person should know about how this was worked out.
    closure_l : largest amount of water made or lost on any day by any account.
    """

    dates: NDArray[np.datetime64]
    reference: ReferenceET
    pools: tuple[PoolRun, ...]
    beds: tuple[BedRun, ...]
    growing: UsualSeason | None
    service: UsualSeason | None
    snow: RoofSnow
    narrowed: tuple[Narrowing, ...]
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

    def given_l(self, name: str) -> Array:
        """Water a bed got from its storage under the two rules (2, N) [L], NaN on days without rain record.

        Where the storage falls short, all who ask get the same share of what runs to them. 0 for a bed on tap or
        rain.
        """
        bed = self.bed(name)
        for pool in self.pools:
            if bed.watered_from in pool.storages:
                reach = pool.reach_of(name)
                asked = np.where(pool.in_service, bed.demand_l, 0.0)
                share = np.divide(asked, reach.demand_l, out=np.zeros(len(asked)), where=reach.demand_l > 0.0)
                return np.asarray(reach.supplied_l * share)
        return np.zeros((2, len(self.dates)))

    def mains_l(self, name: str) -> Array:
        """Water a bed got from the tap under the two rules (2, N) [L], NaN on days without rain record.

        All it asked for, or what its storage lacked; 0 for a bed on rain.
        """
        bed = self.bed(name)
        if bed.watered_from == RAIN:
            return np.zeros((2, len(self.dates)))
        return np.asarray(bed.demand_l - self.given_l(name))


def run(
    yard: Yard,
    record: WeatherRecord,
    knowledge: Knowledge,
    on: date,
    *,
    hours: HourlyRecord | GaugeRecord | None = None,
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
    hours : HourlyRecord or GaugeRecord, optional
        Rain of hours or shorter intervals at the same place. The storages are then run by hours on the days
        these cover, with the rain of the record's days.

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
    stage = Stage(known, knowledge, in_service, _mean_for_snow(known, knowledge))
    snow = stage.snow(in_service)
    above = sky(known.dates, snow.liquid_mm, reference.et_mm)
    layout, problems = pools_of(yard, known.first, len(known.dates))
    scene = _Scene(yard, knowledge, above, reference, growing, on, layout, stage)
    spread = None if hours is None else _spread(hours, stage, snow)
    steps = day_steps(len(known.dates)) if spread is None else hour_steps(spread)
    beds, pools, unsettled = _in_turns(scene, steps)
    narrowed: tuple[Narrowing, ...] = ()
    if spread is not None:
        by_day = run_pools(layout, beds, stage, day_steps(len(known.dates)))
        narrowed = tuple(_narrowing(day, hour, spread.used) for day, hour in zip(by_day, pools, strict=True))
    closures = [pool.closure_l for pool in pools] + [bed.closure_mm * bed.area_m2 for bed in beds]
    closures += [snow.closure_error_mm() * pool.area_m2 for pool in pools]
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
        snow=snow,
        narrowed=narrowed,
        notes=notes(yard.units, stage, snow, layout, pools, growing, service, spread),
        closure_l=closure_l,
    )
    return result, (
        *problems,
        *unsettled,
        *_unused_readings(layout, stage),
        *_beds_without_use(beds),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Scene:
    """All that beds and pools are run from."""

    yard: Yard
    knowledge: Knowledge
    above: Sky
    reference: ReferenceET
    growing: UsualSeason | None
    on: date
    layout: Sequence[Pool]
    stage: Stage

    def beds(self, overflow_l: Mapping[str, Bounds]) -> tuple[BedRun, ...]:
        """All beds, with what is spilled onto some of them."""
        return run_beds(
            self.yard.beds, self.knowledge, self.above, self.reference, self.growing, self.on, overflow_l
        )


def _in_turns(scene: _Scene, steps: Steps) -> tuple[tuple[BedRun, ...], tuple[PoolRun, ...], list[Problem]]:
    """Beds and pools, run until what is spilled onto beds agrees with what those beds ask for.

    Water that is spilled today changes what a bed asks for tomorrow, so each turn is right for at least one
    day more than the last, and as a rule two or three turns are enough. If they are not, what was spilled from the
    first day on which the last two turns differ is called unknown, which no later turn can make wrong.
    """
    spilling = {pool.overflow for pool in scene.layout}
    fed = [bed.name for bed in scene.yard.beds if bed.name in spilling]
    beds = scene.beds({})
    pools = run_pools(scene.layout, beds, scene.stage, steps)
    if not fed:
        return beds, pools, []
    overflow_l: dict[str, Bounds] = {}
    storages = {name for pool in scene.layout for name in pool.storages}
    asking = any(bed.watered_from in storages for bed in scene.yard.beds if bed.name in fed)
    for _ in range(_MOST_TURNS):
        before, overflow_l = overflow_l, {name: _spilled_onto(name, pools) for name in fed}
        if before and all(_same(before[name], overflow_l[name]) for name in fed):
            return beds, pools, []
        beds = scene.beds(overflow_l)
        if not asking:
            return beds, pools, []
        pools = run_pools(scene.layout, beds, scene.stage, steps)
    now_l = {name: _spilled_onto(name, pools) for name in fed}
    first = min(_first_difference(overflow_l[name], now_l[name]) for name in fed)
    if first == len(scene.above.dates):
        return beds, pools, []
    for bounds in now_l.values():
        bounds.low[first:], bounds.high[first:] = 0.0, np.inf
    beds = scene.beds(now_l)
    pools = run_pools(scene.layout, beds, scene.stage, steps)
    since = day_words(scene.above.dates[first].astype(date), year=True)
    unsettled = Problem(
        what=f"What storages spill onto {', '.join(fed)}, and what is asked of these storages for it, depend on "
        f"each other too closely to be followed. How much was spilled from {since} on is taken as unknown.",
        instead="Let the overflow run to another bed than the one the storage waters.",
        field="empties_to",
    )
    return beds, pools, [unsettled]


def _first_difference(one: Bounds, other: Bounds) -> int:
    """Index of the first day on which two series of bounds differ; their length if they never do."""
    differ = (one.low != other.low) | (one.high != other.high)
    return int(differ.argmax()) if differ.any() else len(differ)


def _spilled_onto(bed: str, pools: Sequence[PoolRun]) -> Bounds:
    here = [pool for pool in pools if pool.overflow == bed]
    low, high = (
        np.sum([getattr(pool, name) for pool in here], axis=0) for name in ("spill_low_l", "spill_high_l")
    )
    return Bounds(low, high)


def _same(one: Bounds, other: Bounds) -> bool:
    return bool(np.array_equal(one.low, other.low) and np.array_equal(one.high, other.high))


def _mean_for_snow(record: WeatherRecord, knowledge: Knowledge) -> Array:
    """Mean temperature of each day, gaps bridged, only good to tell snow from rain [degC].

    Short gaps in a straight line, longer ones by the usual mean of the month; NaN if it was never measured.
    """
    mean_c = (record.t_min_c + record.t_max_c) / 2
    missing = np.isnan(mean_c)
    if not missing.any() or missing.all():
        return np.asarray(mean_c)
    day = np.arange(len(mean_c))
    last = np.maximum.accumulate(np.where(missing, -1, day))
    following = np.minimum.accumulate(np.where(missing, len(day), day)[::-1])[::-1]
    longest = knowledge.fact("snow.temperature_gap").value
    short = missing & (following - last - 1 <= longest) & (last >= 0) & (following < len(day))
    filled = np.where(short, np.interp(day, day[~missing], mean_c[~missing]), mean_c)
    month = record.dates.astype("datetime64[M]").astype(np.int64) % 12
    for number in np.unique(month[missing & ~short]).tolist():
        known = mean_c[(month == number) & ~missing]
        if len(known):
            filled[(month == number) & missing & ~short] = known.mean()
    return np.asarray(filled)


def _spread(hours: HourlyRecord | GaugeRecord, stage: Stage, snow: RoofSnow) -> HoursOfRain:
    """Hours of the days in service on which nothing but rain ran off the roofs."""
    plain = stage.in_service & (snow.liquid_mm == stage.record.rain_mm)
    return hours_of_rain(
        stage.record, hours, agreement=stage.knowledge.fact("gauge.agreement").value, only=plain
    )


def _narrowing(by_day: PoolRun, by_hour: PoolRun, used: Flags) -> Narrowing:
    here = used & by_day.in_service

    def width(pool: PoolRun) -> float:
        return float(np.mean((pool.level_high_l - pool.level_low_l)[here])) if here.any() else 0.0

    def supplied(pool: PoolRun) -> tuple[float, float]:
        sums = [float(np.nansum(kept.supplied_l[here])) for kept in (pool.yas, pool.ybs)]
        return min(sums), max(sums)

    return Narrowing(
        storages=by_day.storages,
        days=int(np.count_nonzero(here)),
        width_by_day_l=width(by_day),
        width_by_hour_l=width(by_hour),
        supplied_by_day_l=supplied(by_day),
        supplied_by_hour_l=supplied(by_hour),
    )


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


def _unused_readings(layout: Sequence[Pool], stage: Stage) -> list[Problem]:
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
