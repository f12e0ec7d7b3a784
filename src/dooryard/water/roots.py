"""How deep the roots of a bed reach on a day, and what the soil down to there holds for them.

Roots of perennials, lawns, shrubs and trees are at the depth of the crop table all the time. Those of crops
planted anew each year start at the depth of a transplant and go down in a straight line until the crop is grown
(start of its middle stage), and so TAW and RAW grow from day to day.

The bookkeeping: soil that roots newly reach is taken to be at field capacity. Nothing is missing from it, so the
depletion [mm] is the same before and after roots go deeper; what they gain is all in TAW.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.knowledge import Knowledge
from dooryard.knowledge.rows import Crop, Soil
from dooryard.water import soil
from dooryard.water.bed_season import BedSeason

Array = NDArray[np.float64]

#: Facts: depth of the roots of a transplant or seedling; days until roots are grown, by crop, where the table has
#: no stage lengths. A crop that has the second is one of a single season.
PLANTING_DEPTH_FACT, GROWN_DAYS_FACT = "root.planting_depth", "root.grown_days."
#: Crops of one season, if they have stage lengths. Those of fruit trees are stages of each year's leaves.
_ONE_SEASON_KIND = "vegetable"
#: Use at which the table's share p holds [mm/d] (FAO-56 table 22).
_TABLE_USE_MM = 5.0


def root_depth(day: ArrayLike, start_m: float, full_m: float, grown_d: float) -> Array:
    """Depth of growing roots: a straight line from planting until grown, then the same [m].

    Parameters
    ----------
    day : float or array
        Days since planting [d], 0 on the planting day; NaN when nothing grows gives NaN.
    start_m, full_m : float
        Depth on the planting day and of the grown crop [m].
    grown_d : float
        Days from planting until roots are at full depth [d]: the crop's initial and development stages.

    Returns
    -------
    array
        Depth of the roots [m].

    Source
    ------
    FAO-56 chapter 8, growth of Zr from the least to the greatest depth (from memory).

    Example
    -------
    >>> root_depth([0, 35, 70, 100], 0.15, 0.70, 70).round(3).tolist()
    [0.15, 0.425, 0.7, 0.7]
    """
    since = np.asarray(day, dtype=np.float64)
    return np.asarray(np.interp(since, [0.0, grown_d], [start_m, full_m]))


@dataclass(frozen=True, slots=True)
class RootZone:
    """The soil that the roots of a bed reach.

    start_m, full_m : their depth on the planting day, and grown [m]. grown_d : days from planting until grown [d];
    None is grown all the time.
    held_mm_m : water that a metre of this soil holds for plants [mm/m]. share : part of it that they use without
    stress, p [1].
    """

    start_m: float
    full_m: float
    grown_d: float | None
    held_mm_m: float
    share: float

    def depth_m(self, day: ArrayLike) -> Array:
        """Depth of the roots on a day of the season, NaN when nothing grows [m]."""
        if self.grown_d is None:
            return np.where(np.isnan(np.asarray(day, dtype=np.float64)), np.nan, self.full_m)
        return root_depth(day, self.start_m, self.full_m, self.grown_d)

    def taw_mm(self, day: ArrayLike) -> Array:
        """What it can hold for plants on a day of the season, TAW [mm] (FAO-56 eq. 82)."""
        return np.asarray(self.held_mm_m * self.depth_m(day))

    def raw_mm(self, day: ArrayLike) -> Array:
        """What plants use of it without stress, RAW = p TAW [mm] (FAO-56 eq. 83)."""
        return np.asarray(self.share * self.taw_mm(day))


def grown_days(crop: Crop, knowledge: Knowledge) -> float | None:
    """Days from planting until the roots of a crop of one season are grown [d]; None for all other crops."""
    own = knowledge.facts.get(f"{GROWN_DAYS_FACT}{crop.key}")
    if own is not None:
        return own.value
    stages = (crop.ini_d, crop.dev_d, crop.mid_d, crop.late_d)
    if crop.kind != _ONE_SEASON_KIND or crop.ini_d is None or crop.dev_d is None or None in stages:
        return None
    return crop.ini_d + crop.dev_d


def root_zone(
    crop: Crop, ground: Soil, crop_et_mm: Array, season: BedSeason, knowledge: Knowledge
) -> RootZone:
    """The root zone of a crop: middle of the soil's ranges, the shallower roots, p for the season's mean use.

    crop_et_mm : full use (N,), NaN when nothing grows or where unknown [mm/d]. Without a day of planting, roots
    are taken as grown. KeyError if the depth at planting is not among the facts.
    """
    held = (ground.field_capacity_low + ground.field_capacity_high) / 2
    wilting = (ground.wilting_low + ground.wilting_high) / 2
    texture = knowledge.facts.get(f"soil.depletion_share.{ground.key}")
    known = crop_et_mm[~np.isnan(crop_et_mm)]
    use_mm = float(known.mean()) if len(known) else _TABLE_USE_MM
    share = soil.depletion_share(crop.depletion, use_mm, 1.0 if texture is None else texture.value)
    grown_d = None if season.first_day is None else grown_days(crop, knowledge)
    start_m = crop.root_low_m
    if grown_d is not None:
        start_m = min(knowledge.fact(PLANTING_DEPTH_FACT).value, start_m)
    return RootZone(
        start_m=start_m,
        full_m=crop.root_low_m,
        grown_d=grown_d,
        held_mm_m=soil.total_available_water(held, wilting, 1.0),
        share=float(share),
    )
