"""Mulch: the area of a ring around a trunk or of a bed, its volume, and whole bags."""

from __future__ import annotations

from math import ceil, pi

# A bag more for a rounding error of the last digit would be one too many.
_SLACK = 1e-9


def ring_area_m2(reach_m: float, trunk_diameter_m: float, clear_m: float) -> float:
    """Area of a mulch ring that stays clear of the bark [m2].

    reach_m : from the middle of the trunk to the ring's outer edge [m]. trunk_diameter_m : of the trunk where it
    meets the ground [m]. clear_m : left bare between bark and mulch [m].

    Raises ValueError if a length is negative or the ring has no width.
    """
    inner_m = trunk_diameter_m / 2 + clear_m
    if min(reach_m, trunk_diameter_m, clear_m) < 0:
        raise ValueError("a length cannot be negative")
    if reach_m <= inner_m:
        raise ValueError("the ring has no width")
    return pi * (reach_m**2 - inner_m**2)


def volume_l(area_m2: float, depth_mm: float) -> float:
    """Volume of a layer as it lies [L]: one mm on one m2 is one litre. area_m2 : [m2]. depth_mm : [mm]."""
    if area_m2 < 0 or depth_mm < 0:
        raise ValueError("area and depth cannot be negative")
    return area_m2 * depth_mm


def bags(wanted_l: float, bag_l: float) -> int:
    """Whole bags that hold at least a volume. wanted_l, bag_l : [L]; a bag holds something."""
    if bag_l <= 0 or wanted_l < 0:
        raise ValueError("a bag must hold something and nothing can be asked of less than none")
    return max(0, ceil(wanted_l / bag_l * (1 - _SLACK)))
