"""A yard that is colder or warmer than its station: low ground on still nights, a sheltered court by day.

The difference is the yard's own: measured there with a thermometer over some weeks, never guessed. Only its size for
plain difference in height is computed here, as a check on what was measured.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from dooryard import units
from dooryard.unit_table import System
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import Codes, Flag, Floats, Issue, WeatherRecord


@dataclass(frozen=True, slots=True)
class Offset:
    """How much colder (below 0) or warmer the yard's nights are than the station's.

    nights : nights both have. middle_c, low_c, high_c : median and the middle half of the differences [degC], NaN if
    refused. refused : why no offset may be taken from these readings, or empty.
    """

    nights: int
    middle_c: float
    low_c: float
    high_c: float
    refused: str = ""


def measured_offset(
    yard: WeatherRecord, station: WeatherRecord, least_nights: int, largest_c: float
) -> Offset:
    """The offset from the yard's own lowest temperatures against the station's on the same nights.

    least_nights : fewer say nothing. largest_c [degC] : a larger one is a wrong unit or thermometer.
    """
    first, last = max(yard.dates[0], station.dates[0]), min(yard.dates[-1], station.dates[-1])
    apart = np.empty(0)
    if first <= last:
        apart = _part(yard, first, last) - _part(station, first, last)
    known = apart[~np.isnan(apart)]
    nan = float("nan")
    if known.size < least_nights:
        nights = (
            "No night is"
            if not known.size
            else "1 night is"
            if known.size == 1
            else f"{known.size} nights are"
        )
        refused = f"{nights} in both; read the yard's lowest temperature on {least_nights} nights or more."
        return Offset(int(known.size), nan, nan, nan, refused)
    low_c, middle_c, high_c = (float(value) for value in np.percentile(known, [25, 50, 75]))
    refused = ""
    if abs(middle_c) > largest_c:
        refused = f"A difference of {middle_c:+.1f} degC is no hollow; check the unit and the thermometer."
    return Offset(int(known.size), middle_c, low_c, high_c, refused)


def moved(
    record: WeatherRecord, night_c: float, day_c: float = 0.0, reason: str = "", *, system: System = "metric"
) -> WeatherRecord:
    """The record as the yard would have it: `night_c` added to the lowest, `day_c` to the highest temperatures [degC].

    Every moved value is flagged MOVED (an estimate stays an estimate), and an issue tells what was done, in the units
    of `system`. Where a lowest temperature would come out above the highest, it is set to the highest.
    """
    if night_c == 0.0 and day_c == 0.0:
        return record
    flags = dict(record.flags)
    t_min_c, flags["t_min_c"] = _moved(record.t_min_c, flags["t_min_c"], night_c)
    t_max_c, flags["t_max_c"] = _moved(record.t_max_c, flags["t_max_c"], day_c)
    crossed = (t_min_c > t_max_c) & ~(record.t_min_c > record.t_max_c)
    t_min_c = np.where(crossed, t_max_c, t_min_c)
    t_min_c.setflags(write=False)
    parts = [
        f"each {word} {units.show(abs(value), 'temperature_difference', system)} {'colder' if value < 0 else 'warmer'}"
        for value, word in ((night_c, "night"), (day_c, "day"))
        if value
    ]
    text = f"The yard is not its station: {' and '.join(parts)}. {reason}".strip()
    instead = "The station's temperatures were moved by that and are flagged so."
    if crossed.any():
        count = "1 day" if crossed.sum() == 1 else f"{int(crossed.sum()):,} days"
        instead += f" On {count} the night came out warmer than the day and was set equal."
    days = int((~np.isnan(record.t_min_c if night_c else record.t_max_c)).sum())
    issue = Issue("site", text, record.first, record.last, days, instead)
    return replace(
        record,
        t_min_c=t_min_c,
        t_max_c=t_max_c,
        flags=MappingProxyType(flags),
        issues=(*record.issues, issue),
    )


def forecast_at(forecast: Forecast | None, night_c: float) -> Forecast | None:
    """The forecast's days with `night_c` added to the lowest temperatures [degC], never above the highest.

    Its hours are left as they are: what an offset at night means for each hour is not known.
    """
    if forecast is None or night_c == 0.0:
        return forecast
    with np.errstate(invalid="ignore"):
        lowest = np.fmin(forecast.t_min_c + night_c, forecast.t_max_c)
    t_min_c = np.where(np.isnan(forecast.t_min_c), np.nan, lowest)
    t_min_c.setflags(write=False)
    return replace(forecast, t_min_c=t_min_c)


def height_difference_c(rise_m: float, cooling_c_per_km: float) -> float:
    """How much warmer than a station `rise_m` higher a yard is on average, for its height alone [degC]."""
    return rise_m / 1000 * cooling_c_per_km


def _part(record: WeatherRecord, first: np.datetime64, last: np.datetime64) -> Floats:
    start = int((first - record.dates[0]).astype(int))
    return record.t_min_c[start : start + int((last - first).astype(int)) + 1]


def _moved(values: Floats, flags: Codes, by_c: float) -> tuple[Floats, Codes]:
    if by_c == 0.0:
        return values, flags
    measured = ~np.isnan(values) & (flags != Flag.ESTIMATED)
    after, codes = values + by_c, np.where(measured, np.uint8(Flag.MOVED), flags)
    for array in (after, codes):
        array.setflags(write=False)
    return after, codes
