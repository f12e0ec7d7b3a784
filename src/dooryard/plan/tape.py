"""Lengths as a tape shows them: inches to an eighth or sixteenth, or centimetres to a millimetre."""

from __future__ import annotations

from fractions import Fraction

from dooryard.units import System

_INCH_M, _CM_M = 0.0254, 0.01


def tape_words(length_m: float, system: System, *, parts: int = 8) -> str:
    """A length [m] in words: "48 3/4 in", "1 7/8 in", "121.9 cm". parts : of an inch that are told apart.

    >>> tape_words(0.047625, "us", parts=16)
    '1 7/8 in'
    """
    if system == "metric":
        number = f"{length_m / _CM_M:.1f}"
        return f"{number.removesuffix('.0')} cm"
    eighths = round(length_m / _INCH_M * parts)
    whole, rest = divmod(eighths, parts)
    if rest == 0:
        return f"{whole} in"
    part = Fraction(rest, parts)
    return f"{whole} {part} in" if whole else f"{part} in"


def tape_number(length_m: float, system: System) -> float:
    """A length [m] as a bare number of inches or centimetres, to a hundredth."""
    return round(length_m / (_CM_M if system == "metric" else _INCH_M), 2)


def tape_unit(system: System) -> str:
    """The unit of `tape_number`."""
    return "cm" if system == "metric" else "in"
