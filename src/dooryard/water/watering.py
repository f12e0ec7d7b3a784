"""When a bed is due for water, and how much: today's depletion carried through the station's own years."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Array = NDArray[np.float64]

#: Shares of the members that are there by the earliest, likely and latest date.
EARLIEST, LIKELY, LATEST = 0.10, 0.50, 0.90


@dataclass(frozen=True, slots=True)
class NextWatering:
    """The date a bed reaches the depletion at which plants begin to feel it.

    earliest, likely, latest : by these mornings a tenth, half, nine tenths of the members are due; None if
    so many are not due within the days looked ahead.
    members : how many were played to a known end; unknown : how many were not, for a gap in their rain or
    warmth.
    now_l : brings the bed back to field capacity today [L]. due_l : the same on the morning it is due, as the
    middle of the members [L]; None if none is due.
    """

    earliest: date | None
    likely: date | None
    latest: date | None
    members: int
    unknown: int
    now_l: float
    due_l: float | None


def next_watering(
    depletion_mm: ArrayLike,
    *,
    dates: NDArray[np.datetime64],
    rain_mm: ArrayLike,
    crop_et_mm: ArrayLike,
    taw_mm: ArrayLike,
    raw_mm: ArrayLike,
    area_m2: float,
) -> NextWatering:
    """Earliest, likely and latest morning on which a bed is due, if nobody waters it.

    Parameters
    ----------
    depletion_mm : float or array (S,)
        Depletion this morning [mm]; several values (a range) are each played through every member.
    dates : datetime64 array (H,)
        The days ahead, the first of them today.
    rain_mm, crop_et_mm : array (M, H) or (H,)
        Rain and full use of the bed [mm/d], one row a member. NaN from some day on makes the rest of that
        member unknown; it only counts if it was due before. A day without use in any member ends the season: whoever
        is not due by then never is.
    taw_mm, raw_mm : float or array (H,)
        As in `soil.balance`, for each of the days ahead [mm]: growing roots make them rise. A day on which taw
        falls begins another season, and so ends this one.
    area_m2 : float
        Area of the bed [m2].

    Returns
    -------
    NextWatering

    Raises
    ------
    InputError
        If a depletion is missing or outside 0 to today's taw.

    Source
    ------
    FAO-56 eq. 84, 85 and 88 for each day; the shares are ranks of the members.
    """
    starts = np.atleast_1d(np.asarray(depletion_mm, dtype=np.float64))
    taw = np.broadcast_to(np.asarray(taw_mm, dtype=np.float64), dates.shape)
    raw = np.broadcast_to(np.asarray(raw_mm, dtype=np.float64), dates.shape)
    if not ((starts >= 0.0) & (starts <= taw[:1])).all():
        raise InputError(
            Problem(
                "The depletion to start from is missing or outside what the soil holds.",
                "Give mm from 0 to taw.",
                field="depletion_mm",
                found=f"{starts.tolist()} of {taw[0]:g} mm",
            )
        )
    rain = np.atleast_2d(np.asarray(rain_mm, dtype=np.float64))
    rain, wanted = np.broadcast_arrays(rain, np.asarray(crop_et_mm, dtype=np.float64))
    growing = ~(np.isnan(wanted).all(axis=0) | np.isnan(taw))
    growing[1:] &= ~(np.diff(taw) < 0.0)
    if not growing.all():  # the season ends before the days ahead do
        until = int(growing.argmin())
        rain, wanted = rain[:, :until], wanted[:, :until]
    due_day, due_mm, unknown = _play(starts, rain, wanted, taw, raw)
    known = np.sort(due_day[~unknown])
    reached = due_mm[~np.isnan(due_mm)]
    return NextWatering(
        earliest=_morning(known, EARLIEST, dates),
        likely=_morning(known, LIKELY, dates),
        latest=_morning(known, LATEST, dates),
        members=len(known),
        unknown=int(np.count_nonzero(unknown)),
        now_l=float(starts.mean()) * area_m2,
        due_l=float(np.median(reached)) * area_m2 if len(reached) else None,
    )


def _play(
    starts: Array, rain: Array, wanted: Array, taw_mm: Array, raw_mm: Array
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """For each start and member, flattened: day index due (inf: never), depletion then, whether unknown."""
    members, horizon = rain.shape
    depletion = np.repeat(starts, members)
    due_day = np.full(len(depletion), np.inf)
    due_mm = np.full(len(depletion), np.nan)
    rain_days = np.ascontiguousarray(np.tile(rain, (len(starts), 1)).T)
    wanted_days = np.ascontiguousarray(np.tile(wanted, (len(starts), 1)).T)
    for day in range(horizon):
        taw, raw = float(taw_mm[day]), float(raw_mm[day])
        beyond = max(taw - raw, np.finfo(np.float64).tiny)
        now_due = (depletion >= raw) & np.isinf(due_day)
        due_day[now_due] = day
        due_mm[now_due] = depletion[now_due]
        if not np.isinf(due_day).any():
            break
        use = wanted_days[day] * np.clip((taw - depletion) / beyond, 0.0, 1.0)
        depletion = np.clip(depletion - rain_days[day] + use, 0.0, taw)  # NaN stays NaN
    return due_day, due_mm, np.isinf(due_day) & np.isnan(depletion)


def _morning(sorted_days: Array, share: float, dates: NDArray[np.datetime64]) -> date | None:
    """The morning by which that share of the members is due."""
    if len(sorted_days) == 0:
        return None
    rank = max(int(np.ceil(share * len(sorted_days))) - 1, 0)
    day = sorted_days[rank]
    if np.isinf(day):
        return None
    when: date = dates[int(day)].astype("datetime64[D]").astype(date)
    return when
