"""Kitchen and cylinder measures for small volumes: teaspoons, tablespoons, fluid ounces, millilitres (US, exact)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor

GALLON_L = 3.785411784
FL_OZ_L = GALLON_L / 128
TABLESPOON_L = FL_OZ_L / 2
TEASPOON_L = FL_OZ_L / 6


@dataclass(frozen=True)
class Kitchen:
    """One volume in the measures people have in hand. Not rounded."""

    teaspoons: float
    tablespoons: float
    fluid_ounces: float
    millilitres: float


def kitchen(volume_l: float) -> Kitchen:
    """A volume in every small measure. volume_l : [L], zero or more."""
    if volume_l < 0:
        raise ValueError("a volume cannot be negative")
    return Kitchen(volume_l / TEASPOON_L, volume_l / TABLESPOON_L, volume_l / FL_OZ_L, volume_l * 1000)


def spoon_fraction(spoons: float, parts: int = 4) -> Fraction:
    """A number of spoons on a set of measuring spoons, rounded down to a quarter: never more than was reckoned.

    spoons : zero or more. parts : of one spoon that can be measured.
    """
    if spoons < 0 or parts < 1:
        raise ValueError("spoons cannot be negative")
    return Fraction(floor(spoons * parts + 1e-6), parts)
