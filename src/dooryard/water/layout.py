"""From the names in a yard file to pools: which storages share a level, what feeds them, where they spill."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from math import inf

from dooryard.problem import Problem
from dooryard.water.drip import out_of_reach
from dooryard.water.pools import DailyUse, Pool, RoofShare
from dooryard.words import MONTHS, list_words
from dooryard.yard.model import GROUND, Storage, Yard


def pools_of(yard: Yard, first: date, days: int) -> tuple[tuple[Pool, ...], tuple[Problem, ...]]:
    """The pools of a yard, and what had to be assumed about it.

    Parameters
    ----------
    yard : Yard
    first : date
        First day of the record; readings before it are left out.
    days : int
        Length of the record; a reading on the morning after its last day still counts, later ones do not.

    Returns
    -------
    (pools, problems)
        Pools in the yard's order of their first storage.
    """
    groups = _linked(yard.storages)
    pool_of = {storage.name: index for index, group in enumerate(groups) for storage in group}
    feeds, problems = _feeds(groups)
    pools = []
    for group in groups:
        overflow, several = _overflow(group, yard)
        problems += several
        problems += _unlike_lips(group)
        off_months, unlike = _off_months(group)
        problems += unlike
        diverted = {downspout.name: downspout.diverted_share for downspout in yard.downspouts}
        roofs = tuple(
            RoofShare(roof.name, roof.area_m2 / feeds[downspout], roof.covering, diverted.get(downspout, 1.0))
            for downspout in dict.fromkeys(name for storage in group for name in storage.fed_by)
            for roof in yard.roofs_of(downspout)
        )
        pools.append(
            Pool(
                storages=tuple(storage.name for storage in group),
                capacity_l=sum(storage.active_l for storage in group),
                dead_l=sum(storage.dead_l for storage in group),
                first_flush_l=sum(storage.first_flush_l for storage in group),
                uses=tuple(
                    DailyUse(storage.daily_use_l, storage.use_days, storage.use_after_dry_days)
                    for storage in group
                    if storage.daily_use_l > 0.0
                ),
                roofs=roofs,
                empties_to=pool_of.get(overflow),
                overflow=overflow,
                off_months=off_months,
                readings=_readings(yard, group, first, days),
                floors=_floors(yard, group),
            )
        )
    cleared, rings = _without_rings(pools)
    return cleared, (*problems, *rings)


def _floors(yard: Yard, group: Sequence[Storage]) -> tuple[tuple[str, float], ...]:
    """Beds on a hose or line that lie above their outlet, with the water of the pool that does not run to them [L].

    Infinite for a bed above the highest water.
    """
    sections = [storage.section_m2 for storage in group]
    capacity_l = sum(storage.active_l for storage in group)
    floors = []
    for bed in yard.beds:
        storage = next((one for one in group if one.name == bed.watered_from), None)
        if storage is None or bed.how == CAN or None in sections:
            continue
        top_m = storage.height_m if storage.overflow_height_m is None else storage.overflow_height_m
        if top_m is None or storage.outlet_height_m is None:
            continue
        stand_m = storage.stand_height_m or 0.0
        joined_m2 = sum(section for section in sections if section is not None)
        depth_m, litres = out_of_reach(
            joined_m2, stand_m + storage.outlet_height_m, bed.height_m, stand_m + top_m
        )
        above_all = bed.height_m >= stand_m + top_m  # then not even the rain that passes through runs there
        if depth_m > 0.0:
            floors.append((bed.name, inf if above_all else min(litres, capacity_l)))
    return tuple(floors)


def downhill(pools: Sequence[Pool]) -> tuple[int, ...]:
    """Indices of the pools so that each comes before the one it empties to."""
    order: list[int] = []
    waiting = list(range(len(pools)))
    while waiting:
        receiving = {pools[index].empties_to for index in waiting}
        free = [index for index in waiting if index not in receiving]
        order += free
        waiting = [index for index in waiting if index in receiving]
    return tuple(order)


def _linked(storages: Sequence[Storage]) -> list[list[Storage]]:
    """Storages grouped by `linked_to`, whichever side names the other."""
    group_of = {storage.name: {storage.name} for storage in storages}
    for storage in storages:
        for other in storage.linked_to:
            if other in group_of and other not in group_of[storage.name]:
                joined = group_of[storage.name] | group_of[other]
                for name in joined:
                    group_of[name] = joined
    seen: set[str] = set()
    groups = []
    for storage in storages:
        if storage.name not in seen:
            seen |= group_of[storage.name]
            groups.append([other for other in storages if other.name in group_of[storage.name]])
    return groups


def _feeds(groups: Sequence[Sequence[Storage]]) -> tuple[dict[str, int], list[Problem]]:
    """Into how many pools each downspout is split."""
    takers: dict[str, list[str]] = {}
    for group in groups:
        for downspout in {name for storage in group for name in storage.fed_by}:
            takers.setdefault(downspout, []).append(group[0].name)
    problems = [
        Problem(
            what=f'The downspout "{downspout}" feeds {len(names)} storages that are not joined: '
            f"{', '.join(names)}. Its water is split equally.",
            instead="Join them with linked_to, or let one overflow into the next with empties_to.",
            field="fed_by",
            found=downspout,
        )
        for downspout, names in sorted(takers.items())
        if len(names) > 1
    ]
    return {downspout: len(names) for downspout, names in takers.items()}, problems


def _overflow(group: Sequence[Storage], yard: Yard) -> tuple[str, list[Problem]]:
    """Where joined storages spill: a storage before a bed before the ground; and a problem if they differ."""
    own = {storage.name for storage in group}
    storages = [storage.name for storage in yard.storages]
    beds = [bed.name for bed in yard.beds]
    named = {storage.empties_to for storage in group if storage.empties_to is not None} - own
    places = [name for name in (*storages, *beds) if name in named]
    others = sorted(named - set(places))
    if len(places) <= 1:
        return (places or others or [GROUND])[0], []
    names = ", ".join(storage.name for storage in group)
    several = Problem(
        what=f"The joined storages {names} overflow to different places. The first of these is taken: "
        f"{places[0]}.",
        instead="Let one of them overflow, at the lowest lip, and leave empties_to out at the others.",
        field="empties_to",
    )
    return places[0], [several]


def _unlike_lips(group: Sequence[Storage]) -> list[Problem]:
    """Joined storages stand at one level, so that the lowest lip is the lip of them all."""
    lips = [
        storage.stand_height_m + storage.overflow_height_m
        for storage in group
        if storage.stand_height_m is not None and storage.overflow_height_m is not None
    ]
    if len(lips) < len(group) or max(lips) - min(lips) <= _LEVEL_M:
        return []
    lowest = min(lips)
    lost_l = sum(
        (lip - lowest) * 1000 * storage.section_m2
        for lip, storage in zip(lips, group, strict=True)
        if storage.section_m2 is not None
    )
    low = [storage.name for storage, lip in zip(group, lips, strict=True) if lip - lowest <= _LEVEL_M]
    return [
        Problem(
            what=f"The joined storages {list_words([storage.name for storage in group])} have overflows at "
            f"different heights above the ground, up to {100 * (max(lips) - lowest):.0f} cm apart. All of them "
            f"run over at the lowest, {list_words(low)}: about {lost_l:.0f} L that are counted here cannot be "
            "filled.",
            instead="Put them on stands that bring the overflows to one height.",
            field="stand_height",
        )
    ]


#: Carried by hand, water rises to any bed.
CAN = "can"
#: Lips closer than this count as level: blocks and barrels are no more alike [m].
_LEVEL_M = 0.01


def _off_months(group: Sequence[Storage]) -> tuple[tuple[int, ...] | None, list[Problem]]:
    """Months (1 to 12) in which joined storages are off; a problem if they are said to differ."""
    said = [storage for storage in group if storage.off_months is not None]
    if not said:
        return None, []
    chosen = said[0].off_months or ()
    months = tuple(sorted(MONTHS.index(month.capitalize()) + 1 for month in chosen))
    if all(set(storage.off_months or ()) == set(chosen) for storage in said):
        return months, []
    unlike = Problem(
        what=f"The joined storages {list_words([storage.name for storage in said])} are said to be off in "
        f"different months. Those of {said[0].name} are taken for all.",
        instead="Write off_months once; joined storages are put away together.",
        field="off_months",
    )
    return months, [unlike]


def _readings(yard: Yard, group: Sequence[Storage], first: date, days: int) -> tuple[tuple[int, float], ...]:
    """Readings as (day index, litres above the outlet of the whole pool); the last of one day counts."""
    capacity_l = sum(storage.active_l for storage in group)
    members = {storage.name: storage for storage in group}
    read: dict[int, float] = {}
    for level in sorted(yard.levels, key=lambda level: level.date):
        index = (level.date - first).days
        storage = members.get(level.storage)
        if storage is None or not 0 <= index <= days:
            continue
        above_l = min(max(level.volume_l - storage.dead_l, 0.0), storage.active_l)
        # joined storages stand at one level, so one reading tells the share of them all
        read[index] = capacity_l * (above_l / storage.active_l if storage.active_l > 0.0 else 0.0)
    return tuple(sorted(read.items()))


def _without_rings(pools: Sequence[Pool]) -> tuple[tuple[Pool, ...], list[Problem]]:
    """Overflows that run in a ring are cut where the ring closes, since water cannot."""
    cleared = list(pools)
    problems = []
    for index in range(len(cleared)):
        passed = {index}
        here = index
        while (below := cleared[here].empties_to) is not None:
            if below in passed:
                cleared[here] = replace(cleared[here], empties_to=None, overflow=GROUND)
                name, to = cleared[here].storages[0], cleared[below].storages[0]
                problems.append(
                    Problem(
                        what=f'The overflow of "{name}" runs in a ring to "{to}". It is taken to run off.',
                        instead="Let the lowest storage overflow to the ground.",
                        field="empties_to",
                        found=to,
                    )
                )
                break
            passed.add(below)
            here = below
    return tuple(cleared), problems
