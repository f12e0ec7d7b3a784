"""Why a shrub does not bloom: each usual reason held against the facts given, and ranked.

A reason takes the flowers (main), takes part of them (adds), may be behind it as nothing was told (open), or is
ruled out by what was told (no).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

Weight = Literal["main", "adds", "open", "no"]
Wood = Literal["old", "new", "both"]
ORDER: tuple[Weight, ...] = ("main", "adds", "open", "no")


@dataclass(frozen=True)
class Limits:
    """Numbers of the trade that the reasons are held against.

    after_bloom_d : how long after bloom old wood may be cut [d]. sun_h : hours of sun a shrub wants for bloom [h].
    dark_h : below which few bloom at all [h]. young_y, grown_y : years until it may, and until it should bloom [y].
    """

    after_bloom_d: int
    sun_h: float
    dark_h: float
    young_y: float
    grown_y: float


@dataclass(frozen=True)
class Facts:
    """What the household told; None for what it did not.

    wood : on which it flowers. bloom_ended : the last time it bloomed as it should. pruned : last cut. sun_h : hours of
    sun a day [h]. planted_y : years since planting [y]. lawn_fed : nitrogen reaches it. buds_froze : a winter or a late
    frost cold enough for its buds. dry_summer : last summer was dry. deer : browse it. crowded : old stems never
    thinned, or planted too deep.
    """

    wood: Wood
    bloom_ended: date | None = None
    pruned: date | None = None
    sun_h: float | None = None
    planted_y: float | None = None
    lawn_fed: bool | None = None
    buds_froze: bool | None = None
    dry_summer: bool | None = None
    deer: bool | None = None
    crowded: bool | None = None


@dataclass(frozen=True)
class Reason:
    """One reason. key : which. weight : how much of it."""

    key: str
    weight: Weight


def reasons(facts: Facts, limits: Limits) -> tuple[Reason, ...]:
    """Every usual reason, the weightiest first, in the trade's order within a weight."""
    found = [
        Reason("age", _age(facts, limits)),
        Reason("pruning", _pruning(facts, limits)),
        Reason("light", _light(facts, limits)),
        Reason("feeding", _told(facts.lawn_fed)),
        Reason("cold", _cold(facts)),
        Reason("drought", _told(facts.dry_summer)),
        Reason("deer", _told(facts.deer)),
        Reason("crowded", _told(facts.crowded)),
    ]
    return tuple(sorted(found, key=lambda reason: ORDER.index(reason.weight)))


def prune_by(bloom_ended: date, after_bloom_d: int) -> date:
    """Last day to cut a shrub that flowers on old wood. bloom_ended : this year. after_bloom_d : [d]."""
    return bloom_ended + timedelta(days=after_bloom_d)


def in_year(day: date, year: int) -> date:
    """The same day of another year; 29 February becomes the 28th where there is none."""
    try:
        return day.replace(year=year)
    except ValueError:
        return day.replace(year=year, day=28)


def _pruning(facts: Facts, limits: Limits) -> Weight:
    """Old wood cut after next year's buds were set loses them. New wood cut in leaf loses this year's."""
    if facts.pruned is None:
        return "open"
    if facts.wood == "new":
        # March to May it is cut without loss; later in the year its flowering shoots go.
        return "main" if 6 <= facts.pruned.month <= 9 else "no"
    if facts.bloom_ended is None:
        # Without a day of bloom only the months in which every spring bloomer has its buds are sure.
        late = facts.pruned.month >= 8 or facts.pruned.month <= 3
    else:
        ended = in_year(facts.bloom_ended, facts.pruned.year)
        late = facts.pruned > prune_by(ended, limits.after_bloom_d) or facts.pruned < ended - timedelta(
            days=60
        )
    if not late:
        return "no"
    return "main" if facts.wood == "old" else "adds"


def _light(facts: Facts, limits: Limits) -> Weight:
    if facts.sun_h is None:
        return "open"
    if facts.sun_h >= limits.sun_h:
        return "no"
    return "main" if facts.sun_h < limits.dark_h else "adds"


def _age(facts: Facts, limits: Limits) -> Weight:
    if facts.planted_y is None:
        return "open"
    if facts.planted_y < limits.young_y:
        return "main"
    return "adds" if facts.planted_y < limits.grown_y else "no"


def _cold(facts: Facts) -> Weight:
    """Buds of new wood are not there in winter."""
    if facts.wood == "new":
        return "no"
    if facts.buds_froze is None:
        return "open"
    return "main" if facts.buds_froze else "no"


def _told(told: bool | None) -> Weight:
    return "open" if told is None else "adds" if told else "no"
