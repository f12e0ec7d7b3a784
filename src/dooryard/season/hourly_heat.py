"""Heat sums from hours, and how far the daily method lies from them on the same days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.season import heat
from dooryard.season.timing import HeatSum
from dooryard.weather.hourly import HOURS_A_DAY, HourlyRecord
from dooryard.weather.outlook import bridge_gaps

Numbers = NDArray[np.float64]

LONGEST_FILLED_H = 3
"""Missing hours in a row that are bridged by a straight line (our rule, as for days)."""


@dataclass(frozen=True, slots=True)
class HourlySum:
    """One heat sum by its hours and by its daily method, over the same days.

    first, last : days the sum was asked over, both included. days, missing : of these, days that both ways
    know, and days left out of both. hourly_cd, daily_cd : the sums [degC.d].
    """

    first: date
    last: date
    days: int
    missing: int
    hourly_cd: float
    daily_cd: float

    @property
    def difference_cd(self) -> float:
        """Daily method less hours [degC.d]."""
        return self.daily_cd - self.hourly_cd


def of_hours(
    temperature_c: Numbers, lower_c: float, upper_c: float | None = None, cutoff: str = "none"
) -> Numbers:
    """Degree-days of each day from its hours.

    Parameters
    ----------
    temperature_c : array (days, 24)
        Hourly temperatures [degC]; NaN where missing.
    lower_c, upper_c, cutoff
        Thresholds [degC] and cutoff word, as in `heat`; here the cutoff acts on each hour.

    Returns
    -------
    array (days,)
        Mean over the day's hours of the heat above ``lower_c`` [degC.d]; NaN if an hour is missing.

    Source
    ------
    The definition of a degree-day: the area above the threshold, here summed by hours.
    """
    above = np.maximum(temperature_c - lower_c, 0.0)
    if upper_c is None or cutoff == "none":
        return np.asarray(above.mean(axis=1))
    over = np.maximum(temperature_c - upper_c, 0.0)
    if cutoff == "horizontal":
        kept = above - over
    elif cutoff == "intermediate":
        kept = np.maximum(above - 2 * over, 0.0)
    else:
        kept = np.where(over > 0, 0.0, above) + 0.0 * above
    return np.asarray(kept.mean(axis=1))


def compare(hours: HourlyRecord, heat_sum: HeatSum, on: date) -> HourlySum:
    """A heat sum from its start in the year of ``on`` to the eve of ``on``, by hours and by its daily method.

    The daily method sees the lowest and highest hour of the same days. Days that lack an hour (after gaps of
    up to three hours are bridged) are left out of both.

    Raises
    ------
    InputError
        If the file holds no temperatures, or none of the days.
    """
    first, last = date(on.year, *heat_sum.start), on
    if hours.temperature_c is None:
        raise InputError(Problem("This file of hours holds no temperatures.", "Bring one that does."))
    filled, _ = bridge_gaps(hours.temperature_c, LONGEST_FILLED_H)
    wanted = np.arange(np.datetime64(first, "h"), np.datetime64(last, "h"))
    table = np.full(len(wanted), np.nan)
    offset = int((hours.hours[0] - np.datetime64(first, "h")).astype(int))
    begin, end = max(offset, 0), min(offset + len(filled), len(wanted))
    if begin >= end:
        raise InputError(
            Problem(
                "The file of hours has none of the days of this sum.",
                f"It must reach into the days from {first} to {last}.",
                found=f"{hours.hours[0]} to {hours.hours[-1]}",
            )
        )
    table[begin:end] = filled[begin - offset : end - offset]
    by_day = table.reshape(-1, HOURS_A_DAY)
    known = ~np.isnan(by_day).any(axis=1)
    by_day = by_day[known]
    settings = (heat_sum.lower_c, heat_sum.upper_c, heat_sum.cutoff)
    daily = heat.method(heat_sum.method)(by_day.min(axis=1), by_day.max(axis=1), *settings)
    return HourlySum(
        first=first,
        last=date.fromordinal(last.toordinal() - 1),
        days=int(known.sum()),
        missing=int((~known).sum()),
        hourly_cd=float(of_hours(by_day, *settings).sum()),
        daily_cd=float(daily.sum()),
    )
