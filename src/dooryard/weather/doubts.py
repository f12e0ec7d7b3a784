"""Single values that no weather brings: taken out, flagged SUSPECT, and told with what speaks against them.

The checks follow the order of those the US archive runs on its own daily values (source W-GHCN-QA), with
thresholds from the knowledge tables: beyond every record, highest below lowest, two noughts, stuck, spikes.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.limits import Limits, QualityLimits
from dooryard.weather.record import WORDS, Flag, Floats, Issue, WeatherRecord, as_date

Days = NDArray[np.bool_]
Finding = tuple[WeatherRecord, tuple[Issue, ...]]

_NOUGHT_F_C = (0.0 - 32.0) * 5.0 / 9.0
_NEAR_C = 0.06  # two layouts may round 0 degF to -17.8 degC
_EXAMPLES = 3


def take_out(record: WeatherRecord, bounds: Limits, quality: QualityLimits) -> Finding:
    """The record without what cannot be, and a finding for each kind of doubt."""
    issues: list[Issue] = []
    record, told = _beyond(record, bounds)
    issues += told
    for step in (_crossed, _noughts, _stuck, _stuck_rain, _spikes):
        record, told = step(record, quality)
        issues += told
    return record, tuple(issues)


def told(
    kind: str,
    where: Days,
    record: WeatherRecord,
    text: str,
    instead: str,
    *,
    element: str = "",
    evidence: str = "",
) -> tuple[Issue, ...]:
    """One finding about the days `where` holds, (days,); text with {days}, which becomes "12 days"."""
    rows = np.flatnonzero(where)
    if not rows.size:
        return ()
    days = "1 day" if rows.size == 1 else f"{rows.size:,} days"
    first, last = as_date(record.dates[rows[0]]), as_date(record.dates[rows[-1]])
    sentence = text.replace("{days}", days)
    return (Issue(kind, sentence, first, last, int(rows.size), instead, evidence, element),)


def doubting(record: WeatherRecord, doubted: dict[str, Days], flag: Flag = Flag.SUSPECT) -> WeatherRecord:
    """The record with the values of those days NaN and flagged."""
    flags = dict(record.flags)
    values: dict[str, Any] = {}
    for name, wrong in doubted.items():
        values[name] = np.where(wrong, np.nan, record.element(name))
        flags[name] = np.where(wrong, np.uint8(flag), flags[name])
        values[name].setflags(write=False)
        flags[name].setflags(write=False)
    return replace(record, flags=MappingProxyType(flags), **values)


def runs(holds: Days) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Start and end (not included) of every unbroken run of True in a (days,) array, both (runs,)."""
    edges = np.diff(np.concatenate(([False], holds, [False])).astype(np.int8))
    return np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)


def shown(name: str, value: float) -> str:
    """A value with its unit, as evidence."""
    units = {"rain_mm": "mm", "wind_m_s": "m/s", "solar_mj_m2": "MJ/m2", "humidity_pct": "%"}
    number = f"{value:.4g}" if abs(value) < 1e4 else f"{value:,.0f}"
    return f"{number} {units.get(name, 'degC')}"


def _beyond(record: WeatherRecord, bounds: Limits) -> Finding:
    degrees = (bounds.coldest_c, bounds.hottest_c)
    between = {
        "t_min_c": degrees,
        "t_max_c": degrees,
        "t_mean_c": degrees,
        "rain_mm": (0.0, bounds.wettest_day_mm),
        "wind_m_s": (0.0, bounds.windiest_day_m_s),
        "dew_point_c": (bounds.coldest_c, bounds.highest_dew_point_c),
        "solar_mj_m2": (0.0, bounds.sunniest_day_mj_m2),
        "humidity_pct": (0.0, bounds.highest_humidity_pct),
    }
    issues: tuple[Issue, ...] = ()
    doubted: dict[str, Days] = {}
    for name in record.elements:
        low, high = between[name]
        values = record.element(name)
        wrong = (values < low) | (values > high)
        if wrong.any():
            doubted[name] = wrong
            example = shown(name, float(values[np.argmax(wrong)]))
            text = f"The {WORDS[name]} cannot be right on {{days}}, such as {example}."
            limits = f"{shown(name, low)} or {shown(name, high)}"
            evidence = f"{_dated(record, name, wrong)}; no weather goes beyond {limits}"
            issues += told(
                "suspect",
                wrong,
                record,
                text,
                "These values are left out.",
                element=name,
                evidence=evidence,
            )
    return (doubting(record, doubted) if doubted else record), issues


def _crossed(record: WeatherRecord, quality: QualityLimits) -> Finding:
    """Lowest above highest temperature: a slip on single days, columns that do not belong together on many."""
    # A hair of room: Fahrenheit columns may differ in the last bit after conversion.
    crossed = record.t_min_c > record.t_max_c + 1e-6
    if not crossed.any():
        return record, ()
    text = "On {days} the lowest temperature is above the highest."
    evidence = f"lowest {_dated(record, 't_min_c', crossed)}; highest {_dated(record, 't_max_c', crossed)}"
    both = ~(np.isnan(record.t_min_c) | np.isnan(record.t_max_c))
    if crossed.sum() > max(quality.beyond_days, quality.crossed_share * both.sum()):
        exchanged = bool((record.t_min_c >= record.t_max_c)[both].all())
        text = "On {days} the lowest temperature is above the highest: the two columns may "
        text += "have been exchanged." if exchanged else "be exchanged or in different units."
        instead = "None of these temperatures is used. Correct the header and read the file again."
        issues = told("suspect", crossed, record, text, instead, evidence=evidence)
        everywhere = {name: ~np.isnan(record.element(name)) for name in ("t_min_c", "t_max_c")}
        return doubting(record, everywhere), issues
    issues = told("suspect", crossed, record, text, "Both are left out on these days.", evidence=evidence)
    return doubting(record, {"t_min_c": crossed, "t_max_c": crossed}), issues


def _noughts(record: WeatherRecord, quality: QualityLimits) -> Finding:
    """Highest and lowest both 0 degC or both 0 degF far from the days around: an empty cell became a number."""
    doubted = np.zeros(len(record.dates), dtype=bool)
    for nought in (0.0, _NOUGHT_F_C):
        near = 1e-9 if nought == 0.0 else _NEAR_C
        both = (np.abs(record.t_min_c - nought) <= near) & (np.abs(record.t_max_c - nought) <= near)
        if not both.any():
            continue
        known = np.flatnonzero(~np.isnan(record.t_max_c) & ~both)
        for start, end in zip(*runs(both), strict=True):
            place = int(np.searchsorted(known, start))
            around = known[max(place - 1, 0) : place + 1]
            # A freezing day among freezing days is weather.
            if around.size and (np.abs(record.t_max_c[around] - nought) >= quality.nought_c).all():
                doubted[start:end] = True
    if not doubted.any():
        return record, ()
    text = "On {days} the highest and the lowest temperature are both exactly 0, far from the days around: "
    text += "an empty cell may have become a number."
    evidence = _dated(record, "t_max_c", doubted)
    issues = told("false zeros", doubted, record, text, "Both are left out on these days.", evidence=evidence)
    return doubting(record, {"t_min_c": doubted, "t_max_c": doubted}), issues


def _stuck(record: WeatherRecord, quality: QualityLimits) -> Finding:
    issues: tuple[Issue, ...] = ()
    doubted: dict[str, Days] = {}
    for name in ("t_min_c", "t_max_c"):
        values = record.element(name)
        stuck = _same_again(values, int(quality.streak_days))
        if stuck.any():
            text = f"The {WORDS[name]} stands still for {int(quality.streak_days)} days or more, {{days}} in all."
            issues += _standing_still(record, name, stuck, text, doubted)
    if len(doubted) == 2:
        dead, found = _dead_station(record, doubted["t_min_c"] & doubted["t_max_c"])
        issues += found
        doubted |= dead
    return (doubting(record, doubted) if doubted else record), issues


def _dead_station(record: WeatherRecord, stuck: Days) -> tuple[dict[str, Days], tuple[Issue, ...]]:
    """Noughts of rain all through a time in which both temperatures stood still: nobody measured them either."""
    noughts = np.zeros(len(stuck), dtype=bool)
    for start, end in zip(*runs(stuck), strict=True):
        rain = record.rain_mm[start:end]
        if not (rain > 0).any():
            noughts[start:end] = rain == 0
    text = "On {days} the rain is 0 while both temperatures stand still: the whole station was out of order."
    instead = "These days count as without a rain value."
    found = told("false zeros", noughts, record, text, instead, element="rain_mm")
    return ({"rain_mm": noughts} if found else {}), found


def _stuck_rain(record: WeatherRecord, quality: QualityLimits) -> Finding:
    rain = record.rain_mm
    # Dry days and small amounts do repeat: only the days above that are looked at, and only without a break.
    again = (rain[1:] == rain[:-1]) & (rain[1:] >= quality.rain_streak_mm)
    if not again.any():
        return record, ()
    stuck = np.zeros(len(rain), dtype=bool)
    starts, ends = runs(again)
    for run in np.flatnonzero(ends - starts + 1 >= int(quality.rain_streak_days)).tolist():
        stuck[starts[run] : ends[run] + 1] = True
    if not stuck.any():
        return record, ()
    text = f"Exactly the same rain is noted {int(quality.rain_streak_days)} days in a row or more, {{days}} in all."
    doubted: dict[str, Days] = {}
    issues = _standing_still(record, "rain_mm", stuck, text, doubted)
    return (doubting(record, doubted) if doubted else record), issues


def _standing_still(
    record: WeatherRecord, name: str, stuck: Days, text: str, doubted: dict[str, Days]
) -> tuple[Issue, ...]:
    """The finding; the days join `doubted` unless the whole column is one number, which is no instrument's fault."""
    whole = bool((stuck | np.isnan(record.element(name))).all())
    if not whole:
        doubted[name] = stuck
    instead = "They were kept, as nothing else is there." if whole else "These values are left out."
    evidence = _dated(record, name, stuck)
    return told("stuck", stuck, record, text, instead, element=name, evidence=evidence)


def _spikes(record: WeatherRecord, quality: QualityLimits) -> Finding:
    """A day far above or far below both its neighbours."""
    issues: tuple[Issue, ...] = ()
    doubted: dict[str, Days] = {}
    for name in ("t_min_c", "t_max_c", "t_mean_c"):
        if name not in record.elements:
            continue
        values = record.element(name)
        steps = np.diff(values)
        up, down = steps >= quality.spike_c, steps <= -quality.spike_c
        if not (up.any() and down.any()):
            continue
        spike = np.zeros(len(values), dtype=bool)
        spike[1:-1] = (up[:-1] & down[1:]) | (down[:-1] & up[1:])
        if spike.any():
            doubted[name] = spike
            text = f"On {{days}} the {WORDS[name]} jumps by {quality.spike_c:.0f} degC and back again."
            issues += told(
                "step",
                spike,
                record,
                text,
                "These values are left out.",
                element=name,
                evidence=_spike_evidence(record, name, spike),
            )
    return (doubting(record, doubted) if doubted else record), issues


def _spike_evidence(record: WeatherRecord, name: str, spike: Days) -> str:
    values = record.element(name)
    words = []
    for row in np.flatnonzero(spike)[:_EXAMPLES].tolist():
        before, value, after = (float(values[day]) for day in (row - 1, row, row + 1))
        usual = (before + after) / 2
        tenth = min(abs(value * factor - usual) for factor in (0.1, 10.0)) < abs(value - usual) / 4
        hint = ", perhaps a factor of ten" if tenth else ""
        words.append(f"{record.dates[row]}: {value:.4g} between {before:.4g} and {shown(name, after)}{hint}")
    return "; ".join(words)


def _same_again(values: Floats, days: int) -> Days:
    """Where a value belongs to a run of at least `days` equal known values; gaps do not break a run."""
    result = np.zeros(len(values), dtype=bool)
    there = ~np.isnan(values)
    series = values if there.all() else values[there]
    if series.size < days:
        return result
    same = series[1:] == series[:-1]
    # Most columns hold no such run: then halving finds out in a few steps (1, 2, 4, … equal steps in a row).
    left, length = same, 1
    while left.any() and 2 * length < days:
        left = left[length:] & left[:-length]
        length *= 2
    if not left.any():
        return result
    breaks = np.flatnonzero(~same)
    starts = np.concatenate(([0], breaks + 1))
    known = np.flatnonzero(there)
    lengths = np.diff(starts, append=known.size)
    for run in np.flatnonzero(lengths >= days).tolist():
        result[known[starts[run] : starts[run] + lengths[run]]] = True
    return result


def _dated(record: WeatherRecord, name: str, where: Days) -> str:
    """The first few of those values with their days."""
    rows = np.flatnonzero(where)
    values = record.element(name)
    words = [f"{record.dates[row]} {shown(name, float(values[row]))}" for row in rows[:_EXAMPLES].tolist()]
    return ", ".join(words) + (", …" if rows.size > _EXAMPLES else "")
