"""How much it rains on a wet day: a mean that follows the year, and small and large rains mixed.

Rain above the least that counts as wet = mean of the day times a deviate of mean 1. The mean is a curve over
the year, with a factor if the day before was wet too. The deviate is one of two exponentials: the lesser with
chance `share`, the greater otherwise, by month.

Sources: Woolhiser and Pegram 1979 (Journal of Applied Meteorology 18, 34-42: mixed exponential, seasons as
harmonics by maximum likelihood); Chapman 1998 (Environmental Modelling and Software 13, 317-324: amounts
depend on the wet days beside); Stern and Coe 1984 (mean amounts through a logarithmic link).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.invented.curves import basis, log_mean, log_mean_harmonics, value
from dooryard.weather.record import Floats

Months = NDArray[np.int64]

ROUNDS = 300  # of expectation and maximisation at most
CLOSE = 1e-7
FEWEST = 60  # wet days a season needs before its mixture is its own


@dataclass(frozen=True, slots=True, eq=False)
class Amounts:
    """Rain of a wet day.

    log_mean : curve of the logarithm of the mean [mm] above the least, (1 + 2 H,), after a dry day.
    after_wet : what is added to that logarithm if the day before was wet.
    share : (12,) chance of the lesser exponential, January first.
    lesser : (12,) its mean, as a part of the day's mean; at most 1.
    """

    log_mean: Floats
    after_wet: float
    share: Floats
    lesser: Floats

    @property
    def greater(self) -> Floats:
        """(12,) mean of the greater exponential, so that the mixture has mean 1."""
        result: Floats = (1 - self.share * self.lesser) / (1 - self.share)
        return result

    def mean_mm(self, angle_rad: Floats, was_wet: NDArray[np.bool_]) -> Floats:
        """Mean rain above the least on wet days (days,) [mm]; `was_wet` for the day before."""
        result: Floats = np.exp(value(self.log_mean, angle_rad) + self.after_wet * was_wet)
        return result

    def deviate(self, month: Months, draw: Floats, exponential: Floats) -> Floats:
        """Deviates of mean 1 from uniform draws and exponential ones of mean 1; month 0 to 11, all (days,)."""
        mean = np.where(draw < self.share[month], self.lesser[month], self.greater[month])
        result: Floats = mean * exponential
        return result


def fit_amounts(above_mm: Floats, was_wet: Floats, angle_rad: Floats, month: Months) -> Amounts:
    """Amounts from wet days only (n,): rain above the least [mm], day before wet (1), dry (0), unknown (NaN)."""
    known = ~np.isnan(was_wet)
    amount, before, angle = above_mm[known], was_wet[known], angle_rad[known]

    def columns(harmonics: int) -> Floats:
        return np.concatenate((basis(angle, harmonics), before[:, None]), axis=1)

    harmonics = log_mean_harmonics(columns, amount)
    found, _, _ = log_mean(columns(harmonics), amount)
    scaled = amount / np.exp(columns(harmonics) @ found)
    whole_year = mixed_exponential(scaled)
    mixtures = []
    for number in range(12):
        # Each month with the one before and the one after: a month alone is too few rains for two means.
        season = scaled[np.isin(month[known], [(number - 1) % 12, number, (number + 1) % 12])]
        mixtures.append(mixed_exponential(season) if len(season) >= FEWEST else whole_year)
    share, lesser = np.array(mixtures).T
    return Amounts(found[:-1], float(found[-1]), share, lesser)


def mixed_exponential(values: Floats) -> tuple[float, float]:
    """Most likely mixture of two exponentials for `values` (n,): chance of the lesser, its mean over the mean.

    By expectation and maximisation (Dempster, Laird and Rubin 1977). Values less scattered than one
    exponential give a mixture of two alike.
    """
    mean = float(values.mean())
    scaled = values / mean
    share, lesser, greater = 0.5, 0.4, 1.6
    for _ in range(ROUNDS):
        small = share / lesser * np.exp(-scaled / lesser)
        large = (1 - share) / greater * np.exp(-scaled / greater)
        belongs = small / (small + large)
        before = (share, lesser, greater)
        share = min(max(float(belongs.mean()), 0.01), 0.99)
        lesser = max(float((belongs * scaled).sum() / belongs.sum()), 1e-3)
        greater = float(((1 - belongs) * scaled).sum() / (1 - belongs).sum())
        if max(abs(a - b) for a, b in zip(before, (share, lesser, greater), strict=True)) < CLOSE:
            break
    return share, min(lesser / (share * lesser + (1 - share) * greater), 1.0)


def mixture_moments(share: float, lesser_mm: float, greater_mm: float) -> tuple[float, float]:
    """Mean [mm] and variance of a mixture of two exponentials with these means [mm]."""
    mean = share * lesser_mm + (1 - share) * greater_mm
    variance = share * lesser_mm**2 + (1 - share) * greater_mm**2
    return mean, variance + share * (1 - share) * (lesser_mm - greater_mm) ** 2


def mixture_above(share: float, lesser_mm: float, greater_mm: float, depth_mm: float) -> float:
    """Chance that such a wet day has more than a depth [mm]."""
    return float(share * np.exp(-depth_mm / lesser_mm) + (1 - share) * np.exp(-depth_mm / greater_mm))
