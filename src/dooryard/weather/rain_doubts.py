"""Rain that a gauge did not measure: codes for missing values read as amounts, and noughts of a gauge out of order."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.doubts import Finding, doubting, runs, told
from dooryard.weather.limits import Limits, QualityLimits
from dooryard.weather.record import STATED, Flag, Floats, Issue, WeatherRecord
from dooryard.weather.unit_doubts import Days, Said

_INCH_MM = 25.4
_YEAR_D = 365.25
_STEP_MM = 0.01  # finer than any gauge: amounts nearer than this are one amount
_NEAR = 1.4  # amounts within this factor are neighbours
_MOSTLY_KNOWN = 0.8
_MOST_TOLD = 5
_ASIDE = "These days count as without a rain value."
_CHECKED = 'If it did rain so, put a first line "# checked: rain" into the file.'


def put_aside(record: WeatherRecord, where: Days, issue: tuple[Issue, ...], said: Said) -> Finding:
    """The record without the rain of those days and the finding; kept and told so if a person has checked it."""
    if said.rain_checked:
        instead = "Kept, as the file says that its rain was checked."
        return record, tuple(replace(one, kind=STATED, instead=instead) for one in issue)
    return doubting(record, {"rain_mm": where}), issue


def doubt_codes(record: WeatherRecord, quality: QualityLimits, said: Said) -> Finding:
    """One great amount again and again, and hardly any near it: 99.9 mm or 9.99 in stand for "not known"."""
    rain = record.rain_mm
    much = np.flatnonzero(rain >= quality.code_mm / 2)
    if much.size < quality.code_days:
        return record, ()
    amounts, counts = np.unique(np.round(rain[much] / _STEP_MM).astype(np.int64), return_counts=True)
    issues: tuple[Issue, ...] = ()
    for amount, count in zip(amounts.tolist(), counts.tolist(), strict=True):
        mm = amount * _STEP_MM
        if mm < quality.code_mm or count < quality.code_days:
            continue
        near = (amounts != amount) & (amounts > amount / _NEAR) & (amounts < amount * _NEAR)
        # In a gauge read to the inch great amounts do repeat, but smaller ones more often.
        smaller = (amounts < amount) & (amounts > amount / 2)
        least = max(quality.code_times * counts[near].max(initial=0), counts[smaller].max(initial=0) + 1)
        if count < least:
            continue
        where = np.abs(rain - mm) <= _STEP_MM / 2 + 1e-9
        text = f"On {{days}} the rain is exactly {mm:.4g} mm ({mm / _INCH_MM:.4g} in), and hardly ever near that: "
        text += "the number may stand for a missing value."
        instead = f"{_ASIDE} Ask the station what the number means. {_CHECKED}"
        others = int(counts[near].sum())
        evidence = f"{others:,} other days have an amount near it"
        if others == 0:
            evidence = "no other day has an amount near it"
        found = told("suspect", where, record, text, instead, element="rain_mm", evidence=evidence)
        record, found = put_aside(record, where, found, said)
        issues += found
    return record, issues


def doubt_dry_spells(record: WeatherRecord, bounds: Limits, quality: QualityLimits, said: Said) -> Finding:
    """Dry spells far longer than this station has in the same season of its other years, or endless ones.

    A trace ends a dry spell: somebody read the gauge.
    """
    starts, ends = runs((record.rain_mm == 0) & (record.flags["rain_mm"] != Flag.TRACE))
    lengths = ends - starts
    issues: tuple[Issue, ...] = ()
    rain_mm, endless = record.rain_mm, 0
    for spell in np.flatnonzero(lengths >= quality.dry_spell_days).tolist():
        others = _longest_in_other_years(rain_mm, starts, ends, spell)
        usual = _usual(others, quality)
        where = np.zeros(len(rain_mm), dtype=bool)
        where[starts[spell] : ends[spell]] = True
        if usual is not None and lengths[spell] > quality.dry_spell_times * usual:
            text = "Not a drop is noted on {days} in a row, far more than this station has at that time of the year: "
            text += "the gauge may have been out of order."
            share = f"{10 * quality.dry_spell_share:.0f} of 10"
            evidence = f"in {share} of {len(others)} other years the longest dry spell then lasts {usual} days at most"
            instead = f"{_ASIDE} Ask the station, or compare with a gauge nearby. {_CHECKED}"
            found = told("false zeros", where, record, text, instead, element="rain_mm", evidence=evidence)
            record, found = put_aside(record, where, found, said)
            issues += found
        elif lengths[spell] >= bounds.no_rain_days and endless < _MOST_TOLD:
            endless += 1
            text = "Not a drop fell on {days} in a row: a desert, or a gauge that reports nothing as zero."
            instead = "The zeros were kept. Check before using any amount."
            issues += told("suspect", where, record, text, instead, element="rain_mm")
    return record, issues


def _usual(others: list[int], quality: QualityLimits) -> int | None:
    """The longest dry spell [day] of nearly all other years; None if there are too few to say."""
    if len(others) < quality.dry_spell_years:
        return None
    return sorted(others)[int(quality.dry_spell_share * (len(others) - 1))]


def _longest_in_other_years(
    rain_mm: Floats, starts: NDArray[np.int64], ends: NDArray[np.int64], spell: int
) -> list[int]:
    """The longest dry spell [day] that touches the same days of the calendar, for each other year that is known."""
    start, end = int(starts[spell]), int(ends[spell])
    lengths = ends - starts
    found = []
    for years in range(-int(start / _YEAR_D), int((len(rain_mm) - end) / _YEAR_D) + 1):
        shift = round(years * _YEAR_D)
        window = slice(start + shift, end + shift)
        if abs(shift) < end - start or window.start < 0 or window.stop > len(rain_mm):
            continue
        if np.mean(~np.isnan(rain_mm[window])) < _MOSTLY_KNOWN:
            continue
        touching = (starts < window.stop) & (ends > window.start)
        touching[spell] = False
        found.append(int(lengths[touching].max()) if touching.any() else 0)
    return found
