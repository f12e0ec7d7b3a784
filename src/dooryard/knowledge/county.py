"""A person's own folder of tables: where it is looked for, what is wrong with it, what words tell its rows.

A folder named ``county`` beside a yard file counts without being asked for. It holds files of the same names
and columns as the shipped ones, only those that are needed; its rows add to the shipped rows or replace the
row of the same key.
"""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from dooryard.knowledge.load import SHIPPED, Knowledge, load
from dooryard.problem import InputError, Problem, nearest

FOLDER = "county"
"""Name of the folder beside a yard file that is taken without being asked for."""

OWN = "from your county's own table"
"""What is said of a row that no shipped table holds."""


class Sourced(Protocol):
    """Any row: it remembers the file it came from, or nothing if it was shipped."""

    @property
    def origin(self) -> str: ...


def own_words(row: Sourced) -> str:
    """ " (from your county's own table)" for a row of a person's own, nothing for a shipped one."""
    return f" ({OWN})" if row.origin else ""


def beside(yard: Path, county: Path | None = None) -> Path | None:
    """The folder of own tables for a yard file: the one given, else the one beside the file, else none."""
    if county is not None:
        return county
    folder = yard.parent / FOLDER
    return folder if folder.is_dir() else None


def with_county(folder: Path | None) -> Knowledge:
    """The shipped tables with a person's own folder laid over them, wholly checked.

    Raises
    ------
    InputError
        With every fault of the folder: file, line and field.
    """
    if folder is None:
        return load()
    knowledge = load([folder])
    problems = (*_strays(folder), *knowledge.check())
    if problems:
        raise InputError(problems)
    return knowledge


def _strays(folder: Path) -> list[Problem]:
    """Files that the program would pass over in silence."""
    known = {path.relative_to(SHIPPED).as_posix() for path in SHIPPED.rglob("*.csv")}
    tables = {name for name in known if "/" not in name}
    folders = {name.partition("/")[0] for name in known if "/" in name}
    problems = []
    for path in sorted(folder.rglob("*.csv")):
        name = path.relative_to(folder).as_posix()
        if name not in tables and path.parent.name not in folders:
            what, hint = "No table has this file name.", nearest(name, tables)
            problems.append(
                Problem(what, hint or f"The tables are: {', '.join(sorted(tables))}.", str(path), found=name)
            )
    return problems
