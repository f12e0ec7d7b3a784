"""Rows of the review gate: words it looks for, by rule; the columns of their table, and how a line becomes a row."""

from __future__ import annotations

from dataclasses import dataclass

from dooryard.knowledge.cells import Cells
from dooryard.knowledge.tables import Table, columns

REASONS = ("brand", "mixture", "label", "hazard tree", "medical")
"""Rules whose words are a reason by themselves."""

USES = (
    "act",
    "act with",
    "not",
    "later",
    "later over",
    "material",
    "task",
    "said",
    "barrel",
    "food",
    "cut",
    "lost",
)
"""What other rules need words for: verbs, negations, delays, materials, cautions said, policy."""


@dataclass(frozen=True, slots=True)
class GateWords:
    """Words of one rule.

    rule : one of `REASONS` or `USES`. words : phrases, in which ``*`` stands for letters, ``|`` for or, ``#`` for a
    number and ``...`` for up to four words. unless : phrases that make them harmless in the same sentence.
    cautions : keys of the cautions that must be said with them (or, for ``said``, that they say). why, instead :
    sentences for the finding.
    """

    key: str
    rule: str
    words: tuple[str, ...]
    unless: tuple[str, ...]
    cautions: tuple[str, ...]
    why: str
    instead: str
    source: str
    status: str
    note: str
    origin: str


def _words(c: Cells) -> GateWords:
    rule = c.word("rule", (*REASONS, *USES))
    reason = rule in REASONS
    row = GateWords(
        key=c.filled("key"),
        rule=rule,
        words=c.words("words"),
        unless=c.words("unless"),
        cautions=c.words("cautions"),
        why=c.filled("why") if reason else c.text("why"),
        instead=c.filled("instead") if reason else c.text("instead"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )
    if not row.words:
        c.fault("words", "This cell holds no word.", "Write the words, parted by semicolons.")
    return row


GATE_WORDS = Table(
    "gate_words.csv",
    columns("key,rule,words,unless,cautions,why,instead,source,status,note"),
    _words,
    lambda row: row.key,
)
