"""Tables by name: their rows, those that hold a word, what an own folder adds, how often a source is used."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from dooryard.knowledge.load import Knowledge, load
from dooryard.problem import InputError, Problem, nearest

TABLES = {
    "organisms": "organisms",
    "hosts": "hosts",
    "stages": "stages",
    "windows": "windows",
    "windows_by_date": "dated_windows",
    "treatments": "treatments",
    "blooms": "blooms",
    "soil_temperatures": "soil_temperatures",
    "germination": "germination",
    "infection": "infection",
    "severity": "severity",
    "chill": "chill",
    "pruning": "pruning",
    "division": "divisions",
    "oak_windows": "oak_windows",
    "spray_limits": "spray_limits",
    "causes": "causes",
    "signs": "signs",
    "plant_groups": "plant_groups",
    "troubles": "troubles",
    "coverings": "coverings",
    "bearing": "bearing_soils",
    "crops": "crops",
    "soils": "soils",
    "parts": "parts",
    "tools": "tools",
    "steps": "steps",
    "facts": "facts",
    "methods": "methods",
    "cautions": "cautions",
    "sources": "sources",
}
"""Each table's name, as its file has it, and where `Knowledge` keeps it."""


@dataclass(frozen=True, slots=True)
class Change:
    """One row of an own folder: its table and key, and whether a shipped row gives way to it."""

    table: str
    key: str
    replaces: bool


def rows_of(knowledge: Knowledge, table: str, word: str = "") -> dict[str, Any]:
    """The rows of a table by key, in table order; with a word, those that hold it in any cell.

    Raises
    ------
    InputError
        If there is no such table, or it holds a fault.
    """
    if table not in TABLES:
        known = ", ".join(TABLES)
        hint = nearest(table, TABLES) or f"The tables are: {known}."
        raise InputError(Problem("No table has this name.", hint, found=table))
    found = getattr(knowledge, TABLES[table])
    rows = dict(found) if isinstance(found, Mapping) else _by_key(found)
    said = word.casefold()
    return {key: row for key, row in rows.items() if not said or said in _text(row)}


def cells(row: Any) -> dict[str, Any]:
    """A row as plain names and values, lists as lists."""
    return {name: list(value) if isinstance(value, tuple) else value for name, value in asdict(row).items()}


def changes(own: Knowledge) -> tuple[Change, ...]:
    """What the rows of an own folder do: each row that was not shipped, table by table."""
    shipped = load()
    return tuple(
        Change(table, key, key in rows_of(shipped, table))
        for table in TABLES
        for key, row in rows_of(own, table).items()
        if row.origin
    )


def uses(knowledge: Knowledge) -> Counter[str]:
    """How many rows of all tables name each source."""
    counted: Counter[str] = Counter()
    for table in TABLES:
        if table != "sources":
            counted.update(row.source for row in rows_of(knowledge, table).values())
    return counted


def _by_key(rows: Iterable[Any]) -> dict[str, Any]:
    """Rows without a key of their own get one from what tells them apart."""
    found = {}
    for row in rows:
        if hasattr(row, "key"):
            key = row.key
        elif hasattr(row, "plant_kind"):
            key = f"{row.organism} on {row.plant_kind}"
        else:
            key = f"{row.crop} at {row.temperature_c:g} °C"
        found[key] = row
    return found


def _text(row: Any) -> str:
    return " ".join(str(value) for value in asdict(row).values()).casefold()
