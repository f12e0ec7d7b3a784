"""What may come: the forecast first, then each past year of this station from the same calendar day on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.forecast import Forecast
from dooryard.weather.quantiles import quantiles, weighted_quantiles
from dooryard.weather.record import Days, Floats, Issue, WeatherRecord
from dooryard.weather.similar import Likeness, weigh

LONGEST_BRIDGED_DAYS = 3


@dataclass(frozen=True, slots=True, eq=False)
class Outlook:
    """Several futures that all begin on `on`. M members (one per usable past year), H days ahead.

    dates : (H,) from `on`.
    t_min_c, t_max_c [degC], rain_mm [mm] : (M, H). Temperatures are whole (short gaps bridged) unless the
        station has none at all; rain keeps its gaps as NaN.
    years : (M,) the year each member was taken from. excluded : (year, reason) of the years left out.
    forecast_days : how many leading days are the forecast's, the same in every member but for what the forecast
        leaves open (a first day begun when it was made, rain beyond its amounts): there the own years stand.
    issues : what a person must know (days bridged, years left out, a forecast that could not be used).
    weights : (M,) how much each member counts, sum 1; None if all count alike. likeness : why, then.
    """

    on: date
    dates: Days
    t_min_c: Floats
    t_max_c: Floats
    rain_mm: Floats
    years: tuple[int, ...]
    excluded: tuple[tuple[int, str], ...]
    forecast_days: int
    issues: tuple[Issue, ...]
    weights: Floats | None = None
    likeness: Likeness | None = None

    def quantiles(self, values: Floats, shares: Sequence[float]) -> Floats:
        """Points below which the given shares of the futures lie, each member counting by its weight.

        values : (M, ...) one value or row of values of each member, without NaN if there are weights. Result
        (shares, ...).
        """
        if self.weights is None:
            return quantiles(values, shares)
        return weighted_quantiles(values, self.weights, shares)

    def share(self, happens: NDArray[np.bool_]) -> float:
        """Share of the futures in which something happens, each member counting by its weight; happens (M,)."""
        if not len(happens):
            return float("nan")
        return float(happens.mean() if self.weights is None else self.weights[happens].sum())


def ahead(
    record: WeatherRecord,
    on: date,
    *,
    forecast: Forecast | None = None,
    days: int = 365,
    by_likeness: bool = False,
) -> Outlook:
    """The futures that the station's own past allows, seen from the morning of `on`.

    Only days before `on` are used. Member of year y: `days` days in a row of the record from the calendar
    day of `on` in year y (29 February starts on 1 March where there is none), so that wet spells stay whole
    and no day is invented or dropped; after a 29 February the calendar shifts by one day. The window must
    end before `on`: with 365 days last year's still fits, with more it does not. Gaps of up to three days in
    a temperature are bridged by a straight line and counted; a year with a longer one is left out and named.
    The first forecast day must be `on` or earlier; the forecast ends at its first day without both
    temperatures. If that is `on` itself (a forecast made in the afternoon does not know the morning), the own years
    lend that day's temperatures and the forecast goes on; they also lend the rain past `Forecast.rain_days`.
    by_likeness : let years whose last months were like this year's count more (`similar.weigh`).
    """
    known = record.until(on)
    years, starts, excluded = _windows(known, on, days)
    t_min, bridged_min = bridge_gaps(known.t_min_c)
    t_max, bridged_max = bridge_gaps(known.t_max_c)
    lead, forecast_issues = _foretold(forecast, on, days)
    index = starts[:, None] + np.arange(days)
    lent = np.isnan(lead.t_min_c) | np.isnan(lead.t_max_c)
    unknown = ((np.isnan(t_min) | np.isnan(t_max))[index] & lent).sum(axis=1)
    if np.isnan(t_min).all() and np.isnan(t_max).all():
        unknown[:] = 0  # a rain gauge without a thermometer still has futures of rain
    whole = unknown == 0
    excluded += [
        (year, f"{count} days without temperature in gaps of more than {LONGEST_BRIDGED_DAYS} days")
        for year, count in zip(years, unknown.tolist(), strict=True)
        if count
    ]
    index = index[whole]
    members = tuple(year for year, fits in zip(years, whole.tolist(), strict=True) if fits)
    likeness = weigh(record, on, members) if by_likeness else None
    bridged = (bridged_min | bridged_max)[index] & lent
    first = np.datetime64(on, "D")
    return Outlook(
        on=on,
        dates=np.arange(first, first + np.timedelta64(days, "D")),
        t_min_c=np.where(lent, t_min[index], lead.t_min_c),
        t_max_c=np.where(lent, t_max[index], lead.t_max_c),
        rain_mm=np.where(np.arange(days) >= lead.rain_days, known.rain_mm[index], lead.rain_mm),
        years=members,
        excluded=tuple(sorted(excluded)),
        forecast_days=lead.days,
        issues=forecast_issues + _issues(members, tuple(excluded), bridged, known),
        weights=None if likeness is None else likeness.weights,
        likeness=likeness,
    )


def bridge_gaps(
    values: Floats, longest: int = LONGEST_BRIDGED_DAYS
) -> tuple[Floats, np.ndarray[tuple[int, ...], np.dtype[np.bool_]]]:
    """A daily series with its short gaps bridged by a straight line, and which days were bridged; both
    (days,).

    A gap longer than `longest` days, or one at either end, stays NaN.
    """
    gap = np.isnan(values)
    bridged = np.zeros_like(gap)
    if not gap.any() or gap.all():
        return values, bridged
    edges = np.diff(np.concatenate(([False], gap, [False])).astype(np.int8))
    starts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    short = (ends - starts <= longest) & (starts > 0) & (ends < len(values))
    change = np.zeros(len(values) + 1, dtype=np.int8)
    change[starts[short]] = 1
    change[ends[short]] = -1
    bridged = np.cumsum(change[:-1]).astype(bool)
    whole = values.copy()
    whole[bridged] = np.interp(np.flatnonzero(bridged), np.flatnonzero(~gap), values[~gap])
    return whole, bridged


def _windows(
    known: WeatherRecord, on: date, days: int
) -> tuple[list[int], np.ndarray[tuple[int, ...], np.dtype[np.int64]], list[tuple[int, str]]]:
    """Years whose window of `days` days lies inside the record, with the index where each starts."""
    years: list[int] = []
    starts: list[int] = []
    excluded: list[tuple[int, str]] = []
    for year in range(known.first.year, on.year):
        start = (same_day(on, year) - known.first).days
        if start < 0:
            excluded.append((year, "the record begins later that year"))
        elif start + days > len(known.dates):
            excluded.append((year, "its days run up to the day asked or past it"))
        else:
            years.append(year)
            starts.append(start)
    return years, np.array(starts, dtype=np.int64), excluded


def same_day(on: date, year: int) -> date:
    """The calendar day of `on` in another year; 29 February becomes 1 March where there is none."""
    try:
        return on.replace(year=year)
    except ValueError:
        return date(year, 3, 1)


class _Lead(NamedTuple):
    """The forecast's part of every future: arrays (horizon,), temperatures NaN where the own years stand."""

    days: int
    rain_days: int
    t_min_c: Floats
    t_max_c: Floats
    rain_mm: Floats


def _foretold(forecast: Forecast | None, on: date, days: int) -> tuple[_Lead, tuple[Issue, ...]]:
    """What the forecast gives to a horizon of `days`, and what must be known about it."""
    nothing = np.full(days, np.nan)
    unused = _Lead(0, 0, nothing, nothing, nothing)
    if forecast is None:
        return unused, ()
    skip = int((np.datetime64(on, "D") - forecast.dates[0]).astype(int))
    if skip < 0 or skip >= len(forecast.dates):
        span = f"{forecast.dates[0]} to {forecast.dates[-1]}"
        text = f"The forecast ({span}) does not hold {on}, so it was not used."
        return unused, (Issue("forecast", text, instead="Give the forecast of that day."),)
    part = slice(skip, skip + days)
    unknown = np.isnan(forecast.t_min_c[part]) | np.isnan(forecast.t_max_c[part])
    later = np.flatnonzero(unknown[1:])
    led = int(later[0]) + 1 if later.size else len(unknown)
    if led == 1 and unknown[0]:
        led = 0
    issues: tuple[Issue, ...] = ()
    if led < len(unknown):
        text = f"The forecast is used for {led} days: the next one has no temperatures."
        issues = (Issue("forecast", text, instead="The station's own years go on from there."),)
    if led and unknown[0]:
        text = f"The forecast does not hold both temperatures of {on}, which had begun when it was made."
        issues += (Issue("forecast", text, on, on, 1, "The station's own years stand for them on that day."),)
    rain_days = led if forecast.rain_days is None else min(max(forecast.rain_days - skip, 0), led)
    if rain_days < led:
        text = f"Of the {led} days the forecast gives, {rain_days or 'none'} have an amount of rain."
        issues += (
            Issue("forecast", text, instead="The station's own years stand for the rain of the others."),
        )
    if forecast.issued is not None and forecast.issued < on:
        text = f"The forecast was made on {forecast.issued}, before the day asked."
        issues += (Issue("forecast", text, instead="Give a newer one if there is one."),)
    lead = np.full((3, days), np.nan)
    for row, values in enumerate((forecast.t_min_c, forecast.t_max_c, forecast.rain_mm)):
        lead[row, :led] = values[part][:led]
    return _Lead(led, rain_days, *lead), issues


def _issues(
    members: tuple[int, ...],
    excluded: tuple[tuple[int, str], ...],
    bridged: np.ndarray[tuple[int, ...], np.dtype[np.bool_]],
    known: WeatherRecord,
) -> tuple[Issue, ...]:
    issues: tuple[Issue, ...] = ()
    count, touched = int(bridged.sum()), int(bridged.any(axis=1).sum())
    if count:
        text = (
            f"{count} days without temperature in {touched} of {len(members)} past years lay in short gaps."
        )
        issues += (Issue("outlook", text, days=count, instead="They were bridged by a straight line."),)
    if excluded:
        text = f"{len(excluded)} past years could not be used, {len(members)} could."
        issues += (Issue("outlook", text, instead="See the years left out, with the reason of each."),)
    if not members:
        text = f"No past year of {known.station.name} is whole enough to go on from."
        issues += (Issue("outlook", text, instead="Dates ahead of the forecast are refused."),)
    return issues
