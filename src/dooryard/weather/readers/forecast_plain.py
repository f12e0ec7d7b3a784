"""The plain forecast: the plain layout of a record for the days ahead, with an optional range for the rain."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import numpy as np

from dooryard.weather.cells import parse_cells
from dooryard.weather.conversion import UNITS
from dooryard.weather.dates import parse_dates
from dooryard.weather.forecast import Forecast
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers import plain
from dooryard.weather.record import Floats

_EXTRA = re.compile(r"(rain_low|rain_high|burst)_(in|mm)(?:_h)?|(rain_chance)_pct")


def read(opened: Opened) -> Forecast:
    """The forecast in a plain CSV. A comment line `# issued: 2031-05-20` gives the day it was made.

    Optional columns beside those of a record: rain_low_in, rain_high_in, burst_in_h (or mm), rain_chance_pct.
    InputError listing every fault of the cells and dates.
    """
    faults = Faults(opened.name)
    table = plain.take_apart(opened, faults)
    extra = {
        index: match
        for index, name in enumerate(table.header)
        if (match := _EXTRA.fullmatch(plain.normal(name))) is not None
    }
    # The record's own header check must not meet the columns only a forecast has.
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
        if match[3]:
            for row in np.flatnonzero((numbers < 0) | (numbers > 100)).tolist():
                what = "A chance of rain lies from 0 to 100 %."
                faults.add(what, "Write it as 60.", line=table.lines[row], name=table.header[index])
            values[match[3]] = numbers
        else:
            values[match[1]] = UNITS["rain_mm"][match[2]].apply(numbers)
    issued = _issued(table.comments.get("issued", ""), faults)
    faults.raise_any()
    absent = np.full(len(days), np.nan)
    return Forecast(
        issued=issued,
        dates=days,
        t_min_c=values.get("t_min_c", absent),
        t_max_c=values.get("t_max_c", absent),
        rain_mm=values.get("rain_mm", absent),
        rain_low_mm=values.get("rain_low", absent),
        rain_high_mm=values.get("rain_high", absent),
        burst_mm_h=values.get("burst"),
        source=opened.name,
        wind_m_s=values.get("wind_m_s"),
        rain_chance_pct=values.get("rain_chance"),
        humidity_pct=values.get("humidity_pct"),
        dew_point_c=values.get("dew_point_c"),
    )


def _issued(text: str, faults: Faults) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        faults.add("This is no date.", "Write it as 2031-05-20.", name="issued", found=text)
        return None
