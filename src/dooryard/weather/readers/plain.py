"""The plain layout: a line a day, under a header that names each column with its unit."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass

from dooryard.problem import nearest
from dooryard.weather.cells import parse_cells
from dooryard.weather.dates import parse_dates
from dooryard.weather.opening import Faults, Opened
from dooryard.weather.record import CORE, Codes, Floats, Issue, Source, Station, WeatherRecord, on_calendar

LAYOUT = "plain CSV with units in its header"
WRITE = "Write a header such as date,tmin_F,tmax_F,rain_in or date,tmin_C,tmax_C,rain_mm."

NAMES = {
    "tmin": "t_min_c", "t_min": "t_min_c", "min": "t_min_c", "low": "t_min_c", "min_temp": "t_min_c",
    "tmax": "t_max_c", "t_max": "t_max_c", "max": "t_max_c", "high": "t_max_c", "max_temp": "t_max_c",
    "rain": "rain_mm", "prcp": "rain_mm", "precip": "rain_mm", "precipitation": "rain_mm",
    "tmean": "t_mean_c", "t_mean": "t_mean_c", "tavg": "t_mean_c", "mean": "t_mean_c",
    "wind": "wind_m_s", "awnd": "wind_m_s",
    "dew": "dew_point_c", "dew_point": "dew_point_c", "dewpoint": "dew_point_c",
    "solar": "solar_mj_m2", "sun": "solar_mj_m2",
    "humidity": "humidity_pct", "rh": "humidity_pct",
}  # fmt: skip
_DEGREES = {"f": (5 / 9, -160 / 9), "c": (1.0, 0.0)}
_DEPTHS = {"in": (25.4, 0.0), "mm": (1.0, 0.0), "cm": (10.0, 0.0)}
_SPEEDS = {"m_s": (1.0, 0.0), "mph": (0.44704, 0.0), "km_h": (1 / 3.6, 0.0), "kt": (1852 / 3600, 0.0)}
_SUN = {"mj_m2": (1.0, 0.0), "kwh_m2": (3.6, 0.0), "w_m2": (0.0864, 0.0)}
UNITS = {
    "t_min_c": _DEGREES, "t_max_c": _DEGREES, "t_mean_c": _DEGREES, "dew_point_c": _DEGREES,
    "rain_mm": _DEPTHS, "wind_m_s": _SPEEDS, "solar_mj_m2": _SUN, "humidity_pct": {"pct": (1.0, 0.0)},
}  # fmt: skip
_SPELLINGS = {
    "degf": "f", "deg_f": "f", "fahrenheit": "f", "degc": "c", "deg_c": "c", "celsius": "c",
    "inch": "in", "inches": "in", "mps": "m_s", "ms": "m_s", "kmh": "km_h", "kph": "km_h",
    "kn": "kt", "knots": "kt", "percent": "pct",
}  # fmt: skip
_IGNORED = frozenset({"note", "notes", "station", "name"})


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the header: where it stands, which element, and value = cell * scale + offset."""

    index: int
    header: str
    element: str
    scale: float
    offset: float


@dataclass(frozen=True, slots=True)
class Table:
    """A CSV taken apart.

    comments : its `# key: value` lines. cells : one tuple per column. lines : line number of each row.
    """

    comments: dict[str, str]
    header: list[str]
    header_line: int
    separator: str
    cells: list[tuple[str, ...]]
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
    faults.raise_any()
    dates, issues = parse_dates(table.cells[_date_index(table.header)], table.lines, faults)
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
        values[column.element] = numbers * column.scale + column.offset
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
    if not all(body) or any(line.startswith("#") for line in body):
        kept = [
            (number, line)
            for number, line in zip(lines, body, strict=True)
            if line.strip(" \t,;") and not line.startswith("#")
        ]
        lines, body = [number for number, _ in kept], [line for _, line in kept]
    if not body:
        faults.add(
            "The header is there, but no day follows it.", "Write a line for each day.", line=start + 1
        )
    quoted = any('"' in line for line in body)
    rows = list(csv.reader(body, delimiter=separator)) if quoted else [line.split(separator) for line in body]
    if set(map(len, rows)) - {len(header)}:
        rows, lines = _of_length(rows, lines, header, faults)
    cells = list(zip(*rows, strict=True)) or [()] * len(header)
    return Table(comments, header, start + 1, separator, cells, lines)


def understand_header(table: Table, faults: Faults) -> tuple[Column, ...]:
    """Which element and unit each column holds; every column that cannot be understood is told."""
    columns: list[Column] = []
    seen: dict[str, str] = {}
    for index, header in enumerate(table.header):
        name = normal(header)
        if name == "date" or name in _IGNORED:
            continue
        element, unit, word = _element_and_unit(name)
        if not element:
            near = nearest(
                name,
                [f"{key}_{unit}" for key in ("tmin", "tmax") for unit in ("f", "c")] + ["rain_in", "rain_mm"],
            )
            instead = f"{near} {WRITE}" if near else f"Take this column out, or call it note. {WRITE}"
            faults.add(
                "This column is not known.", instead, line=table.header_line, name="header", found=header
            )
            continue
        if unit not in UNITS[element]:
            choices = " or ".join(f"{word}_{spelt}" for spelt in _shown_units(element))
            what = f'The unit "{unit}" is not known here.' if unit else "This column does not say its unit."
            faults.add(what, f"Write {choices}.", line=table.header_line, name="header", found=header)
            continue
        if element in seen:
            what = f"This column says the same as {seen[element]}."
            faults.add(what, "Take one of the two out.", line=table.header_line, name="header", found=header)
            continue
        seen[element] = header
        columns.append(Column(index, header.strip(), element, *UNITS[element][unit]))
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


def _element_and_unit(name: str) -> tuple[str, str, str]:
    """Element, unit and the word used for it, of a normalised column name; empty texts where not known."""
    for word in sorted(NAMES, key=len, reverse=True):
        if name == word or name.startswith(f"{word}_"):
            unit = name[len(word) + 1 :]
            return NAMES[word], _SPELLINGS.get(unit, unit), word
    return "", "", ""


def _shown_units(element: str) -> list[str]:
    shown = {"f": "F", "c": "C", "mj_m2": "MJ_m2", "w_m2": "W_m2", "kwh_m2": "kWh_m2"}
    return [shown.get(unit, unit) for unit in UNITS[element]]


def _split_header(line: str) -> tuple[list[str], str]:
    separator = max((",", ";", "\t"), key=line.count)
    return next(csv.reader([line], delimiter=separator)), separator


def _date_index(header: Sequence[str]) -> int:
    return next((index for index, name in enumerate(header) if normal(name) == "date"), -1)


def _of_length(
    rows: list[list[str]], lines: Sequence[int], header: list[str], faults: Faults
) -> tuple[list[list[str]], list[int]]:
    wanted = len(header)
    for row, line in zip(rows, lines, strict=True):
        if len(row) != wanted:
            what = f"This line has {len(row)} cells where the header has {wanted}."
            faults.add(
                what, "Leave a missing value blank, but keep its comma.", line=line, found=",".join(row)
            )
    kept = [(row, line) for row, line in zip(rows, lines, strict=True) if len(row) == wanted]
    return [row for row, _ in kept], [line for _, line in kept]


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
    from dooryard.weather.record import WORDS

    absent = [WORDS[name] for name in CORE if name not in {column.element for column in columns}]
    if not absent:
        return ()
    text = f"The file has no column for {' and '.join(absent)}."
    return (Issue("columns", text, instead="What needs it is refused."),)
