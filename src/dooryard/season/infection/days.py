"""The days before a day as diseases see them, from a station's hours or, with a known error, from its days."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError, Problem
from dooryard.season import wetness
from dooryard.season.heat import sine
from dooryard.season.infection import daily
from dooryard.season.infection.fire_blight import degree_hours
from dooryard.season.infection.fortnight import Days
from dooryard.weather.hourly import HOURS_A_DAY, HourlyRecord
from dooryard.weather.record import WeatherRecord

Numbers = NDArray[np.float64]


def from_hours(record: HourlyRecord, on: date, knowledge: Knowledge, days: int = 14) -> Days:
    """The days up to the eve of `on`, by humidity and rain of each hour; without humidity by dew point.

    Parameters
    ----------
    record : HourlyRecord
        Hours of a station with temperature and humidity or dew point.
    on : date
        The day asked.
    knowledge : Knowledge
        For the two rules' limits.
    days : int
        How many days are looked at [d].

    Returns
    -------
    Days
        A day of which an hour is missing has no wet hours, but its known wet hours stand in the spells.

    Raises
    ------
    InputError
        If the record has no temperature, or neither humidity nor dew point.
    """
    begin = np.datetime64(on - timedelta(days=days), "h")
    air = _part(record, "temperature_c", begin, days)
    if "humidity_pct" in record.elements:
        humid = _part(record, "humidity_pct", begin, days)
        wet = wetness.by_humidity(
            humid, _rain(record, begin, days), knowledge.fact("wetness.humidity_least").value
        ).wet
    else:
        dew = _part(record, "dew_point_c", begin, days)
        humid = None
        nearest = knowledge.fact("wetness.dew_point_nearest").value
        wet = wetness.by_dew_point(air, dew, _rain(record, begin, days), nearest).wet
    by_day, warm = wet.reshape(days, HOURS_A_DAY), air.reshape(days, HOURS_A_DAY)
    hours = by_day.sum(axis=1)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.where(by_day == 1.0, warm, 0.0).sum(axis=1) / np.where(hours > 0, hours, np.nan)
    gap = round(knowledge.fact("wetness.dry_gap").value)
    return Days(
        last=on - timedelta(days=1),
        wet_h=hours,
        wet_mean_c=mean,
        t_min_c=warm.min(axis=1),
        t_max_c=warm.max(axis=1),
        humidity_pct=None if humid is None else humid.reshape(days, HOURS_A_DAY).mean(axis=1),
        # Eight dry hours end a spell: a shorter break is a break within it.
        spells=wetness.spells(wet, air, dry_gap_h=gap),
        by_hours=True,
        heat_ch=degree_hours(warm, knowledge.fact("fire_blight.base").value).sum(axis=1),
    )


def from_days(record: WeatherRecord, on: date, latitude: float, knowledge: Knowledge, days: int = 14) -> Days:
    """The days up to the eve of `on`, from a station's days and their dew point or humidity.

    Parameters
    ----------
    record : WeatherRecord
        Days of a station with dew point or humidity; see `InputError`.
    on : date
        The day asked.
    latitude : float
        Of the station, degrees, north above 0.
    knowledge : Knowledge
        For the rule's limit.
    days : int
        How many days are looked at [d].

    Raises
    ------
    InputError
        If the record has neither dew point nor humidity: what stands in for them is too far off.
    """
    first = on - timedelta(days=days)
    low, high = _days(record, record.t_min_c, first, days), _days(record, record.t_max_c, first, days)
    humid = None if record.humidity_pct is None else _days(record, record.humidity_pct, first, days)
    if record.dew_point_c is not None:
        dew = _days(record, record.dew_point_c, first, days)
    elif humid is not None:
        dew = daily.dew_point_from_humidity((low + high) / 2, humid)
    else:
        raise _lacking(
            "This record has neither humidity nor dew point, so hours of wet leaves cannot be told."
        )
    of_year = np.array(
        [(first + timedelta(days=i)).timetuple().tm_yday for i in range(days)], dtype=np.float64
    )
    nearest = knowledge.fact("wetness.dew_point_nearest").value
    wet = daily.wet_hours(low, high, dew, of_year, latitude, nearest_c=nearest)
    spells = tuple(
        wetness.Spell(24 * i, 24 * i + int(h) - 1, int(h), float(t), 0)
        for i, (h, t) in enumerate(zip(wet.wet_h.tolist(), wet.mean_c.tolist(), strict=True))
        if h >= 1
    )
    # One sine wave a day: its degree-days above the base are 24 times as many degree-hours.
    heat_ch = sine(low, high, knowledge.fact("fire_blight.base").value) * HOURS_A_DAY
    eve = on - timedelta(days=1)
    # A shower on a dry day makes no wet hour by the dew point, and yet it wets a blossom.
    rained = _days(record, record.rain_mm, first, days) > 0
    return Days(
        eve, wet.wet_h, wet.mean_c, low, high, humid, spells, by_hours=False, heat_ch=heat_ch, rained=rained
    )


def _part(record: HourlyRecord, name: str, begin: np.datetime64, days: int) -> Numbers:
    """The hours of some days of one element, NaN outside the record; refused if it has no such element."""
    if name not in record.elements:
        raise _lacking("These hours lack temperature, or both humidity and dew point.")
    values, size = record.element(name), days * HOURS_A_DAY
    start = int((begin - record.hours[0]).astype(int))
    laid = np.full(size, np.nan)
    a, b = max(start, 0), min(start + size, values.size)
    if a < b:
        laid[a - start : b - start] = values[a:b]
    return laid


def _rain(record: HourlyRecord, begin: np.datetime64, days: int) -> Numbers | None:
    return _part(record, "rain_mm", begin, days) if record.rain_mm is not None else None


def _days(record: WeatherRecord, values: Numbers, first: date, days: int) -> Numbers:
    start = (first - record.first).days
    laid = np.full(days, np.nan)
    a, b = max(start, 0), min(start + days, values.size)
    if a < b:
        laid[a - start : b - start] = values[a:b]
    return laid


def _lacking(what: str) -> InputError:
    return InputError(
        Problem(what, "Give hours with temperature and humidity, or days with a dew point.", field="weather")
    )
