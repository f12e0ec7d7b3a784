"""The year as a sum of sines, fitted to means, chances and positive sizes.

A curve is its coefficients (1 + 2 H,): level, then cosine and sine of each of H harmonics.

Sources: Richardson 1981 (harmonics for the parameters of a generator); Stern and Coe 1984 (Journal of the
Royal Statistical Society A 147, 1-34: chances by a logistic, amounts by a logarithmic link); Akaike 1974
(IEEE Transactions on Automatic Control 19, 716-723: how many terms the data pay for).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import log

import numpy as np

from dooryard.weather.record import Days, Floats

MOST_HARMONICS = 6  # nothing finer than the month
PRICE = 2.0  # of a term, in twice the log-likelihood (Akaike)
STEPS = 40  # of iterated least squares; five to eight are used
CLOSE = 1e-9
# Weight of a doubt that a coefficient is far from 0, so that a season without one wet day gives a small
# chance and not none: a normal prior of standard deviation 5 on the logistic scale.
RIDGE = 0.04


def angle_of_year(dates: Days) -> Floats:
    """How far round the year each day (days,) stands [rad], 0 at the turn of the year, leap years alike."""
    year = dates.astype("datetime64[Y]")
    start = year.astype("datetime64[D]")
    length = ((year + 1).astype("datetime64[D]") - start).astype(float)
    angle: Floats = 2 * np.pi * ((dates - start).astype(float) + 0.5) / length
    return angle


def basis(angle_rad: Floats, harmonics: int) -> Floats:
    """Columns 1, cos, sin, cos 2, sin 2, … of an angle (days,): shape (days, 1 + 2 harmonics)."""
    columns = [np.ones_like(angle_rad)]
    for order in range(1, harmonics + 1):
        columns += [np.cos(order * angle_rad), np.sin(order * angle_rad)]
    return np.stack(columns, axis=1)


def value(curve: Floats, angle_rad: Floats) -> Floats:
    """The curve at each angle (days,)."""
    result: Floats = basis(angle_rad, (len(curve) - 1) // 2) @ curve
    return result


class Means:
    """Least-squares means of `values` (n,) on any choice of `columns` (n, k), the sums taken only once.

    Sines over whole years are all but orthogonal, so the normal equations lose nothing.
    """

    def __init__(self, columns: Floats, values: Floats) -> None:
        self._middle = float(values.mean())
        centred = values - self._middle
        self._count = len(values)
        self._normal = columns.T @ columns
        # A trace on the diagonal keeps a column of nothing (no wet day in the season) from spoiling the rest.
        self._normal[np.diag_indices_from(self._normal)] += 1e-12 * self._count
        self._slope = columns.T @ centred
        self._square = float(centred @ centred)

    def fit(self, chosen: Sequence[int]) -> tuple[Floats, float]:
        """Coefficients of the chosen columns, the first of which must be all ones; misfit.

        misfit : minus twice the normal log-likelihood at its best spread, up to a constant.
        """
        at = list(chosen)
        found = np.asarray(np.linalg.solve(self._normal[np.ix_(at, at)], self._slope[at]), dtype=np.float64)
        rest = self._square - float(found @ self._slope[at])
        found[0] += self._middle
        return found, self._count * log(max(rest / self._count, 1e-30))


def least_squares(columns: Floats, values: Floats) -> Floats:
    """Coefficients of the means of `values` (n,) on all `columns` (n, k), the first of which is all ones."""
    return Means(columns, values).fit(range(columns.shape[1]))[0]


def logistic(columns: Floats, happened: Floats, trials: Floats) -> tuple[Floats, float]:
    """Coefficients of log(p / (1 - p)) for `happened` out of `trials`, both (n,); minus twice the likelihood.

    Iterated weighted least squares, held back a little (`RIDGE`) on all but the level.
    """
    hold = np.full(columns.shape[1], RIDGE)
    hold[0] = 0.0
    overall = (happened.sum() + 0.5) / (trials.sum() + 1)
    found = np.zeros(columns.shape[1])
    found[0] = log(overall / (1 - overall))
    for _ in range(STEPS):
        chance = _chance(columns @ found)
        weight = trials * chance * (1 - chance)
        slope = columns.T @ (happened - trials * chance) - hold * found
        step = np.linalg.solve((columns * weight[:, None]).T @ columns + np.diag(hold + 1e-12), slope)
        found = found + np.clip(step, -3, 3)
        if np.abs(step).max() < CLOSE:
            break
    chance = np.clip(_chance(columns @ found), 1e-12, 1 - 1e-12)
    log_likelihood = happened * np.log(chance) + (trials - happened) * np.log(1 - chance)
    return found, -2 * float(log_likelihood.sum())


def log_mean(columns: Floats, values: Floats) -> tuple[Floats, float, float]:
    """Coefficients of the logarithm of the mean of `values` (n,), none below 0; misfit; scatter.

    The gamma model with a logarithmic link, whose estimate does not need the shape. misfit : minus twice its
    log-likelihood for a scatter of 1, up to a constant; divide by the scatter (variance over squared mean) of
    the richest model to compare models.
    """
    hold = np.full(columns.shape[1], RIDGE)
    hold[0] = 0.0
    found = np.zeros(columns.shape[1])
    found[0] = log(max(float(values.mean()), 1e-12))
    normal = columns.T @ columns + np.diag(hold + 1e-12)
    for _ in range(STEPS):
        mean = np.exp(columns @ found)
        step = np.linalg.solve(normal, columns.T @ (values / mean - 1) - hold * found)
        found = found + np.clip(step, -1, 1)
        if np.abs(step).max() < CLOSE:
            break
    mean = np.exp(columns @ found)
    scatter = max(float(np.mean((values / mean - 1) ** 2)), 1e-12)
    return found, 2 * float(np.sum(np.log(mean) + values / mean)), scatter


def harmonics_paid_for(misfit: Callable[[int], float], most: int = MOST_HARMONICS) -> int:
    """How many harmonics, from 0 to `most`, the data pay for.

    misfit : minus twice the log-likelihood with so many; each harmonic must lower it by more than two terms cost.
    """
    costs = [misfit(harmonics) + 2 * PRICE * harmonics for harmonics in range(most + 1)]
    return int(np.argmin(costs))


def log_mean_harmonics(columns: Callable[[int], Floats], values: Floats) -> int:
    """How many harmonics the data pay for in `log_mean`; columns : for a number of harmonics."""
    scatter = log_mean(columns(MOST_HARMONICS), values)[2]
    return harmonics_paid_for(lambda h: log_mean(columns(h), values)[1] / scatter)


def _chance(logit: Floats) -> Floats:
    result: Floats = 1 / (1 + np.exp(-np.clip(logit, -35, 35)))
    return result
