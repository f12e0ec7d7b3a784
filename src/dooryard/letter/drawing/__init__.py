"""The plan's drawings: one file per drawing, each a pure function from a chart of the plan to SVG text.

The SVG carries presentation attributes only (no style sheet, no script, no outside file), so that a browser
and a typesetter draw the same thing. `ink.py` holds colours, sizes and hatches, `pen.py` the strokes,
`axis.py` the scales and the routine that keeps labels apart. Open `ribbon.py` for a typical drawing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from dooryard.letter.drawing.build import build
from dooryard.letter.drawing.fan import fan
from dooryard.letter.drawing.glass import glass
from dooryard.letter.drawing.lookback import lookback
from dooryard.letter.drawing.measure import PLATE as PLATE
from dooryard.letter.drawing.ribbon import ribbon
from dooryard.letter.drawing.season import season
from dooryard.letter.drawing.strip import strip
from dooryard.letter.drawing.template import template
from dooryard.letter.drawing.worth import worth
from dooryard.problem import InputError, Problem

WIDE = 640
NARROW = 360
COLUMN = 392
LARGE = 520
SQUAT = 0.5  # what a drawing on a sheet keeps of its height

PLATES = ("build", "template")
"""Drawings that fill a sheet of paper and print there in a stated size; the second only ever stands in its own."""
TRUE_SIZE = ("template",)

_KINDS: dict[str, Callable[[Mapping[str, Any], int, float], str]] = {
    "build": build,
    "fan": fan,
    "glass": glass,
    "lookback": lookback,
    "ribbon": ribbon,
    "season": season,
    "strip": strip,
    "template": template,
    "worth": worth,
}


def svg(chart: Mapping[str, Any], width: int = WIDE, *, depth: float = 1.0) -> str:
    """One chart of a plan document as an SVG drawing.

    chart : an entry of the document's ``charts``; its ``kind`` picks the drawing.
    width : of the drawing in its own units. Letters keep their size, so a smaller width gives larger letters
        once the drawing is scaled to a column: 640 for a page, 520 for a sheet in large type, 392 for half a
        sheet, 360 for a phone, PLATE for a drawing that fills a sheet.
    depth : share of the usual height of its plot, for a drawing that has to be squat. Letters keep their size.

    Raises InputError if the kind is not one we draw.
    """
    kind = chart["kind"]
    if kind not in _KINDS:
        raise InputError(
            Problem(
                "There is no drawing of this kind.",
                f"Use one of: {', '.join(sorted(_KINDS))}.",
                field=f"charts.{chart.get('id', '?')}.kind",
                found=str(kind),
            )
        )
    return _KINDS[kind](chart, width, depth)
