"""How much a hose takes away: flow from a barrel through a length of hose, and the time it takes.

House charts for hoses give a loss of pressure at a flow (Hazen and Williams). They are tuned to fast flow and
promise a barrel up to six per cent too much, so flows here come from the friction factor.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem
from dooryard.water.outlet import GRAVITY_M_S2, LITRES_PER_M3, bore_area, require_not_negative

Floats = NDArray[np.float64]

LAMINAR_RE = 2000.0
TURBULENT_RE = 4000.0
"""Below the first, flow is orderly; above the second, turbulent; nobody can say which in between."""

_ROUNDS = 100
_NEWTON_ROUNDS = 6
_NODES = 48


def reynolds(speed_m_s: ArrayLike, bore_m: ArrayLike, viscosity_m2_s: ArrayLike) -> Floats:
    """Reynolds number of the flow in a round pipe [1]: speed x bore / kinematic viscosity [m2/s]."""
    speed, bore = np.asarray(speed_m_s, dtype=np.float64), np.asarray(bore_m, dtype=np.float64)
    return np.asarray(speed * bore / np.asarray(viscosity_m2_s, dtype=np.float64))


def friction_factor(reynolds_number: ArrayLike, relative_roughness: ArrayLike = 0.0) -> Floats:
    """Darcy friction factor of a round pipe [1]; four times the Fanning factor.

    Parameters
    ----------
    reynolds_number : float or array
        Above zero [1].
    relative_roughness : float or array
        Roughness over bore [1]; 0 for a smooth wall.

    Returns
    -------
    float or array
        64 / Re up to 2,000; Colebrook's equation, solved to rounding, from 4,000; a straight line between.

    Source
    ------
    Hagen and Poiseuille; Colebrook 1939. The straight line is ours: it keeps the factor without a jump.

    >>> round(float(friction_factor(1000.0)), 3)
    0.064
    """
    number = np.asarray(reynolds_number, dtype=np.float64)
    with np.errstate(divide="ignore"):
        laminar = 64.0 / np.minimum(number, LAMINAR_RE)
    turbulent = _colebrook(np.maximum(number, TURBULENT_RE), relative_roughness)
    part = np.clip((number - LAMINAR_RE) / (TURBULENT_RE - LAMINAR_RE), 0.0, 1.0)
    with np.errstate(invalid="ignore"):
        between = laminar + part * (turbulent - laminar)
    return np.asarray(np.where(number <= LAMINAR_RE, laminar, between))


def _colebrook(number: Floats, relative_roughness: ArrayLike) -> Floats:
    """1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt f)), by Newton's way in x = 1/sqrt(f)."""
    rough = np.asarray(relative_roughness, dtype=np.float64) / 3.7
    slope = 2.51 / number
    x = -1.8 * np.log10(rough**1.11 + 6.9 / number)  # Haaland's estimate, within two per cent
    for _ in range(_NEWTON_ROUNDS):
        inside = rough + slope * x
        x = x - (x + 2.0 * np.log10(inside)) / (1.0 + 2.0 / math.log(10.0) * slope / inside)
    return np.asarray(1.0 / np.square(x))


def hose_flow(
    head_m: ArrayLike,
    bore_m: ArrayLike,
    length_m: ArrayLike,
    *,
    loss_sum: ArrayLike,
    roughness_m: ArrayLike,
    viscosity_m2_s: ArrayLike,
) -> Floats:
    """Flow from the open end of a hose under a steady head [L/s].

    Parameters
    ----------
    head_m : float or array
        Water surface above the hose's end [m], zero or more.
    bore_m, length_m : float or array
        Inside diameter and length of the hose [m].
    loss_sum : float or array
        Loss factors of spigot, fitting and entry, by the speed in the hose [1].
    roughness_m : float or array
        Roughness of its wall [m].
    viscosity_m2_s : float or array
        Kinematic viscosity of the water [m2/s].

    Returns
    -------
    float or array
        The flow for which h = v^2/2g (1 + K + f L/d); NaN where an input is NaN.

    Raises
    ------
    InputError
        A value below zero, or a bore of zero.

    Source
    ------
    Energy equation with Darcy's friction factor, `friction_factor`.
    """
    require_not_negative("head_m", head_m, "m")
    require_not_negative("length_m", length_m, "m")
    require_not_negative("loss_sum", loss_sum, "1")
    _require_bore(bore_m)
    head, bore, length = (np.asarray(value, dtype=np.float64) for value in (head_m, bore_m, length_m))
    other = 1.0 + np.asarray(loss_sum, dtype=np.float64)
    rough = np.asarray(roughness_m, dtype=np.float64) / bore
    drive = np.sqrt(2.0 * GRAVITY_M_S2 * head)
    speed = drive / np.sqrt(other)
    # A better speed from the friction at the last one; each round at least halves the error, from any start.
    for _ in range(_ROUNDS):
        number = np.maximum(reynolds(speed, bore, viscosity_m2_s), 1e-12)
        better = drive / np.sqrt(other + friction_factor(number, rough) * length / bore)
        done = np.allclose(better, speed, rtol=1e-13, atol=0.0, equal_nan=True)
        speed = better
        if done:
            break
    return np.asarray(LITRES_PER_M3 * bore_area(bore) * speed)


def hose_loss(
    flow_l_s: ArrayLike,
    bore_m: ArrayLike,
    length_m: ArrayLike,
    *,
    loss_sum: ArrayLike = 0.0,
    roughness_m: ArrayLike,
    viscosity_m2_s: ArrayLike,
) -> Floats:
    """Head that a flow uses up in a hose [m]: v^2/2g (K + f L/d), its speed at the end not counted.

    Arguments as of `hose_flow`. Raises InputError for a flow or length below zero or a bore of zero.
    """
    require_not_negative("flow_l_s", flow_l_s, "L/s")
    require_not_negative("length_m", length_m, "m")
    _require_bore(bore_m)
    bore, length = np.asarray(bore_m, dtype=np.float64), np.asarray(length_m, dtype=np.float64)
    speed = np.asarray(flow_l_s, dtype=np.float64) / LITRES_PER_M3 / bore_area(bore)
    number = np.maximum(reynolds(speed, bore, viscosity_m2_s), 1e-12)
    factor = friction_factor(number, np.asarray(roughness_m, dtype=np.float64) / bore)
    losses = np.asarray(loss_sum, dtype=np.float64) + factor * length / bore
    return np.asarray(np.square(speed) / (2.0 * GRAVITY_M_S2) * losses)


def hazen_williams_loss(
    flow_l_s: ArrayLike, bore_m: ArrayLike, length_m: ArrayLike, coefficient: ArrayLike
) -> Floats:
    """Head that a flow loses along a hose by the charts' formula [m], to compare only.

    coefficient : Hazen and Williams' C [1], about 140 for rubber or vinyl hose. Limits: water at usual
    temperatures and 1 to 3 m/s; slower, as at a barrel, it loses too little. Source: Hazen and Williams,
    10.67 L Q^1.852 / (C^1.852 d^4.8704) with metres and m3/s.
    """
    flow = np.asarray(flow_l_s, dtype=np.float64) / LITRES_PER_M3
    bore, length = np.asarray(bore_m, dtype=np.float64), np.asarray(length_m, dtype=np.float64)
    return np.asarray(
        10.67 * length * (flow / np.asarray(coefficient, dtype=np.float64)) ** 1.852 / bore**4.8704
    )


def run_down_time(
    surface_m2: float, flow_l_s: Callable[[Floats], Floats], head_from_m: float, head_to_m: float
) -> float:
    """Time for a straight-sided storage to fall from one head to another [h], whatever it runs through.

    Parameters
    ----------
    surface_m2 : float
        Water surface, the same at every height [m2].
    flow_l_s : callable
        Gives the flow [L/s] under each of an array of heads [m].
    head_from_m, head_to_m : float
        Water surface above the end of the line, before and after [m]. Through a hose or a porous wall the
        last of it takes for ever: ask for a head above zero there.

    Returns
    -------
    float
        Integral of A dh / q(h), in the root of the head, where it is smooth (48 Gauss nodes).

    Raises
    ------
    InputError
        A value below zero, or a head after that is above the head before.
    """
    require_not_negative("surface_m2", surface_m2, "m2")
    require_not_negative("head_to_m", head_to_m, "m")
    require_not_negative("head_from_m minus head_to_m", head_from_m - head_to_m, "m")
    # Imported here: most plans have no hose, and it costs a start more than all of this module.
    from numpy.polynomial.legendre import leggauss

    nodes, weights = leggauss(_NODES)
    low, high = math.sqrt(head_to_m), math.sqrt(head_from_m)
    root = (high + low) / 2.0 + (high - low) / 2.0 * nodes
    with np.errstate(divide="ignore"):
        seconds = surface_m2 * LITRES_PER_M3 * 2.0 * root / flow_l_s(np.square(root))
    return float((high - low) / 2.0 * np.dot(weights, seconds)) / 3600.0 if high > low else 0.0


def _require_bore(bore_m: ArrayLike) -> None:
    if (np.asarray(bore_m, dtype=np.float64) <= 0.0).any():
        raise InputError(
            Problem("The hose has no bore.", "Give its inside diameter.", field="bore_m", found=str(bore_m))
        )
