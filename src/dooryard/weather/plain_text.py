"""A record as the text of a plain file: every measured value comes back to the last bit, every flag is kept."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from dooryard.weather.conversion import UNITS, Conversion
from dooryard.weather.record import MADE_UP, STATED, Codes, Flag, Floats, Station, WeatherRecord

NAMES = {
    "t_min_c": "tmin",
    "t_max_c": "tmax",
    "rain_mm": "rain",
    "t_mean_c": "tmean",
    "wind_m_s": "wind",
    "dew_point_c": "dew",
    "solar_mj_m2": "solar",
    "humidity_pct": "humidity",
}
_SHOWN = {"f": "F", "c": "C", "mj_m2": "MJ_m2", "w_m2": "W_m2", "kwh_m2": "kWh_m2"}
_WORDS = {
    flag: flag.name.lower()
    for flag in (Flag.TRACE, Flag.ACCUMULATED, Flag.ESTIMATED, Flag.SUSPECT, Flag.MOVED)
}
_MOST_DECIMALS = 4
_ESTIMATE_DECIMALS = {"in": 2}  # all other units: one


def render(record: WeatherRecord, comments: Sequence[tuple[str, str]] = ()) -> str:
    """The record in the plain layout, a line for every calendar day.

    Each column is in the unit its values were noted in, found by which gives them the fewest decimals. Values
    that are not used (suspect, part of a total) are blank beside their flag; a flag column stands where one
    is needed. Estimates are rounded to 0.1, rain in inches to 0.01. comments : further `# key: value` lines.
    An invented record says so in one of its own, and so does one whose unit or rain a person answers for.
    """
    header, columns = ["date"], [record.dates.astype(str).tolist()]
    for element in record.elements:
        values, flags = record.element(element), record.flags[element]
        unit, decimals = _unit(element, values[~np.isnan(values) & (flags != Flag.ESTIMATED)])
        header.append(f"{NAMES[element]}_{_SHOWN.get(unit, unit)}")
        columns.append(_cells(values, flags, UNITS[element][unit], decimals, _ESTIMATE_DECIMALS.get(unit, 1)))
        if np.isin(flags, list(_WORDS)).any():
            header.append(f"{NAMES[element]}_flag")
            columns.append([_WORDS.get(Flag(code), "") for code in flags.tolist()])
    if any(issue.kind == STATED for issue in record.issues):
        # Or the file would be doubted again when it is read.
        comments = [("units", "header"), ("checked", "rain"), *comments]
    if record.invented and MADE_UP not in dict(comments):
        comments = [(MADE_UP, "nobody measured this"), *comments]
    # A comment is one line, whatever was typed: a second line would be taken for the header.
    head = [
        f"# {' '.join(key.split())}: {' '.join(value.split())}"
        for key, value in (*_station(record.station), *comments)
    ]
    lines = [",".join(row) for row in zip(*columns, strict=True)]
    return "\n".join([*head, ",".join(header), *lines]) + "\n"


def _unit(element: str, measured: Floats) -> tuple[str, int | None]:
    """The unit, and how many decimals give every measured value back (None: as many as it takes)."""
    best: tuple[str, int | None] = (
        next(unit for unit, way in UNITS[element].items() if way == Conversion()),
        None,
    )
    for unit, conversion in UNITS[element].items():
        cells = _undone(measured, conversion)
        for decimals in range(_MOST_DECIMALS + 1 if best[1] is None else best[1]):
            if np.array_equal(conversion.apply(np.round(cells, decimals)), measured):
                best = unit, decimals
                break
    return best


def _undone(values: Floats, conversion: Conversion) -> Floats:
    return values * conversion.divide / conversion.multiply + conversion.subtract


def _cells(
    values: Floats, flags: Codes, conversion: Conversion, decimals: int | None, estimate_decimals: int
) -> list[str]:
    shown = []
    for cell, code in zip(_undone(values, conversion).tolist(), flags.tolist(), strict=True):
        if math.isnan(cell):
            shown.append("")
        elif code == Flag.ESTIMATED:
            shown.append(f"{cell:.{estimate_decimals}f}")
        else:
            shown.append(np.format_float_positional(cell) if decimals is None else f"{cell:.{decimals}f}")
    return shown


def _station(station: Station) -> list[tuple[str, str]]:
    lines = [("station", station.name)]
    if station.id:
        lines.append(("id", station.id))
    if station.latitude is not None:
        lines.append(("latitude", f"{station.latitude!r}"))
    if station.longitude is not None:
        lines.append(("longitude", f"{station.longitude!r}"))
    if station.elevation_m is not None:
        lines.append(("elevation", f"{station.elevation_m!r} m"))
    return lines
