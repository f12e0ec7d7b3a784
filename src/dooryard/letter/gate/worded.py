"""Rules that are lists of words: brands, homemade mixtures, promises of safety, hazard trees, medical advice."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from dooryard.knowledge import Knowledge
from dooryard.knowledge.gate_tables import REASONS
from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import BLANK, Sentence
from dooryard.letter.gate.finding import Hit
from dooryard.letter.gate.negation import denied
from dooryard.letter.gate.phrases import said, spans
from dooryard.letter.gate.privacy import streets
from dooryard.words import MONTHS, WEEKDAYS

_MARKED = re.compile(r"[\w-]*\w\s?(?:[®™℠]|\((?:R|TM)\))")
_CAPITAL = re.compile(r"(?<![\w'-])(?:[A-Z][a-z]+(?:[A-Z]\w*)?|[A-Z]{3,}|[A-Z][\w]*-[\w-]*\w)(?![\w'])")
# Names in capitals, or with a capital inside, of which something is promised.
_PRAISED = re.compile(
    r"(?<![\w'-])(?:[A-Z]{4,}|[A-Z][a-z]+[A-Z]\w*)(?=\s+(?:works?|kills?|controls?|stops?|protects?|will|is|does|helps?)\b)"
)
_CLAUSE_END = re.compile(r"[;:.!?()]")
_LOOK_ON = 8
DENIABLE = ("mixture", "label")
"""Rules whose words do no harm if they are denied. A brand is named even where it is advised against."""
BRAND_WHY = "It seems to name a product by its brand."
BRAND_DO = "Name the active ingredient as on the label, or write the name in small letters if it is none."


def hits(context: Context, sentence: Sentence) -> Iterator[Hit]:
    """Breaches of the word lists in one sentence."""
    for rule in REASONS:
        for row in context.rows(rule):
            if said(row.unless, sentence.text):
                continue
            for start, end in spans(row.words, sentence.text):
                if rule in DENIABLE and denied(context, sentence.text, start):
                    continue
                yield Hit(rule, start, end, row.why, row.instead)
    for found in _MARKED.finditer(sentence.text):
        yield Hit("brand", *found.span(), BRAND_WHY, BRAND_DO)
    for found in _PRAISED.finditer(sentence.text):
        if found[0] not in capitals(context.knowledge):
            yield Hit("brand", *found.span(), BRAND_WHY, BRAND_DO)
    yield from _capitals(context, sentence)


def _capitals(context: Context, sentence: Sentence) -> Iterator[Hit]:
    """Capitalised words that nobody knows, soon after a word for treating."""
    text = sentence.text
    known = capitals(context.knowledge) | {word for name in context.places for word in name.split()}
    known |= {word for name in context.names for word in name.split()}
    known |= streets(text)
    seen: set[int] = set()
    for _, verb_end in spans((*context.words("act"), *context.words("act with")), text):
        stop = _CLAUSE_END.search(text, verb_end)
        clause_end = len(text) if stop is None else stop.start()
        words = list(re.finditer(r"\S+", text[verb_end:clause_end]))[:_LOOK_ON]
        reach = verb_end + words[-1].end() if words else verb_end
        for found in _CAPITAL.finditer(text, verb_end, reach):
            if found[0] not in known and found[0].split("-")[0] not in known and found.start() not in seen:
                seen.add(found.start())
                yield Hit("brand", *found.span(), BRAND_WHY, BRAND_DO)


@lru_cache(maxsize=4)
def capitals(knowledge: Knowledge) -> frozenset[str]:
    """Capitalised words the tables use inside a sentence, and the first words of materials: no brands."""
    texts = [one.text for one in knowledge.cautions.values()]
    for organism in knowledge.organisms.values():
        texts += [organism.name, organism.scientific, organism.look, organism.cycle, organism.hosts]
    texts += [one.first for one in knowledge.causes.values()] + [
        one.name for one in knowledge.causes.values()
    ]
    texts += [row.action for row in knowledge.treatments.values()]
    found = {*MONTHS, *WEEKDAYS, "Extension", "English", "Spanish", "Tbsp", "Fahrenheit", "Celsius"}
    for text in texts:
        # A capital at the head of a sentence says nothing.
        inside = re.sub(r"(?:^|(?<=[.:!?] ))\W*\w[\w'-]*", BLANK, text)
        found |= set(_CAPITAL.findall(inside))
    for organism in knowledge.organisms.values():
        found |= set(_CAPITAL.findall(f"{organism.name} {organism.scientific}"))
    for cause in knowledge.causes.values():
        found |= set(_CAPITAL.findall(cause.name))
    # Whose facts they are: universities, states.
    for source in knowledge.sources.values():
        found |= set(_CAPITAL.findall(source.author))
    materials = [
        word.split("|")
        for row in knowledge.gate_words.values()
        if row.rule == "material"
        for word in row.words
    ]
    found |= {part.split()[0].capitalize() for parts in materials for part in parts if part}
    return frozenset(found)
