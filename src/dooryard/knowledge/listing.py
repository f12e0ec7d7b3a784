"""Tables by name: their rows, those that hold a word, what an own folder adds, how often a source is used."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any

from dooryard.knowledge.load import SHIPPED, Knowledge, load
from dooryard.problem import InputError, Problem, nearest

_KEPT_AS = {"windows_by_date": "dated_windows", "division": "divisions", "bearing": "bearing_soils"}
"""Where `Knowledge` keeps a table under another name than its file's."""


@cache
def names() -> tuple[str, ...]:
    """Names of all tables, as their files or folders have them, in the order of letters."""
    files = {path.stem for path in SHIPPED.glob("*.csv")}
    return tuple(sorted(files | {path.name for path in SHIPPED.iterdir() if _of_tables(path)}))


def _of_tables(folder: Path) -> bool:
    return folder.is_dir() and any(path.suffix in (".csv", ".toml") for path in folder.iterdir())


def kept_as(table: str) -> str:
    """The attribute of `Knowledge` that holds a table."""
    return _KEPT_AS.get(table, table)


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
    if table not in names():
        hint = nearest(table, names()) or f"The tables are: {', '.join(names())}."
        raise InputError(Problem("No table has this name.", hint, found=table))
    found = getattr(knowledge, kept_as(table))
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
        for table in names()
        for key, row in rows_of(own, table).items()
        if row.origin
    )


def uses(knowledge: Knowledge) -> Counter[str]:
    """How many rows of all tables name each source."""
    counted: Counter[str] = Counter()
    for table in names():
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
