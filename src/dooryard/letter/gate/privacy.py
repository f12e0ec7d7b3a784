"""The rule on private data: telephones, mail, street addresses, exact places, names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from dooryard.knowledge import Knowledge
from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import Sentence
from dooryard.letter.gate.finding import Hit

_PHONE = re.compile(r"(?<![\d-])(?:\+?1[-. ]?)?(?:\(\d{3}\)\s?|\d{3}[-. ])?\d{3}[-. ]\d{4}(?![\d-])")
_MAIL = re.compile(r"[\w.+-]+\s?@\s?[\w-]+(?:\.[\w-]+)+")
_WAYS = (
    "Street|St|Road|Rd|Avenue|Ave|Lane|Ln|Drive|Dr|Court|Ct|Boulevard|Blvd|Way|Place|Pl|Circle|Cir|Highway|Hwy|Pike|Trail|"
    "Terrace|Ter|Parkway|Pkwy|Loop|Run|Alley|Square|Route"
)
_STREET = re.compile(
    rf"(?<![\w.])\d{{1,6}}[A-Za-z]?\s+(?:[NSEW]\.?[EW]?\.?\s+|(?:North|South|East|West)\s+)?(?:[A-Z][\w'.-]*\s+|\d+(?:st|nd|rd|th)\s+)"
    rf"{{1,3}}(?:{_WAYS})\b\.?"
)
_BOX = re.compile(r"\bP\.?\s?O\.?\s?Box\s+\d+", re.IGNORECASE)
_PLACE = re.compile(r"-?\d{1,3}\.\d{3,}\s*(?:°\s*)?[NS]?[,;]?\s+-?\d{1,3}\.\d{3,}\s*(?:°\s*)?[EW]?")
INSTEAD = "Take it out; the office's own file knows the household by its code."
WHAT = {
    "phone": "It holds a telephone number.",
    "mail": "It holds a mail address.",
    "street": "It holds a street address.",
    "box": "It holds a post box.",
    "place": "It holds a place exact enough to find the house.",
}


def hits(context: Context, sentence: Sentence) -> Iterator[Hit]:
    """Private data in one sentence. The office's own contacts, and numbers the cautions give, may stand."""
    public = {_digits(one) for one in context.policy.contact} | {
        one.lower() for one in context.policy.contact
    }
    public |= _given_out(context.knowledge)
    patterns = {"phone": _PHONE, "mail": _MAIL, "street": _STREET, "box": _BOX, "place": _PLACE}
    for kind, pattern in patterns.items():
        for found in pattern.finditer(sentence.text):
            given = _digits(found[0]) if kind == "phone" else found[0].lower()
            if given not in public and not (context.policy.mail_to and found[0] in context.policy.mail_to):
                yield Hit("private", *found.span(), WHAT[kind], INSTEAD)
    for name in context.names:
        if name.strip():
            words = r"\s+".join(re.escape(part) for part in name.split())
            for found in re.finditer(rf"(?<!\w){words}(?!\w)", sentence.text):
                yield Hit(
                    "private", *found.span(), "It names a person or a place that is to be kept out.", INSTEAD
                )


def streets(text: str) -> frozenset[str]:
    """Words of the street addresses in a text: private, but no brands."""
    return frozenset(re.findall(r"\w+", " ".join(found[0] for found in _STREET.finditer(text))))


@lru_cache(maxsize=4)
def _given_out(knowledge: Knowledge) -> frozenset[str]:
    """Telephone numbers that the cautions themselves give."""
    found = (_PHONE.finditer(one.text) for one in knowledge.cautions.values())
    return frozenset(_digits(one[0]) for places in found for one in places)


def _digits(text: str) -> str:
    return re.sub(r"\D", "", text)[-10:]
