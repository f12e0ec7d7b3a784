"""What a build sheet says of a barrel: where its openings stand, and what is wrong with its measures as written."""

from __future__ import annotations

from math import pi

from dooryard.plan.build_barrel import Barrel
from dooryard.plan.tape import tape_words
from dooryard.plan.work.sheet import Sheet


def notes(sheet: Sheet, barrel: Barrel) -> list[str]:
    """Short lines under the drawing."""
    own, show = barrel.measures, sheet.book.show
    notes = ["Measure each fitting in hand first. The gap at the wall is not to scale: a hand's width."]
    if own.overflow_m is not None:
        bore = tape_words(own.overflow_bore_m or 0.0, sheet.system, parts=16)
        far = (
            ""
            if own.wall_distance_m is None
            else f", out to {show(own.wall_distance_m, 'length')} from the wall"
        )
        notes.append(f"Overflow hose, {bore} bore{far}; it goes on beyond the drawing.")
    if own.ground_drop_m is None:
        notes.append("The fall of the ground is not known, so it is drawn flat.")
    elif own.ground_drop_m > 0:
        notes.append(
            f"The ground falls {show(own.ground_drop_m, 'length')} in the first {show(3.048, 'length')} from the wall."
        )
    else:
        notes.append("The ground falls toward the wall, or not at all: lead the overflow farther.")
    return notes


def sentences(sheet: Sheet, barrel: Barrel, numbers: dict[str, str]) -> list[str]:
    """Where its openings stand, and what to look at before it is built."""
    own = barrel.measures
    many = f"Build {len(barrel.names)} alike. " if len(barrel.names) > 1 else ""
    said = [
        f"{many}Its spigot's middle stands {numbers['spigot']} over the ground line, its rim {numbers['rim']}."
    ]
    if "overflow_up" in numbers:
        said.append(
            f"The overflow's middle stands {numbers['overflow_up']} over the ground line, {numbers['below_rim']} below "
            "the rim: half its bore above the lower edge that the yard file gives."
        )
    else:
        said.append(
            "It has no overflow of its own: it spills through the one it is linked to. Put in the link as its maker "
            "says."
        )
    said += warnings(sheet, barrel)
    if numbers["cut"]:
        said.append(
            f"Cut the downspout {numbers['cut']} over the ground line. Hold the flexible section in place before you "
            "cut."
        )
    low, high = sheet.fact_range("hole.spigot")
    said.append(
        f"Sources drill the spigot's hole anywhere from {tape_words(low, sheet.system, parts=16)} to "
        f"{tape_words(high, sheet.system, parts=16)}. The least is for threads cut with a tap; here a locknut holds "
        "the spigot and no tap is needed. Measure the fitting in hand first."
    )
    if own.stand is not None and abs(own.stand.height_m - own.stand_height_m) > sheet.fact(
        "stand.level_tolerance"
    ):
        said.append(
            f"Whole blocks come out {tape_words(own.stand.height_m, sheet.system)} high, the yard file says "
            f"{tape_words(own.stand_height_m, sheet.system)}. All heights here follow the yard file: change it, or the "
            "stand."
        )
    return said


def warnings(sheet: Sheet, barrel: Barrel) -> list[str]:
    """What is wrong with the measures as they are written: too low a spigot, too near an end, too narrow a bore."""
    own, show = barrel.measures, sheet.book.show
    said = []
    low, high = sheet.fact_range("storage.outlet_height")
    if not low - 1e-6 <= own.outlet_m <= high + 1e-6:
        said.append(
            f"On a stand the spigot is usually {sheet.span(low, high, 'length')} up; "
            f"yours is {show(own.outlet_m, 'length')}."
        )
    least, better = sheet.fact("overflow.wall_distance_least"), sheet.fact("overflow.wall_distance")
    if own.wall_distance_m is not None and own.wall_distance_m < least:
        said.append(
            f"The overflow ends {show(own.wall_distance_m, 'length')} from the wall. That is too near: at least "
            f"{show(least, 'length')}, better {show(better, 'length')}."
        )
    narrow = min(own.stand_base_m) * sheet.fact("stand.height_to_base")
    if own.stand_height_m > narrow + 1e-6:
        said.append("The stand is taller than it is wide: strap it, or build it lower.")
        sheet.caution("water.tipping")
    narrow = min(own.stand_base_m) if own.is_round else own.stand_base_m[0]
    if own.stand is not None and own.width_m > narrow + 1e-6:
        said.append("The barrel is wider than its stand: build the stand at least as wide.")
    bore = own.overflow_bore_m
    hole = barrel.holes.overflow_m if barrel.holes.overflow_m is not None else bore
    if (
        own.below_rim_m is not None
        and hole is not None
        and own.below_rim_m - hole / 2 < sheet.fact("build.rim_left")
    ):
        said.append(
            f"The overflow's hole would come within {show(sheet.fact('build.rim_left'), 'length')} of the rim or cut "
            "through it: set its lower edge lower, or choose a smaller bore."
        )
    if own.spout_area_m2 is not None and bore is not None and pi / 4 * bore**2 < own.spout_area_m2:
        said.append(
            "The overflow is narrower than the downspout. In a hard storm the rest runs down the barrel's side: fit a "
            "wider one, or a diverter that sends it down the old spout."
        )
        sheet.caution("water.overflow_small")
    return said
