"""What the printed sheet holds, as plain data for the typesetter: texts in runs, tables, drawings, notes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta
from string import ascii_uppercase
from typing import Any

from dooryard.letter.drawing import NARROW, WIDE, svg
from dooryard.letter.explain import STATUS_WORDS, Note, notes, stage_words
from dooryard.letter.prose import (
    Document,
    footnotes,
    headline,
    hold_together,
    later_tasks,
    pieces,
    refusal_words,
    spell,
    verdict_words,
    week_tasks,
)
from dooryard.words import as_date, day_words, list_words, range_words, sentence

Json = dict[str, Any]
# A table longer than this is for the page and the data file: nobody reads sixty days of numbers on paper.
LONGEST_TABLE = 12
# Drawings that need the whole width; the others stand two in a row.
WIDE_KINDS = ("season",)
FILES = "the page and the data file that go with this sheet"
NOW = ("now", "closing")


def view(doc: Document, *, paper: str, large: bool) -> tuple[Json, dict[str, str]]:
    """The sheet's content and its drawings as SVG by file name.

    Raises KeyError with the id if a text names a figure the document does not hold.
    """
    leaf = _Leaf(doc)
    on = as_date(doc["on"])
    drawings: dict[str, str] = {}
    charts = [
        leaf.chart(chart, f"drawing-{n}.svg", drawings, large) for n, chart in enumerate(doc["charts"], 1)
    ]
    made, ends = day_words(on, year=True), day_words(doc["advice_ends"], year=True)
    station = doc["station"]
    found = notes(doc)
    methods = list(dict.fromkeys(note.method for note in found))
    content: Json = {
        "paper": paper,
        "large": large,
        "language": doc["language"],
        "title": f"{doc['yard']['name']}: plan of {made}",
        "heading": doc["yard"]["name"],
        "lead": hold_together(
            f"Plan of {made}. This advice ends on {ends}. {sentence(doc['yard'].get('place') or '')} "
            f"Weather: {station['name']}, record {range_words(station['first'], station['last'], year=True)}."
        ),
        "footer": {
            "left": f"{doc['yard']['name']} · {station['name']}",
            "dates": f"made on {made} · advice ends on {ends}",
        },
        "summary_heading": "In short",
        "summary": [leaf.runs(text) for text in doc["summary"]],
        "week": {
            "heading": f"This week, {range_words(on, on + timedelta(days=6))}",
            "tasks": [leaf.task(task) for task in week_tasks(doc)],
        },
        "caution_heading": "Caution",
        "cautions": [
            {"letter": leaf.letters[caution["id"]], "text": leaf.runs(caution["text"])}
            for caution in doc["cautions"]
        ],
        "later": {
            "heading": f"After that, to {day_words(as_date(doc['until']) - timedelta(days=1))}",
            "tasks": [leaf.task(task) for task in later_tasks(doc)],
        },
        "ahead": {"heading": "Later this season", "tasks": [leaf.task(task) for task in doc["ahead"]]},
        "walk_heading": "Roof, barrels, beds and trees",
        "walk": [
            {
                "name": sentence(stop["name"]).rstrip("."),
                "text": leaf.runs(" ".join(stop["sentences"])),
                "table": None if stop.get("table") is None else leaf.table(stop["table"]),
            }
            for stop in doc["walk"]
        ],
        "organisms_heading": "Pests and diseases",
        "organisms": [leaf.organism(organism) for organism in doc["organisms"]],
        "refusals_heading": "What we do not say, and how to get it",
        "refusals": [leaf.runs(refusal_words(refusal)) for refusal in doc["refusals"]],
        "record_heading": "The weather record",
        "record": [leaf.runs(text) for text in doc["record"]],
        "charts_heading": "Drawings",
        "charts": charts,
        "why_heading": "Why: the numbers in brackets",
        "why_lead": "Each note gives the number before rounding, what went in, and the method by its letter. "
        f"How we know: {'; '.join(f'{word}: {meaning}' for word, meaning in STATUS_WORDS.items())}.",
        "notes": [_note(note, methods) for note in found],
        "methods_heading": "How each number is made",
        "methods": [_method(note, key) for key, note in _first_of_each(found, methods)],
        "stages_heading": "Stages behind the verdicts",
        "stages": leaf.stages(),
        "tables_heading": "Numbers behind the drawings",
        "tables": [leaf.table(chart["table"]) for chart in _short_tables(doc)],
    }
    long = any(len(chart["table"]["rows"]) > LONGEST_TABLE for chart in doc["charts"])
    content["tables_note"] = f"The longer drawings' numbers, day by day, are in {FILES}." if long else None
    return content, drawings


class _Leaf:
    """Turns parts of one document into what the template takes."""

    def __init__(self, doc: Document) -> None:
        self.doc = doc
        self.figures = doc["figures"]
        self.numbers = footnotes(doc)
        self.letters = {caution["id"]: _letter(index) for index, caution in enumerate(doc["cautions"])}

    def runs(self, text: str) -> list[Json]:
        """The text as runs: {"t": words}, and {"t": shown, "n": note number} for a figure."""
        found: list[Json] = []
        for words, figure_id in pieces(hold_together(text)):
            if figure_id is None:
                found.append({"t": words})
            else:
                shown = hold_together(str(self.figures[figure_id]["shown"]))
                found.append({"t": shown, "n": self.numbers[figure_id]})
        return found

    def plain(self, text: str) -> str:
        """The text with its figures and no notes."""
        return hold_together(spell(text, self.figures))

    def task(self, task: Mapping[str, Any]) -> Json:
        """A task's row: its days, its verb and the rest, why, if missed, and the letters of its cautions."""
        verb, rest = headline(task)
        on = as_date(self.doc["on"])
        best = None if task["best"] is None else as_date(task["best"])
        first, last = as_date(task["from"]), as_date(task["to"])
        letters = [self.letters[key] for key in task["cautions"]]
        return {
            "days": hold_together(range_words(first, last)),
            "best": None if best is None or first == last else hold_together(f"best on {day_words(best)}"),
            "verb": verb,
            "rest": self.runs(rest),
            "today": task["verb"] != "Wait" and first <= on <= last,
            "why": self.runs(task["why"]),
            "missed": self.runs(task["if_missed"]),
            "cautions": f"Caution {list_words(letters)}" if letters else None,
        }

    def organism(self, organism: Mapping[str, Any]) -> Json:
        """A verdict: its word, the rest of the sentence, reason, what to do, what sources disagree on."""
        word, rest = verdict_words(organism)
        changes = organism["changes_on"]
        latin = f" ({organism['scientific']})" if organism["scientific"] else ""
        return {
            "name": f"{sentence(organism['name']).rstrip('.')}{latin}, {organism['place']}",
            "word": word,
            "rest": self.runs(rest),
            "today": organism["word"] in NOW,
            "reason": self.runs(organism["reason"]),
            "do": self.runs(organism["do"]),
            "conflict": self.runs(organism["conflict"] or ""),
            "changes": f"This answer changes about {day_words(changes)}." if changes else None,
        }

    def table(self, table: Mapping[str, Any]) -> Json:
        """A table with its texts spelled."""
        return {
            "caption": self.plain(table.get("caption") or "") or None,
            "columns": [{"text": self.plain(c["text"]), "align": c["align"]} for c in table["columns"]],
            "rows": [
                ["" if cell is None else self.plain(str(cell)) for cell in row] for row in table["rows"]
            ],
        }

    def chart(self, chart: Mapping[str, Any], file: str, drawings: dict[str, str], large: bool) -> Json:
        """A drawing's title, words and file; the words double as its alternative text."""
        wide = chart["kind"] in WIDE_KINDS
        # Letters keep their size in a drawing: a narrow one is legible in half a row, large in a whole.
        drawings[file] = svg(chart, WIDE if wide and not large else NARROW)
        return {
            "title": self.plain(chart["title"]),
            "words": self.runs(chart["words"]),
            "alt": self.plain(f"{sentence(chart['title'])} {chart['words']}"),
            "file": file,
            "wide": wide,
        }

    def stages(self) -> list[Json]:
        """The published stages behind the verdicts: how each sum is made, when it gets there, who says so."""
        return [
            {
                "name": f"{organism['name']}, {row['stage']}",
                "text": self.plain(stage_words(self.doc, row)),
            }
            for organism in self.doc["organisms"]
            for row in organism["rows"]
        ]


def _letter(index: int) -> str:
    """A, B … Z, then A2, B2 …"""
    turn, place = divmod(index, len(ascii_uppercase))
    return ascii_uppercase[place] + (str(turn + 1) if turn else "")


def _note(note: Note, methods: Sequence[str]) -> Json:
    spread = f" ({note.range})" if note.range else ""
    parts = [f"From {'; '.join(note.inputs)}." if note.inputs else "", sentence(note.note)]
    parts.append(f"Method {_letter(methods.index(note.method))}, {note.status}.")
    return {
        "number": note.number,
        "name": note.name,
        "exact": hold_together(f"{note.exact}{spread}"),
        "text": hold_together(" ".join(part for part in parts if part)),
    }


def _method(note: Note, letter: str) -> Json:
    parts = (sentence(note.formula), sentence(note.limits), f"Source: {note.source} ({note.status}).")
    return {"key": letter, "name": note.method_name, "text": " ".join(part for part in parts if part)}


def _first_of_each(found: Iterable[Note], methods: Sequence[str]) -> list[tuple[str, Note]]:
    firsts: dict[str, Note] = {}
    for note in found:
        firsts.setdefault(note.method, note)
    return [(_letter(index), firsts[method]) for index, method in enumerate(methods)]


def _short_tables(doc: Document) -> list[Mapping[str, Any]]:
    """The drawings whose numbers are few enough to print, without those the walk has printed already."""
    return [
        chart
        for chart in doc["charts"]
        if chart["kind"] != "glass" and len(chart["table"]["rows"]) <= LONGEST_TABLE
    ]
