"""How far what is made out of days lies from real hours: temperatures, winter chill, wet leaves, severity values.

    python -m tools.hours_and_days FILE LATITUDE [STATION] ...

FILE is an hourly file with temperature and humidity. Only days with all hours, between two such days, are compared.
The figures of the facts ``chill.curve_*``, ``wetness.daily_*`` and ``severity.daily_*`` came from this program.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dooryard import knowledge
from dooryard.season import wetness
from dooryard.season.chill import chilling_hours, dynamic_portions, utah_units
from dooryard.season.daily_curve import HOURS, hours_of_days
from dooryard.season.infection import daily, severity
from dooryard.weather import subdaily
from dooryard.weather.hourly import HourlyRecord

Numbers = NDArray[np.float64]
COLD, GROWING = (10, 11, 12, 1, 2, 3), (5, 6, 7, 8, 9)


@dataclass(frozen=True)
class Days:
    """An hourly file by days: month and day_of_year (days,), the rest (days, 24); known: days to compare."""

    month: NDArray[np.int64]
    day_of_year: Numbers
    air_c: Numbers
    humid_pct: Numbers
    dew_c: Numbers
    rain_mm: Numbers
    known: NDArray[np.bool_]


def by_days(record: HourlyRecord) -> Days:
    """The hours in rows of a day."""
    first = record.hours[0].astype("datetime64[D]")
    count = int((record.hours[-1].astype("datetime64[D]") - first).astype(int)) + 1
    begin = int((record.hours[0] - first.astype("datetime64[h]")).astype(int))

    def rows(name: str) -> Numbers:
        laid = np.full(count * HOURS, np.nan)
        if name in record.elements:
            laid[begin : begin + len(record.hours)] = record.element(name)
        return laid.reshape(count, HOURS)

    dates = first + np.arange(count)
    years = dates.astype("datetime64[Y]").astype("datetime64[D]")
    air, humid, dew = rows("temperature_c"), rows("humidity_pct"), rows("dew_point_c")
    dew = np.where(np.isnan(dew), daily.dew_point_from_humidity(air, np.clip(humid, 1, 100)), dew)
    whole = np.asarray(~(np.isnan(air) | np.isnan(humid)).any(axis=1))
    known = whole & np.append(whole[1:], False) & np.insert(whole[:-1], 0, False)
    month = dates.astype("datetime64[M]").astype(int) % 12 + 1
    return Days(
        month, (dates - years).astype(float) + 1, air, humid, dew, np.nan_to_num(rows("rain_mm")), known
    )


def report(name: str, days: Days, latitude: float) -> list[str]:
    """The comparison of one file, as lines."""
    low, high = days.air_c.min(axis=1), days.air_c.max(axis=1)
    curve = hours_of_days(low, high, days.day_of_year, latitude)
    off = (curve - days.air_c)[days.known]
    lines = [f"{name}: {int(days.known.sum())} days"]
    lines.append(f"  temperature of an hour: rms {np.sqrt((off**2).mean()):.2f}, mean {off.mean():+.2f} degC")
    cold = days.known & np.isin(days.month, COLD)
    tables = knowledge.load()
    steps = [row for row in tables.chill if row.model == "utah"]
    between = next(row for row in tables.chill if row.model == "hours-32-45")
    for what, real, made in (
        ("chill portions", dynamic_portions(days.air_c[cold].ravel()), dynamic_portions(curve[cold].ravel())),
        ("Utah units", utah_units(days.air_c[cold].ravel(), steps), utah_units(curve[cold].ravel(), steps)),
        (
            "hours 32-45 °F",
            chilling_hours(days.air_c[cold].ravel(), between),
            chilling_hours(curve[cold].ravel(), between),
        ),
    ):
        lines.append(
            f"  {what}, October to March, {int(cold.sum())} days: {real.sum():.1f}, from days {made.sum():.1f}"
        )
    return lines + _wet(days, low, high, latitude)


def _wet(days: Days, low: Numbers, high: Numbers, latitude: float) -> list[str]:
    tables = knowledge.load()
    rows = [row for row in tables.severity if row.disease == "tomato early blight"]
    near = tables.fact("wetness.dew_point_nearest").value
    growing = days.known & np.isin(days.month, GROWING)
    least = tables.fact("wetness.humidity_least").value
    wet = wetness.by_humidity(days.humid_pct, days.rain_mm, least).wet
    hours = np.nansum(wet, axis=1)
    warmth = np.nansum(wet * days.air_c, axis=1) / np.where(hours == 0, np.nan, hours)
    real = severity.values(rows, warmth, hours)
    lines = []
    for what, dew in (("day's mean dew point", days.dew_c.mean(axis=1)), ("night's low as dew point", low)):
        made = daily.wet_hours(low, high, dew, days.day_of_year, latitude, nearest_c=near)
        value = severity.values(rows, made.mean_c, made.wet_h)
        off, apart = (made.wet_h - hours)[growing], (value - real)[growing]
        lines.append(
            f"  wet hours a day by {what}, May to September: {hours[growing].mean():.1f} real; off by "
            f"{np.abs(off).mean():.1f}, mean {off.mean():+.1f}; severity within 1 on "
            f"{(np.abs(apart) <= 1).mean():.0%}, sum {value[growing].sum():.0f} for {real[growing].sum():.0f}"
        )
    return lines


def main(words: list[str]) -> int:
    """Compare each file named."""
    at = 0
    while at + 1 < len(words):
        file, latitude = words[at], float(words[at + 1])
        station = words[at + 2] if at + 2 < len(words) and not Path(words[at + 2]).exists() else None
        at += 2 if station is None else 3
        record = subdaily.read_hourly(file, station=station)
        print("\n".join(report(station or record.station.name, by_days(record), latitude)))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
