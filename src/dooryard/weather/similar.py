"""Past years weighed by how much their last months were like this year's, with the reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from dooryard.weather.record import Floats, WeatherRecord
from dooryard.weather.usual_limits import UsualLimits, usual_limits

if TYPE_CHECKING:
    from dooryard.units import System

TOLD_MOST, TOLD_LEAST = 3, 1


@dataclass(frozen=True, slots=True, eq=False)
class Likeness:
    """How much each past year counts.

    years : (M,). weights : (M,) above 0, sum 1. counts_as : how many equal years would be as sure, from 1 to M.
    warmer_c, wetter_mm : (M,) how much warmer and wetter those years' days were than this year's, NaN if not known.
    span_d : how many days were likened.
    """

    years: tuple[int, ...]
    weights: Floats
    counts_as: float
    warmer_c: Floats
    wetter_mm: Floats
    span_d: int

    def reasons(self, system: System) -> tuple[str, ...]:
        """Sentences a person can check: what was done, the years that count most, and the one that counts least."""
        head = (
            f"Years whose last {self.span_d} days were like this year's count more; together they are as sure as "
            f"{self.counts_as:.0f} equal years out of {len(self.years)}."
        )
        order = np.argsort(-self.weights, kind="stable").tolist()
        chosen = [*order[:TOLD_MOST], *order[max(TOLD_MOST, len(order) - TOLD_LEAST) :]]
        return (head, *(self._reason(row, system) for row in chosen))

    def most_like(self, count: int) -> tuple[int, ...]:
        """The years whose days were most like this year's, the likest first; years not known are left out."""
        order = np.argsort(-self.weights, kind="stable").tolist()
        known = ~(np.isnan(self.warmer_c) & np.isnan(self.wetter_mm))
        return tuple(self.years[row] for row in order if known[row])[:count]

    def _reason(self, row: int, system: System) -> str:
        from dooryard import units

        parts = []
        warmer, wetter = float(self.warmer_c[row]), float(self.wetter_mm[row])
        if not np.isnan(warmer):
            shown = units.show(abs(warmer), "temperature_difference", system, digits=1)
            parts.append(f"{shown} {'warmer' if warmer >= 0 else 'colder'}")
        if not np.isnan(wetter):
            parts.append(f"{units.show(abs(wetter), 'depth', system)} {'wetter' if wetter >= 0 else 'drier'}")
        why = f"those days were {' and '.join(parts)} than this year's" if parts else "its days are not known"
        return f"{self.years[row]} counts {self.weights[row] * len(self.years):.1f} times: {why}."


def weigh(
    record: WeatherRecord, on: date, years: Sequence[int], limits: UsualLimits | None = None
) -> Likeness | None:
    """Weights of past years by the mean temperature and the rain of the days before the calendar day of `on`.

    Both are compared in standard deviations over the years; the weight falls as exp(-d*d/2) with their mean
    square distance d. A part of the weight (fact `weather.similar.equal_share`) goes to all years alike. A year
    whose days are too full of gaps counts as an average one. None if nothing is known of this year's days, or there
    are fewer than two years.
    """
    limits = limits or usual_limits()
    span = int(limits.similar_span_d)
    known = record.until(on)
    warmth = (known.t_min_c + known.t_max_c) / 2
    marks = np.array(
        [
            [
                _mark(warmth, end, span, limits, total=False),
                _mark(known.rain_mm, end, span, limits, total=True),
            ]
            for end in [len(known.dates), *(_position(known, on, year) for year in years)]
        ]
    )
    if len(years) < 2 or np.isnan(marks[0]).all():
        return None
    apart = (marks[1:] - marks[0]) / _spread(marks)
    told = ~np.isnan(apart)
    square = np.where(told, apart, 0.0) ** 2
    distance2 = square.sum(axis=1) / np.maximum(told.sum(axis=1), 1)
    alike = np.where(told.any(axis=1), np.exp(-distance2 / 2), np.nan)
    if np.isnan(alike).all():
        return None
    alike = np.where(np.isnan(alike), np.nanmean(alike), alike)
    share = limits.similar_equal_share
    weights = share / len(years) + (1 - share) * alike / alike.sum()
    counts_as = float(1 / (weights**2).sum())
    warmer_c, wetter_mm = (marks[1:] - marks[0]).T
    return Likeness(tuple(years), weights, counts_as, warmer_c, wetter_mm, span)


def _mark(values: Floats, end: int, span: int, limits: UsualLimits, *, total: bool) -> float:
    """Mean or total of the `span` days before index `end`; NaN if they are not there or too full of gaps."""
    if end < span:
        return np.nan
    days = values[end - span : end]
    missing = int(np.isnan(days).sum())
    allowed = limits.total_missing_share if total else limits.mean_missing_share
    if missing > allowed * span or missing == span:
        return np.nan
    return float(np.nansum(days)) if total else float(np.nanmean(days))


def _position(record: WeatherRecord, on: date, year: int) -> int:
    try:
        day = on.replace(year=year)
    except ValueError:
        day = date(year, 3, 1)
    return (day - record.first).days


def _spread(marks: Floats) -> Floats:
    """Standard deviation of each mark over the years; 1 where it cannot be told or all are the same."""
    known = ~np.isnan(marks)
    count = np.maximum(known.sum(axis=0), 1)
    mean = np.where(known, marks, 0.0).sum(axis=0) / count
    spread = np.sqrt((np.where(known, marks - mean, 0.0) ** 2).sum(axis=0) / count)
    return np.where(spread > 0, spread, 1.0)
