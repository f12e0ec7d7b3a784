"""The rule on cautions: whoever names a treatment says what goes with it, in the same letter."""

from __future__ import annotations

from collections.abc import Iterator

from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import Sentence
from dooryard.letter.gate.finding import Hit
from dooryard.letter.gate.negation import denied
from dooryard.letter.gate.phrases import said, spans
from dooryard.words import list_words

SHORT = {
    "label-law": "read the label in hand",
    "bees-bloom": "nothing on open flowers",
    "people-pets-dry": "children and pets away until dry",
    "wear": "gloves and eye cover",
}


def hits(context: Context, sentence: Sentence, whole: str) -> Iterator[Hit]:
    """Treatments named in one sentence without their cautions anywhere in the text. whole : the full text."""
    for rule in ("material", "task"):
        for row in context.rows(rule):
            if said(row.unless, sentence.text):
                continue
            places = [
                one for one in spans(row.words, sentence.text) if not denied(context, sentence.text, one[0])
            ]
            missing = [key for key in row.cautions if not given(context, key, whole)] if places else []
            if missing:
                yield Hit(
                    "caution",
                    *places[0],
                    f"{_said(sentence.text, places[0])} goes with cautions that are not said.",
                    _do(context, missing),
                )


def given(context: Context, key: str, whole: str) -> bool:
    """Whether a text says a caution: its own sentence, or words that stand for it."""
    caution = context.knowledge.cautions.get(key)
    if caution is not None and " ".join(caution.text.split()) in " ".join(whole.split()):
        return True
    return said([word for row in context.rows("said") if key in row.cautions for word in row.words], whole)


def _said(text: str, place: tuple[int, int]) -> str:
    words = " ".join(text[place[0] : place[1]].split())
    return words[:1].upper() + words[1:]


def _do(context: Context, missing: list[str]) -> str:
    told = [SHORT.get(key) or context.knowledge.cautions[key].text.split(".")[0].lower() for key in missing]
    return f"Add: {list_words(told)}."
