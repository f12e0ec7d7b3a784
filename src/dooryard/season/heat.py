"""Degree-days of a day: one function per published method, four ways to treat heat above an upper threshold.

All functions take the day's lowest and highest temperature [degC] as floats or arrays with time last, and
give degree-days [degC.d] of the same shape. A NaN on a day gives NaN for that day. In Fahrenheit the
numbers work as well (and give degF.d), because only differences enter.

Two facts about the day's curve carry everything: the area ``A(t)`` between the curve and a threshold below
it, and the share ``F(t)`` of the day spent above that threshold. The six cases of the printed tables (both
ends above, both below, crossing the lower, the upper, both, ...) all fall out of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem, nearest

Numbers = NDArray[np.float64]

CUTOFFS = ("none", "horizontal", "intermediate", "vertical")
"""What happens above the upper threshold: the rate keeps rising; stays level; falls as it rose; is nil."""


class HeatMethod(Protocol):
    """The common shape of the six methods."""

    def __call__(
        self, t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
        cutoff: str = "horizontal",
    ) -> Numbers: ...  # fmt: skip


def average(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
    cutoff: str = "horizontal",
) -> Numbers:  # fmt: skip
    """Degree-days by the plain mean of the day's two temperatures, never below zero.

    Parameters
    ----------
    t_min_c, t_max_c : float or array (..., days)
        Lowest and highest temperature of the day [degC].
    lower_c, upper_c : float
        Lower (base) threshold, and upper threshold or None [degC].
    cutoff : str
        One of `CUTOFFS`; without an upper threshold it does nothing. The plain mean knows no hours, so the
        cutoff acts on the mean temperature itself.

    Returns
    -------
    array (..., days)
        Degree-days of each day [degC.d].

    Raises
    ------
    InputError
        If some minimum is above its maximum, the thresholds are out of order, or the cutoff word is unknown.

    Source
    ------
    ``max(0, (min + max)/2 - base)``: state extension leaflets (Vermont, New Hampshire); floored day by day.

    Example
    -------
    >>> float(average(44, 70, 50))
    7.0
    """
    low, high = _checked(t_min_c, t_max_c, lower_c, upper_c, cutoff)
    mean = (low + high) / 2
    return _cut(lambda t: np.maximum(mean - t, 0.0), lambda t: _above(mean, t), lower_c, upper_c, cutoff)


def modified(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
    cutoff: str = "horizontal",
) -> Numbers:  # fmt: skip
    """Degree-days by the mean of the day's temperatures after both are held between the thresholds.

    The minimum is raised to the lower threshold, the maximum cut to the upper one, and both to both:
    clipping is the method, so ``cutoff`` chooses nothing but "none", which leaves the upper threshold out.

    Parameters, returns and raises as in `average`.

    Source
    ------
    Purdue codling-moth notes and Minnesota vegetable notes ("50/86"): a day of 52 to 85 degF counts 18.5.

    Example
    -------
    >>> float(modified(52, 85, 50, 86))
    18.5
    """
    low, high = _checked(t_min_c, t_max_c, lower_c, upper_c, cutoff)
    top = np.inf if upper_c is None or cutoff == "none" else upper_c
    return (np.clip(low, lower_c, top) + np.clip(high, lower_c, top)) / 2 - lower_c


def sine(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
    cutoff: str = "horizontal",
) -> Numbers:  # fmt: skip
    """Degree-days under one sine wave from the day's minimum to its maximum and back.

    Parameters, returns and raises as in `average`; the cutoff acts on the curve, hour by hour.

    Source
    ------
    Baskerville & Emin 1969, Ecology 50:514; cutoffs after Zalom et al. 1983, Roltsch et al. 1999.

    Example
    -------
    >>> round(float(sine(40, 60, 50)), 4)    # 10/pi
    3.1831
    """
    low, high = _checked(t_min_c, t_max_c, lower_c, upper_c, cutoff)
    return _sine(low, high, lower_c, upper_c, cutoff)


def triangle(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
    cutoff: str = "horizontal",
) -> Numbers:  # fmt: skip
    """Degree-days under one triangle from the day's minimum to its maximum and back.

    Parameters, returns and raises as in `average`; the cutoff acts on the curve, hour by hour.

    Source
    ------
    Sevacherian et al. 1977, J. Econ. Entomol. 70:399.

    Example
    -------
    >>> float(triangle(40, 60, 50))
    2.5
    """
    low, high = _checked(t_min_c, t_max_c, lower_c, upper_c, cutoff)
    return _triangle(low, high, lower_c, upper_c, cutoff)


def double_sine(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
    cutoff: str = "horizontal",
) -> Numbers:  # fmt: skip
    """Degree-days under two half waves: up from today's minimum, down to tomorrow's.

    Parameters, returns and raises as in `average`, but time must be the last axis. Where there is no
    tomorrow (the last day, or a tomorrow without a minimum) the day counts by the single `sine`.

    Source
    ------
    Allen 1976, Environ. Entomol. 5:388.

    Example
    -------
    >>> [round(float(day), 4) for day in double_sine([44, 52], [70, 70], 50)]
    [9.6269, 11.0]
    """
    low, high = _checked(t_min_c, t_max_c, lower_c, upper_c, cutoff)
    return _two_halves(_sine, low, high, lower_c, upper_c, cutoff)


def double_triangle(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None = None,
    cutoff: str = "horizontal",
) -> Numbers:  # fmt: skip
    """Degree-days under two half triangles: up from today's minimum, down to tomorrow's.

    Parameters, returns, raises and the last day as in `double_sine`, with the single `triangle`.

    Source
    ------
    University of California degree-day glossary (definition), after Allen 1976.
    """
    low, high = _checked(t_min_c, t_max_c, lower_c, upper_c, cutoff)
    return _two_halves(_triangle, low, high, lower_c, upper_c, cutoff)


METHODS: Mapping[str, HeatMethod] = {
    "average": average,
    "modified average": modified,
    "single sine": sine,
    "single triangle": triangle,
    "double sine": double_sine,
    "double triangle": double_triangle,
}
"""The method words of the knowledge rows. A row that does not name its method: see `method`."""

NOT_STATED = "not stated"


def method(word: str) -> HeatMethod:
    """The function a knowledge row's method word stands for; a method not stated is taken as the plain
    average.

    Raises `InputError` for a word that is none of these.
    """
    if word == NOT_STATED:
        return average
    if word not in METHODS:
        raise InputError(
            Problem(
                "This is not a degree-day method we know.",
                nearest(word, METHODS) or f"Write one of: {', '.join(METHODS)}, {NOT_STATED}.",
                field="method",
                found=word,
            )
        )
    return METHODS[word]


Curve = Callable[[Numbers, Numbers, float, float | None, str], Numbers]


def _sine(low: Numbers, high: Numbers, lower: float, upper: float | None, cutoff: str) -> Numbers:
    mean, swing = (low + high) / 2, (high - low) / 2

    def where(t: float) -> Numbers:
        # Angle at which the wave passes t; a flat day (swing 0) is all above or all below and takes an end.
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            ratio = np.where(swing > 0, (t - mean) / swing, np.where(mean > t, -1.0, 1.0))
        angle: Numbers = np.arcsin(np.clip(ratio, -1.0, 1.0))
        return angle

    def area(t: float) -> Numbers:
        q = where(t)
        part = ((mean - t) * (np.pi / 2 - q) + swing * np.cos(q)) / np.pi
        # Clipping q makes both ends exact but for the sign of zero; max() also carries NaN through.
        return np.maximum(part, 0.0)

    def share(t: float) -> Numbers:
        return 0.5 - where(t) / np.pi + 0.0 * mean

    return _cut(area, share, lower, upper, cutoff)


def _triangle(low: Numbers, high: Numbers, lower: float, upper: float | None, cutoff: str) -> Numbers:
    def above(t: float) -> Numbers:
        return np.maximum(high - t, 0.0)

    def share(t: float) -> Numbers:
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            inside = (high - t) / (high - low)
        return np.where(high > low, np.clip(inside, 0.0, 1.0), _above(low, t))

    def area(t: float) -> Numbers:
        # Below the whole day the share is 1 and the mean height (low + high)/2 - t; inside, a triangle.
        return np.where(low >= t, (low + high) / 2 - t, above(t) * share(t) / 2)

    return _cut(area, share, lower, upper, cutoff)


def _two_halves(
    curve: Curve, low: Numbers, high: Numbers, lower: float, upper: float | None, cutoff: str
) -> Numbers:
    if low.ndim == 0:
        return curve(low, high, lower, upper, cutoff)
    next_low = np.concatenate([low[..., 1:], low[..., -1:]], axis=-1)
    next_low = np.where(np.isnan(next_low), low, next_low)
    # A night warmer than this day's maximum: the half wave runs up to it, not down, with the same two ends.
    falling = curve(np.minimum(next_low, high), np.maximum(next_low, high), lower, upper, cutoff)
    return (curve(low, high, lower, upper, cutoff) + falling) / 2


def _above(level: Numbers, t: float) -> Numbers:
    """1 where a flat day lies above t, 0 at t or below, NaN where it is unknown."""
    return np.where(np.isnan(level), np.nan, (level > t).astype(np.float64))


def _cut(
    area: Callable[[float], Numbers], share: Callable[[float], Numbers], lower: float, upper: float | None,
    cutoff: str,
) -> Numbers:  # fmt: skip
    """Heat between the thresholds, from the area above a threshold and the share of the day above it."""
    whole = area(lower)
    if upper is None or cutoff == "none":
        return whole
    if cutoff == "horizontal":
        return whole - area(upper)
    if cutoff == "intermediate":
        return np.maximum(whole - 2 * area(upper), 0.0)
    return np.maximum(whole - area(upper) - (upper - lower) * share(upper), 0.0)


def _checked(
    t_min_c: ArrayLike, t_max_c: ArrayLike, lower_c: float, upper_c: float | None, cutoff: str
) -> tuple[Numbers, Numbers]:
    low, high = np.broadcast_arrays(
        np.asarray(t_min_c, dtype=np.float64), np.asarray(t_max_c, dtype=np.float64)
    )
    crossed = low > high
    if crossed.any():
        first = tuple(int(i) for i in np.argwhere(crossed)[0])
        place = f"day {first[-1] + 1}: " if first else ""
        raise InputError(
            Problem(
                "The lowest temperature of a day is above its highest.",
                "Check that the two columns are not exchanged.",
                field="t_min_c",
                found=f"{place}{low[first]:g} above {high[first]:g}",
            )
        )
    if cutoff not in CUTOFFS:
        hint = nearest(cutoff, CUTOFFS)
        raise InputError(
            Problem(
                "This is not a cutoff we know.",
                f"Write one of: {', '.join(CUTOFFS)}. {hint}".strip(),
                field="cutoff",
                found=cutoff,
            )
        )
    if upper_c is not None and upper_c <= lower_c:
        raise InputError(
            Problem(
                "The upper threshold is not above the lower one.",
                "Give the lower (base) threshold first.",
                field="upper_c",
                found=f"{upper_c:g} against {lower_c:g}",
            )
        )
    return low, high
