"""Winter cold as a plant counts it, hour by hour: two kinds of chilling hours, Utah units, the dynamic model.

All take temperatures of successive hours [degC], NaN where an hour is missing. They cannot be turned into each
other: a variety's need is only true in the counting it was found with. None of them fits warm winters but the
dynamic model.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.knowledge.season_rows import Chill
from dooryard.problem import InputError, Problem

Numbers = NDArray[np.float64]

_HAIR_C = 1e-9  # limits are Fahrenheit numbers turned into Celsius: 45 °F must still equal 45 °F


def chilling_hours(temperature_c: ArrayLike, step: Chill, *, with_end: bool = True) -> Numbers:
    """1 for each hour within a step's limits, else 0; NaN for a missing hour.

    Parameters
    ----------
    temperature_c : array (hours,)
        Temperature of each hour [degC].
    step : Chill
        A row of the chill table with its limits; the lower one counts. Without a lower one all colder hours count.
    with_end : bool
        Whether the upper limit itself counts: it does for 32 to 45 °F, not for "below 45 °F".

    Returns
    -------
    array (hours,)

    Source
    ------
    Weinberger 1950 (below 45 °F); the source of the R package chillR (0 to 7.2 degC).
    """
    hours = np.asarray(temperature_c, dtype=np.float64)
    low = -np.inf if step.above_c is None else step.above_c - _HAIR_C
    high = np.inf if step.upto_c is None else step.upto_c + (_HAIR_C if with_end else -_HAIR_C)
    inside = (hours >= low) & (hours <= high)
    return np.where(np.isnan(hours), np.nan, np.where(inside, step.weight, 0.0))


def utah_units(temperature_c: ArrayLike, steps: Sequence[Chill]) -> Numbers:
    """Chill units of each hour: from 1 in the best cold down to -1 in warmth, which undoes earlier cold.

    Parameters
    ----------
    temperature_c : array (hours,)
        Temperature of each hour [degC].
    steps : sequence of Chill
        The model's rows; each holds above its lower and up to and with its upper limit, without gaps.

    Returns
    -------
    array (hours,)
        Units of each hour; NaN for a missing hour.

    Raises
    ------
    InputError
        If the steps leave a gap or overlap.

    Source
    ------
    Richardson, Seeley and Walker 1974, HortScience 9:331.
    """
    ordered = sorted(steps, key=lambda step: -np.inf if step.above_c is None else step.above_c)
    for lower, upper in pairwise(ordered):
        if lower.upto_c is None or upper.above_c is None or abs(lower.upto_c - upper.above_c) > _HAIR_C:
            what = f"The steps {lower.key} and {upper.key} do not meet."
            raise InputError(Problem(what, "Give steps that follow each other.", field="chill"))
    hours = np.asarray(temperature_c, dtype=np.float64)
    ends = np.array([step.upto_c for step in ordered[:-1]], dtype=np.float64) + _HAIR_C
    weights = np.array([step.weight for step in ordered])
    return np.where(np.isnan(hours), np.nan, weights[np.searchsorted(ends, hours, side="left")])


def since_lowest(units: ArrayLike) -> Numbers:
    """Running sum of chill units from the autumn hour at which it stood lowest, 0 before.

    Units below zero in a warm autumn are no debt: counting begins where they end.

    Parameters
    ----------
    units : array (hours,)
        Units of each hour from early autumn on; NaN counts as nothing.

    Returns
    -------
    array (hours,)
    """
    running = np.cumsum(np.nan_to_num(np.asarray(units, dtype=np.float64)))
    if not running.size or running.min() >= 0:
        return running
    lowest = int(np.argmin(running))
    return np.where(np.arange(running.size) <= lowest, 0.0, running - running[lowest])


# Constants of the model's own equations (Fishman, Erez and Couvillon 1987).
_E0, _E1 = 4153.5, 12888.8
_A0, _A1 = 139_500.0, 2.567e18
_SLOPE, _TRANSITION_K = 1.6, 277.0
_ZERO_K = 273.0


def dynamic_portions(temperature_c: ArrayLike) -> Numbers:
    """Chill portions gained in each hour by the dynamic model.

    Cold first makes something that warmth can undo; once enough of it is there, a portion becomes lasting.

    Parameters
    ----------
    temperature_c : array (hours,)
        Temperature of each hour [degC]. From a missing hour on nothing is known: NaN to the end.

    Returns
    -------
    array (hours,)
        Portions gained in the hour; their sum is the winter's.

    Source
    ------
    Fishman, Erez and Couvillon 1987, J. Theor. Biol. 124:473, with the constants of the R package chillR.
    """
    hours = np.asarray(temperature_c, dtype=np.float64)
    kelvin = hours + _ZERO_K
    target = _A0 / _A1 * np.exp((_E1 - _E0) / kelvin)
    kept = np.exp(-_A1 * np.exp(-_E1 / kelvin))
    raised = _SLOPE * _TRANSITION_K * (kelvin - _TRANSITION_K) / kelvin
    fixed = 1.0 / (1.0 + np.exp(-np.clip(raised, -700.0, 700.0)))
    gained = np.zeros(hours.size)
    held = 0.0
    # A recurrence: plain floats are several times faster than array elements.
    for index, (toward, stays, share) in enumerate(
        zip(target.tolist(), kept.tolist(), fixed.tolist(), strict=True)
    ):
        held = toward - (toward - held) * stays
        if held >= 1.0:
            gained[index] = held * share
            held -= gained[index]
        elif held != held:
            gained[index:] = np.nan
            break
    return gained
