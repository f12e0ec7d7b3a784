"""One bed of a yard through a record: its season, its use, what is left for roots, what it asks for.

Two stories bracket what a bed went through, since nobody wrote down each watering: it was brought back to
field capacity whenever it was due, or it had rain alone since it was last watered (or since its season
began). A day without a rain record widens the bracket: on the wet side the bed was filled, on the dry side
it got nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.knowledge.rows import Crop
from dooryard.water import air, soil
from dooryard.water.bed_season import BedSeason, curve_of, season_of
from dooryard.water.evapotranspiration import ReferenceET
from dooryard.water.growing_season import UsualSeason
from dooryard.water.roots import RootZone, grown_days, root_zone
from dooryard.yard.model import RAIN, Bed

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: Share of the days on which humidity must have been measured before the crop factor is fitted to the
#: climate.
_MEASURED_SHARE = 0.5
#: Crops whose factor is a plant factor of a landscape standard, which knows no climate adjustment.
_PLANT_FACTOR_KINDS = ("ornamental", "tree")


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """What falls on and leaves a yard's beds, with bounds on days nobody measured. Arrays (N,) [mm/d].

    rain_mm, et_mm : as recorded, NaN where unknown. et_low_mm, et_high_mm : the same with the station's own
    lowest and highest of that calendar month on unknown days (NaN if a month was never measured).
    """

    dates: NDArray[np.datetime64]
    rain_mm: Array
    et_mm: Array
    et_low_mm: Array
    et_high_mm: Array


@dataclass(frozen=True, slots=True, eq=False)
class BedRun:
    """One bed, day by day. Arrays (N,); NaN when nothing grows, except demands, which are then 0.

    depletion_low_mm, depletion_high_mm : water missing from the root zone in the evening [mm], at least and
    at most.
    taw_mm, raw_mm : what the root zone holds for plants, and how much of it they use without stress [mm]; they
    grow while roots go deeper.
    kc : crop factor [1]. crop_et_mm : full use, NaN also where the weather is missing [mm/d].
    demand_l : water that brings the bed back to field capacity on the mornings it is due [L]; 0 for a bed
    on rain.
    demand_low_l, demand_high_l, demand_lag_l : while a gap matters nobody knows on which mornings the bed was
    due. Over any stretch of days it asked for at least the sum of the first, and at most the sum of the second
    and once the third. Otherwise the first two are `demand_l` and the third is 0 [L].
    known_since : first day from which no gap matters any more; None if one still does, or nothing grows.
    closure_mm : largest water made or lost on a day by the accounts.
    """

    name: str
    grows: str
    area_m2: float
    watered_from: str
    growing: Flags
    taw_mm: Array
    raw_mm: Array
    kc: Array
    crop_et_mm: Array
    depletion_low_mm: Array
    depletion_high_mm: Array
    demand_l: Array
    demand_low_l: Array
    demand_high_l: Array
    demand_lag_l: Array
    known_since: date | None
    season: BedSeason
    curve: soil.FactorCurve
    roots: RootZone
    notes: tuple[str, ...]
    closure_mm: float

    def factor_on(self, dates: NDArray[np.datetime64]) -> Array:
        """Crop factor on any dates (H,), also ahead; NaN when nothing grows [1]."""
        return self.curve.at(self.season.day(dates))

    def root_depth_on(self, dates: NDArray[np.datetime64]) -> Array:
        """Depth of the roots on any dates (H,), also ahead; NaN when nothing grows [m]."""
        return self.roots.depth_m(self.season.day(dates))

    def taw_on(self, dates: NDArray[np.datetime64]) -> Array:
        """What the root zone holds for plants on any dates (H,), also ahead; NaN when nothing grows [mm]."""
        return self.roots.taw_mm(self.season.day(dates))

    def raw_on(self, dates: NDArray[np.datetime64]) -> Array:
        """What plants use of it without stress on any dates (H,), also ahead; NaN when nothing grows [mm]."""
        return self.roots.raw_mm(self.season.day(dates))


def sky(dates: NDArray[np.datetime64], rain_mm: Array, et_mm: Array) -> Sky:
    """The weather over the beds, with bounds for the days on which the reference use is not known."""
    unknown = np.isnan(et_mm)
    low, high = et_mm.copy(), et_mm.copy()
    if unknown.any():
        month = dates.astype("datetime64[M]").astype(np.int64) % 12
        for number in np.unique(month[unknown]).tolist():
            here = (month == number) & unknown
            measured = et_mm[(month == number) & ~unknown]
            if len(measured):
                low[here], high[here] = measured.min(), measured.max()
    return Sky(dates, rain_mm, et_mm, low, high)


def run_bed(
    bed: Bed, knowledge: Knowledge, above: Sky, reference: ReferenceET, usual: UsualSeason | None, on: date
) -> BedRun:
    """Run one bed through the days of `above`, which end on the eve of `on`.

    KeyError if its crop or soil is not in the tables (the yard reader has checked both).
    """
    crop, ground = knowledge.crops[bed.grows], knowledge.soils[bed.soil]
    season, why = season_of(bed, crop, usual, annual=grown_days(crop, knowledge) is not None)
    day = season.day(above.dates)
    growing = ~np.isnan(day)
    curve, curve_note = _fitted_curve(crop, reference, growing)
    kc = curve.at(day)
    crop_et_mm = kc * above.et_mm
    roots = root_zone(crop, ground, crop_et_mm, season, knowledge)
    notes = [why, *_root_notes(bed, roots)]
    notes += [curve_note] if curve_note else []
    empty, none = np.full(len(day), np.nan), np.zeros(len(day))
    run = BedRun(
        name=bed.name, grows=bed.grows, area_m2=bed.area_m2, watered_from=bed.watered_from, growing=growing,
        taw_mm=roots.taw_mm(day), raw_mm=roots.raw_mm(day), kc=kc, crop_et_mm=crop_et_mm, depletion_low_mm=empty,
        depletion_high_mm=empty, demand_l=none, demand_low_l=none, demand_high_l=none, demand_lag_l=none,
        known_since=None, season=season, curve=curve, roots=roots, notes=tuple(notes), closure_mm=0.0,
    )  # fmt: skip
    if np.isnan(above.et_high_mm[growing]).any():
        never = "In some months the station has never measured temperature: the need for water is not known."
        return replace(run, notes=(*notes, never))
    return _stories(run, bed, above, day, on) if growing.any() else run


def _root_notes(bed: Bed, roots: RootZone) -> list[str]:
    """How a season starts, and how its roots grow."""
    if roots.grown_d is None:
        return ["Starts each season at field capacity."]
    start = (
        "Starts each season at field capacity."
        if bed.planted is None
        else "Taken as watered in well on the planting day, which is common practice: it starts at field capacity."
    )
    return [
        start,
        f"Its roots are taken to be grown {roots.grown_d:.0f} days after "
        f"{'its season begins' if bed.planted is None else 'planting'}. The soil they newly reach on the way down "
        "is taken to hold all it can (field capacity).",
    ]


def _fitted_curve(crop: Crop, reference: ReferenceET, growing: Flags) -> tuple[soil.FactorCurve, str]:
    """The curve, fitted to the station's wind and humidity if the latter was measured."""
    curve = curve_of(crop)
    measured = reference.humidity_days >= _MEASURED_SHARE * len(growing)
    if crop.kind in _PLANT_FACTOR_KINDS or not growing.any() or not measured:
        return curve, ""
    humidity = air.lowest_humidity(reference.t_max_c[growing], reference.vapour_pressure_kpa[growing])
    humidity_pct = float(np.nanmean(np.minimum(humidity, 100.0)))
    wind_m_s = float(np.nanmean(reference.wind_2m_m_s[growing]))
    mid, end = (
        soil.climate_adjusted_factor(factor, wind_m_s, humidity_pct, crop.height_m)
        for factor in (crop.kc_mid, crop.kc_end)
    )
    note = f"Its crop factor is fitted to the station's air: {mid:.2f} instead of {crop.kc_mid:.2f}."
    return replace(curve, mid=mid, end=end), note


def _stories(run: BedRun, bed: Bed, above: Sky, day: Array, on: date) -> BedRun:
    """Play both stories over the growing days only, and lay them back on the calendar."""
    where = np.flatnonzero(run.growing)
    dates = above.dates[where]
    season_day = day[where]
    # a season begins where the calendar jumps, and where one follows another without a break
    begins = np.concatenate([[True], (np.diff(dates.astype(np.int64)) > 1) | (np.diff(season_day) < 0)])
    if run.season.endless:
        begins[1:] = False
    midway = run.season.endless or season_day[0] > 0  # the record begins when the bed is already growing
    restarts = begins | (dates == np.datetime64(bed.last_watered or date.min, "D"))
    rain, kc = above.rain_mm[where], run.kc[where]
    taw_mm, raw_mm = run.taw_mm[where], run.raw_mm[where]
    dry_rain, wet_rain = np.nan_to_num(rain), np.where(np.isnan(rain), 2 * taw_mm, rain)
    dry_use, wet_use = kc * above.et_high_mm[where], kc * above.et_low_mm[where]
    gap = np.isnan(rain) | np.isnan(above.et_mm[where])

    def account(fell: Array, use: Array, start_mm: float, *, when_due: bool) -> soil.SoilRun:
        again = restarts.copy()
        again[0] = start_mm == 0.0
        return soil.balance(
            fell,
            use,
            taw_mm=taw_mm,
            raw_mm=raw_mm,
            start_mm=start_mm,
            water_when_due=when_due,
            restarts=again,
        )

    watered = bed.watered_from != RAIN
    unwatered = account(dry_rain, dry_use, float(taw_mm[0]) if midway else 0.0, when_due=False)
    due = account(dry_rain, dry_use, 0.0, when_due=True) if watered else unwatered
    wet = unwatered
    if not watered and (midway or gap.any()):
        wet = account(wet_rain, wet_use, 0.0, when_due=False)
    unsure = _unsure(gap, unwatered.depletion_mm, restarts, at_first=midway)
    # after a gap nobody knows when a watered bed was due, so it may stand at field capacity on any day
    low = np.where(unsure, 0.0, due.depletion_mm) if watered else wet.depletion_mm.copy()
    # what a bed asks for in the morning follows from the evening before
    unsure_ask = np.concatenate([[midway], unsure[:-1]])
    unsure_ask[1:] &= ~restarts[1:]
    asked_l = due.irrigation_mm * run.area_m2
    # the largest single watering
    lag_l = float(raw_mm.max() + dry_use.max()) * run.area_m2 if watered else 0.0
    closure_mm = max(story.closure_error_mm() for story in (unwatered, due, wet))
    high = unwatered.depletion_mm.copy()
    if bed.last_watered == on and run.growing[-1]:
        low[-1] = high[-1] = 0.0
    known_since = None
    if run.growing[-1] and not unsure[-1]:
        last_unsure = np.flatnonzero(unsure)
        known_since = (dates[last_unsure[-1] + 1] if len(last_unsure) else dates[0]).astype(date)
    return replace(
        run,
        depletion_low_mm=_laid(low, where, run.depletion_low_mm),
        depletion_high_mm=_laid(high, where, run.depletion_high_mm),
        demand_l=_laid(asked_l, where, run.demand_l),
        demand_low_l=_laid(np.where(unsure_ask, 0.0, asked_l), where, run.demand_l),
        demand_high_l=_laid(
            np.where(unsure_ask & watered, dry_use * run.area_m2, asked_l), where, run.demand_l
        ),
        demand_lag_l=_laid(np.where(unsure_ask, lag_l, 0.0), where, run.demand_l),
        known_since=known_since,
        closure_mm=closure_mm,
    )


def _unsure(gap: Flags, driest_mm: Array, restarts: Flags, *, at_first: bool) -> Flags:
    """Days on which an earlier gap still matters: until rain fills even the driest story, or a restart."""
    if not at_first and not gap.any():
        return gap
    out = []
    unsure = at_first
    begins = restarts.tolist()
    begins[0] = begins[0] and not at_first
    for missing, depletion, restart in zip(gap.tolist(), driest_mm.tolist(), begins, strict=True):
        if restart:
            unsure = False
        if missing:
            unsure = True
        elif depletion == 0.0:
            unsure = False
        out.append(unsure)
    return np.array(out)


def _laid(values: Array, where: NDArray[np.int64], onto: Array) -> Array:
    out = onto.copy()
    out[where] = values
    return out
