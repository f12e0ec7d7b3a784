"""The storm that a forecast holds, as each barrel of the yard meets it: the numbers behind the drill, no words.

The wettest spell of the forecast is taken. Its rain is taken to fall on a wet roof, so that all of the covering's
share runs off: the cautious side. What runs over from one barrel into another is followed on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.storages import in_use, standing_l
from dooryard.water.drill import Drill, Played, Spell, drill, play, spells
from dooryard.water.layout import downhill, pools_of
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.pools import Pool
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import as_date

Floats = NDArray[np.float64]

LIKELY, LOW, HIGH = 0, 1, 2
"""Rows of every array that follows the forecast's range."""


@dataclass(frozen=True, eq=False)
class Storm:
    """The wettest spell of a forecast from the planning day on.

    days : (D,) from the first day of the forecast that is not past, to the end of the spell. depth_mm : (3, D)
    likely rain, low and high end; the likely amount stands where an end is not given. ranged : whether an end was.
    burst_mm_h : hardest rain foretold for the spell, None if the forecast names none.
    """

    days: tuple[date, ...]
    spell: Spell
    depth_mm: Floats
    ranged: bool
    burst_mm_h: float | None

    @property
    def first(self) -> date:
        """The spell's first day."""
        return self.days[self.spell.first]

    @property
    def last(self) -> date:
        """The spell's last day."""
        return self.days[self.spell.end - 1]

    @property
    def total_mm(self) -> tuple[float, float, float]:
        """Rain of the whole spell: likely, low, high [mm]."""
        likely, low, high = self.depth_mm[:, self.spell.first :].sum(axis=1).tolist()
        return likely, low, high


@dataclass(frozen=True, eq=False)
class Case:
    """One pool in the storm.

    litres_per_mm : what a millimetre of rain on its own roofs sends it. level_l : what stands in it this morning,
    lowest and highest. inflow_l : (3, D) likely, low, high, water from other storages included, if nothing is let out
    anywhere. drill : what to let out, at the middle of the level and the likely rain. kept_ends, done_ends : the days
    at the low and the high end (the lowest level with the least rain, the highest with the most) if nothing is let out,
    and if the same amount is. onward : the storage its overflow runs into, or "".
    """

    pool: PoolRun
    storm: Storm
    litres_per_mm: float
    level_l: tuple[float, float]
    inflow_l: Floats
    drill: Drill
    kept_ends: tuple[Played, Played]
    done_ends: tuple[Played, Played]
    onward: str

    @property
    def key(self) -> str:
        """First part of the ids of its figures and tasks."""
        return f"storage.{slug(self.pool.storages[0])}"

    @property
    def full_l(self) -> float:
        """What it holds up to the overflow [L]."""
        return self.pool.capacity_l + self.pool.dead_l

    @property
    def comes_l(self) -> tuple[float, float, float]:
        """Water of the spell: likely, low, high [L]."""
        likely, low, high = self.inflow_l[:, self.storm.spell.first :].sum(axis=1).tolist()
        return likely, low, high

    @property
    def room_l(self) -> tuple[float, float]:
        """Room when the spell begins if nothing is let out: least and most [L]."""
        first = self.storm.spell.first
        ends = [self.full_l - float(ending.before_l[first]) for ending in self.kept_ends]
        return min(ends), max(ends)

    @property
    def spilled_kept_l(self) -> tuple[float, float, float]:
        """What runs over if nothing is let out: likely, low, high [L]."""
        return self._spilled(self.drill.kept, self.kept_ends)

    @property
    def spilled_done_l(self) -> tuple[float, float, float]:
        """What still runs over after letting out: likely, low, high [L]."""
        return self._spilled(self.drill.done, self.done_ends)

    def _spilled(self, likely: Played, ends: tuple[Played, Played]) -> tuple[float, float, float]:
        middle, low, high = _spills(likely, ends)[:, self.storm.spell.first :].sum(axis=1).tolist()
        return middle, low, high

    @property
    def lacking_l(self) -> float:
        """Water it would be short of after the least of the foretold rain, had it been let out [L]."""
        return float(self.kept_ends[0].level_l[-1] - self.done_ends[0].level_l[-1])


def storm_of(forecast: Forecast, on: date) -> Storm | None:
    """The spell with most likely rain on or after `on`; None if no rain is foretold there.

    Without any likely rain the spell that may bring most at the high end is taken.
    """
    begins = next((i for i, day in enumerate(forecast.dates) if as_date(day) >= on), len(forecast.dates))
    likely = forecast.rain_mm[begins:]
    low, high = (
        np.where(np.isnan(end[begins:]), likely, end[begins:])
        for end in (forecast.rain_low_mm, forecast.rain_high_mm)
    )
    found = spells(likely) or spells(high)
    if not found:
        return None
    weight = likely if np.nansum(likely) > 0.0 else high
    spell = max(found, key=lambda one: float(np.nansum(weight[one.first : one.end])))
    depth = np.nan_to_num(np.array([likely, low, high])[:, : spell.end])
    bursts = forecast.burst_mm_h
    burst = None if bursts is None else bursts[begins + spell.first : begins + spell.end]
    return Storm(
        days=tuple(as_date(day) for day in forecast.dates[begins : begins + spell.end]),
        spell=spell,
        depth_mm=depth,
        ranged=bool((depth[LOW] != depth[HIGH]).any()),
        burst_mm_h=None if burst is None or np.isnan(burst).all() else float(np.nanmax(burst)),
    )


def cases(draft: Draft, run: YardRun, storm: Storm) -> tuple[Case, ...]:
    """Every pool in service that rain reaches, by a roof of its own or from another pool, in the yard's order."""
    pools, _ = pools_of(draft.yard, draft.record.first, len(run.dates))
    days = len(storm.days)
    shape = (3, days)
    kept_in, done_in = ([np.zeros(shape) for _ in pools] for _ in range(2))
    found: dict[int, Case] = {}
    for index in downhill(pools):
        pool, ran = pools[index], run.pools[index]
        if not in_use(ran):
            continue
        per_mm = litres_per_mm(pool, draft.knowledge)
        case = _case(ran, storm, per_mm, kept_in[index], done_in[index])
        below = pool.empties_to
        if below is not None:
            kept_in[below] += _spills(case.drill.kept, case.kept_ends)
            done_in[below] += _spills(case.drill.done, case.done_ends)
            case = replace(case, onward=pool.overflow)
        if case.inflow_l.any():
            found[index] = case
    return tuple(found[index] for index in sorted(found))


def litres_per_mm(pool: Pool, knowledge: Knowledge) -> float:
    """Water that a millimetre of rain on wet roofs sends to a pool [L/mm]: area, covering's share, diverter."""
    return sum(
        roof.area_m2 * roof.diverted_share * knowledge.coverings[roof.covering].coefficient
        for roof in pool.roofs
    )


def _case(ran: PoolRun, storm: Storm, per_mm: float, kept_more: Floats, done_more: Floats) -> Case:
    full, dead = ran.capacity_l + ran.dead_l, ran.dead_l
    low, high = standing_l(ran)
    roofs = storm.depth_mm * per_mm
    kept_in, done_in = roofs + kept_more, roofs + done_more
    nothing = np.zeros(len(storm.days))
    told = drill((low + high) / 2, full, dead, done_in[LIKELY], storm.spell)
    told = replace(told, kept=play((low + high) / 2, full, dead, kept_in[LIKELY], nothing))
    let_out = nothing.copy()
    let_out[storm.spell.first] = told.let_out_l
    ends = ((low, LOW), (high, HIGH))
    return Case(
        pool=ran,
        storm=storm,
        litres_per_mm=per_mm,
        level_l=(low, high),
        inflow_l=kept_in,
        drill=told,
        kept_ends=_two([play(level, full, dead, kept_in[row], nothing) for level, row in ends]),
        done_ends=_two([play(level, full, dead, done_in[row], let_out) for level, row in ends]),
        onward="",
    )


def _two(ends: Sequence[Played]) -> tuple[Played, Played]:
    return ends[0], ends[1]


def _spills(likely: Played, ends: tuple[Played, Played]) -> Floats:
    return np.array([likely.spilled_l, ends[0].spilled_l, ends[1].spilled_l])
