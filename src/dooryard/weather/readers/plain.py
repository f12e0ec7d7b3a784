"""The plain layout: a line a day, under a header that names each column with its unit."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from operator import methodcaller

from dooryard.problem import nearest
from dooryard.weather import record
from dooryard.weather.cells import parse_cells
from dooryard.weather.conversion import UNITS, Conversion
from dooryard.weather.dates import parse_dates
from dooryard.weather.opening import WRITE, Faults, Opened
from dooryard.weather.record import CORE, Codes, Floats, Issue, Source, Station, WeatherRecord, on_calendar

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
_ELEMENT_OF = {word: element for element, words in WORDS.items() for word in words}
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
    fields = [normal(field) for field in _split_header(first_line)[0]]
    return "date" in fields[:3] or any(_element_and_unit(field)[0] for field in fields)


def read(opened: Opened) -> WeatherRecord:
    """The record of a plain file. InputError listing every fault with its line."""
    faults = Faults(opened.name)
    table = take_apart(opened, faults)
    columns = understand_header(table, faults)
    date_index = _date_index(table.header)
    if date_index < 0 or not table.lines:
        faults.raise_any()
    dates, issues = parse_dates(table.cells[date_index], table.lines, faults)
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
        values[column.element] = column.conversion.apply(numbers)
    station = _station(table.comments, opened.name, faults)
    faults.raise_any()
    issues += _absent_columns(columns)
    return on_calendar(station, dates, values, flags, issues, Source(opened.name, LAYOUT, opened.sha256))


def take_apart(opened: Opened, faults: Faults) -> Table:
    """Comments, header and columns of a CSV. Rows of the wrong length are told and left out."""
    comments: dict[str, str] = {}
    start = next(row for row, line in enumerate(opened.lines) if line.strip() and not line.startswith("#"))
    for line in opened.lines[:start]:
        if line.startswith("#"):
            key, _, value = line.lstrip("# ").partition(":")
            comments[key.strip().lower()] = value.strip().rstrip(",;")
    header, separator = _split_header(opened.lines[start])
    body = opened.lines[start + 1 :]
    lines: Sequence[int] = range(start + 2, start + 2 + len(body))
    # Asked of the text as a whole, because most files are clean and 18,000 questions take longer than one.
    if "" in body or opened.text.count("\n#") > start:
        kept = [row for row, line in enumerate(body) if line.strip(" \t,;") and not line.startswith("#")]
        lines, body = [lines[row] for row in kept], [body[row] for row in kept]
    if not body:
        faults.add(
            "The header is there, but no day follows it.", "Write a line for each day.", line=start + 1
        )
    width = len(header)
    if '"' not in opened.text and set(map(methodcaller("count", separator), body)) == {width - 1}:
        # Whole lines only: one long list of cells, no list per line for the garbage collector to walk.
        flat = separator.join(body).split(separator)
        return Table(
            comments, header, start + 1, separator, [flat[place::width] for place in range(width)], lines
        )
    flat, lines = _cells(body, lines, header, separator, faults)
    return Table(
        comments, header, start + 1, separator, [flat[place::width] for place in range(width)], lines
    )


def understand_header(table: Table, faults: Faults) -> tuple[Column, ...]:
    """Which element and unit each column holds; every column that cannot be understood is told."""
    columns: list[Column] = []
    seen: dict[str, str] = {}
    unknown: list[str] = []
    line = table.header_line
    for index, header in enumerate(table.header):
        name = normal(header)
        if name == "date" or name in _IGNORED:
            continue
        element, unit = _element_and_unit(name)
        if not element:
            unknown.append(header.strip() or "a column without a name")
        elif unit not in UNITS[element]:
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


def normal(header: str) -> str:
    """A column name in lower case with one underscore between its parts: "T max (°F)" gives "t_max_f"."""
    text = header.strip().strip('"').lower().replace("°", "").replace("%", "pct").replace("²", "2")
    return re.sub(r"[\s()\[\]/_.-]+", "_", text).strip("_")


def _element_and_unit(name: str) -> tuple[str, str]:
    """Element and unit of a normalised column name; empty texts where not known."""
    for word in sorted(_ELEMENT_OF, key=len, reverse=True):
        if name == word or name.startswith(f"{word}_"):
            unit = name[len(word) + 1 :]
            return _ELEMENT_OF[word], _SPELLINGS.get(unit, unit)
    return "", ""


def _shown_units(element: str) -> list[str]:
    shown = {"f": "F", "c": "C", "mj_m2": "MJ_m2", "w_m2": "W_m2", "kwh_m2": "kWh_m2"}
    return [shown.get(unit, unit) for unit in UNITS[element]]


def _split_header(line: str) -> tuple[list[str], str]:
    separator = max((",", ";", "\t"), key=line.count)
    return next(csv.reader([line], delimiter=separator)), separator


def _date_index(header: Sequence[str]) -> int:
    return next((index for index, name in enumerate(header) if normal(name) == "date"), -1)


def _cells(
    body: Sequence[str], lines: Sequence[int], header: list[str], separator: str, faults: Faults
) -> tuple[list[str], Sequence[int]]:
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
        if len(row) == len(header):
            flat += row
            kept.append(line)
        else:
            what = f"This line has {len(row)} cells where the header has {len(header)}."
            faults.add(what, "Leave a missing value blank, but keep its comma.", line=line, found=text)
    return flat, kept


def _station(comments: dict[str, str], file_name: str, faults: Faults) -> Station:
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


def _absent_columns(columns: tuple[Column, ...]) -> tuple[Issue, ...]:
    absent = [record.WORDS[name] for name in CORE if name not in {column.element for column in columns}]
    if not absent:
        return ()
    text = f"The file has no column for {' and '.join(absent)}."
    return (Issue("columns", text, instead="What needs it is refused."),)
