"""What a record holds: counts, yearly totals, and a picture of its rain with the gaps left white."""

from __future__ import annotations

import textwrap
from dataclasses import asdict, dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import WORDS, Flag, Floats, WeatherRecord

if TYPE_CHECKING:
    from dooryard.units import System

QUARTERS = 4
"""Parts of a month in the picture: days 1-8, 9-15, 16-23 and 24 to the end."""

SHADES = "_.:-=+*#"
BLOCKS = "·▁▂▃▄▅▆▇█"
_WIDTH = 80
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Year:
    """One calendar year: its rain so far as known, how many days lack rain or a temperature, its extremes."""

    year: int
    days: int
    rain_mm: float
    days_without_rain_value: int
    days_without_temperature: int
    coldest_c: float | None
    hottest_c: float | None
    complete: bool


@dataclass(frozen=True, slots=True, eq=False)
class Summary:
    """Numbers about a record.

    counts : element to flag name to days.
    quarter_mm : (Y, 48) rain of each quarter of a month [mm], the mean of its known days times its days; NaN
        where no day is known.
    gappy : (Y, 48) True where some but not all days lack rain.
    full_mm : the rain of a quarter that is drawn as full [mm].
    """

    first: date
    last: date
    days: int
    counts: dict[str, dict[str, int]]
    years: tuple[Year, ...]
    quarter_mm: Floats
    gappy: NDArray[np.bool_]
    full_mm: float


def summarise(record: WeatherRecord) -> Summary:
    """Counts, yearly totals and the picture's numbers of a record."""
    counts = {
        name: {flag.name.lower(): int((record.flags[name] == flag).sum()) for flag in Flag}
        for name in record.elements
    }
    whole = set(record.complete_years("rain_mm"))
    years = record.dates.astype("datetime64[Y]").astype(int) + 1970
    first_year = int(years[0])
    span = range(first_year, int(years[-1]) + 1)
    rows = tuple(_year(record, years == year, year, year in whole) for year in span)
    quarter_mm, gappy = _quarters(record, first_year, len(rows))
    known = np.sort(quarter_mm[~np.isnan(quarter_mm)])
    # Nineteen quarters in twenty lie below full; one cloudburst must not make the rest look dry.
    full_mm = float(known[int(0.95 * (known.size - 1))]) if known.size else 0.0
    return Summary(record.first, record.last, len(record.dates), counts, rows, quarter_mm, gappy, full_mm)


def as_json(held: Summary, record: WeatherRecord) -> dict[str, Any]:
    """The summary as plain data: units in the names, None where nothing is known."""
    return {
        "station": asdict(record.station),
        "source": asdict(record.source),
        "invented": record.invented,
        "first": held.first.isoformat(),
        "last": held.last.isoformat(),
        "days": held.days,
        "counts": held.counts,
        "years": [asdict(year) for year in held.years],
        "issues": [
            asdict(issue)
            | {
                "first": None if issue.first is None else issue.first.isoformat(),
                "last": None if issue.last is None else issue.last.isoformat(),
            }
            for issue in record.issues
        ],
    }


def render(
    held: Summary,
    record: WeatherRecord,
    system: System = "us",
    *,
    blocks: bool = False,
    of: Literal["rain", "temperature"] = "rain",
) -> str:
    """The summary as text, 80 columns wide; with `blocks` in block characters, if the terminal has them.

    of : what the picture at the end shows.
    """
    if of == "temperature":
        from dooryard.weather import warmth_picture

        picture = warmth_picture.render(record, system, blocks=blocks)
    else:
        picture = _rain(held, system, blocks)
    parts = [_head(held, record, system), _counts(held), _issues(record), picture]
    return "\n\n".join(part for part in parts if part)


def _year(record: WeatherRecord, here: NDArray[np.bool_], year: int, whole: bool) -> Year:
    rain, low, high = record.rain_mm[here], record.t_min_c[here], record.t_max_c[here]
    no_temperature = np.isnan(low) | np.isnan(high)
    return Year(
        year=year,
        days=int(here.sum()),
        rain_mm=float(np.nansum(rain)),
        days_without_rain_value=int(np.isnan(rain).sum()),
        days_without_temperature=int(no_temperature.sum()),
        coldest_c=None if np.isnan(low).all() else float(np.nanmin(low)),
        hottest_c=None if np.isnan(high).all() else float(np.nanmax(high)),
        complete=whole,
    )


def _quarters(record: WeatherRecord, first_year: int, years: int) -> tuple[Floats, NDArray[np.bool_]]:
    month = record.dates.astype("datetime64[M]")
    day = (record.dates - month.astype("datetime64[D]")).astype(int)
    part = np.searchsorted(np.array([8, 15, 23]), day, side="right")
    cell = (month.astype(int) - (first_year - 1970) * 12) * QUARTERS + part
    size = years * 12 * QUARTERS
    known = ~np.isnan(record.rain_mm)
    days = np.bincount(cell, minlength=size)
    measured = np.bincount(cell[known], minlength=size)
    rain = np.bincount(cell[known], weights=record.rain_mm[known], minlength=size)
    quarter = np.where(measured > 0, rain / np.maximum(measured, 1) * days, np.nan)
    shape = (years, 12 * QUARTERS)
    return quarter.reshape(shape), ((measured > 0) & (measured < days)).reshape(shape)


def _head(held: Summary, record: WeatherRecord, system: System) -> str:
    from dooryard import units

    station = record.station
    title = station.name if station.id in ("", station.name) else f"{station.name} ({station.id})"
    lines = [title, "-" * min(len(title), _WIDTH), f"{held.first} to {held.last}, {held.days:,} days."]
    place = [
        f"latitude {station.latitude:g}" if station.latitude is not None else "",
        f"longitude {station.longitude:g}" if station.longitude is not None else "",
        f"{units.show(station.elevation_m, 'length', system)} above the sea"
        if station.elevation_m is not None
        else "",
    ]
    told = ", ".join(word for word in place if word)
    lines.append(
        f"{told[0].upper()}{told[1:]}." if told else "The file does not say where the station stands."
    )
    note = f", {record.source.note}" if record.source.note else ""
    return "\n".join([*lines, *_wrapped(f"Layout: {record.source.layout}{note}.")])


def _counts(held: Summary) -> str:
    flags = [
        flag.name.lower() for flag in Flag if any(row[flag.name.lower()] for row in held.counts.values())
    ]
    lines = ["Days by element".ljust(22) + "".join(flag.rjust(12)[-12:] for flag in flags)]
    for name, row in held.counts.items():
        lines.append(
            WORDS[name].capitalize().ljust(22) + "".join(f"{row[flag]:,}".rjust(12)[-12:] for flag in flags)
        )
    return "\n".join(line[:_WIDTH] for line in lines)


def _issues(record: WeatherRecord) -> str:
    if not record.issues:
        return "Nothing stands out in this record."
    lines = ["What a person must know"]
    for issue in record.issues:
        lines += _wrapped(f"{issue.text} {issue.instead}".strip(), first="- ", rest="  ")
    return "\n".join(lines)


def _rain(held: Summary, system: System, blocks: bool) -> str:
    from dooryard import units

    if held.full_mm <= 0 and not any(year.rain_mm for year in held.years):
        known = sum(year.days - year.days_without_rain_value for year in held.years)
        if not known:
            return "This record has no rain value, so there is no picture of it."
        days = "the 1 day" if known == 1 else f"any of the {known:,} days"
        return f"No rain fell on {days} with a rain value, so there is no picture of it."
    unit = units.unit_name("depth", system)
    months = "".join(name.ljust(QUARTERS + 1) for name in _MONTHS)
    lines = ["Rain, four marks a month", f"{'':5}{months}{unit:>7}{'missing':>8}"]
    for row, year in enumerate(held.years):
        marks = [_mark(held, row, place, blocks) for place in range(12 * QUARTERS)]
        groups = "".join(
            "".join(marks[part : part + QUARTERS]) + " " for part in range(0, len(marks), QUARTERS)
        )
        total = f"{units.number(year.rain_mm, 'depth', system):.{1 if system == 'us' else 0}f}"
        if year.days_without_rain_value == year.days:
            total = "none"
        elif not year.complete:
            total += "+"
        gaps = str(year.days_without_rain_value) if year.days_without_rain_value else ""
        lines.append(f"{year.year} {groups}{total:>7}{gaps:>8}".rstrip())
    shades = BLOCKS if blocks else SHADES
    legend = (
        f"{shades[0]} dry, {shades[-1]} {units.show(held.full_mm, 'depth', system)} or more in that time; "
        "? some days without rain value, blank none known; + total of the known days only; "
        "missing: days of the record in that year without rain value."
    )
    return "\n".join([*lines, *_wrapped(legend), *_whole_years(held, system)])


def _mark(held: Summary, row: int, place: int, blocks: bool) -> str:
    shades = BLOCKS if blocks else SHADES
    rain = held.quarter_mm[row, place]
    if np.isnan(rain):
        return " "
    if held.gappy[row, place]:
        return "?"
    if rain <= 0:
        return shades[0]
    steps = len(shades) - 1
    return shades[min(steps, 1 + int(rain / held.full_mm * (steps - 1)))] if held.full_mm > 0 else shades[1]


def _whole_years(held: Summary, system: System) -> list[str]:
    from dooryard import units

    whole = [year for year in held.years if year.complete]
    if not whole:
        return ["No calendar year has rain for every day, so there is no yearly average."]
    least, most = min(whole, key=lambda year: year.rain_mm), max(whole, key=lambda year: year.rain_mm)
    mean_mm = sum(year.rain_mm for year in whole) / len(whole)
    shown = [units.show(depth, "depth", system) for depth in (mean_mm, least.rain_mm, most.rain_mm)]
    noun = "1 whole year" if len(whole) == 1 else f"{len(whole)} whole years"
    ends = f"least {shown[1]} ({least.year}), most {shown[2]} ({most.year})"
    said = f"{noun}: {shown[0]} a year on average, {ends}."
    estimated = held.counts["rain_mm"]["estimated"]
    if 2 * estimated > held.days:
        said += (
            f" The rain of {estimated:,} of the {held.days:,} days was presumed or estimated, not measured."
        )
    return _wrapped(said)


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=rest)
