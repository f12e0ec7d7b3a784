"""Whose water comes to a storage: its own roofs, those of storages joined to it, and what runs over from above."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from dooryard.yard.model import Roof, Storage, Yard


class Uphill(NamedTuple):
    """What can send water to a storage, all in the yard's order.

    level : the storage and those joined to it, which share one level. above : storages whose overflow runs into
    these, from whatever height. spouts : downspouts of them all. roofs : what drains to those.
    """

    level: tuple[Storage, ...]
    above: tuple[Storage, ...]
    spouts: tuple[str, ...]
    roofs: tuple[Roof, ...]

    @property
    def bores_m(self) -> tuple[float, ...]:
        """Known bores of the overflows of this level [m]."""
        return tuple(one.overflow_bore_m for one in self.level if one.overflow_bore_m is not None)

    @property
    def mouth(self) -> Storage:
        """The storage at which this level's overflow is judged: the first with a known bore, else the first."""
        return next((one for one in self.level if one.overflow_bore_m is not None), self.level[0])


def uphill(yard: Yard, name: str) -> Uphill:
    """All that can send water to the storage of this name; KeyError if there is none.

    Storages whose overflow runs in a ring are each counted once.
    """
    level = _joined(yard, {yard.storage(name).name})
    seen = set(level)
    while True:
        more = _joined(yard, seen | {one.name for one in yard.storages if one.empties_to in seen})
        if more == seen:
            break
        seen = more
    sending = [one for one in yard.storages if one.name in seen]
    spouts = tuple(dict.fromkeys(spout for one in sending for spout in one.fed_by))
    return Uphill(
        level=tuple(one for one in yard.storages if one.name in level),
        above=tuple(one for one in sending if one.name not in level),
        spouts=spouts,
        roofs=tuple(roof for roof in yard.roofs if roof.downspout in spouts),
    )


def _joined(yard: Yard, names: Iterable[str]) -> set[str]:
    """These storages and all that are joined to them, whichever side names the other."""
    found = set(names)
    while True:
        more = found | {
            one.name
            for one in yard.storages
            if found & set(one.linked_to) or any(one.name in yard.storage(name).linked_to for name in found)
        }
        if more == found:
            return found
        found = more
