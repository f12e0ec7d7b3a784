"""Weather that never was but could have been: rain by a two-state chain, temperatures that follow it.

Open `generate` first. The formulas behind it stand below as small functions that can be checked one by one.

Sources: Richardson 1981 (Water Resources Research 17, 182-190); Richardson and Wright 1984 (WGEN, USDA
ARS-8). Known weakness, to be told wherever such weather is used as evidence: totals of months and years vary
less than in nature, and long dry spells are too rare.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import erf, sqrt

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.record import Days, Floats

Bools = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

# Day-to-day and cross correlation of the standardised residuals of highest temperature, lowest temperature
# and sunshine, as printed with WGEN: residual(today) = A residual(yesterday) + B noise.
WGEN_A: Floats = np.array([[0.567, 0.086, -0.002], [0.253, 0.504, -0.050], [-0.006, -0.039, 0.244]])
WGEN_B: Floats = np.array([[0.781, 0.0, 0.0], [0.328, 0.637, 0.0], [0.238, -0.341, 0.873]])

MONTHLY = (
    "wet_after_dry", "wet_after_wet", "rain_shape", "rain_scale_mm",
    "t_max_dry_c", "t_max_wet_c", "t_min_dry_c", "t_min_wet_c", "t_max_sd_c", "t_min_sd_c",
    "dew_below_min_dry_c", "dew_below_min_wet_c",
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Climate:
    """The parameters of one station, each (12,), January first.

    wet_after_dry, wet_after_wet : chance of a wet day after a dry and after a wet one [1].
    rain_shape [1], rain_scale_mm [mm] : gamma distribution of a wet day's rain; its mean is their product.
    t_max_dry_c, t_max_wet_c, t_min_dry_c, t_min_wet_c : means on dry and wet days [degC].
    t_max_sd_c, t_min_sd_c : standard deviation about these means [degC].
    dew_below_min_dry_c, dew_below_min_wet_c : how far the dew point lies below the lowest temperature [degC].
    """

    wet_after_dry: Floats
    wet_after_wet: Floats
    rain_shape: Floats
    rain_scale_mm: Floats
    t_max_dry_c: Floats
    t_max_wet_c: Floats
    t_min_dry_c: Floats
    t_min_wet_c: Floats
    t_max_sd_c: Floats
    t_min_sd_c: Floats
    dew_below_min_dry_c: Floats
    dew_below_min_wet_c: Floats

    def __post_init__(self) -> None:
        problems = [
            Problem("There must be twelve numbers, January first.", "Give one per month.", field=name)
            for name in MONTHLY
            if np.shape(getattr(self, name)) != (12,)
        ]
        chances = ("wet_after_dry", "wet_after_wet")
        problems += [
            Problem("A chance lies between 0 and 1.", "Write 0.3 for 30 %.", field=name)
            for name in chances
            if not all(0 < chance < 1 for chance in np.ravel(getattr(self, name)))
        ]
        above_nothing = ("rain_shape", "rain_scale_mm", "t_max_sd_c", "t_min_sd_c")
        problems += [
            Problem("This must be above 0 in every month.", "Give numbers above 0.", field=name)
            for name in above_nothing
            if not all(value > 0 for value in np.ravel(getattr(self, name)))
        ]
        if problems:
            raise InputError(problems)


@dataclass(frozen=True, slots=True, eq=False)
class Generated:
    """Days of weather, each array (days,). rain_mm is 0.0 on dry days and above 0 on wet ones."""

    dates: Days
    wet: Bools
    rain_mm: Floats
    t_min_c: Floats
    t_max_c: Floats
    dew_point_c: Floats


def generate(
    climate: Climate, first: date, last: date, *, seed: int, region_seed: int = 0, shared: float = 0.0
) -> Generated:
    """Daily weather from `first` to `last`, both included; the same seeds give the same days.

    seed : the station's own chance. region_seed, shared : neighbours with one region seed share this part of
    their chance (0 none, 1 all), so that a wet week is wet for both, while each keeps exactly its own
    climate: normal deviates are mixed by the square roots of the shares, gamma deviates by adding two of the
    same scale whose shapes add up. Rain parameters change with the month, temperatures run from mid-month to
    mid-month. A lowest temperature that comes out above the highest is set half a degree below it.
    InputError if `last` is before `first` or `shared` is outside 0 to 1.
    """
    if last < first or not 0 <= shared <= 1:
        raise InputError(
            Problem(f"From {first} to {last} with a share of {shared} nothing can be generated.")
        )
    dates = np.arange(np.datetime64(first, "D"), np.datetime64(last + timedelta(days=1), "D"))
    month = dates.astype("datetime64[M]").astype(int) % 12
    days = len(dates)
    # RandomState, because NumPy promises its streams never change; the newer Generator's may.
    own, region = np.random.RandomState(seed), np.random.RandomState(region_seed)
    draws = [chance.standard_normal((days, 4)) for chance in (own, region)]
    draw = sqrt(1 - shared) * draws[0] + sqrt(shared) * draws[1]
    wet = wet_days(climate.wet_after_dry[month], climate.wet_after_wet[month], _uniform(draw[:, 0]))
    shape = climate.rain_shape[month]
    amount = own.standard_gamma(shape * (1 - shared)) + region.standard_gamma(shape * shared)
    rain_mm = np.where(wet, amount * climate.rain_scale_mm[month], 0.0)
    residual = residuals(draw[:, 1:])

    def of_day(wet_name: str, dry_name: str) -> Floats:
        return np.where(
            wet,
            through_year(getattr(climate, wet_name), dates),
            through_year(getattr(climate, dry_name), dates),
        )

    t_max_c = of_day("t_max_wet_c", "t_max_dry_c") + through_year(climate.t_max_sd_c, dates) * residual[:, 0]
    t_min_c = of_day("t_min_wet_c", "t_min_dry_c") + through_year(climate.t_min_sd_c, dates) * residual[:, 1]
    t_min_c = np.minimum(t_min_c, t_max_c - 0.5)
    dew_point_c = t_min_c - of_day("dew_below_min_wet_c", "dew_below_min_dry_c")
    return Generated(dates, wet, rain_mm, t_min_c, t_max_c, dew_point_c)


def wet_days(wet_after_dry: Floats, wet_after_wet: Floats, chance: Floats) -> Bools:
    """Wet or dry, day by day, of a first-order two-state chain; all (days,), `chance` uniform in 0 to 1.

    The first day is drawn from the chain's own long-run share of wet days.
    """
    state = bool(chance[0] < wet_share(float(wet_after_dry[0]), float(wet_after_wet[0])))
    states = [state]
    for after_dry, after_wet, draw in zip(
        wet_after_dry[1:].tolist(), wet_after_wet[1:].tolist(), chance[1:].tolist(), strict=True
    ):
        state = draw < (after_wet if state else after_dry)
        states.append(state)
    return np.array(states)


def residuals(noise: Floats) -> Floats:
    """Standardised residuals (days, 3) of highest and lowest temperature and sunshine, from normal noise
    (days, 3).

    Started in their long-run state, so the first days are as spread as the rest.
    """
    a = WGEN_A.tolist()
    driven = (noise @ WGEN_B.T).tolist()
    x, y, z = (np.linalg.cholesky(stationary_covariance(WGEN_A, WGEN_B)) @ noise[0]).tolist()
    states = [(x, y, z)]
    for driven_x, driven_y, driven_z in driven[1:]:
        x, y, z = (
            a[0][0] * x + a[0][1] * y + a[0][2] * z + driven_x,
            a[1][0] * x + a[1][1] * y + a[1][2] * z + driven_y,
            a[2][0] * x + a[2][1] * y + a[2][2] * z + driven_z,
        )
        states.append((x, y, z))
    return np.array(states)


def through_year(monthly: Floats, dates: Days) -> Floats:
    """Monthly values (12,) as daily ones (days,): straight lines from mid-month to mid-month, all round."""
    start = dates.astype("datetime64[M]")
    length = ((start + 1).astype("datetime64[D]") - start.astype("datetime64[D]")).astype(int)
    position = start.astype(int) % 12 + ((dates - start.astype("datetime64[D]")).astype(int) + 0.5) / length
    around = np.concatenate((monthly[-1:], monthly, monthly[:1]))
    daily: Floats = np.interp(position, np.arange(-0.5, 13.0), around)
    return daily


def wet_share(wet_after_dry: float, wet_after_wet: float) -> float:
    """Long-run share of wet days of the two-state chain."""
    return wet_after_dry / (1 + wet_after_dry - wet_after_wet)


def wet_days_spread(wet_after_dry: float, wet_after_wet: float, days: int) -> tuple[float, float]:
    """Mean and standard deviation of the wet days in `days` days of the chain in its long-run state."""
    share = wet_share(wet_after_dry, wet_after_wet)
    memory = wet_after_wet - wet_after_dry
    lags = np.arange(1, days)
    pairs = float(np.sum((days - lags) * memory**lags))
    return days * share, sqrt(share * (1 - share) * (days + 2 * pairs))


def rain_spread_mm(
    wet_after_dry: float, wet_after_wet: float, shape: float, scale_mm: float, days: int
) -> tuple[float, float]:
    """Mean and standard deviation of the rain of `days` days [mm], amounts independent of one another."""
    mean_days, sd_days = wet_days_spread(wet_after_dry, wet_after_wet, days)
    mean_mm, variance = shape * scale_mm, shape * scale_mm**2
    return mean_days * mean_mm, sqrt(mean_days * variance + sd_days**2 * mean_mm**2)


def chance_all_dry(wet_after_dry: float, wet_after_wet: float, days: int) -> float:
    """Chance that `days` days in a row, begun anywhere, are all dry."""
    return (1 - wet_share(wet_after_dry, wet_after_wet)) * (1 - wet_after_dry) ** (days - 1)


def residual_matrices(lag_0: Floats, lag_1: Floats) -> tuple[Floats, Floats]:
    """A and B of a residual model from the correlations of the same day and of the day before, each (k, k).

    A = M1 M0^-1 and B B' = M0 - M1 M0^-1 M1', B lower triangular (Matalas 1967, as used by Richardson 1981).
    """
    a = lag_1 @ np.linalg.inv(lag_0)
    b = np.asarray(np.linalg.cholesky(lag_0 - a @ lag_1.T), dtype=np.float64)
    return a, b


def stationary_covariance(a: Floats, b: Floats) -> Floats:
    """Long-run covariance (k, k) of residual(today) = A residual(yesterday) + B noise: M = A M A' + B B'."""
    size = len(a)
    flat = np.linalg.solve(np.eye(size * size) - np.kron(a, a), (b @ b.T).ravel())
    return np.asarray(flat, dtype=np.float64).reshape(size, size)


def _uniform(normal: Floats) -> Floats:
    """Standard normal deviates as uniform ones, by the normal distribution function."""
    return np.array([0.5 * (1 + erf(value / sqrt(2))) for value in normal.tolist()])
