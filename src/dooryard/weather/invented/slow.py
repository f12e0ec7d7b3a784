"""Months and years that are wetter or warmer as a whole: what daily weather alone does not make.

Totals of a daily generator vary less from year to year than nature's. Here each month and each year has a
hidden deviation of its own, just as large as the spread that daily weather leaves unexplained.

Sources: Katz and Parlange 1998 (Journal of Climate 11, 591-601: totals vary more than daily generators let
them); Madden 1976 (Monthly Weather Review 104, 942-952: the part of the spread of means that daily
weather explains); Dubrovsky and others 2004 (Climatic Change 63, 145-179: a monthly generator above
the daily one). The moment equations below are written out where they are solved.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from dooryard.weather.record import Floats

# Chances averaged over a normal deviation keep their mean if the scale is stretched by this much of its
# variance: 16 sqrt(3) / (15 pi), Zeger, Liang and Albert 1988 (Biometrics 44, 1049-1060).
_FLATTENED = (16 * sqrt(3) / (15 * pi)) ** 2
ROUNDS = 50


@dataclass(frozen=True, slots=True)
class Slow:
    """Standard deviations of the hidden deviations of a month and of a year.

    wet_month, wet_year : of the chance of rain, on the logistic scale.
    amount_month, amount_year : of the logarithm of the amounts.
    """

    wet_month: float = 0.0
    wet_year: float = 0.0
    amount_month: float = 0.0
    amount_year: float = 0.0


def stretch(slow: Slow) -> float:
    """What a logistic scale is multiplied by, so that chances keep their mean under the hidden deviations."""
    return sqrt(1 + _FLATTENED * (slow.wet_month**2 + slow.wet_year**2))


def month_and_year(
    month_excess: float, year_excess: float, month_weight: float, year_weight: float
) -> tuple[float, float]:
    """Variances of the monthly and the yearly deviation that explain what is left, neither below 0.

    month_excess : sum over the twelve months of variance left unexplained. year_excess : that of the year.
    month_weight : what a monthly deviation of variance 1 adds to the sum, and to the year; year_weight : what a
    yearly one adds to the year. It adds as much as a monthly one to each month, so
        month_weight (m + y) = month_excess,   month_weight m + year_weight y = year_excess.
    """
    if month_weight <= 0:
        return 0.0, 0.0
    yearly = (year_excess - month_excess) / (year_weight - month_weight)
    monthly = month_excess / month_weight - yearly
    if yearly < 0:
        return max(month_excess / month_weight, 0.0), 0.0
    if monthly < 0:
        return 0.0, max(year_excess / year_weight, 0.0)
    return monthly, yearly


def variance_of_mean(a: Floats, m0: Floats, days: int) -> Floats:
    """Covariance (k, k) of the mean of `days` days of residual(today) = A residual(yesterday) + noise.

    m0 : covariance of the same day. It is [n M0 + sum over lags of (n - lag) (A^lag M0 + its transpose)] / n^2,
    and the sum of (n - lag) A^lag over lags 1 to n - 1 is A (n (I - A) - (I - A^n)) (I - A)^-2.
    """
    same = np.eye(len(a))
    left = np.linalg.inv(same - a)
    lags = a @ (days * (same - a) - (same - np.linalg.matrix_power(a, days))) @ left @ left
    result: Floats = (days * m0 + lags @ m0 + (lags @ m0).T) / days**2
    return result


def hidden_covariance(m0: Floats, m1: Floats, of_months: Floats, of_years: Floats) -> tuple[Floats, Floats]:
    """Covariances of the deviations of a month (12, k, k) and of a year (k, k) of standardised residuals.

    m0, m1 : (12, k, k) by calendar month, of the same day and with the day before. of_months : (12, k, k) and
    of_years : (k, k) of means over a month and a year. What is hidden is the same from one day to the next, so
    the daily part is left with M0 - S and M1 - S; how much its own means vary then depends on S, hence the
    rounds. A deviation is never given less than none.
    """
    monthly, yearly = np.zeros_like(m0), np.zeros_like(of_years)
    for _ in range(ROUNDS):
        fast_0, fast_1 = m0 - monthly - yearly, m1 - monthly - yearly
        a = fast_1 @ np.linalg.inv(fast_0)
        by_day_month = np.stack([variance_of_mean(a[at], fast_0[at], 30) for at in range(12)])
        by_day_year = np.mean([variance_of_mean(a[at], fast_0[at], 365) for at in range(12)], axis=0)
        # What is left of a month is M + Y, and of a year it is the mean of M over twelve, plus Y.
        left_month, left_year = of_months - by_day_month, of_years - by_day_year
        new_yearly = at_least_none((left_year - left_month.mean(axis=0) / 12) * 12 / 11)
        new_monthly = np.stack([at_least_none(left - new_yearly) for left in left_month])
        change = max(np.abs(new_monthly - monthly).max(), np.abs(new_yearly - yearly).max())
        monthly, yearly = (monthly + new_monthly) / 2, (yearly + new_yearly) / 2
        if change < 1e-6:
            break
    return monthly, yearly


def at_least_none(covariance: Floats) -> Floats:
    """The nearest covariance (k, k) to a symmetric matrix: negative parts taken as none."""
    sizes, directions = np.linalg.eigh((covariance + covariance.T) / 2)
    result: Floats = (directions * np.maximum(sizes, 0.0)) @ directions.T
    return result
