"""A drafted text cut into sentences with their places, and freed of what is known to be well said."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

# A sentence ends at its mark before a capital, a digit or a quotation mark; at an empty line; before a list's sign.
# A full stop behind a lone capital or a short title ends nothing: "P.O. Box", "Mr. Holt".
_END = re.compile(
    r"(?<=[.!?])(?<!\b[A-Z]\.)(?<!\bMr\.)(?<!\bMs\.)(?<!\bMrs\.)(?<!\bDr\.)(?<!\bSt\.)[\"'”’)]*\s+(?=[\"'“‘(]?[A-Z0-9])|\n\s*\n|\n(?=\s*(?:[-*•]|\d+[.)])\s)"
)
_SAME = str.maketrans({"’": "'", "‘": "'", "“": '"', "”": '"', "\N{NO-BREAK SPACE}": " ", "–": "-"})
BLANK = "\x00"


@dataclass(frozen=True)
class Sentence:
    """One sentence. start : its place in the text. text : its words, curly signs made straight."""

    start: int
    text: str

    @property
    def end(self) -> int:
        """Place behind its last sign."""
        return self.start + len(self.text)


def straight(text: str) -> str:
    """The text with straight quotation marks and plain blanks, sign for sign as long as before."""
    return text.translate(_SAME)


def sentences(text: str) -> Iterator[Sentence]:
    """The sentences of a text in order."""
    start = 0
    for found in [*_END.finditer(text), None]:
        end = len(text) if found is None else found.start()
        if text[start:end].strip():
            yield Sentence(start, text[start:end])
        start = end if found is None else found.end()


def without(text: str, known: Iterable[str]) -> str:
    """The text with every known wording blanked, as long as before. Runs of blanks count as one blank."""
    for words in known:
        parts = straight(words).split()
        if parts:
            any_blanks = r"\s+".join(re.escape(part) for part in parts)
            text = re.sub(any_blanks, lambda found: BLANK * len(found[0]), text)
    return text
