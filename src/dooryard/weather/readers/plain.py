"""The plain layout: a line a day, under a header that names each column with its unit."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from dooryard.problem import nearest
from dooryard.weather import packed, record
from dooryard.weather.cells import apply_flag_cells, parse_cells
from dooryard.weather.conversion import UNITS, Conversion
from dooryard.weather.dates import parse_dates
from dooryard.weather.day_boundary import move, said_in
from dooryard.weather.opening import WRITE, Faults, Opened
from dooryard.weather.record import (
    CORE,
    Codes,
    Days,
    Flag,
    Floats,
    Issue,
    Source,
    Station,
    WeatherRecord,
    as_date,
    on_calendar,
)

LAYOUT = "plain CSV with units in its header"

WORDS = {
    "t_min_c": ("tmin", "t_min", "min", "low", "min_temp", "temp_min", "t_air_min", "t_daily_min"),
    "t_max_c": ("tmax", "t_max", "max", "high", "max_temp", "temp_max", "t_air_max", "t_daily_max"),
    "rain_mm": ("rain", "prcp", "precip", "precipitation"),
    "t_mean_c": ("tmean", "t_mean", "tavg", "mean"),
    "wind_m_s": ("wind", "awnd"),
    "dew_point_c": ("dew", "dew_point", "dewpoint"),
    "solar_mj_m2": ("solar", "sun"),
    "humidity_pct": ("humidity", "rh"),
}
"""What a column of each element may be called; the first word is the one to recommend."""

_SPELLINGS = {
    "degf": "f", "deg_f": "f", "fahrenheit": "f", "degc": "c", "deg_c": "c", "celsius": "c",
    "inch": "in", "inches": "in", "mps": "m_s", "ms": "m_s", "kmh": "km_h", "kph": "km_h",
    "kn": "kt", "knots": "kt", "percent": "pct",
}  # fmt: skip
_SYSTEMS: Mapping[str, tuple[str, str, str]] = {
    "standard": ("f", "in", "mph"),
    "metric": ("c", "mm", "m_s"),
}
_ELEMENT_OF = {word: element for element, words in WORDS.items() for word in words}
_LONGEST_FIRST = sorted(_ELEMENT_OF, key=len, reverse=True)
_RECOMMENDED = (
    "date",
    "tmin_f",
    "tmin_c",
    "tmax_f",
    "tmax_c",
    "rain_in",
    "rain_mm",
    "wind_mph",
    "dew_f",
    "dew_c",
)
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_FLAG_WORDS = ("flag", "flags")
_IGNORED = frozenset({"note", "notes", "station", "name"})


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the header: where it stands, which element, and how its cells become our unit."""

    index: int
    header: str
    element: str
    conversion: Conversion


@dataclass(frozen=True, slots=True)
class Table:
    """A CSV taken apart.

    comments : its `# key: value` lines. cells : one sequence per column. lines : line number of each row.
    """

    comments: dict[str, str]
    header: list[str]
    header_line: int
    separator: str
    cells: list[Sequence[str]]
    lines: Sequence[int]


def is_header(first_line: str) -> bool:
    """True if a file's first line that is no comment is a header of this layout, however faulty."""
    fields = [normal(field) for field in split_header(first_line)[0]]
    return "date" in fields[:3] or any(_element_and_unit(field)[0] for field in fields)


def read(opened: Opened) -> WeatherRecord:
    """The record of a plain file. InputError listing every fault with its line."""
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    flagged = _flag_columns(table, faults)
    columns = understand_header(replace(table, header=_without_flags(table.header)), faults)
    for element in flagged.keys() - {column.element for column in columns}:
        what = f"This column flags the {record.WORDS[element]}, which has no column."
        faults.add(what, "Take it out.", line=table.header_line, name=table.header[flagged[element]])
    date_index = _date_index(table.header)
    if date_index < 0 or not table.lines:
        faults.raise_any()
    dates, issues = parse_dates(
        table.cells[date_index],
        table.lines,
        faults,
        first_year=table.comments.get("first year", ""),
        written=opened.written,
    )
    values: dict[str, Floats] = {}
    flags: dict[str, Codes] = {}
    for column in columns:
        numbers, flags[column.element] = parse_cells(
            table.cells[column.index],
            table.lines,
            faults,
            name=column.header,
            trace=column.element == "rain_mm",
            decimal_comma=table.separator == ";",
        )
        if column.element in flagged:
            index = flagged[column.element]
            numbers, flags[column.element] = apply_flag_cells(
                numbers,
                flags[column.element],
                table.cells[index],
                table.lines,
                faults,
                name=table.header[index],
                trace=column.element == "rain_mm",
            )
        values[column.element] = column.conversion.apply(numbers)
    station = station_of(table.comments, opened.name, faults)
    said_hours = said_in(table.comments, faults)
    faults.raise_any()
    issues = _invented(table.comments) + issues + _absent_columns(columns)
    issues += _estimates(dates, flags, table.comments)
    source = Source(opened.name, LAYOUT, opened.sha256)
    found = on_calendar(station, dates, values, flags, issues, source)
    return move(found, said_hours, "as a comment in the file says")


def take_apart(opened: Opened, faults: Faults) -> Table:
    """Comments, header and columns of a CSV. Rows of the wrong length are told and left out."""
    head, place = _head(opened)
    comments: dict[str, str] = {}
    for line in head[:-1]:
        if line.startswith("#"):
            key, _, value = line.lstrip("# ").partition(":")
            comments[key.strip().lower()] = value.strip().rstrip(",;")
    header, separator = split_header(head[-1])
    width, first = len(header), len(head) + 1
    # Most files are clean: then no text is made of their lines at all. A comment or the header once more
    # between the days shows in the first letter of a line.
    odd_first = "#" + ("" if head[-1][:1].isdigit() else head[-1][:1])
    columns = packed.split(opened.data, separator, width, start=place, not_first=odd_first)
    if columns is not None:
        rows = range(first, first + len(columns[0]))
        return _dated(Table(comments, header, len(head), separator, list(columns), rows))
    kept = [
        (line, text)
        for line, text in enumerate(opened.lines[len(head) :], start=first)
        if text.strip(" \t,;") and not text.startswith("#") and text != head[-1]
    ]
    lines, texts = [line for line, _ in kept], [text for _, text in kept]
    if not texts:
        faults.add(
            "The header is there, but no day follows it.", "Write a line for each day.", line=len(head)
        )
    flat, lines = _cells(texts, lines, header, separator, faults)
    cells: list[Sequence[str]] = [flat[place::width] for place in range(width)]
    return _dated(Table(comments, header, len(head), separator, cells, lines))


def _dated(table: Table) -> Table:
    """A table with a column date, if its days stand in year, month and day or in a first column without a name."""
    names = [normal(name) for name in table.header]
    parts = ("year", "month", "day")
    if not names[0] and "date" not in names and table.lines and _DAY.match(table.cells[0][0].strip()):
        return replace(table, header=["date", *table.header[1:]])
    if "date" in names or not all(names.count(part) == 1 for part in parts):
        return table
    places = [names.index(part) for part in parts]
    dates = [
        f"{year.strip()}-{month.strip()}-{day.strip()}"
        for year, month, day in zip(*(table.cells[place] for place in places), strict=True)
    ]
    rest = [place for place in range(len(names)) if place not in places]
    header = ["date", *(table.header[place] for place in rest)]
    return replace(table, header=header, cells=[dates, *(table.cells[place] for place in rest)])


def _head(opened: Opened) -> tuple[list[str], int]:
    """The lines up to and with the header (the first that is no comment), and the place of the byte behind."""
    head: list[str] = []
    place = 0
    while True:
        end = opened.data.find(b"\n", place)
        line = opened.data[place : end if end >= 0 else len(opened.data)].decode("utf-8")
        head.append(line)
        place = end + 1 if end >= 0 else len(opened.data)
        if (line.strip() and not line.startswith("#")) or end < 0:
            return head, place


def understand_header(table: Table, faults: Faults) -> tuple[Column, ...]:
    """Which element and unit each column holds; every column that cannot be understood is told."""
    columns: list[Column] = []
    seen: dict[str, str] = {}
    unknown: list[str] = []
    line = table.header_line
    usual = _usual_units(table, faults)
    for index, header in enumerate(table.header):
        name = normal(header)
        if name == "date" or name in _IGNORED:
            continue
        if not name and not any(cell.strip() for cell in table.cells[index]):
            continue  # separators behind the last column, as spreadsheets leave them
        element, unit = _element_and_unit(name)
        if not element or unit.isdigit():  # RH_260 is no humidity: a station's number is no unit
            unknown.append(header.strip() or "a column without a name")
        elif (unit := unit or usual.get(element, "")) not in UNITS[element]:
            choices = " or ".join(f"{WORDS[element][0]}_{spelt}" for spelt in _shown_units(element))
            what = f'The unit "{unit}" is not known here.' if unit else "This column does not say its unit."
            faults.add(what, f"Write {choices}.", line=line, name="header", found=header)
        elif element in seen:
            what = f"This column says the same as {seen[element]}."
            faults.add(what, "Take one of the two out.", line=line, name="header", found=header)
        else:
            seen[element] = header
            columns.append(Column(index, header.strip(), element, UNITS[element][unit]))
    if unknown:
        what = (
            "This column is not known."
            if len(unknown) == 1
            else f"These {len(unknown)} columns are not known."
        )
        near = nearest(normal(unknown[0]), _RECOMMENDED) if len(unknown) == 1 else ""
        instead = " ".join(filter(None, (near, "Take out or call note what is not weather.", WRITE)))
        faults.add(what, instead, line=line, name="header", found=", ".join(unknown))
    if _date_index(table.header) < 0:
        faults.add(
            "There is no date column.",
            WRITE,
            line=table.header_line,
            name="header",
            found=",".join(table.header),
        )
    elif not columns and not faults.problems:
        faults.add("There is no weather column.", WRITE, line=table.header_line, name="header")
    return tuple(columns)


def _usual_units(table: Table, faults: Faults) -> Mapping[str, str]:
    """The unit of a column that names none, if a comment says # units: standard, or metric.

    # units: header says that the units of the header are right, however strange the values.
    """
    said = table.comments.get("units", "").lower()
    if said and said not in (*_SYSTEMS, "header"):
        instead = "Write standard, metric, or header if the header is right."
        faults.add("These units are not known.", instead, name="units", found=said)
    if said not in _SYSTEMS:
        return {}
    _tell_contradictions(table, said, faults)
    degree, depth, speed = _SYSTEMS[said]
    degrees = dict.fromkeys(("t_min_c", "t_max_c", "t_mean_c", "dew_point_c"), degree)
    return degrees | {"rain_mm": depth, "wind_m_s": speed}


def _tell_contradictions(table: Table, said: str, faults: Faults) -> None:
    """Columns whose own unit is of the other system than the line # units."""
    for header in table.header:
        element, unit = _element_and_unit(normal(header))
        other = [words for system, words in _SYSTEMS.items() if system != said]
        if element and unit and any(unit in words[:2] for words in other):
            what = f"This column says another unit than the line # units: {said} above it."
            instead = "Mend the one that is wrong; # units: header says that the header is right."
            faults.add(what, instead, line=table.header_line, name="header", found=header)


@lru_cache(maxsize=1024)  # of a thousand files most have the same few headers
def normal(header: str) -> str:
    """A column name in lower case with one underscore between its parts: "T max (°F)" gives "t_max_f"."""
    text = header.strip().strip('"').lower().replace("°", "").replace("%", "pct").replace("²", "2")
    return re.sub(r"[\s()\[\]/_.-]+", "_", text).strip("_")


def _flag_columns(table: Table, faults: Faults) -> dict[str, int]:
    """Which column holds the flags of which element: tmin_flag, tmax_flag, rain_flag and so on."""
    found: dict[str, int] = {}
    for index, header in enumerate(table.header):
        element, unit = _element_and_unit(normal(header))
        if unit not in _FLAG_WORDS:
            continue
        if element in found:
            what = f"This column says the same as {table.header[found[element]]}."
            faults.add(what, "Take one of the two out.", line=table.header_line, name="header", found=header)
        found[element] = index
    return found


def _without_flags(header: Sequence[str]) -> list[str]:
    """The header with its flag columns under a name that is passed over."""
    return ["note" if _element_and_unit(normal(name))[1] in _FLAG_WORDS else name for name in header]


@lru_cache(maxsize=1024)
def _element_and_unit(name: str) -> tuple[str, str]:
    """Element and unit of a normalised column name; empty texts where not known."""
    for word in _LONGEST_FIRST:
        if name == word or name.startswith(f"{word}_"):
            unit = name[len(word) + 1 :]
            return _ELEMENT_OF[word], _SPELLINGS.get(unit, unit)
    return "", ""


def _shown_units(element: str) -> list[str]:
    shown = {"f": "F", "c": "C", "mj_m2": "MJ_m2", "w_m2": "W_m2", "kwh_m2": "kWh_m2"}
    return [shown.get(unit, unit) for unit in UNITS[element]]


def split_header(line: str) -> tuple[list[str], str]:
    """The names in a header, as they stand, and what parts them: the commonest of comma, semicolon and tab."""
    separator = max((",", ";", "\t"), key=line.count)
    return next(csv.reader([line], delimiter=separator)), separator


def _date_index(header: Sequence[str]) -> int:
    return next((index for index, name in enumerate(header) if normal(name) == "date"), -1)


def _cells(
    body: Sequence[str], lines: list[int], header: list[str], separator: str, faults: Faults
) -> tuple[list[str], list[int]]:
    """Cells of lines with quotes or of unequal length; a wrong length is told and the line left out."""
    flat: list[str] = []
    widths: Counter[int] = Counter()
    for row in csv.reader(body, delimiter=separator):
        widths[len(row)] += 1
        flat += row
    if widths == {len(header): len(body)}:
        return flat, lines
    flat, kept = [], []
    for text, line in zip(body, lines, strict=True):
        # Each line by itself, because an open quote would swallow the lines behind it.
        row = next(csv.reader([text], delimiter=separator))
        if not any(cell.strip() for cell in row[len(header) :]):
            row = row[: len(header)]  # separators behind the last cell, as spreadsheets leave them
        if len(row) == len(header):
            flat += row
            kept.append(line)
        else:
            what = f"This line has {len(row)} cells where the header has {len(header)}."
            faults.add(what, "Leave a missing value blank, but keep its comma.", line=line, found=text)
    return flat, kept


def station_of(comments: dict[str, str], file_name: str, faults: Faults) -> Station:
    """The station as the comment lines of a file tell it; its name is the file's if they do not."""
    limits = {"latitude": 90.0, "longitude": 180.0}
    places: dict[str, float | None] = {}
    for key, limit in limits.items():
        try:
            places[key] = float(comments[key].rstrip("° ")) if key in comments else None
        except ValueError:
            places[key] = None
            faults.add(
                "This is no number.", "Write degrees such as 38.03 or -84.61.", name=key, found=comments[key]
            )
        value = places[key]
        if value is not None and not abs(value) <= limit:
            faults.add(f"The {key} lies outside {limit:.0f} degrees.", name=key, found=comments[key])
    return Station(
        name=comments.get("station", "") or file_name.split(".")[0],
        id=comments.get("id", ""),
        latitude=places["latitude"],
        longitude=places["longitude"],
        elevation_m=_elevation(comments.get("elevation", ""), faults),
    )


def _elevation(text: str, faults: Faults) -> float | None:
    if not text:
        return None
    match = re.fullmatch(r"(-?[\d,]+(?:\.\d+)?)\s*(ft|feet|m)", text)
    if match is None:
        faults.add(
            "This is no height.",
            "Write it with its unit, such as 890 ft or 271 m.",
            name="elevation",
            found=text,
        )
        return None
    return float(match[1].replace(",", "")) * (1.0 if match[2] == "m" else 0.3048)


def _invented(comments: Mapping[str, str]) -> tuple[Issue, ...]:
    """A line `# invented:` above the header: a generator made these days."""
    if comments.get(record.MADE_UP, "no").lower() in ("no", "false"):
        return ()
    words = [f"{key}: {comments[key]}" for key in (record.MADE_UP, "fitted to") if comments.get(key)]
    text = "This weather is invented: the file says that nobody measured it."
    instead = "It is good for trying things out, and no evidence of what happened."
    return (Issue(record.MADE_UP, text, instead=instead, evidence="; ".join(words)),)


def _estimates(dates: Days, flags: dict[str, Codes], comments: dict[str, str]) -> tuple[Issue, ...]:
    """Estimated and moved values are told, with what the file's own comments say about where they come from."""
    told = []
    for element, codes in flags.items():
        estimated = codes == np.uint8(Flag.ESTIMATED)
        if estimated.any():
            rows = np.flatnonzero(estimated)
            word = record.WORDS[element]
            days = "1 day" if rows.size == 1 else f"{rows.size:,} days"
            text = f"The {word} of {days} is an estimate, not a measurement."
            origin = comments.get(f"estimated {word}", "")
            instead = f"{origin[:1].upper()}{origin[1:].rstrip('.')}." if origin else ""
            first, last = as_date(dates[rows[0]]), as_date(dates[rows[-1]])
            told.append(Issue("estimated", text, first, last, int(rows.size), instead))
    if any((codes == np.uint8(Flag.MOVED)).any() for codes in flags.values()):
        moved = np.flatnonzero(np.any([codes == Flag.MOVED for codes in flags.values()], axis=0))
        text = comments.get("site", "") or "These temperatures were moved from their station to a yard."
        first, last = as_date(dates[moved[0]]), as_date(dates[moved[-1]])
        instead = "Do not move them once more: leave night_offset out of the yard file."
        told.append(Issue("site", text, first, last, int(moved.size), instead))
    return tuple(told)


def _absent_columns(columns: tuple[Column, ...]) -> tuple[Issue, ...]:
    absent = [record.WORDS[name] for name in CORE if name not in {column.element for column in columns}]
    if not absent:
        return ()
    text = f"The file has no column for {' and '.join(absent)}."
    return (Issue("columns", text, instead="What needs it is refused."),)
