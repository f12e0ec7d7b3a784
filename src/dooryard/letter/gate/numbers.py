"""The rules on numbers: a date or amount stands with its range, and is the one that was reckoned."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from dooryard import units
from dooryard.letter.gate.context import Context
from dooryard.letter.gate.draft import Sentence, straight, without
from dooryard.letter.gate.finding import Hit
from dooryard.problem import InputError
from dooryard.unit_table import Dimension
from dooryard.words import MONTHS

_MONTH = "|".join(f"{month}|{month[:3]}\\.?" for month in MONTHS)
_DAY = re.compile(
    rf"(?<![\w-])(?:(?:(?P<low>\d{{1,2}})(?:st|nd|rd|th)?\s*(?:to|-)\s*)?(?P<day>\d{{1,2}})(?:st|nd|rd|th)?\s+(?:of\s+)?"
    rf"(?P<month>{_MONTH})|(?P<month2>{_MONTH})\s+(?:(?P<low2>\d{{1,2}})(?:st|nd|rd|th)?\s*(?:to|-)\s*)?(?P<day2>\d{{1,2}})"
    rf"(?:st|nd|rd|th)?)(?:,?\s+(?P<year>\d{{4}}))?(?!\w)"
)
_AMOUNT = re.compile(
    r"(?<![\w.,/-])(?P<number>\d[\d,]*(?:\.\d+)?)\s*(?P<unit>%|percent|per cent|in 10|out of 10|"
    r"°\s?[FC]·d|°\s?[FC]|sq ft|square feet|cu ft|cu yd|gal(?:lons?)?|fl oz|inch(?:es)?|in|ft|feet|"
    r"lbs?|pounds?|oz|mm|cm|m2|m|L|kg|degree[- ]days|psi|mph)(?![\w·])"
)
_DIMENSIONS: Mapping[str, Dimension] = {
    "m": "length", "m2": "area", "L": "volume", "mm": "depth", "degC": "temperature", "degC.d": "degree_days",
    "m/s": "speed", "kg": "mass", "kPa": "pressure",
}  # fmt: skip
# Words that tell no figure from another.
_DULL = frozenset(
    re.findall(
        r"\w+", "a an the of in on at to for and or with by from first last its it is be chance day date"
    )
)
RANGE_WHY = "It gives one value for {name}, which has a range: {shown}."
RANGE_DO = 'Write "{shown}".'
NUMBER_WHY = "It differs from what was reckoned for {name}: {shown}."
NUMBER_DO = 'Write "{shown}", or change what it is reckoned from.'


@dataclass(frozen=True)
class _Known:
    """A figure as the rules need it. words : what its name is made of."""

    name: str
    shown: str
    unit: str
    value: Any
    low: Any
    high: Any

    @property
    def words(self) -> frozenset[str]:
        """Telling words of its name, plurals folded."""
        return frozenset(_folded(word) for word in re.findall(r"[a-z]+", self.name.lower())) - _DULL

    @property
    def ranged(self) -> bool:
        """Whether it has two different ends."""
        return self.low is not None and self.high is not None and self.low != self.high

    def told_by(self, text: str) -> bool:
        """Whether a sentence speaks of it: it holds half of its telling words, two at least where it has two."""
        said = {_folded(word) for word in re.findall(r"[a-z]+", text.lower())}
        due = max(min(2, len(self.words)), (len(self.words) + 1) // 2)
        return bool(self.words) and len(self.words & said) >= due


def hits(context: Context, sentence: Sentence) -> Iterator[Hit]:
    """Bare and differing numbers of one sentence."""
    known = [_figure(one) for one in context.figures.values()]
    # What stands as it was reckoned is right.
    free = without(sentence.text, sorted((one.shown for one in known if one.shown), key=len, reverse=True))
    free = without(free, _allowed(context))
    yield from _days(context, known, free)
    yield from _amounts(known, free, sentence.text)


def _figure(one: Mapping[str, Any]) -> _Known:
    shown = straight(str(one["shown"]))
    return _Known(str(one["name"]), shown, str(one["unit"]), one["value"], one.get("low"), one.get("high"))


def _allowed(context: Context) -> list[str]:
    card = context.card
    return [] if card is None else [use.rate.text for use in card.uses if use.rate is not None]


def _days(context: Context, known: list[_Known], text: str) -> Iterator[Hit]:
    dated = [one for one in known if one.unit == "date" and _iso(one.value or one.low) is not None]
    for found in _DAY.finditer(text):
        days = _days_of(found, context.on)
        if not days or set(days) <= {context.on, *context.days}:
            continue
        about = [one for one in dated if one.told_by(text)]
        if any({_iso(one.low), _iso(one.high)} == set(days) for one in dated if one.ranged):
            continue
        inside = [one for one in (about or dated) if one.ranged and _within(days, one)]
        if inside and len(days) == 1:
            yield _hit("range", found, inside[0])
        elif about and not any(_iso(one.value) == days[0] and not one.ranged for one in about):
            yield _hit("number", found, about[0])


def _days_of(found: re.Match[str], on: date) -> tuple[date, ...]:
    name = (found["month"] or found["month2"]).lower()[:3]
    month = [one.lower()[:3] for one in MONTHS].index(name) + 1
    year = int(found["year"] or on.year)
    texts = [found["low"] or found["low2"], found["day"] or found["day2"]]
    try:
        return tuple(date(year, month, int(one)) for one in texts if one)
    except ValueError:
        return ()


def _iso(value: Any) -> date | None:
    try:
        return date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None


def _within(days: tuple[date, ...], one: _Known) -> bool:
    low, high = _iso(one.low), _iso(one.high)
    return low is not None and high is not None and low <= days[0] and days[-1] <= high


def _amounts(known: list[_Known], free: str, text: str) -> Iterator[Hit]:
    about = [one for one in known if one.unit != "date" and one.told_by(text)]
    for one in about:
        if one.shown and " ".join(one.shown.split()) in " ".join(text.split()):
            continue  # it is said rightly; other numbers of the sentence are of something else
        given = [
            (found, value) for found in _AMOUNT.finditer(free) if (value := _value(found, one)) is not None
        ]
        if not given:
            continue
        off = [(found, value) for found, value in given if not _same(value, one)]
        inside = [found for found, value in given if one.ranged and one.low <= value <= one.high]
        if one.ranged and inside and len(given) < 2:
            yield _hit("range", inside[0], one)
        elif len(off) == len(given):
            yield _hit("number", off[0][0], one)


def _value(found: re.Match[str], one: _Known) -> float | None:
    """The amount in the figure's unit, None if it is of another kind."""
    if not isinstance(one.value, int | float):
        return None
    number, unit = found["number"].replace(",", ""), found["unit"]
    if one.unit == "1":
        share = {"%": 100, "percent": 100, "per cent": 100, "in 10": 10, "out of 10": 10}.get(unit)
        return None if share is None else float(number) / share
    dimension = _DIMENSIONS.get(one.unit)
    if dimension is None:
        return None
    try:
        return units.parse(f"{number} {unit}", dimension)
    except InputError:
        return None


def _same(value: float, one: _Known) -> bool:
    """Whether it is the figure's value or one of its ends, to the twentieth that rounding for use may cost."""
    ends = [end for end in (one.value, one.low, one.high) if isinstance(end, int | float)]
    return any(abs(value - end) <= 0.05 * abs(end) for end in ends)


def _hit(rule: str, found: re.Match[str], one: _Known) -> Hit:
    why, instead = (RANGE_WHY, RANGE_DO) if rule == "range" else (NUMBER_WHY, NUMBER_DO)
    return Hit(
        rule, *found.span(), why.format(name=one.name, shown=one.shown), instead.format(shown=one.shown)
    )


def _folded(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
