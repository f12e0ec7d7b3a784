"""Strokes of a measured drawing: measures between two ticks, holes, and how long an inch is."""

from __future__ import annotations

from collections.abc import Sequence

from dooryard.letter.drawing.ink import INK
from dooryard.letter.drawing.pen import line, text

PLATE = 672
"""Width of a drawing that fills a sheet: 7 in, at 96 units to the inch; there its scale is true."""
UNITS = {"in": 96.0, "cm": 96.0 / 2.54}
"""Drawing units in one inch or centimetre of paper."""


def circle(x: float, y: float, radius: float) -> str:
    """Path data of a circle."""
    turn = f"a{radius:.2f} {radius:.2f} 0 1 0"
    return f"M{x - radius:.2f} {y:.2f}{turn} {2 * radius:.2f} 0{turn} {-2 * radius:.2f} 0Z"


def measure_across(left: float, right: float, y: float, words: str, below: float = -6) -> list[str]:
    """A measure between two uprights, its words over the line or `below` it."""
    return [
        line(left, y, right, y, colour=INK, width=1),
        *_ticks([(left, y), (right, y)]),
        text((left + right) / 2, y + below, words, anchor="middle"),
    ]


def measure_up(x: float, top: float, bottom: float, words: str) -> list[str]:
    """A measure between two levels, its words turned along it."""
    return [
        line(x, top, x, bottom, colour=INK, width=1),
        *_ticks([(x, top), (x, bottom)]),
        text(x - 6, top + (bottom - top) * 0.68, words, anchor="middle", turn=-90),
    ]


def _ticks(points: Sequence[tuple[float, float]]) -> list[str]:
    return [line(x - 5, y + 5, x + 5, y - 5, width=1.6) for x, y in points]
