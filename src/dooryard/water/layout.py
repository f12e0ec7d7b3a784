"""From the names in a yard file to pools: which storages share a level, what feeds them, where they spill."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from dooryard.problem import Problem
from dooryard.water.pools import Pool, RoofShare
from dooryard.yard.model import Storage, Yard


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
    for index, group in enumerate(groups):
        targets = {pool_of[s.empties_to] for s in group if s.empties_to in pool_of} - {index}
        if len(targets) > 1:
            problems.append(_several_targets(group))
        roofs = tuple(
            RoofShare(roof.name, roof.area_m2 / feeds[downspout], roof.covering)
            for downspout in dict.fromkeys(name for storage in group for name in storage.fed_by)
            for roof in yard.roofs_of(downspout)
        )
        pools.append(
            Pool(
                storages=tuple(storage.name for storage in group),
                capacity_l=sum(storage.active_l for storage in group),
                dead_l=sum(storage.dead_l for storage in group),
                first_flush_l=sum(storage.first_flush_l for storage in group),
                daily_use_l=sum(storage.daily_use_l for storage in group),
                roofs=roofs,
                empties_to=min(targets) if targets else None,
                readings=_readings(yard, group, first, days),
            )
        )
    cleared, rings = _without_rings(pools)
    return cleared, (*problems, *rings)


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


def _several_targets(group: Sequence[Storage]) -> Problem:
    names = ", ".join(storage.name for storage in group)
    return Problem(
        what=f"The joined storages {names} overflow to different storages. The first of these is taken.",
        instead="Let one of them overflow, at the lowest lip, and leave empties_to out at the others.",
        field="empties_to",
    )


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
                cleared[here] = replace(cleared[here], empties_to=None)
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
