"""A hard rain at a barrel, for the water report: how soon it is full, how the ground falls, what the bed must hold."""

from __future__ import annotations

from dooryard.figure import Input
from dooryard.plan import bursts
from dooryard.plan.bed_store import edible
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.roofs import unfit_from
from dooryard.plan.storages import pool_words
from dooryard.plan.task import Task
from dooryard.water.network import PoolRun
from dooryard.water.rain_garden import by_volume
from dooryard.water.storm import fill_time
from dooryard.water.uphill import uphill
from dooryard.yard.model import Storage

_HOUR_MIN = 60.0


def filling(draft: Draft, pool: PoolRun) -> list[str]:
    """How soon a burst fills the pool when it stands empty; empty without a roof or without a burst."""
    burst = bursts.design(draft)
    if burst is None or pool.area_m2 <= 0.0 or burst.usual_mm_h <= 0.0:
        return []
    roofs = [draft.yard.roof(name) for name in pool.roofs]
    shares = [draft.knowledge.coverings[roof.covering] for roof in roofs]
    # The pool may get a part of each roof only; the shares are weighed by the whole roofs.
    whole_m2 = sum(roof.area_m2 for roof in roofs)
    low, high = (
        sum(roof.area_m2 * getattr(share, end) for roof, share in zip(roofs, shares, strict=True)) / whole_m2
        for end in ("low", "high")
    )
    slow, fast = (
        float(fill_time(pool.capacity_l, pool.area_m2, share, rate)) * _HOUR_MIN
        for share, rate in ((low, burst.usual_mm_h), (high, burst.rare_mm_h))
    )
    shown = [f"{minutes:.0f}" if minutes >= 1.0 else "less than 1" for minutes in (fast, slow)]
    words = shown[1] if shown[0] == shown[1] else f"{shown[0]} to {shown[1]}"
    mark = draft.book.plain(
        f"storage.{slug(pool.storages[0])}.fill-minutes",
        f"time in which a burst fills {pool_words(pool)}",
        slow,
        f"{words} minute{'' if words.endswith('1') and slow < 1.5 else 's'}",
        "water.fill_time",
        unit="min",
        exact=f"{slow:.2f} minutes in the usual burst",
        low=fast,
        high=slow,
        inputs=(
            draft.book.input("room when empty", pool.capacity_l, "volume", "the yard file"),
            draft.book.input("roof area", pool.area_m2, "area", "the yard file"),
            Input("share that runs off", f"{low:.2f} to {high:.2f}", "the covering"),
            draft.book.input("rain rate, usual", burst.usual_mm_h, "rainfall_rate"),
            draft.book.input("rain rate, rare", burst.rare_mm_h, "rainfall_rate"),
        ),
    )
    return [f"If a burst of {burst.mark} lasted, it would fill {pool_words(pool)} from empty in {mark}."]


def ground(draft: Draft, storage: Storage) -> list[str]:
    """How the ground falls from the wall, against what a building code asks; a task if too little."""
    if storage.ground_drop_m is None:
        return [
            "How the ground falls from the wall is not in the yard file: lay a long board from the wall with a "
            "level on it and measure under its far end."
        ]
    due = draft.knowledge.fact("overflow.ground_fall")
    over = draft.knowledge.fact("overflow.drop_over")
    wanted_m = due.value * over.value
    key = f"storage.{slug(storage.name)}"
    drop = draft.book.quantity(
        f"{key}.drop",
        f"fall of the ground from the wall at the {storage.name}",
        abs(storage.ground_drop_m),
        "length",
        "yard.file",
        inputs=(draft.book.input("fall", storage.ground_drop_m, "length", "the yard file"),),
    )
    asked = draft.book.quantity(
        "overflow.drop",
        "fall of the ground beside a house that a building code asks",
        wanted_m,
        "length",
        "water.ground_fall",
        inputs=(
            Input("fall", f"{due.value:.0%}", due.source),
            draft.book.input("over", over.value, "length", over.source),
        ),
    )
    if storage.ground_drop_m >= wanted_m - 1e-9:  # 6 in typed is a hair less than a twentieth of 10 ft
        return [f"The ground falls {drop} from the wall, and {asked} is asked for."]
    way = "falls only" if storage.ground_drop_m >= 0.0 else "falls towards the wall by"
    draft.tasks.append(
        Task(
            id=f"{key}.ground",
            verb="Do",
            place=storage.name,
            kind="storage",
            what=f"Carry the overflow of the {storage.name} in a pipe to where the ground falls away from the house.",
            from_=draft.on,
            to=draft.last_day,
            why=f"The ground {way} {drop} there, so water let out near the wall stays at it.",
            cautions=draft.caution("water.overflow"),
            if_missed="Water that runs over soaks in beside the footing.",
        )
    )
    return [f"The ground {way} {drop} there; {asked} is asked for."]


def hollow(draft: Draft, pool: PoolRun, storage: Storage) -> list[str]:
    """For an overflow that runs into a bed: how large a hollow would hold what an inch of rain sends over."""
    if storage.empties_to not in {bed.name for bed in draft.yard.beds}:
        return []
    bed = draft.yard.bed(storage.empties_to or "")
    rain, pond = draft.knowledge.fact("garden.rain"), draft.knowledge.fact("garden.pond")
    here = uphill(draft.yard, storage.name)
    area_m2 = pool.area_m2 + sum(roof.area_m2 for roof in here.roofs if roof.name not in pool.roofs)
    sizes = [
        by_volume(area_m2, rain.value, depth or pond.value) for depth in (pond.high, pond.value, pond.low)
    ]
    key = f"storage.{slug(storage.name)}"
    needed = draft.book.quantity(
        f"{key}.garden",
        f"hollow that holds what runs over from the {storage.name}",
        sizes[1],
        "area",
        "water.garden_volume",
        low=sizes[0],
        high=sizes[2],
        inputs=(
            draft.book.input("roof area", area_m2, "area", "the yard file"),
            draft.book.input("rain with the barrel full", rain.value, "depth", rain.source),
            draft.book.input("depth of the pond", pond.value, "depth", pond.source),
        ),
    )
    size = draft.book.quantity(
        f"bed.{slug(bed.name)}.area",
        f"area of the {bed.name}",
        bed.area_m2,
        "area",
        "yard.file",
        inputs=(draft.book.input("area", bed.area_m2, "area", "the yard file"),),
    )
    unfit = ""
    if edible(draft, bed) and unfit_from(draft, storage.name):
        draft.caution("water.roof_edible")
        unfit = " But water from this roof should stay off food plants: lead the overflow elsewhere."
    verdict = (
        "so it can take that if it lies in a hollow"
        if bed.area_m2 >= sizes[1]
        else "so a hard rain runs on beyond it"
    )
    return [
        f"With the {storage.name} full, {draft.book.show(rain.value, 'depth')} of rain runs over into the {bed.name}. "
        f"To hold that it would need a hollow of {needed}; "
        f"the bed has {size}, {verdict}.{unfit}"
    ]
