"""Which units a file is in that does not say so: struck out one by one, with the evidence to tell."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from dooryard.weather.conversion import FAHRENHEIT, INCHES, MILES_AN_HOUR, SAME, TENTHS
from dooryard.weather.limits import Limits
from dooryard.weather.record import Floats

SYSTEMS: Mapping[str, str] = MappingProxyType(
    {
        "tenths": "tenths of a millimetre and tenths of a degree Celsius",
        "metric": "millimetres and degrees Celsius",
        "standard": "inches and degrees Fahrenheit",
    }
)
DEGREES = {"tenths": TENTHS, "metric": SAME, "standard": FAHRENHEIT}
DEPTHS = {"tenths": TENTHS, "metric": SAME, "standard": INCHES}
SPEEDS = {"tenths": TENTHS, "metric": SAME, "standard": MILES_AN_HOUR}

_FEW = 20  # fewer values than this say nothing about habits of rounding or about averages


@dataclass(frozen=True, slots=True)
class Choice:
    """Systems still possible (one, if it is decided) and what struck out the others, in words."""

    systems: tuple[str, ...]
    evidence: tuple[str, ...]


def choose(t_min: Floats, t_max: Floats, rain: Floats, limits: Limits) -> Choice:
    """The unit systems under which these raw columns can be weather, each (rows,) with NaN where missing.

    First what is impossible, then, only if more than one system is left, what is unusual in published files
    (Celsius and millimetres come with one decimal, Fahrenheit and tenths in whole numbers, inches in
    hundredths).
    """
    possible = _struck(_impossible(t_min, t_max, rain, limits), tuple(SYSTEMS), ())
    if len(possible.systems) < 2:
        return possible
    usual = _struck(_unusual(t_min, t_max, rain, limits), possible.systems, possible.evidence)
    return usual if usual.systems else possible


def _struck(
    findings: list[tuple[str, tuple[str, ...]]], systems: tuple[str, ...], evidence: tuple[str, ...]
) -> Choice:
    """Take out the systems each finding speaks against; a finding that takes out none is not evidence."""
    left = set(systems)
    told = list(evidence)
    for text, against in findings:
        if set(systems) & set(against):
            told.append(text)
        left -= set(against)
    return Choice(tuple(system for system in systems if system in left), tuple(told))


def _impossible(
    t_min: Floats, t_max: Floats, rain: Floats, limits: Limits
) -> list[tuple[str, tuple[str, ...]]]:
    degrees = _known(np.concatenate((t_min, t_max)))
    wet = _known(rain)
    wet = wet[wet > 0]
    findings = []
    if degrees.size:
        hottest, coldest = float(degrees.max()), float(degrees.min())
        against = _beyond(hottest, coldest, limits)
        findings.append((f"temperatures run from {coldest:g} to {hottest:g}", against))
        if _has_decimals(degrees):
            findings.append((f"temperatures such as {_first_decimal(degrees):g} have decimals", ("tenths",)))
    if wet.size:
        most = float(wet.max())
        against = tuple(system for system in SYSTEMS if _depth_mm(most, system) > limits.wettest_day_mm)
        findings.append((f"the wettest day has {most:g}", against))
        if _has_decimals(wet):
            findings.append((f"rain such as {_first_decimal(wet):g} has decimals", ("tenths",)))
        if wet.size >= _FEW and np.mean(_decimals_left(wet * 10)) > 0.2:
            findings.append(("rain is given in hundredths", ("tenths", "metric")))
    return findings


def _unusual(t_min: Floats, t_max: Floats, rain: Floats, limits: Limits) -> list[tuple[str, tuple[str, ...]]]:
    degrees = _known(np.concatenate((t_min, t_max)))
    wet = _known(rain)
    wet = wet[wet > 0]
    spread = _known(t_max - t_min)
    findings = []
    if spread.size >= _FEW:
        median = float(np.median(spread))
        against = tuple(
            system
            for system in SYSTEMS
            if not limits.daily_range_low_c <= _difference_c(median, system) <= limits.daily_range_high_c
        )
        findings.append((f"day and night differ by {median:g} as a rule", against))
    if wet.size >= _FEW:
        mean = float(wet.mean())
        against = tuple(
            system
            for system in SYSTEMS
            if not limits.wet_day_low_mm <= _depth_mm(mean, system) <= limits.wet_day_high_mm
        )
        findings.append((f"a wet day has {mean:.3g} on average", against))
        if not _has_decimals(wet):
            findings.append(("rain comes in whole numbers only", ("metric", "standard")))
        elif not _decimals_left(wet * 10).any():
            findings.append(("rain comes with one decimal only", ("standard",)))
    # Whole degrees say nothing: some services report whole degrees Celsius for decades.
    if degrees.size >= _FEW and np.mean(_decimals_left(degrees)) > 0.2:
        findings.append(("most temperatures have decimals", ("standard",)))
    return findings


def _beyond(hottest: float, coldest: float, limits: Limits) -> tuple[str, ...]:
    ends = np.array([coldest, hottest])
    return tuple(
        system
        for system, conversion in DEGREES.items()
        if (conversion.apply(ends) < limits.coldest_c)[0] or (conversion.apply(ends) > limits.hottest_c)[1]
    )


def _depth_mm(depth: float, system: str) -> float:
    return float(DEPTHS[system].apply(np.array(depth)))


def _difference_c(difference: float, system: str) -> float:
    """A difference of temperatures: converted without the offset."""
    return float(DEGREES[system]._replace(subtract=0.0).apply(np.array(difference)))


def _known(values: Floats) -> Floats:
    return values[~np.isnan(values)]


def _decimals_left(values: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    # Files passed through a spreadsheet hold 5.800000000000001: a millionth is not a decimal.
    return np.abs(values - np.round(values)) > 1e-6


def _has_decimals(values: Floats) -> bool:
    return bool(_decimals_left(values).any())


def _first_decimal(values: Floats) -> float:
    return float(values[np.argmax(_decimals_left(values))])
