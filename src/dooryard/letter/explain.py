"""Why notes: what stands behind each printed figure, in words, for screen and paper alike."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dooryard.letter.prose import Document, footnotes
from dooryard.words import dates_words, day_words, range_words

# How a fact is known, in the words of the knowledge tables, for a reader who has not met them.
STATUS_WORDS = {
    "seen": "read in the source itself",
    "second-hand": "quoted by another source",
    "from memory": "known to the trade, source not at hand",
    "common practice": "what advisers commonly do",
    "computed": "worked out from the record or by arithmetic",
    "judged": "an adviser's judgement",
}

_NUMBER = re.compile(r"[-−]?\d[\d,]*(?:\.\d+)?")


_ISO_DAY = re.compile(r"\d{4}-\d\d-\d\d")


@dataclass(frozen=True)
class Given:
    """One input of a figure: its name, its amount, and the id or the words it comes from."""

    name: str
    shown: str
    origin: str


@dataclass(frozen=True)
class Note:
    """The why note of one figure: its number, what it is, how it was made, from what, and how sure."""

    number: int
    figure: str
    name: str
    shown: str
    exact: str
    range: str
    method: str
    method_name: str
    formula: str
    limits: str
    inputs: tuple[str, ...]
    given: tuple[Given, ...]
    source: str
    source_id: str
    status: str
    note: str


def notes(doc: Document) -> list[Note]:
    """A note for every figure the document's texts mention, in the order of their numbers.

    Raises KeyError if a mark names a figure, or a figure a method, that the document does not hold.
    """
    numbers = footnotes(doc)
    return [_note(doc, figure_id, number, numbers) for figure_id, number in numbers.items()]


def figure_range(figure: Mapping[str, Any]) -> str:
    """A figure's low and high end in the unit and scale of its exact text, or "" if it has none.

    The document holds low, high and value in canonical units and `exact` in the yard's. Every unit but the
    temperatures is a plain multiple, so exact / value is the factor; temperatures keep their 32 degrees.
    """
    low, high, value, exact = figure["low"], figure["high"], figure["value"], str(figure["exact"])
    if low is None or high is None or low == high or " to " in exact:
        return ""
    if isinstance(low, str) or isinstance(high, str):
        return range_words(low, high, year=True) if figure["unit"] == "date" else f"{low} to {high}"
    found = _NUMBER.match(exact)
    if found is None or isinstance(value, str):
        return ""
    number = float(found.group().replace(",", "").replace("−", "-"))
    offset = 0.0
    if figure["unit"] == "degC" and "°F" in exact and abs(number - (value * 1.8 + 32)) < 0.1:
        factor, offset = 1.8, 32.0
    elif value != 0 and number != 0:
        factor = number / value
    else:
        return ""
    decimals = len(found.group().partition(".")[2])
    ends = [f"{end * factor + offset:,.{decimals}f}" for end in (low, high)]
    return f"{ends[0]} to {ends[1]}{exact[found.end() :]}"


def exact_words(figure: Mapping[str, Any]) -> str:
    """A figure before rounding, a day in words."""
    exact = str(figure["exact"])
    return day_words(exact, year=True) if figure["unit"] == "date" and _ISO_DAY.fullmatch(exact) else exact


def source_words(doc: Document, key: str) -> str:
    """A source in full: "Allen and others, Crop evapotranspiration …, 1998"; other words stay as they are."""
    source = doc["sources"].get(key)
    if source is None:
        return key
    return ", ".join(str(part) for part in (source["author"], source["title"], source["year"]) if part)


def source_short(doc: Document, key: str) -> str:
    """A source in brief, "Allen and others 1998", for a line that has to be short."""
    source = doc["sources"].get(key)
    if source is None:
        return key
    return " ".join(str(part) for part in (source["author"] or source["title"], source["year"]) if part)


def stage_words(doc: Document, row: Mapping[str, Any]) -> str:
    """A published stage behind a verdict: its heat sum, how made, where it stands, when, who says so."""
    now = "the sum today is not known" if row["sum_now"] is None else f"now {row['sum_now']}"
    dates = dates_words(row["earliest"], row["likely"], row["latest"])
    origin = f"{source_short(doc, row['source'])}; {row['status']}"
    return f"{row['range']}, {row['method']}, from {row['start']}; {now}; {dates} ({origin})."


def _note(doc: Document, figure_id: str, number: int, numbers: Mapping[str, int]) -> Note:
    figure = doc["figures"][figure_id]
    method = doc["methods"][figure["method"]]
    return Note(
        number=number,
        figure=figure_id,
        name=figure["name"],
        shown=figure["shown"],
        exact=exact_words(figure),
        range=figure_range(figure),
        method=figure["method"],
        method_name=method["name"],
        formula=method["formula"],
        limits=method["limits"],
        inputs=tuple(_input(doc, given, numbers) for given in figure["inputs"]),
        given=tuple(Given(one["name"], one["shown"], one["source"]) for one in figure["inputs"]),
        source=source_words(doc, method["source"]),
        source_id=method["source"],
        status=method["status"],
        note=figure["note"],
    )


def _input(doc: Document, given: Mapping[str, str], numbers: Mapping[str, int]) -> str:
    """One input in words with its origin: another figure's note, a method, a source, or plain words."""
    origin = given["source"]
    if origin in numbers:
        origin = f"note {numbers[origin]}"
    elif origin in doc["figures"]:
        origin = f"computed: {doc['figures'][origin]['name']}"
    elif origin in doc["methods"]:
        origin = f"method: {doc['methods'][origin]['name']}"
    else:
        origin = source_short(doc, origin)
    words = f"{given['name']}: {given['shown']}"
    return f"{words} ({origin})" if origin else words
