"""The glass: a storage drawn to scale in section: what stands in it, what is stranded, what is free."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from dooryard.letter.drawing.axis import Span, plain, spread
from dooryard.letter.drawing.ink import INK, LABEL, PAPER, RULE, WATER, cross_hatch, hatch, wrap
from dooryard.letter.drawing.pen import drawing, line, name, nothing, path, rect, text

_TALLEST = 340.0
_TOP = 24.0
_LINE = 19.0
_FITTING = 2 * _LINE + 6
_LEAD = 34.0  # from the wall to the words beside it


def glass(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """Outlet and overflow stand at their heights (left), the amounts beside the water (right).

    Solid: water that is surely there and will run out. Hatched: between the lowest and the highest level it
    may have. Cross-hatched: below the outlet. Heights and width share one scale.
    """
    height, diameter = chart["height"], chart["diameter"]
    if not height or not diameter:
        return nothing(
            chart, width, "No section to draw: the height or the width of this storage is not on file."
        )
    scale = min(_TALLEST * depth / height, width * 0.36 / diameter)
    wide, tall = diameter * scale, height * scale
    left = width * 0.30
    fittings = _fittings_found(chart)
    places = _amounts_found(chart)
    blocks = [wrap(words, width - (left + wide + _LEAD)) for words, _ in places]
    # A low tank needs more room for its words than for itself: they begin above its rim.
    need = max(len(fittings) * _FITTING, sum(_block_height(block) for block in blocks))
    top = max(_TOP, need - tall + 4)
    floor = top + tall
    up = Span(0, height, floor, top)
    shade, cross = name(chart, "range", width), name(chart, "stranded", width)
    body = _water(chart, up, left, wide, shade, cross)
    if chart["overflow"] is not None:
        lip = up.at(chart["overflow"])
        body.append(line(left, lip, left + wide, lip, colour=INK, width=1.2, dash="7 4"))
    body.append(
        path(
            f"M{left:.1f} {top:.1f}V{floor:.1f}H{left + wide:.1f}V{top:.1f}",
            colour=INK,
            width=4,
            join="miter",
        )
    )
    body.append(line(0, floor + 2, width, floor + 2, colour=INK, width=1))
    body += _fittings(chart, fittings, up, left)
    body += _amounts(places, blocks, up, left + wide)
    across = f"{plain(diameter)} {chart['unit']} across, drawn to scale"
    body.append(text(left + wide / 2, floor + 24, across, anchor="middle"))
    return drawing(chart, width, floor + 38, body, defs=[hatch(shade), cross_hatch(cross)])


def _water(chart: Mapping[str, Any], up: Span, left: float, wide: float, shade: str, cross: str) -> list[str]:
    outlet = chart["outlet"] or 0.0
    low, high = chart["level_low"], chart["level_high"]
    if low is None or high is None:
        return [
            rect(left, up.at(outlet), wide, up.at(0) - up.at(outlet), fill=f"url(#{cross})"),
            *(
                text(left + wide / 2, (up.at(0) + up.end) / 2 + 20 * i, part, anchor="middle")
                for i, part in enumerate(wrap("level not known", wide - 8))
            ),
        ]
    stranded = min(outlet, high)
    sure = max(low, stranded)
    return [
        rect(left, up.at(stranded), wide, up.at(0) - up.at(stranded), fill=f"url(#{cross})"),
        rect(left, up.at(sure), wide, up.at(stranded) - up.at(sure), fill=WATER),
        rect(left, up.at(high), wide, up.at(sure) - up.at(high), fill=f"url(#{shade})"),
        line(left, up.at(high), left + wide, up.at(high), colour=WATER, width=1.5),
        line(left, up.at(low), left + wide, up.at(low), colour=INK, width=1.5),
    ]


def _fittings_found(chart: Mapping[str, Any]) -> list[tuple[str, float, float]]:
    """Rim, overflow and outlet, as far as known: name, height, length of its pipe in the drawing."""
    found = [("rim", chart["height"], 0.0)]
    if chart["overflow"] is not None:
        found.append(("overflow", chart["overflow"], 14.0))
    if chart["outlet"] is not None:
        found.append(("outlet", chart["outlet"], 14.0))
    return found


def _fittings(
    chart: Mapping[str, Any], found: Sequence[tuple[str, float, float]], up: Span, left: float
) -> list[str]:
    """Rim, overflow and outlet at the left wall, each with its height."""
    rows = spread([up.at(at) for _, at, _ in found], [_FITTING] * len(found), 0, up.start)
    marks: list[str] = []
    for (part, at, spout), y in zip(found, rows, strict=True):
        level = up.at(at)
        if spout:
            # A short pipe through the wall.
            marks.append(rect(left - spout, level - 5, spout + 2, 10, fill=PAPER, outline=INK, stroke=2))
        near = left - spout - 3
        marks.append(path(f"M{near:.1f} {level:.1f}L{left - 34:.1f} {y:.1f}", colour=RULE))
        marks.append(text(left - 38, y - 2, part, anchor="end", bold=True, halo=False))
        marks.append(text(left - 38, y + _LINE - 3, f"{plain(at)} {chart['unit']}", anchor="end", halo=False))
    return marks


def _block_height(block: Sequence[str]) -> float:
    return len(block) * _LINE + 6


def _amounts_found(chart: Mapping[str, Any]) -> list[tuple[str, float]]:
    """Free, standing and stranded volume in words, each with the height of its middle."""
    top = chart["overflow"] if chart["overflow"] is not None else chart["height"]
    outlet = chart["outlet"] or 0.0
    low, high = chart["level_low"], chart["level_high"]
    places = [(chart["free_text"], (top + (high if high is not None else outlet)) / 2)]
    places.append((chart["level_text"], outlet if low is None or high is None else (low + high) / 2))
    if outlet > 0:
        places.append((chart["stranded_text"], outlet / 2))
    return [(words, at) for words, at in places if words]


def _amounts(
    places: Sequence[tuple[str, float]], blocks: Sequence[Sequence[str]], up: Span, wall: float
) -> list[str]:
    """The volumes at the right wall, beside what they measure."""
    start = wall + _LEAD
    rows = spread(
        [up.at(at) for _, at in places], [_block_height(block) for block in blocks], 0, up.start - 2
    )
    marks: list[str] = []
    for (_, at), block, y in zip(places, blocks, rows, strict=True):
        marks.append(path(f"M{wall + 4:.1f} {up.at(at):.1f}L{start - 5:.1f} {y:.1f}", colour=RULE))
        first = y - len(block) * _LINE / 2 + LABEL - 1
        marks += [text(start, first + _LINE * i, part, halo=False) for i, part in enumerate(block)]
    return marks
