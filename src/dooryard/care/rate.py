"""The rate forms of labels: so much product for so much water, area, girth or diameter of trunk, or per cent.

A rate is read from the label in hand and kept as written beside its value.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from dooryard import units
from dooryard.problem import InputError, Problem

Basis = Literal["water", "area", "girth", "diameter"]
Amount = Literal["volume", "mass"]
BASIS_WORDS: dict[Basis, str] = {
    "water": "of water",
    "area": "of ground",
    "girth": "of trunk girth",
    "diameter": "of trunk diameter",
}
EXAMPLES = (
    '"2 Tbsp per gal", "1 to 2 fl oz per gal", "2 %", "3 lb per 1,000 sq ft" or "1 fl oz per inch of girth"'
)


@dataclass(frozen=True)
class Rate:
    """A label's rate.

    low, high : product per unit of `basis`, equal if the label gives one number. Product in L or kg (`amount`);
        per L of water, m2 of ground, or m of trunk girth or diameter.
    text : as it was typed.
    """

    low: float
    high: float
    amount: Amount
    basis: Basis
    text: str


def parse(text: str) -> Rate:
    """The rate a person typed from a label.

    text : one of the forms of `EXAMPLES`; a range has "to" between its ends. Raises InputError with what to
    write if a number, a unit or what it is for is missing.
    """
    plain = " ".join(text.split())
    percent = re.fullmatch(
        r"(.+?)\s*(?:%|per ?cent)\s*(?:v/v|by volume)?(?:\s+(?:of|in)\s+water)?", plain, re.IGNORECASE
    )
    if percent:
        low, high = (_number(end, text) / 100 for end in _ends(percent[1]))
        return _checked(Rate(low, high, "volume", "water", plain))
    product, separator, each = plain.partition(" per ")
    if not separator:
        product, separator, each = plain.rpartition("/")
    if not separator:
        raise _refused("A rate says how much product is for how much of something.", text)
    basis, per = _each(each.strip(), text)
    product, by_weight = re.subn(r"\s*(?:by weight|wt\.?)$", "", product.strip(), flags=re.IGNORECASE)
    if not by_weight and re.search(r"(?<!fl )(?<!fluid )\b(?:oz|ounces?)$", product, re.IGNORECASE):
        what = "An ounce may be of volume or of weight."
        instead = 'Look which the label means, and write "fl oz" or "oz by weight".'
        raise InputError(Problem(what, instead, found=f'"{text}"'))
    low_text, high_text = _with_units(product)
    try:
        amount: Amount = "volume"
        low, high = units.parse(low_text, "volume"), units.parse(high_text, "volume")
    except InputError:
        amount = "mass"
        try:
            low, high = units.parse(low_text, "mass"), units.parse(high_text, "mass")
        except InputError:
            raise _refused("The amount of product is not a volume or a weight with its unit.", text) from None
    return _checked(Rate(low / per, high / per, amount, basis, plain))


def _each(text: str, whole: str) -> tuple[Basis, float]:
    """What the product is for, and how much of that [L, m2 or m]."""
    trunk = re.fullmatch(
        r"(.+?)\s+(?:of\s+)?(?:trunk\s+)?(girth|circumference|diameter|dbh)", text, re.IGNORECASE
    )
    if trunk:
        basis: Basis = "girth" if trunk[2].lower() in ("girth", "circumference") else "diameter"
        try:
            return basis, units.parse(_counted(trunk[1]), "length")
        except InputError:
            raise _refused("What one inch of trunk gets must be a length with its unit.", whole) from None
    if re.fullmatch(r"(?:\d\S*\s*)?(?:in|inch|inches|cm)(?:\s+of)?(?:\s+trunk)?", text, re.IGNORECASE):
        raise _refused("An inch of trunk may be of girth or of diameter; they differ three times.", whole)
    bare = re.sub(r"\s+(?:of\s+)?(?:water|ground|bed|lawn|soil|finished spray|spray)$", "", text)
    for basis_, dimension in (("water", "volume"), ("area", "area")):
        try:
            size = units.parse(_counted(bare), dimension)  # type: ignore[arg-type]
        except InputError:
            continue
        return basis_, size  # type: ignore[return-value]
    raise _refused("What the product is for is not a volume of water, an area or a length of trunk.", whole)


def _counted(text: str) -> str:
    """ "gal" as "1 gal"."""
    return text if re.match(r"[\d.½¼¾]", text) else f"1 {text}"


def _ends(text: str) -> tuple[str, str]:
    parts = re.split(r"\s+to\s+|\s*[–—]\s*|(?<=\d)\s*-\s*(?=\d)", text.strip())
    return (parts[0], parts[-1]) if len(parts) <= 2 else ("", "")


def _with_units(text: str) -> tuple[str, str]:
    """ "1 to 2 Tbsp" as "1 Tbsp" and "2 Tbsp"; "1-1/2 Tbsp" stays one mixed number."""
    parts = re.split(r"\s+to\s+|\s*[–—]\s*", text)
    if len(parts) != 2:
        return text, text
    low, high = parts
    if re.fullmatch(r"[\d.,/ ½¼¾-]+", low):
        unit = re.sub(r"^[\d.,/ ½¼¾-]+", "", high)
        low = f"{low} {unit}"
    return low, high


def _number(text: str, whole: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise _refused("This is not a number before the per cent sign.", whole) from None


def _checked(rate: Rate) -> Rate:
    if not 0 < rate.low <= rate.high:
        raise _refused("The lower end of a rate comes first, and it is above zero.", rate.text)
    if rate.basis == "water" and rate.amount == "volume" and rate.high > 1:
        raise _refused("That is more product than water.", rate.text)
    return rate


def _refused(what: str, found: str) -> InputError:
    return InputError(Problem(what, f"Write it as the label does: {EXAMPLES}.", found=f'"{found}"'))
