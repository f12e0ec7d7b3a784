"""The plan as plain text for a terminal: 80 columns, no colour, answer first, the way to see more last."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta
from textwrap import wrap
from typing import Any

from dooryard.letter import report
from dooryard.letter.explain import STATUS_WORDS, Note, notes, stage_words
from dooryard.letter.prose import (
    CHOICES_LEAD,
    NO_BREAK,
    Document,
    footnotes,
    headline,
    hold_together,
    later_tasks,
    refusal_words,
    spell,
    station_words,
    task_days,
    verdict_words,
    week_tasks,
)
from dooryard.words import as_date, day_words, range_words, sentence

NARROWEST = 40


def render(doc: Document, why: bool = False, width: int = 80) -> str:
    """The whole plan as text, ending in a newline; lines are at most `width` long (never under 40).

    why : put a note number behind each figure and explain every figure at the end.

    Raises KeyError with the id if a text names a figure the document does not hold.
    """
    screen = _Screen(doc, why, max(width, NARROWEST))
    _head(screen, doc)
    screen.heading("In short")
    for text in doc["summary"]:
        screen.paragraph(text)
    _tasks(screen, doc)
    for stop in doc["walk"]:
        _stop(screen, doc, stop)
    _organisms(screen, doc)
    _season(screen, doc)
    _endings(screen, doc)
    if why:
        _why(screen, notes(doc))
    screen.blank()
    screen.paragraph(
        "More: --json gives the data, --out FOLDER writes page, print and calendar."
        if why
        else "More: --why explains each number, --json gives the data, --out writes files."
    )
    return screen.text()


class _Screen:
    """Lines written so far, and how to write the next ones."""

    def __init__(self, doc: Document, why: bool, width: int) -> None:
        self.width = width
        self.figures = doc["figures"]
        self.numbers = footnotes(doc)
        self.why = why
        self.lines: list[str] = []

    def spelled(self, text: str) -> str:
        """The text with its figures, nothing that belongs together torn apart."""
        return hold_together(spell(text, self.figures, self._marked if self.why else None))

    def _marked(self, figure_id: str, shown: str) -> str:
        return f"{shown}{NO_BREAK}[{self.numbers[figure_id]}]"

    def blank(self) -> None:
        """One empty line, never two."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def heading(self, text: str, rule: str = "-") -> None:
        """A heading with a rule below it."""
        self.blank()
        found = self.wrapped(text)
        self.lines += found
        self.lines.append(rule * max(len(line) for line in found))

    def paragraph(self, text: str, first: str = "", rest: str | None = None) -> None:
        """A wrapped paragraph; `first` leads its first line, `rest` (else `first` as blanks) the others."""
        self.lines += self.wrapped(text, first, rest)

    def wrapped(self, text: str, first: str = "", rest: str | None = None) -> list[str]:
        """The text in lines that fit, with no-break spaces turned back into plain ones."""
        found = wrap(
            # A line break or control sign inside a name must not move the reader's cursor.
            "".join(" " if unicodedata.category(sign) == "Cc" else sign for sign in self.spelled(text)),
            self.width,
            initial_indent=first,
            subsequent_indent=" " * len(first) if rest is None else rest,
            break_on_hyphens=False,
        )
        return [line.replace(NO_BREAK, " ") for line in found]

    def table(self, table: Mapping[str, Any], indent: str = "  ") -> None:
        """A table in columns; if it cannot be made to fit, each row as a short list instead."""
        heads = [self.spelled(column["text"]) for column in table["columns"]]
        rows = [["" if cell is None else self.spelled(str(cell)) for cell in row] for row in table["rows"]]
        right = [column["align"] == "right" for column in table["columns"]]
        widths = _column_widths([heads, *rows], right, self.width - len(indent) - 2 * (len(heads) - 1))
        self.blank()
        if table.get("caption"):
            self.paragraph(table["caption"], indent)
        if widths is None:
            self._stacked(heads, rows, indent)
            return
        for row in [heads, ["-" * width for width in widths], *rows]:
            self._row(row, widths, right, indent)

    def _row(self, row: Sequence[str], widths: Sequence[int], right: Sequence[bool], indent: str) -> None:
        cells = [wrap(cell, width) or [""] for cell, width in zip(row, widths, strict=True)]
        for line in range(max(map(len, cells))):
            texts = [cell[line] if line < len(cell) else "" for cell in cells]
            padded = [
                text.rjust(width) if to_right else text.ljust(width)
                for text, width, to_right in zip(texts, widths, right, strict=True)
            ]
            self.lines.append((indent + "  ".join(padded)).rstrip().replace(NO_BREAK, " "))

    def _stacked(self, heads: Sequence[str], rows: Iterable[Sequence[str]], indent: str) -> None:
        for row in rows:
            self.lines += self.wrapped(row[0], indent)
            for head, cell in zip(heads[1:], row[1:], strict=True):
                if cell:
                    self.lines += self.wrapped(f"{head}: {cell}", indent + "  ")

    def text(self) -> str:
        """Everything written, ending in one newline."""
        return "\n".join(self.lines).rstrip() + "\n"


def _column_widths(rows: Sequence[Sequence[str]], right: Sequence[bool], room: int) -> list[int] | None:
    """Widths that fit in `room`, or None. Left-aligned columns give way, down to their longest word."""
    columns = list(zip(*rows, strict=True))
    widths = [max(len(cell) for cell in column) for column in columns]
    # Heads of number columns may wrap, their numbers may not.
    least = [
        max(
            len(word) for index, cell in enumerate(column) for word in _unbroken(cell, to_right and index > 0)
        )
        for column, to_right in zip(columns, right, strict=True)
    ]
    while sum(widths) > room:
        spare = [width - low for width, low in zip(widths, least, strict=True)]
        if max(spare) <= 0:
            return None
        widest = max((width, index) for index, width in enumerate(widths) if spare[index] > 0)[1]
        widths[widest] -= 1
    return widths


def _unbroken(cell: str, whole: bool) -> list[str]:
    return [cell] if whole or not cell.split(" ") else cell.split(" ")


def _head(screen: _Screen, doc: Document) -> None:
    screen.heading(f"{doc['yard']['name']}: {report.title(doc)}", "=")
    if doc["yard"].get("place"):
        screen.paragraph(sentence(doc["yard"]["place"]))
    if doc["station"] is not None:
        screen.paragraph(f"Weather: {station_words(doc)}")
    screen.paragraph(f"This advice ends on {day_words(doc['advice_ends'], year=True)}.")


def _tasks(screen: _Screen, doc: Document) -> None:
    if not report.has_tasks(doc):
        return
    on = as_date(doc["on"])
    week, rest = week_tasks(doc), later_tasks(doc)
    if report.has_week(doc, week):
        screen.heading(f"This week, {range_words(on, on + timedelta(days=6))}")
        if not week:
            screen.paragraph("Nothing to do.")
        _task_list(screen, doc, week)
    if rest:
        screen.heading(
            f"{'After that' if report.has_week(doc, week) else 'Later'}, "
            f"to {day_words(as_date(doc['until']) - timedelta(days=1))}"
        )
        _task_list(screen, doc, rest)
    if doc["ahead"]:
        screen.heading("Later this season")
        _task_list(screen, doc, doc["ahead"])


def _task_list(screen: _Screen, doc: Document, tasks: Iterable[Mapping[str, Any]]) -> None:
    cautions = {caution["id"]: caution["text"] for caution in doc["cautions"]}
    for index, task in enumerate(tasks):
        if index:
            screen.blank()
        screen.paragraph(f"{task_days(task)}: {task['place']}", rest="  ")
        screen.paragraph("".join(headline(task)), "  ")
        screen.paragraph(task["why"], "  Why: ", "    ")
        for key in task["cautions"]:
            screen.paragraph(cautions[key], "  Caution: ", "    ")
        if task["if_missed"]:
            screen.paragraph(task["if_missed"], "  If missed: ", "    ")


def _stop(screen: _Screen, doc: Document, stop: Mapping[str, Any]) -> None:
    screen.heading(sentence(stop["name"]).rstrip("."))
    for index, topic in enumerate(stop["sentences"]):
        if index:
            screen.blank()
        screen.paragraph(topic)
    if stop.get("table"):
        screen.table(stop["table"])
    for chart in doc["charts"]:
        if chart["id"] in stop.get("charts", ()):
            screen.blank()
            screen.paragraph(f"{sentence(chart['title'])} {chart['words']}")
            if chart["kind"] == "worth":
                screen.table(chart["table"])


def _organisms(screen: _Screen, doc: Document) -> None:
    if not doc["organisms"]:
        return
    screen.heading("Pests and diseases")
    for index, organism in enumerate(doc["organisms"]):
        if index:
            screen.blank()
        latin = f" ({organism['scientific']})" if organism["scientific"] else ""
        name = sentence(organism["name"]).rstrip(".")
        screen.paragraph(f"{name}{latin}, {organism['place']}", rest="  ")
        screen.paragraph("".join(verdict_words(organism)), "  ")
        screen.paragraph(organism["reason"], "  Why: ", "    ")
        screen.paragraph(organism["do"], "  What to do: ", "    ")
        choices = organism.get("choices", ())
        if choices:
            screen.paragraph(f"{CHOICES_LEAD}:", "    ")
        for number, choice in enumerate(choices, 1):
            screen.paragraph(choice, f"    {number}. ")
        if organism["conflict"]:
            screen.paragraph(organism["conflict"], "  Sources disagree: ", "    ")
        if organism["changes_on"]:
            screen.paragraph(f"This answer changes about {day_words(organism['changes_on'])}.", "  ")
        if screen.why:
            for row in organism["rows"]:
                screen.paragraph(f"{row['stage']}: {stage_words(doc, row)}", "  - ")


def _season(screen: _Screen, doc: Document) -> None:
    placed = {key for stop in doc["walk"] for key in stop.get("charts", ())}
    for chart in doc["charts"]:
        if chart["id"] in placed:
            continue
        screen.heading(chart["title"])
        # The words of the season line tell how to read the drawing; here its table stands instead.
        if chart["kind"] == "season":
            screen.table(chart["table"])
        else:
            screen.paragraph(chart["words"])


def _endings(screen: _Screen, doc: Document) -> None:
    if doc["refusals"]:
        screen.heading("What we do not say, and how to get it")
        for refusal in doc["refusals"]:
            screen.paragraph(refusal_words(refusal), "- ")
    if doc["record"]:
        screen.heading("The weather record")
    for text in doc["record"]:
        screen.paragraph(text, "- ")
    said = {key for task in [*doc["tasks"], *doc["ahead"]] for key in task["cautions"]}
    unsaid = [caution for caution in doc["cautions"] if caution["id"] not in said]
    if unsaid:
        screen.heading("Cautions that always hold")
        for caution in unsaid:
            screen.paragraph(caution["text"], "- ")


def _why(screen: _Screen, found: Sequence[Note]) -> None:
    screen.heading("Why: the numbers in brackets")
    screen.paragraph(
        "How we know: " + "; ".join(f"{word}: {meaning}" for word, meaning in STATUS_WORDS.items()) + "."
    )
    for note in found:
        screen.blank()
        spread = f" ({note.range})" if note.range else ""
        screen.paragraph(f"{note.name}: {note.exact}{spread}", f"[{note.number}] ", "    ")
        screen.paragraph(f"{note.method_name}: {note.formula}", "    How: ", "      ")
        if note.inputs:
            screen.paragraph("; ".join(note.inputs), "    From: ", "      ")
        if note.limits:
            screen.paragraph(note.limits, "    Limits: ", "      ")
        if note.note:
            screen.paragraph(note.note, "    Note: ", "      ")
        screen.paragraph(f"{note.source} ({note.status})", "    Source: ", "      ")
