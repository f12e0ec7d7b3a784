"""What a storage weighs, what it asks of the ground, and how easily it goes over.

Rigid bodies on level ground, no sliding: real stands are worse, never better. Two ways to fall are checked:
the storage off the top of its stand, and both together off the ground.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem
from dooryard.water.outlet import GRAVITY_M_S2

Floats = NDArray[np.float64]

ICE_DENSITY_KG_M3 = 917.0
WATER_DENSITY_KG_M3 = 1000.0

ALONE, TOGETHER = "storage on its stand", "storage and stand"
"""The two ways to fall: off the top of the stand, or with it."""


@dataclass(frozen=True, slots=True)
class Body:
    """One part of what stands there: mass_kg, and centre_m, its centre of mass over the ground line [m]."""

    mass_kg: float
    centre_m: float


@dataclass(frozen=True, slots=True)
class Stability:
    """One way to go over.

    mode : `ALONE` or `TOGETHER`.
    push_n : steady sideways push at the rim that starts to tip it [N].
    lean_deg : lean at which it goes over by itself, the water free to move [degree].
    mass_kg : all that would fall [kg]. centre_m : height of its centre over the edge it turns on [m].
    shift_m : apparent rise of that centre because the water is free to move [m]. base_m : width across the edge
    it turns on [m].
    """

    mode: str
    push_n: float
    lean_deg: float
    mass_kg: float
    centre_m: float
    shift_m: float
    base_m: float


def water_mass(volume_l: ArrayLike, density_kg_l: float = 1.0) -> Floats:
    """Mass of water [kg]. A litre is a kilogram to half a per cent between freezing and 30 degC.

    >>> float(water_mass(208.2))
    208.2
    """
    return np.asarray(np.asarray(volume_l, dtype=np.float64) * density_kg_l)


def weight(mass_kg: ArrayLike) -> Floats:
    """Weight of a mass [N]."""
    return np.asarray(np.asarray(mass_kg, dtype=np.float64) * GRAVITY_M_S2)


def bearing_pressure(mass_kg: ArrayLike, base_m2: ArrayLike) -> Floats:
    """Mean pressure of a mass on the area it stands on [kPa].

    base_m2 is the area really touching: a round drum on a slab presses on its own circle, a slab on its
    square. Compare with the pressure presumed for the ground. Raises InputError for an area of zero or
    less.
    """
    area = np.asarray(base_m2, dtype=np.float64)
    if (area <= 0.0).any():
        raise InputError(
            Problem(
                "The base has no area.", "Give the area it stands on.", field="base_m2", found=str(base_m2)
            )
        )
    return np.asarray(weight(mass_kg) / area / 1000.0)


def centre_of_mass(bodies: Iterable[Body]) -> Body:
    """All bodies as one: their mass together and the height of the common centre."""
    parts = tuple(bodies)
    mass = math.fsum(part.mass_kg for part in parts)
    moment = math.fsum(part.mass_kg * part.centre_m for part in parts)
    return Body(mass, moment / mass if mass > 0.0 else 0.0)


def tipping_push(weight_n: ArrayLike, base_m: ArrayLike, push_height_m: ArrayLike) -> Floats:
    """Steady sideways push that starts to tip a body [N]: W (b / 2) / h.

    weight_n : weight [N] (with a mass in, the answer is in the same unit of mass-weight: pounds in, pounds
    out). base_m : width of the base across the edge it turns on [m], the narrow way. push_height_m : height
    of the push over that edge [m]. Source: balance of moments, rigid body, no sliding.
    """
    force, base, height = (np.asarray(v, dtype=np.float64) for v in (weight_n, base_m, push_height_m))
    return np.asarray(force * (base / 2.0) / height)


def lean_to_tip(base_m: ArrayLike, centre_m: ArrayLike, water_shift_m: ArrayLike = 0.0) -> Floats:
    """Lean at which a body goes over by itself [degree]: atan((b / 2) / (centre + shift)).

    base_m : width of the base across the edge [m]. centre_m : height of the centre of mass over the base
    [m]. water_shift_m : apparent rise of the centre because the water moves to the low side, from
    `water_shift` [m]. Source: statics; the shift is the free-surface term of ship stability.
    """
    base, centre, shift = (np.asarray(v, dtype=np.float64) for v in (base_m, centre_m, water_shift_m))
    return np.asarray(np.degrees(np.arctan2(base / 2.0, centre + shift)))


def water_shift(diameter_m: float, volume_l: float, water_kg: float, total_kg: float) -> float:
    """Apparent rise of the centre of mass from the free water surface in a round storage [m].

    Second moment of the surface over the volume (pi r^4 / 4 / V), times the water's share of the mass. Too
    large for a storage nearly empty or brim full, where the water meets the floor or the lid: the cautious
    side.
    """
    if volume_l <= 0.0 or total_kg <= 0.0:
        return 0.0
    radius = diameter_m / 2.0
    return math.pi * radius**4 / 4.0 / (volume_l / 1000.0) * (water_kg / total_kg)


def settlement_lean(settlement_m: ArrayLike, base_m: ArrayLike) -> Floats:
    """Lean from one side of a base sinking by ``settlement_m`` [degree]: atan(settlement / base)."""
    sunk, base = np.asarray(settlement_m, dtype=np.float64), np.asarray(base_m, dtype=np.float64)
    return np.asarray(np.degrees(np.arctan2(sunk, base)))


def settlement_to_tip(base_m: ArrayLike, centre_m: ArrayLike, water_shift_m: ArrayLike = 0.0) -> Floats:
    """How far one side of a base may sink until the body goes over by itself [m]: base x tan(lean to tip).

    Arguments as of `lean_to_tip`. It is less the taller the stand and the narrower its base.
    """
    base = np.asarray(base_m, dtype=np.float64)
    return np.asarray(base * np.tan(np.radians(lean_to_tip(base, centre_m, water_shift_m))))


def stability(
    *,
    volume_l: float,
    diameter_m: float,
    height_m: float,
    empty_kg: float,
    stand_height_m: float = 0.0,
    stand_base_m: float = 0.0,
    stand_kg: float = 0.0,
    density_kg_l: float = 1.0,
) -> tuple[Stability, ...]:
    """The ways a round storage can go over when pushed at its rim, the weakest first.

    Parameters
    ----------
    volume_l : float
        Water in it [L]; 0 for an empty one.
    diameter_m, height_m : float
        Of the storage [m]; the water stands as a cylinder of this diameter.
    empty_kg : float
        Mass of the empty storage [kg], taken as centred at half height.
    stand_height_m, stand_base_m, stand_kg : float
        Stand: height, narrow side of its base [m] and mass [kg], centred at half height. Height 0: no stand.
        A storage wider than its stand turns on the stand's edge.
    density_kg_l : float
        Of water [kg/L].

    Returns
    -------
    tuple of Stability
        One entry without a stand, two with it.
    """
    water_kg = volume_l * density_kg_l
    depth_m = volume_l / 1000.0 / (math.pi / 4.0 * diameter_m**2)
    storage = centre_of_mass((Body(water_kg, depth_m / 2.0), Body(empty_kg, height_m / 2.0)))
    # A bottom that hangs over its stand turns on the edge of the stand.
    rests_on_m = min(diameter_m, stand_base_m) if stand_height_m > 0.0 else diameter_m
    found = [_mode(ALONE, storage, rests_on_m, height_m, (diameter_m, volume_l, water_kg))]
    if stand_height_m > 0.0:
        raised = Body(storage.mass_kg, stand_height_m + storage.centre_m)
        both = centre_of_mass((raised, Body(stand_kg, stand_height_m / 2.0)))
        rim_m = stand_height_m + height_m
        found.append(_mode(TOGETHER, both, stand_base_m, rim_m, (diameter_m, volume_l, water_kg)))
    return tuple(sorted(found, key=lambda way: way.push_n))


def _mode(mode: str, body: Body, base_m: float, rim_m: float, water: tuple[float, float, float]) -> Stability:
    diameter_m, volume_l, water_kg = water
    shift_m = water_shift(diameter_m, volume_l, water_kg, body.mass_kg)
    return Stability(
        mode=mode,
        push_n=float(tipping_push(weight(body.mass_kg), base_m, rim_m)),
        lean_deg=float(lean_to_tip(base_m, body.centre_m, shift_m)),
        mass_kg=body.mass_kg,
        centre_m=body.centre_m,
        shift_m=shift_m,
        base_m=base_m,
    )


def ice_expansion() -> float:
    """Share by which water grows when it freezes [1]: why a closed full storage splits.

    >>> round(ice_expansion(), 4)
    0.0905
    """
    return WATER_DENSITY_KG_M3 / ICE_DENSITY_KG_M3 - 1.0


def wind_to_tip(
    mass_kg: float,
    base_m: float,
    height_m: float,
    face_m2: float,
    drag_coefficient: float,
    air_density_kg_m3: float,
) -> float:
    """Wind that tips a storage standing on the ground [m/s]: drag at mid-height equals `tipping_push` there.

    mass_kg : all of it [kg]. base_m : width it stands on [m]. height_m : its height [m]. face_m2 : width
    times height towards the wind [m2]. It may slide before it tips: see `wind_to_slide`.
    Source: drag is half the air's density x speed squared x face x coefficient.
    """
    push_n = float(tipping_push(weight(mass_kg), base_m, height_m / 2.0))
    return _wind_for(push_n, face_m2, drag_coefficient, air_density_kg_m3)


def wind_to_slide(
    mass_kg: float,
    face_m2: float,
    friction: float,
    drag_coefficient: float,
    air_density_kg_m3: float,
) -> float:
    """Wind that pushes a storage along the ground [m/s]: drag equals friction times weight."""
    return _wind_for(friction * float(weight(mass_kg)), face_m2, drag_coefficient, air_density_kg_m3)


def _wind_for(push_n: float, face_m2: float, drag_coefficient: float, air_density_kg_m3: float) -> float:
    return math.sqrt(2.0 * push_n / (air_density_kg_m3 * drag_coefficient * face_m2))
