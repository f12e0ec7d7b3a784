"""What a run of a yard's water took for granted, in sentences for the person who reads its report."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np

from dooryard import units
from dooryard.units import System
from dooryard.water.growing_season import UsualSeason
from dooryard.water.pool_runs import Stage
from dooryard.water.pools import Pool, PoolRun
from dooryard.water.snow import RoofSnow
from dooryard.water.steps import HoursOfRain
from dooryard.words import MONTHS, day_words, list_words


def notes(
    system: System,
    stage: Stage,
    snow: RoofSnow,
    layout: Sequence[Pool],
    pools: Sequence[PoolRun],
    growing: UsualSeason | None,
    service: UsualSeason | None,
    spread: HoursOfRain | None,
) -> tuple[str, ...]:
    """All notes of a run, in the order in which they are told; depths in the units of `system`.

    snow : on roofs of barrels in the usual service. growing, service : None if the record does not tell them.
    spread : hours of rain, if the storages were run by hours.
    """
    return (
        *_season_notes(stage, growing, service),
        *_off_notes(layout),
        *_reach_notes(layout),
        *_snow_notes(system, stage, snow),
        *_start_notes(pools),
        *([] if spread is None else _hour_notes(spread)),
    )


def _season_notes(stage: Stage, growing: UsualSeason | None, service: UsualSeason | None) -> list[str]:
    told = []
    if growing is None or service is None:
        told.append(
            "The record holds no complete spring and autumn, so frost dates are not known: "
            "beds and barrels are taken to be in use all year."
        )
    else:
        told.append(
            f"Beds grow {growing.words()}, barrels stand in service {service.words()}: the middle of "
            f"{growing.years} years. Outside of that a barrel is empty and off the downspout."
        )
        few = stage.knowledge.fact("season.frost_years").value
        if growing.years < few:
            told.append(f"Frost dates from fewer than {few:.0f} years are rough.")
    told.append("Water given to a bed is reckoned as reaching the roots in full, whatever it is given with.")
    return told


def _off_notes(layout: Sequence[Pool]) -> list[str]:
    """Storages that are put away in other months than the usual freeze."""
    return [
        f"As the yard file says, {list_words(pool.storages)} stays on its downspout all year."
        if not pool.off_months
        else f"As the yard file says, {list_words(pool.storages)} is off its downspout and empty in "
        f"{list_words([MONTHS[month - 1] for month in pool.off_months])}."
        for pool in layout
        if pool.off_months is not None
    ]


def _reach_notes(layout: Sequence[Pool]) -> list[str]:
    """Beds to which not all of a storage's water runs."""
    return [
        f"No water runs from {list_words(pool.storages)} to the {bed}, which lies higher."
        if floor_l >= pool.capacity_l
        else f"The lower {100 * floor_l / pool.capacity_l:.0f} % of the water above the outlet of "
        f"{list_words(pool.storages)} does not run to the {bed}, which lies higher. On a day it is reckoned to be "
        "served before those that all the water reaches."
        for pool in layout
        if pool.capacity_l > 0.0
        for bed, floor_l in pool.floors
    ]


def _snow_notes(system: System, stage: Stage, snow: RoofSnow) -> list[str]:
    """How much snow was held, and what was taken for it."""
    told = []
    days = np.count_nonzero((snow.snow_mm > 0.0) & stage.in_service)
    if days:
        told.append(
            f"On {_days(days)} in service what fell was likely snow. It is held on the roof until it melts, "
            f"{_melt(stage.knowledge.fact('snow.melt').value, system)} by which the day's mean is above freezing."
        )
    record = stage.record
    lost = np.count_nonzero(np.isnan(snow.liquid_mm) & ~np.isnan(record.rain_mm) & stage.in_service)
    if lost:
        told.append(f"On {_days(lost)} snow that nobody measured may have melted: what ran off is not known.")
    guessed = np.isnan(record.t_min_c + record.t_max_c) & ~np.isnan(stage.mean_c)
    wet = record.rain_mm > 0.0
    if guessed[wet].any():
        told.append(
            f"On {_days(np.count_nonzero(guessed & wet), 'wet day')} the temperature is missing; whether it snowed "
            "is judged by the days around or by the usual month."
        )
    lay = np.concatenate(([0.0], snow.held_mm[:-1])) > 0.0
    thawing = np.count_nonzero(guessed & ~wet & lay)
    if thawing:
        told.append(
            f"On {_days(thawing)} without rain but with snow on the roof the temperature is missing; how much melted "
            "is judged by the days around or by the usual month."
        )
    return told


def _days(count: int | np.signedinteger, word: str = "day") -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _melt(mm_per_c: float, system: System) -> str:
    """Melt of a day in the units of the yard: "0.06 in of water a day for each °F"."""
    degrees = units.number(1.0, "temperature_difference", system)
    depth = units.show(mm_per_c / degrees, "depth", system, digits=2)
    return f"{depth} of water a day for each {units.unit_name('temperature_difference', system)}"


def _start_notes(pools: Sequence[PoolRun]) -> list[str]:
    """Whether it matters what stood in a storage when the record began."""
    told = []
    for pool in pools:
        if len(pool.in_service) == 0 or not pool.in_service[0]:
            continue
        if pool.settled is None:
            told.append(
                f"What stood in {pool.storages[0]} when the record began still matters: its level is not known. "
                "Its account starts empty."
            )
        elif pool.settled > pool.dates[0].astype(date):
            days = (np.datetime64(pool.settled) - pool.dates[0]).astype(int)
            told.append(
                f"The record begins with {pool.storages[0]} in service, and nobody knows what stood in it. "
                f"From {day_words(pool.settled, year=True)} on, after {_days(days)}, it does not matter any more. "
                "Its account starts empty."
            )
    return told


def _hour_notes(spread: HoursOfRain) -> list[str]:
    told = [
        f"On {_days(np.count_nonzero(spread.used))} the storages are run hour by hour, with the rain of each day as "
        "recorded. Beds are taken to be watered in the morning."
    ]
    if spread.differing:
        told.append(
            f"On {_days(spread.differing)} the hours and the day did not measure the same rain; there the day is "
            "one step."
        )
    return told
