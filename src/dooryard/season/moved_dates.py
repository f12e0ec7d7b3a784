"""Dates printed for another place, moved here by heat; or why they cannot be.

The record of the other place says how much heat has usually gathered there on the printed day; here the day is
the one that reaches as much. That takes the creature to follow the heat, which the printed dates do not say.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from dooryard.knowledge import DatedWindow, Knowledge
from dooryard.season import heat
from dooryard.season.timing import Crossing, HeatSum, SeasonHeat
from dooryard.weather.outlook import bridge_gaps
from dooryard.weather.record import WeatherRecord

START = (1, 1)
METHOD = "average"


@dataclass(frozen=True, slots=True)
class MovedWindow:
    """A window of dates and what it comes to here.

    opens_cd, closes_cd : heat that has usually gathered at the window's own place on the eve of its days [degC.d].
    opens, closes : when as much is reached here. years : whole years of the other place behind the numbers.
    refused : why it is not moved; then the other fields are None.
    """

    window: DatedWindow
    opens_cd: float | None
    closes_cd: float | None
    opens: Crossing | None
    closes: Crossing | None
    years: int
    refused: str | None


def move(
    window: DatedWindow, here: SeasonHeat, there: WeatherRecord | None, knowledge: Knowledge
) -> MovedWindow:
    """One window moved from its own place to the station of ``here``.

    there : a record of the window's place, or None, which refuses; so does one whose latitude is another's.
    """
    if there is None:
        return _refused(
            window,
            0,
            f"These dates are true of {window.place}. Without that place's weather they are not moved.",
        )
    away = knowledge.fact("season.moved_latitude").value
    lies = there.station.latitude
    if window.latitude is not None and lies is not None and abs(lies - window.latitude) > away:
        return _refused(
            window,
            0,
            f"The record given lies at {lies:.1f} degrees, {window.place} at {window.latitude:.1f}: "
            "it is another place.",
        )
    base_c = knowledge.fact("season.moved_base").value
    usual, years = usual_heat(there, window, base_c)
    fewest = knowledge.fact("season.moved_years").value
    if years < fewest:
        return _refused(
            window,
            years,
            f"The record of {window.place} has only {years} whole {'year' if years == 1 else 'years'} of the "
            f"{fewest:g} that are needed.",
        )
    kind = HeatSum(METHOD, base_c, None, "none", START)
    opens, closes = here.crossings(kind, usual)
    return MovedWindow(window, usual[0], usual[1], opens, closes, years, None)


def usual_heat(record: WeatherRecord, window: DatedWindow, base_c: float) -> tuple[tuple[float, float], int]:
    """Middle heat sum above ``base_c`` from 1 January to the window's two days, both included [degC.d].

    Gives (to the opening, to the closing) and the number of whole years behind them; NaN without a year.
    """
    low, _ = bridge_gaps(record.t_min_c)
    high, _ = bridge_gaps(record.t_max_c)
    daily = heat.average(low, np.maximum(low, high), base_c)
    found: list[tuple[float, float]] = []
    for year in range(record.first.year, record.dates[-1].item().year + 1):
        begin = (date(year, *START) - record.first).days
        ends = [(_day(year, text) - record.first).days + 1 for text in (window.opens, window.closes)]
        if begin < 0 or max(ends) > len(daily):
            continue
        sums = [float(daily[begin:end].sum()) for end in ends]
        if not np.isnan(sums).any():
            found.append((sums[0], sums[1]))
    if not found:
        return (float("nan"), float("nan")), 0
    middle = np.median(np.array(found), axis=0)
    return (float(middle[0]), float(middle[1])), len(found)


def _day(year: int, month_day: str) -> date:
    month, day = (int(part) for part in month_day.split("-"))
    return date(year, month, 28 if (month, day) == (2, 29) else day)


def _refused(window: DatedWindow, years: int, why: str) -> MovedWindow:
    return MovedWindow(window, None, None, None, None, years, why)
