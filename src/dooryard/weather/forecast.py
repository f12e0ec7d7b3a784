"""What is foretold for the days ahead, and the one door through which every forecast file comes in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.intervals import LONGEST_DAYS
from dooryard.weather.limits import limits
from dooryard.weather.opening import Opened, open_text
from dooryard.weather.record import Days, Floats, Issue, as_date

WRITE = "Write a header such as date,tmin_F,tmax_F,rain_in,rain_low_in,rain_high_in,burst_in_h."


@dataclass(frozen=True, slots=True, eq=False)
class ForecastHours:
    """A forecast hour by hour; arrays (hours,), NaN where nothing is said.

    local : start of each hour in the standard time of the place, datetime64[h]; clock : which clock that is.
    t_c, dew_point_c [degC], humidity_pct, rain_chance_pct, sky_pct [%], wind_m_s, gust_m_s [m/s], rain_mm [mm]
    in that hour (an amount given for several hours is parted evenly among them, so it says nothing of bursts).
    """

    local: NDArray[np.datetime64]
    clock: str
    t_c: Floats
    dew_point_c: Floats
    humidity_pct: Floats
    rain_mm: Floats
    rain_chance_pct: Floats
    wind_m_s: Floats
    gust_m_s: Floats
    sky_pct: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Forecast:
    """What is foretold, one value a day; arrays (days,), NaN where nothing is said.

    issued : the day it was made, if the file says so; made_at : the moment, with its offset.
    t_min_c, t_max_c [degC], rain_mm and its range rain_low_mm, rain_high_mm [mm].
    burst_mm_h : hardest rain of each day [mm/h], None if the file has no such column.
    source : name of the file. layout : plain, grid, periods or hours.
    rain_chance_pct : highest chance of rain in the day [%]; wind_m_s, gust_m_s : mean and highest wind [m/s];
        humidity_pct, dew_point_c : means; None if the layout has no such thing.
    rain_days : how many days, from the first, have their rain foretold; None if rain is foretold (or
        left open on purpose) on all of them. Past them an outlook goes on with the station's own years.
    hours : the same hour by hour, if the file has hours.
    place : latitude and longitude [degree] it was made for, if the file says so.
    issues : what a person must know about this forecast.
    """

    issued: date | None
    dates: Days
    t_min_c: Floats
    t_max_c: Floats
    rain_mm: Floats
    rain_low_mm: Floats
    rain_high_mm: Floats
    burst_mm_h: Floats | None
    source: str
    layout: str = "plain"
    made_at: datetime | None = None
    rain_chance_pct: Floats | None = None
    wind_m_s: Floats | None = None
    gust_m_s: Floats | None = None
    humidity_pct: Floats | None = None
    dew_point_c: Floats | None = None
    rain_days: int | None = None
    hours: ForecastHours | None = None
    place: tuple[float, float] | None = None
    issues: tuple[Issue, ...] = ()

    @property
    def first(self) -> date:
        """The first day foretold."""
        return as_date(self.dates[0])

    @property
    def last(self) -> date:
        """The last day foretold."""
        return as_date(self.dates[-1])


def read(path: Path | str, *, zone: str | None = None) -> Forecast:
    """The forecast in a file: a plain CSV, or the grid, period or hourly JSON of the US weather service.

    Which it is is found by looking into the file. zone : a time zone such as America/Chicago whose standard time
    says where the days of a grid begin; else the sun's clock at its longitude does. InputError listing every
    fault: those of a record, a day left out, a low above its high, an answer that holds no forecast.
    """
    return understand(open_text(Path(path)), zone)


def understand(opened: Opened, zone: str | None = None) -> Forecast:
    """The same for a text that is open already."""
    if opened.text.lstrip().startswith(("{", "[")):
        from dooryard.weather.readers import forecast_json

        forecast = forecast_json.read(opened, zone)
    else:
        from dooryard.weather.readers import forecast_plain

        _refuse_others(opened)
        forecast = forecast_plain.read(opened)
    _check(forecast)
    return forecast


def doubts(forecast: Forecast, now: datetime) -> tuple[Issue, ...]:
    """What a person must know who uses this forecast at the moment `now` (with its offset).

    Its age, days of it that are past, days that lack a temperature or rain; then its own issues.
    """
    issues: list[Issue] = []
    today = now.date()
    if forecast.made_at is not None:
        hours = (now - forecast.made_at).total_seconds() / 3600
        if hours >= 0:
            text = f"It was made {_age(hours)} ago, on {forecast.made_at:%Y-%m-%d at %H:%M} (UTC{forecast.made_at:%z})."
        else:
            text = f"It says it was made on {forecast.made_at:%Y-%m-%d}, which is still to come."
        issues.append(Issue("age", text, forecast.issued))
    elif forecast.issued is not None:
        days = (today - forecast.issued).days
        text = f"It was made on {forecast.issued}" + (f", {_counted(days, 'day')} ago." if days > 0 else ".")
        issues.append(Issue("age", text, forecast.issued))
    else:
        issues.append(
            Issue("age", "It does not say when it was made.", instead="Add a line # issued: with the day.")
        )
    gone = int(np.clip((today - forecast.first).days, 0, len(forecast.dates)))
    if gone == len(forecast.dates):
        text = f"All of its days are past: it ends on {forecast.last}."
        issues.append(Issue("age", text, instead="Fetch the forecast anew."))
    for words, values in (
        ("temperatures", forecast.t_min_c + forecast.t_max_c),
        ("rain", forecast.rain_mm),
    ):
        blank = np.flatnonzero(np.isnan(values[gone:])) + gone
        if len(blank):
            shown = ", ".join(str(day) for day in forecast.dates[blank[:5]])
            more = f" and {len(blank) - 5} more" if len(blank) > 5 else ""
            text = f"No {words} for {_counted(len(blank), 'day')}: {shown}{more}."
            first, last = as_date(forecast.dates[blank[0]]), as_date(forecast.dates[blank[-1]])
            issues.append(Issue("gap", text, first, last, len(blank), "Nothing was filled in."))
    return tuple(issues) + forecast.issues


def _refuse_others(opened: Opened) -> None:
    """InputError for a record in any layout but the plain one, which a forecast shares, and for other tables."""
    from dooryard.weather.file import recognise
    from dooryard.weather.other_files import design_rain

    if (other := design_rain(opened)) is not None:
        raise InputError(other)
    try:
        layout = recognise(opened)
    except InputError:
        what = "This is no forecast in a layout that can be read."
        raise InputError(Problem(what, WRITE, opened.name)) from None
    if layout != "plain":
        what = "This is a station's record, not a forecast."
        instead = f'Look at it with "dooryard weather look {opened.name}".'
        raise InputError(Problem(what, instead, opened.name))


def _check(forecast: Forecast) -> None:
    problems = []
    if len(forecast.dates) > LONGEST_DAYS:
        what = f"This table has {len(forecast.dates):,} days, and no forecast reaches farther than {LONGEST_DAYS}."
        instead = f'If it is a record: "dooryard weather look {forecast.source}".'
        raise InputError(Problem(what, instead, forecast.source))
    for row in np.flatnonzero(np.diff(forecast.dates).astype(int) != 1):
        what = f"The day after {forecast.dates[row]} is not in the forecast."
        problems.append(Problem(what, "Give every day, blank where nothing is foretold.", forecast.source))
    ordered = (
        ("lowest temperature", forecast.t_min_c, "highest temperature", forecast.t_max_c),
        ("low end of the rain", forecast.rain_low_mm, "rain", forecast.rain_mm),
        ("rain", forecast.rain_mm, "high end of the rain", forecast.rain_high_mm),
        ("low end of the rain", forecast.rain_low_mm, "high end", forecast.rain_high_mm),
    )
    for low_word, low, high_word, high in ordered:
        # A hair of room: two columns converted from inches may differ in the last bit.
        for row in np.flatnonzero(low > high + 1e-6):
            what = f"On {forecast.dates[row]} the {low_word} is above the {high_word}."
            problems.append(Problem(what, "Check whether the two columns are swapped.", forecast.source))
    amounts = (
        ("rain", forecast.rain_mm),
        ("low end of the rain", forecast.rain_low_mm),
        ("high end of the rain", forecast.rain_high_mm),
        ("hardest rain", forecast.burst_mm_h),
    )
    for word, amount in amounts:
        for row in () if amount is None else np.flatnonzero(amount < 0):
            problems.append(
                Problem(f"On {forecast.dates[row]} the {word} is below 0.", WRITE, forecast.source)
            )
    bounds = limits()
    beyond = (
        ("lowest temperature", forecast.t_min_c, bounds.coldest_c, bounds.hottest_c),
        ("highest temperature", forecast.t_max_c, bounds.coldest_c, bounds.hottest_c),
        ("rain", forecast.rain_mm, -np.inf, bounds.wettest_day_mm),
    )
    for word, values, least, most in beyond:
        for row in np.flatnonzero((values < least) | (values > most)):
            what = f"On {forecast.dates[row]} the {word} is beyond any on record on earth."
            problems.append(Problem(what, "Check its unit.", forecast.source))
    if problems:
        raise InputError(problems)


def _age(hours: float) -> str:
    days, rest = divmod(round(hours), 24)
    parts = [_counted(days, "day") if days else "", _counted(rest, "hour") if rest or not days else ""]
    return " and ".join(part for part in parts if part)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
