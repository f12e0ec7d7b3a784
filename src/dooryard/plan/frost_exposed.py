"""What of a yard a cold night can hurt: beds by their crop, trees in bloom, and the fittings of its barrels."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from dooryard.knowledge.rows import Fact
from dooryard.plan import storages
from dooryard.plan.draft import Draft
from dooryard.water.network import YardRun
from dooryard.yard.model import Bed

# Months in which a tree that is not said to be in bloom or not may be.
_MAY_BLOOM = (2, 3, 4, 5)


@dataclass(frozen=True)
class Exposed:
    """One place that a night at or below `fact` [degC] hurts.

    name : as the yard file has it. words : the place with what it is. harm : what such a night does. covered :
    whether a cloth may help. sure : False if it is only so in bloom.
    """

    name: str
    words: str
    fact: Fact
    harm: str
    covered: bool
    sure: bool = True


def exposed(draft: Draft, run: YardRun) -> list[Exposed]:
    """Every place of the yard with a limit in the tables that stands out now, the tenderest first."""
    found = [*_beds(draft), *_blossoms(draft), *_fittings(draft, run)]
    return sorted(found, key=lambda one: -one.fact.value)


def unknown(draft: Draft) -> list[str]:
    """Beds that stand out now and of which no limit is known."""
    facts = draft.knowledge.facts
    crops = draft.knowledge.crops
    return [
        bed.name
        for bed in draft.yard.beds
        if crops[bed.grows].kind == "vegetable" and f"hardy.{bed.grows}" not in facts and _stands(draft, bed)
    ]


def _beds(draft: Draft) -> list[Exposed]:
    facts, found = draft.knowledge.facts, []
    for bed in draft.yard.beds:
        fact = facts.get(f"hardy.{bed.grows}")
        if fact is not None and _stands(draft, bed):
            name = draft.knowledge.crops[bed.grows].name
            words = bed.name if name.split()[0].rstrip("es") in bed.name.lower() else f"{bed.name} ({name})"
            found.append(Exposed(bed.name, words, fact, fact.note, covered=True))
    return found


def _stands(draft: Draft, bed: Bed) -> bool:
    """Whether something grows there: planted, and not past its harvest; what lives for years always does."""
    crop = draft.knowledge.crops[bed.grows]
    if crop.kind != "vegetable" and bed.planted is None:
        return bed.grows != "annual-flowers"
    if bed.planted is None or bed.planted > draft.on:
        return False
    stages = (crop.ini_d, crop.dev_d, crop.mid_d, crop.late_d)
    days = [one for one in stages if one is not None]
    if len(days) < len(stages):
        return (draft.on - bed.planted).days < 365
    return draft.on <= bed.planted + timedelta(days=round(sum(days)))


def _blossoms(draft: Draft) -> list[Exposed]:
    facts, found = draft.knowledge.facts, []
    for plant in draft.yard.plants:
        fact = next(
            (facts[f"bloom_kill.{word}"] for word in plant.kind.split() if f"bloom_kill.{word}" in facts),
            None,
        )
        if (
            fact is None
            or plant.in_bloom is False
            or (plant.in_bloom is None and draft.on.month not in _MAY_BLOOM)
        ):
            continue
        sure = plant.in_bloom is True
        words = plant.name if sure else f"{plant.name}, if it is in bloom"
        small = plant.height_m is not None and plant.height_m <= 2.5
        found.append(Exposed(plant.name, words, fact, "one blossom in ten killed", covered=small, sure=sure))
    return found


def _fittings(draft: Draft, run: YardRun) -> list[Exposed]:
    found = []
    for pool in run.pools:
        if not storages.in_use(pool):
            continue
        for name in pool.storages:
            for key, harm in (
                ("frost.drain_at", "drain it before"),
                ("frost.breaks_at", "spigot and fittings break"),
            ):
                found.append(Exposed(name, name, draft.knowledge.fact(key), harm, covered=False))
    return found
