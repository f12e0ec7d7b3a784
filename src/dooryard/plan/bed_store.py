"""What a bed's soil holds for its roots this morning, in words and as a drawing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dooryard.figure import Input
from dooryard.plan.document import Json
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.ribbon import ribbon
from dooryard.water.bed_season import BedSeason
from dooryard.water.beds import BedRun
from dooryard.water.network import YardRun
from dooryard.water.roots import GROWN_DAYS_FACT, PLANTING_DEPTH_FACT
from dooryard.water.watering import NextWatering
from dooryard.weather.record import Floats
from dooryard.words import day_words
from dooryard.yard.model import RAIN, TAP, Bed

RIBBON_DAYS = 75
#: Days of the coming week, over which the use in a day is averaged.
_WEEK_D = 7
#: Share of the days until grown during which plants are spoken of as young: a choice of words.
_YOUNG_SHARE = 0.5


@dataclass(frozen=True)
class Case:
    """One growing bed: its run, what is missing from its soil this morning [mm], and when it is next due.

    day : day of its season, 0 on the first. crop_et_mm : full use on the days ahead, (members, days) [mm/d].
    taw_mm, raw_mm : what its root zone holds on those days, and what roots use of it without stress; today first,
    NaN after its season [mm].
    """

    bed: Bed
    run: BedRun
    day: float
    low_mm: float
    high_mm: float
    crop_et_mm: Floats
    taw_mm: Floats
    raw_mm: Floats
    due: NextWatering

    @property
    def key(self) -> str:
        """First part of the ids of its figures."""
        return f"bed.{slug(self.bed.name)}"

    @property
    def taw_today_mm(self) -> float:
        """What the root zone holds for plants today [mm]."""
        return float(self.taw_mm[0])

    @property
    def raw_today_mm(self) -> float:
        """What roots use of it without stress today [mm]."""
        return float(self.raw_mm[0])

    @property
    def deepening(self) -> bool:
        """Whether its roots still go deeper."""
        return self.run.roots.grown_d is not None and self.day < self.run.roots.grown_d

    def young(self, days: int) -> bool:
        """Whether in so many days it is still so young that water belongs at the foot of each plant."""
        grown_d = self.run.roots.grown_d
        return grown_d is not None and self.day + days < grown_d * _YOUNG_SHARE

    def use_mm(self) -> Floats:
        """Mean use of the members on each of the days ahead; NaN after its season [mm/d]."""
        counted = np.count_nonzero(~np.isnan(self.crop_et_mm), axis=0)
        total = np.nansum(self.crop_et_mm, axis=0)
        return np.asarray(np.divide(total, counted, out=np.full(len(total), np.nan), where=counted > 0))


def edible(draft: Draft, bed: Bed) -> bool:
    """Whether what grows in the bed is eaten."""
    return draft.knowledge.crops[bed.grows].kind in ("vegetable", "fruit")


def cautions(draft: Draft, bed: Bed) -> tuple[str, ...]:
    """The caution that goes with barrel water on food plants; none for other beds."""
    if bed.watered_from in (RAIN, TAP) or not edible(draft, bed):
        return ()
    return draft.caution("water.edibles")


def head(draft: Draft, bed: Bed, season: BedSeason) -> str:
    """What grows in the bed, since when, and in what soil."""
    crop, soil = draft.knowledge.crops[bed.grows], draft.knowledge.soils[bed.soil]
    planted = ""
    if bed.planted is not None:
        this_season = draft.on.year == bed.planted.year and bed.planted <= draft.on
        if season.grows_on(draft.on) and not this_season:
            planted = f", taken as planted {day_words(bed.planted)} each year"
        elif bed.planted > draft.on:
            planted = f", to be planted {day_words(bed.planted, year=bed.planted.year != draft.on.year)}"
        else:
            planted = f", planted {day_words(bed.planted, year=bed.planted.year != draft.on.year)}"
    return f"The {bed.name} holds {crop.name}{planted}. Its soil is {soil.name}."


def sentences(draft: Draft, run: YardRun, case: Case) -> list[str]:
    """How deep its roots reach, what the soil still holds down to there, and how fast it goes."""
    soil = draft.knowledge.soils[case.bed.soil]
    crop = draft.knowledge.crops[case.bed.grows]
    roots = _roots(draft, case)
    full = draft.book.quantity(
        f"{case.key}.full",
        f"water the soil of the {case.bed.name} can hold for plants, as deep as roots reach today",
        case.taw_today_mm,
        "depth",
        "water.soil_balance",
        inputs=(
            Input(
                "part of the soil that is water for plants",
                f"{case.run.roots.held_mm_m / 10:.0f} %",
                soil.source,
            ),
            Input("depth of the roots", draft.book.show(float(case.run.roots.depth_m(case.day)), "length")),
        ),
    )
    left = draft.book.quantity(
        f"{case.key}.left",
        f"water left for roots in the {case.bed.name} this morning",
        case.taw_today_mm - (case.low_mm + case.high_mm) / 2,
        "depth",
        "water.soil_balance",
        low=case.taw_today_mm - case.high_mm,
        high=case.taw_today_mm - case.low_mm,
        about=True,
        inputs=(
            draft.book.input("full root zone holds today", case.taw_today_mm, "depth", soil.source),
            draft.book.input("roots use without stress today", case.raw_today_mm, "depth", crop.source),
            Input("last watered", _last_watered(case)),
            *(Input("assumed", note) for note in case.run.notes),
        ),
        note="Low end: rain alone since the last watering known. High end: watered each time it was due.",
    )
    held = f"Down to there the soil has {left} of water left of the {full} it can hold for them"
    week = case.use_mm()[:_WEEK_D]
    if np.isnan(week).all():
        return [roots, f"{held}."]
    return [roots, f"{held}, and the bed uses {_use(draft, run, case, float(np.nanmean(week)))} a day."]


def drawing(draft: Draft, case: Case) -> Json:
    """The ribbon of rain and of the water left for roots. Its root zone may grow through the strip."""
    days = slice(-RIBBON_DAYS, None)
    taw_mm = case.run.taw_mm[days]
    deeper = (
        " The store grows as roots go deeper; the line is drawn for today's roots." if case.deepening else ""
    )
    return ribbon(
        draft,
        chart_id=f"{slug(case.bed.name)}.ribbon",
        title=f"Rain and the water left for roots in the {case.bed.name}",
        words="Rain hangs from the top. The water that roots can still reach rises from the bottom; the hatched "
        f"part lies between a bed watered whenever it was due and one that had rain alone.{deeper}",
        low=(taw_mm - case.run.depletion_high_mm[days]).tolist(),
        high=(taw_mm - case.run.depletion_low_mm[days]).tolist(),
        dimension="depth",
        # a season that ended within the strip may have had deeper roots than today's
        capacity=float(np.nanmax(taw_mm, initial=case.taw_today_mm)),
        level_name="water left for roots",
        lines=(("water from here", case.taw_today_mm - case.raw_today_mm),),
    )


def _roots(draft: Draft, case: Case) -> str:
    """How deep its roots are taken to reach today."""
    crop, zone = draft.knowledge.crops[case.bed.grows], case.run.roots
    table = draft.book.range_words(crop.root_low_m, crop.root_high_m, "length")
    note = f"The table gives {table} for grown roots in open soil; the shallower depth is used."
    grown = Input("depth of grown roots", draft.book.show(zone.full_m, "length"), crop.source)
    if zone.grown_d is None or not case.deepening:
        reach = draft.book.quantity(
            f"{case.key}.roots",
            f"depth that the roots of the {case.bed.name} are taken to reach",
            zone.full_m,
            "length",
            "water.root_depth",
            about=True,
            inputs=(grown,),
            note=note,
        )
        return f"Its roots are taken to reach {reach} deep."
    fact = draft.knowledge.fact(PLANTING_DEPTH_FACT)
    own_days = draft.knowledge.facts.get(f"{GROWN_DAYS_FACT}{crop.key}")
    days_source = crop.source if own_days is None else own_days.source
    since = "the start of its season" if case.bed.planted is None else "planting"
    reach = draft.book.quantity(
        f"{case.key}.roots",
        f"depth that the roots of the {case.bed.name} are taken to reach today",
        float(zone.depth_m(case.day)),
        "length",
        "water.root_depth",
        about=True,
        inputs=(
            Input("depth at planting", draft.book.show(zone.start_m, "length"), fact.source),
            grown,
            Input(f"days since {since}", f"{case.day:.0f}"),
            Input(f"days from {since} until grown", f"{zone.grown_d:.0f}", days_source),
        ),
        note=note,
    )
    at_last = draft.book.quantity(
        f"{case.key}.roots_grown",
        f"depth that the grown roots of the {case.bed.name} are taken to reach",
        zone.full_m,
        "length",
        "water.root_depth",
        inputs=(grown,),
        note=note,
    )
    return f"Its roots reach {at_last} deep when grown; today they are taken to reach {reach}."


def _use(draft: Draft, run: YardRun, case: Case, use_mm: float) -> str:
    """The figure for the use of a day in the coming week."""
    return draft.book.quantity(
        f"{case.key}.use",
        f"water the {case.bed.name} uses in a day of the coming week",
        use_mm,
        "depth",
        "water.crop_factor",
        inputs=(
            Input(
                "crop factor on this day",
                f"{float(case.run.factor_on(draft.outlook.dates[:1])[0]):.2f}",
                draft.knowledge.crops[case.bed.grows].source,
            ),
            Input(
                "reference evapotranspiration by",
                draft.knowledge.methods[run.reference.method].name,
                "W-FAO56",
            ),
            *(Input("assumed", assumed) for assumed in run.reference.assumptions),
        ),
    )


def _last_watered(case: Case) -> str:
    if case.bed.last_watered is not None:
        return day_words(case.bed.last_watered)
    if case.bed.planted is not None and case.run.roots.grown_d is not None:
        return "not written down, taken as watered in on the planting day"
    return "not written down"
