"""A letter as plain text for e-mail: its parts in order, figures spelled out, wrapped, in signs any mail keeps."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from dooryard.letter import report
from dooryard.letter.prose import Document, hold_together, signs_in_words, spell
from dooryard.words import day_words

WIDTH = 72


def render(doc: Document, *, width: int | None = WIDTH) -> str:
    """The letter as plain text, ending in a newline. width : of a line; None leaves each paragraph on one line.

    Raises KeyError with the id if a text names a figure the document does not hold.
    """
    lines: list[str] = []
    for kind, text in _blocks(doc):
        told = signs_in_words(spell(text, doc["figures"]))
        if kind == "heading":
            lines += ["", told, "-" * len(told)] if lines else [told, "=" * len(told)]
        elif width is None:
            lines.append(f"{'- ' if kind == 'item' else ''}{told}")
        else:
            lead = "- " if kind == "item" else ""
            held = hold_together(told)
            wrapped = wrap(
                held, width, initial_indent=lead, subsequent_indent=" " * len(lead), break_on_hyphens=False
            )
            lines += [line.replace("\N{NO-BREAK SPACE}", " ") for line in wrapped]
    return "\n".join(lines) + "\n"


def _blocks(doc: Document) -> Iterator[tuple[str, str]]:
    yield "heading", f"{doc['yard']['name']}: {report.title(doc)}"
    yield (
        "text",
        f"{day_words(doc['on'], year=True)}. This advice ends on {day_words(doc['advice_ends'], year=True)}.",
    )
    yield "heading", "In short"
    yield "text", " ".join(doc["summary"])
    for stop in doc["walk"]:
        yield "heading", stop["name"]
        kind = "item" if len(stop["sentences"]) > 1 else "text"
        for sentence in stop["sentences"]:
            yield kind, sentence
