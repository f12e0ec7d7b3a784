"""Phrases of the words table as patterns: letters, choices, numbers and gaps."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

_GAP = r"(?:[^\s.!?]+\s+){0,4}?"
_NUMBER = r"\d[\d,.]*"


@lru_cache(maxsize=2048)
def pattern(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """One pattern for several phrases, the longest first. Any blank matches any run of blanks or hyphens' like.

    phrases : as in the words table; at least one.
    """
    ordered = sorted(phrases, key=len, reverse=True)
    return re.compile("|".join(f"(?:{_phrase(one)})" for one in ordered), re.IGNORECASE)


def _phrase(phrase: str) -> str:
    parts: list[str] = []
    for word in phrase.split():
        if word == "...":
            parts.append(_GAP)
            continue
        choices = "|".join(_word(choice) for choice in word.split("|"))
        parts.append(rf"(?:{choices})[,;:]?\s+")
    body = "".join(parts)
    # The last word is followed by no blank.
    body = body.removesuffix(r"[,;:]?\s+")
    return rf"(?<![\w-]){body}(?![\w])"


def _word(word: str) -> str:
    if word == "#":
        return _NUMBER
    return re.escape(word).replace(r"\*", r"[\w-]*").replace(r"\-", r"[-\s]?" if "*" not in word else r"-")


def spans(phrases: Iterable[str], text: str) -> list[tuple[int, int]]:
    """Where phrases stand in a text, in order, never one over another. phrases : none gives none."""
    listed = tuple(phrases)
    return [found.span() for found in pattern(listed).finditer(text)] if listed else []


def said(phrases: Iterable[str], text: str) -> bool:
    """Whether any of the phrases stands in a text."""
    listed = tuple(phrases)
    return bool(listed) and pattern(listed).search(text) is not None
