"""Reading one CSV table strictly: every fault is kept with its file, line and field; a faulty row is dropped.

Lines that start with ``#`` are comments. The header must name exactly the table's columns, in any order.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

from dooryard.knowledge.rows import STATUSES
from dooryard.problem import Problem, nearest

Row = TypeVar("Row")

_SHOWN = 60  # characters of a faulty cell that a message repeats


@dataclass(frozen=True)
class Origin:
    """Where a table lies: its file as messages show it, the ``origin`` of its rows, the known sources."""

    shown: str
    origin: str
    sources: Collection[str]


class Cells:
    """The cells of one line, read by name. Faults are collected, never raised."""

    def __init__(self, cells: dict[str, str], line: int, table: Origin) -> None:
        self._cells = cells
        self._line = line
        self._table = table
        self.origin = table.origin
        self.problems: list[Problem] = []

    def fault(self, field: str, what: str, instead: str) -> None:
        """Note that a cell cannot be used; a fault met twice is told once."""
        found = self._cells.get(field, "")[:_SHOWN]
        problem = Problem(what, instead, self._table.shown, self._line, field, found)
        if problem not in self.problems:
            self.problems.append(problem)

    def text(self, field: str) -> str:
        """A cell that may be empty."""
        return self._cells.get(field, "")

    def filled(self, field: str) -> str:
        """A cell that must say something."""
        value = self.text(field)
        if not value:
            self.fault(field, "This cell is empty.", f"Write its {field}.")
        return value

    def word(self, field: str, choices: Sequence[str]) -> str:
        """A cell that must hold one of a few words."""
        value = self.text(field)
        if value not in choices:
            hint = nearest(value, choices) if value else ""
            self.fault(
                field, "This is not one of the words used here." if value else "This cell is empty.",
                f"Write one of: {', '.join(choices)}. {hint}".strip(),
            )  # fmt: skip
        return value

    def number(self, field: str) -> float:
        """A cell that must hold a number (NaN stands in for a faulty one; its row is dropped)."""
        value = self.maybe_number(field)
        if value is None:
            self.fault(field, "A number is due here and the cell is empty.", "Write the number.")
            return float("nan")
        return value

    def maybe_number(self, field: str) -> float | None:
        """A number, or None if the cell is empty."""
        text = self.text(field)
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if value - value != 0.0:  # NaN and the infinities
            self.fault(field, "This is not a number.", "Write digits with a point, such as 0.85.")
            return float("nan")
        return value

    def whole(self, field: str, default: int | None = None) -> int:
        """A whole number; an empty cell is the default if there is one."""
        text = self.text(field)
        if not text and default is not None:
            return default
        try:
            return int(text)
        except ValueError:
            self.fault(field, "A whole number is due here.", "Write digits only, such as 14.")
            return 0

    def month_day(self, field: str) -> str:
        """A month and day such as 03-01."""
        text = self.text(field)
        month, _, day = text.partition("-")
        good = len(text) == 5 and month.isdigit() and day.isdigit()
        if not (good and 1 <= int(month) <= 12 and 1 <= int(day) <= 31):
            self.fault(field, "This is not a month and day.", "Write 03-01 for the first of March.")
        return text

    def words(self, field: str) -> tuple[str, ...]:
        """A list in one cell, parted by semicolons; may be empty."""
        return tuple(part.strip() for part in self.text(field).split(";") if part.strip())

    def source(self) -> str:
        """The id of a publication in the sources table; a row without a known one does not load."""
        source = self.filled("source")
        if source and source not in self._table.sources:
            hint = nearest(source, self._table.sources)
            self.fault("source", "No source has this id.", hint or "Add it to a table in the folder sources.")
        return source

    def status(self) -> str:
        """How sure the row is; a row that does not say so does not load."""
        return self.word("status", STATUSES)

    def ordered(self, low: str, middle: str, high: str) -> None:
        """Check low <= middle <= high for the cells that are filled with numbers."""
        numbers = [(name, self._quiet(name)) for name in (low, middle, high)]
        filled = [(name, value) for name, value in numbers if value is not None]
        for (name_a, a), (name_b, b) in pairwise(filled):
            if a > b:
                self.fault(name_a, f"{name_a} is above {name_b}.", "Put the numbers in rising order.")

    def _quiet(self, field: str) -> float | None:
        text = self.text(field)
        if not text:
            return None
        try:
            return float(text)
        except ValueError:
            return None


def read_table(
    path: Path, columns: Sequence[str], build: Callable[[Cells], Row], table: Origin
) -> tuple[list[tuple[int, Row]], list[Problem]]:
    """The rows of a CSV file with their line numbers, and every fault found in it.

    A file without its columns yields no row.
    """
    shown = table.shown
    header: list[str] | None = None
    rows: list[tuple[int, Row]] = []
    problems: list[Problem] = []
    try:
        # Spreadsheets put a mark at the head of a file, which utf-8-sig takes off.
        text = path.read_bytes().decode("utf-8-sig")
        for line, values in _written(csv.reader(io.StringIO(text, newline=""), strict=True)):
            if header is None:
                header = [name.strip() for name in values]
                problems += _header_problems(header, columns, shown, line)
                if problems:
                    return [], problems
                continue
            if len(values) != len(header):
                what = f"This line has {len(values)} cells and the header {len(header)}."
                problems.append(Problem(what, 'Put text with a comma in "quotes".', shown, line))
                continue
            cells = Cells({n: v.strip() for n, v in zip(header, values, strict=True)}, line, table)
            row = build(cells)
            if cells.problems:
                problems += cells.problems
            else:
                rows.append((line, row))
    except UnicodeDecodeError as error:
        before = path.read_bytes()[: error.start].count(b"\n")
        what = "This file is not written in UTF-8."
        return [], [Problem(what, 'Save it as "CSV UTF-8".', shown, before + 1)]
    except csv.Error as error:
        problems.append(Problem(f"From here on this is no table: {error}.", "Mend the quotes.", shown))
    if header is None and not problems:
        problems.append(Problem("The file is empty.", f"Its first line is: {','.join(columns)}", shown))
    return rows, problems


def _written(lines: Iterator[list[str]]) -> Iterator[tuple[int, list[str]]]:
    """Lines that are neither blank nor comments, counted as an editor counts them (first line of a cell)."""
    before = 0
    for values in lines:
        start = before + 1
        before = lines.line_num  # type: ignore[attr-defined]
        if values and not (values[0].startswith("#") or all(not value.strip() for value in values)):
            yield start, values


def _header_problems(header: list[str], columns: Sequence[str], shown: str, line: int) -> list[Problem]:
    if len(header) == 1 and ";" in header[0]:
        return [Problem("The cells are parted by semicolons.", "Part them by commas.", shown, line)]
    problems = [
        Problem(f"The column {name} is missing.", f"The columns are: {','.join(columns)}", shown, line, name)
        for name in columns
        if name not in header
    ]
    problems += [
        Problem("This column is not known.", nearest(name, columns) or "Take it out.", shown, line, name)
        for name in header
        if name not in columns
    ]
    problems += [
        Problem("This column stands twice.", "Take one out.", shown, line, name)
        for name in dict.fromkeys(header)
        if header.count(name) > 1
    ]
    return problems
