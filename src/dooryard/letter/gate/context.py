"""What the gate knows beside the text: the day, verdicts, figures, the label card, the policy, names to keep out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from dooryard.care.card import Card
from dooryard.knowledge import Knowledge
from dooryard.knowledge.gate_tables import GateWords
from dooryard.letter.gate.policy import Policy
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CLOSING, NOT_HERE, NOW, OVER, SOON, TOO_EARLY

__all__ = ["CLOSING", "NOT_HERE", "NOW", "OVER", "SOON", "TOO_EARLY", "Context", "Stage", "stage_of"]


@dataclass(frozen=True)
class Stage:
    """The verdict on one organism that day. organism : key. name : common name. word : verdict word."""

    organism: str
    name: str
    word: str


def stage_of(verdict: OrganismVerdict) -> Stage:
    """A verdict of the season room, as the gate needs it."""
    return Stage(verdict.organism, verdict.name, verdict.word)


@dataclass(frozen=True)
class Context:
    """What a text is held against.

    knowledge : the tables, a county's own laid over them. on : day of the letter. stages : verdicts of that day.
    subject : key of the organism the letter is about, or empty. plant : the plant it is about. figures : as in a
    document, by id. days : days that may be named without a range (the letter's own, a sighting's, a follow-up).
    card : the label card in hand. names : of people and places to keep out. places : names that may
    stand. known : wordings that may stand, such as titles of sources.
    """

    knowledge: Knowledge
    on: date
    stages: tuple[Stage, ...] = ()
    subject: str = ""
    plant: str = ""
    figures: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    days: tuple[date, ...] = ()
    card: Card | None = None
    policy: Policy = field(default_factory=Policy)
    names: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    known: tuple[str, ...] = ()

    def rows(self, rule: str) -> tuple[GateWords, ...]:
        """Rows of the words table of one rule, in table order."""
        return self._by_rule.get(rule, ())

    def words(self, rule: str) -> tuple[str, ...]:
        """All words of one rule."""
        return tuple(word for row in self.rows(rule) for word in row.words)

    @cached_property
    def _by_rule(self) -> Mapping[str, tuple[GateWords, ...]]:
        found: dict[str, tuple[GateWords, ...]] = {}
        for row in self.knowledge.gate_words.values():
            found[row.rule] = (*found.get(row.rule, ()), row)
        return found
