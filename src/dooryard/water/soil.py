"""How much water is left for the roots of a bed, and when it needs watering next (FAO-56 chapter 8).

Depletion is the water missing from the root zone: 0 is field capacity, TAW is the wilting point. One layer,
no rise of ground water, no runoff from the bed (it is booked, as 0, so that nobody wonders where it went).
Where roots go deeper, TAW grows; the soil they newly reach is taken to be at field capacity, so nothing more is
missing and the depletion [mm] stays. What they gain is booked as reached.

The order of one day is that of FAO-56 eq. 85 and 88: rain, watering and the day's own use are set against the
depletion of the evening before, and only what is then left over drains. Another order in use lets the rain
drain first and takes the use afterwards; it leaves a bed drier by one day's use after every heavy rain.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Array = NDArray[np.float64]


def total_available_water(field_capacity: float, wilting_point: float, root_depth_m: float) -> float:
    """Water a full root zone can give before plants wilt, TAW [mm] (FAO-56 eq. 82).

    Parameters
    ----------
    field_capacity, wilting_point : float
        Water held at field capacity and at the wilting point [m3/m3].
    root_depth_m : float
        Depth of the roots [m].
    """
    return 1000 * (field_capacity - wilting_point) * root_depth_m


def depletion_share(table_share: ArrayLike, crop_et_mm: ArrayLike, texture_share: float = 1.0) -> Array:
    """Share p of TAW that can be used before plants feel it, for a day or season of this use.

    Parameters
    ----------
    table_share : float or array
        p of the table, good at 5 mm a day [1].
    crop_et_mm : float or array
        Use of the bed, ETc [mm/d].
    texture_share : float
        Factor for the soil: below 1 on clay, above 1 on sand [1].

    Returns
    -------
    array
        p between 0.1 and 0.8 [1].

    Source
    ------
    FAO-56 table 22, footnote (p = p_table + 0.04 (5 - ETc)) and its notes on texture.
    """
    share = (np.asarray(table_share) + 0.04 * (5 - np.asarray(crop_et_mm))) * texture_share
    return np.asarray(np.clip(share, 0.1, 0.8))


def climate_adjusted_factor(
    table_factor: float, wind_2m_m_s: float, lowest_humidity_pct: float, height_m: float
) -> float:
    """Crop factor of the middle or end of the season, for a climate other than the table's mild one.

    Parameters
    ----------
    table_factor : float
        Kc of the table [1]. Below 0.45 an end factor is left alone (the crop is dry).
    wind_2m_m_s, lowest_humidity_pct : float
        Means over the stage: wind at 2 m [m/s] (held to 1 to 6), lowest humidity of the day [%] (held to 20
        to 80).
    height_m : float
        Height of the crop [m] (held to 0.1 to 10).

    Returns
    -------
    float
        Kc [1].

    Source
    ------
    FAO-56 eq. 62 and 65.
    """
    if table_factor < 0.45:
        return table_factor
    wind = min(max(wind_2m_m_s, 1.0), 6.0)
    humidity = min(max(lowest_humidity_pct, 20.0), 80.0)
    height = min(max(height_m, 0.1), 10.0)
    climate = 0.04 * (wind - 2) - 0.004 * (humidity - 45)
    return table_factor + climate * math.pow(height / 3, 0.3)


@dataclass(frozen=True, slots=True)
class FactorCurve:
    """Crop factor through a season: flat, rising, flat, falling (FAO-56 figure 34).

    ini, mid, end : the three factors [1]. days : lengths of the four stages [d]; None keeps ``mid``
    throughout.
    """

    ini: float
    mid: float
    end: float
    days: tuple[float, float, float, float] | None

    @property
    def length_d(self) -> float | None:
        """Length of the whole season [d], None if the crop has no stages."""
        return None if self.days is None else sum(self.days)

    def at(self, day: ArrayLike) -> Array:
        """Kc on a day of the season, 0 at planting; past its end the last factor stays (FAO-56 eq. 66)."""
        when = np.asarray(day, dtype=np.float64)
        if self.days is None:
            return np.where(np.isnan(when), np.nan, self.mid)
        corners = np.cumsum(self.days)
        return np.interp(when, corners, [self.ini, self.mid, self.mid, self.end])


@dataclass(frozen=True, slots=True)
class SoilRun:
    """The water account of a bed, each array (days,) [mm].

    depletion_mm : missing from the root zone in the evening.
    rain_mm, irrigation_mm : came in. evapotranspiration_mm, percolation_mm, runoff_mm : went out (runoff is
    0).
    reached_mm : water of soil that roots reached that morning, at field capacity; below zero on a restart with
    shorter roots, 0 on the first day.
    reset_mm : depletion set by hand that morning, plus is drier; 0 on all days but restarts.
    stress : share of full use the plants reached, Ks [1].
    start_mm : depletion on the evening before the first day.
    taw_mm : what the root zone can hold for plants; it holds taw - depletion.
    """

    depletion_mm: Array
    rain_mm: Array
    irrigation_mm: Array
    evapotranspiration_mm: Array
    percolation_mm: Array
    runoff_mm: Array
    reached_mm: Array
    reset_mm: Array
    stress: Array
    start_mm: float
    taw_mm: Array

    def closure_error_mm(self) -> float:
        """Largest water made or lost on any known day; 0 but for rounding [mm]."""
        known = int(np.count_nonzero(~np.isnan(self.depletion_mm)))  # NaN only at the tail
        held = (self.taw_mm - self.depletion_mm)[:known]
        before = np.concatenate([self.taw_mm[:1] - self.start_mm, held[:-1]])[:known]
        gone = self.evapotranspiration_mm + self.percolation_mm + self.runoff_mm + self.reset_mm
        came = self.rain_mm + self.irrigation_mm + self.reached_mm
        errors = before + (came - gone)[:known] - held
        return float(np.max(np.abs(errors), initial=0.0))


def balance(
    rain_mm: ArrayLike,
    crop_et_mm: ArrayLike,
    *,
    taw_mm: ArrayLike,
    raw_mm: ArrayLike,
    start_mm: float = 0.0,
    irrigation_mm: ArrayLike = 0.0,
    water_when_due: bool = False,
    restarts: ArrayLike | None = None,
) -> SoilRun:
    """Run the water account of one bed through the days.

    Parameters
    ----------
    rain_mm, crop_et_mm : array (N,)
        Rain, and use of a bed that lacks nothing, ETc = Kc ET [mm/d].
    taw_mm, raw_mm : float or array (N,)
        Water the root zone holds for plants on a day, and the part they use without stress [mm], 0 < raw <= taw.
        taw may rise from day to day (roots go deeper into soil at field capacity), and fall only on a restart.
    start_mm : float
        Depletion on the evening before the first day [mm], 0 to the first taw.
    irrigation_mm : float or array (N,)
        Watering given, early in the day [mm].
    water_when_due : bool
        Also bring the bed back to field capacity on each morning on which the depletion has reached raw.
    restarts : bool array (N,), optional
        Days on whose morning the depletion is set to field capacity: a new season, or a watering of unknown
        size.

    Returns
    -------
    SoilRun
        A missing rain, use or watering (NaN) makes that day and all later days NaN.

    Raises
    ------
    InputError
        If raw, taw or start do not fit each other, if taw falls on a day that is no restart, or if a rain, use
        or watering is below zero.

    Source
    ------
    FAO-56 eq. 84 (Ks, from the depletion at the start of the day), 85 and 88.

    Example
    -------
    >>> run = balance([0, 40], [5, 5], taw_mm=75, raw_mm=30, start_mm=20)
    >>> run.depletion_mm.tolist(), run.percolation_mm.tolist()
    ([25.0, 0.0], [0.0, 10.0])
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    wanted = np.broadcast_to(np.asarray(crop_et_mm, dtype=np.float64), rain.shape)
    given = np.broadcast_to(np.asarray(irrigation_mm, dtype=np.float64), rain.shape)
    again = np.zeros(rain.shape, dtype=bool) if restarts is None else np.asarray(restarts, dtype=bool)
    taw = np.broadcast_to(np.asarray(taw_mm, dtype=np.float64), rain.shape)
    raw = np.broadcast_to(np.asarray(raw_mm, dtype=np.float64), rain.shape)
    _require_soil(taw, raw, start_mm, again)
    _require_days(rain, wanted, given)
    unknown = np.isnan(rain + wanted + given)
    days = int(unknown.argmax()) if unknown.any() else len(rain)
    out = np.full((5, len(rain)), np.nan)
    out[:, :days] = _days(
        rain[:days],
        wanted[:days],
        given[:days],
        again[:days],
        taw[:days],
        raw[:days],
        start_mm,
        water_when_due,
    )
    depletion, irrigation, used, drained, reset = out
    stress = np.divide(used, wanted, out=np.ones(len(rain)), where=wanted > 0)
    return SoilRun(
        depletion_mm=depletion,
        rain_mm=rain,
        irrigation_mm=irrigation,
        evapotranspiration_mm=used,
        percolation_mm=drained,
        runoff_mm=np.where(np.isnan(depletion), np.nan, 0.0),
        reached_mm=np.where(np.isnan(depletion), np.nan, np.diff(taw, prepend=taw[:1])),
        reset_mm=reset,
        stress=np.where(np.isnan(depletion), np.nan, stress),
        start_mm=start_mm,
        taw_mm=taw,
    )


def _days(
    rain: Array,
    wanted: Array,
    given: Array,
    again: NDArray[np.bool_],
    taws: Array,
    raws: Array,
    start: float,
    when_due: bool,
) -> tuple[list[float], ...]:
    """The day loop on plain numbers: one bed is far too narrow for arrays."""
    depletion = start
    waterings, uses = given.tolist(), wanted.tolist()  # changed in place on the days that differ
    drains, resets = [0.0] * len(uses), [0.0] * len(uses)
    depletions: list[float] = []
    arrays = (rain, given, wanted, again, taws, raws)
    inputs = zip(*(values.tolist() for values in arrays), strict=True)
    for day, (fell, watering, use, restart, taw, raw) in enumerate(inputs):
        left = depletion
        if restart:
            resets[day] = -left
            left = 0.0
        if left > raw:
            use *= (taw - left) / (taw - raw)
            uses[day] = use
        if when_due and left >= raw:
            waterings[day] = watering + left
            left = 0.0
        left += use - fell - watering
        if left < 0.0:
            drains[day] = -left
            left = 0.0
        elif left > taw:  # a shallow soil on a hot day: the plants find no more than there is
            uses[day] = use - (left - taw)
            left = taw
        depletions.append(left)
        depletion = left
    return depletions, waterings, uses, drains, resets


def _require_soil(taw: Array, raw: Array, start_mm: float, again: NDArray[np.bool_]) -> None:
    fits = (raw > 0.0) & (raw <= taw) & (taw < np.inf)
    if len(taw) and not (fits.all() and 0.0 <= start_mm <= taw[0]):
        worst = int(fits.argmin())
        raise InputError(
            Problem(
                "The soil's amounts do not fit each other.",
                "raw must be above 0 and at most taw, and the start between 0 and taw.",
                field="taw_mm",
                found=f"raw {raw[worst]:g}, taw {taw[worst]:g}, start {start_mm:g} mm",
            )
        )
    falls = (np.diff(taw) < 0.0) & ~again[1:]
    if falls.any():
        day = int(falls.argmax()) + 1
        raise InputError(
            Problem(
                f"The root zone shrinks on day {day} (counted from 0), which is no restart.",
                "Roots only go deeper within a season. Mark the first day of the next one as a restart.",
                field="taw_mm",
                found=f"{taw[day - 1]:g} mm, then {taw[day]:g} mm",
            )
        )


def _require_days(rain: Array, wanted: Array, given: Array) -> None:
    for name, values in (("rain_mm", rain), ("crop_et_mm", wanted), ("irrigation_mm", given)):
        wrong = values < 0.0
        if wrong.any():
            where = int(wrong.argmax())
            raise InputError(
                Problem(
                    f"Day {where} (counted from 0) is below zero.",
                    "Give mm a day, zero or more; leave a missing day as NaN.",
                    field=name,
                    found=f"{values[where]:g} mm",
                )
            )
