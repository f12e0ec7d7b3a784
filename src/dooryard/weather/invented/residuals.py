"""Temperatures, sunshine and dew point: a mean for wet and for dry days, and residuals that hang together.

value = mean of the day + spread of the day * residual;  residual(today) = A residual(yesterday) + B noise.
A and B come, month by month, from the correlations of the record's own residuals, once the part that stays
for a month or a year (`slow.py`) has been taken out. The mean knows which of the two days before were wet
and which of the two after will be: nights are mild before rain, days cool after it, and without that a day
would resemble the next one less than it does.

Sources: Matalas 1967 (Water Resources Research 3, 937-945) for A and B; Richardson 1981 for means and spreads
on wet and dry days as harmonics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.generator import residual_matrices
from dooryard.weather.invented.curves import (
    MOST_HARMONICS,
    Means,
    basis,
    harmonics_paid_for,
    least_squares,
    log_mean,
    log_mean_harmonics,
    value,
)
from dooryard.weather.invented.slow import hidden_covariance
from dooryard.weather.record import Floats

Months = NDArray[np.int64]

LEAST_MONTH = 25  # days of a month that must be known before its mean counts
LEAST_YEAR = 350  # days of a year, likewise
FEWEST_MEANS = 10  # means of months or years from which their covariance is taken
FEWEST_DAYS = 200  # days of a season from which its own correlations are taken
MOST_OF_WET = 2  # harmonics of what a wet day changes: dry seasons have too few wet days for more
FEWEST = 200  # days an element must be known on, wet and dry each, to be generated
BESIDE = 2  # days before and after a day whose rain its mean knows
ABOUT = 2 * BESIDE + 1
SHARE_OF_LIGHT = 0.03  # of the sunniest day of the season: the darkest day generated


@dataclass(frozen=True, slots=True, eq=False)
class Element:
    """One element over the year, in the record's unit.

    dry : curve of the mean on a dry day among dry days. wet_change : (5, 1 + 2 H) curves of what is added for
    each wet day from two days before to two after, the day itself in the middle.
    log_variance : curve of the logarithm of the variance about these means on dry days;
    wet_log_variance : what a wet day adds to that.
    most : curve of the most there can be (the sunniest days of the season), or None if nothing bounds it.
    """

    name: str
    dry: Floats
    wet_change: Floats
    log_variance: Floats
    wet_log_variance: float
    most: Floats | None = None

    def mean(self, angle_rad: Floats, wet: Floats) -> Floats:
        """Mean of each day (days,); wet : (days, 5) 1 or 0 for the days about it."""
        result = value(self.dry, angle_rad)
        for at, curve in enumerate(self.wet_change):
            result = result + wet[:, at] * value(curve, angle_rad)
        return result

    def spread(self, angle_rad: Floats, wet: Floats) -> Floats:
        """Standard deviation of each day (days,) about its mean; wet : (days, 5) as for the mean."""
        result: Floats = np.exp(
            (value(self.log_variance, angle_rad) + wet[:, BESIDE] * self.wet_log_variance) / 2
        )
        return result


@dataclass(frozen=True, slots=True, eq=False)
class Residuals:
    """How the elements' residuals hang together, in the order of `elements`.

    m0, m1 : (12, k, k) covariance of the same day and with the day before, January first, all in all.
    monthly : (12, k, k) the part of both that stays for a calendar month. yearly : (k, k) for a year.
    """

    elements: tuple[Element, ...]
    m0: Floats
    m1: Floats
    monthly: Floats
    yearly: Floats

    def matrices(self) -> tuple[Floats, Floats]:
        """A and B (12, k, k) of the daily part. LinAlgError if the correlations belong to no weather."""
        slow = self.monthly + self.yearly
        found = [residual_matrices(m0, m1) for m0, m1 in zip(self.m0 - slow, self.m1 - slow, strict=True)]
        return np.stack([a for a, _ in found]), np.stack([b for _, b in found])


def no_residuals() -> Residuals:
    """Those of a generator that makes rain alone."""
    by_month = np.zeros((12, 0, 0))
    return Residuals((), by_month, by_month, by_month, np.zeros((0, 0)))


def around(wet: Floats, outside: float = np.nan) -> Floats:
    """A series (days,) on the days about each day, two before to two after: (days, 5); `outside` at its ends."""
    edged = np.concatenate(([outside] * BESIDE, wet, [outside] * BESIDE))
    return np.stack([edged[at : at + len(wet)] for at in range(ABOUT)], axis=1)


def fit_element(name: str, values: Floats, wet: Floats, angle_rad: Floats) -> tuple[Element, Floats]:
    """One element and its standardised residuals (days,); wet : (days, 5), see `around`.

    The residual is NaN where the element is unknown or the rain of any of the five days.
    """
    known = ~np.isnan(values) & ~np.isnan(wet).any(axis=1)
    x, w, angle = values[known], wet[known], angle_rad[known]

    full = np.concatenate(
        (basis(angle, MOST_HARMONICS), *(day[:, None] * basis(angle, MOST_OF_WET) for day in w.T)), axis=1
    )
    means = Means(full, x)

    def chosen(harmonics: int, of_wet: int) -> list[int]:
        """Columns of so many harmonics of the dry mean, and so many of what each wet day about it changes."""
        block, first = 1 + 2 * MOST_OF_WET, 1 + 2 * MOST_HARMONICS
        of_days = [first + day * block + at for day in range(ABOUT) for at in range(1 + 2 * of_wet)]
        return [*range(1 + 2 * harmonics), *of_days]

    harmonics = harmonics_paid_for(lambda h: means.fit(chosen(h, 1))[1])
    of_wet = harmonics_paid_for(lambda h: means.fit(chosen(harmonics, h))[1], MOST_OF_WET)
    found, _ = means.fit(chosen(harmonics, of_wet))
    rest = x - full[:, chosen(harmonics, of_wet)] @ found

    def spread_columns(order: int) -> Floats:
        return np.concatenate((basis(angle, order), w[:, BESIDE, None]), axis=1)

    square = np.maximum(rest**2, 1e-6)
    logs, _, _ = log_mean(spread_columns(log_mean_harmonics(spread_columns, square)), square)
    cut = 1 + 2 * harmonics
    most = _most(x, angle) if name == "solar_mj_m2" else None
    element = Element(name, found[:cut], found[cut:].reshape(ABOUT, -1), logs[:-1], float(logs[-1]), most)
    residual = np.full(len(values), np.nan)
    residual[known] = rest / element.spread(angle, w)
    return element, residual


def fit_residuals(elements: tuple[Element, ...], residual: Floats, month_index: Months) -> Residuals:
    """Covariances of residuals (days, k), NaN where unknown; `month_index` (days,) counts months through.

    The residuals' own level in each calendar month is taken out first: it is the curves' misfit and not chance.
    Each month's covariances are those of its season: the month itself, and with half the weight those beside it.
    """
    month = month_index % 12
    levelled = residual.copy()
    for number in range(12):
        here = np.flatnonzero(month == number)
        known = ~np.isnan(residual[here])
        total = np.where(known, residual[here], 0.0).sum(axis=0)
        levelled[here] -= total / np.maximum(known.sum(axis=0), 1)
    # How many months apart, round the year: 0 gives weight 2, 1 gives 1, more gives none.
    apart = [np.abs((month - number + 6) % 12 - 6) for number in range(12)]
    seasons = [np.maximum(2.0 - months, 0.0) for months in apart]
    day_before = np.concatenate((np.full((1, levelled.shape[1]), np.nan), levelled[:-1]))
    m0 = np.stack([_covariance(levelled, levelled, season) for season in seasons])
    m1 = np.stack([_covariance(levelled, day_before, season) for season in seasons])
    of_months = _of_means(levelled, month_index, LEAST_MONTH)
    of_years = _of_means(levelled, month_index // 12, LEAST_YEAR)
    if of_months is None or of_years is None:
        return Residuals(elements, m0, m1, np.zeros_like(m0), np.zeros_like(m0[0]))
    monthly, yearly = hidden_covariance(m0, m1, _by_season(*of_months), _square(of_years[0]))
    return Residuals(elements, m0, m1, monthly, yearly)


def daily_part(a: Floats, b: Floats, noise: Floats, month: Months) -> Floats:
    """Residuals (days, k) from normal noise (days, k); begins with one day's noise, so let it warm up.

    a, b : (12, k, k), of which each day takes its month's, 0 to 11.
    """
    driven = np.einsum("dij,dj->di", b[month], noise).tolist()
    by_month = a.tolist()
    state = driven[0]
    states = [state]
    for kick, number in zip(driven[1:], month[1:].tolist(), strict=True):
        state = [
            sum(weight * before for weight, before in zip(row, state, strict=True)) + push
            for row, push in zip(by_month[number], kick, strict=True)
        ]
        states.append(state)
    return np.array(states)


def _covariance(left: Floats, right: Floats, weight: Floats) -> Floats:
    """Weighted mean products (k, k) over the days on which all of both are known; all days alike if too few."""
    whole = np.flatnonzero(~np.isnan(left).any(axis=1) & ~np.isnan(right).any(axis=1))
    used = whole[weight[whole] > 0]
    share = weight
    if len(used) < FEWEST_DAYS:
        used, share = whole, np.ones_like(weight)
    product: Floats = (left[used] * share[used, None]).T @ right[used] / max(float(share[used].sum()), 1.0)
    return product


def _of_means(residual: Floats, group: Months, least: int) -> tuple[Floats, Months] | None:
    """Means (n, k) of the groups of days with at least `least` known, and which; None if there are too few."""
    whole = ~np.isnan(residual).any(axis=1)
    numbers = group[whole]
    if not numbers.size:
        return None
    base = numbers.min()
    count = np.bincount(numbers - base)
    enough = np.flatnonzero(count >= least)
    if len(enough) < FEWEST_MEANS:
        return None
    sums = np.stack([np.bincount(numbers - base, weights=column) for column in residual[whole].T], axis=1)
    return sums[enough] / count[enough, None], enough + base


def _by_season(means: Floats, month_index: Months) -> Floats:
    """Covariance (12, k, k) of monthly means (n, k): each month with the ones beside it; all if too few."""
    month = month_index % 12
    found = []
    for number in range(12):
        season = means[np.isin(month, [(number - 1) % 12, number, (number + 1) % 12])]
        found.append(_square(season if len(season) >= FEWEST_MEANS else means))
    return np.stack(found)


def _square(means: Floats) -> Floats:
    product: Floats = means.T @ means / len(means)
    return product


def _most(x: Floats, angle_rad: Floats) -> Floats:
    """Curve (two harmonics) through the greatest value of each tenth of a month."""
    bins = np.minimum((angle_rad / (2 * np.pi) * 120).astype(int), 119)
    seen = np.unique(bins)
    top = np.array([x[bins == number].max() for number in seen])
    middle = (seen + 0.5) / 120 * 2 * np.pi
    return least_squares(basis(middle, 2), top)
