"""Sentence builders of the answer letter. Each takes facts and gives one or a few plain sentences."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from dooryard.care.diagnosis import Evidence, Word
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOT_HERE, NOW, OVER, SOON, TOO_EARLY
from dooryard.words import MONTHS, day_words, list_words, sentence

LOOKED: dict[Evidence, str] = {
    "told": "Nobody from our desk has looked; we know what you told us.",
    "photo": "We saw a photo.",
    "sample": "We had a sample in hand.",
    "lab": "A laboratory had a sample.",
}
NOT_MORE: dict[Evidence, str] = {
    "told": "From words alone we never say more than possible.",
    "photo": "From a photo we never say more than probable.",
    "sample": "Only a laboratory can confirm it.",
    "lab": "",
}
STAGES = {
    TOO_EARLY: "It is too early to treat {name}.",
    SOON: "It is still a little too early to treat {name}.",
    NOW: "Now is the time that counts for {name}.",
    CLOSING: "Only a few days are left for {name}.",
    OVER: "It is too late this year to treat {name}.",
    NOT_HERE: "We do not expect {name} here.",
    CANNOT_TELL: "Whether it is the time for {name} we cannot tell.",
}


def what_it_is(word: Word, name: str, plant: str) -> str:
    """The first sentence: what it is, with its word. name : of the cause, empty if it cannot be told."""
    if word == "confirmed":
        return f"The laboratory confirmed it: your {plant} has {name}."
    if word == "probable":
        return f"What you see on your {plant} is probably {name}."
    if word == "possible":
        return f"What you see on your {plant} may be {name}."
    return f"What ails your {plant} we cannot tell yet."


def what_to_do(stage: str, step: str, day: date | None) -> str:
    """The second sentence. stage : verdict word, or empty if no pest is timed. step : the mildest thing to do.

    day : when to look next, if the stage says it.
    """
    if stage in (TOO_EARLY, SOON) and day is not None:
        return f"Do not spray now: look again by {day_words(day)}."
    if stage in (TOO_EARLY, SOON):
        return "Do not spray now: its time has not come."
    if stage == OVER:
        return f"It is too late to spray this year: {_lower(step)}"
    if stage in (NOW, CLOSING):
        return f"Look first, and act only on what you find: {_lower(step)}"
    return sentence(step)


def how_sure(word: Word, evidence: Evidence) -> list[str]:
    """The confidence word and what limits it."""
    return [part for part in (f"We call this {word}.", LOOKED[evidence], NOT_MORE[evidence]) if part]


def as_well(names: Sequence[str], *, known: bool) -> str:
    """Other causes that fit nearly as well. known : whether one was named before them."""
    listed = list_words([name.split(",")[0] for name in names], "or")
    return f"It could be {listed} as well." if known else f"It could be {listed}, among others."


def cannot_wait(name: str) -> str:
    """A cause that is less likely but cannot wait."""
    return f"It may even be {name.split(',')[0]}, which cannot wait: tell us today if you think so."


def look_today(name: str) -> str:
    """What to do where a cause that cannot wait is among those that fit."""
    return f"Take the look below today, since it may be {name.split(',')[0]}, and spray nothing."


def without_material(first: str, *, urgent: bool) -> list[str]:
    """What can be done where no pest is treated. first : the mildest step. urgent : doing nothing is no choice."""
    rest = [f"First step: {_lower(first)}", "We advise no material for this."]
    return rest if urgent else ["Do nothing: leave it, if the plant grows on well.", *rest]


def would_change(question: str) -> str:
    """What would change the word. question : the most telling next look, empty if there is none."""
    if question:
        return f"One look would tell most: {question}"
    return "A sample in hand, or a laboratory's result, would change this word."


def who_looked(who: str) -> str:
    """Who looked, by role."""
    return f"Looked at by {who}."


def option(kind: str, action: str, when: str, against: Sequence[str]) -> str:
    """One thing to do, with its time. against : reasons why not now, in words."""
    head = f"{kind[:1].upper()}{kind[1:]}{', not now' if against else ''}"
    timed = f" Time: {when}." if when else ""
    reasons = f" Why not: {'; '.join(against)}." if against else ""
    return f"{head}: {_lower(action)}{timed}{reasons}"


def stage_said(stage: str, name: str) -> str:
    """Whether it is time, plainly."""
    return STAGES[stage].format(name=name)


def months_said(name: str, months: tuple[int, int]) -> str:
    """In which months a cause is seen."""
    called = f"{name[:1].upper()}{name[1:]}".split(",")[0]
    if months == (1, 12):
        return f"{called} can be seen all year."
    first, last = (MONTHS[month - 1] for month in months)
    return f"{called} is seen from {first} to {last}."


def no_amount() -> str:
    """Why no amount is named."""
    return "We name no amount. It stands on the label of the material in hand, and the label is the law."


def amount(mark: str, use: str, day: date) -> str:
    """An amount from the label card. mark : of its figure. use : what for. day : the label was read."""
    return f"The label in hand gives {mark} for {use}. It was read on {day_words(day, year=True)}."


def look_again(day: date, sign: str) -> list[str]:
    """The follow-up date and what result to look for."""
    return [
        f"Look at the plant again on {day_words(day, year=True)}.",
        f"What to look for: {_lower(sign)}" if sign else "Is it more, less, or the same?",
        "Write to us what you find, with the code of this letter.",
    ]


def sources(titles: Sequence[str]) -> str:
    """Whose facts these are."""
    return f"The facts are from: {'; '.join(titles)}."


def names(words: Sequence[str]) -> str:
    """Things in a row."""
    return list_words(words)


def _lower(text: str) -> str:
    """A sentence as it goes on behind a colon: a name keeps its capital, an order does not."""
    said = sentence(text)
    first = said.split()[0].rstrip(",.") if said else ""
    keeps = first in _PROPER or (len(first) > 1 and not first[1:].islower())
    return said if keeps else said[:1].lower() + said[1:]


_PROPER = ("Bt", "Japanese", "Nitrogen")
