"""Rain rate by duration, and the storm that is as hard as the curve at every duration at once.

An intensity-duration curve gives the mean rate i(t) of the hardest t minutes. The Chicago storm sets those
minutes around one peak: whichever window is cut around it in the peak's proportion holds exactly t i(t) of
rain. It is harder than any real storm of its total, so what copes with it copes.

Rates come out in the unit of the curve's `a`, for mm/h with `a` in mm/h; times are minutes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem
from dooryard.water.storm import Pattern

Floats = NDArray[np.float64]
_HOUR_MIN = 60.0


class Curve(Protocol):
    """Mean rate of the hardest minutes, and the rate at their edge."""

    def mean_rate(self, minutes: ArrayLike) -> Floats:
        """Mean rate of the hardest so many minutes."""
        ...

    def edge_rate(self, minutes: ArrayLike) -> Floats:
        """Rate at the edge of the hardest so many minutes: what one more would add."""
        ...


@dataclass(frozen=True, slots=True)
class ShiftedPower:
    """i(t) = a / (t + c)^b. Source: the usual form of Sherman's equation; Keifer and Chu 1957 for its edge."""

    a: float
    b: float
    c: float

    def mean_rate(self, minutes: ArrayLike) -> Floats:
        """Mean rate of the hardest so many minutes."""
        return np.asarray(self.a / (np.asarray(minutes, dtype=np.float64) + self.c) ** self.b)

    def edge_rate(self, minutes: ArrayLike) -> Floats:
        """Rate at the edge of the hardest so many minutes: a ((1 - b) t + c) / (t + c)^(1 + b)."""
        t = np.asarray(minutes, dtype=np.float64)
        return np.asarray(self.a * ((1 - self.b) * t + self.c) / (t + self.c) ** (1 + self.b))


@dataclass(frozen=True, slots=True)
class PowerShifted:
    """i(t) = a / (t^b + c). Source: Keifer and Chu 1957, the form of the Chicago curve itself."""

    a: float
    b: float
    c: float

    def mean_rate(self, minutes: ArrayLike) -> Floats:
        """Mean rate of the hardest so many minutes."""
        return np.asarray(self.a / (np.asarray(minutes, dtype=np.float64) ** self.b + self.c))

    def edge_rate(self, minutes: ArrayLike) -> Floats:
        """Rate at the edge of the hardest so many minutes: a ((1 - b) t^b + c) / (t^b + c)^2."""
        power = np.asarray(minutes, dtype=np.float64) ** self.b
        return np.asarray(self.a * ((1 - self.b) * power + self.c) / (power + self.c) ** 2)


def depth(curve: Curve, minutes: ArrayLike) -> Floats:
    """Rain of the hardest so many minutes [rate's unit times hours, so mm for mm/h]."""
    t = np.asarray(minutes, dtype=np.float64)
    return np.asarray(curve.mean_rate(t) * t / _HOUR_MIN)


def chicago_rate(curve: Curve, peak_share: float, from_peak_min: ArrayLike) -> Floats:
    """Rate of the Chicago storm at a time before (below zero) or after its peak.

    Parameters
    ----------
    curve : Curve
    peak_share : float
        Share of every window around the peak that lies before it, above 0 and below 1; often 0.4 [1].
    from_peak_min : float or array
        Minutes after the peak.

    Returns
    -------
    float or array
        In the unit of the curve.

    Source
    ------
    Keifer and Chu 1957: the curve's edge at t / r before the peak and t / (1 - r) after it.
    """
    _require_share(peak_share)
    t = np.asarray(from_peak_min, dtype=np.float64)
    return curve.edge_rate(np.where(t < 0.0, -t / peak_share, t / (1.0 - peak_share)))


def chicago_depth(curve: Curve, peak_share: float, from_min: ArrayLike, to_min: ArrayLike) -> Floats:
    """Rain of the Chicago storm between two times counted from its peak, exactly [mm for mm/h].

    peak_share as in `chicago_rate`. from_min, to_min : minutes after the peak, below zero before it.
    """
    _require_share(peak_share)
    return np.asarray(_since_peak(curve, peak_share, to_min) - _since_peak(curve, peak_share, from_min))


def chicago_storm(curve: Curve, peak_share: float, duration_min: float, step_min: float) -> Pattern:
    """The Chicago storm of a duration as a pattern of shares, for filling and overflow [shares by hours].

    Parameters
    ----------
    curve : Curve
    peak_share : float
        As in `chicago_rate` [1].
    duration_min : float
        Whole length of the storm.
    step_min : float
        Spacing of the pattern's points; the peak is one of them.

    Returns
    -------
    Pattern
        Its depth is `depth(curve, duration_min)`.
    """
    before = duration_min * peak_share
    times = np.arange(0.0, duration_min + step_min / 2, step_min)
    times = np.unique(np.concatenate((times[times < duration_min], [before, duration_min])))
    fallen = chicago_depth(curve, peak_share, -before, times - before)
    return Pattern(times / _HOUR_MIN, fallen / fallen[-1])


def fit(minutes: ArrayLike, rate_mm_h: ArrayLike) -> tuple[ShiftedPower, float]:
    """The curve a / (t + c)^b nearest to rates of several durations, and its largest error as a share [1].

    minutes, rate_mm_h : at least three durations and their mean rates [mm/h]. Least squares of the logarithms: for
    each c that is a straight line, and c is sought between 0 and the longest duration. InputError if the
    rates do not fall as durations rise.
    """
    t, rate = np.asarray(minutes, dtype=np.float64), np.asarray(rate_mm_h, dtype=np.float64)
    if t.size < 3 or np.any(np.diff(t) <= 0.0) or np.any(np.diff(rate) >= 0.0) or np.any(rate <= 0.0):
        what = "A curve needs three durations or more whose rates fall as they grow."
        raise InputError(Problem(what, "Look at the table once more.", field="rate_mm_h"))
    # The misfit as a function of c is smooth: a coarse grid finds the valley, a finer one its floor.
    low, high = 0.0, float(t[-1])
    for _ in range(6):
        grid = np.linspace(low, high, 41)
        best = int(np.argmin([_line(t, rate, c)[2] for c in grid]))
        low, high = float(grid[max(best - 1, 0)]), float(grid[min(best + 1, 40)])
    c = float(grid[best])
    a, b, _ = _line(t, rate, c)
    curve = ShiftedPower(a, b, c)
    return curve, float(np.max(np.abs(curve.mean_rate(t) / rate - 1.0)))


def _line(t: Floats, rate: Floats, c: float) -> tuple[float, float, float]:
    """a, b and the sum of squared errors of the logarithms for one c."""
    x, y = np.log(t + c), np.log(rate)
    slope, level = np.polyfit(x, y, 1)
    return float(np.exp(level)), float(-slope), float(np.sum((level + slope * x - y) ** 2))


def _since_peak(curve: Curve, peak_share: float, from_peak_min: ArrayLike) -> Floats:
    """Rain between the peak and a time; below zero for times before it."""
    t = np.asarray(from_peak_min, dtype=np.float64)
    before = -peak_share * depth(curve, np.maximum(-t, 0.0) / peak_share)
    after = (1.0 - peak_share) * depth(curve, np.maximum(t, 0.0) / (1.0 - peak_share))
    return np.asarray(before + after)


def _require_share(peak_share: float) -> None:
    if not 0.0 < peak_share < 1.0:
        raise InputError(
            Problem(
                "The peak of a storm lies inside it.",
                "Write a share above 0 and below 1, such as 0.4.",
                field="peak_share",
                found=f"{peak_share:g}",
            )
        )
