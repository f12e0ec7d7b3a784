"""The trouble finder: what an owner sees or asks, what may be behind it, how to test that, and what to do then."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dooryard.knowledge.rows import Trouble
from dooryard.plan.document import Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.problem import InputError, Problem, nearest


def by_symptom(troubles: Mapping[str, Trouble]) -> dict[str, list[Trouble]]:
    """Rows under what is seen or asked, in table order."""
    found: dict[str, list[Trouble]] = {}
    for row in troubles.values():
        found.setdefault(row.symptom, []).append(row)
    return found


def find(troubles: Mapping[str, Trouble], words: str) -> dict[str, list[Trouble]]:
    """The troubles that some words mean.

    words : as a person types them. A symptom is found if they are or hold one of its own words; if there is none,
    if its sentence holds them.

    Raises
    ------
    InputError
        If none is found; suggests near words, else lists all symptoms.
    """
    wanted = " ".join(words.lower().split())
    whole = by_symptom(troubles)
    named = {symptom: rows for symptom, rows in whole.items() if _named(rows[0], wanted)}
    spoken = {symptom: rows for symptom, rows in whole.items() if wanted and wanted in symptom.lower()}
    if named or spoken:
        return named or spoken
    known = {word for rows in whole.values() for word in rows[0].words}
    raise InputError(
        Problem(
            "The trouble finder has no entry for this.",
            nearest(wanted, known) or f"It knows: {'; '.join(symptom.rstrip('?') for symptom in whole)}.",
            field="--trouble",
            found=words,
        )
    )


def _named(row: Trouble, wanted: str) -> bool:
    """Whether the words are one of the row's own, or hold one as whole words."""
    padded = f" {wanted} "
    return any(word == wanted or f" {word} " in padded for word in row.words)


def topics(found: Mapping[str, Sequence[Trouble]]) -> frozenset[str]:
    """Parts of the report that hold the yard's own numbers on these troubles."""
    return frozenset(topic for rows in found.values() for row in rows for topic in row.topics)


def describe_found(draft: Draft, found: Mapping[str, Sequence[Trouble]]) -> None:
    """Add one stop for each symptom, every cause with its test and what to do then."""
    for symptom, rows in found.items():
        several = len(rows) > 1
        sentences = []
        for number, row in enumerate(rows, 1):
            draft.caution(*row.cautions)
            draft.more_sources.add(row.source)
            lead = f"{number}. " if several else ""
            sentences.append(f"{lead}{row.cause} Test: {row.test} Then: {row.fix}")
        draft.walk.append(Stop("part", f"trouble-{slug(symptom)}", symptom, tuple(sentences)))


def describe_all(draft: Draft) -> None:
    """Add the whole trouble finder as one table. Its cautions stand with the single entries, else all would be told."""
    rows = []
    for symptom, causes in by_symptom(draft.knowledge.troubles).items():
        for number, row in enumerate(causes):
            draft.more_sources.add(row.source)
            seen = f"{symptom.rstrip('?.')}{'?' if symptom.endswith('?') else ':'}" if number == 0 else "or:"
            rows.append((f"{seen} {_within(row.cause)}", row.test, row.fix))
    table = Table(
        "What is seen or asked and what may be behind it, a test, and what to do then",
        (("Seen or asked", "left"), ("Test", "left"), ("Then", "left")),
        tuple(rows),
    )
    said = 'If something goes wrong, look here first. "dooryard water" with --trouble and a word shows one entry alone.'
    draft.walk.append(Stop("part", "troubles", "If something goes wrong", (said,), table))


def _within(text: str) -> str:
    """A sentence after a colon: its first letter small, unless the word is a name or a number."""
    first = text.split(" ", 1)[0]
    return text if first in ("I", "US", "Birds") or first[:1].isdigit() else text[:1].lower() + text[1:]
