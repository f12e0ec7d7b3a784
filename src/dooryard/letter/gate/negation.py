"""Whether a word is denied by the few words before it: "do not spray", "no oil, soap or vinegar"."""

from __future__ import annotations

import re

from dooryard.letter.gate.context import Context
from dooryard.letter.gate.phrases import said, spans

MOST_WORDS = 5
_BREAK = re.compile(r"[,;:()]|\s-\s|\b(?:but|and then|then)\b", re.IGNORECASE)
_LINK = re.compile(r"\s*(?:(?:[\w-]+\s+){0,2}(?:or|and|nor))?\s*", re.IGNORECASE)


def denied(context: Context, text: str, start: int) -> bool:
    """Whether a negation stands close before a place, in the same part of the sentence or the head of its list.

    text : one sentence. start : place of the word in it.
    """
    verbs = (*context.words("act"), *context.words("act with"))
    end = start
    while True:
        breaks = [found for found in _BREAK.finditer(text, 0, end) if found.end() <= end]
        head = breaks[-1].end() if breaks else 0
        part = text[head:end]
        if not (breaks and _LINK.fullmatch(part)) or said(verbs, part):
            break
        # An item of a list: what denies it stands before the first item.
        end = breaks[-1].start()
    words = list(re.finditer(r"\S+", part))[-MOST_WORDS:]
    near = part[words[0].start() :] if words else ""
    return bool(spans(context.words("not"), near))
