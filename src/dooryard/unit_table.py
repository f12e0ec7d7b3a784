"""The units a person may write, by dimension: what each is worth and how it may be spelled.

`find` looks a spelling up. The reading of numbers, and all words said to a person, are in `units`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from math import degrees
from typing import Literal

Dimension = Literal[
    "length",
    "area",
    "volume",
    "depth",
    "temperature",
    "temperature_difference",
    "degree_days",
    "speed",
    "mass",
    "rainfall_rate",
    "pressure",
    "angle",
    "flow",
]
System = Literal["us", "metric"]
_Table = dict[tuple[str, ...], float]

# Exact by definition: the international foot, inch, yard and mile, the pound, the US and imperial gallon.
_LENGTHS_M: _Table = {
    ("m", "metre", "metres", "meter", "meters"): 1.0,
    ("cm", "centimetre", "centimetres", "centimeter", "centimeters"): 0.01,
    ("mm", "millimetre", "millimetres", "millimeter", "millimeters"): 0.001,
    ("km", "kilometre", "kilometres", "kilometer", "kilometers"): 1000.0,
    ("in", "ins", "inch", "inches", '"'): 0.0254,
    ("ft", "foot", "feet", "'"): 0.3048,
    ("yd", "yds", "yard", "yards"): 0.9144,
    ("mi", "mile", "miles"): 1609.344,
}
_VOLUMES_L: _Table = {
    ("L", "ltr", "litre", "litres", "liter", "liters"): 1.0,
    ("mL", "millilitre", "millilitres", "milliliter", "milliliters"): 0.001,
    ("cL", "centilitre", "centilitres", "centiliter", "centiliters"): 0.01,
    ("gal", "gals", "gallon", "gallons", "US gal", "US gallon", "US gallons"): 3.785411784,
    ("imp gal", "imperial gallon", "imperial gallons", "UK gal", "UK gallon", "UK gallons"): 4.54609,
    ("qt", "qts", "quart", "quarts"): 3.785411784 / 4,
    ("pt", "pts", "pint", "pints"): 3.785411784 / 8,
    ("cup", "cups"): 3.785411784 / 16,
    ("fl oz", "fluid ounce", "fluid ounces"): 3.785411784 / 128,
    ("tbsp", "tablespoon", "tablespoons"): 3.785411784 / 256,
    ("tsp", "teaspoon", "teaspoons"): 3.785411784 / 768,
}
_MASSES_KG: _Table = {
    ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"): 1.0,
    ("g", "gram", "grams", "gramme", "grammes"): 0.001,
    ("t", "tonne", "tonnes", "metric ton", "metric tons"): 1000.0,
    ("lb", "lbs", "pound", "pounds"): 0.45359237,
    ("oz", "ounce", "ounces"): 0.45359237 / 16,
    ("short ton", "short tons", "US ton", "US tons"): 0.45359237 * 2000,
}
_TIMES_S: _Table = {
    ("s", "sec", "second", "seconds"): 1.0,
    ("min", "minute", "minutes"): 60.0,
    ("h", "hr", "hour", "hours"): 3600.0,
    ("d", "day", "days"): 86400.0,
}
_PRESSURES_KPA: _Table = {
    ("kPa", "kilopascal", "kilopascals"): 1.0,
    ("Pa", "pascal", "pascals"): 0.001,
    ("hPa", "hectopascal", "hectopascals", "mbar", "millibar", "millibars"): 0.1,
    ("MPa", "megapascal", "megapascals"): 1000.0,
    ("bar", "bars"): 100.0,
    ("atm", "atmosphere", "atmospheres"): 101.325,
    ("inHg", "inches of mercury"): 3.386389,
    ("mmHg", "millimetres of mercury", "millimeters of mercury"): 0.133322387415,
}
_FAHRENHEIT = ("°F", "F", "deg F", "degree F", "degrees F", "Fahrenheit", "°Fahrenheit", "degrees Fahrenheit")
_CELSIUS = (
    "°C",
    "C",
    "deg C",
    "degree C",
    "degrees C",
    "Celsius",
    "°Celsius",
    "degrees Celsius",
    "centigrade",
)
_KELVIN = ("K", "kelvin", "kelvins")
_DEGREES: _Table = {_FAHRENHEIT: 5 / 9, _CELSIUS: 1.0, _KELVIN: 1.0}
_STANDARD_GRAVITY = 9.80665


@dataclass(frozen=True, slots=True)
class Unit:
    """canonical = (number - zero) * factor; `zero` is where the canonical scale has its zero."""

    factor: float
    zero: float = 0.0


def find(unit_text: str, dimension: Dimension) -> Unit | None:
    """The unit meant by a text, or None if this dimension has none such; "in/h" is taken apart at the "/"."""
    key = _key(unit_text)
    unit = _units(dimension).get(key)
    if unit is not None or "/" not in key or dimension not in _QUOTIENTS:
        return unit
    above, below = key.split("/", 1)
    for over, under, scale in _QUOTIENTS[dimension]:
        top, bottom = over.get(above), under.get(below)
        if top is not None and bottom is not None:
            return Unit(top / bottom * scale)
    return None


def _keyed(table: _Table, scale: float = 1.0) -> dict[str, float]:
    return {_table_key(word): factor * scale for words, factor in table.items() for word in words}


def _raised(power: int, before: str, spelled: str, after: str) -> dict[str, float]:
    """ "sq ft", "square ft", "ft sq", "ft squared", "ft^2" for every length, in m2 (or m3)."""
    out: dict[str, float] = {}
    for words, factor in _LENGTHS_M.items():
        for word in words:
            for text in (
                f"{before} {word}",
                f"{spelled} {word}",
                f"{word} {after}",
                f"{word} {before}",
                f"{word}^{power}",
            ):
                out[_table_key(text)] = factor**power
    return out


def _table_key(spelling: str) -> str:
    """What `_key` makes of a spelling of our own tables, without the work that strange letters need."""
    return spelling.lower().replace(" ", "")


_AREAS_M2 = _raised(2, "sq", "square", "squared")
_SPACES_L = {key: m3 * 1000.0 for key, m3 in _raised(3, "cu", "cubic", "cubed").items()}
_POUND_WORDS = ("lb", "lbs", "lbf", "pound", "pounds")
_POUND_FORCES_KN = dict.fromkeys(_POUND_WORDS, 0.45359237 * _STANDARD_GRAVITY / 1000)
_QUOTIENTS: dict[Dimension, tuple[tuple[dict[str, float], dict[str, float], float], ...]] = {
    "depth": ((_keyed(_VOLUMES_L), _AREAS_M2, 1.0),),
    "speed": ((_keyed(_LENGTHS_M), _keyed(_TIMES_S), 1.0),),
    "rainfall_rate": ((_keyed(_LENGTHS_M, 1000.0), _keyed(_TIMES_S, 1 / 3600), 1.0),),
    "flow": ((_keyed(_VOLUMES_L) | _SPACES_L, _keyed(_TIMES_S), 1.0),),
    "pressure": ((_POUND_FORCES_KN, _AREAS_M2, 1.0),),
}


@cache
def _units(dimension: Dimension) -> dict[str, Unit]:
    """Every unit of a dimension that is written as one word, by the key of its spelling."""
    match dimension:
        case "length":
            factors = _keyed(_LENGTHS_M)
        case "depth":
            factors = _keyed(_LENGTHS_M, 1000.0)
        case "area":
            named: _Table = {("acre", "acres", "ac"): 4046.8564224, ("ha", "hectare", "hectares"): 10_000.0}
            factors = _AREAS_M2 | _keyed(named) | {"sf": 0.09290304}
        case "volume":
            factors = _keyed(_VOLUMES_L) | _SPACES_L
        case "mass":
            factors = _keyed(_MASSES_KG)
        case "speed":
            knots = ("kt", "kts", "knot", "knots")
            factors = _keyed({("mph",): 0.44704, ("kph", "kmh"): 1 / 3.6, knots: 1852 / 3600})
        case "rainfall_rate":
            factors = {}
        case "flow":
            factors = {"gpm": 3.785411784 / 60, "gph": 3.785411784 / 3600}
            factors |= {"lpm": 1 / 60, "lph": 1 / 3600, "cfs": 28.316846592}
        case "pressure":
            pound_kn = _POUND_FORCES_KN["lb"]
            factors = _keyed(_PRESSURES_KPA) | {"psi": pound_kn / 0.0254**2, "psf": pound_kn / 0.3048**2}
        case "angle":
            factors = _keyed(
                {("degrees", "degree", "deg", "°"): 1.0, ("rad", "radian", "radians"): degrees(1)}
            )
        case "temperature":
            scales = ((_FAHRENHEIT, 5 / 9, 32.0), (_CELSIUS, 1.0, 0.0), (_KELVIN, 1.0, 273.15))
            return {_table_key(word): Unit(per, zero) for words, per, zero in scales for word in words}
        case "temperature_difference":
            factors = _keyed(_DEGREES)
        case "degree_days":
            factors = _keyed({tuple(_degree_day_words(words)): factor for words, factor in _DEGREES.items()})
        case _:
            raise ValueError(f"no such dimension: {dimension}")
    return {key: Unit(factor) for key, factor in factors.items()}


def _degree_day_words(names: Iterable[str]) -> Iterator[str]:
    """ "°F d", "F days", "degree-days F", "DD F", "F degree-days" and so on."""
    for name in names:
        yield from (f"{name} d", f"{name} day", f"{name} days")
        for sum_word in ("dd", "gdd", "degree day", "degree days"):
            yield from (f"{name} {sum_word}", f"{sum_word} {name}")


def readable(dimension: Dimension) -> list[str]:
    """Whole-word spellings, for "did you mean"."""
    tables: dict[Dimension, tuple[_Table, str]] = {
        "length": (_LENGTHS_M, "{}"),
        "depth": (_LENGTHS_M, "{}"),
        "area": (_LENGTHS_M, "square {}"),
        "volume": (_VOLUMES_L, "{}"),
        "mass": (_MASSES_KG, "{}"),
        "pressure": (_PRESSURES_KPA, "{}"),
        "temperature": (_DEGREES, "{}"),
        "temperature_difference": (_DEGREES, "{}"),
    }
    table, form = tables.get(dimension, ({}, "{}"))
    return [form.format(word) for words in table for word in words if len(word) > 2]


_LETTERS = {
    "²": "^2",
    "³": "^3",
    "º": "°",
    "−": "-",
    "–": "-",
    "‐": "-",
    "‑": "-",
    "⁄": "/",
    "∕": "/",
    "’": "'",
    "‘": "'",
    "′": "'",
    "”": '"',
    "“": '"',
    "″": '"',
}
# A 2 or 3 written right behind letters is a power ("ft2"), unless a unit follows it ("6ft2in").
_POWER = re.compile(r"(?<=[a-z])\s?\^?([23])(?![0-9.]|\s*[a-z'\"])")


def tidied(text: str) -> str:
    """One alphabet: plain digits, fractions as "1/2", powers as "^2", straight quotes, lower case."""
    out = []
    for letter in text:
        if letter in _LETTERS:
            out.append(_LETTERS[letter])
        elif unicodedata.decomposition(letter).startswith("<fraction>"):
            out.append(" " + unicodedata.normalize("NFKC", letter).replace("⁄", "/"))
        else:
            out.append(unicodedata.normalize("NFKC", letter))
    plain = " ".join("".join(out).lower().split())
    plain = re.sub(r"\s*(?:\*\*|\^)\s*", "^", plain).replace("''", '"').replace("'-", "' ")
    plain = re.sub(r"\s+per\s+|\s*/\s*(?=[a-z])", "/", plain)
    return _POWER.sub(r"^\1", plain)


def _key(unit_text: str) -> str:
    """Spelling without what people vary: case, spaces, full stops, dots and hyphens between words."""
    return re.sub(r"[\s.·*_-]+", "", tidied(unit_text))
