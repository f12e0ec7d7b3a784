"""The treatment log: what was put on which plant on which day; the label's limits of a season are counted from it."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dooryard.problem import InputError, Problem

COLUMNS = ("date", "card", "plant", "amount", "by")


@dataclass(frozen=True)
class Applied:
    """One treatment. day : when. card : name of the label card. plant : words. amount : as typed. by : role."""

    day: date
    card: str
    plant: str
    amount: str
    by: str


def from_text(text: str, file: str) -> tuple[Applied, ...]:
    """The entries of a log in date order.

    text : a CSV with the header of `COLUMNS`; lines beginning with # are remarks. file : its name in messages. Raises
    InputError with every fault, each with its line.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    numbered = [
        (at, line) for at, line in enumerate(lines, start=1) if line.strip() and not line.startswith("#")
    ]
    rows = list(csv.reader(io.StringIO("\n".join(line for _, line in numbered))))
    if not rows or tuple(cell.strip() for cell in rows[0]) != COLUMNS:
        what = "The header of the log is missing." if not rows else "This is not the header of a log."
        raise InputError(
            Problem(what, f"Write: {','.join(COLUMNS)}", file, numbered[0][0] if numbered else 1)
        )
    found: list[Applied] = []
    problems: list[Problem] = []
    for (line, _), row in zip(numbered[1:], rows[1:], strict=False):
        cells = [cell.strip() for cell in row] + [""] * (len(COLUMNS) - len(row))
        try:
            day = date.fromisoformat(cells[0])
        except ValueError:
            problems.append(
                Problem("This is not a day.", "Write it as 2031-05-20.", file, line, "date", cells[0])
            )
            continue
        problems += [
            Problem("This cell is empty.", f"Write the {name}.", file, line, name)
            for name, cell in (("card", cells[1]), ("plant", cells[2]))
            if not cell
        ]
        found.append(Applied(day, *cells[1:5]))
    if problems:
        raise InputError(problems)
    return tuple(sorted(found, key=lambda one: one.day))


def season(log: Sequence[Applied], card: str, plant: str, on: date) -> tuple[date | None, int]:
    """Day of the last treatment with a card on a plant before or on a day, and how many there were that year.

    log : entries. card, plant : names; capitals do not matter. on : the day asked.
    """
    days = [
        one.day
        for one in log
        if one.day.year == on.year
        and one.day <= on
        and one.card.lower() == card.lower()
        and one.plant.lower() == plant.lower()
    ]
    return (max(days) if days else None), len(days)
