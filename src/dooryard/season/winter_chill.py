"""How much cold a winter has brought so far, in four countings, beside what it usually is by the same day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.knowledge.season_rows import Chill
from dooryard.problem import InputError, Problem
from dooryard.season.bloom import BRIDGED_D, FIRST_MONTH, bridged
from dooryard.season.chill import chilling_hours, dynamic_portions, since_lowest, utah_units
from dooryard.season.daily_curve import hours_of_days
from dooryard.weather.record import WeatherRecord

Numbers = NDArray[np.float64]

LAST_MONTH, LAST_DAY = 4, 30
"""Cold is counted up to 30 April: buds are open by then."""
FEWEST_WINTERS = 10
"""Past winters from which on it is said what is usual."""

NAMES = {
    "hours-32-45": "hours from 32 to 45 °F",
    "hours-below-45": "hours below 45 °F",
    "utah": "Utah units",
    "portions": "portions",
}


@dataclass(frozen=True, slots=True)
class Count:
    """One counting: this winter's sum, and past winters' by the same day (10, 50, 90 of 100), None if too few."""

    key: str
    name: str
    value: float
    usual: tuple[float, float, float] | None


@dataclass(frozen=True, slots=True)
class Winter:
    """A winter's cold from ``first`` to ``last``. winters : past winters that were whole up to that day."""

    first: date
    last: date
    counts: tuple[Count, ...]
    winters: int
    left_out: int


def winter(record: WeatherRecord, on: date, latitude: float, knowledge: Knowledge) -> Winter:
    """The cold of the winter a day lies in, or of the last one before it.

    Parameters
    ----------
    record : WeatherRecord
        Days of a station; hours are made from them.
    on : date
        The day asked: cold is counted up to its eve, and not beyond 30 April.
    latitude : float
        Degrees north.
    knowledge : Knowledge
        Its chill table.

    Returns
    -------
    Winter

    Raises
    ------
    InputError
        If days of this winter are missing in gaps too long to bridge, or the place lies south of the equator.
    """
    if latitude < 0:
        what = "Winter is counted from 1 October, which is for the north of the equator."
        raise InputError(Problem(what, "Ask a local office.", field="--latitude", found=f"{latitude:g}"))
    first, last = span(on)
    low, high = bridged(record.t_min_c), bridged(record.t_max_c)
    now = _days(record, low, high, first, last)
    missing = int(np.isnan(now[0] + now[1]).sum())
    if missing:
        days = "1 day" if missing == 1 else f"{missing} days"
        raise InputError(
            Problem(
                f"{days} between {first} and {last} have no temperatures, in gaps of more than {BRIDGED_D} days.",
                "Get the missing days from the station, or use a station without the gap.",
                field="weather",
            )
        )
    sums = _sums(now, first, latitude, knowledge)
    past, left_out = [], 0
    for back in range(1, first.year - record.first.year + 1):
        then = date(first.year - back, FIRST_MONTH, 1)
        days_then = _days(record, low, high, then, then + (last - first))
        if np.isnan(days_then[0] + days_then[1]).any():
            left_out += 1
        else:
            past.append(_sums(days_then, then, latitude, knowledge))
    counts = tuple(
        Count(key, name, sums[key], _usual([one[key] for one in past])) for key, name in NAMES.items()
    )
    return Winter(first, last, counts, len(past), left_out)


def span(on: date) -> tuple[date, date]:
    """First and last day counted: from 1 October to the eve of the day asked, or to 30 April if that is sooner.

    On 1 October itself, with no day of its own yet, the last winter is meant.
    """
    first = date(on.year, FIRST_MONTH, 1)
    if on <= first:
        first = date(on.year - 1, FIRST_MONTH, 1)
    return first, min(on - timedelta(days=1), date(first.year + 1, LAST_MONTH, LAST_DAY))


def _days(
    record: WeatherRecord, low: Numbers, high: Numbers, first: date, last: date
) -> tuple[Numbers, Numbers]:
    """Lowest and highest temperatures from a first to a last day, NaN outside the record."""
    count, start = (last - first).days + 1, (first - record.first).days
    laid = np.full((2, count), np.nan)
    a, b = max(start, 0), min(start + count, low.size)
    if a < b:
        laid[0, a - start : b - start], laid[1, a - start : b - start] = low[a:b], high[a:b]
    return laid[0], laid[1]


def _sums(
    days: tuple[Numbers, Numbers], first: date, latitude: float, knowledge: Knowledge
) -> dict[str, float]:
    of_year = np.array([(first + timedelta(days=i)).timetuple().tm_yday for i in range(days[0].size)], float)
    hours = hours_of_days(*days, of_year, latitude).ravel()

    def rows(model: str) -> list[Chill]:
        return [row for row in knowledge.chill if row.model == model]

    return {
        "hours-32-45": float(chilling_hours(hours, rows("hours-32-45")[0]).sum()),
        "hours-below-45": float(chilling_hours(hours, rows("hours-below-45")[0], with_end=False).sum()),
        # Warmth of early autumn is no debt: the units begin where their sum stood lowest.
        "utah": float(since_lowest(utah_units(hours, rows("utah")))[-1]),
        "portions": float(dynamic_portions(hours).sum()),
    }


def _usual(past: list[float]) -> tuple[float, float, float] | None:
    if len(past) < FEWEST_WINTERS:
        return None
    low, middle, high = np.quantile(past, [0.1, 0.5, 0.9], method="weibull").tolist()
    return low, middle, high
