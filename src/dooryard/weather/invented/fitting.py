"""From a station's record to the parameters of its generator."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import log, sqrt

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.invented.amounts import Amounts, fit_amounts
from dooryard.weather.invented.curves import angle_of_year
from dooryard.weather.invented.occurrence import Occurrence, fit_occurrence, wet_days
from dooryard.weather.invented.parameters import GENERATED, Parameters
from dooryard.weather.invented.residuals import (
    FEWEST,
    Residuals,
    around,
    fit_element,
    fit_residuals,
    no_residuals,
)
from dooryard.weather.invented.slow import Slow, month_and_year, stretch
from dooryard.weather.record import Days, Flag, Floats, WeatherRecord

TRIAL_YEARS = 1000  # made side by side to see how much totals vary without any hidden deviation
TRIAL_WARM_UP = 60
TRIAL_SEED = 1981
NUDGE = 0.25  # on the logistic scale, to see what a hidden deviation does to the wet days of a month
RANGE_SHARE = 0.01  # share of days whose temperatures lie closer together than the least range generated


@dataclass(frozen=True, slots=True)
class Needs:
    """The facts `generator.*` a fit rests on; see `knowledge/facts/weather_generator.csv`."""

    wet_day_mm: float
    least_years: float


@lru_cache(maxsize=1)
def needs() -> Needs:
    """The shipped facts. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return Needs(**{name: tables.fact(f"generator.{name}").value for name in Needs.__slots__})


def fit(record: WeatherRecord, *, slow: bool = True) -> Parameters:
    """Parameters under which the generator resembles this record.

    Only measured days count: estimates of a publisher, suspect values and totals of several days do not. A
    trace is a dry day. slow : whether months and years get hidden deviations of their own (`slow.py`).
    InputError if there is too little rain on record to fit to (the fact generator.least_years, in days).
    Rain alone is enough; an element joins if it is known on enough wet and enough dry days.
    """
    limits = needs()
    rain_mm = measured(record, "rain_mm")
    wet = np.where(np.isnan(rain_mm), np.nan, rain_mm >= limits.wet_day_mm)
    _require_enough(wet, limits.least_years)
    angle_rad = angle_of_year(record.dates)
    occurrence = fit_occurrence(wet, angle_rad)
    rainy = wet == 1
    was_wet = np.concatenate(([np.nan], wet[:-1]))
    month = record.dates.astype("datetime64[M]").astype(np.int64) % 12
    amounts = fit_amounts(rain_mm[rainy] - limits.wet_day_mm, was_wet[rainy], angle_rad[rainy], month[rainy])
    hidden = Slow()
    if slow:
        counts, totals = by_month(record.dates, wet), by_month(record.dates, rain_mm)
        hidden = _hidden(occurrence, amounts, limits.wet_day_mm, counts, totals)
    residuals, least_range_c = _residuals(record, wet, angle_rad, slow=slow)
    return Parameters(limits.wet_day_mm, least_range_c, occurrence, amounts, residuals, hidden)


def measured(record: WeatherRecord, element: str) -> Floats:
    """Values (days,) of an element that somebody measured; NaN for all others, estimates among them."""
    flags = record.flags[element]
    return np.where((flags == Flag.OBSERVED) | (flags == Flag.TRACE), record.element(element), np.nan)


def by_month(dates: Days, values: Floats) -> Floats:
    """Sums (years, 12) over calendar months, the first year that of the first day; NaN if a day is missing."""
    months = dates.astype("datetime64[M]").astype(np.int64)
    first = months[0] - months[0] % 12
    size = int(months[-1] - first) // 12 * 12 + 12
    known = ~np.isnan(values)
    count = np.bincount((months - first)[known], minlength=size)
    total = np.bincount((months - first)[known], weights=values[known], minlength=size)
    start = (first + np.arange(size + 1)).astype("datetime64[M]").astype("datetime64[D]")
    length = np.diff(start).astype(int)
    result: Floats = np.where(count == length, total, np.nan).reshape(-1, 12)
    return result


def _require_enough(wet: Floats, least_years: float) -> None:
    days = int(np.sum(~np.isnan(wet)))
    if days < least_years * 365 or np.nansum(wet) < FEWEST:
        raise InputError(
            Problem(
                f"The record has {days} days with measured rain, {int(np.nansum(wet))} of them wet:"
                " too little to fit the generator to.",
                f"Use a station with at least {least_years:g} years of measured rain and {FEWEST} wet days.",
                field="rain_mm",
            )
        )


def _residuals(
    record: WeatherRecord, wet: Floats, angle_rad: Floats, *, slow: bool
) -> tuple[Residuals, float]:
    """Residuals of all elements known well enough, and the least range of a day [degC]."""
    elements, columns = [], []
    for name in (
        "t_max_c",
        "t_min_c",
        *(other for other in GENERATED if other not in ("t_max_c", "t_min_c")),
    ):
        if name not in record.elements:
            continue
        values = measured(record, name)
        if min(np.sum(~np.isnan(values) & (wet == state)) for state in (0, 1)) < FEWEST:
            continue
        element, residual = fit_element(name, values, around(wet), angle_rad)
        elements.append(element)
        columns.append(residual)
    if not elements or elements[0].name != "t_max_c":
        return no_residuals(), 0.0
    month_index = record.dates.astype("datetime64[M]").astype(np.int64)
    joined = fit_residuals(tuple(elements), np.stack(columns, axis=1), month_index)
    if not slow:
        joined = replace(joined, monthly=0 * joined.monthly, yearly=0 * joined.yearly)
    return joined, _least_range_c(record)


def _least_range_c(record: WeatherRecord) -> float:
    spans = measured(record, "t_max_c") - measured(record, "t_min_c")
    spans = spans[~np.isnan(spans)]
    return max(float(np.quantile(spans, RANGE_SHARE)), 0.0) if spans.size else 0.0


def _hidden(
    occurrence: Occurrence, amounts: Amounts, least_mm: float, counts: Floats, totals: Floats
) -> Slow:
    """Hidden deviations of rain: the spread of monthly and yearly wet days and totals beyond daily chance.

    counts, totals : (years, 12) wet days and rain [mm] of the record. First the wet days, by years made side by
    side without hidden deviations, and nudged up and down; then the totals, by years made with those of the
    wet days. The chance is fixed, so the same record gives the same parameters.
    """
    trial = _Trial(occurrence, amounts, least_mm)
    plain, _ = trial.years(Slow(), 0.0)
    slopes = (trial.years(Slow(), NUDGE)[0] - trial.years(Slow(), -NUDGE)[0]).mean(axis=0) / (2 * NUDGE)
    month_left, year_left = _left(counts, plain)
    monthly, yearly = month_and_year(
        month_left, year_left, float(np.sum(slopes**2)), float(slopes.sum() ** 2)
    )
    wetness = Slow(sqrt(monthly), sqrt(yearly))
    _, made = trial.years(wetness, 0.0)
    month_left, year_left = _left(totals, made)
    # A factor of mean 1 and variance v adds v times the mean square to the variance of what it multiplies.
    whole_year = made.sum(axis=1)
    month_weight = float(np.sum(made.var(axis=0) + made.mean(axis=0) ** 2))
    year_weight = float(whole_year.var() + whole_year.mean() ** 2)
    monthly, yearly = month_and_year(month_left, year_left, month_weight, year_weight)
    return Slow(wetness.wet_month, wetness.wet_year, sqrt(log(1 + monthly)), sqrt(log(1 + yearly)))


def _left(real: Floats, made: Floats) -> tuple[float, float]:
    """Variance of real sums (years, 12) beyond made ones: over the months, and of the years' own sums."""
    months = float(np.sum(np.nanvar(real, axis=0, ddof=1) - made.var(axis=0)))
    years = real.sum(axis=1)
    years = years[~np.isnan(years)]
    if len(years) < 5:
        return months, months
    return months, float(years.var(ddof=1) - made.sum(axis=1).var())


class _Trial:
    """A thousand years of rain side by side from one fixed chance."""

    def __init__(self, occurrence: Occurrence, amounts: Amounts, least_mm: float) -> None:
        self.occurrence, self.amounts, self.least_mm = occurrence, amounts, least_mm
        year = np.arange(np.datetime64("2001-01-01"), np.datetime64("2002-01-01"))
        self.dates = np.concatenate((year[-TRIAL_WARM_UP:] - 365, year))
        self.angle_rad = angle_of_year(self.dates)
        self.month = self.dates.astype("datetime64[M]").astype(np.int64) % 12
        chance = np.random.RandomState(TRIAL_SEED)
        shape = (len(self.dates), TRIAL_YEARS)
        draw = chance.random_sample(shape)
        self.draw_logit = np.log(np.maximum(draw, 1e-12) / (1 - draw))
        self.part, self.exponential = chance.random_sample(shape), chance.standard_exponential(shape)
        self.of_months, self.of_years = (
            chance.standard_normal((12, TRIAL_YEARS)),
            chance.standard_normal(TRIAL_YEARS),
        )

    def years(self, slow: Slow, nudge: float) -> tuple[Floats, Floats]:
        """Wet days and rain [mm] by year and month (years, 12) each."""
        shift = nudge + slow.wet_month * self.of_months[self.month] + slow.wet_year * self.of_years
        wet = wet_days(self.occurrence, self.angle_rad, self.draw_logit, shift, stretch(slow))
        was_wet = np.concatenate((np.zeros((1, TRIAL_YEARS), dtype=np.bool_), wet[:-1]))
        lesser = self.part < self.amounts.share[self.month][:, None]
        mean = np.where(
            lesser, self.amounts.lesser[self.month][:, None], self.amounts.greater[self.month][:, None]
        )
        after_dry, after_wet = (
            self.amounts.mean_mm(self.angle_rad, np.full(len(self.dates), state))[:, None]
            for state in (False, True)
        )
        rain = (self.least_mm + np.where(was_wet, after_wet, after_dry) * mean * self.exponential) * wet
        sums = np.zeros((2, TRIAL_YEARS, 12))
        for number in range(12):
            here = np.flatnonzero(self.month == number)
            here = here[here >= TRIAL_WARM_UP]
            sums[0, :, number], sums[1, :, number] = wet[here].sum(axis=0), rain[here].sum(axis=0)
        return sums[0], sums[1]
