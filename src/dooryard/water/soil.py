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
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.problem import InputError, Problem

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


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


@dataclass(frozen=True, slots=True, eq=False)
class Story:
    """What a bed goes through, to be played by `play`; arrays (N,), or one number for every day.

    rain_mm, crop_et_mm, taw_mm, raw_mm, start_mm, irrigation_mm, restarts : as in `balance`.
    look_days : mornings on which somebody looks whether it is due; True or False is on all or none.
    trigger_mm : depletion from which it is watered on such a morning; None is raw [mm].
    dose_mm : given then; None is what brings it back to field capacity [mm].
    """

    rain_mm: Array
    crop_et_mm: ArrayLike
    taw_mm: ArrayLike
    raw_mm: ArrayLike
    start_mm: float = 0.0
    irrigation_mm: ArrayLike = 0.0
    look_days: ArrayLike = False
    trigger_mm: float | None = None
    dose_mm: float | None = None
    restarts: ArrayLike = False


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
    story = Story(
        rain_mm=np.asarray(rain_mm, dtype=np.float64),
        crop_et_mm=crop_et_mm,
        taw_mm=taw_mm,
        raw_mm=raw_mm,
        start_mm=start_mm,
        irrigation_mm=irrigation_mm,
        look_days=water_when_due,
        restarts=False if restarts is None else restarts,
    )
    return play([story])[0]


def play(stories: Sequence[Story]) -> tuple[SoilRun, ...]:
    """Run several accounts, as `balance` runs one; much quicker together than one by one.

    Raises what `balance` raises. Between two restarts nothing is carried over, so all such stretches of all
    stories are played side by side.
    """
    columns = [_Columns.of(story) for story in stories]
    cut = [number for number, column in enumerate(columns) if column.can_be_cut]
    played = dict(zip(cut, _side_by_side([columns[number] for number in cut]), strict=True)) if cut else {}
    return tuple(
        _soil_run(column, played[number] if number in played else _days(column))
        for number, column in enumerate(columns)
    )


class _Columns(NamedTuple):
    """A story's inputs, each (days,), checked; `days` of the N are known, the rest is NaN."""

    rain: Array
    wanted: Array
    given: Array
    again: Flags
    taw: Array
    raw: Array
    look: Flags
    trigger: Array
    dose_mm: float | None
    start_mm: float
    days: int

    @classmethod
    def of(cls, story: Story) -> _Columns:
        """Check a story and lay its inputs on its days."""
        rain = story.rain_mm
        wanted, given, taw, raw = (
            np.broadcast_to(np.asarray(values, dtype=np.float64), rain.shape)
            for values in (story.crop_et_mm, story.irrigation_mm, story.taw_mm, story.raw_mm)
        )
        again, look = (
            np.broadcast_to(np.asarray(flags, dtype=bool), rain.shape)
            for flags in (story.restarts, story.look_days)
        )
        trigger = raw if story.trigger_mm is None else np.full(rain.shape, story.trigger_mm)
        _require_soil(taw, raw, story.start_mm, again)
        _require_days(rain, wanted, given)
        unknown = np.isnan(rain + wanted + given)
        days = int(unknown.argmax()) if unknown.any() else len(rain)
        return cls(rain, wanted, given, again, taw, raw, look, trigger, story.dose_mm, story.start_mm, days)

    @property
    def cuts(self) -> NDArray[np.int64]:
        """First days of the stretches between restarts."""
        begins = self.again[: self.days].copy()
        begins[:1] = True
        return np.flatnonzero(begins)

    @property
    def can_be_cut(self) -> bool:
        """Whether it has enough short stretches to be played side by side."""
        cuts = self.cuts
        if len(cuts) < _FEWEST_STRETCHES:
            return False
        return int(np.diff(cuts, append=self.days).max()) <= _LONGEST_STRETCH_D


#: What makes playing side by side worth while: stretches of a year at most, and more than a few.
_FEWEST_STRETCHES, _LONGEST_STRETCH_D = 4, 400


def _soil_run(columns: _Columns, played: Array) -> SoilRun:
    """The account of a story from its played days (5, days)."""
    shape = columns.rain.shape
    out = np.full((5, *shape), np.nan)
    out[:, : columns.days] = played
    depletion, irrigation, used, drained, reset = out
    wanted, taw = columns.wanted, columns.taw
    stress = np.divide(used, wanted, out=np.ones(shape), where=wanted > 0)
    return SoilRun(
        depletion_mm=depletion,
        rain_mm=columns.rain,
        irrigation_mm=irrigation,
        evapotranspiration_mm=used,
        percolation_mm=drained,
        runoff_mm=np.where(np.isnan(depletion), np.nan, 0.0),
        reached_mm=np.where(np.isnan(depletion), np.nan, np.diff(taw, prepend=taw[:1])),
        reset_mm=reset,
        stress=np.where(np.isnan(depletion), np.nan, stress),
        start_mm=columns.start_mm,
        taw_mm=taw,
    )


def _days(columns: _Columns) -> Array:
    """The day loop on plain numbers: one bed is far too narrow for arrays."""
    depletion = columns.start_mm
    known = slice(0, columns.days)
    waterings, uses = (
        columns.given[known].tolist(),
        columns.wanted[known].tolist(),
    )  # changed where they differ
    drains, resets = [0.0] * len(uses), [0.0] * len(uses)
    depletions: list[float] = []
    dose = columns.dose_mm
    inputs = zip(*(values[known].tolist() for values in columns[:8]), strict=True)
    for day, (fell, use, watering, restart, taw, raw, look, trigger) in enumerate(inputs):
        left = depletion
        if restart:
            resets[day] = -left
            left = 0.0
        if left > raw:
            use *= (taw - left) / (taw - raw)
            uses[day] = use
        if look and left >= trigger:
            if dose is None:
                waterings[day] = watering + left
                left = 0.0
            else:
                watering += dose
                waterings[day] = watering
        left += use - fell - watering
        if left < 0.0:
            drains[day] = -left
            left = 0.0
        elif left > taw:  # a shallow soil on a hot day: the plants find no more than there is
            uses[day] = use - (left - taw)
            left = taw
        depletions.append(left)
        depletion = left
    return np.array((depletions, waterings, uses, drains, resets))


def _side_by_side(stories: Sequence[_Columns]) -> list[Array]:
    """The day loop over all stretches of all stories at once; the same arithmetic as `_days`."""
    places, lanes = [], 0
    longest = 0
    for story in stories:
        cuts = story.cuts
        lane = np.repeat(np.arange(len(cuts)), np.diff(cuts, append=story.days))
        step = np.arange(story.days) - cuts[lane]
        places.append((step, lane + lanes))
        longest = max(longest, int(step.max()) + 1)
        lanes += len(cuts)

    def laid(name: str, filler: float = 0.0) -> Array:
        out = np.full((longest, lanes), filler)
        for story, place in zip(stories, places, strict=True):
            out[place] = getattr(story, name)[: story.days]
        return out

    rain, uses, waterings = laid("rain"), laid("wanted"), laid("given")
    taw, raw, look = laid("taw", 1.0), laid("raw", 1.0), laid("look") > 0.0
    trigger = np.where(look, laid("trigger"), np.inf)
    span = np.where(taw > raw, taw - raw, 1.0)
    dose = np.concatenate(
        [np.full(len(story.cuts), np.nan if story.dose_mm is None else story.dose_mm) for story in stories]
    )
    fills = np.isnan(dose)
    any_dose = not fills.all()
    left = np.zeros(lanes)
    for story, (_, lane) in zip(stories, places, strict=True):
        left[lane[0]] = 0.0 if story.again[0] else story.start_mm
    depletions, drains = np.empty((longest, lanes)), np.zeros((longest, lanes))
    looks: list[bool] = np.asarray(look.any(axis=1)).tolist()
    for day in range(longest):
        use, watering = uses[day], waterings[day]
        dry = left > raw[day]
        if dry.any():
            np.multiply(use, (taw[day] - left) / span[day], out=use, where=dry)
        if looks[day]:
            due = left >= trigger[day]
            if due.any():
                counted = watering.copy()
                np.add(watering, np.where(fills, left, dose), out=watering, where=due)
                if any_dose:  # a filling is taken off at once, a dose with the day's rain
                    counted = np.where(due & ~fills, watering, counted)
                left = np.where(due & fills, 0.0, left)
                left = left + (use - rain[day] - counted)
            else:
                left = left + (use - rain[day] - watering)
        else:
            left = left + (use - rain[day] - watering)
        if (left < 0.0).any():
            np.maximum(-left, 0.0, out=drains[day])
            left = np.maximum(left, 0.0)
        over = left > taw[day]
        if over.any():
            np.subtract(use, left - taw[day], out=use, where=over)
            left = np.minimum(left, taw[day])
        depletions[day] = left
    found = []
    for story, place in zip(stories, places, strict=True):
        out = np.zeros((5, story.days))
        for row, values in enumerate((depletions, waterings, uses, drains)):
            out[row] = values[place]
        cuts = story.cuts
        again = cuts[story.again[cuts]]
        evening = np.concatenate([[story.start_mm], out[0]])
        out[4, again] = -evening[again]
        found.append(out)
    return found


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
