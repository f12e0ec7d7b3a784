"""The rule on the county's policy: barrel water on food plants, how much crown may go, naming materials."""

from __future__ import annotations

import re
from collections.abc import Iterator

from dooryard.letter.gate.cautions import given
from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import Sentence
from dooryard.letter.gate.finding import Hit
from dooryard.letter.gate.negation import denied
from dooryard.letter.gate.phrases import said, spans

_SHARE = re.compile(
    r"(?<![\w.])(\d{1,3})(?:\s*(?:%|per ?cent|percent))?(?:\s*(?:to|-)\s*(\d{1,3}))?\s*(?:%|per ?cent|percent)"
    r"|(?<!\w)(half|two thirds|three quarters|most of|all of)(?!\w)",
    re.IGNORECASE,
)
_WORDS = {"half": 50, "two thirds": 66, "three quarters": 75, "most of": 75, "all of": 100}
_CROWN = re.compile(
    r"\b(?:crown|canopy|foliage|live branches|its branches|leaves of the tree|live wood|leaf area)\b",
    re.IGNORECASE,
)
_EXEMPT = ("never", "not", "no", "at most", "no more than", "not more than", "up to", "less than", "under")


def hits(context: Context, sentence: Sentence, whole: str) -> Iterator[Hit]:
    """What one sentence advises against the county's policy. whole : the full text."""
    yield from _barrel(context, sentence.text, whole)
    yield from _crown(context, sentence.text)
    if not context.policy.materials:
        for row in context.rows("material"):
            for span in spans(row.words, sentence.text):
                why = "This county's letters name no material."
                yield Hit("policy", *span, why, 'Write "a material whose label lists this plant and pest".')


def _barrel(context: Context, text: str, whole: str) -> Iterator[Hit]:
    water, food = spans(context.words("barrel"), text), spans(context.words("food"), text)
    if not water or not food:
        return
    if (
        denied(context, text, food[0][0])
        or denied(context, text, water[0][0])
        or said(("keep ... off", "some offices say", "do not", "never"), text)
    ):
        return
    place = (min(water[0][0], food[0][0]), max(water[0][1], food[0][1]))
    if context.policy.vegetables == "never":
        yield Hit(
            "policy", *place, "This county advises against barrel water on food plants.",
            "Write that barrel water is kept off food plants.",
        )  # fmt: skip
    elif not given(context, "water.edibles", whole):
        yield Hit(
            "policy", *place, "This county allows barrel water on food plants only with care.",
            "Add: water the soil only, in the morning, and wash what you pick.",
        )  # fmt: skip


def _crown(context: Context, text: str) -> Iterator[Hit]:
    if not _CROWN.search(text):
        return
    cut_most = _limit(context, context.policy.cut_most, "prune.crown_most")
    lost_most = _limit(context, context.policy.lost_most, "drench.crown_lost_most")
    treats = [span for span in spans(context.words("act"), text) if not denied(context, text, span[0])]
    cuts = [span for span in spans(context.words("cut"), text) if not denied(context, text, span[0])]
    lost = spans(context.words("lost"), text)
    for found in _SHARE.finditer(text):
        share = _WORDS[found[3].lower()] if found[3] else float(found[2] or found[1])
        before = text[max(0, found.start() - 14) : found.start()].lower()
        if any(before.rstrip().endswith(word) for word in _EXEMPT):
            continue
        if treats and lost and share > lost_most:
            why = f"This county treats no tree that has lost more than {lost_most:.0f} % of its crown."
            yield Hit(
                "policy", *found.span(), why, "Say that it is too late to treat, and to ask an arborist."
            )
        elif cuts and not lost and share > cut_most:
            why = f"This county lets no more than {cut_most:.0f} % of a live crown be cut in a year."
            yield Hit("policy", *found.span(), why, f"Write at most {cut_most:.0f} %, over more years.")


def _limit(context: Context, own: float | None, fact: str) -> float:
    """Per cent: the county's own, else the fact's."""
    return round((context.knowledge.fact(fact).value if own is None else own) * 100, 6)
