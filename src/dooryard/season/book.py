"""The heat rows of some organisms, each kind of sum worked out once: crossings this year, usual dates."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from dooryard.knowledge import Knowledge, Stage, Window
from dooryard.season.timing import Crossing, HeatSum, Numbers, SeasonHeat


class HeatBook:
    """Crossings and past dates of all heat rows of some organisms, asked for once per kind of sum."""

    def __init__(self, knowledge: Knowledge, organisms: Sequence[str], heat: SeasonHeat) -> None:
        wanted = set(organisms)
        self.stages: dict[str, list[Stage]] = defaultdict(list)
        self.windows: dict[str, list[Window]] = defaultdict(list)
        for window in knowledge.windows.values():
            if window.organism in wanted:
                self.windows[window.organism].append(window)
        groups: dict[HeatSum, list[tuple[str, str, float]]] = defaultdict(list)
        for stage in knowledge.stages.values():
            if stage.organism in wanted:
                self.stages[stage.organism].append(stage)
                if stage.kind == "heat":
                    groups[heat_sum(stage)] += _thresholds(stage)
        self.crossings: dict[tuple[str, str], Crossing] = {}
        self._past: dict[tuple[str, str], float] = {}
        self._each: dict[tuple[str, str], dict[int, float]] = {}
        for kind, thresholds in groups.items():
            sums = [threshold for _, _, threshold in thresholds]
            years, past = heat.past_years(kind, sums)
            middle = _middle(past)
            for (key, bound, _), crossing, day, days in zip(
                thresholds, heat.crossings(kind, sums), middle.tolist(), past.tolist(), strict=True
            ):
                self.crossings[key, bound] = crossing
                self._past[key, bound] = day
                self._each[key, bound] = dict(zip(years, days, strict=True))
        self.on = heat.on
        self.latitude = heat.station.latitude

    def usual(self, key: str, bound: str, lag_d: int) -> date | None:
        """The middle of the past years' dates, in the year asked; None if most years did not reach it."""
        day = self._past[key, self._bound(key, bound)]
        return None if np.isnan(day) else date(self.on.year, 1, 1) + timedelta(days=round(day) + lag_d)

    def past(self, key: str, bound: str, year: int) -> date | None:
        """The day the bound was reached in a past year; None if it was not, or that year is not whole."""
        day = self._each[key, self._bound(key, bound)].get(year, np.nan)
        return None if np.isnan(day) else date(year, 1, 1) + timedelta(days=round(day))

    def past_years(self, key: str, bound: str) -> tuple[int, ...]:
        """The past years that are whole from the sum's start to 31 December."""
        return tuple(self._each[key, self._bound(key, bound)])

    def past_days(self, key: str, bound: str) -> dict[int, date]:
        """The day the bound was reached, in each past year that is whole and reached it."""
        found = ((year, self.past(key, bound, year)) for year in self._each[key, self._bound(key, bound)])
        return {year: day for year, day in found if day is not None}

    def at(self, key: str, bound: str) -> Crossing:
        """The crossing of a bound; a row with one number has the same low and high."""
        return self.crossings[key, self._bound(key, bound)]

    def _bound(self, key: str, bound: str) -> str:
        return bound if (key, bound) in self.crossings else "low"


def heat_sum(stage: Stage) -> HeatSum:
    """How a heat row's sum is made, in Celsius."""
    month, day = (int(part) for part in stage.start_used.split("-"))
    base = stage.base if stage.base is not None else float("nan")
    if stage.unit == "F":
        upper = None if stage.upper is None else (stage.upper - 32) / 1.8
        return HeatSum(stage.method, (base - 32) / 1.8, upper, stage.cutoff, (month, day))
    return HeatSum(stage.method, base, stage.upper, stage.cutoff, (month, day))


def thresholds(stage: Stage) -> tuple[float, ...]:
    """The numbers of a heat row, low first [degC.d]."""
    return tuple(value for _, _, value in _thresholds(stage))


def _thresholds(stage: Stage) -> list[tuple[str, str, float]]:
    per_c = 1.8 if stage.unit == "F" else 1.0
    bounds = (("low", stage.dd_low), ("high", stage.dd_high))
    return [(stage.key, bound, value / per_c) for bound, value in bounds if value is not None]


def _middle(days: Numbers) -> Numbers:
    """Median day of each row (K, Y), years that never came sorting last; NaN if most never did."""
    if not days.shape[1]:
        return np.full(days.shape[0], np.nan)
    ranked = np.sort(days, axis=1)  # NaN sorts last
    return ranked[:, (days.shape[1] - 1) // 2]
