"""What reaches each bed from a barrel through hose, drip or soaker, for the water report, and where it stops."""

from __future__ import annotations

from dooryard.knowledge.rows import Fact
from dooryard.plan import barrel_drip, bed_store, roofs
from dooryard.plan.barrel_outlet import Heights, can, heights, pressure_mark, seconds_words
from dooryard.plan.bed_line import Line, line_hose
from dooryard.plan.document import Refusal
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.water.drip import opens, out_of_reach
from dooryard.water.network import PoolRun
from dooryard.water.outlet import fill_time, head
from dooryard.yard.model import Bed, Storage


def sentences(draft: Draft, pool: PoolRun) -> list[str]:
    """One text for each bed that is watered from the pool through a hose or line; nothing for cans."""
    said = []
    for bed in draft.yard.beds:
        if bed.watered_from not in pool.storages or bed.how == "can":
            continue
        storage = draft.yard.storage(bed.watered_from)
        known = _pool_heights(draft, pool, storage)
        if known is not None:
            said += _bed(draft, bed, storage, known)
    return said


def unreachable_l(draft: Draft, pool: PoolRun, bed: Bed) -> float:
    """Water above the spigot that does not run to a bed through its hose or line [L]; 0 for a can or if unknown."""
    if bed.how == "can":
        return 0.0
    known = _pool_heights(draft, pool, draft.yard.storage(bed.watered_from))
    if known is None:
        return 0.0
    return out_of_reach(known.section_m2, known.spigot_m, bed.height_m, known.full_m)[1]


def _pool_heights(draft: Draft, pool: PoolRun, storage: Storage) -> Heights | None:
    """Heights at a storage with the water surface of all that share its level; None if a measure is missing."""
    known = heights(storage)
    joined = [draft.yard.storage(name).section_m2 for name in pool.storages]
    if known is None or None in joined:
        return None
    return known._replace(section_m2=sum(one for one in joined if one is not None))


def _bed(draft: Draft, bed: Bed, storage: Storage, known: Heights) -> list[str]:
    first_m = float(head(known.full_m, bed.height_m))
    if first_m <= 0.0:
        draft.refusals.append(
            Refusal(
                f"We will not plan on the {bed.how} of the {bed.name}",
                f"It lies {draft.book.show(bed.height_m, 'length')} above the ground, and the water of the "
                f"{storage.name} stands {draft.book.show(known.full_m, 'length')} high at most: none runs there",
                "Carry it in a can, or use a pump on an outlet with ground-fault protection",
            )
        )
        draft.caution("water.electricity")
        return [f"No water runs from the {storage.name} to the {bed.name}: it lies higher than the water."]
    line = Line(bed, storage, known, first_m, float(head(known.spigot_m, bed.height_m)))
    draft.caution("water.backflow")
    bed_store.cautions(draft, bed)
    said = [_pressures(draft, line)]
    said += _shut(draft, line)
    if bed.how == "hose":
        said.append(_hose(draft, line))
    elif not bed.compensating:
        said += barrel_drip.sentences(draft, line)
    return [" ".join([*said, *_stops(draft, line), *_unfit(draft, bed)])]


def _unfit(draft: Draft, bed: Bed) -> list[str]:
    """That this water should not go there at all, if what grows there is eaten and a roof speaks against it."""
    if not bed_store.edible(draft, bed) or not roofs.unfit_from(draft, bed.watered_from):
        return []
    draft.caution("water.roof_edible")
    return ["But water from this roof should stay off food plants: use the tap there."]


def _pressures(draft: Draft, line: Line) -> str:
    name = line.bed.name
    full = pressure_mark(
        draft, f"{line.key}.pressure-full", f"pressure at the {name}, barrel full", line.first_m
    )
    if line.last_m <= 0.0:
        return f"At the {name} the {line.storage.name} presses with {full} when full."
    last = pressure_mark(
        draft, f"{line.key}.pressure-last", f"pressure at the {name}, barrel down to its spigot", line.last_m
    )
    return f"At the {name} the {line.storage.name} presses with {full} when full and {last} when down to its spigot."


def _shut(draft: Draft, line: Line) -> list[str]:
    """What will not open at this pressure: compensating emitters, timers and valves."""
    said = []
    for wrong, fact, what, instead in (
        (
            line.bed.compensating and line.bed.how != "hose",
            draft.knowledge.fact("drip.compensating_from"),
            "pressure-compensating emitters",
            "Use plain emitters or a tube with holes, and a filter",
        ),
        (
            line.bed.timer,
            draft.knowledge.fact("valve.opens_from"),
            "a timer, electric valve or vacuum breaker",
            "Take it out and use a plain ball valve that you open by hand",
        ),
    ):
        if not wrong or opens(line.first_m, fact.value):
            continue
        needed = _needed(draft, what, fact)
        draft.refusals.append(
            Refusal(
                f"We will not count on {what} at the {line.bed.name}",
                f"It takes {needed} and the full {line.storage.name} gives [[{line.key}.pressure-full]]",
                instead,
            )
        )
        said.append(f"With {what} little or nothing comes: they need {needed}. {instead}.")
    return said


def _needed(draft: Draft, what: str, fact: Fact) -> str:
    ranged = fact.low is not None and fact.high is not None
    mark = draft.book.quantity(
        f"line.{slug(what)}",
        f"pressure that {what} may need",
        fact.value,
        "pressure",
        "water.head",
        low=fact.low if ranged else None,
        high=fact.high if ranged else None,
        inputs=(draft.book.input("from", fact.value, "pressure", fact.source),),
    )
    return mark if ranged else f"{mark} or more"


def _hose(draft: Draft, line: Line) -> str:
    """Flow at the end of the hose, and the time to a can there."""
    if line.bed.hose_length_m is None:
        return "How long its hose is, is not in the yard file, so its flow is not known."
    hose = line_hose(draft, line.bed)
    first, last = (float(flow) for flow in hose.flow([line.first_m, line.last_m]))
    length = draft.book.show(hose.length_m, "length")
    mark = draft.book.quantity(
        f"{line.key}.hose",
        f"flow at the end of the hose to the {line.bed.name}, barrel full and down to its spigot",
        first,
        "flow",
        "water.hose",
        low=last if line.last_m > 0.0 else None,
        high=first if line.last_m > 0.0 else None,
        inputs=(draft.book.input("water above its end when full", line.first_m, "length"), *hose.inputs),
    )
    volume_l, source = can(draft)
    seconds = float(fill_time(volume_l, first))
    fills = draft.book.plain(
        f"{line.key}.hose-can",
        f"time to fill a can at the {line.bed.name}, barrel full",
        seconds,
        seconds_words(seconds),
        "water.hose",
        unit="s",
        exact=f"{seconds:.1f} seconds",
        inputs=(draft.book.input("one can", volume_l, "volume", source),),
    )
    when = ", most when it is full" if line.last_m > 0.0 else " when it is full and less and less after"
    return (
        f"Through {length} of hose it gives {mark}{when}; a {draft.book.show(volume_l, 'volume')} can takes "
        f"{fills} at first."
    )


def _stops(draft: Draft, line: Line) -> list[str]:
    """Where the water stops running to a bed that lies higher than the spigot."""
    depth_m, litres = out_of_reach(
        line.known.section_m2, line.known.spigot_m, line.bed.height_m, line.known.full_m
    )
    if litres <= 0.0:
        return []
    inputs = (
        draft.book.input("height of the bed", line.bed.height_m, "length", "the yard file"),
        draft.book.input(
            "height of the spigot above the ground", line.known.spigot_m, "length", "the yard file"
        ),
    )
    deep = draft.book.quantity(
        f"{line.key}.stops",
        f"water above the spigot at which nothing more runs to the {line.bed.name}",
        depth_m,
        "length",
        "water.bed_reach",
        inputs=inputs,
    )
    stays = draft.book.quantity(
        f"{line.key}.stays",
        f"water above the spigot that does not run to the {line.bed.name}",
        litres,
        "volume",
        "water.bed_reach",
        about=True,
        inputs=inputs,
    )
    return [
        f"The {line.bed.name} lies higher than the spigot: it gets nothing more while {deep} of water, {stays}, still "
        "stand above it. Carry that in a can."
    ]
