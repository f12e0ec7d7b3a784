"""Whether each row that names a row of another table names one that is there."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from dooryard.problem import Problem, nearest

if TYPE_CHECKING:
    from dooryard.knowledge.load import Knowledge


@dataclass(frozen=True, slots=True)
class Reference:
    """One cell that names a row: its table and row, the cells its line can be found by, the name in it."""

    table: str
    row: str
    cells: tuple[str, ...]
    field: str
    to: str
    origin: str


def dangling(knowledge: Knowledge, whole: Collection[str]) -> list[Problem]:
    """Every reference that leads nowhere, among the tables named in ``whole`` (those that load)."""
    problems: list[Problem] = []
    for table, known, references in _references(knowledge, whole):
        if known not in whole or table not in whole:
            continue
        rows: Mapping[str, object] = getattr(knowledge, known)
        for one in references:
            if one.to not in rows:
                what = f"{one.table} row {one.row} points to a row that is not there."
                problems.append(_problem(one, what, nearest(one.to, rows) or f"Add it to {known}."))
            elif known == "stages" and knowledge.stages[one.to].kind != "heat":
                what = f"windows row {one.row} rests on a stage that is no heat row."
                problems.append(_problem(one, what, "Name a heat row."))
    return problems


def _references(
    knowledge: Knowledge, whole: Collection[str]
) -> Iterator[tuple[str, str, Iterator[Reference]]]:
    """For each table that points and the table it points to, the references (read only when asked)."""
    yield (
        "stages",
        "organisms",
        (
            Reference("stages", row.key, (row.key,), "organism", row.organism, row.origin)
            for row in (knowledge.stages.values() if "stages" in whole else ())
        ),
    )
    yield (
        "windows",
        "organisms",
        (
            Reference("windows", row.key, (row.key,), "organism", row.organism, row.origin)
            for row in (knowledge.windows.values() if "windows" in whole else ())
        ),
    )
    yield (
        "windows",
        "stages",
        (
            Reference("windows", row.key, (row.key,), field, to, row.origin)
            for row in (knowledge.windows.values() if "windows" in whole else ())
            for field, to in (("opens", row.opens), ("closes", row.closes))
        ),
    )
    yield (
        "treatments",
        "organisms",
        (
            Reference(
                "treatments", row.key, (row.organism, f"{row.rank}"), "organism", row.organism, row.origin
            )
            for row in (knowledge.treatments.values() if "treatments" in whole else ())
        ),
    )
    yield (
        "treatments",
        "cautions",
        (
            Reference("treatments", row.key, (row.organism, f"{row.rank}"), "cautions", caution, row.origin)
            for row in (knowledge.treatments.values() if "treatments" in whole else ())
            for caution in row.cautions
        ),
    )
    yield (
        "troubles",
        "cautions",
        (
            Reference("troubles", row.key, (row.key,), "cautions", caution, row.origin)
            for row in (knowledge.troubles.values() if "troubles" in whole else ())
            for caution in row.cautions
        ),
    )
    yield (
        "gate_words",
        "cautions",
        (
            Reference("gate_words", row.key, (row.key,), "cautions", caution, row.origin)
            for row in (knowledge.gate_words.values() if "gate_words" in whole else ())
            for caution in row.cautions
        ),
    )
    yield (
        "hosts",
        "organisms",
        (
            Reference(
                "hosts", row.plant_kind, (row.organism, row.plant_kind), "organism", row.organism, row.origin
            )
            for row in (knowledge.hosts if "hosts" in whole else ())
        ),
    )
    yield (
        "dated_windows",
        "organisms",
        (
            Reference("windows_by_date", row.key, (row.key,), "organism", row.organism, row.origin)
            for row in (knowledge.dated_windows if "dated_windows" in whole else ())
        ),
    )
    yield (
        "causes",
        "signs",
        (
            Reference("causes", row.key, (row.key,), word, sign, row.origin)
            for row in (knowledge.causes.values() if "causes" in whole else ())
            for sign, word in row.shows.items()
        ),
    )
    yield (
        "causes",
        "organisms",
        (
            Reference("causes", row.key, (row.key,), "organism", row.organism, row.origin)
            for row in (knowledge.causes.values() if "causes" in whole else ())
            if row.organism
        ),
    )


def _problem(one: Reference, what: str, instead: str) -> Problem:
    return Problem(what, instead, one.origin, _line(one), one.field, one.to)


def _line(one: Reference) -> int | None:
    """The line of a row of a person's own table, by the cells it begins with."""
    if not one.origin:
        return None
    with Path(one.origin).open(encoding="utf-8-sig", newline="") as stream:
        lines = csv.reader(stream)
        before = 0
        for values in lines:
            start, before = before + 1, lines.line_num
            cells = [value.strip() for value in values]
            if all(cell in cells for cell in one.cells):
                return start
    return None
