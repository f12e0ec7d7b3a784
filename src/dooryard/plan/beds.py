"""Each bed in the plan: what its soil holds, when it is next due, how much, and whether the barrel can give it."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from dooryard.figure import Input
from dooryard.plan import barrel_beds, bed_new, bed_store, roofs
from dooryard.plan.bed_store import Case
from dooryard.plan.document import Refusal, Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.storages import pool_words, usable_l
from dooryard.plan.task import Task
from dooryard.water.beds import BedRun
from dooryard.water.evapotranspiration import day_of_year, from_temperature
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.watering import next_watering
from dooryard.weather.record import Floats
from dooryard.words import dates_words
from dooryard.yard.model import RAIN, TAP, Bed

AHEAD_DAYS = 60
LITTLE_LEFT = 0.98


def describe(draft: Draft, run: YardRun) -> None:
    """Add a stop, a drawing and a watering task for every bed."""
    et_mm = _reference_ahead(draft, run)
    dates = draft.outlook.dates[:AHEAD_DAYS]
    for bed in draft.yard.beds:
        bed_run = run.bed(bed.name)
        depletion_mm = _this_morning(draft, bed_run)
        if depletion_mm is None:
            _not_known(draft, bed, bed_run)
            continue
        crop_et_mm = et_mm * bed_run.factor_on(dates)
        taw_mm, raw_mm = bed_run.taw_on(dates), bed_run.raw_on(dates)
        due = next_watering(
            depletion_mm,
            dates=dates,
            rain_mm=draft.outlook.rain_mm[:, :AHEAD_DAYS],
            crop_et_mm=crop_et_mm,
            taw_mm=taw_mm,
            raw_mm=raw_mm,
            area_m2=bed.area_m2,
        )
        low, high = depletion_mm
        day = float(bed_run.season.day(dates[:1])[0])
        _growing(draft, run, Case(bed, bed_run, day, low, high, crop_et_mm, taw_mm, raw_mm, due))


def _this_morning(draft: Draft, run: BedRun) -> tuple[float, float] | None:
    """Water missing from the root zone this morning, at least and at most [mm]; None if unknown or nothing grows."""
    if not run.season.grows_on(draft.on) or np.isnan(run.depletion_high_mm[run.growing]).any():
        return None
    if run.season.begins_on(draft.on):
        return 0.0, 0.0
    return float(run.depletion_low_mm[-1]), float(run.depletion_high_mm[-1])


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


def _not_known(draft: Draft, bed: Bed, run: BedRun) -> None:
    notes = run.notes
    if not run.season.grows_on(draft.on):
        said = "Nothing is taken to grow in it on this day."
        notes = notes[:1]  # when it grows; how does not matter yet
    else:
        said = "The weather record does not allow us to say how dry it is."
        draft.refusals.append(
            Refusal(
                f"We will not say when the {bed.name} needs water",
                run.notes[-1] if run.notes else "The record has no temperatures",
                "Feel the soil a finger deep: water if it is dry there",
            )
        )
    draft.walk.append(
        Stop("bed", slug(bed.name), bed.name, (f"{bed_store.head(draft, bed, run.season)} {said}", *notes))
    )


def _growing(draft: Draft, run: YardRun, case: Case) -> None:
    sentences = [bed_store.head(draft, case.bed, case.run.season), *bed_store.sentences(draft, run, case)]
    if case.bed.watered_from == RAIN:
        sentences.append("It has rain alone, so no watering is planned.")
        if case.high_mm > case.raw_today_mm:
            sentences.append("It is dry enough for plants to feel it.")
    else:
        sentences += _watering(draft, run, case)
    bed_new.describe(draft, case)
    draft.charts.append(bed_store.drawing(draft, case))
    draft.walk.append(
        Stop(
            "bed",
            slug(case.bed.name),
            case.bed.name,
            tuple(sentences),
            charts=(f"{slug(case.bed.name)}.ribbon",),
        )
    )


def _watering(draft: Draft, run: YardRun, case: Case) -> list[str]:
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
            draft.book.input(
                "missing when due, at least", float(case.raw_mm[_days_until(draft, due.likely)]), "depth"
            ),
        ),
        note=(
            "While roots are short give it slowly at the foot of each plant, where they are."
            if case.young(_days_until(draft, due.likely))
            else "In most soils half of it one day and half the next soaks in better than all at once."
        ),
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
    again = _again(draft, case, due.likely)
    if due.likely <= draft.last_day:
        draft.headline(2, f"Water for the {case.bed.name} is due {when}: {amount}.")
        _task(draft, case, due.earliest, due.likely, latest, amount, when, source, again)
    return [f"It is due {when}, with {amount}.{again}", source]


def _again(draft: Draft, case: Case, likely: date) -> str:
    """How soon it would be due again without rain; empty if not within the days looked ahead."""
    first = _days_until(draft, likely)
    use_mm = np.cumsum(case.use_mm()[first:])
    due = np.flatnonzero(use_mm[:-1] >= case.raw_mm[first + 1 :])  # NaN, past the season, is never due
    if not len(due):
        return ""
    days = int(due[0]) + 1
    mark = draft.book.plain(
        f"{case.key}.again",
        f"days until the {case.bed.name} is due again without rain",
        days,
        "about every day" if days == 1 else f"about every {days} days",
        "water.next_watering",
        unit="d",
        inputs=(
            draft.book.input("roots use without stress by then", float(case.raw_mm[first + days]), "depth"),
            draft.book.input("used by then, mean of the years", float(use_mm[days - 1]), "depth"),
        ),
    )
    short = " Give it at the foot of each plant while its roots are short." if case.young(first) else ""
    return f" After that it would be due {mark} without rain.{short}"


def _days_until(draft: Draft, day: date) -> int:
    return (day - draft.on).days


def _task(
    draft: Draft,
    case: Case,
    earliest: date,
    likely: date,
    latest: date,
    amount: str,
    when: str,
    source: str,
    again: str,
) -> None:
    bed = case.bed
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
            what=f"Feel the soil of the {bed.name} a finger deep. If it is dry there, give it {amount}.{cans} "
            f"{source}{again}",
            from_=max(earliest, draft.on),
            to=min(latest, draft.last_day),
            best=max(likely, draft.on),
            why=f"It has [[{case.key}.left]] of water left for roots and is due {when}. Good rain before then "
            "puts it off.",
            cautions=bed_store.cautions(draft, bed),
            if_missed="Plants wilt by afternoon and stop growing; water the same evening.",
        )
    )


def _source(draft: Draft, run: YardRun, case: Case) -> str:
    """Where the water comes from: the barrel if it can and may, else the tap."""
    bed = case.bed
    if bed.watered_from == TAP:
        return "Take it from the tap."
    pool = run.pool_of(bed.watered_from)
    if bed_store.edible(draft, bed):
        reason = roofs.unfit_from(draft, bed.watered_from)
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


def _barrel_words(draft: Draft, pool: PoolRun, case: Case) -> str:
    # What stands between the spigot and a bed that lies higher does not run there through a hose.
    stays_l = barrel_beds.unreachable_l(draft, pool, case.bed)
    low, high = (max(litres - stays_l, 0.0) for litres in usable_l(pool))
    wanted = case.due.due_l or 0.0
    name = pool_words(pool)
    mark = draft.book.quantity(
        f"{case.key}.usable" if stays_l > 0 else f"storage.{slug(pool.storages[0])}.usable",
        f"water {name} can give {f'the {case.bed.name} ' if stays_l > 0 else ''}this morning",
        (low + high) / 2,
        "volume",
        "water.level_bracket",
        low=low,
        high=high,
        about=True,
        inputs=tuple(
            draft.book.input(what, litres, "volume", "the yard file")
            for what, litres in (
                ("cannot be drawn, below the outlet", pool.dead_l),
                ("does not run there, above the outlet but not above the bed", stays_l),
            )
            if litres > 0
        ),
    )
    if low >= wanted * LITTLE_LEFT:
        return f"It can come from {name}, which can give {mark} this morning."
    if high <= 0:
        return f"Take it from the tap: {name} can give nothing this morning."
    if high < wanted * LITTLE_LEFT:
        return f"Of that {name} can give {mark} this morning; take the rest from the tap."
    return f"Perhaps it can come from {name}: it can give {mark} this morning. Take the rest from the tap."
