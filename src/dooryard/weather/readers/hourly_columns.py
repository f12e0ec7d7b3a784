"""Which columns of an hourly CSV are read, and in which units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.clock import Minutes
from dooryard.weather.conversion import FAHRENHEIT, INCHES, SAME, UNITS, Conversion
from dooryard.weather.limits import limits
from dooryard.weather.record import Floats, Issue
from dooryard.weather.unit_choice import DEGREES, DEPTHS, SPEEDS, SYSTEMS, choose

_KNOTS = UNITS["wind_m_s"]["kt"]
# Column name to element and unit; None where the name does not say the unit. The first of an element is taken.
_NAMES: dict[str, tuple[str, Conversion | None]] = {
    "hourlydrybulbtempf": ("temperature_c", FAHRENHEIT),
    "hourlydrybulbtempc": ("temperature_c", SAME),
    "hourlydrybulbtemperature": ("temperature_c", None),
    "tmpf": ("temperature_c", FAHRENHEIT),
    "tmpc": ("temperature_c", SAME),
    "hourlydewpointtempf": ("dew_point_c", FAHRENHEIT),
    "hourlydewpointtempc": ("dew_point_c", SAME),
    "hourlydewpointtemperature": ("dew_point_c", None),
    "dwpf": ("dew_point_c", FAHRENHEIT),
    "dwpc": ("dew_point_c", SAME),
    "dewp": ("dew_point_c", None),
    "hourlyrelativehumidity": ("humidity_pct", SAME),
    "relh": ("humidity_pct", SAME),
    "humid": ("humidity_pct", SAME),
    "humidity": ("humidity_pct", SAME),
    "rh": ("humidity_pct", SAME),
    "hourlywindspeed": ("wind_m_s", None),
    "sknt": ("wind_m_s", _KNOTS),
    "wind_speed": ("wind_m_s", None),
    "hourlyprecip": ("rain_mm", INCHES),
    "hourlyprecipitation": ("rain_mm", None),
    "p01i": ("rain_mm", INCHES),
    "p01m": ("rain_mm", SAME),
}
_WORDS = {
    "temperature_c": ("temp", "temperature", "air_temp", "t_air"),
    "dew_point_c": ("dew", "dew_point", "dewpoint"),
    "humidity_pct": ("humidity", "rh"),
    "wind_m_s": ("wind",),
    "rain_mm": ("rain", "prcp", "precip", "precipitation"),
    "solar_w_m2": ("solar",),
}
_UNITS: dict[str, Mapping[str, Conversion]] = {
    "temperature_c": UNITS["t_mean_c"],
    "dew_point_c": UNITS["dew_point_c"],
    "humidity_pct": UNITS["humidity_pct"],
    "wind_m_s": UNITS["wind_m_s"],
    "rain_mm": UNITS["rain_mm"],
    "solar_w_m2": {"w_m2": SAME},
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column that is read: where it stands, what it holds, and how its cells become our unit.

    conversion : None if the header does not say the unit.
    """

    index: int
    header: str
    element: str
    conversion: Conversion | None


def meaning_of(name: str) -> tuple[str, Conversion | None] | None:
    """Element and unit of a normalised column name, None if it is not read."""
    if name in _NAMES:
        return _NAMES[name]
    for element, words in _WORDS.items():
        for word in sorted(words, key=len, reverse=True):
            if name == word and element != "solar_w_m2":
                return element, None
            unit = name.removeprefix(f"{word}_")
            if unit != name and unit in _UNITS[element]:
                return element, _UNITS[element][unit]
    return None


def columns_of(names: list[str]) -> tuple[Column, ...]:
    """The columns to read out of normalised names, one for each element: those of a network before any other."""
    found: dict[str, Column] = {}
    order = {name: at for at, name in enumerate(_NAMES)}
    for index in sorted(range(len(names)), key=lambda at: order.get(names[at], len(order))):
        meaning = meaning_of(names[index])
        if meaning is not None and meaning[0] not in found:
            found[meaning[0]] = Column(index, names[index], *meaning)
    return tuple(found.values())


def converted(
    columns: tuple[Column, ...], values: dict[str, Floats], times: Minutes, said: str | None, file: str
) -> tuple[dict[str, Floats], tuple[Issue, ...]]:
    """Values in our units; where the header is silent, in the one unit system that the numbers allow."""
    known = {column.element: column.conversion for column in columns}
    silent = {element for element, conversion in known.items() if conversion is None}
    system = ""
    issues: tuple[Issue, ...] = ()
    if silent:
        rest = _of_the_rest(known) if silent == {"wind_m_s"} else ""
        system, issues = (rest, ()) if rest and said is None else _system(silent, values, times, said, file)
    tables = {"rain_mm": DEPTHS, "wind_m_s": SPEEDS}
    result = {
        element: (tables.get(element, DEGREES)[system] if conversion is None else conversion).apply(
            values[element]
        )
        for element, conversion in known.items()
    }
    return result, issues


def _of_the_rest(known: Mapping[str, Conversion | None]) -> str:
    """The unit system of a header that says its units but for the wind; empty if it says none."""
    if FAHRENHEIT in known.values() or INCHES in known.values():
        return "standard"
    return "metric" if known.get("temperature_c") == SAME else ""


def _system(
    silent: set[str], values: dict[str, Floats], times: Minutes, said: str | None, file: str
) -> tuple[str, tuple[Issue, ...]]:
    write = "Put a first line such as # units: standard (or metric) into the file."
    if said is not None:
        if said not in SYSTEMS:
            raise InputError(Problem("These units are not known.", write, file, field="units", found=said))
        return said, ()
    low, high, rain = _by_day(silent, values, times)
    # Loggers and converted reports give decimals in any unit, so those of temperatures say nothing here.
    choice = choose(np.round(low), np.round(high), rain, limits())
    evidence = "; ".join(choice.evidence) or "there are too few numbers to go by"
    if len(choice.systems) != 1:
        left = " or ".join(SYSTEMS[system] for system in choice.systems) or "none that is known"
        what = f"The header does not say the units, and they could be {left}: {evidence}."
        raise InputError(Problem(what, write, file, field="units"))
    text = f"The header does not say the units. They were read as {SYSTEMS[choice.systems[0]]}, because {evidence}."
    if "wind_m_s" in silent and choice.systems[0] == "standard":
        text += " Wind was taken as miles an hour."
    return choice.systems[0], (
        Issue("units", text, instead=f"If that is wrong: {write[0].lower()}{write[1:]}"),
    )


def _by_day(silent: set[str], values: dict[str, Floats], times: Minutes) -> tuple[Floats, Floats, Floats]:
    """Raw lowest and highest temperature and rain of each day, for the choice of units; NaN where not silent."""
    days = times.astype("datetime64[D]").astype(int)
    days -= days.min()
    length = int(days.max()) + 1
    low, high, rain = (np.full(length, np.nan) for _ in range(3))
    if "temperature_c" in silent:
        np.fmin.at(low, days, values["temperature_c"])
        np.fmax.at(high, days, values["temperature_c"])
    if "rain_mm" in silent:
        known = ~np.isnan(values["rain_mm"])
        rain = np.bincount(days[known], weights=values["rain_mm"][known], minlength=length)
    return low, high, rain
