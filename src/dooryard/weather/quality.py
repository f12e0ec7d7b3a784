"""Can this be weather? Impossible values are taken out, and what a person must know is told as an issue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.doubts import runs, take_out, told
from dooryard.weather.habits import look_for
from dooryard.weather.limits import Limits, QualityLimits, limits, quality_limits
from dooryard.weather.rain_doubts import doubt_codes, doubt_dry_spells
from dooryard.weather.record import CORE, STATED, WORDS, Flag, Issue, WeatherRecord, as_date
from dooryard.weather.unit_doubts import Said, doubt_units

__all__ = ["GAPS_TOLD", "SHORTEST_GAP_TOLD_DAYS", "examine", "runs"]

GAPS_TOLD = 5
SHORTEST_GAP_TOLD_DAYS = 4

_WITHOUT_TRACES = ("NOAA global summary of the day CSV",)  # a trace is 0.00 there, and a blank is 99.99


def examine(
    record: WeatherRecord,
    bounds: Limits | None = None,
    thresholds: QualityLimits | None = None,
    *,
    said: Said | None = None,
) -> WeatherRecord:
    """The same record, with impossible values NaN and SUSPECT, and the doubts added to its issues.

    bounds : what no weather exceeds; thresholds : of the other checks; the shipped ones if not given.
    said : what is known of the units; nothing, if not given and no issue tells that they were stated. Nothing
    is ever filled or corrected, and no value is taken out or doubted without a flag.
    """
    bounds, thresholds = bounds or limits(), thresholds or quality_limits()
    if not record.station.name:
        named = replace(record.station, name=record.station.id or record.source.path_name.split(".")[0])
        record = replace(record, station=named)
    if said is None:
        word = any(issue.kind == STATED for issue in record.issues)
        said = Said(stated=word, rain_checked=word)
    record, codes = doubt_codes(record, thresholds, said)
    record, units = doubt_units(record, bounds, thresholds, said)
    record, doubts = take_out(record, bounds, thresholds)
    record, spells = doubt_dry_spells(record, bounds, thresholds, said)
    record, habits = look_for(record, thresholds, said)
    missing = {name: np.isnan(record.element(name)) for name in CORE}
    patterns = _patterns(record, bounds, missing)
    issues = (*units, *codes, *doubts, *spells, *habits, *_gaps(record, missing), *patterns)
    return replace(record, issues=record.issues + issues)


def _gaps(record: WeatherRecord, missing: Mapping[str, NDArray[np.bool_]]) -> list[Issue]:
    """Stretches without any core value one by one (the longest), then the missing days of each element."""
    nothing = missing["t_min_c"] & missing["t_max_c"] & missing["rain_mm"]
    starts, ends = runs(nothing)
    lengths = ends - starts
    long = np.flatnonzero(lengths >= SHORTEST_GAP_TOLD_DAYS)
    longest = np.sort(long[np.argsort(-lengths[long], kind="stable")][:GAPS_TOLD])
    issues = [_gap(record, starts[gap], ends[gap]) for gap in longest]
    counted = np.zeros(lengths.size, dtype=bool)
    counted[longest] = True
    rest = lengths[(lengths >= SHORTEST_GAP_TOLD_DAYS) & ~counted]
    if rest.size:
        days = int(rest.sum())
        text = f"{rest.size} more gaps of {rest.min()} to {rest.max()} days, {days:,} days in all."
        issues.append(Issue("gap", text, days=days, instead="Nothing was filled in."))
    total = len(record.dates)
    issues += _nowhere(record, [name for name in CORE if missing[name].all()])
    for name in CORE:
        count = int(missing[name].sum())
        if 0 < count < total:
            text = f"The {WORDS[name]} is missing on {count:,} of {total:,} days ({_percent(count, total)})."
            issues += told("missing", missing[name], record, text, "Nothing was filled in.")
    return issues


def _nowhere(record: WeatherRecord, elements: Sequence[str]) -> tuple[Issue, ...]:
    """Elements without a single value that can be used; those the reader found no column for are told by it."""
    told_by_reader = " ".join(issue.text for issue in record.issues if issue.kind == "columns")
    never, doubted = [], []
    for name in elements:
        if not (record.flags[name] == Flag.MISSING).all():
            doubted.append(WORDS[name])
        elif WORDS[name] not in told_by_reader:
            never.append(WORDS[name])
    first, last, days = record.first, record.last, len(record.dates)
    issues: tuple[Issue, ...] = ()
    if never:
        text = f"This record has no {_listed(never, 'or')} at all."
        issues += (Issue("missing", text, first, last, days, "What needs it is refused."),)
    if doubted:
        text = f"Not one value of the {_listed(doubted)} can be used."
        issues += (Issue("missing", text, first, last, days, "What needs it is refused."),)
    return issues


def _gap(record: WeatherRecord, start: int, end: int) -> Issue:
    first, last, days = as_date(record.dates[start]), as_date(record.dates[end - 1]), int(end - start)
    text = f"No rain, highest or lowest temperature from {first} to {last} ({days:,} days)."
    return Issue("gap", text, first, last, days, "Nothing was filled in.")


def _patterns(record: WeatherRecord, bounds: Limits, missing: Mapping[str, NDArray[np.bool_]]) -> list[Issue]:
    """What the pattern of the whole record gives away: filled gaps, lost traces."""
    issues = []
    total = len(record.dates)
    if total >= bounds.too_clean_days:
        # Gaps filled under a flag can be told from measured days, and the reader has told them.
        flagged = {name for name in CORE if (record.flags[name] == Flag.ESTIMATED).any()}
        clean = [WORDS[name] for name in CORE if name not in flagged and not missing[name].any()]
        if clean:
            text = f"Not one day of {_listed(clean)} is missing in {total // 365} years: as a rule they were filled."
            issues.append(Issue("filled", text, instead="Filled days cannot be told from measured ones."))
    blank = missing["rain_mm"] & ~missing["t_min_c"] & ~missing["t_max_c"]
    blank &= record.flags["rain_mm"] == Flag.MISSING
    traces = int((record.flags["rain_mm"] == Flag.TRACE).sum())
    if (
        total >= 365
        and record.source.layout not in _WITHOUT_TRACES
        and traces == 0
        and _mostly_single(blank)
        and blank.sum() >= bounds.blank_rain_share * total
    ):
        share = _percent(int(blank.sum()), total)
        text = (
            f"Rain is blank on {{days}} ({share}) that have temperatures, mostly single ones, and no day has "
        )
        text += "a trace: traces may have been turned into blanks."
        issues += told("trace", blank, record, text, "They count as missing. Ask who made the file.")
    return issues


def _mostly_single(blank: NDArray[np.bool_]) -> bool:
    starts, ends = runs(blank)
    return len(starts) > 0 and bool(np.mean(ends - starts <= 3) >= 0.9)


def _listed(words: Sequence[str], last: str = "and") -> str:
    return f" {last} ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _percent(count: int, total: int) -> str:
    share = 100 * count / total
    return "less than 0.1 %" if share < 0.1 else f"{share:.1f} %"
