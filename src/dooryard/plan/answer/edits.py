"""The adviser's own words over the computed ones, and what moved beneath them since."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from dooryard.plan.answer.case import Edit, Part


@dataclass(frozen=True)
class Moved:
    """A part whose computed words changed since somebody edited it. new, gone : sentences that came and went."""

    part: Part
    new: tuple[str, ...]
    gone: tuple[str, ...]
    unknown: bool = False
    """True if the edit does not say what it replaced."""


def laid_over(
    computed: Mapping[Part, Sequence[str]], edits: Sequence[Edit], spelled: Mapping[Part, str]
) -> tuple[dict[Part, tuple[str, ...]], tuple[Moved, ...]]:
    """The parts as they are sent, and what moved.

    computed : sentences of each part, figures as marks. spelled : each part's words as a reader sees them. An edit
    replaces its whole part; the computed words are only compared.
    """
    parts = {part: tuple(said) for part, said in computed.items()}
    moved = []
    for edit in edits:
        parts[edit.part] = tuple(_sentences(edit.text))
        if not edit.was:
            moved.append(Moved(edit.part, tuple(_sentences(spelled[edit.part])), (), unknown=True))
        elif _plain(edit.was) != _plain(spelled[edit.part]):
            before, now = _sentences(edit.was), _sentences(spelled[edit.part])
            known = {_plain(one) for one in before}, {_plain(one) for one in now}
            moved.append(
                Moved(
                    edit.part,
                    tuple(one for one in now if _plain(one) not in known[0]),
                    tuple(one for one in before if _plain(one) not in known[1]),
                )
            )
    return parts, tuple(moved)


def _sentences(text: str) -> list[str]:
    return [part.strip() for part in re.split(r"(?<=[.?])\s+(?=[A-Z0-9])", text) if part.strip()]


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
