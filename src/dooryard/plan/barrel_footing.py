"""How safely a barrel stands, for the water report: half full, on sinking ground, in the wind, on its blocks."""

from __future__ import annotations

from math import atan, degrees

from dooryard.figure import Input
from dooryard.plan.barrel_stand import empty_mass, ways
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.problem import InputError
from dooryard.water.block_stand import Block, of_blocks
from dooryard.water.stand import (
    ALONE,
    lean_to_tip,
    settlement_lean,
    settlement_to_tip,
    weight,
    wind_to_slide,
    wind_to_tip,
)
from dooryard.water.tie_down import strap_pull
from dooryard.yard.model import Storage

# Pavers and joints make up for so much between courses of block and a height measured on the spot [m].
_SAME_HEIGHT_M = 0.03


def sentences(draft: Draft, storage: Storage) -> list[str]:
    """Half full and leaning, wind and strap, blocks and ground, children; with measures missing only children."""
    empty_kg, _ = empty_mass(draft, storage)
    if storage.height_m is None or storage.diameter_m is None:
        return _children(draft, storage, empty_kg)
    return [
        *_half(draft, storage, empty_kg),
        _wind(draft, storage, empty_kg),
        *_blocks(draft, storage),
        *_children(draft, storage, empty_kg),
    ]


def _half(draft: Draft, storage: Storage, empty_kg: float) -> list[str]:
    """Push and lean half full, where the water can run to the low side, and the lean of a sinking side."""
    key = f"storage.{slug(storage.name)}"
    half = ways(storage, storage.volume_l / 2, empty_kg)
    full = ways(storage, storage.volume_l, empty_kg)
    easy = min(half, key=lambda way: way.push_n)
    push = draft.book.quantity(
        f"{key}.push-half",
        f"push at the rim that starts to tip the {storage.name}, half full",
        easy.push_n / float(weight(1.0)),
        "mass",
        "water.tipping_push",
        about=True,
        inputs=(
            draft.book.input("weight of barrel and water", easy.mass_kg, "mass"),
            draft.book.input("width it turns on", easy.base_m, "length", "the yard file"),
        ),
    )
    over = min(half, key=lambda way: way.lean_deg)
    # To the rim under a lid the water cannot run to one side.
    rigid = min(full, key=lambda way: float(lean_to_tip(way.base_m, way.centre_m)))
    leans = {
        "half": (over, over.shift_m, "half full, its water free to run"),
        "full": (rigid, 0.0, "brim full"),
    }
    marks = [
        draft.book.quantity(
            f"{key}.lean-{state}",
            f"lean at which the {storage.name} goes over by itself, {words}",
            float(lean_to_tip(way.base_m, way.centre_m, shift_m)),
            "angle",
            "water.lean_to_tip",
            about=True,
            inputs=(
                draft.book.input("height of the centre", way.centre_m, "length"),
                draft.book.input("more for water that runs to the low side", shift_m, "length"),
                draft.book.input("width it turns on", way.base_m, "length", "the yard file"),
            ),
        )
        for state, (way, shift_m, words) in leans.items()
    ]
    sinks_m = min(
        float(settlement_to_tip(way.base_m, way.centre_m, shift_m)) / way.base_m
        for way, shift_m, _ in leans.values()
    )
    return [
        f"Half full, a push of {push} starts to tip it, and it goes over by itself at a lean of {marks[0]}, because "
        f"the water runs to the low side; brim full at {marks[1]}. {_sinking(draft, storage, key, sinks_m)}"
    ]


def _sinking(draft: Draft, storage: Storage, key: str, slope: float) -> str:
    """The lean from a side that sinks a little, and the sinking that makes the slope at which it goes over."""
    told = draft.knowledge.fact("stand.settling_told")
    narrow = min(storage.stand_base_m) if storage.stand_base_m is not None else (storage.diameter_m or 0.0)
    leans = draft.book.quantity(
        f"{key}.settling",
        f"lean of the {storage.name} when one side sinks {draft.book.show(told.value, 'length')}",
        float(settlement_lean(told.value, narrow)),
        "angle",
        "water.settlement",
        inputs=(
            draft.book.input("sinks on one side", told.value, "length", told.source),
            draft.book.input("narrow side of the base", narrow, "length", "the yard file"),
        ),
    )
    sinks = draft.book.quantity(
        f"{key}.settling-to-tip",
        f"sinking of one side at which the {storage.name} goes over",
        slope * narrow,
        "length",
        "water.settlement",
        about=True,
        inputs=(
            draft.book.input("lean at which it goes over", degrees(atan(slope)), "angle"),
            draft.book.input("narrow side of the base", narrow, "length", "the yard file"),
        ),
    )
    return (
        f"One side of the base that sinks {draft.book.show(told.value, 'length')} leans it {leans}, "
        f"and {sinks} tips it over. Set it right long before that."
    )


def _wind(draft: Draft, storage: Storage, empty_kg: float) -> str:
    """The wind that moves it empty, and the pull on a strap in a severe thunderstorm."""
    height_m, diameter_m = storage.height_m or 0.0, storage.diameter_m or 0.0
    key = f"storage.{slug(storage.name)}"
    shape = draft.knowledge.fact("wind.drum_drag")
    rubbing, air = draft.knowledge.fact("wind.ground_friction"), draft.fact("wind.air_density")
    face_m2 = height_m * diameter_m
    drags = (shape.high or shape.value, shape.value, shape.low or shape.value)
    tips = [wind_to_tip(empty_kg, diameter_m, height_m, face_m2, one, air) for one in drags]
    slides = [wind_to_slide(empty_kg, face_m2, rubbing.value, one, air) for one in drags]
    inputs = (
        draft.book.input("empty", empty_kg, "mass"),
        draft.book.input("height", height_m, "length", "the yard file"),
        draft.book.input("width", diameter_m, "length", "the yard file"),
        Input("drag coefficient", f"{shape.value:g} ({shape.low:g} to {shape.high:g})", shape.source),
        Input("friction of its bottom", f"{rubbing.value:g}", rubbing.source),
    )
    marks = [
        draft.book.quantity(
            f"{key}.wind-{what}",
            f"wind that {what} the empty {storage.name}",
            speeds[1],
            "speed",
            "water.wind",
            low=speeds[0],
            high=speeds[2],
            inputs=inputs,
        )
        for what, speeds in (("slides", slides), ("tips", tips))
    ]
    gust, share = draft.knowledge.fact("wind.storm_gust"), draft.knowledge.fact("stand.strap_share")
    pulls = [
        float(
            strap_pull(
                gust.value,
                mass_kg=empty_kg,
                base_m=diameter_m,
                height_m=height_m,
                strap_height_m=share.value * height_m,
                friction=rubbing.value,
                drag_coefficient=one,
                air_density_kg_m3=air,
            )
        )
        / float(weight(1.0))
        for one in reversed(drags)
    ]
    strap = draft.book.quantity(
        f"{key}.strap",
        f"pull on a strap that holds the empty {storage.name} in the gust of a severe thunderstorm",
        pulls[1],
        "mass",
        "water.tie_down",
        low=pulls[0],
        high=pulls[2],
        inputs=(
            draft.book.input("gust", gust.value, "speed", gust.source),
            draft.book.input("height of the strap", share.value * height_m, "length", share.source),
            *inputs,
        ),
    )
    draft.caution("water.empty_barrel", "water.tipping")
    return (
        f"Empty, it slides in a wind of {marks[0]} and tips at {marks[1]}; from a stand it falls. A strap around "
        f"its upper third has to hold {strap} in the gust of a severe thunderstorm. Fix it to framing or masonry, "
        "never to a gutter, downspout or siding."
    )


def _blocks(draft: Draft, storage: Storage) -> list[str]:
    """How the stand comes out in whole blocks; nothing without a stand."""
    if not storage.stand_height_m or storage.stand_base_m is None:
        return []
    facts = {name: draft.knowledge.fact(f"block.{name}") for name in ("length", "width", "height", "mass")}
    block = Block(*(facts[name].value for name in ("length", "width", "height", "mass")))
    try:
        stand = of_blocks(storage.stand_height_m, storage.stand_base_m, block)
    except InputError:
        return ["Its base is smaller than one concrete block: too narrow to stand on."]
    draft.caution("water.block_stand")
    key = f"storage.{slug(storage.name)}"
    sides = [draft.book.show(facts[name].value, "length") for name in ("width", "height", "length")]
    size = f"{sides[0].partition(' ')[0]} by {sides[1].partition(' ')[0]} by {sides[2]}"
    count = draft.book.plain(
        f"{key}.blocks",
        f"blocks in the stand of the {storage.name}",
        stand.blocks,
        f"{stand.blocks} blocks",
        "water.block_stand",
        inputs=(
            draft.book.input("height wanted", storage.stand_height_m, "length", "the yard file"),
            Input("one block", size, facts["length"].source),
            Input("courses, and blocks in each", f"{stand.courses} of {stand.per_course}"),
        ),
    )
    high = draft.book.quantity(
        f"{key}.block-height",
        f"height of {stand.courses} courses of block",
        stand.height_m,
        "length",
        "water.block_stand",
        inputs=(Input("courses", f"{stand.courses}"),),
    )
    heavy = draft.book.quantity(
        f"{key}.block-mass",
        f"weight of the blocks under the {storage.name}",
        stand.mass_kg,
        "mass",
        "water.block_stand",
        about=True,
        inputs=(draft.book.input("one block", facts["mass"].value, "mass", facts["mass"].source),),
    )
    said = (
        f"In concrete block of {size} its stand is {count}, {stand.per_course} in each course, {high} high and "
        f"{heavy} heavy, with a solid paver on top. Lay each course across the joints of the one below."
    )
    off_m = stand.height_m - storage.stand_height_m
    if abs(off_m) <= _SAME_HEIGHT_M:
        return [said]
    off, given = (draft.book.show(length, "length") for length in (abs(off_m), storage.stand_height_m))
    side = "higher" if off_m > 0.0 else "lower"
    return [
        f"{said} That is {off} {side} than the {given} of the yard file, so pressure and reach come out "
        f"{'more' if off_m > 0.0 else 'less'} than this report says: write the height it gets."
    ]


def _children(draft: Draft, storage: Storage, empty_kg: float) -> list[str]:
    """A word about children if a child can tip it empty."""
    if not draft.yard.household.children:
        return []
    draft.caution("water.children")
    pushes = [way.push_n for way in ways(storage, 0.0, empty_kg) if way.mode == ALONE]
    if not pushes:
        return [
            "Its height and width are not in the yard file, so nobody can say how easily a child pulls it over: tie it "
            "down. Keep a lid on it that a child cannot lift, and nothing beside it to climb on."
        ]
    least = min(pushes)
    if least >= draft.fact("stand.child_push"):
        return ["Keep a lid on it that a child cannot lift, and nothing beside it to climb on."]
    return [
        "A small child can pull it over when it is empty: tie it down. Keep a lid on it that a child cannot lift, and "
        "nothing beside it to climb on."
    ]
