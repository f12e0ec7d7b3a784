"""The figures of a storm at one barrel: rain, water that comes, room, what to let out, time, what still runs over."""

from __future__ import annotations

from typing import NamedTuple

from dooryard.figure import Input
from dooryard.plan.barrel_outlet import hours_words
from dooryard.plan.draft import Draft
from dooryard.plan.figures import join_range, plain_number
from dooryard.plan.storages import pool_words
from dooryard.plan.storm_case import Case, Storm
from dooryard.units import Dimension
from dooryard.water.hose import hose_flow, run_down_time
from dooryard.water.outlet import discharge_coefficient, drain_time
from dooryard.words import day_words, range_words

# Through a hose the last of the head takes for ever; the time is told to this head over its end [m].
_LAST_HEAD_M = 0.01
NO_ROOM_L = 2.0
"""Below this a storage is called full, and an amount nothing [L]."""


class Marks(NamedTuple):
    """Marks of one case. Texts, not figures, where a measure is missing: `time` and `hose_time` may be empty."""

    rain: str
    comes: str
    room: str
    let_out: str
    kept: str
    spilled: str
    held: str
    share: str
    time: str
    hose_time: str


def rain_mark(draft: Draft, storm: Storm) -> str:
    """The mark of the spell's rain: "2.1 in (1.2 to 3)"."""
    likely, low, high = storm.total_mm
    return draft.book.plain(
        "forecast.rain",
        f"rain forecast for {spell_words(storm)}",
        likely,
        likely_words(draft, likely, low, high, "depth"),
        "forecast.file",
        unit="mm",
        exact=draft.book.exact(likely, "depth"),
        low=low,
        high=high,
        inputs=tuple(
            draft.book.input(day_words(day), float(storm.depth_mm[0, index]), "depth", "the forecast file")
            for index, day in enumerate(storm.days)
            if index >= storm.spell.first
        ),
    )


def spell_words(storm: Storm) -> str:
    """The days of the spell: "3 June", "3 to 5 June"."""
    return range_words(storm.first, storm.last)


def marks(draft: Draft, case: Case) -> Marks:
    """Enter all figures of a case and give their marks."""
    name, key, told = pool_words(case.pool), case.key, case.drill
    came = (draft.book.input("comes, most likely", case.comes_l[0], "volume"),)
    room = sum(case.room_l) / 2
    let_out = draft.book.quantity(
        f"{key}.drain",
        f"water to let out of {name} before the storm",
        told.let_out_l,
        "volume",
        "water.drawdown",
        about=True,
        inputs=(
            draft.book.input("room without it", room, "volume"),
            draft.book.input("above the outlet", _usable_l(case), "volume"),
            *came,
        ),
    )
    return Marks(
        rain=rain_mark(draft, case.storm),
        comes=_ranged(
            draft,
            case,
            "storm",
            f"water that rain sends to {name}",
            case.comes_l,
            "water.storm_inflow",
            _roof(draft, case),
        ),
        room=draft.book.quantity(
            f"{key}.room",
            f"room in {name} when the storm begins",
            room,
            "volume",
            "water.level_bracket",
            low=case.room_l[0],
            high=case.room_l[1],
            inputs=(draft.book.input("holds up to the overflow", case.full_l, "volume", "the yard file"),),
        ),
        let_out=let_out,
        kept=_ranged(
            draft,
            case,
            "spill-kept",
            f"water that runs over from {name} if nothing is let out",
            case.spilled_kept_l,
            "water.storm_play",
            came,
        ),
        spilled=_ranged(
            draft,
            case,
            "spill",
            f"water that still runs over from {name}",
            case.spilled_done_l,
            "water.storm_play",
            (draft.book.input("let out before", told.let_out_l, "volume"), *came),
        ),
        held=draft.book.quantity(
            f"{key}.held",
            f"water that letting out keeps from running over at {name}",
            told.held_l,
            "volume",
            "water.storm_share",
            about=True,
            inputs=(draft.book.input("let out before", told.let_out_l, "volume"), *came),
        ),
        share=_share(draft, case),
        time=_time(draft, case),
        hose_time=_hose_time(draft, case),
    )


def likely_words(draft: Draft, likely: float, low: float, high: float, dimension: Dimension) -> str:
    """The likely value and its range behind it: "690 gal (394 to 986)"; one value if all round to it."""
    shown = draft.book.range_words(low, high, dimension)
    single = draft.book.show(likely, dimension)
    if shown == single:
        return shown
    return f"{single} ({shown.removesuffix(single[single.index(' ') :])})"


def _ranged(
    draft: Draft,
    case: Case,
    part: str,
    name: str,
    ends: tuple[float, float, float],
    method: str,
    inputs: tuple[Input, ...],
) -> str:
    """A volume with its low and high end, and the likely one named."""
    likely, low, high = ends
    return draft.book.plain(
        f"{case.key}.{part}",
        name,
        likely,
        likely_words(draft, likely, low, high, "volume"),
        method,
        unit="L",
        exact=draft.book.exact(likely, "volume"),
        low=low,
        high=high,
        inputs=inputs,
    )


def _roof(draft: Draft, case: Case) -> tuple[Input, ...]:
    coverings = [draft.knowledge.coverings[draft.yard.roof(name).covering] for name in case.pool.roofs]
    return (
        draft.book.input("roof area", case.pool.area_m2, "area", "the yard file"),
        *(
            Input(f"share that runs off, {covering.name}", f"{covering.coefficient:g}", covering.source)
            for covering in dict.fromkeys(coverings)
        ),
        draft.book.input("rain, most likely", case.storm.total_mm[0], "depth", "the forecast file"),
    )


def _usable_l(case: Case) -> float:
    """What stands above the outlet when the spell begins, if nothing was let out [L]."""
    return max(float(case.drill.kept.before_l[case.storm.spell.first]) - case.pool.dead_l, 0.0)


def _share(draft: Draft, case: Case) -> str:
    """The part of the storm's water that letting out keeps, over the forecast's range."""
    kept, done, comes = case.spilled_kept_l, case.spilled_done_l, case.comes_l
    shares = [
        (one - two) / all_of if all_of > 0.0 else 0.0
        for one, two, all_of in zip(kept, done, comes, strict=True)
    ]
    low, high = min(shares), max(shares)
    words = f"{shares[0] * 100:.0f} % ({low * 100:.0f} to {high * 100:.0f})"
    if f"{low * 100:.0f}" == f"{high * 100:.0f}":
        words = f"{shares[0] * 100:.0f} %"
    return draft.book.plain(
        f"{case.key}.held-share",
        f"share of the storm's water that letting out keeps at {pool_words(case.pool)}",
        shares[0],
        words,
        "water.storm_share",
        exact=plain_number(shares[0]),
        low=low,
        high=high,
        inputs=(
            draft.book.input("runs over if nothing is let out", kept[0], "volume"),
            draft.book.input("still runs over", done[0], "volume"),
            draft.book.input("comes", comes[0], "volume"),
        ),
    )


class _Fall(NamedTuple):
    """How the water falls at each spigot when all are open: surface [m2], heads over the spigot [m]."""

    surface_m2: float
    from_m: float
    to_m: float


def _fall(draft: Draft, case: Case) -> _Fall | None:
    """The fall of the water while it is let out; None if a measure is missing."""
    storages = [draft.yard.storage(name) for name in case.pool.storages]
    if any(storage.section_m2 is None or storage.outlet_height_m is None for storage in storages):
        return None
    section = sum(storage.section_m2 or 0.0 for storage in storages)
    from_m = _usable_l(case) / (section * 1000)
    return _Fall(section / len(storages), from_m, max(from_m - case.drill.let_out_l / (section * 1000), 0.0))


def _time(draft: Draft, case: Case) -> str:
    """How long letting that out takes through the open spigots; empty if a measure is missing."""
    fall = _fall(draft, case)
    if fall is None or case.drill.let_out_l <= 0.0:
        return ""
    bore, loss = draft.knowledge.fact("outlet.bore"), draft.knowledge.fact("outlet.loss_sum")
    hours = [
        float(drain_time(fall.surface_m2, bore.value, discharge_coefficient(factor), fall.from_m, fall.to_m))
        for factor in (loss.value, loss.low or loss.value, loss.high or loss.value)
    ]
    return draft.book.plain(
        f"{case.key}.drain-time",
        "time to let that out through the open spigot",
        hours[0],
        join_range(hours_words(min(hours)), hours_words(max(hours))),
        "water.drain_time",
        unit="h",
        exact=f"{hours[0] * 60:.1f} minutes",
        low=min(hours),
        high=max(hours),
        inputs=(
            draft.book.input("bore of the spigot, the usual one", bore.value, "length", bore.source),
            Input("losses in the spigot", f"{loss.value:g} ({loss.low:g} to {loss.high:g})", loss.source),
            draft.book.input("water above the spigot at first", fall.from_m, "length"),
            draft.book.input("water above the spigot at last", fall.to_m, "length"),
        ),
    )


def _hose_time(draft: Draft, case: Case) -> str:
    """The same through a hose that ends on the ground; empty if a height is missing."""
    fall = _fall(draft, case)
    storages = [draft.yard.storage(name) for name in case.pool.storages]
    stands = [storage.stand_height_m for storage in storages]
    if fall is None or case.drill.let_out_l <= 0.0 or any(stand is None for stand in stands):
        return ""
    spigot_m = min((one.stand_height_m or 0.0) + (one.outlet_height_m or 0.0) for one in storages)
    length, source = _hose_length(draft, case)
    bore, loss = draft.knowledge.fact("hose.bore"), draft.knowledge.fact("hose.loss_sum")
    roughness, viscosity = draft.fact("hose.roughness"), draft.fact("water.viscosity")
    heads = (spigot_m + fall.from_m, max(spigot_m + fall.to_m, _LAST_HEAD_M))
    hours = [
        run_down_time(
            fall.surface_m2,
            lambda head_m, factor=factor: hose_flow(  # type: ignore[misc]
                head_m, bore.value, length, loss_sum=factor, roughness_m=roughness, viscosity_m2_s=viscosity
            ),
            *heads,
        )
        for factor in (loss.value, loss.low or loss.value, loss.high or loss.value)
    ]
    return draft.book.plain(
        f"{case.key}.drain-hose-time",
        f"time to let that out through {draft.book.show(length, 'length')} of hose that ends on the ground",
        hours[0],
        join_range(hours_words(min(hours)), hours_words(max(hours))),
        "water.hose",
        unit="h",
        exact=f"{hours[0] * 60:.1f} minutes",
        low=min(hours),
        high=max(hours),
        inputs=(
            draft.book.input("length of the hose", length, "length", source),
            draft.book.input("bore of the hose, the usual one", bore.value, "length", bore.source),
            Input(
                "losses in spigot and fitting", f"{loss.value:g} ({loss.low:g} to {loss.high:g})", loss.source
            ),
            draft.book.input("water above its end at first", heads[0], "length"),
            draft.book.input("water above its end at last", heads[1], "length"),
        ),
    )


def _hose_length(draft: Draft, case: Case) -> tuple[float, str]:
    """The longest hose of a bed on this pool [m], else a usual one, and where it comes from."""
    hoses = [
        bed.hose_length_m
        for bed in draft.yard.beds
        if bed.watered_from in case.pool.storages and bed.hose_length_m is not None
    ]
    usual = draft.knowledge.fact("drill.hose_length")
    return (max(hoses), "the yard file") if hoses else (usual.value, usual.source)
