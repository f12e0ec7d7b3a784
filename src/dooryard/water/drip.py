"""Drip and soaker hoses at a barrel's pressure: how little they give, how unevenly, and where they stop.

A house gives drip parts their 10 to 20 lb per sq in; a barrel on blocks gives one or two. Plain emitters
still run, slowly. Compensating emitters, timers and electric valves do not.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem
from dooryard.water.hose import hose_loss
from dooryard.water.outlet import head, pressure, require_not_negative

Floats = NDArray[np.float64]

_HALVINGS = 100
# An exponent this near to 1 is taken as a porous wall's.
_NEAR_LOGARITHM = 1e-4


def emitter_flow(
    pressure_kpa: ArrayLike, rated_l_s: ArrayLike, rated_kpa: ArrayLike, exponent: ArrayLike
) -> Floats:
    """Flow of an emitter, or of a whole line of them, at a pressure [L/s]: q_r (p / p_r)^x.

    Parameters
    ----------
    pressure_kpa : float or array
        Pressure at the emitter [kPa], zero or more.
    rated_l_s : float or array
        Its flow at its rated pressure [L/s].
    rated_kpa : float or array
        That pressure, above zero [kPa].
    exponent : float or array
        0.5 for a plain (turbulent) emitter, about 1 for a porous wall, 0 for a compensating one above its
        threshold [1].

    Raises
    ------
    InputError
        A pressure or flow below zero, or a rated pressure of zero.

    Source
    ------
    The usual power law of emitters.
    """
    require_not_negative("pressure_kpa", pressure_kpa, "kPa")
    require_not_negative("rated_l_s", rated_l_s, "L/s")
    rated = np.asarray(rated_kpa, dtype=np.float64)
    if (rated <= 0.0).any():
        raise InputError(
            Problem(
                "The rated pressure is not above zero.",
                "Read it on the package: drip parts are rated at 10 to 20 psi.",
                field="rated_kpa",
                found=str(rated_kpa),
            )
        )
    share = np.asarray(pressure_kpa, dtype=np.float64) / rated
    return np.asarray(
        np.asarray(rated_l_s, dtype=np.float64) * share ** np.asarray(exponent, dtype=np.float64)
    )


def line_flow(
    head_m: ArrayLike,
    rated_l_s: float,
    rated_kpa: float,
    exponent: float,
    *,
    bore_m: float,
    length_m: float,
    loss_sum: float,
    roughness_m: float,
    viscosity_m2_s: float,
) -> Floats:
    """Flow of emitters at the end of a hose [L/s]: what the hose takes of the head is missing at the emitters.

    head_m : water surface above the emitters [m]. rated_l_s : all of them together. The hose as in
    `hose.hose_flow`. Found by halving the head that is left at the emitters. Raises InputError as
    `emitter_flow` and `hose.hose_loss` do.
    """
    total = np.asarray(head_m, dtype=np.float64)
    require_not_negative("head_m", total, "m")
    low, high = np.zeros_like(total), total
    for _ in range(_HALVINGS):
        left = (low + high) / 2.0
        flow = emitter_flow(pressure(left), rated_l_s, rated_kpa, exponent)
        lost = hose_loss(
            flow,
            bore_m,
            length_m,
            loss_sum=loss_sum,
            roughness_m=roughness_m,
            viscosity_m2_s=viscosity_m2_s,
        )
        too_much = left + lost > total
        low, high = np.where(too_much, low, left), np.where(too_much, left, high)
    return emitter_flow(pressure((low + high) / 2.0), rated_l_s, rated_kpa, exponent)


def drip_time(
    surface_m2: float,
    head_from_m: float,
    head_to_m: float,
    rated_l_s: float,
    rated_kpa: float,
    exponent: float,
) -> float:
    """Time in which emitters lower a straight-sided storage from one head to another [h].

    surface_m2 : water surface [m2]. head_from_m, head_to_m : water surface above the emitters [m]. The rest
    as of `emitter_flow`, all emitters together. Infinite to no head at all when the exponent
    is 1 (within 0.0001) or more. Raises InputError for values below zero, a rated flow of zero or a rising level.
    Source: A dh / q(h) integrated in closed form; with exponent 0.5, volume over the mean of first and last
    flow.
    """
    require_not_negative("surface_m2", surface_m2, "m2")
    require_not_negative("head_to_m", head_to_m, "m")
    require_not_negative("head_from_m minus head_to_m", head_from_m - head_to_m, "m")
    # Flow per metre of head to the power of the exponent [L/s].
    factor = float(emitter_flow(pressure(1.0), rated_l_s, rated_kpa, exponent))
    if factor <= 0.0:
        raise InputError(Problem("The emitters give nothing.", "Give their rated flow.", field="rated_l_s"))
    if head_from_m == head_to_m:
        return 0.0
    power = 1.0 - exponent
    if head_to_m == 0.0 and power < _NEAR_LOGARITHM:
        return math.inf
    if power == 0.0:
        fall = math.log(head_from_m / head_to_m)
    elif abs(power) < _NEAR_LOGARITHM:
        # The difference of two powers would lose its digits here.
        fall = math.expm1(power * math.log(head_from_m / head_to_m)) / power * head_to_m**power
    else:
        fall = (head_from_m**power - head_to_m**power) / power
    return surface_m2 * 1000.0 * fall / factor / 3600.0


def rise_loss(head_m: ArrayLike, rise_m: ArrayLike, exponent: ArrayLike) -> Floats:
    """Share of its flow that an emitter loses by lying higher than the others [1]: 1 - ((h - rise) / h)^x.

    head_m : water surface above the others [m]. All of it (1) where the water does not reach it. NaN at no
    head. Source: the power law of emitters; why a sloping bed is watered unevenly from a barrel.
    """
    whole = np.asarray(head_m, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = head(whole, rise_m) / whole
    return np.asarray(1.0 - share ** np.asarray(exponent, dtype=np.float64))


def opens(head_m: ArrayLike, needed_kpa: ArrayLike) -> NDArray[np.bool_]:
    """Whether a compensating emitter, timer or electric valve works under that head: it needs a pressure."""
    return np.asarray(pressure(head_m) >= np.asarray(needed_kpa, dtype=np.float64))


def out_of_reach(section_m2: float, outlet_m: float, bed_m: float, full_m: float) -> tuple[float, float]:
    """Water above the outlet that never runs to a bed, because the bed lies as high: (depth [m], volume [L]).

    section_m2 : water surface of the storage [m2]. outlet_m, bed_m, full_m : heights of outlet, bed and
    highest water over one ground line [m]. Nothing for a bed below the outlet; all of it for one above the
    water.
    """
    require_not_negative("full_m minus outlet_m", full_m - outlet_m, "m")
    depth_m = min(float(head(bed_m, outlet_m)), full_m - outlet_m)
    return depth_m, section_m2 * depth_m * 1000.0
