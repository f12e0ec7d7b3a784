"""The rule on amounts: how much, only from the label card in hand."""

from __future__ import annotations

import re
from collections.abc import Iterator

from dooryard.care import rate as rates
from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import Sentence
from dooryard.letter.gate.finding import Hit
from dooryard.problem import InputError

_NUMBER = (
    r"(?:\d[\d,.]*(?:\s*[½¼¾]|\s+\d+/\d+|-\d+/\d+)?|\d+/\d+|[½¼¾]|an?|one|two|three|four|five|six|eight|ten|twelve|"
    r"half an?|half|quarter|a couple of|a few|several)"
)
_PRODUCT = (
    r"(?:fl\.?\s?oz\.?|fluid ounces?|oz\.?|ounces?|tsps?\.?|teaspoons?|teaspoonfuls?|tbsps?\.?|tablespoons?|"
    r"tablespoonfuls?|cups?|cupfuls?|capfuls?|caps?|pints?|quarts?|gallons?|gal\.?|lbs?\.?|pounds?|ml|mL|cc|g|grams?|kg|drops?|squirts?|"
    r"packets?|scoops?|shots?|parts?|litres?|liters?|L)"
)
_SMALL = r"(?!gal|quart|pint|L\b|litre|liter)"
_BASE = (
    r"(?:gallons?|gal\.?|quarts?|qts?\.?|pints?|litres?|liters?|L|cups?|bottle(?:ful)?|sprayer(?:ful)?|tank(?:ful)?|bucket|"
    r"(?:sq\.?|square)\s*(?:ft|feet|yards?|yds?|m)\.?|acres?|ft2|m2|(?:in(?:ch)?(?:es)?|foot|ft)\s+of\s+(?:trunk|girth|diameter)|"
    r"tree|shrub|plant|bush|parts?\s+(?:of\s+)?water)"
)
_RATE = re.compile(
    rf"(?<![\w.]){_NUMBER}(?:\s*(?:to|-|or)\s*{_NUMBER})?[\s-]*{_PRODUCT}(?![A-Za-z])(?:\s+of\s+[\w-]+(?:\s[\w-]+)?)?"
    rf"\s*(?:per|/|to|in|into|for|with|a|an|each|every)\s*(?:each\s+|every\s+|an?\s+|one\s+)?"
    rf"(?:[\d,.]+\s*|{_NUMBER}\s+)?(?:\w+\s)?{_BASE}(?!\w)",
    re.IGNORECASE,
)
_STRENGTH = re.compile(
    r"(?<![\w.])\d[\d.]*\s*(?:%|per ?cent|percent)\s+(?:solution|spray|mix(?:ture)?|strength|dilution|emulsion|"
    r"concentration)|(?<![\w.:])\d+\s*:\s*\d{1,4}\s+(?:mix(?:ture)?|dilution|ratio|with water)|"
    r"(?<!\w)(?:dilute[sd]?|mix(?:ed)?)\s+(?:it\s+)?\d+\s*(?::|to|in|parts? (?:to|in))\s*\d+",
    re.IGNORECASE,
)
_WATER = re.compile(r"water|rain|mulch|barrel|roof", re.IGNORECASE)
_LOAD = re.compile(r"\b(?:press(?:es|ure)?|bears?|bearing|ground|weighs?|load|holds up)\b", re.IGNORECASE)
NO_CARD = "It gives an amount, and no label card is in hand."
NOT_CARD = "It gives an amount that does not stand on the label card."
INSTEAD = 'Write "use what the label in hand says", or type a label card and take the amount from it.'


def hits(context: Context, sentence: Sentence) -> Iterator[Hit]:
    """Amounts in one sentence that no label card bears."""
    for found in [*_RATE.finditer(sentence.text), *_STRENGTH.finditer(sentence.text)]:
        if _of_water(found[0], sentence.text):
            continue
        if context.card is None:
            yield Hit("label", *found.span(), NO_CARD, INSTEAD)
        elif not _on_card(context, found[0]):
            yield Hit("label", *found.span(), NOT_CARD, INSTEAD)


def _of_water(rate: str, text: str) -> bool:
    """Whether plain water, rain or mulch is measured, by the gallon and no smaller, or a weight that presses."""
    counted = rf"{_NUMBER}(?:\s*(?:to|-|or)\s*{_NUMBER})?\s*"
    by_the_gallon = re.match(rf"{counted}(?:gal|litre|liter|L\b|cu\b)", rate, re.IGNORECASE)
    by_weight = re.match(rf"{counted}(?:lbs?|pounds?|kg)\b", rate, re.IGNORECASE)
    return bool((by_the_gallon and _WATER.search(text)) or (by_weight and _LOAD.search(text)))


def _on_card(context: Context, rate: str) -> bool:
    assert context.card is not None
    allowed = [use.rate for use in context.card.uses_on(context.plant) if use.rate is not None]
    plain = re.sub(r"\s+of\s+[\w-]+(?:\s[\w-]+)?(?=\s+(?:per|in|to|for))", "", " ".join(rate.split()))
    plain = re.sub(
        r"\s+(?:in|into|to|for|a|an|each|every)\s+(?:an?\s+|one\s+|each\s+)?(?=\D|\d[\d,]*\s+sq)",
        " per ",
        plain,
    )
    plain = re.sub(r"(\d)\s+(?:solution|spray|mix).*$", r"\1", plain)
    plain = re.sub(r"(%|per ?cent|percent)\s.*$", "%", plain)
    try:
        asked = rates.parse(plain)
    except InputError:
        return any(_same_words(one.text, rate) for one in allowed)
    return any(
        (one.amount, one.basis) == (asked.amount, asked.basis)
        and one.low * 0.999 <= asked.low
        and asked.high <= one.high * 1.001
        for one in allowed
    )


def _same_words(one: str, other: str) -> bool:
    return "".join(one.lower().split()) == "".join(other.lower().split())
