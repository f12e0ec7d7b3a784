"""The why appendix of the printed sheet: each number in a line, each method and each source once.

A note names its method by number (M7) and a source by number (S3), so that neither is printed twice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from dooryard.letter.explain import STATUS_WORDS, Given, Note, notes, source_words
from dooryard.letter.prose import Document, footnotes, hold_together, spell
from dooryard.words import dates_words, sentence

Json = dict[str, Any]
# How an input that a person measured and wrote down is marked.
YARD_FILES = ("the yard file", "yard file")
YARD_MARK = "Y"
# An input as long as this that several numbers share is told once.
LONG_INPUT = 24
WAYS_LEAD = "How: by the calendar where nothing stands"
UNSAID = "not stated"
LEAD = (
    "Behind the number in brackets: the amount before rounding, what went in, and its method (M), which is told "
    f"once below. I: an input of several numbers, told once below. S: source, listed at the end. {YARD_MARK}: from "
    f"{YARD_FILES[0]}. How we know: "
)


def view(doc: Document) -> Json:
    """Stages, notes, methods and sources as plain data for the typesetter; lists are empty where there is nothing.

    Raises KeyError with the id if a text names a figure the document does not hold.
    """
    return _Appendix(doc).content()


def _summed(row: Mapping[str, Any]) -> str:
    """How a stage's heat is summed: "single sine, base 50 °F, from 1 January"; nothing if it goes by the calendar."""
    method, start = row["method"], row["start"]
    if method == start:
        return ""
    unsaid = "method " if method.startswith(UNSAID) else ""
    return f"{unsaid}{method}, {'start' if start.startswith(UNSAID) else 'from'} {start}"


class _Appendix:
    def __init__(self, doc: Document) -> None:
        self.doc = doc
        self.numbers = footnotes(doc)
        self.notes = notes(doc)
        self.firsts = {note.method: note for note in reversed(self.notes)}
        self.methods = {
            key: f"M{n}" for n, key in enumerate(dict.fromkeys(note.method for note in self.notes), 1)
        }
        uses = Counter(given for note in self.notes for given in set(note.given))
        shared = [
            given for given, many in uses.items() if many > 1 and len(given.name + given.shown) >= LONG_INPUT
        ]
        order = [given for note in self.notes for given in note.given if given in shared]
        self.shared = {given: f"I{n}" for n, given in enumerate(dict.fromkeys(order), 1)}
        rows = [row for organism in doc["organisms"] for row in organism["rows"]]
        ways = dict.fromkeys(filter(None, map(_summed, rows)))
        self.ways = dict(zip(ways, (f"H{n}" for n in range(1, len(ways) + 1)), strict=True))
        self.sources = {key: f"S{n}" for n, key in enumerate(dict.fromkeys(self._sources()), 1)}

    def content(self) -> Json:
        """What the template takes."""
        statuses = "; ".join(f"{word}: {meaning}" for word, meaning in STATUS_WORDS.items())
        return {
            "heading": "Why: the numbers in brackets",
            "lead": f"{LEAD}{statuses}.",
            "notes": [self._note(note) for note in self.notes],
            "shared_heading": "Inputs of several numbers (I)",
            "shared": [
                {"key": mark, "text": sentence(hold_together(self._given(given)))}
                for given, mark in self.shared.items()
            ],
            "methods_heading": "How each number is made (M)",
            "methods": [self._method(key, mark) for key, mark in self.methods.items()],
            "sources_heading": "Sources (S)",
            "sources": [
                {"key": mark, "text": sentence(source_words(self.doc, key))}
                for key, mark in self.sources.items()
            ],
            "stages_heading": "Stages behind the verdicts",
            "stages": self._stages(),
        }

    def _sources(self) -> Iterator[str]:
        """Source ids in the order the appendix names them."""
        for organism in self.doc["organisms"]:
            yield from (row["source"] for row in organism["rows"])
        for note in self.notes:
            yield from (given.origin for given in note.given if given.origin in self.doc["sources"])
        yield from (self.firsts[key].source_id for key in self.methods)

    def _note(self, note: Note) -> Json:
        spread = f" ({note.range})" if note.range else ""
        named = [self.shared.get(given) or self._given(given) for given in note.given]
        inputs = f"From {'; '.join(named)}." if named else ""
        parts = (inputs, sentence(note.note), f"{self.methods[note.method]}.")
        return {
            "number": note.number,
            "name": note.name,
            "exact": hold_together(f"{note.exact}{spread}"),
            "text": hold_together(" ".join(part for part in parts if part)),
        }

    def _given(self, given: Given) -> str:
        origin = self._origin(given.origin)
        return f"{given.name}: {given.shown.rstrip('.')}{f' ({origin})' if origin else ''}"

    def _origin(self, key: str) -> str:
        if key in self.numbers:
            return f"note {self.numbers[key]}"
        if key in self.doc["figures"]:
            return f"computed: {self.doc['figures'][key]['name']}"
        if key in self.doc["methods"]:
            return self.methods.get(key) or f"method: {self.doc['methods'][key]['name']}"
        if key in YARD_FILES:
            return YARD_MARK
        return self.sources.get(key, key)

    def _method(self, key: str, mark: str) -> Json:
        note = self.firsts[key]
        limits = (
            f"Limits: {sentence(note.limits)}" if note.limits.strip(" .").lower() not in ("", "none") else ""
        )
        parts = (sentence(note.formula), limits, f"{self.sources[note.source_id]}, {note.status}.")
        return {"key": mark, "name": note.method_name, "text": " ".join(part for part in parts if part)}

    def _stages(self) -> Json | None:
        """The published stages as one table: when each is said to come, and when it comes here this year."""
        groups = [
            {
                "name": organism["name"],
                "rows": [self._stage(row) for row in organism["rows"]],
            }
            for organism in self.doc["organisms"]
            if organism["rows"]
        ]
        if not groups:
            return None
        return {
            "columns": ["Stage", "Published at", "Here today", "Dates here", "How", "Source"],
            "ways": hold_together(
                "; ".join([WAYS_LEAD, *(f"{mark}: {way}" for way, mark in self.ways.items())])
            ),
            "groups": groups,
        }

    def _stage(self, row: Mapping[str, Any]) -> list[str]:
        dated = row["earliest"] or row["likely"] or row["latest"]
        unknown = "" if row["method"] == row["start"] else "not known"
        cells = (
            sentence(row["stage"]).rstrip("."),
            row["range"],
            row["sum_now"] or unknown,
            dates_words(row["earliest"], row["likely"], row["latest"]) if row["sum_now"] or dated else "",
            self.ways.get(_summed(row), ""),
            f"{self.sources[row['source']]}, {row['status']}",
        )
        return [hold_together(spell(str(cell), self.doc["figures"])) for cell in cells]
