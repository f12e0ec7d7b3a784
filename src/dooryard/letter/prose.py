"""Words shared by every form a plan takes: figure marks replaced, tasks and verdicts in words, note numbers.

A text of the plan document may hold marks such as ``[[storage.back-barrel.level]]``. Everything else in it is
plain text. Here the mark becomes the figure's shown text ("about 40 gal"), the same in every form.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import timedelta
from string import ascii_uppercase
from typing import Any

from dooryard.words import MONTHS, as_date, day_words, range_words, sentence

Document = Mapping[str, Any]
Figures = Mapping[str, Mapping[str, Any]]

VERDICTS = ("too early", "soon", "now", "closing", "over", "not here", "cannot tell")
CHOICES_LEAD = "Choices, mildest first"
VERBS = ("Look", "Do", "Wait", "Ask")
_MARK = re.compile(r"\[\[([^\[\]]+)\]\]")


# --- figure marks ---------------------------------------------------------------------------------


def pieces(text: str) -> Iterator[tuple[str, str | None]]:
    """The text cut at its marks, in order: ``(plain text, None)`` or ``("", figure id)``."""
    end = 0
    for found in _MARK.finditer(text):
        if found.start() > end:
            yield text[end : found.start()], None
        yield "", found.group(1)
        end = found.end()
    if end < len(text):
        yield text[end:], None


def spell(text: str, figures: Figures, mark: Callable[[str, str], str] | None = None) -> str:
    """The text with every ``[[id]]`` replaced by that figure's shown text.

    mark : called with (figure id, shown text) and gives what stands in the text instead, such as the shown
        text with a note number behind it.

    Raises KeyError with the id if the document has no such figure.
    """

    def shown(found: re.Match[str]) -> str:
        figure_id = found.group(1)
        words = str(figures[figure_id]["shown"])
        return words if mark is None else mark(figure_id, words)

    return _MARK.sub(shown, text)


def marks_in(text: str) -> list[str]:
    """The figure ids marked in a text, in order, repeats included."""
    return _MARK.findall(text)


def texts(doc: Document) -> Iterator[str]:
    """Every text of the document that may hold marks, in the order all forms print them."""
    yield from doc["summary"]
    for task in doc["tasks"]:
        yield from task_texts(task)
    for caution in doc["cautions"]:
        yield caution["text"]
    for task in doc["ahead"]:
        yield from task_texts(task)
    charts = {chart["id"]: chart for chart in doc["charts"]}
    placed: set[str] = set()
    for stop in doc["walk"]:
        yield from stop["sentences"]
        if stop.get("table"):
            yield from table_texts(stop["table"])
        for chart_id in stop.get("charts", ()):
            placed.add(chart_id)
            yield from chart_texts(charts[chart_id])
    for organism in doc["organisms"]:
        yield from organism_texts(organism)
    for chart_id, chart in charts.items():
        if chart_id not in placed:
            yield from chart_texts(chart)
    for refusal in doc["refusals"]:
        yield from (refusal["what"], refusal["missing"], refusal["how"])
    yield from doc["record"]


def task_texts(task: Mapping[str, Any]) -> Iterator[str]:
    """What a task says, in printed order."""
    yield from (task["what"], task["why"], task["if_missed"])


def organism_texts(organism: Mapping[str, Any]) -> Iterator[str]:
    """What a verdict says, in printed order, its table of stages last."""
    yield organism["sentence"]
    for key in ("reason", "do"):
        if organism.get(key):
            yield organism[key]
    yield from organism.get("choices", ())
    if organism.get("conflict"):
        yield organism["conflict"]
    for row in organism.get("rows", ()):
        yield from (str(row[key]) for key in ("stage", "range", "sum_now") if row.get(key) is not None)


def table_texts(table: Mapping[str, Any]) -> Iterator[str]:
    """A table's caption, heads and cells, row by row."""
    yield table.get("caption") or ""
    for column in table["columns"]:
        yield column["text"] if isinstance(column, Mapping) else str(column)
    for row in table["rows"]:
        yield from (str(cell) for cell in row if cell is not None)


def chart_texts(chart: Mapping[str, Any]) -> Iterator[str]:
    """A drawing's title and words (its numbers carry no marks)."""
    yield from (chart["title"], chart["words"])


def footnotes(doc: Document) -> dict[str, int]:
    """Number of the why note of each figure, from 1, by first appearance over the document's texts.

    A figure no text mentions has no note. Raises KeyError with the id if a mark names an unknown figure.
    """
    numbers: dict[str, int] = {}
    for text in texts(doc):
        for figure_id in marks_in(text):
            if figure_id not in doc["figures"]:
                raise KeyError(figure_id)
            numbers.setdefault(figure_id, len(numbers) + 1)
    return numbers


# --- tasks and verdicts ---------------------------------------------------------------------------

WEEK_DAYS = 7


def week_tasks(doc: Document) -> list[Mapping[str, Any]]:
    """The tasks whose window opens within seven days of the plan's day, in the document's order."""
    end = as_date(doc["on"]) + timedelta(days=WEEK_DAYS)
    return [task for task in doc["tasks"] if as_date(task["from"]) < end]


def later_tasks(doc: Document) -> list[Mapping[str, Any]]:
    """The tasks of the near plan whose window opens after the first seven days."""
    end = as_date(doc["on"]) + timedelta(days=WEEK_DAYS)
    return [task for task in doc["tasks"] if as_date(task["from"]) >= end]


def task_days(task: Mapping[str, Any]) -> str:
    """A task's window and its best day: "6 to 8 June, best on 7"."""
    first, last = as_date(task["from"]), as_date(task["to"])
    words = range_words(first, last)
    if task.get("best") is None or first == last:
        return words
    best = as_date(task["best"])
    one_month = (first.year, first.month) == (last.year, last.month)
    return f"{words}, best on {best.day if one_month else day_words(best)}"


def caution_parts(doc: Document) -> dict[str, list[str]]:
    """Ids of all cautions, each in one part: "week" (a task of this week names it), "always" (none does), "later"."""
    week = {key for task in week_tasks(doc) for key in task["cautions"]}
    named = {key for task in [*doc["tasks"], *doc["ahead"]] for key in task["cautions"]}
    parts: dict[str, list[str]] = {"week": [], "always": [], "later": []}
    for caution in doc["cautions"]:
        key = caution["id"]
        parts["week" if key in week else "later" if key in named else "always"].append(key)
    return parts


def caution_letters(doc: Document) -> dict[str, str]:
    """The letter of each caution that a task names, the same in every form: A, B … Z, then A2, B2 …"""
    parts = caution_parts(doc)
    found = {}
    for index, key in enumerate([*parts["week"], *parts["later"]]):
        turn, place = divmod(index, len(ascii_uppercase))
        found[key] = ascii_uppercase[place] + (str(turn + 1) if turn else "")
    return found


def headline(task: Mapping[str, Any]) -> tuple[str, str]:
    """A task's verb and the rest: ("Do:", " clear the screen."), but ("Look", " for fresh sawdust.")."""
    verb, what = task["verb"], sentence(task["what"])
    if what.startswith(f"{verb} "):
        return verb, what[len(verb) :]
    # What to do begins with an order, never with a name, so its capital may go.
    return f"{verb}:", f" {what[:1].lower()}{what[1:]}"


def verdict_words(organism: Mapping[str, Any]) -> tuple[str, str]:
    """A verdict's word, capitalised, and the rest of its sentence: ("Soon", ": eggs begin to hatch …")."""
    word, text = organism["word"].capitalize(), sentence(organism["sentence"])
    if text.lower().startswith(organism["word"]):
        return word, text[len(word) :]
    return word, f": {text}"


def station_words(doc: Document) -> str:
    """Where the weather comes from: "Mill, 4 miles from the yard; record 1 January 1981 to 19 May 2031."; or ""."""
    station = doc["station"]
    if station is None:
        return ""
    record = f"record {range_words(station['first'], station['last'], year=True)}"
    said = station["words"].strip().rstrip(".")
    return f"{station['name']}, {said}; {record}." if said else f"{station['name']}, {record}."


def refusal_words(refusal: Mapping[str, Any]) -> str:
    """A refusal's three parts as sentences: what we will not say, what is missing, how to get it."""
    return " ".join(sentence(refusal[part]) for part in ("what", "missing", "how") if refusal[part])


# --- keeping a number and its unit on one line ----------------------------------------------------

NO_BREAK = "\N{NO-BREAK SPACE}"
_UNITS = (
    r"(?:sq ft|sq in|cu ft|fl oz|gal|in|ft|yd|lb|oz|psi|mph|mm|cm|m²|m2|m|km|L|kg|g|kPa|N|°F·d|°C·d|°F|°C|"
    r"h|min|hours?|minutes?|days?|weeks?|months?|years?|%|percent|times)"
)
_NUMBER_UNIT = re.compile(rf"(?<=[0-9½¼¾]) (?={_UNITS}(?![A-Za-z]))")
_UNIT_WORDS = re.compile(r"(?<=[0-9½¼¾]\N{NO-BREAK SPACE}sq|[0-9½¼¾]\N{NO-BREAK SPACE}cu) (?=ft|in)")
_MIXED = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]+|[½¼¾])")
_LIKELY = re.compile(r"(?<=likely|est on) (?=[0-9]{1,2}(?![0-9]| [A-Z]))")
_DAY_MONTH = re.compile(rf"(?<=[0-9]) (?=(?:{'|'.join(MONTHS)})\b)")


def hold_together(text: str) -> str:
    """The text with a no-break space in number and unit, day and month, 1 and 1/4, "likely 24"."""
    text = _MIXED.sub(NO_BREAK, text)
    text = _NUMBER_UNIT.sub(NO_BREAK, text)
    text = _UNIT_WORDS.sub(NO_BREAK, text)
    text = _LIKELY.sub(NO_BREAK, text)
    return _DAY_MONTH.sub(NO_BREAK, text)


# --- signs a typeface or a terminal may lack ------------------------------------------------------

IN_WORDS = {
    "≤": "at most ",
    "≥": "at least ",
    "→": "to",
    "′": " ft",
    "″": " in",
    "≈": "about ",
    "∞": "without end",
    "\N{NARROW NO-BREAK SPACE}": NO_BREAK,
    "\N{NON-BREAKING HYPHEN}": "-",
    "\N{FIGURE SPACE}": NO_BREAK,
}


def signs_in_words(text: str) -> str:
    """Signs our typeface lacks (at most, at least, arrows, feet and inches) put in words."""
    for sign, words in IN_WORDS.items():
        if sign in text:
            text = text.replace(sign, words)
    return re.sub(r"(?<=\S)  +(?=\S)", " ", text)


def all_of(parts: Iterable[str]) -> str:
    """Parts that say something, joined by a space."""
    return " ".join(part for part in parts if part)
