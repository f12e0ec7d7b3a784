"""A forecast file: the plain layout of a record, for the days ahead, with an optional range for the rain."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.opening import Faults, open_text
from dooryard.weather.record import Days, Floats

WRITE = "Write a header such as date,tmin_F,tmax_F,rain_in,rain_low_in,rain_high_in,burst_in_h."


@dataclass(frozen=True, slots=True, eq=False)
class Forecast:
    """What is foretold, one value a day; arrays (days,), NaN where nothing is said.

    issued : the day it was made, if the file says so.
    t_min_c, t_max_c [degC], rain_mm and its range rain_low_mm, rain_high_mm [mm].
    burst_mm_h : hardest rain of each day [mm/h], None if the file has no such column.
    source : name of the file.
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


_EXTRA = re.compile(r"(rain_low|rain_high|burst)_(in|mm)(?:_h)?")


def read(path: Path | str) -> Forecast:
    """The forecast in a plain CSV. A comment line `# issued: 2031-05-20` gives the day it was made.

    Optional columns beside those of a record: rain_low_in, rain_high_in, burst_in_h (or mm). InputError
    listing every fault: those of a record, a day left out, a low above its high.
    """
    from dooryard.weather.cells import parse_cells
    from dooryard.weather.conversion import UNITS
    from dooryard.weather.dates import parse_dates
    from dooryard.weather.readers import plain

    opened = open_text(Path(path))
    faults = Faults(opened.name)
    table = plain.take_apart(opened, faults)
    extra = {
        index: match
        for index, name in enumerate(table.header)
        if (match := _EXTRA.fullmatch(plain.normal(name))) is not None
    }
    # The record's own header check must not meet the three columns only a forecast has.
    rest = replace(
        table, header=["note" if index in extra else name for index, name in enumerate(table.header)]
    )
    columns = plain.understand_header(rest, faults)
    faults.raise_any()
    days, _ = parse_dates(
        table.cells[[plain.normal(name) for name in table.header].index("date")], table.lines, faults
    )
    values: dict[str, Floats] = {}
    for column in columns:
        numbers, _ = parse_cells(
            table.cells[column.index], table.lines, faults, name=column.header, trace=True
        )
        values[column.element] = column.conversion.apply(numbers)
    for index, match in extra.items():
        numbers, _ = parse_cells(table.cells[index], table.lines, faults, name=table.header[index])
        values[match[1]] = UNITS["rain_mm"][match[2]].apply(numbers)
    issued = _issued(table.comments.get("issued", ""), faults)
    faults.raise_any()
    absent = np.full(len(days), np.nan)
    forecast = Forecast(
        issued=issued,
        dates=days,
        t_min_c=values.get("t_min_c", absent),
        t_max_c=values.get("t_max_c", absent),
        rain_mm=values.get("rain_mm", absent),
        rain_low_mm=values.get("rain_low", absent),
        rain_high_mm=values.get("rain_high", absent),
        burst_mm_h=values.get("burst"),
        source=opened.name,
    )
    _check(forecast)
    return forecast


def _issued(text: str, faults: Faults) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        faults.add("This is no date.", "Write it as 2031-05-20.", name="issued", found=text)
        return None


def _check(forecast: Forecast) -> None:
    problems = []
    for row in np.flatnonzero(np.diff(forecast.dates).astype(int) != 1):
        what = f"The day after {forecast.dates[row]} is not in the forecast."
        problems.append(Problem(what, "Give every day, blank where nothing is foretold.", forecast.source))
    ordered = (
        ("lowest temperature", forecast.t_min_c, "highest temperature", forecast.t_max_c),
        ("low end of the rain", forecast.rain_low_mm, "rain", forecast.rain_mm),
        ("rain", forecast.rain_mm, "high end of the rain", forecast.rain_high_mm),
    )
    for low_word, low, high_word, high in ordered:
        # A hair of room: two columns converted from inches may differ in the last bit.
        for row in np.flatnonzero(low > high + 1e-6):
            what = f"On {forecast.dates[row]} the {low_word} is above the {high_word}."
            problems.append(Problem(what, "Check whether the two columns are swapped.", forecast.source))
    for row in np.flatnonzero(forecast.rain_mm < 0):
        problems.append(Problem(f"On {forecast.dates[row]} the rain is below 0.", WRITE, forecast.source))
    if problems:
        raise InputError(problems)
