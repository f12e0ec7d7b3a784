"""One station's file in, one record out: the reader is chosen by looking into the file, never by its name."""

from __future__ import annotations

import re
from pathlib import Path

from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.opening import WRITE, Opened, open_text
from dooryard.weather.record import WeatherRecord

LAYOUTS = (
    "plain",
    "daily-summaries",
    "daily-summaries-tenths",
    "daily-summaries-metric",
    "daily-summaries-standard",
    "ghcn-fixed",
)

_FIXED_LINE = re.compile(r"[A-Z0-9][A-Z0-9_\-.]{10}\d{6}[A-Z0-9]{4}[ \d-]{5}")


def read(path: Path | str, layout: str | None = None) -> WeatherRecord:
    """The daily record in a file, checked for plausibility.

    path : a text file, packed with gzip or not. layout : one of `LAYOUTS`, to overrule what the file looks
    like or to say its units. InputError if the file cannot be read, listing every fault with its line.
    """
    if layout is not None and layout not in LAYOUTS:
        instead = nearest(layout, LAYOUTS) or f"Write one of {', '.join(LAYOUTS)}."
        raise InputError(Problem("This layout is not known.", instead, field="layout", found=layout))
    opened = open_text(Path(path))
    record = _read_as(layout or recognise(opened), opened)
    from dooryard.weather import quality

    return quality.examine(record)


def recognise(opened: Opened) -> str:
    """Name of the layout a file is in, from its first line that is no comment.

    Stands here and not in the readers, so that only the reader that is needed gets imported. InputError that
    says what to write if the layout is none of ours.
    """
    first = next(line for line in opened.lines if line.strip() and not line.startswith("#"))
    names = {name.strip().strip('"') for name in first.upper().split(",")}
    if _FIXED_LINE.match(first):
        return "ghcn-fixed"
    if {"STATION", "DATE", "DEWP", "WDSP"} <= names:
        what = "This is a summary of the day made from hourly reports; that layout is not read yet."
        raise InputError(Problem(what, f"Fetch the station's daily summaries. {WRITE}", opened.name))
    if {"STATION", "DATE"} <= names and names & {"PRCP", "TMAX", "TMIN", "TAVG"}:
        return "daily-summaries"
    from dooryard.weather.readers import plain

    if plain.is_header(first):
        return "plain"
    what = "This is no weather file in a layout that can be read."
    raise InputError(Problem(what, WRITE, opened.name, found=first.strip()[:60]))


def _read_as(layout: str, opened: Opened) -> WeatherRecord:
    """Each reader is imported only when it is needed."""
    if layout == "plain":
        from dooryard.weather.readers import plain

        return plain.read(opened)
    if layout == "ghcn-fixed":
        from dooryard.weather.readers import ghcn_fixed

        return ghcn_fixed.read(opened)
    from dooryard.weather.readers import daily_summaries

    units = layout.removeprefix("daily-summaries").removeprefix("-")
    return daily_summaries.read(opened, units or None)
