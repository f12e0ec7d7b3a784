"""Rain on a roof to litres at the downspout.

The area is always the plan (footprint) area out to the gutter's edge: a steep roof catches no more than a
flat one over the same ground. Losses belong to the *event*, not to the day: a roof that is already wet is
not wetted again, and a first-flush chamber that has not been emptied does not fill again.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Floats = NDArray[np.float64]


def rain_volume(rain_mm: ArrayLike, area_m2: ArrayLike, coefficient: ArrayLike = 1.0) -> Floats:
    """Litres from a depth of rain on a plan area, all losses lumped into the coefficient; inputs broadcast.

    1 mm on 1 m2 is 1 L. Good for months and years; for days use `runoff`, which charges losses per event.

    >>> float(rain_volume(25.4, 100.0))
    2540.0
    """
    depth, area, share = (np.asarray(value, dtype=np.float64) for value in (rain_mm, area_m2, coefficient))
    return np.asarray(depth * area * share)


def runoff(
    rain_mm: ArrayLike,
    area_m2: float,
    coefficient: float,
    initial_loss_mm: float = 0.0,
    first_flush_l: float = 0.0,
    dry_reset_days: float = 1.0,
) -> Floats:
    """Litres that reach the storage each day, after wetting, splash and the first flush.

    Parameters
    ----------
    rain_mm : array (N,) or (..., N)
        Rain of each day [mm], time on the last axis. A trace is 0.0: it yields nothing and does not start
        an event.
    area_m2 : float
        Plan area of the roof section out to the gutter's edge [m2].
    coefficient : float
        Share of the rain left after wetting that runs off, 0 to 1 [1].
    initial_loss_mm : float
        Rain that only wets the dry roof, per event [mm].
    first_flush_l : float
        Water diverted before the storage, per event [L].
    dry_reset_days : float
        Days without rain after which the roof is dry and the diverter empty again [d]. With 0 every wet day
        is an event of its own.

    Returns
    -------
    array like ``rain_mm``
        Litres a day [L]. A missing day (NaN) gives NaN for that day. It also ends the event: on the next
        wet day the losses are charged afresh, which is the cautious side, since nobody knows whether the
        roof was wet.

    Raises
    ------
    InputError
        Rain, area, loss, flush or reset below zero or infinite; a coefficient outside 0 to 1.

    Notes ----- The event's volume is max(0, A C max(0, P - IL) - FF) however its rain is split over days.
    Snow is not rain until it melts: give melt, not snowfall.

    Source
    ------
    Loss, then first flush, then storage: the usual structure of rainwater-tank models.

    Example
    -------
    >>> runoff([5.0, 5.0, 0.0, 5.0], 10.0, 0.9, 1.0, 6.0, dry_reset_days=1).round(6).tolist()
    [30.0, 45.0, 0.0, 30.0]
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    _require_possible(rain, area_m2, coefficient, initial_loss_mm, first_flush_l, dry_reset_days)
    litres_per_mm = area_m2 * coefficient
    records = rain.reshape(-1, rain.shape[-1]) if rain.size else rain.reshape(0, rain.shape[-1])
    out = np.where(np.isnan(records), np.nan, 0.0)
    for record, litres in zip(records, out, strict=True):
        wet = np.flatnonzero(~(record == 0.0))
        _, _, litres[wet] = _run_events(
            record[wet], wet, wet + 1, litres_per_mm, initial_loss_mm, first_flush_l, dry_reset_days
        )
    return out.reshape(rain.shape)


@dataclass(frozen=True, slots=True)
class RoofFluxes:
    """Where the rain on a roof went, step by step; arrays (N,) [L], NaN on a missing step.

    fell_l : on the plan area. wetted_l : only wetted the dry roof. splashed_l : lost while it ran, the rest
    of the coefficient. bypassed_l : ran past the diverter down the old spout. flushed_l : first flush, led
    away. reached_l : came to the storage.
    """

    fell_l: Floats
    wetted_l: Floats
    splashed_l: Floats
    bypassed_l: Floats
    flushed_l: Floats
    reached_l: Floats

    def closure_error_l(self) -> float:
        """Largest amount of water made or lost in a known step; 0 but for rounding [L]."""
        gone = self.wetted_l + self.splashed_l + self.bypassed_l + self.flushed_l + self.reached_l
        errors = np.abs(self.fell_l - gone)
        return float(np.max(errors, initial=0.0, where=~np.isnan(errors)))


def roof_fluxes(
    rain_mm: ArrayLike,
    area_m2: float,
    coefficient: float,
    initial_loss_mm: float = 0.0,
    first_flush_l: float = 0.0,
    dry_reset_days: float = 1.0,
    *,
    diverted_share: float = 1.0,
    begins_d: ArrayLike | None = None,
    ends_d: ArrayLike | None = None,
) -> RoofFluxes:
    """Where all the rain on a roof goes, on its way to the storage.

    Parameters
    ----------
    rain_mm : array (N,)
        Rain of each step [mm], as in `runoff`.
    area_m2, coefficient, initial_loss_mm, first_flush_l, dry_reset_days : float
        As in `runoff`. The first flush is taken from what the diverter took.
    diverted_share : float
        Part of the downspout's water that the diverter takes, 0 to 1 [1].
    begins_d, ends_d : array (N,), optional
        When each step begins and ends, in order [d]. Without them the steps are days.

    Returns
    -------
    RoofFluxes

    Raises
    ------
    InputError
        As `runoff`; a share outside 0 to 1.

    Example
    -------
    >>> went = roof_fluxes([5.0], 10.0, 0.9, 1.0, 6.0, diverted_share=0.5)
    >>> [round(float(part[0]), 6) for part in (went.wetted_l, went.splashed_l, went.bypassed_l, went.reached_l)]
    [10.0, 4.0, 18.0, 12.0]
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    _require_possible(rain, area_m2, coefficient, initial_loss_mm, first_flush_l, dry_reset_days)
    if not 0.0 <= diverted_share <= 1.0:
        raise InputError(
            Problem(
                "A diverter cannot take less than nothing or more than all.",
                "Write a share from 0 to 1.",
                field="diverted_share",
                found=f"{diverted_share:g}",
            )
        )
    wet = np.flatnonzero(~(rain == 0.0))
    begins, ends = (
        wet + more if times is None else np.asarray(times)[wet]
        for times, more in ((begins_d, 0), (ends_d, 1))
    )
    depth = rain[wet]
    loss_mm, flushed, reached = _run_events(
        depth, begins, ends, area_m2 * coefficient * diverted_share, initial_loss_mm, first_flush_l, dry_reset_days
    )  # fmt: skip
    ran_mm = depth - np.array(loss_mm)

    def laid(litres: ArrayLike) -> Floats:
        out = np.zeros(rain.shape)
        out[wet] = litres
        return out

    return RoofFluxes(
        fell_l=area_m2 * rain,
        wetted_l=laid(area_m2 * np.array(loss_mm)),
        splashed_l=laid(area_m2 * (1.0 - coefficient) * ran_mm),
        bypassed_l=laid(area_m2 * coefficient * (1.0 - diverted_share) * ran_mm),
        flushed_l=laid(flushed),
        reached_l=laid(reached),
    )


def _run_events(
    depths: Floats,
    begins: NDArray[np.generic],
    ends: NDArray[np.generic],
    litres_per_mm: float,
    initial_loss: float,
    first_flush: float,
    reset: float,
) -> tuple[list[float], list[float], list[float]]:
    """Wetting loss [mm], first flush [L] and what is left [L] of wet and missing steps, NaN for the latter."""
    losses, flushes, volumes = [], [], []
    loss_left, flush_left = initial_loss, first_flush
    last_wet = -math.inf
    for begin, end, depth in zip(begins.tolist(), ends.tolist(), depths.tolist(), strict=True):
        if depth != depth:  # a missing step
            last_wet = -math.inf
            losses.append(depth)
            flushes.append(depth)
            volumes.append(depth)
            continue
        if begin - last_wet >= reset:
            loss_left, flush_left = initial_loss, first_flush
        last_wet = end
        wetted = min(depth, loss_left)
        loss_left -= wetted
        volume = litres_per_mm * (depth - wetted)
        flushed = min(volume, flush_left)
        flush_left -= flushed
        losses.append(wetted)
        flushes.append(flushed)
        volumes.append(volume - flushed)
    return losses, flushes, volumes


def slope_ratio(rise: float, run: float) -> float:
    """Sloped over plan area of a roof that rises ``rise`` in ``run`` (same unit) [1].

    Measured along the slope, divide by this to get the plan area: taking the slope itself counts rain that
    never fell.

    >>> round(slope_ratio(12, 12), 5)
    1.41421
    """
    return math.hypot(rise, run) / run


def wind_driven_area(length_m: float, width_m: float, height_m: float) -> float:
    """Roof area that a gutter must be sized for when rain falls two down to one across [m2]; not for yield.

    length_m along the eaves, width_m in plan from eaves to ridge, height_m from eaves to ridge [m].
    Source: EN 12056-3 as given by two trade guides: A = L (W + H / 2).
    """
    return length_m * (width_m + height_m / 2.0)


def five_percent_of_yield(
    area_m2: float, coefficient: float, filter_efficiency: float, yearly_rain_mm: float
) -> float:
    """Storage by the 5 % rule, supply side [L]: five hundredths of what the roof gives in a year.

    Source: BS 8515 / EN 16941-1 as applied by a low-impact-development guide. Take the smaller of this and
    `five_percent_of_demand`.
    """
    return area_m2 * coefficient * filter_efficiency * yearly_rain_mm * 0.05


def five_percent_of_demand(daily_use_l: float, people: float = 1.0) -> float:
    """Storage by the 5 % rule, demand side [L]: 18.25 days (5 % of a year) of use.

    Source as `five_percent_of_yield`.
    """
    return daily_use_l * people * 365.0 * 0.05


def _require_possible(
    rain: Floats,
    area_m2: float,
    coefficient: float,
    initial_loss_mm: float,
    first_flush_l: float,
    dry_reset_days: float,
) -> None:
    wrong = (rain < 0.0) | np.isinf(rain)
    if wrong.any():
        where = int(wrong.reshape(-1).argmax())
        raise InputError(
            Problem(
                f"Day {where % rain.shape[-1]} (counted from 0) is below zero or infinite.",
                "Give mm of rain, zero or more; leave a missing day as NaN.",
                field="rain_mm",
                found=f"{rain.reshape(-1)[where]:g} mm",
            )
        )
    if not 0.0 <= coefficient <= 1.0:
        raise InputError(
            Problem(
                "A roof cannot give less than nothing or more than the rain.",
                "Write a share from 0 to 1.",
                field="coefficient",
                found=f"{coefficient:g}",
            )
        )
    for name, value in (
        ("area_m2", area_m2),
        ("initial_loss_mm", initial_loss_mm),
        ("first_flush_l", first_flush_l),
        ("dry_reset_days", dry_reset_days),
    ):
        if not 0.0 <= value < math.inf:
            raise InputError(
                Problem(
                    "This value is missing, below zero or infinite.",
                    "Give zero or more.",
                    field=name,
                    found=f"{value:g}",
                )
            )
