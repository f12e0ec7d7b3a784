"""One bed of a yard through a record: its season, its use, what is left for roots, what it asks for.

Two stories bracket what a bed went through, since nobody wrote down each watering: it was brought back to
field capacity whenever it was due, or it had rain alone since it was last watered (or since its season
began). A day without a rain record widens the bracket: on the wet side the bed was filled, on the dry side
it got nothing. What a storage spills onto the bed counts with the rain; as far as nobody knows how much it
was, it widens the bracket in the same way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.knowledge.rows import Crop
from dooryard.water import air, soil
from dooryard.water.bed_season import BedSeason, curve_of, season_of
from dooryard.water.draws import draw_days, rule_words
from dooryard.water.evapotranspiration import ReferenceET
from dooryard.water.growing_season import UsualSeason
from dooryard.water.pools import Bounds
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
    demand_l : water it is given by its rule, as a rule what brings it back to field capacity on the mornings
    it is due [L]; 0 for a bed on rain.
    demand_low_l, demand_high_l, demand_lag_l : while a gap matters nobody knows on which mornings the bed was
    due. Over any stretch of days it asked for at least the sum of the first, and at most the sum of the second
    and once the third. Otherwise the first two are `demand_l` and the third is 0 [L].
    overflow_low_l, overflow_high_l : spilled onto it by storages, at least and at most [L].
    known_since : first day from which no gap matters any more; None if one still does, or nothing grows.
    account : every flow of its soil under `demand_l` (or on rain alone), over the growing days only, whose
    indices are account_days; None if nothing grows or its use is not known. The overflow is in its rain.
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
    overflow_low_l: Array
    overflow_high_l: Array
    known_since: date | None
    account: soil.SoilRun | None
    account_days: NDArray[np.int64]
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


def run_beds(
    beds: Sequence[Bed],
    knowledge: Knowledge,
    above: Sky,
    reference: ReferenceET,
    usual: UsualSeason | None,
    on: date,
    overflow_l: Mapping[str, Bounds],
) -> tuple[BedRun, ...]:
    """Run beds through the days of `above`, which end on the eve of `on`.

    overflow_l : by the name of a bed, what storages spill onto it each day [L]; infinite where nobody knows.
    KeyError if a crop or soil is not in the tables (the yard reader has checked both).
    """
    none = Bounds(np.zeros(len(above.dates)), np.zeros(len(above.dates)))
    prepared = [
        _prepare(bed, knowledge, above, reference, usual, overflow_l.get(bed.name, none)) for bed in beds
    ]
    played = soil.play([story for one in prepared for story in one.stories])
    runs, done = [], 0
    for one, bed in zip(prepared, beds, strict=True):
        mine = played[done : done + len(one.stories)]
        done += len(mine)
        runs.append(_told(one, bed, mine, on) if mine else one.run)
    return tuple(runs)


class _Prepared(NamedTuple):
    """A bed before its stories are played: the run without them, and what tells how to read them.

    dates : growing days. stories : on rain alone; as watered, if it is; wet, if that is another one.
    """

    run: BedRun
    stories: list[soil.Story]
    dates: NDArray[np.datetime64]
    restarts: Flags
    gap: Flags
    midway: bool
    rule: _Rule | None
    dry_use_mm: Array


class _Rule(NamedTuple):
    """How a bed is watered on its growing days: on which of them somebody looks, or gives a fixed amount.

    look : mornings on which it is watered if its depletion has reached trigger_mm (None: raw). fixed_low_mm,
    fixed_high_mm : given whatever the soil holds, at least and at most; they differ by gaps in the rain.
    """

    look: Flags
    trigger_mm: float | None
    dose_mm: float | None
    fixed_low_mm: Array
    fixed_high_mm: Array
    unsure: Flags


def _prepare(
    bed: Bed,
    knowledge: Knowledge,
    above: Sky,
    reference: ReferenceET,
    usual: UsualSeason | None,
    overflow_l: Bounds,
) -> _Prepared:
    crop, ground = knowledge.crops[bed.grows], knowledge.soils[bed.soil]
    season, why = season_of(bed, crop, usual, annual=grown_days(crop, knowledge) is not None)
    day = season.day(above.dates)
    growing = ~np.isnan(day)
    curve, curve_note = _fitted_curve(crop, reference, growing)
    kc = curve.at(day)
    crop_et_mm = kc * above.et_mm
    roots = root_zone(crop, ground, crop_et_mm, season, knowledge)
    notes = [why, *_root_notes(bed, roots), *_rule_notes(bed)]
    notes += [curve_note] if curve_note else []
    empty, none = np.full(len(day), np.nan), np.zeros(len(day))
    where = np.flatnonzero(growing)
    run = BedRun(
        name=bed.name, grows=bed.grows, area_m2=bed.area_m2, watered_from=bed.watered_from, growing=growing,
        taw_mm=roots.taw_mm(day), raw_mm=roots.raw_mm(day), kc=kc, crop_et_mm=crop_et_mm, depletion_low_mm=empty,
        depletion_high_mm=empty, demand_l=none, demand_low_l=none, demand_high_l=none, demand_lag_l=none,
        overflow_low_l=overflow_l.low, overflow_high_l=overflow_l.high, known_since=None, account=None,
        account_days=where, season=season, curve=curve, roots=roots, notes=tuple(notes), closure_mm=0.0,
    )  # fmt: skip
    if np.isnan(above.et_high_mm[growing]).any():
        never = "In some months the station has never measured temperature: the need for water is not known."
        run = replace(run, notes=(*notes, never))
        return _Prepared(run, [], above.dates[where], none[:0] > 0, none[:0] > 0, False, None, none[:0])
    if not growing.any():
        return _Prepared(run, [], above.dates[where], none[:0] > 0, none[:0] > 0, False, None, none[:0])
    return _stories(run, bed, above, day)


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


def _rule_notes(bed: Bed) -> list[str]:
    """How it is watered, if the yard file says so."""
    words = rule_words(bed.watering_days, bed.watering_after_dry_days)
    if bed.watered_from == RAIN or (not words and bed.watering_l is None):
        return []
    what = "what its soil lacks" if bed.watering_l is None else "the amount in the yard file each time"
    when = words if bed.watering_days else ", ".join(part for part in ("when its soil is due", words) if part)
    return [f"It is given {what}, {when}."]


def _rule(bed: Bed, above: Sky, where: NDArray[np.int64]) -> _Rule:
    """The bed's rule on its growing days."""
    days = draw_days(above.dates, above.rain_mm, bed.watering_days, bed.watering_after_dry_days)
    surely, perhaps = days.surely[where], days.perhaps[where]
    none = np.zeros(len(where))
    dose_mm = None if bed.watering_l is None else bed.watering_l / bed.area_m2
    if bed.watering_days and dose_mm is not None:
        given = (np.where(surely, dose_mm, 0.0), np.where(perhaps, dose_mm, 0.0))
        return _Rule(none > 0.0, None, None, *given, surely != perhaps)
    trigger_mm = 0.0 if bed.watering_days else None
    return _Rule(perhaps, trigger_mm, dose_mm, none, none, surely != perhaps)


def _stories(run: BedRun, bed: Bed, above: Sky, day: Array) -> _Prepared:
    """What a bed may go through, over the growing days only."""
    where = run.account_days
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
    spilled = Bounds(run.overflow_low_l[where] / run.area_m2, run.overflow_high_l[where] / run.area_m2)
    dry_rain = np.nan_to_num(rain) + spilled.low
    unknown = np.isnan(rain) | np.isinf(spilled.high)
    wet_rain = np.where(unknown, 2 * taw_mm, rain + spilled.high)
    dry_use, wet_use = kc * above.et_high_mm[where], kc * above.et_low_mm[where]
    gap = np.isnan(rain) | np.isnan(above.et_mm[where]) | (spilled.high > spilled.low)
    rule = None if bed.watered_from == RAIN else _rule(bed, above, where)

    def story(fell: Array, use: Array, start_mm: float, rule: _Rule | None = None) -> soil.Story:
        again = restarts.copy()
        again[0] = start_mm == 0.0
        return soil.Story(
            fell,
            use,
            taw_mm,
            raw_mm,
            start_mm,
            irrigation_mm=0.0 if rule is None else rule.fixed_high_mm,
            look_days=False if rule is None else rule.look,
            trigger_mm=None if rule is None else rule.trigger_mm,
            dose_mm=None if rule is None else rule.dose_mm,
            restarts=again,
        )

    stories = [story(dry_rain, dry_use, float(taw_mm[0]) if midway else 0.0)]
    if rule is not None:
        gap |= rule.unsure
        stories.append(story(dry_rain, dry_use, 0.0, rule))
    elif midway or gap.any():
        stories.append(story(wet_rain, wet_use, 0.0))
    return _Prepared(run, stories, dates, restarts, gap, bool(midway), rule, dry_use)


def _told(one: _Prepared, bed: Bed, played: Sequence[soil.SoilRun], on: date) -> BedRun:
    """The run of a bed from its stories, laid back on the calendar."""
    run, dates, where = one.run, one.dates, one.run.account_days
    unwatered, other = played[0], played[-1]
    unsure = _unsure(one.gap, unwatered.depletion_mm, one.restarts, at_first=one.midway)
    # after a gap nobody knows when a watered bed was due, so it may stand at field capacity on any day
    low = np.where(unsure, 0.0, other.depletion_mm) if one.rule is not None else other.depletion_mm.copy()
    high = unwatered.depletion_mm.copy()
    if bed.last_watered == on and run.growing[-1]:
        low[-1] = high[-1] = 0.0
    known_since = None
    if run.growing[-1] and not unsure[-1]:
        last_unsure = np.flatnonzero(unsure)
        known_since = (dates[last_unsure[-1] + 1] if len(last_unsure) else dates[0]).astype(date)
    told = replace(
        run,
        depletion_low_mm=_laid(low, where, run.depletion_low_mm),
        depletion_high_mm=_laid(high, where, run.depletion_high_mm),
        known_since=known_since,
        account=unwatered if one.rule is None else other,
        closure_mm=max(story.closure_error_mm() for story in played),
    )
    if one.rule is None:
        return told
    asked = _asked(one, one.rule, other, unsure)
    likely, low, high, lag = (_laid(litres, where, run.demand_l) for litres in asked)
    return replace(told, demand_l=likely, demand_low_l=low, demand_high_l=high, demand_lag_l=lag)


def _asked(
    one: _Prepared, rule: _Rule, due: soil.SoilRun, unsure: Flags
) -> tuple[Array, Array, Array, Array]:
    """What a bed asked for on its growing days, as reckoned, at least, at most and once more [L]."""
    area_m2, raw_mm = one.run.area_m2, one.run.raw_mm[one.run.account_days]
    # what a bed asks for in the morning follows from the evening before
    unsure_ask = np.concatenate([[one.midway], unsure[:-1]])
    unsure_ask[1:] &= ~one.restarts[1:]
    unsure_ask = (unsure_ask | rule.unsure) & bool(rule.look.any())
    by_look_mm = due.irrigation_mm - rule.fixed_high_mm
    # looked at on some days only, or watered for any lack, it may lack more than plants use without stress
    patient = rule.trigger_mm is not None or not rule.look.all()
    most_mm = float((due.taw_mm if patient else raw_mm).max() + one.dry_use_mm.max())
    over = 1.0
    if rule.dose_mm is not None:  # a dose larger than the lack drains, and so more is asked than used
        over = max(1.0, rule.dose_mm / float(raw_mm.min()))
        most_mm = most_mm * over + rule.dose_mm
    low_mm = np.where(unsure_ask, 0.0, by_look_mm) + rule.fixed_low_mm
    high_mm = np.where(unsure_ask, one.dry_use_mm * over, by_look_mm) + rule.fixed_high_mm
    lag_mm = np.where(unsure_ask, most_mm, 0.0)
    return due.irrigation_mm * area_m2, low_mm * area_m2, high_mm * area_m2, lag_mm * area_m2


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
