"""When a bed grows, and how its use of water runs through that season."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge.rows import Crop
from dooryard.water import soil
from dooryard.water.growing_season import UsualSeason, common_day
from dooryard.yard.model import Bed

Array = NDArray[np.float64]

_YEAR_D = 365


@dataclass(frozen=True, slots=True)
class BedSeason:
    """When a bed grows: from one day of the year for a number of days, or between frosts, or both.

    usual : between frosts; None does not limit it. first_day : day of the common year it starts (1 to 365);
    None with ``usual`` alone. length_d : days it lasts [d]; None lasts as long as ``usual``.
    """

    usual: UsualSeason | None
    first_day: int | None
    length_d: float | None

    @property
    def endless(self) -> bool:
        """Whether it never stops, so that no season ever begins anew."""
        return self.length_d is None and (self.usual is None or self.usual.all_year)

    def day(self, dates: NDArray[np.datetime64]) -> Array:
        """Day in the season, 0 on the first, for each date (N,); NaN when nothing grows."""
        if self.first_day is None or self.length_d is None:
            inside = np.ones(len(dates), dtype=bool) if self.usual is None else self.usual.contains(dates)
            start = 1 if self.usual is None or self.usual.all_year else self.usual.first_day
            return np.where(inside, (common_day(dates) - start) % _YEAR_D, np.nan).astype(np.float64)
        day = ((common_day(dates) - self.first_day) % _YEAR_D).astype(np.float64)
        day[day >= self.length_d] = np.nan
        if self.usual is not None:
            day[~self.usual.contains(dates)] = np.nan
        return day

    def grows_on(self, on: date) -> bool:
        """Whether anything is taken to grow on that day."""
        return not np.isnan(self._eve_and(on)[1])

    def begins_on(self, on: date) -> bool:
        """Whether that day is the first of a season: planting day, or the first after the usual frosts."""
        eve, today = self._eve_and(on)
        return not self.endless and not np.isnan(today) and not eve <= today

    def _eve_and(self, on: date) -> Array:
        today = np.datetime64(on, "D")
        return self.day(np.array([today - 1, today]))


def season_of(bed: Bed, crop: Crop, usual: UsualSeason | None, *, annual: bool) -> tuple[BedSeason, str]:
    """When the bed grows, and a sentence that says why it is taken so.

    annual : the crop is planted anew each year, so that a planting date begins its season even without stage
    lengths.
    """
    length_d = curve_of(crop).length_d
    if length_d is None and not (annual and bed.planted is not None):
        frost_words = "all year, since no frost dates are known" if usual is None else usual.words()
        return BedSeason(usual, None, None), f"Taken to grow {frost_words}, between the usual frosts."
    if bed.planted is not None:
        first = int(common_day(np.array([bed.planted], dtype="datetime64[D]"))[0])
        if length_d is not None:
            return BedSeason(None, first, length_d), (
                f"Grows {length_d:.0f} days from planting; other years are played with the same planting day."
            )
        if usual is None or usual.all_year:
            return BedSeason(None, first, _YEAR_D), "Grows from planting on for a year, then planted anew."
        return BedSeason(None, first, (usual.end_day - first) % _YEAR_D or _YEAR_D), (
            "Grows from planting until the usual first frost; other years are played with the same planting day."
        )
    if usual is None or usual.all_year:
        return BedSeason(None, None, None), "No planting date is given and frost does not set one: all year."
    return BedSeason(usual, usual.first_day, length_d), (
        f"No planting date is given: taken to start after the usual last frost and to grow {length_d:.0f} "
        "days, at the longest until the usual first frost."
    )


def curve_of(crop: Crop) -> soil.FactorCurve:
    """The crop's factor curve as tabled; without all four stage lengths it is flat."""
    stages = (crop.ini_d, crop.dev_d, crop.mid_d, crop.late_d)
    lengths = [stage for stage in stages if stage is not None]
    days = (lengths[0], lengths[1], lengths[2], lengths[3]) if len(lengths) == len(stages) else None
    return soil.FactorCurve(crop.kc_ini, crop.kc_mid, crop.kc_end, days)
