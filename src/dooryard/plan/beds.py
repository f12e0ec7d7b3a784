"""Each bed in the plan: what its soil holds, when it is next due, how much, and whether the barrel can give it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from dooryard.figure import Input
from dooryard.plan import roofs
from dooryard.plan.document import Refusal, Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.ribbon import ribbon
from dooryard.plan.storages import pool_words, usable_l
from dooryard.plan.task import Task
from dooryard.water.beds import BedRun
from dooryard.water.evapotranspiration import day_of_year, from_temperature
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.watering import NextWatering, next_watering
from dooryard.weather.record import Floats
from dooryard.words import dates_words, day_words
from dooryard.yard.model import RAIN, TAP, Bed

AHEAD_DAYS = 60
RIBBON_DAYS = 75
LITTLE_LEFT = 0.98


@dataclass(frozen=True)
class _Case:
    """One growing bed: its run, what is missing from its soil this morning [mm], and when it is next due."""

    bed: Bed
    run: BedRun
    low_mm: float
    high_mm: float
    use_mm: float
    due: NextWatering

    @property
    def key(self) -> str:
        return f"bed.{slug(self.bed.name)}"


def describe(draft: Draft, run: YardRun) -> None:
    """Add a stop, a drawing and a watering task for every bed."""
    et_mm = _reference_ahead(draft, run)
    for bed in draft.yard.beds:
        bed_run = run.bed(bed.name)
        crop = draft.knowledge.crops[bed.grows]
        head = f"{crop.name[:1].upper()}{crop.name[1:]} in {draft.knowledge.soils[bed.soil].name}."
        low, high = float(bed_run.depletion_low_mm[-1]), float(bed_run.depletion_high_mm[-1])
        if np.isnan(low) or np.isnan(high):
            _not_known(draft, bed, bed_run, head)
            continue
        factor = bed_run.factor_on(draft.outlook.dates[:AHEAD_DAYS])
        crop_et_mm = et_mm * factor
        due = next_watering(
            [low, high],
            dates=draft.outlook.dates[:AHEAD_DAYS],
            rain_mm=draft.outlook.rain_mm[:, :AHEAD_DAYS],
            crop_et_mm=crop_et_mm,
            taw_mm=bed_run.taw_mm,
            raw_mm=bed_run.raw_mm,
            area_m2=bed.area_m2,
        )
        use_mm = float(np.nanmean(crop_et_mm[:, :7])) if crop_et_mm.size else float("nan")
        _growing(draft, run, _Case(bed, bed_run, low, high, use_mm, due), head)


def _reference_ahead(draft: Draft, run: YardRun) -> Floats:
    """Reference evapotranspiration of the days ahead (members, days) [mm/d], from temperatures alone."""
    days = day_of_year(draft.outlook.dates[:AHEAD_DAYS]).astype(np.float64)
    ahead = from_temperature(
        days,
        draft.outlook.t_min_c[:, :AHEAD_DAYS],
        draft.outlook.t_max_c[:, :AHEAD_DAYS],
        latitude=run.reference.latitude,
        elevation_m=run.reference.elevation_m,
    )
    return np.asarray(ahead, dtype=np.float64)


def _not_known(draft: Draft, bed: Bed, run: BedRun, head: str) -> None:
    if not run.growing[-1]:
        said = "Nothing is taken to grow in it on this day."
    else:
        said = "The weather record does not allow us to say how dry it is."
        draft.refusals.append(
            Refusal(
                f"We will not say when the {bed.name} needs water",
                run.notes[-1] if run.notes else "The record has no temperatures",
                "Feel the soil a finger deep: water if it is dry there",
            )
        )
    draft.walk.append(Stop("bed", slug(bed.name), bed.name, (f"{head} {said}", *run.notes)))


def _growing(draft: Draft, run: YardRun, case: _Case, head: str) -> None:
    sentences = [head, _store_words(draft, run, case)]
    if case.bed.watered_from == RAIN:
        sentences.append("It has rain alone, so no watering is planned.")
        if case.high_mm > case.run.raw_mm:
            sentences.append("It is dry enough for plants to feel it.")
    else:
        sentences += _watering(draft, run, case)
    draft.charts.append(
        ribbon(
            draft,
            chart_id=f"{slug(case.bed.name)}.ribbon",
            title=f"Rain and the water left for roots in the {case.bed.name}",
            words="Rain hangs from the top. The water that roots can still reach rises from the bottom; the hatched "
            "part lies between a bed watered whenever it was due and one that had rain alone.",
            low=[case.run.taw_mm - float(value) for value in case.run.depletion_high_mm[-RIBBON_DAYS:]],
            high=[case.run.taw_mm - float(value) for value in case.run.depletion_low_mm[-RIBBON_DAYS:]],
            dimension="depth",
            capacity=case.run.taw_mm,
            level_name="water left for roots",
            lines=(("water from here", case.run.taw_mm - case.run.raw_mm),),
        )
    )
    draft.walk.append(
        Stop(
            "bed",
            slug(case.bed.name),
            case.bed.name,
            tuple(sentences),
            charts=(f"{slug(case.bed.name)}.ribbon",),
        )
    )


def _store_words(draft: Draft, run: YardRun, case: _Case) -> str:
    """What the soil still holds, and how fast it goes."""
    soil = draft.knowledge.soils[case.bed.soil]
    crop = draft.knowledge.crops[case.bed.grows]
    held = (
        draft.book.input("full root zone holds", case.run.taw_mm, "depth", soil.source),
        draft.book.input("roots use without stress", case.run.raw_mm, "depth", crop.source),
        Input("last watered", _last_watered(case.bed)),
        *(Input("assumed", note) for note in case.run.notes),
    )
    left = draft.book.quantity(
        f"{case.key}.left",
        f"water left for roots in the {case.bed.name} this morning",
        case.run.taw_mm - (case.low_mm + case.high_mm) / 2,
        "depth",
        "water.soil_balance",
        low=case.run.taw_mm - case.high_mm,
        high=case.run.taw_mm - case.low_mm,
        about=True,
        inputs=held,
        note="Low end: rain alone since the last watering known. High end: watered each time it was due.",
    )
    full = draft.book.quantity(
        f"{case.key}.full",
        f"water the full root zone of the {case.bed.name} holds for plants",
        case.run.taw_mm,
        "depth",
        "water.soil_balance",
        inputs=held[:1],
    )
    if np.isnan(case.use_mm):
        return f"Its soil has {left} of water left of the {full} it can hold for roots."
    use = draft.book.quantity(
        f"{case.key}.use",
        f"water the {case.bed.name} uses in a day of the coming week",
        case.use_mm,
        "depth",
        "water.crop_factor",
        inputs=(
            Input(
                "crop factor on this day",
                f"{float(case.run.factor_on(draft.outlook.dates[:1])[0]):.2f}",
                crop.source,
            ),
            Input("reference evapotranspiration", run.reference.method, "W-FAO56"),
            *(Input("assumed", assumed) for assumed in run.reference.assumptions),
        ),
    )
    return f"Its soil has {left} of water left of the {full} it can hold for roots, and uses {use} a day."


def _last_watered(bed: Bed) -> str:
    return "not written down" if bed.last_watered is None else day_words(bed.last_watered)


def _watering(draft: Draft, run: YardRun, case: _Case) -> list[str]:
    """When it is due and how much; adds the task if that falls into the near plan."""
    due = case.due
    if due.earliest is None or due.likely is None or due.due_l is None:
        return [
            "In most years of this record rain keeps it moist for the coming weeks. Feel the soil now and then."
        ]
    amount = draft.book.quantity(
        f"{case.key}.amount",
        f"water that fills the root zone of the {case.bed.name} when it is due",
        due.due_l,
        "volume",
        "water.next_watering",
        about=True,
        inputs=(
            draft.book.input("area", case.bed.area_m2, "area", "the yard file"),
            draft.book.input("missing when due, at least", case.run.raw_mm, "depth"),
        ),
        note="In most soils half of it one day and half the next soaks in better than all at once.",
    )
    latest = due.latest or (draft.on + timedelta(days=AHEAD_DAYS))
    when = draft.book.plain(
        f"{case.key}.due",
        f"day the {case.bed.name} is due for water",
        due.likely.isoformat(),
        dates_words(due.earliest, due.likely, due.latest),
        "water.next_watering",
        unit="date",
        low=due.earliest.isoformat(),
        high=latest.isoformat(),
        inputs=(
            Input("years of this station played on from today", f"{len(draft.outlook.years)}"),
            Input("days of forecast used first", f"{draft.outlook.forecast_days}"),
        ),
        note="One year in ten is due by the first day, half by the likely day, nine in ten by the last.",
    )
    source = _source(draft, run, case)
    if due.likely <= draft.last_day:
        draft.headline(2, f"The {case.bed.name} is due for {amount} of water {when}.")
        _task(draft, case, due.earliest, due.likely, latest, amount, when, source)
    again = (
        f" After that it would be due about every {case.run.raw_mm / case.use_mm:.0f} days without rain."
        if case.use_mm > 0
        else ""
    )
    return [f"It is due {when}, with {amount}.{again}", source]


def _task(
    draft: Draft,
    case: _Case,
    earliest: date,
    likely: date,
    latest: date,
    amount: str,
    when: str,
    source: str,
) -> None:
    bed = case.bed
    cautions: tuple[str, ...] = ()
    if bed.watered_from not in (RAIN, TAP) and _edible(draft, bed):
        cautions = draft.caution("water.edibles")
    cans = ""
    if bed.how == "can":
        can = draft.knowledge.fact("can.volume" if draft.yard.units == "us" else "can.volume_metric")
        count = (case.due.due_l or 0.0) / can.value
        size = draft.book.show(can.value, "volume")
        mark = draft.book.plain(
            f"{case.key}.cans",
            f"cans of {size} for the {bed.name}",
            count,
            f"{max(1, round(count))} cans of {size}",
            "plan.sum",
            inputs=(draft.book.input("one can", can.value, "volume", can.source),),
            exact=f"{count:.1f}",
        )
        cans = f" That is {mark}."
    draft.tasks.append(
        Task(
            id=f"{case.key}.water",
            verb="Do",
            place=bed.name,
            kind="water",
            what=f"Feel the soil of the {bed.name} a finger deep. If it is dry there, give it {amount}.{cans} {source}",
            from_=max(earliest, draft.on),
            to=min(latest, draft.last_day),
            best=max(likely, draft.on),
            why=f"It has [[{case.key}.left]] of water left for roots and is due {when}. Good rain before then "
            "puts it off.",
            cautions=cautions,
            if_missed="Plants wilt by afternoon and stop growing; water the same evening.",
        )
    )


def _edible(draft: Draft, bed: Bed) -> bool:
    return draft.knowledge.crops[bed.grows].kind in ("vegetable", "fruit")


def _source(draft: Draft, run: YardRun, case: _Case) -> str:
    """Where the water comes from: the barrel if it can and may, else the tap."""
    bed = case.bed
    if bed.watered_from == TAP:
        return "Take it from the tap."
    pool = run.pool_of(bed.watered_from)
    if _edible(draft, bed):
        reasons = [roofs.unfit_for_food(draft, roof) for roof in draft.yard.roofs if roof.name in pool.roofs]
        reason = next((text for text in reasons if text), "")
        if reason:
            draft.refusals.append(
                Refusal(
                    f"We will not send water from {pool_words(pool)} to the {bed.name}",
                    reason,
                    "Use the tap there, and the barrel on flowers and shrubs. Ask your Extension office for its rule",
                )
            )
            return f"Take it from the tap: water from {pool_words(pool)} should stay off food plants."
    return _barrel_words(draft, pool, case)


def _barrel_words(draft: Draft, pool: PoolRun, case: _Case) -> str:
    low, high = usable_l(pool)
    wanted = case.due.due_l or 0.0
    name = pool_words(pool)
    mark = draft.book.quantity(
        f"storage.{slug(pool.storages[0])}.usable",
        f"water {name} can give this morning",
        (low + high) / 2,
        "volume",
        "water.level_bracket",
        low=low,
        high=high,
        about=True,
        inputs=(draft.book.input("below the outlet", pool.dead_l, "volume", "the yard file"),),
    )
    if low >= wanted * LITTLE_LEFT:
        return f"It can come from {name}, which can give {mark} this morning."
    if high <= 0:
        return f"Take it from the tap: {name} can give nothing this morning."
    if high < wanted * LITTLE_LEFT:
        return f"Of that {name} can give {mark} this morning; take the rest from the tap."
    return f"Perhaps it can come from {name}: it can give {mark} this morning. Take the rest from the tap."
