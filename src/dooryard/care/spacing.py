"""Plugs and plants: how many a mat gives, how many live, how far apart they stand, how many an area needs."""

from __future__ import annotations

from math import ceil, floor, sqrt

# In a triangular grid every plant has the area of a rhombus with two angles of 60 degrees.
_RHOMBUS = sqrt(3) / 2
_SLACK = 1e-9


def plugs_from_mat(length_m: float, width_m: float, plug_m: float) -> int:
    """Whole square plugs cut from a mat in rows; what is left at two edges is not counted.

    length_m, width_m : of the mat [m]. plug_m : side of a plug [m].
    """
    if min(length_m, width_m, plug_m) <= 0:
        raise ValueError("mat and plug must have a size")
    return floor(length_m / plug_m + _SLACK) * floor(width_m / plug_m + _SLACK)


def living(planted: int, share_lost: float) -> int:
    """Plants that live, rounded down: nobody counts part of a plant. share_lost : from 0 to 1."""
    if planted < 0 or not 0 <= share_lost <= 1:
        raise ValueError("a count cannot be negative and a share lies between 0 and 1")
    return floor(planted * (1 - share_lost) + _SLACK)


def to_plant(wanted_living: int, share_lost: float) -> int:
    """Plants to set so that as many live as are wanted, rounded up. share_lost : from 0 to less than 1."""
    if wanted_living < 0 or not 0 <= share_lost < 1:
        raise ValueError("a count cannot be negative and a share lies between 0 and less than 1")
    return ceil(wanted_living / (1 - share_lost) - _SLACK)


def square_spacing_m(area_m2: float, plants: int) -> float:
    """Distance between plants in a square grid that just covers an area [m]. area_m2 : [m2]."""
    return sqrt(_per_plant(area_m2, plants))


def triangular_spacing_m(area_m2: float, plants: int) -> float:
    """Distance between plants in staggered rows, each the same way from its six neighbours [m]. area_m2 : [m2]."""
    return sqrt(_per_plant(area_m2, plants) / _RHOMBUS)


def square_count(area_m2: float, spacing_m: float) -> int:
    """Plants that a square grid of a spacing needs on an area, rounded up. area_m2 : [m2]. spacing_m : [m]."""
    return _count(area_m2, spacing_m**2, spacing_m)


def triangular_count(area_m2: float, spacing_m: float) -> int:
    """Plants that staggered rows of a spacing need on an area, rounded up. area_m2 : [m2]. spacing_m : [m]."""
    return _count(area_m2, spacing_m**2 * _RHOMBUS, spacing_m)


def _per_plant(area_m2: float, plants: int) -> float:
    if area_m2 <= 0 or plants <= 0:
        raise ValueError("an area and at least one plant are needed")
    return area_m2 / plants


def _count(area_m2: float, per_plant_m2: float, spacing_m: float) -> int:
    if area_m2 < 0 or spacing_m <= 0:
        raise ValueError("an area and a spacing are needed")
    return ceil(area_m2 / per_plant_m2 * (1 - _SLACK))
