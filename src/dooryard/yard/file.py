"""Yard files on disk: reading one, with every mistake told at once, and changing one in place."""

from __future__ import annotations

from pathlib import Path

from dooryard.yard import syntax
from dooryard.yard.edit import Add, Change, Drop, Put, edit
from dooryard.yard.model import Yard
from dooryard.yard.reading import from_text
from dooryard.yard.values import Names

__all__ = ["Add", "Change", "Drop", "Names", "Put", "edit", "read", "weather_path"]


def read(path: Path | str, knowledge: Names) -> Yard:
    """The yard described in a file.

    path : the yard file (TOML, UTF-8). knowledge : the loaded tables, for the names of coverings, crops,
    soils and organisms. Raises InputError with all problems found, in the order of the file.
    """
    path = Path(path)
    return from_text(syntax.read_text(path), path.name, knowledge)


def weather_path(path: Path | str, yard: Yard) -> Path | None:
    """The weather record the yard file names, seen from the folder of that file; None if it names none."""
    return None if yard.place.weather is None else Path(path).parent / yard.place.weather
