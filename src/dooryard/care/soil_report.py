"""What a soil report's advice comes to on one area: lime of a given strength, fertilizer of a given grade.

The advice itself is the laboratory's; here is only its arithmetic.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

_SLACK = 1e-9


@dataclass(frozen=True)
class Lime:
    """Lime for one area. total_kg : of the product in hand. times : surface applications. each_kg : per one."""

    total_kg: float
    times: int
    each_kg: float


def lime(advised_kg_m2: float, area_m2: float, strength: float, most_kg_m2: float) -> Lime:
    """Lime in hand that does what the report's pure lime would do.

    advised_kg_m2 : the report's rate, for lime of full strength [kg/m2]. area_m2 : [m2]. strength : calcium
    carbonate equivalent of the lime in hand as a share of pure lime, above 0 (hydrated lime is above 1).
    most_kg_m2 : of product at one time on the surface [kg/m2].
    """
    if min(advised_kg_m2, area_m2) < 0 or strength <= 0 or most_kg_m2 <= 0:
        raise ValueError("rate and area are zero or more, strength and most above zero")
    rate = advised_kg_m2 / strength
    times = max(1, ceil(rate / most_kg_m2 - _SLACK))
    total = rate * area_m2
    return Lime(total, times, total / times)


def fertilizer_kg(nutrient_kg_m2: float, area_m2: float, grade_share: float) -> float:
    """Fertilizer that carries a nutrient [kg].

    nutrient_kg_m2 : as the report advises [kg/m2]. area_m2 : [m2]. grade_share : of that nutrient in the bag, above
    0 and at most 1: 0.10 for nitrogen in 10-6-4.
    """
    if min(nutrient_kg_m2, area_m2) < 0 or not 0 < grade_share <= 1:
        raise ValueError("rate and area are zero or more, the bag's share above 0 and at most 1")
    return nutrient_kg_m2 * area_m2 / grade_share
