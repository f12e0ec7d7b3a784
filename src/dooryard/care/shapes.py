"""The area of a bed from simple shapes as a person says them: "60 ft x 3 ft", "circle 8 ft"."""

from __future__ import annotations

import re
from math import pi

from dooryard import units
from dooryard.problem import InputError, Problem

EXAMPLES = '"180 sq ft", "60 ft x 3 ft", "circle 8 ft" (across), "triangle 10 ft x 6 ft", or several with "+"'
_SIDES = re.compile(r"\s+x\s+|\s*×\s*|\s+by\s+", re.IGNORECASE)


def parse_area(text: str) -> float:
    """The area of one shape or of several joined by "+" [m2]; a part after "-" is taken out.

    text : as typed. Raises InputError that says how to write it if a shape or a length cannot be read, or nothing is
    left.
    """
    total = 0.0
    # A sign stands between blanks, so that "1-1/2 ft" stays one length.
    parts = re.split(r"\s+([+-])\s+", text.strip())
    for sign, part in zip(["+", *parts[1::2]], parts[0::2], strict=True):
        area = _shape(part.strip(), text)
        total += area if sign == "+" else -area
    if total <= 0:
        raise InputError(Problem("No area is left.", "Take out less than there is.", found=f'"{text}"'))
    return total


def _shape(text: str, whole: str) -> float:
    kind, _, rest = text.partition(" ")
    try:
        match kind.lower():
            case "circle":
                return pi / 4 * units.parse(rest, "length") ** 2
            case "triangle":
                base, height = _two(rest)
                return base * height / 2
            case "rectangle":
                length, width = _two(rest)
                return length * width
        if _SIDES.search(text):
            length, width = _two(text)
            return length * width
        return units.parse(text, "area")
    except InputError as error:
        what = error.problems[0].what
        raise InputError(Problem(what, f"Write, for example: {EXAMPLES}.", found=f'"{whole}"')) from None


def _two(text: str) -> tuple[float, float]:
    sides = _SIDES.split(text.strip())
    if len(sides) != 2:
        raise InputError(Problem("Two lengths are due for this shape.", found=text))
    first, second = (units.parse(side, "length") for side in sides)
    if min(first, second) <= 0:
        raise InputError(Problem("A length is above zero.", found=text))
    return first, second
