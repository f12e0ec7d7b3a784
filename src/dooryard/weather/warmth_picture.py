"""A picture of a record's temperatures: years as rows, four marks a month, gaps left white."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import Floats, WeatherRecord

if TYPE_CHECKING:
    from dooryard.units import System

QUARTERS = 4
"""Parts of a month: days 1-8, 9-15, 16-23 and 24 to the end, as in the picture of rain."""

SHADES = "_.:-=+*#"
BLOCKS = "▁▂▃▄▅▆▇█"
COLDEST_SHARE, HOTTEST_SHARE = 0.02, 0.98
_WIDTH = 80
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def quarter_means(record: WeatherRecord) -> tuple[Floats, NDArray[np.bool_]]:
    """Mean of the day's two temperatures over each quarter of a month (Y, 48) [degC], NaN where no day is known; and
    where some but not all days of the record lack a temperature (Y, 48)."""
    month = record.dates.astype("datetime64[M]")
    first_year = record.first.year
    day = (record.dates - month.astype("datetime64[D]")).astype(int)
    part = np.searchsorted(np.array([8, 15, 23]), day, side="right")
    cell = (month.astype(int) - (first_year - 1970) * 12) * QUARTERS + part
    years = record.last.year - first_year + 1
    size = years * 12 * QUARTERS
    warmth = (record.t_min_c + record.t_max_c) / 2
    known = ~np.isnan(warmth)
    days = np.bincount(cell, minlength=size)
    told = np.bincount(cell[known], minlength=size)
    total = np.bincount(cell[known], weights=warmth[known], minlength=size)
    means = np.where(told > 0, total / np.maximum(told, 1), np.nan)
    shape = (years, 12 * QUARTERS)
    return means.reshape(shape), ((told > 0) & (told < days)).reshape(shape)


def render(record: WeatherRecord, system: System, *, blocks: bool = False) -> str:
    """The picture with each year's mean and the days missing in it; one sentence if there is no temperature."""
    from dooryard import units

    means, gappy = quarter_means(record)
    known = np.sort(means[~np.isnan(means)])
    if not known.size:
        return "No day of this record has both temperatures, so there is no picture of them."
    # The few coldest and hottest quarters share the end marks; one cold spell must not flatten the rest.
    low, high = (float(known[int(share * (known.size - 1))]) for share in (COLDEST_SHARE, HOTTEST_SHARE))
    shades = BLOCKS if blocks else SHADES
    unit = units.unit_name("temperature", system)
    months = "".join(name.ljust(QUARTERS + 1) for name in _MONTHS)
    lines = ["Mean temperature, four marks a month", f"{'':5}{months}{unit:>7}{'missing':>8}"]
    warmth = (record.t_min_c + record.t_max_c) / 2
    years = record.dates.astype("datetime64[Y]").astype(int) + 1970
    for row, year in enumerate(range(record.first.year, record.last.year + 1)):
        marks = [
            _mark(mean, doubtful, low, high, shades)
            for mean, doubtful in zip(means[row], gappy[row], strict=True)
        ]
        groups = "".join("".join(marks[at : at + QUARTERS]) + " " for at in range(0, len(marks), QUARTERS))
        lines.append(f"{year} {groups}{_end(warmth[years == year], system)}".rstrip())
    shown = [units.show(end, "temperature", system, digits=0) for end in (low, high)]
    legend = (
        f"{shades[0]} {shown[0]} or colder, {shades[-1]} {shown[1]} or hotter; ? some days lack a temperature, blank "
        "none known. Mean: of whole years only. Missing: days of the record in that year without both temperatures."
    )
    return "\n".join([*lines, *textwrap.wrap(legend, _WIDTH)])


def _mark(mean: float, doubtful: bool, low: float, high: float, shades: str) -> str:
    if np.isnan(mean):
        return " "
    if doubtful:
        return "?"
    step = 0 if high <= low else int((mean - low) / (high - low) * len(shades))
    return shades[min(max(step, 0), len(shades) - 1)]


def _end(warmth: Floats, system: System) -> str:
    """A year's mean, if it is whole, and the days missing in it."""
    from dooryard import units

    missing = int(np.isnan(warmth).sum())
    whole = len(warmth) >= 365 and not missing
    mean = f"{units.number(float(warmth.mean()), 'temperature', system):.1f}" if whole else ""
    return f"{mean:>7}{missing or '':>8}"
