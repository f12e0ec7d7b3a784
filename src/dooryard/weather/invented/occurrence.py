"""Wet or dry: the chance of rain by the time of year and by how long it has been wet or dry already.

A chain that only remembers yesterday makes long dry spells too rare. Here the length of the spell so far
counts, in classes (1, 2, 3-4, 5-7, 8-12, 13 days and more); how many classes is decided by the data. One class
on each side is the first-order chain, two on each side the second-order chain.

Sources: Stern and Coe 1984 (chances as logistic curves over the year, by the days before); Wilks 1999
(Agricultural and Forest Meteorology 93, 153-169: chains that remember the dry side longer).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.invented.curves import PRICE, basis, harmonics_paid_for, logistic, value
from dooryard.weather.record import Floats

Bools = NDArray[np.bool_]
Counts = NDArray[np.int64]

CLASS_STARTS = (1, 2, 3, 5, 8, 13)  # first day of each class of spell length
LONGEST = CLASS_STARTS[-1]
DATES = 365  # a year is cut into so many dates
FEWEST = 30  # days a class must be seen on before it may have a chance of its own


@dataclass(frozen=True, slots=True, eq=False)
class Occurrence:
    """Chances of a wet day on the logistic scale.

    after_dry, after_wet : curves over the year, (1 + 2 H,) each, for a spell of one day.
    dry_steps, wet_steps : what is added from the second class of spell length on, at most five each.
    """

    after_dry: Floats
    after_wet: Floats
    dry_steps: Floats
    wet_steps: Floats

    def by_length(self, wet: bool) -> list[float]:
        """What is added for a spell of 0 (unused), 1, 2, … `LONGEST` days so far, longer ones as the last."""
        steps = [0.0, *(self.wet_steps if wet else self.dry_steps).tolist()]
        starts = CLASS_STARTS[: len(steps)]
        return [steps[max(sum(start <= run for start in starts) - 1, 0)] for run in range(LONGEST + 1)]


def fit_occurrence(rain_wet: Floats, angle_rad: Floats) -> Occurrence:
    """Chances from days (days,) that were wet (1), dry (0) or unknown (NaN).

    A day counts if the spell before it is known to its beginning, or known to be of the longest class.
    """
    run, was_wet = spells_before(rain_wet)
    sides = []
    for side in (0.0, 1.0):
        here = (was_wet == side) & (run > 0) & ~np.isnan(rain_wet)
        sides.append(_side(rain_wet[here], run[here], angle_rad[here]))
    (after_dry, dry_steps), (after_wet, wet_steps) = sides
    return Occurrence(after_dry, after_wet, dry_steps, wet_steps)


def spells_before(rain_wet: Floats) -> tuple[Counts, Floats]:
    """For each day (days,): the length up to yesterday of the spell it may end, and whether that was wet.

    Length 0 where it is not known: after a gap, until the spell changes or is as long as the longest class.
    """
    run = np.zeros(len(rain_wet), dtype=np.int64)
    was_wet = np.full(len(rain_wet), np.nan)
    length, state, whole = 0, float("nan"), False
    for day, wet in enumerate(rain_wet.tolist()):
        if length and (whole or length >= LONGEST):
            run[day], was_wet[day] = length, state
        if wet != wet:  # unknown
            length, state, whole = 0, wet, False
        elif wet == state:
            length += 1
        else:
            whole = state == state  # a change was seen, so the new spell begins here
            length, state = 1, wet
    return run, was_wet


def wet_days(
    occurrence: Occurrence,
    angle_rad: Floats,
    draw_logit: Floats,
    shift: Floats | None = None,
    stretch: float = 1.0,
) -> Bools:
    """Wet or dry, day by day, for one run (days,) or many side by side (days, runs).

    draw_logit : log(u / (1 - u)) of uniform deviates. shift : added on the logistic scale, of the same shape;
    stretch : what the chances' own scale is multiplied by (see `slow.stretch`). Begins after one dry day.
    """
    base_dry = stretch * value(occurrence.after_dry, angle_rad)
    base_wet = stretch * value(occurrence.after_wet, angle_rad)
    dry_add = [stretch * step for step in occurrence.by_length(False)]
    wet_add = [stretch * step for step in occurrence.by_length(True)]
    draw = draw_logit if shift is None else draw_logit - shift
    if draw.ndim == 1:
        return _one_run(base_dry.tolist(), base_wet.tolist(), dry_add, wet_add, draw.tolist())
    return _many_runs(base_dry, base_wet, np.array([dry_add, wet_add]), draw)


def _one_run(
    base_dry: Sequence[float],
    base_wet: Sequence[float],
    dry_add: Sequence[float],
    wet_add: Sequence[float],
    draws: Sequence[float],
) -> Bools:
    wet, run = False, 1
    states = []
    for dry_base, wet_base, draw in zip(base_dry, base_wet, draws, strict=True):
        now = draw < (wet_base + wet_add[run] if wet else dry_base + dry_add[run])
        run = min(run + 1, LONGEST) if now == wet else 1
        wet = now
        states.append(now)
    return np.array(states, dtype=np.bool_)


def _many_runs(base_dry: Floats, base_wet: Floats, add: Floats, draws: Floats) -> Bools:
    """The same for runs side by side (days, runs): many years at once cost little more than one."""
    wet = np.zeros(draws.shape[1], dtype=np.bool_)
    run = np.ones(draws.shape[1], dtype=np.int64)
    states = np.empty(draws.shape, dtype=np.bool_)
    for day in range(len(draws)):
        now = draws[day] < np.where(wet, base_wet[day], base_dry[day]) + add[wet.astype(int), run]
        run = np.where(now == wet, np.minimum(run + 1, LONGEST), 1)
        wet = now
        states[day] = now
    return states


def _side(wet: Floats, run: Counts, angle_rad: Floats) -> tuple[Floats, Floats]:
    """Curve and steps of one side of the chain: first the harmonics, then the classes the data pay for."""
    of_class = np.searchsorted(CLASS_STARTS, run, side="right") - 1
    usable = 1
    while usable < len(CLASS_STARTS) and np.sum(of_class >= usable) >= FEWEST:
        usable += 1

    # Days of one date and one class share their chance, so they are counted together.
    slot = (
        np.minimum((angle_rad / (2 * np.pi) * DATES).astype(np.int64), DATES - 1) * len(CLASS_STARTS)
        + of_class
    )
    seen, place = np.unique(slot, return_inverse=True)
    trials = np.bincount(place).astype(np.float64)
    happened = np.bincount(place, weights=wet).astype(np.float64)
    angle = (seen // len(CLASS_STARTS) + 0.5) / DATES * 2 * np.pi
    length_class = seen % len(CLASS_STARTS)

    def fitted(harmonics: int, classes: int) -> tuple[Floats, float]:
        steps = np.minimum(length_class, classes - 1)[:, None] == np.arange(1, classes)
        columns = np.concatenate((basis(angle, harmonics), steps.astype(np.float64)), axis=1)
        return logistic(columns, happened, trials)

    harmonics = harmonics_paid_for(lambda h: fitted(h, usable)[1])
    prices = [fitted(harmonics, k)[1] + k * PRICE for k in range(1, usable + 1)]
    found, _ = fitted(harmonics, int(np.argmin(prices)) + 1)
    return found[: 1 + 2 * harmonics], found[1 + 2 * harmonics :]
