"""A text against all rules. One reason is one rule broken in one sentence, with every place of it."""

from __future__ import annotations

from collections.abc import Iterator

from dooryard.letter.gate import cautions, numbers, privacy, rates, settled, timing, worded
from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import Sentence, sentences, straight, without
from dooryard.letter.gate.finding import RULES, Finding, Hit, Place


def review(text: str, context: Context) -> tuple[Finding, ...]:
    """Every reason against sending a text, in the order of the text; none if it may go.

    text : as it would be sent, figures spelled out. context : what it is held against. A treatment that is a brand or a
    homemade mixture is asked for no cautions: they depend on what is put in its place. A promise of safety and an
    amount in one sentence are one reason: both are the label's to give.
    """
    whole = straight(text)
    # What the tables themselves say is well said, and stands there for its own sake.
    free = without(whole, [*(one.text for one in context.knowledge.cautions.values()), *context.known])
    found = [
        reason
        for sentence in sentences(free)
        for reason in _reasons(sentence, list(_hits(context, sentence, whole)), text)
    ]
    return tuple(sorted(found, key=lambda one: (one.start, list(RULES).index(one.rule))))


def _hits(context: Context, sentence: Sentence, whole: str) -> Iterator[Hit]:
    yield from worded.hits(context, sentence)
    yield from rates.hits(context, sentence)
    yield from timing.hits(context, sentence)
    yield from settled.hits(context, sentence, whole)
    yield from cautions.hits(context, sentence, whole)
    yield from numbers.hits(context, sentence)
    yield from privacy.hits(context, sentence)


def _reasons(sentence: Sentence, hits: list[Hit], text: str) -> Iterator[Finding]:
    for rule in RULES:
        of_rule = sorted((hit for hit in hits if hit.rule == rule), key=lambda hit: (hit.start, -hit.end))
        # A word inside words already found says nothing new.
        apart = [
            hit
            for at, hit in enumerate(of_rule)
            if not any(other.start <= hit.start and hit.end <= other.end for other in of_rule[:at])
        ]
        if apart:
            places = tuple(_place(sentence, hit, text) for hit in apart)
            first = places[0]
            why = " ".join(dict.fromkeys(hit.why for hit in apart))
            instead = " ".join(dict.fromkeys(hit.instead for hit in apart))
            yield Finding(rule, first.start, first.end, first.words, why, instead, places)


def _place(sentence: Sentence, hit: Hit, text: str) -> Place:
    start, end = sentence.start + hit.start, sentence.start + hit.end
    return Place(start, end, text[start:end])
