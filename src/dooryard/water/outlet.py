"""What comes out of the tap: head, pressure, flow, time to fill a can, time to empty the storage.

Head is the height of the water surface above the middle of the outlet (or above the hose's end). Everything
at a barrel runs on a foot or two of it; a house main has ninety.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]

GRAVITY_M_S2 = 9.80665
"""Standard acceleration of free fall [m/s2] (exact by convention)."""

LITRES_PER_M3 = 1000.0


def head(surface_m: ArrayLike, outlet_m: ArrayLike) -> Floats:
    """Height of the water surface over the outlet [m], never below zero: a bed above it gets nothing.

    surface_m, outlet_m : heights over the same ground line [m]; they broadcast.
    """
    return np.asarray(np.maximum(np.subtract(surface_m, outlet_m, dtype=np.float64), 0.0))


def pressure(head_m: ArrayLike, density_kg_l: float = 1.0) -> Floats:
    """Pressure under a head of still water [kPa]: density x gravity x head. Source: hydrostatics.

    >>> round(float(pressure(1.0)), 5)
    9.80665
    """
    return np.asarray(np.asarray(head_m, dtype=np.float64) * (density_kg_l * GRAVITY_M_S2))


def head_for_pressure(pressure_kpa: ArrayLike, density_kg_l: float = 1.0) -> Floats:
    """Head of water that gives a pressure [m]; the other way round of `pressure`."""
    return np.asarray(np.asarray(pressure_kpa, dtype=np.float64) / (density_kg_l * GRAVITY_M_S2))


def bore_area(bore_m: ArrayLike) -> Floats:
    """Area of a round opening of that inside diameter [m2]."""
    return np.asarray(math.pi / 4.0 * np.square(np.asarray(bore_m, dtype=np.float64)))


def discharge_coefficient(loss_sum: ArrayLike) -> Floats:
    """Discharge coefficient of fittings whose loss factors K add up to ``loss_sum`` [1]: 1 / sqrt(1 + K).

    Source: energy equation, velocity head times one plus the losses equals the head.
    """
    return np.asarray(1.0 / np.sqrt(1.0 + np.asarray(loss_sum, dtype=np.float64)))


def orifice_flow(bore_m: ArrayLike, head_m: ArrayLike, coefficient: ArrayLike) -> Floats:
    """Flow through a round opening under a steady head [L/s].

    Parameters
    ----------
    bore_m : float or array
        Inside diameter [m].
    head_m : float or array
        Water surface above the middle of the opening [m], zero or more. The opening must run full: a head
        below half the bore over-counts.
    coefficient : float or array
        Discharge coefficient [1]: about 0.6 for a sharp hole, 0.8 for a short tube; see
        `discharge_coefficient` for fittings.

    Returns
    -------
    float or array
        C a sqrt(2 g h); NaN where an input is NaN.

    Raises
    ------
    InputError
        A head or bore below zero.

    Source
    ------
    Torricelli's law with a discharge coefficient.
    """
    require_not_negative("head_m", head_m, "m")
    require_not_negative("bore_m", bore_m, "m")
    speed = np.sqrt(2.0 * GRAVITY_M_S2 * np.asarray(head_m, dtype=np.float64))
    return np.asarray(LITRES_PER_M3 * np.asarray(coefficient, dtype=np.float64) * bore_area(bore_m) * speed)


def bore_needed(flow_l_s: ArrayLike, head_m: ArrayLike, coefficient: ArrayLike) -> Floats:
    """Inside diameter that passes a flow under a head [m]; `orifice_flow` solved for the bore.

    Zero head gives an infinite bore (or NaN for no flow). Raises InputError for a flow or head below zero.
    """
    require_not_negative("flow_l_s", flow_l_s, "L/s")
    require_not_negative("head_m", head_m, "m")
    speed = np.sqrt(2.0 * GRAVITY_M_S2 * np.asarray(head_m, dtype=np.float64))
    per_area = LITRES_PER_M3 * np.asarray(coefficient, dtype=np.float64) * speed
    with np.errstate(divide="ignore", invalid="ignore"):
        area = np.asarray(flow_l_s, dtype=np.float64) / per_area
    return np.asarray(np.sqrt(4.0 * area / math.pi))


def drain_time(
    surface_m2: ArrayLike,
    bore_m: ArrayLike,
    coefficient: ArrayLike,
    head_from_m: ArrayLike,
    head_to_m: ArrayLike = 0.0,
) -> Floats:
    """Time for a straight-sided storage to fall from one head to another through an open outlet [h].

    Parameters
    ----------
    surface_m2 : float or array
        Water surface, the same at every height [m2].
    bore_m, coefficient : float or array
        Outlet bore [m] and discharge coefficient [1].
    head_from_m, head_to_m : float or array
        Water surface above the middle of the outlet, before and after [m].

    Returns
    -------
    float or array
        2 A (sqrt(h1) - sqrt(h2)) / (C a sqrt(2 g)): exactly twice volume over first flow when emptied to
        the outlet.

    Raises
    ------
    InputError
        A value below zero, or a head after that is above the head before.

    Source
    ------
    Closed form of the falling-head tank (Torricelli's law integrated).
    """
    for name, value, unit in (
        ("surface_m2", surface_m2, "m2"),
        ("bore_m", bore_m, "m"),
        ("head_to_m", head_to_m, "m"),
    ):
        require_not_negative(name, value, unit)
    require_not_negative("head_from_m minus head_to_m", np.subtract(head_from_m, head_to_m), "m")
    before, after = (np.asarray(value, dtype=np.float64) for value in (head_from_m, head_to_m))
    fall = np.sqrt(before) - np.sqrt(after)
    outflow = np.asarray(coefficient, dtype=np.float64) * bore_area(bore_m) * math.sqrt(2.0 * GRAVITY_M_S2)
    seconds = 2.0 * np.asarray(surface_m2, dtype=np.float64) * fall / outflow
    return np.asarray(seconds / 3600.0)


def fill_time(volume_l: ArrayLike, flow_l_s: ArrayLike) -> Floats:
    """Time to fill a can or any vessel at a steady flow [s]; infinite at no flow."""
    with np.errstate(divide="ignore"):
        return np.asarray(np.asarray(volume_l, dtype=np.float64) / np.asarray(flow_l_s, dtype=np.float64))


def require_not_negative(field: str, values: ArrayLike, unit: str) -> None:
    """Raise InputError if some value is below zero; NaN passes, since it comes out as NaN."""
    numbers = np.asarray(values, dtype=np.float64)
    if (numbers < 0.0).any():
        raise InputError(
            Problem(
                "This value is below zero.",
                "Give zero or more.",
                field=field,
                found=f"{float(np.nanmin(numbers)):g} {unit}",
            )
        )
