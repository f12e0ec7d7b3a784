"""The course of a heat sum through one year: what was, and the fan of what may come."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from dooryard.season.timing import HeatSum, SeasonHeat

Numbers = NDArray[np.float64]

SHARES = (0.10, 0.25, 0.50, 0.75, 0.90)


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """A heat sum day by day, from its start to 31 December.

    dates : (N,) days. observed : (n,) cumulative sum of the days before the day asked [degC.d], NaN from
    the first unknown day on. fan : (5, h) the sum ahead, by which 10, 25, 50, 75 and 90 % of the futures
    stand lower [degC.d]; h is 0 if the sum today is not known or no past year is whole. usual : (2, N) the sum
    below which a tenth and nine tenths of the whole past years stood on each day [degC.d]; NaN without a year.
    """

    dates: tuple[date, ...]
    observed: Numbers
    fan: Numbers
    usual: Numbers


def course(heat: SeasonHeat, heat_sum: HeatSum) -> Course | None:
    """The course of one heat sum in the year of the day asked; None if the record begins after its start."""
    so_far, ahead = heat.course(heat_sum) or (None, None)
    if so_far is None or ahead is None:
        return None
    begin = min(date(heat.on.year, *heat_sum.start), heat.on)  # before its start a sum stands at zero
    days = len(so_far) + ahead.shape[1]
    known = bool(len(so_far)) and not np.isnan(so_far[-1])
    now = float(so_far[-1]) if known else 0.0
    if (len(so_far) and not known) or not len(ahead):
        fan = np.empty((len(SHARES), 0))
    else:
        fan = now + np.quantile(ahead, SHARES, axis=0)
    return Course(
        tuple(begin + timedelta(days=day) for day in range(days)), so_far, fan, _usual(heat, heat_sum, days)
    )


def _usual(heat: SeasonHeat, heat_sum: HeatSum, days: int) -> Numbers:
    """Outer tenths of the past years' sums (2, days); days before the sum's start stand at zero."""
    waiting = max((date(heat.on.year, *heat_sum.start) - heat.on).days, 0)
    past = heat.past_courses(heat_sum, days - waiting)
    if not len(past):
        return np.full((2, days), np.nan)
    ends = np.quantile(past, (SHARES[0], SHARES[-1]), axis=0)
    return np.concatenate([np.zeros((2, waiting)), ends], axis=1)
