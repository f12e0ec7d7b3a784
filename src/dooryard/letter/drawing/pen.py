"""Strokes: the few SVG elements the drawings use, written with presentation attributes only."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from typing import Any

from dooryard.letter.drawing.ink import FACE, HAIR, INK, LABEL, PAPER, RULE, SMALL, text_width, wrap
from dooryard.letter.prose import hold_together, marks_in, signs_in_words

Point = tuple[float, float]


def number(value: float) -> str:
    """A coordinate: at most two decimals, never in scientific notation."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def line(
    x1: float,
    y1: float,
    x2: float,
    y2: float,
    *,
    colour: str = INK,
    width: float = 1,
    dash: str = "",
) -> str:
    """A straight stroke; `dash` as in SVG ("6 4")."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
        f' stroke="{colour}" stroke-width="{number(width)}"{dashes}/>'
    )


def rect(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    fill: str,
    outline: str = "none",
    stroke: float = 1,
) -> str:
    """A rectangle from its top left corner; nothing at all if it has no area."""
    if width <= 0 or height <= 0:
        return ""
    edge = f' stroke="{outline}" stroke-width="{number(stroke)}"' if outline != "none" else ""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"'
        f' fill="{fill}"{edge}/>'
    )


def path(
    d: str, *, fill: str = "none", colour: str = "none", width: float = 1, dash: str = "", join: str = "round"
) -> str:
    """A path from SVG path data; nothing at all if the data are empty."""
    if not d:
        return ""
    edge = (
        f' stroke="{colour}" stroke-width="{number(width)}" stroke-linejoin="{join}"'
        if colour != "none"
        else ""
    )
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{d}" fill="{fill}"{edge}{dashes}/>'


def polyline(points: Sequence[Point]) -> str:
    """Path data through the points; empty for no point."""
    return "".join(f"{'L' if i else 'M'}{number(x)} {number(y)}" for i, (x, y) in enumerate(points))


def area(upper: Sequence[Point], lower: Sequence[Point]) -> str:
    """Path data of the area between two runs of points; empty if there is none."""
    if len(upper) < 2:
        return ""
    return polyline([*upper, *reversed(lower)]) + "Z"


def text(
    x: float,
    y: float,
    words: str,
    *,
    anchor: str = "start",
    size: float = LABEL,
    bold: bool = False,
    colour: str = INK,
    halo: bool = True,
    turn: float = 0,
) -> str:
    """Words with their base line at y, escaped. The halo, a paper-coloured rim, keeps them off the lines."""
    if not words:
        return ""
    at = f'x="{number(x)}" y="{number(y)}"'
    spun = f' transform="rotate({number(turn)} {number(x)} {number(y)})"' if turn else ""
    weight = ' font-weight="700"' if bold else ""
    inside = escape(signs_in_words(hold_together(words)))
    rim = f' paint-order="stroke" stroke="{PAPER}" stroke-width="4" stroke-linejoin="round"' if halo else ""
    return (
        f'<text {at} font-size="{number(size)}" text-anchor="{anchor}"{weight}{spun}{rim}'
        f' fill="{colour}">{inside}</text>'
    )


def key(entries: Sequence[tuple[str, str]], width: float, y: float) -> tuple[str, float]:
    """A line or two that say what the marks mean: (swatch, words) pairs; gives the SVG and its height.

    A swatch is drawn in a field 34 wide and 16 high whose top left corner is the origin.
    """
    marks: list[str] = []
    x, row = 0.0, 0
    needs = [40 + text_width(words, SMALL) for _, words in entries]
    # Closer together if that spares a second line.
    gap = 20 if sum(needs) + 20 * (len(needs) - 1) <= width else 10
    for (swatch, words), need in zip(entries, needs, strict=True):
        if x > 0 and x + need > width:
            x, row = 0.0, row + 1
        top = y + row * 24
        marks.append(f'<g transform="translate({number(x)} {number(top)})">{swatch}</g>')
        marks.append(text(x + 40, top + 13, words, size=SMALL, halo=False))
        x += need + gap
    return "".join(marks), (row + 1) * 24.0


def drawing(
    chart: Mapping[str, Any], width: float, height: float, body: Iterable[str], *, defs: Iterable[str] = ()
) -> str:
    """The whole SVG: named by the chart's title and words for those who cannot see it.

    Words with a figure's mark in them are left out of the name: whoever prints a chart spells them first.
    """
    title = chart["title"].rstrip(".")
    label = escape(title if marks_in(chart["words"]) else f"{title}. {chart['words']}", quote=True)
    patterns = "".join(defs)
    held = f"<defs>{patterns}</defs>" if patterns else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width)} {number(height)}"'
        f' width="{number(width)}" height="{number(height)}" role="img" aria-label="{label}"'
        f' font-family="{FACE}" font-size="{LABEL}" fill="{INK}">{held}{"".join(body)}</svg>'
    )


def name(chart: Mapping[str, Any], part: str, width: float) -> str:
    """An id for a pattern that no other drawing on the same page will have."""
    stem = re.sub(r"[^A-Za-z0-9]+", "-", str(chart.get("id", chart["kind"])))
    return f"{stem}-{number(width)}-{part}"


def nothing(chart: Mapping[str, Any], width: float, words: str) -> str:
    """A drawing that says in words why there is nothing to draw."""
    lines = wrap(words, width - 24)
    height = 40 + 20 * len(lines)
    body = [line(0, 8, width, 8, colour=RULE), line(0, height - 8, width, height - 8, colour=HAIR)]
    body += [text(0, 34 + 20 * i, words_of_line, halo=False) for i, words_of_line in enumerate(lines)]
    return drawing(chart, width, height, body)
