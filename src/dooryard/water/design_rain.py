"""How hard it can rain here: from a gauge's own minutes, a design table, or a day's rain and a storm pattern.

Each way gives two bursts for one window of minutes: the *usual* one, which about every second year brings, and
a *rare* one (of a stated return period, or the hardest on record). The ways seldom agree; all that are at hand
are kept, best first, so that the difference can be shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from dooryard.knowledge import Fact
from dooryard.problem import InputError, Problem
from dooryard.water.idf import Floats, ShiftedPower, fit
from dooryard.water.roof import Range
from dooryard.water.storm import Pattern, burst_rate
from dooryard.weather.record import WeatherRecord

if TYPE_CHECKING:  # their modules are only needed by those who have such a file
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.readers.atlas14 import DesignTable

Kind = Literal["gauge", "table", "pattern"]

HOUR_MIN = 60.0
DAY_MIN = 1440.0


@dataclass(frozen=True, slots=True)
class DesignBurst:
    """How hard it can rain in any window of some minutes, found in one way.

    kind : "gauge" (the place's own sub-daily record), "table" (NOAA Atlas 14) or "pattern" (wettest days and a
    published 24-hour storm). usual_mm_h : burst about every second year brings; None if the record has no whole
    year. rare_mm_h : burst of `rare_years`, or the hardest on record where that is None [mm/h]. years : whole
    years behind a record; None for a table. step_min : the record's own step, where a shorter window was
    had by published ratios; else the window.
    """

    kind: Kind
    window_min: float
    usual_mm_h: Range | None
    rare_mm_h: Range
    rare_years: float | None
    years: int | None
    step_min: float


def table_depth(table: DesignTable, minutes: float, years: float) -> Range:
    """Depth of a design table between its rows and columns [mm], with its 90 % bounds if it has them.

    Parameters
    ----------
    table : DesignTable
    minutes : float
        Duration, within the table's.
    years : float
        Average recurrence interval, within the table's.

    Returns
    -------
    Range
        Straight lines of the logarithms in both directions; the bounds are the estimate itself if none are given.

    Raises
    ------
    InputError
        Outside the table: nothing is extrapolated.
    """
    for value, known, name in ((minutes, table.minutes, "minutes"), (years, table.years, "years")):
        if not known[0] <= value <= known[-1]:
            raise InputError(
                Problem(
                    f"The design table reaches from {known[0]:g} to {known[-1]:g} {name}.",
                    "Ask within it; beyond it nobody has worked the number out.",
                    table.source.path_name,
                    field=name,
                    found=f"{value:g}",
                )
            )
    value_mm = _between(table, table.depth_mm, minutes, years)
    if table.low_mm is None or table.high_mm is None:
        return Range(value_mm, value_mm, value_mm)
    low_mm, high_mm = (_between(table, depths, minutes, years) for depths in (table.low_mm, table.high_mm))
    return Range(low_mm, value_mm, high_mm)


def table_curve(table: DesignTable, years: float, longest_min: float = DAY_MIN) -> tuple[ShiftedPower, float]:
    """A curve a / (t + c)^b through a table's rates of one return period [mm/h], and its largest error [1].

    table : DesignTable. years : within the table. longest_min : rows of longer durations are left out, since
    one curve does not fit minutes and weeks alike.
    """
    minutes = table.minutes[table.minutes <= longest_min]
    rates = [table_depth(table, float(t), years).value * HOUR_MIN / float(t) for t in minutes]
    return fit(minutes, rates)


def short_ratio(minutes: float, facts: Mapping[str, Fact]) -> float:
    """Rain of the hardest so many minutes over that of the hardest hour [1], from ``rain.short_ratio.<n>min``.

    minutes : between the shortest listed and 60. Straight lines of the logarithms between; InputError outside.
    """
    head = "rain.short_ratio."
    points = sorted(
        (float(key.removeprefix(head).removesuffix("min")), fact.value)
        for key, fact in facts.items()
        if key.startswith(head)
    )
    listed, ratios = np.log(np.array(points).T)
    wanted = np.log(minutes)
    if not listed[0] - 1e-9 <= wanted <= listed[-1] + 1e-9:
        what = f"Published ratios reach from {points[0][0]:g} to {points[-1][0]:g} minutes."
        raise InputError(Problem(what, "Take a window within them.", field="minutes", found=f"{minutes:g}"))
    return float(np.exp(np.interp(wanted, listed, ratios)))


def from_table(
    table: DesignTable, window_min: float, facts: Mapping[str, Fact], rare_years: float | None = None
) -> DesignBurst:
    """Usual and rare burst of a design table; `rare_years` is ``design.rare_years`` if not given.

    InputError if window or return period lies outside the table.
    """
    usual_years = facts["design.usual_years"].value
    rare = facts["design.rare_years"].value if rare_years is None else rare_years
    usual_mm_h, rare_mm_h = (
        _scaled(table_depth(table, window_min, years), HOUR_MIN / window_min) for years in (usual_years, rare)
    )
    return DesignBurst("table", window_min, usual_mm_h, rare_mm_h, rare, None, window_min)


def from_gauge(gauge: GaugeRecord, window_min: float, facts: Mapping[str, Fact]) -> DesignBurst | None:
    """Usual and hardest burst of a gauge's own record (for hourly values give ``record.gauge()``).

    Parameters
    ----------
    gauge : GaugeRecord
    window_min : float
        Length of the burst. If the gauge's wet intervals are usually longer, they decide, and published ratios
        of short rain to the hour bring the rate to the window.
    facts : mapping
        ``rain.short_ratio.*`` and ``design.gauge_covered_least``.

    Returns
    -------
    DesignBurst or None
        Low is the depth that fell in one window for certain, high the most that can have, value their mean.
        None without rain, or if the gauge's steps are longer than an hour (a notebook tells no bursts).
    """
    wet = gauge.depth_mm > 0.0
    if not wet.any():
        return None
    step_min = max(window_min, float(np.median(gauge.minutes[wet])))
    if step_min > HOUR_MIN:
        return None
    factor = 1.0
    if step_min > window_min:
        factor = short_ratio(window_min, facts) / short_ratio(step_min, facts) * (step_min / window_min)
    least = facts["design.gauge_covered_least"].value
    whole = [year.burst for year in gauge.yearly_bursts(step_min) if year.covered >= least]
    usual = None
    if whole:
        low, high = (float(np.median([getattr(b, end) for b in whole])) for end in ("low_mm_h", "high_mm_h"))
        usual = _scaled(Range(low, (low + high) / 2, high), factor)
    hardest = gauge.burst(step_min)
    low, high = hardest.low_mm_h, hardest.high_mm_h
    rare = _scaled(Range(low, (low + high) / 2, high), factor)
    return DesignBurst("gauge", window_min, usual, rare, None, len(whole), step_min)


def from_days(
    record: WeatherRecord, storm: Pattern, window_min: float, facts: Mapping[str, Fact]
) -> DesignBurst | None:
    """Bursts of the usual year's wettest day and of the wettest on record, by a storm pattern.

    Parameters
    ----------
    record : WeatherRecord
    storm : Pattern
        Shares of a 24-hour storm.
    window_min : float
        Length of the burst.
    facts : mapping
        ``design.missing_days_most`` and ``rain.short_ratio.*``.

    Returns
    -------
    DesignBurst or None
        Without spread: a pattern has none to give. None if no year is nearly whole.
    """
    years = record.complete_years("rain_mm", allowed_missing=int(facts["design.missing_days_most"].value))
    if not years:
        return None
    of_day = record.dates.astype("datetime64[Y]").astype(int) + 1970
    wettest = [float(np.nanmax(record.rain_mm[of_day == year])) for year in years]
    share = window_share(storm, window_min, facts)
    usual, rare = (
        float(burst_rate(depth_mm, share, window_min / HOUR_MIN))
        for depth_mm in (float(np.median(wettest)), max(wettest))
    )
    return DesignBurst(
        "pattern",
        window_min,
        Range(usual, usual, usual),
        Range(rare, rare, rare),
        None,
        len(years),
        window_min,
    )


def window_share(storm: Pattern, window_min: float, facts: Mapping[str, Fact]) -> float:
    """Largest share of a storm in a window [1], with published ratios below the pattern's own step.

    storm : a pattern may list only half hours where it is steepest; a straight line through them hides its
    worst minutes, so a shorter window takes the share of that step times a ratio of short rain to the hour.
    window_min : length of the window. facts : ``rain.short_ratio.*``.
    """
    steepest = int(np.argmax(np.diff(storm.share) / np.diff(storm.hours)))
    step_min = float(np.diff(storm.hours)[steepest]) * HOUR_MIN
    if window_min >= min(step_min, HOUR_MIN) - 1e-6:
        return storm.largest_share(window_min / HOUR_MIN)
    step_min = min(step_min, HOUR_MIN)
    ratio = short_ratio(window_min, facts) / short_ratio(step_min, facts)
    return storm.largest_share(step_min / HOUR_MIN) * ratio


def best_first(found: Iterable[DesignBurst | None], facts: Mapping[str, Fact]) -> tuple[DesignBurst, ...]:
    """The ways at hand, the one to go by first.

    A gauge of enough years (``design.gauge_years_least``) goes before a design table, a table before a short
    gauge record with at least one whole year, and a pattern before a gauge without one.
    """
    least = facts["design.gauge_years_least"].value

    def rank(burst: DesignBurst) -> int:
        if burst.kind == "gauge":
            years = burst.years or 0
            return 0 if years >= least else 2 if years else 4
        return 1 if burst.kind == "table" else 3

    return tuple(sorted((burst for burst in found if burst is not None), key=rank))


def _between(table: DesignTable, depths: Floats, minutes: float, years: float) -> float:
    by_year = [np.interp(np.log(minutes), np.log(table.minutes), np.log(column)) for column in depths.T]
    return float(np.exp(np.interp(np.log(years), np.log(table.years), by_year)))


def _scaled(values: Range, factor: float) -> Range:
    return Range(values.low * factor, values.value * factor, values.high * factor)
