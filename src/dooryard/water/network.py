"""A yard's roofs, barrels and beds run together through a station's record.

`run` is the door. `layout` turns the yard's names into pools, `pools` keeps the water of each, `beds` the
soil of each bed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.problem import Problem
from dooryard.water import evapotranspiration
from dooryard.water.beds import BedRun, run_bed, sky
from dooryard.water.evapotranspiration import ReferenceET
from dooryard.water.growing_season import UsualSeason, usual_season
from dooryard.water.layout import pools_of
from dooryard.water.pool_runs import Stage, run_pools
from dooryard.water.pools import Pool, PoolRun
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
    stage = Stage(known, knowledge, in_service)
    pools = run_pools(layout, beds, stage)
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


def _notes(stage: Stage, growing: UsualSeason | None, service: UsualSeason | None) -> list[str]:
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
