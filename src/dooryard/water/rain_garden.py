"""How large a planted hollow must be to take what a roof or an overflow sends it, by two published ways."""

from __future__ import annotations

from collections.abc import Mapping

from dooryard.knowledge import Fact
from dooryard.problem import InputError, Problem, nearest


def by_volume(drained_m2: float, rain_mm: float, pond_mm: float) -> float:
    """Area of a garden that holds a depth of rain from a drained area [m2]; nothing soaks away meanwhile.

    drained_m2 : plan area of roof and paving [m2]. rain_mm : depth that runs off [mm]. pond_mm : depth of water
    the hollow can hold [mm].

    >>> by_volume(75.0, 25.4, 152.4)
    12.5
    """
    return drained_m2 * rain_mm / pond_mm


def by_factor(drained_m2: float, soil: str, depth: str, facts: Mapping[str, Fact]) -> float:
    """Area of a garden by a manual's factor, within 30 ft of the spout [m2].

    drained_m2 : as in `by_volume` [m2]. soil, depth : as in the facts ``garden.<soil>.<depth>``, such as "sandy"
    and "6in"; depth "far" takes the factor for gardens beyond 30 ft. InputError if no manual gives one.
    """
    key = f"garden.far.{soil}" if depth == "far" else f"garden.{soil}.{depth}"
    if key not in facts:
        instead = nearest(key, facts) or "Take one of the listed soils and depths."
        raise InputError(Problem("No manual gives a factor for that soil and depth.", instead, found=key))
    return drained_m2 * facts[key].value
