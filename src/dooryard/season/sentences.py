"""The sentences of a verdict: short, dated, in the order answer, reason, what to do."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from dooryard.knowledge import Organism, Stage
from dooryard.season.heat import NOT_STATED
from dooryard.season.windows import CLOSING, NOW, OVER, SOON, TOO_EARLY, Moment, WindowVerdict

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip


def day_words(day: date) -> str:
    """8 June."""
    return f"{day.day} {_MONTHS[day.month - 1]}"


def month_day_words(month_day: str) -> str:
    """1 March, from the "03-01" of a table."""
    month, day = month_day.split("-")
    return f"{int(day)} {_MONTHS[int(month) - 1]}"


def span_words(moment: Moment) -> str:
    """7 June (6 to 8 June at the outside); without a likely day, between the days known."""
    if moment.likely is None:
        if moment.earliest is None:
            return "a day we do not know"
        if moment.latest is None:
            return f"{day_words(moment.earliest)} at the earliest, and not in every year"
        return f"a day between {day_words(moment.earliest)} and {day_words(moment.latest)}"
    if moment.earliest == moment.latest or moment.earliest is None:
        return day_words(moment.likely)
    if moment.latest is None:
        return f"about {day_words(moment.likely)} ({day_words(moment.earliest)} at the earliest)"
    early, late = moment.earliest, moment.latest
    first = str(early.day) if early.month == late.month else day_words(early)
    return f"about {day_words(moment.likely)} ({first} to {day_words(late)})"


def reason(one: WindowVerdict) -> str:
    """Why the window's word holds today."""
    name = one.window.name
    if one.word in (TOO_EARLY, SOON):
        return f"The time for {name} is likely to begin {span_words(one.opens)}."
    if one.word in (NOW, CLOSING):
        began = f"The time for {name} began {span_words(one.opens)}"
        return f"{began} and is likely to end {span_words(one.closes)}."
    if one.word == OVER:
        return f"The time for {name} ended {span_words(one.closes)}."
    return f"Nine of ten past years would not bring enough heat for {name} before this year ends."


def conflict(verdicts: Sequence[WindowVerdict], authors: Sequence[str], numbers: Sequence[str]) -> str:
    """How the tables differ: the earliest and the latest opening, and what each says about today.

    verdicts, authors, numbers : the windows of one brood with their table's author and opening number in
    words.
    """
    dated = [
        (one.opens.likely, author, number)
        for one, author, number in zip(verdicts, authors, numbers, strict=True)
        if one.opens.likely is not None
    ]
    text = "The tables differ."
    if len(dated) > 1:
        first, last = min(dated), max(dated)
        text += (
            f" By {first[1]} ({first[2]}) it begins {day_words(first[0])},"
            f" by {last[1]} ({last[2]}) {day_words(last[0])}."
        )
    sayers: dict[str, dict[str, None]] = {}
    for one, author in zip(verdicts, authors, strict=True):
        sayers.setdefault(one.word, {})[author] = None
    if len(sayers) == 1:
        return f"{text} About today they agree."
    said = "; ".join(f"{word} ({', '.join(who)})" for word, who in sayers.items())
    return f"{text} About today they say: {said}."


def number_words(stage: Stage, bound: str) -> str:
    """630 degree-days above 50 °F, as the table prints it."""
    value = stage.dd_high if bound == "high" and stage.dd_high is not None else stage.dd_low
    return f"{value:g} degree-days above {stage.base:g} °{stage.unit}"


def row_note(stage: Stage) -> str:
    """What a reader must know about one published number."""
    if stage.kind == "calendar":
        return f"Dates from {stage.place}, not yours."
    notes = []
    if stage.start == NOT_STATED:
        notes.append(f"The table does not state its start; summed from {month_day_words(stage.start_used)}.")
    if stage.method == NOT_STATED:
        notes.append("The table does not state its method; the plain mean is used.")
    return " ".join(notes)


def look_first(organism: Organism) -> str:
    """What to do when the numbers cannot decide."""
    return f"Look on the plant itself. {organism.look} Treat only if you find {organism.treatable}."
