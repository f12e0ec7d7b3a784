"""Text to canonical quantities and back: the only place where units are converted.

Inside the program a length is in m, an area in m2, a volume in L, a depth of rain in mm, a temperature in
degC, degree-days in degC.d, a speed in m/s, a mass in kg, a rainfall rate in mm/h, a pressure in kPa, an
angle in degrees and a flow in L/s. `parse` reads what a person wrote, `show` writes what a person reads.
"""

from __future__ import annotations

import re
from functools import cache
from math import inf, isfinite, isnan

from dooryard.problem import InputError, Problem, nearest
from dooryard.unit_table import Dimension, System, Unit, find, readable, tidied

__all__ = ["Dimension", "System", "number", "parse", "show", "unit_name"]

_IN_WORDS: dict[Dimension, str] = {
    "length": "a length",
    "area": "an area",
    "volume": "a volume",
    "depth": "a depth of water",
    "temperature": "a temperature",
    "temperature_difference": "a temperature difference",
    "degree_days": "a degree-day sum",
    "speed": "a speed",
    "mass": "a weight",
    "rainfall_rate": "a rainfall rate",
    "pressure": "a pressure",
    "angle": "an angle",
    "flow": "a flow",
}
# What to type, first for a US household, then for a metric one. Plain keyboard letters only.
_TYPED: dict[Dimension, tuple[str, ...]] = {
    "length": ("in", "ft", "cm", "m"),
    "area": ("sq ft", "m2"),
    "volume": ("gal", "L"),
    "depth": ("in", "mm"),
    "temperature": ("F", "C"),
    "temperature_difference": ("F", "C"),
    "degree_days": ("F d", "C d"),
    "speed": ("mph", "m/s"),
    "mass": ("lb", "kg"),
    "rainfall_rate": ("in/h", "mm/h"),
    "pressure": ("psi", "kPa"),
    "angle": ("degrees",),
    "flow": ("gpm", "L/s"),
}
_ADDS_UP: frozenset[Dimension] = frozenset({"length", "depth", "volume", "mass"})


def parse(text: str, dimension: Dimension) -> float:
    """The canonical value of a quantity a person wrote, such as "6 ft 2 in", "1,000 sq ft" or "-3 °F".

    Parameters
    ----------
    text : str
        One number with its unit. Numbers may be decimals, fractions, mixed numbers ("1 1/4", "1-1/4", "1½")
        and may have thousands set apart by commas or spaces. Lengths, depths, volumes and weights may have
        parts, the larger first ("6 ft 2 in", "5 lb 3 oz").
    dimension : str
        What is due; see `Dimension`.

    Returns
    -------
    float
        Value in the canonical unit of the dimension. A temperature is converted with its offset, a
        temperature difference and a degree-day sum without it.

    Raises
    ------
    InputError
        With one Problem that says what was found and what to write instead: no unit, a unit of something
        else, an unknown unit, a decimal comma, a range, a number that is not finite.

    Example
    -------
    >>> parse("1 in", "depth")
    25.4
    >>> round(parse("6 ft 2 in", "length"), 4)
    1.8796
    """
    sign, parts = _parts(text, dimension)
    total, last_factor = 0.0, inf
    for number, unit_text in parts:
        unit = find(unit_text, dimension)
        if unit is None:
            raise InputError(_unit_problem(text, number, unit_text, dimension))
        if len(parts) > 1 and (dimension not in _ADDS_UP or unit.factor >= last_factor):
            raise InputError(_one_quantity(text, dimension))
        last_factor = unit.factor
        total += (float(number) * (sign if len(parts) == 1 else 1.0) - unit.zero) * unit.factor
    value = total if len(parts) == 1 else sign * total
    if not isfinite(value):
        what = f"This is not a number {_IN_WORDS[dimension]} can have."
        raise InputError(Problem(what, _write_like(dimension), found=_cut(text)))
    return value


def number(value: float, dimension: Dimension, system: System) -> float:
    """The bare value in the unit that `unit_name` gives for this dimension and system.

    value : canonical value. Returns it converted, not rounded; NaN stays NaN.
    """
    unit = _known(_PRINTED[dimension][system][0], dimension)
    return value / unit.factor + unit.zero


def unit_name(dimension: Dimension, system: System) -> str:
    """The unit as printed in table heads and on axes: "gal", "sq ft", "°F·d", "m²"."""
    return _PRINTED[dimension][system][1]


def show(value: float, dimension: Dimension, system: System, digits: int | None = None) -> str:
    """The quantity as a person reads it, number and unit: "41 gal", "24 in", "6.2 ft", "0.42 in", "50 °F".

    Parameters
    ----------
    value : float
        Canonical value. NaN gives "not known", an infinity "no limit".
    dimension, system : str
        What it is, and "us" or "metric".
    digits : int, optional
        Decimals to print, always that many. Without it the number is rounded for use: the smaller the
        number the more decimals, trailing zeros left out, whole degrees and whole degree-days.

    Notes
    -----
    A US length below 3 ft is printed in inches, a metric one below 1 m in cm.
    """
    if isnan(value):
        return "not known"
    if not isfinite(value):
        return "no limit" if value > 0 else "no lower limit"
    typed, printed = _PRINTED[dimension][system]
    if dimension == "length":
        typed, printed = _length_unit(value, system)
    unit = _known(typed, dimension)
    bare = value / unit.factor + unit.zero
    return f"{_rounded(bare, _DECIMALS[dimension], digits)} {printed}"


# (typed, printed) for each system. A tap or an overflow is felt in gallons or litres a minute.
_PRINTED: dict[Dimension, dict[System, tuple[str, str]]] = {
    "length": {"us": ("ft", "ft"), "metric": ("m", "m")},
    "area": {"us": ("sq ft", "sq ft"), "metric": ("m2", "m²")},
    "volume": {"us": ("gal", "gal"), "metric": ("L", "L")},
    "depth": {"us": ("in", "in"), "metric": ("mm", "mm")},
    "temperature": {"us": ("F", "°F"), "metric": ("C", "°C")},
    "temperature_difference": {"us": ("F", "°F"), "metric": ("C", "°C")},
    "degree_days": {"us": ("F d", "°F·d"), "metric": ("C d", "°C·d")},
    "speed": {"us": ("mph", "mph"), "metric": ("m/s", "m/s")},
    "mass": {"us": ("lb", "lb"), "metric": ("kg", "kg")},
    "rainfall_rate": {"us": ("in/h", "in/h"), "metric": ("mm/h", "mm/h")},
    "pressure": {"us": ("psi", "lb per sq in"), "metric": ("kPa", "kPa")},
    "angle": {"us": ("degrees", "degrees"), "metric": ("degrees", "degrees")},
    "flow": {"us": ("gpm", "gal/min"), "metric": ("L/min", "L/min")},
}
# Decimals to keep for numbers below 1, below 10, below 100, and above.
_DECIMALS: dict[Dimension, tuple[int, int, int, int]] = {
    "length": (2, 1, 0, 0),
    "area": (2, 1, 0, 0),
    "volume": (2, 1, 0, 0),
    "depth": (2, 2, 1, 0),
    "temperature": (0, 0, 0, 0),
    "temperature_difference": (1, 1, 1, 0),
    "degree_days": (0, 0, 0, 0),
    "speed": (1, 1, 0, 0),
    "mass": (2, 1, 0, 0),
    "rainfall_rate": (2, 2, 1, 0),
    "pressure": (2, 1, 0, 0),
    "angle": (1, 1, 0, 0),
    "flow": (2, 1, 0, 0),
}


@cache
def _known(typed: str, dimension: Dimension) -> Unit:
    unit = find(typed, dimension)
    assert unit is not None, f"our own unit {typed} is not in the table of {dimension}"
    return unit


def _length_unit(value_m: float, system: System) -> tuple[str, str]:
    if system == "us":
        return ("in", "in") if round(abs(value_m), 9) < 0.9144 else ("ft", "ft")
    return ("cm", "cm") if abs(value_m) < 1.0 else ("m", "m")


def _rounded(bare: float, decimals: tuple[int, int, int, int], digits: int | None) -> str:
    size = abs(bare)
    if digits is not None:
        text = f"{bare:,.{digits}f}"
    elif size >= 10_000:
        text = f"{round(bare, -2):,.0f}"
    else:
        kept = decimals[(size >= 1) + (size >= 10) + (size >= 100)]
        text = f"{bare:,.{kept}f}"
        text = text.rstrip("0").rstrip(".") if kept else text
    # Neither "-0" nor "-0.00" means anything to a reader.
    return text.lstrip("-") if not text.strip("-0.,") else text


_WHOLE = r"(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9])|[1-9][0-9]{0,2}(?: [0-9]{3})+(?![0-9])|[0-9]+)"
_NUMBER = re.compile(
    rf"(?:(?P<whole>{_WHOLE})(?:\s+|\s*-\s*))?(?P<top>[0-9]+)\s?/\s?(?P<bottom>[0-9]+)"
    rf"|(?P<decimal>(?:{_WHOLE}(?:\.[0-9]*)?|\.[0-9]+)(?:e[+-]?[0-9]+(?![0-9a-z]))?)"
)
_UNIT_TEXT = re.compile(r"(?:\^[23]|[^0-9])*")
_DECIMAL_COMMA = re.compile(r"^[+-]?\s*([0-9]+),([0-9]+)(?![0-9,])\s*(.*)$")
_TIMES = re.compile(r"^[^0-9]*(?:\bx|×|\bby)\s*$")
_RANGE = re.compile(r"^[^0-9]*(?:-|to)\s*$")


def _parts(text: str, dimension: Dimension) -> tuple[float, list[tuple[str, str]]]:
    """The sign, and the numbers (as text `float` can read) each with the unit text behind it."""
    plain = tidied(text)
    # "2,5 m" would read as 2 and then nonsense; say what is wrong with it.
    comma = _DECIMAL_COMMA.match(plain)
    if comma and (len(comma[2]) != 3 or comma[1].startswith("0") or len(comma[1]) > 3):
        instead = (
            f'Write a point for the decimals: "{comma[1]}.{comma[2]} {comma[3] or _TYPED[dimension][0]}".'
        )
        raise InputError(Problem("A comma stands where the decimals begin.", instead, found=_cut(text)))
    signed = re.match(r"([+-]?)\s*", plain)
    sign, at = (-1.0 if signed and signed[1] == "-" else 1.0), (signed.end() if signed else 0)
    parts: list[tuple[str, str]] = []
    while at < len(plain):
        found = _NUMBER.match(plain, at)
        if found is None:
            what = f"This does not begin with a number, and {_IN_WORDS[dimension]} is due here."
            raise InputError(Problem(what, _write_like(dimension), found=_cut(text)))
        behind = _UNIT_TEXT.match(plain, found.end())
        unit_text = behind[0] if behind else ""
        at = behind.end() if behind else found.end()
        if at < len(plain):
            if _RANGE.match(unit_text):
                what = "This is a range, and one number is due here."
                raise InputError(Problem(what, _write_like(dimension), found=_cut(text)))
            if _TIMES.match(unit_text):
                what = "These are two sides, and one quantity is due here."
                raise InputError(Problem(what, _write_like(dimension), found=_cut(text)))
            unit_text = re.sub(r"(,|\band)\s*$", "", unit_text)
        parts.append((_as_float(found, text), unit_text.strip()))
    if not parts:
        what = f"Nothing is written here, and {_IN_WORDS[dimension]} is due."
        raise InputError(Problem(what, _write_like(dimension), found=_cut(text)))
    return sign, parts


def _as_float(found: re.Match[str], text: str) -> str:
    if found["decimal"] is not None:
        return found["decimal"].replace(",", "").replace(" ", "")
    bottom = float(found["bottom"])
    if bottom == 0.0:
        what = "A fraction cannot have 0 below the line."
        raise InputError(Problem(what, 'Write it as a decimal, such as "0.5".', found=_cut(text)))
    whole = float((found["whole"] or "0").replace(",", "").replace(" ", ""))
    return repr(whole + float(found["top"]) / bottom)


def _unit_problem(text: str, number_text: str, unit_text: str, dimension: Dimension) -> Problem:
    due = _IN_WORDS[dimension]
    if not unit_text:
        return Problem(
            f"The number has no unit, and {due} is due here.",
            _write_like(dimension, number_text),
            found=_cut(text),
        )
    typed = unit_text.replace("^", "")
    for other in _IN_WORDS:
        if find(unit_text, other) is not None:
            what = f'"{typed}" is a unit of {_IN_WORDS[other].split(" ", 1)[1]}, and {due} is due here.'
            return Problem(what, _write_like(dimension), found=_cut(text))
    near = nearest(unit_text, [*_TYPED[dimension], *readable(dimension)])
    instead = " ".join(part for part in (near, _write_like(dimension, number_text)) if part)
    return Problem(f'"{typed}" is not a unit of {due.split(" ", 1)[1]}.', instead, found=_cut(text))


def _one_quantity(text: str, dimension: Dimension) -> Problem:
    what = "There is more than one number here."
    if dimension in _ADDS_UP:
        what = "The parts do not run from the larger unit to the smaller."
    return Problem(what, _write_like(dimension), found=_cut(text))


_SAMPLES: dict[Dimension, str] = {
    "length": "2",
    "area": "310",
    "volume": "55",
    "depth": "1",
    "temperature": "50",
    "temperature_difference": "10",
    "degree_days": "600",
    "speed": "8",
    "mass": "25",
    "rainfall_rate": "2",
    "pressure": "2",
    "angle": "30",
    "flow": "3",
}


def _write_like(dimension: Dimension, number_text: str = "") -> str:
    """'Write the unit too: "310 sq ft" or "310 m2".' with the person's own number where there is one."""
    shown = number_text.removesuffix(".0") or _SAMPLES[dimension]
    choices = [f'"{shown} {unit}"' for unit in _TYPED[dimension]]
    joined = " or ".join([", ".join(choices[:-1]), choices[-1]] if len(choices) > 1 else choices)
    if not number_text:
        return f"Write one number and its unit, such as {joined}."
    return f"Write the number with its unit: {joined}, whichever it is."


def _cut(text: str, longest: int = 60) -> str:
    quoted = f'"{text}"'
    return quoted if len(quoted) <= longest else quoted[: longest - 4] + '..."'
