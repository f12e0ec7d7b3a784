"""One station's file in, one record out: the reader is chosen by looking into the file, never by its name."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.opening import WRITE, Opened, open_text
from dooryard.weather.record import CORE, WeatherRecord

if TYPE_CHECKING:
    from dooryard.weather.unit_doubts import Said

SUBDAILY_LAYOUTS = ("hourly", "tmy3", "nerrs", "notebook", "usgs-gauge", "minute-of-day")
"""Layouts of hours or of a gauge's readings, which come out as days; see `subdaily.py` for the hours."""

LAYOUTS = (
    "plain",
    "daily-summaries",
    "daily-summaries-tenths",
    "daily-summaries-metric",
    "daily-summaries-standard",
    "ghcn-fixed",
    "gsod",
    "uscrn",
    "knmi",
    "met-eireann",
    *SUBDAILY_LAYOUTS,
)

_ONE_UNIT_LAYOUTS = frozenset(LAYOUTS) - {
    "plain", "daily-summaries", "hourly", "notebook", "daily-summaries-tenths", "daily-summaries-metric",
    "daily-summaries-standard",
}  # fmt: skip

SHELF = "shelf:"
"""What a record on the station shelf is called where a file's name is due."""

_HEADING = 32_768  # bytes in which a heading ends
_FIXED_LINE = re.compile(r"[A-Z0-9][A-Z0-9_\-.]{10}\d{6}[A-Z0-9]{4}[ \d-]{5}")
_USCRN_LINE = re.compile(r"(WBANNO +LST_DATE|\d{5} +\d{8} +-?\d+\.\d+( +-?\d+\.\d+){2} )", re.IGNORECASE)
_KNMI_HEADER = re.compile(r"^#?\s*STN\s*,\s*YYYYMMDD\s*,", re.MULTILINE)
_IRISH_HEADER = re.compile(
    r"^date,(ind\w*,)?(rain|maxtp?),.*\b(maxtp?|mintp?)\b|^date,ind,rain$", re.MULTILINE
)
_ELEMENTS = {"PRCP", "TMAX", "TMIN", "TAVG"}
_UNITS_LINE = re.compile(r"^#\s*units\s*:", re.MULTILINE | re.IGNORECASE)
_CHECKED_LINE = re.compile(r"^#\s*checked\s*:.*\brain\b", re.MULTILINE | re.IGNORECASE)
_DATE_COLUMN = re.compile(r"(?:^|[,;\t])\W*date\W*(?:$|[,;\t])", re.IGNORECASE)
_CLOCK_WORD = re.compile(r"hour|time|minute|valid|tz_cd", re.IGNORECASE)


def read(
    path: Path | str,
    layout: str | None = None,
    *,
    day_ends: str | None = None,
    station: str | None = None,
) -> WeatherRecord:
    """The daily record in a file, checked for plausibility.

    path : a text file, packed with gzip or not. layout : one of `LAYOUTS`, to overrule what the file looks
    like or to say its units. day_ends : such as "07:00", if the observer's day does not end at midnight and the
    file does not say so. station : which one, if the file holds several. A name such as shelf:USW00094846 is the
    record on the station shelf under that key.
    InputError if the file cannot be read, listing every fault with its line.
    """
    if str(path).startswith(SHELF):
        return _from_shelf(str(path), layout or day_ends or station)
    if layout is not None and layout not in LAYOUTS:
        instead = nearest(layout, LAYOUTS) or f"Write one of {', '.join(LAYOUTS)}."
        raise InputError(Problem("This layout is not known.", instead, field="layout", found=layout))
    opened = open_text(Path(path))
    if layout is None:
        from dooryard.weather.other_files import other_kind

        if (other := other_kind(opened)) is not None:
            raise InputError(other)
    told, layout = layout, layout or recognise(opened)
    record = _read_as(layout, opened, station)
    if day_ends is not None:
        if layout in SUBDAILY_LAYOUTS:
            what = "The days of this file are made from hours or readings, so it is known where they end."
            raise InputError(Problem(what, "Leave it out.", opened.name, field="day ends", found=day_ends))
        record = _moved(record, day_ends)
    from dooryard.weather import quality

    return quality.examine(record, said=_said(opened, layout, told))


def _said(opened: Opened, layout: str, told: str | None) -> Said:
    """What is known beforehand: units by the layout or a person's word, and rain that a person has checked."""
    from dooryard.weather.unit_doubts import Said

    named = told is not None and told.startswith("daily-summaries-")
    head = "\n".join(opened.head(4_096))
    return Said(
        fixed=layout in _ONE_UNIT_LAYOUTS,
        stated=named or bool(_UNITS_LINE.search(head)),
        rain_checked=bool(_CHECKED_LINE.search(head)),
    )


def _from_shelf(name: str, said: str | None) -> WeatherRecord:
    if said is not None:
        what = "A record on the shelf was read when it was put there."
        raise InputError(Problem(what, "Leave out how to read it, or add its file anew.", name))
    import os

    from dooryard.weather.fetch.settings import shelf_folder
    from dooryard.weather.store import Shelf

    return Shelf(shelf_folder(os.environ)).record(name)


def recognise(opened: Opened) -> str:
    """Name of the layout a file is in, from its first line that is no comment, or from its heading.

    Stands here and not in the readers, so that only the reader that is needed gets imported. InputError that
    says what to write if the layout is none of ours.
    """
    first = _first_line(opened)
    names = {name.strip().strip('"') for name in first.upper().split(",")}
    if _FIXED_LINE.match(first):
        return "ghcn-fixed"
    if {"STATION", "DATE", "DEWP", "WDSP"} <= names:
        return "gsod"
    if {"LST_DATE", "T_DAILY_MAX"} <= names or _USCRN_LINE.match(first.lstrip()):
        return "uscrn"
    if {"STATION", "DATE"} <= names and names & _ELEMENTS:
        return "daily-summaries"
    # Cut out of such a table: the published names as they are, capitals and no unit.
    published = {name.strip().strip('"') for name in first.split(",")} & _ELEMENTS
    if "DATE" in names and len(published) > 1:
        return "daily-summaries"
    if b"YYYYMMDD" in opened.data[:_HEADING] and _KNMI_HEADER.search("\n".join(opened.head(_HEADING))):
        return "knmi"
    if b",ind," in opened.data[:_HEADING] and _IRISH_HEADER.search("\n".join(opened.head(_HEADING)).lower()):
        return "met-eireann"
    # A daily table has a date and no time of day; only other files are shown to the sub-daily readers.
    if not _DATE_COLUMN.search(first) or _CLOCK_WORD.search(first):
        from dooryard.weather import subdaily

        if (found := subdaily.recognise(opened)) is not None:
            return found
    from dooryard.weather.readers import plain

    if plain.is_header(first):
        return "plain"
    what = "This is no weather file in a layout that can be read."
    raise InputError(Problem(what, WRITE, opened.name, found=first.strip()[:60]))


def _first_line(opened: Opened) -> str:
    """The first line that is neither blank nor a comment, without taking a long file apart."""
    for letters in (2_048, _HEADING):
        for line in opened.head(letters)[:-1] if letters < len(opened.data) else opened.head(letters):
            if line.strip() and not line.startswith("#"):
                return line
    return ""


def _read_as(layout: str, opened: Opened, station: str | None) -> WeatherRecord:
    """Each reader is imported only when it is needed."""
    if layout in SUBDAILY_LAYOUTS:
        from dooryard.weather import subdaily

        return subdaily.read_daily(opened, layout, station=station)
    if station is not None:
        from dooryard.weather.station_choice import keep_station

        opened = keep_station(opened, station)
    if layout.startswith("daily-summaries"):
        from dooryard.weather.readers import daily_summaries

        units = layout.removeprefix("daily-summaries").removeprefix("-")
        return daily_summaries.read(opened, units or None)
    reader = import_module(f"dooryard.weather.readers.{layout.replace('-', '_')}")
    record: WeatherRecord = reader.read(opened)
    return record


def _moved(record: WeatherRecord, day_ends: str) -> WeatherRecord:
    from dooryard.weather.day_boundary import move, parse_hour

    hour = parse_hour(day_ends)
    if hour is None:
        raise InputError(
            Problem("This is no hour of the day.", "Write 07:00.", field="day ends", found=day_ends)
        )
    return move(record, dict.fromkeys((*CORE, "t_mean_c"), hour), "as you said")
