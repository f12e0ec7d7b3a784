"""A workshop's numbers: drills, helpers and the clock of its day."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

_SLIP = 1e-9


def drills(kits: int, holes: float, minutes_each: float, minutes: float) -> int:
    """Drills that make all holes in the time for drilling. minutes_each : for a hole; minutes : for all [min].

    >>> drills(20, 3, 3.0, 45.0)
    4
    """
    return max(1, ceil(kits * holes * minutes_each / minutes - _SLIP))


def helpers(people: int, people_each: float) -> int:
    """Helpers so that none looks after more than so many people."""
    return max(1, ceil(people / people_each - _SLIP))


def clock(minutes: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """When each part of a day begins, earliest and latest after its start [min].

    minutes : shortest and longest of each part [min].
    """
    starts = []
    early = late = 0.0
    for low, high in minutes:
        starts.append((early, late))
        early, late = early + low, late + high
    return starts
