"""The two drawings of a build sheet: the barrel with its heights, and the holes in their true size."""

from __future__ import annotations

from typing import NamedTuple

from dooryard.plan.document import Json, Table
from dooryard.plan.tape import tape_number, tape_unit, tape_words
from dooryard.units import System
from dooryard.water.build_measures import Measures

SCALES = (4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 40, 50)
# Room on a sheet for barrel and stand [m]: the rest is for words and the wall.
_ROOM_WIDE_M, _ROOM_HIGH_M = 0.066, 0.163
_RULER = {"us": (6, 8), "metric": (15, 10)}
_BAR = {"us": (12, "12 in"), "metric": (30, "30 cm")}


class Holes(NamedTuple):
    """Hole to drill for each opening [m]; None where no fitting of the bore is on file."""

    spigot_m: float
    overflow_m: float | None
    inlet_m: float


def scale_of(measures: Measures) -> int:
    """One on paper to so many, so that the barrel fits a letter sheet with its words."""
    wide = max(measures.width_m, measures.stand_base_m[0])
    high = max(measures.rim_m, measures.cut_m or 0.0)
    for scale in SCALES:
        if wide / scale <= _ROOM_WIDE_M and high / scale <= _ROOM_HIGH_M:
            return scale
    return SCALES[-1]


def heights(measures: Measures, holes: Holes, spigot_bore_m: float, system: System) -> list[Json]:
    """Every height over the ground line, from the top down, with what is drilled there."""
    say = _Say(system)
    found = []
    if measures.cut_m is not None:
        found.append(
            say.mark("cut", measures.cut_m, "downspout cut", "hold the flexible section there first")
        )
    found.append(say.mark("rim", measures.rim_m, "rim", "inlet in the top, hole " + say.words(holes.inlet_m)))
    if measures.overflow_m is not None and measures.overflow_bore_m is not None:
        hole = "measure the fitting" if holes.overflow_m is None else f"hole {say.fine(holes.overflow_m)}"
        bore = say.fine(measures.overflow_bore_m)
        found.append(
            say.mark(
                "overflow",
                measures.overflow_m,
                "overflow, middle",
                f"{bore} bore, {hole}",
                measures.overflow_bore_m,
            )
        )
    bore = say.fine(spigot_bore_m)
    found.append(
        say.mark(
            "spigot",
            measures.spigot_m,
            "spigot, middle",
            f"{bore} bore, hole {say.fine(holes.spigot_m)}",
            spigot_bore_m,
        )
    )
    if measures.stand_height_m > 0:
        found.append(say.mark("stand", measures.stand_height_m, "top of the stand", ""))
    found.append(say.mark("ground", 0.0, "ground line", ""))
    return found


class _Say:
    def __init__(self, system: System) -> None:
        self.system = system

    def words(self, length_m: float) -> str:
        return tape_words(length_m, self.system)

    def fine(self, length_m: float) -> str:
        return tape_words(length_m, self.system, parts=16)

    def mark(self, part: str, at_m: float, name: str, more: str, bore_m: float | None = None) -> Json:
        return {
            "part": part,
            "at": tape_number(at_m, self.system),
            "bore": None if bore_m is None else tape_number(bore_m, self.system),
            "text": f"{name} {self.words(at_m)}" if at_m > 0 else f"{name} 0",
            "more": more,
        }


def drawing_chart(
    chart_id: str, name: str, measures: Measures, marks: list[Json], system: System, notes: list[str]
) -> Json:
    """The chart "build" of one barrel. notes : short lines under the drawing."""
    say = _Say(system)
    scale = scale_of(measures)
    length, bar = _BAR[system]
    wide, deep = measures.stand_base_m
    listed = "; ".join(mark["text"] for mark in marks if mark["part"] != "ground")
    stood = (
        f"on a stand {say.words(wide)} by {say.words(deep)} and {say.words(measures.stand_height_m)} high"
        if measures.stand_height_m > 0
        else "on the ground"
    )
    return {
        "id": chart_id,
        "kind": "build",
        "title": f"The {name}, with its heights from the ground line",
        "words": f"Seen from the side, the wall at the left: {say.words(measures.width_m)} across and "
        f"{say.words(measures.height_m)} high, {stood}. Over the ground line: {listed}. The PDF, "
        f"printed at full size, has the scale 1 to {scale}; the bar shows {bar} at any size.",
        "unit": tape_unit(system),
        "scale": scale,
        "barrel": {
            "width": tape_number(measures.width_m, system),
            "height": tape_number(measures.height_m, system),
            "width_text": say.words(measures.width_m),
            "height_text": say.words(measures.height_m),
        },
        "stand": {
            "width": tape_number(wide, system) if measures.stand_height_m > 0 else 0.0,
            "height": tape_number(measures.stand_height_m, system),
            "courses": 1 if measures.stand is None else measures.stand.courses,
            "width_text": f"{say.words(wide)} by {say.words(deep)}",
        },
        "heights": marks,
        "spout_width": None
        if measures.spout_width_m is None
        else tape_number(measures.spout_width_m, system),
        "hose": None
        if measures.overflow_bore_m is None
        else f"{say.fine(measures.overflow_bore_m)} bore all the way",
        # The yard file gives the fall over the first 10 ft from the wall.
        "fall": None if measures.ground_drop_m is None else round(measures.ground_drop_m / 3.048, 4),
        "bar": {
            "length": length,
            "text": f"The bar is {bar}. The PDF, printed at full size, has the scale 1 to {scale}.",
        },
        "notes": notes,
        "table": Table(
            "Heights over the ground line",
            (("Part", "left"), ("Opening", "left")),
            tuple((mark["text"], mark["more"]) for mark in marks),
        ).json(),
    }


def template_chart(chart_id: str, name: str, measures: Measures, holes: Holes, system: System) -> Json:
    """The chart "template": spigot and overflow in true size at their true distance from an edge."""
    say = _Say(system)
    first = "Measure the fitting in hand first: it may want another hole."
    drawn: list[Json] = [
        {
            "title": f"Spigot: hole {say.fine(holes.spigot_m)}",
            "hole": tape_number(holes.spigot_m, system),
            "from": "bottom",
            "edge": "lay this line along the bottom of the barrel",
            "distance": tape_number(measures.outlet_m, system),
            "distance_text": f"{say.words(measures.outlet_m)} up",
            "text": [f"Its middle is {say.words(measures.outlet_m)} above the barrel's bottom.", first],
        }
    ]
    if measures.below_rim_m is not None and holes.overflow_m is not None:
        drawn.append(
            {
                "title": f"Overflow: hole {say.fine(holes.overflow_m)}",
                "hole": tape_number(holes.overflow_m, system),
                "from": "rim",
                "edge": "lay this line along the rim of the barrel",
                "distance": tape_number(measures.below_rim_m, system),
                "distance_text": f"{say.words(measures.below_rim_m)} down",
                "text": [f"Its middle is {say.words(measures.below_rim_m)} below the barrel's rim.", first],
            }
        )
    length, parts = _RULER[system]
    unit = tape_unit(system)
    return {
        "id": chart_id,
        "kind": "template",
        "title": f"Hole template for the {name}, in true size",
        "words": "Check the ruler before you trust it. Cut the paper along the thick line of each hole, lay that "
        "edge on the barrel, tape the paper on, and prick the middle through it.",
        "unit": unit,
        "holes": drawn,
        "ruler": {
            "length": length,
            "parts": parts,
            "unit_text": unit,
            "text": f"Lay a real ruler on this one. If {length} {unit} here are not {length} {unit} there, do not use "
            'the holes: print again at full size (100 %), not "fit to page".',
        },
        "table": Table(
            "Holes",
            (("Hole", "left"), ("Where", "left")),
            tuple((hole["title"], hole["text"][0]) for hole in drawn),
        ).json(),
    }
