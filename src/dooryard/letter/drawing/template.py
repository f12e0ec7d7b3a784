"""The hole template: each hole in its true size, at its true distance from the barrel's edge, with a check ruler.

It is true only where 96 drawing units print as one inch. Sheet and page both set it 7 in wide.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dooryard.letter.drawing.ink import INK, LABEL, RULE, SMALL, wrap
from dooryard.letter.drawing.measure import PLATE, UNITS, circle
from dooryard.letter.drawing.pen import drawing, line, path, text

_LINE = 18.0
_TOP = 40.0
_TALLEST = 560.0  # what a letter sheet leaves for the holes
_RULER = 120.0
_MARGIN = 26.0


def template(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:  # noqa: ARG001 - never scaled
    """The chart "template", always 672 units (7 in) wide, whatever the width asked for."""
    per = UNITS[chart["unit"]]
    holes = chart["holes"]
    needs = [(hole["distance"] + hole["hole"] / 2) * per + _MARGIN for hole in holes]
    tall = max([180.0, *(need for need in needs if need <= _TALLEST)])
    wide = PLATE / len(holes)
    body: list[str] = []
    for number, (hole, need) in enumerate(zip(holes, needs, strict=True)):
        body += _hole(hole, per, wide * number, wide, tall, with_edge=need <= _TALLEST)
    words = _TOP + tall + 30
    most = max(len(_said(hole, wide)) for hole in holes)
    at = words + most * _LINE + 26
    body += _ruler(chart, per, at)
    return drawing(chart, PLATE, at + _RULER, body)


def _said(hole: Mapping[str, Any], wide: float) -> list[tuple[str, bool]]:
    lines = [(part, True) for part in wrap(hole["title"], wide - 24, LABEL, bold=True)]
    return [*lines, *[(part, False) for words in hole["text"] for part in wrap(words, wide - 24, SMALL)]]


def _hole(
    hole: Mapping[str, Any], per: float, left: float, wide: float, tall: float, *, with_edge: bool
) -> list[str]:
    """One hole with its crossed lines, and the edge it is laid along."""
    x = left + wide / 2
    top, bottom = _TOP, _TOP + tall
    up = hole["from"] == "bottom"
    radius = hole["hole"] / 2 * per
    marks: list[str] = []
    if with_edge:
        edge = bottom if up else top
        y = edge - hole["distance"] * per if up else edge + hole["distance"] * per
        at = left + 34
        marks += [
            line(left + 12, edge, left + wide - 12, edge, width=2.5),
            text(x, edge + 17 if up else edge - 10, hole["edge"], anchor="middle", size=SMALL, halo=False),
            line(at, edge, at, y),
            line(at - 5, edge + 5, at + 5, edge - 5, width=1.6),
            line(at - 5, y + 5, at + 5, y - 5, width=1.6),
            line(at - 8, y, x - radius - 14, y, colour=RULE),
            text(at + 8, (edge + y) / 2 + 5, hole["distance_text"]),
        ]
    else:
        y = (top + bottom) / 2
    marks += [
        path(circle(x, y, radius), colour=INK, width=1.2),
        line(x - radius - 12, y, x + radius + 12, y),
        line(x, y - radius - 12, x, y + radius + 12),
    ]
    first = bottom + 48
    marks += [
        text(left + 12, first + _LINE * i, words, bold=bold, size=LABEL if bold else SMALL, halo=False)
        for i, (words, bold) in enumerate(_said(hole, wide))
    ]
    return marks


def _ruler(chart: Mapping[str, Any], per: float, y: float) -> list[str]:
    """The check ruler: its base line is exactly as long as it says."""
    ruler = chart["ruler"]
    left = 24.0
    parts = ruler["parts"]
    marks = [line(left, y + 30, left + ruler["length"] * per, y + 30, width=1.2)]
    for tick in range(ruler["length"] * parts + 1):
        x = left + tick / parts * per
        whole, half = tick % parts == 0, tick % parts == parts // 2 and parts % 2 == 0
        rise = 20 if whole else 13 if half else 8
        marks.append(line(x, y + 30, x, y + 30 - rise, width=1.2 if whole else 0.8))
        if whole:
            marks.append(text(x, y + 46, str(tick // parts), anchor="middle", size=SMALL, halo=False))
    marks.append(text(left + ruler["length"] * per + 14, y + 34, ruler["unit_text"], size=SMALL, halo=False))
    marks += [
        text(left, y + 72 + _LINE * i, words, size=SMALL, halo=False)
        for i, words in enumerate(wrap(ruler["text"], PLATE - 2 * left, SMALL))
    ]
    return [f'<g id="{chart["id"]}-ruler">', *marks, "</g>"]
