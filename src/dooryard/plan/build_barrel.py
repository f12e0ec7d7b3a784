"""Barrels of one make as a build sheet holds them: their measures, their holes, and the numbers its steps name."""

from __future__ import annotations

from dataclasses import dataclass

from dooryard.figure import Input
from dooryard.plan.build_charts import Holes
from dooryard.plan.tape import tape_words
from dooryard.plan.work.sheet import Sheet
from dooryard.water.build_measures import Measures, Scale, hole_m, scale
from dooryard.words import list_words


@dataclass(frozen=True)
class Barrel:
    """Barrels of one make: names, measures, holes, what their parts go by, and a key no other make has."""

    names: tuple[str, ...]
    measures: Measures
    holes: Holes
    scale: Scale
    key: str

    @property
    def spoken(self) -> str:
        """Their names in words."""
        return list_words(self.names)


def made(sheet: Sheet, measures: Measures, names: tuple[str, ...], key: str) -> Barrel:
    """The barrels of those measures, with holes and parts; what cannot be said of them is refused."""
    known = sheet.knowledge
    bore = measures.overflow_bore_m
    holes = Holes(
        known.fact("hole.spigot").value,
        None if bore is None else hole_m(known, bore),
        known.fact("hole.inlet").value,
    )
    spoken = list_words(names)
    if bore is not None and holes.overflow_m is None:
        sheet.refuse(
            f"We will not name the overflow hole of the {spoken}",
            f"No fitting with a bore of {tape_words(bore, sheet.system, parts=16)} is on file",
            "Measure the fitting's thread across and drill that, after a trial in scrap",
        )
    out = measures.wall_distance_m
    spills = measures.overflow_m is not None
    if out is None and spills:
        sheet.refuse(
            f"We will not say how long the overflow hose of the {spoken} is",
            "The yard file does not say how far from the wall it ends",
            'Write wall_distance = "10 ft"',
        )
    if measures.ground_drop_m is None and spills:
        sheet.refuse(
            f"We will not draw the fall of the ground at the {spoken}",
            "The yard file does not give it",
            'Measure how far the ground drops in the first 10 ft from the wall and write ground_drop = "6 in"',
        )
    if measures.linked:
        sheet.caution("water.linked")
        sheet.refuse(
            f"We will not draw the link of the {spoken}, nor list its parts",
            "The yard file does not say how wide its pipe is or where it goes in",
            "Make it at least as wide as the overflow, with a shutoff on each side, as the fittings' maker says",
        )
    if measures.cut_m is None and not measures.linked:
        sheet.refuse(
            f"We will not say where to cut a downspout for the {spoken}",
            "None is named that feeds it",
            'Write fed_by = ["its downspout"]',
        )
    drop = measures.overflow_m or 0.0
    by = scale(known, measures.stand, measures.stand_base_m, drop if out is not None else 0.0, out or 0.0)
    return Barrel(names, measures, holes, by, key)


def numbers(sheet: Sheet, barrel: Barrel) -> dict[str, str]:
    """Marks for the words in braces of the steps."""
    key = f"build.{barrel.key}"
    own, known, system = barrel.measures, sheet.knowledge, sheet.system

    def measured(
        part: str,
        name: str,
        value: float,
        method: str = "build.measure",
        source: str = "the yard file",
        parts: int = 8,
    ) -> str:
        words = tape_words(value, system, parts=parts)
        return sheet.book.plain(
            f"{key}.{part}", f"{name}, {barrel.spoken}", value, words, method, unit="m",
            exact=sheet.book.exact(value, "length"), inputs=(Input("from", source, ""),),
        )  # fmt: skip

    def hole(which: str, value: float, fact: str) -> str:
        source = known.fact(fact).source
        return measured(f"{which}-hole", f"hole for the {which}", value, "build.hole", source, 16)

    wide, deep = own.stand_base_m
    told = {
        "stand_base": f"{tape_words(wide, system)} by {tape_words(deep, system)}",
        "stone_depth": sheet.span(*sheet.fact_range("build.stone_depth"), "length"),
        "level": tape_words(sheet.fact("stand.level_tolerance"), system),
        "stand_height": measured("stand", "height of the stand", own.stand_height_m),
        "spigot_up": measured("spigot-up", "middle of the spigot over the bottom", own.outlet_m),
        "spigot": measured("spigot", "middle of the spigot over the ground line", own.spigot_m, "build.height"),
        "rim": measured("rim", "rim over the ground line", own.rim_m, "build.height"),
        "spigot_hole": hole("spigot", barrel.holes.spigot_m, "hole.spigot"),
        "inlet_hole": hole("inlet", barrel.holes.inlet_m, "hole.inlet"),
        "overflow": "the same",
        "overflow_hole": "as wide as its fitting",
        "below_rim": "",
        "cut": "",
        "blocks": "",
        "courses": "",
        "distance": "well away from the wall",
    }  # fmt: skip
    if own.stand is not None:
        told["blocks"] = sheet.book.plain(
            f"{key}.blocks",
            f"blocks under the {barrel.spoken}",
            own.stand.blocks,
            f"{own.stand.blocks} blocks",
            "water.block_stand",
            inputs=(sheet.book.input("height of the stand", own.stand_height_m, "length", "the yard file"),),
        )
        courses = own.stand.courses
        told["courses"] = "one course" if courses == 1 else f"{courses} courses"
    if own.overflow_m is not None and own.below_rim_m is not None and own.overflow_bore_m is not None:
        told["overflow"] = tape_words(own.overflow_bore_m, system, parts=16)
        told["overflow_up"] = measured(
            "overflow", "middle of the overflow over the ground line", own.overflow_m, "build.height"
        )
        told["below_rim"] = measured("below-rim", "middle of the overflow below the rim", own.below_rim_m)
    if barrel.holes.overflow_m is not None and own.overflow_bore_m is not None:
        bore_mm = round(own.overflow_bore_m * 1000)
        told["overflow_hole"] = hole("overflow", barrel.holes.overflow_m, f"hole.for.{bore_mm}")
    if own.cut_m is not None:
        told["cut"] = measured(
            "cut",
            "cut of the downspout over the ground line",
            own.cut_m,
            "build.cut",
            known.fact("downspout.cut_above").source,
        )
    if own.wall_distance_m is not None:
        told["distance"] = f"out to {sheet.book.show(own.wall_distance_m, 'length')} from the wall"
    return told
