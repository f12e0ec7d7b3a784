"""Measures of a barrel's build: heights over the ground line, what is missing for a drawing, amounts of parts."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from dooryard.knowledge import Knowledge
from dooryard.knowledge.build_rows import Part
from dooryard.problem import InputError, Problem
from dooryard.water.block_stand import Block, BlockStand, of_blocks
from dooryard.yard.model import Storage, Yard

_MM = 1000.0
# So little over a whole pack is a slip of rounding, not a want.
_SLIP = 1e-9


@dataclass(frozen=True, slots=True)
class Missing:
    """A measure the yard file lacks: its key, what it is in words, and what to write."""

    key: str
    what: str
    example: str


_NEEDED = (
    Missing("diameter", "its width across, outside", '"23 in" (or width, if it is not round)'),
    Missing("height", "its height, bottom to rim", '"35 in"'),
    Missing("outlet_height", "the middle of the spigot over its bottom", '"3 in"'),
    Missing("overflow_height", "the lower edge of the overflow over its bottom", '"31 in"'),
    Missing("overflow_bore", "the bore of the overflow", '"1 1/2 in"'),
    Missing("stand_height", "the height of its stand", '"16 in"'),
    Missing("stand_base", "the two sides of its stand", '"24 x 24 in"'),
)
_OVERFLOW = ("overflow_height", "overflow_bore")


@dataclass(frozen=True, slots=True)
class Measures:
    """One barrel as it is to be built; heights over the ground line [m] unless the name says otherwise.

    overflow_m : middle of the overflow hole; None for a linked barrel that spills through its neighbor.
    below_rim_m : from the rim down to that middle. cut_m : where the downspout is cut; None if none feeds it.
    spout_area_m2 : of all that feed it. is_round : a barrel; else width_m is the side seen from in front.
    stand : None for a barrel on the ground.
    """

    width_m: float
    height_m: float
    outlet_m: float
    spigot_m: float
    overflow_m: float | None
    below_rim_m: float | None
    overflow_bore_m: float | None
    stand_height_m: float
    stand_base_m: tuple[float, float]
    stand: BlockStand | None
    rim_m: float
    cut_m: float | None
    spout_width_m: float | None
    spout_area_m2: float | None
    is_round: bool
    wall_distance_m: float | None
    ground_drop_m: float | None
    linked: bool


def missing(yard: Yard, storage: Storage) -> tuple[Missing, ...]:
    """What the yard file lacks before this storage can be drawn, in the order to measure it."""
    spared = _OVERFLOW if _spills_elsewhere(yard, storage) else ()
    found = []
    for need in _NEEDED:
        held = {"stand_height": "stand_height_m", "stand_base": "stand_base_m"}.get(need.key, f"{need.key}_m")
        if need.key == "stand_base" and storage.stand_height_m == 0.0:
            continue
        if need.key == "diameter" and storage.width_m is not None:
            continue
        if need.key not in spared and getattr(storage, held) is None:
            found.append(need)
    return tuple(found)


def _spills_elsewhere(yard: Yard, storage: Storage) -> bool:
    """Whether a storage without an overflow of its own is linked to one that has one."""
    if storage.overflow_height_m is not None or storage.overflow_bore_m is not None:
        return False
    return any(
        other.overflow_height_m is not None
        for other in yard.storages
        if other.name in storage.linked_to or storage.name in other.linked_to
    )


def measures(yard: Yard, storage: Storage, knowledge: Knowledge) -> Measures:
    """The measures of one storage. Raises InputError if one is missing, or its stand is too narrow for a block."""
    lacking = missing(yard, storage)
    if lacking:
        raise InputError(
            Problem(f"{storage.name}: {need.what} is not known.", f"Write {need.key} = {need.example}.")
            for need in lacking
        )
    across = storage.diameter_m if storage.diameter_m is not None else storage.width_m
    assert across is not None
    assert storage.height_m is not None
    assert storage.outlet_height_m is not None
    assert storage.stand_height_m is not None
    base = storage.stand_base_m or (across, across)
    rim = storage.stand_height_m + storage.height_m
    lip, bore = storage.overflow_height_m, storage.overflow_bore_m
    middle = None if lip is None or bore is None else lip + bore / 2
    spouts = [yard.downspout(name) for name in storage.fed_by]
    return Measures(
        width_m=across,
        height_m=storage.height_m,
        outlet_m=storage.outlet_height_m,
        spigot_m=storage.stand_height_m + storage.outlet_height_m,
        overflow_m=None if middle is None else storage.stand_height_m + middle,
        below_rim_m=None if middle is None else storage.height_m - middle,
        overflow_bore_m=bore,
        stand_height_m=storage.stand_height_m,
        stand_base_m=base,
        stand=stand_of(knowledge, storage.stand_height_m, base),
        rim_m=rim,
        cut_m=rim + knowledge.fact("downspout.cut_above").value if spouts else None,
        spout_width_m=spouts[0].width_m if spouts else None,
        spout_area_m2=sum(spout.area_m2 for spout in spouts) if spouts else None,
        is_round=storage.diameter_m is not None,
        wall_distance_m=storage.wall_distance_m,
        ground_drop_m=storage.ground_drop_m,
        linked=bool(storage.linked_to) or any(storage.name in other.linked_to for other in yard.storages),
    )


def stand_of(knowledge: Knowledge, height_m: float, base_m: tuple[float, float]) -> BlockStand | None:
    """The block stand of that height and base [m]; None if the barrel stands on the ground."""
    if height_m == 0.0:
        return None
    sides = [knowledge.fact(f"block.{name}").value for name in ("length", "width", "height", "mass")]
    return of_blocks(height_m, base_m, Block(*sides))


def hole_m(knowledge: Knowledge, bore_m: float) -> float | None:
    """Hole the trade drills for a fitting of that bore [m]; None if no fitting of it is on file."""
    fact = knowledge.facts.get(f"hole.for.{round(bore_m * _MM)}")
    # Bores in whole millimetres name the same fittings as the inch sizes: 40 mm is not 1 1/2 in, 38 mm is.
    return None if fact is None else fact.value


@dataclass(frozen=True, slots=True)
class Scale:
    """What the parts of one barrel go by: blocks, pavers, stone [L], length of overflow hose [m]."""

    blocks: float
    pavers: float
    stone_l: float
    run_m: float

    def of(self, by: str) -> float:
        """The amount that a part's `by` names."""
        named = {
            "barrel": 1.0,
            "block": self.blocks,
            "paver": self.pavers,
            "stone": self.stone_l,
            "run": self.run_m,
        }
        return named[by]


def scale(
    knowledge: Knowledge,
    stand: BlockStand | None,
    base_m: tuple[float, float],
    drop_m: float,
    wall_distance_m: float,
) -> Scale:
    """What the parts of one barrel go by. drop_m : from the overflow down to the ground [m].

    Pavers lie under the blocks and on top of them; the hose runs down and then out to its end.
    """
    run = drop_m + wall_distance_m
    if stand is None:
        return Scale(0.0, 0.0, 0.0, run)
    side, margin = knowledge.fact("build.paver_side").value, knowledge.fact("build.stone_margin").value
    depth = knowledge.fact("build.stone_depth").value
    layer = ceil(base_m[0] / side - 0.05) * ceil(base_m[1] / side - 0.05)
    stone_l = (base_m[0] + 2 * margin) * (base_m[1] + 2 * margin) * depth * _MM
    return Scale(float(stand.blocks), 2.0 * layer, stone_l, run)


def amount(part: Part, goes_by: Scale) -> float:
    """How much of a part one barrel takes, in the part's unit."""
    return part.each * goes_by.of(part.by)


def packs(wanted: float, pack: float) -> int:
    """Whole packs that hold the wanted amount. Raises ValueError for a pack that holds nothing."""
    if pack <= 0.0:
        raise ValueError("a pack holds something")
    return ceil(wanted / pack - _SLIP)


def cut_from(each_m: float, many: int, piece_m: float) -> int:
    """Pieces of hose to buy [m] so that each of many lengths is cut from one piece, or from as few as it needs.

    >>> cut_from(3.5, 20, 7.3)
    10
    """
    if each_m <= 0.0:
        return 0
    if each_m > piece_m * (1.0 + _SLIP):
        return many * packs(each_m, piece_m)
    return ceil(many / floor(piece_m * (1.0 + _SLIP) / each_m))


def with_spares(wanted: float, share: float) -> float:
    """Pieces to bring when one in so many is taken as a spare, in whole pieces: 20 and a tenth make 22."""
    return float(ceil(wanted * (1.0 + share) - _SLIP))
