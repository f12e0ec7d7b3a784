"""What the gate says: one reason is one rule broken in one sentence."""

from __future__ import annotations

from dataclasses import dataclass

RULES = {
    "brand": "brand name",
    "mixture": "homemade mixture",
    "label": "said without the label",
    "stage": "stage over or not begun",
    "hazard tree": "opinion on a tree's safety",
    "medical": "medical advice",
    "policy": "outside the county's policy",
    "caution": "missing caution",
    "range": "missing range",
    "number": "a number that differs",
    "private": "private data",
}
"""The rules in the order they are told, each in words."""


@dataclass(frozen=True, order=True)
class Place:
    """Words of a text. start, end : signs from its beginning, the end not included."""

    start: int
    end: int
    words: str


@dataclass(frozen=True)
class Hit:
    """One breach as a rule finds it, before those of one sentence are put together."""

    rule: str
    start: int
    end: int
    why: str
    instead: str


@dataclass(frozen=True)
class Finding:
    """One reason against a text.

    rule : a key of `RULES`. start, end, words : the first place. why : the reason, a sentence. instead : what to
    write instead. places : every place of the reason, the first one too.
    """

    rule: str
    start: int
    end: int
    words: str
    why: str
    instead: str
    places: tuple[Place, ...]

    @property
    def key(self) -> str:
        """What an override names: the rule, and the words in small letters."""
        return f"{self.rule}: {' / '.join(_plain(place.words) for place in self.places)}"


def _plain(words: str) -> str:
    return " ".join(words.lower().split())
