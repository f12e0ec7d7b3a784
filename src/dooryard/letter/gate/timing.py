"""The rule on stages: nothing is to be treated before its stage has begun or when it is past."""

from __future__ import annotations

from collections.abc import Iterator

from dooryard.letter.gate.context import NOT_HERE, OVER, SOON, TOO_EARLY, Context, Stage
from dooryard.letter.gate.draft import Sentence
from dooryard.letter.gate.finding import Hit
from dooryard.letter.gate.negation import denied
from dooryard.letter.gate.phrases import said, spans

WHY = {
    OVER: "It advises treating {name}, and its stage is over.",
    TOO_EARLY: "It advises treating {name}, and its stage has not begun.",
    SOON: "It advises treating {name}, and its stage has not begun.",
    NOT_HERE: "It advises treating {name}, which does not live on this plant.",
}
INSTEAD = {
    OVER: "Say that it is over, and what can be done by hand or next year.",
    TOO_EARLY: "Say that it is too early, and from which day to look.",
    SOON: "Say that it is too early, and from which day to look.",
    NOT_HERE: "Take it out.",
}


def hits(context: Context, sentence: Sentence) -> Iterator[Hit]:
    """Orders to treat, in one sentence, what is not in its stage."""
    orders = _orders(context, sentence.text)
    if not orders:
        return
    for stage, start, end in _named(context, sentence.text):
        if stage.word in WHY and not _put_off(context, stage, sentence.text):
            place = (start, end) if end else orders[0]
            yield Hit("stage", *place, WHY[stage.word].format(name=stage.name), INSTEAD[stage.word])


def _orders(context: Context, text: str) -> list[tuple[int, int]]:
    """Places of words that order a treatment and are not denied."""
    found = spans(context.words("act"), text)
    materials = [*context.words("material"), *context.words("mixture"), *context.words("brand")]
    if said(materials, text):
        found += spans(context.words("act with"), text)
    return sorted(span for span in found if not denied(context, text, span[0]))


def _named(context: Context, text: str) -> Iterator[tuple[Stage, int, int]]:
    """Organisms of the context that a sentence names; the letter's own subject if it names none at all."""
    named = False
    for stage in context.stages:
        places = spans(_names(stage.name), text)
        if places:
            named = True
            yield stage, *places[0]
    if not named and context.subject and not _names_other(context, text):
        yield from ((stage, 0, 0) for stage in context.stages if stage.organism == context.subject)


def _names(name: str) -> tuple[str, ...]:
    """A name and its plural: "lace bug", "lace bugs", "beetle larvae" as it is."""
    plural = f"{name[:-1]}ies" if name.endswith("y") else f"{name}es" if name.endswith("sh") else f"{name}s"
    return (name, plural)


def _names_other(context: Context, text: str) -> bool:
    every = (name for organism in context.knowledge.organisms.values() for name in _names(organism.name))
    return said(every, text)


def _put_off(context: Context, stage: Stage, text: str) -> bool:
    """Whether the sentence itself says the right time, or that it is past."""
    return said(context.words("later over" if stage.word == OVER else "later"), text)
