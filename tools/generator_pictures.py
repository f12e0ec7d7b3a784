"""The pictures of docs/generator.md: panels, one per station, drawn with the program's own strokes.

A pale band is what stretches of generated weather as long as the record give, nine in ten of them; a line is
the generated weather as a whole; dots are the record.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import log10

import numpy as np

from dooryard.letter.drawing.axis import Span, nice_step, plain
from dooryard.letter.drawing.ink import CLAY, HAIR, INK, PAPER, RULE, SMALL, WATER, WATER_AHEAD
from dooryard.letter.drawing.pen import area, drawing, key, line, path, polyline, rect, text
from dooryard.weather.record import Floats
from dooryard.words import MONTHS

WIDTH = 640
LEAST_SHARE = 1e-3  # rarer spells than one in a thousand are too few to draw
COLUMNS = 2
_PANEL, _GAP, _LEFT = 262.0, 54.0, 46.0
_DEEP, _HEAD, _FOOT = 128.0, 26.0, 30.0
_TOP = 12.0


@dataclass(frozen=True)
class Panel:
    """One station's panel: x (n,) for the record's dots, and its values; the line and band on their own x (m,).

    extra : a second, dashed line on the same x as the line, or None.
    """

    name: str
    dots_x: Floats
    dots: Floats
    line_x: Floats
    line: Floats
    low: Floats
    high: Floats
    extra: Floats | None = None


@dataclass(frozen=True)
class Axis:
    """How panels are scaled and ticked: x and y as (value, words); `logarithmic` for the upright one."""

    x_ticks: Sequence[tuple[float, str]]
    x_low: float
    x_high: float
    unit: str
    logarithmic: bool = False
    from_zero: bool = True


def months_axis(unit: str, *, from_zero: bool = True) -> Axis:
    """An axis through the year: value 0 is January."""
    ticks = [(float(at), MONTHS[at][:1]) for at in range(12)]
    return Axis(ticks, -0.5, 11.5, unit, from_zero=from_zero)


def picture(title: str, words: str, axis: Axis, panels: Sequence[Panel], *, extra: str = "") -> str:
    """All panels as one SVG with a key below; extra : what the dashed line is, if panels have one."""
    rows = -(-len(panels) // COLUMNS)
    tall = _HEAD + _DEEP + _FOOT
    body = [""]
    for at, panel in enumerate(panels):
        left = _LEFT + at % COLUMNS * (_PANEL + _GAP)
        body += _panel(panel, axis, left, _TOP + at // COLUMNS * tall)
    entries = [
        (_dot(17, 8), "the record"),
        (line(2, 8, 32, 8, colour=WATER, width=2.5), "generated"),
        (rect(2, 2, 30, 12, fill=WATER_AHEAD), "nine in ten stretches as long as the record"),
    ]
    if extra:
        entries.append((line(2, 8, 32, 8, colour=CLAY, width=2, dash="5 3"), extra))
    legend, deep = key(entries, WIDTH, _TOP + rows * tall + 4)
    height = _TOP + rows * tall + deep + 8
    body[0] = rect(0, 0, WIDTH, height, fill=PAPER)
    return drawing({"title": title, "words": words, "kind": "generator"}, WIDTH, height, [*body, legend])


def _panel(panel: Panel, axis: Axis, left: float, top: float) -> list[str]:
    across = Span(axis.x_low, axis.x_high, left, left + _PANEL)
    base = top + _HEAD + _DEEP
    up, ticks = _upright(panel, axis, base, top + _HEAD)
    bottom = min(value for value, _ in ticks)
    marks = [
        text(left, top + 14, panel.name, bold=True),
        text(left + _PANEL, top + 14, axis.unit, anchor="end"),
    ]
    for value, words in ticks:
        marks.append(line(left, up(value), left + _PANEL, up(value), colour=HAIR))
        marks.append(text(left - 4, up(value) + 5, words, anchor="end", size=SMALL, halo=False))
    marks.append(line(left, base, left + _PANEL, base, colour=RULE))
    for value, words in axis.x_ticks:
        marks.append(text(across.at(value), base + 18, words, anchor="middle", size=SMALL, halo=False))

    def points(x: Floats, y: Floats) -> list[tuple[float, float]]:
        return [
            (across.at(one), up(two))
            for one, two in zip(x.tolist(), y.tolist(), strict=True)
            if two >= bottom
        ]

    low = np.maximum(panel.low, bottom)
    kept = panel.high >= bottom
    upper, lower = (points(panel.line_x[kept], edge[kept]) for edge in (panel.high, low))
    marks.append(path(area(upper, lower), fill=WATER_AHEAD))
    if panel.extra is not None:
        dashed = polyline(points(panel.line_x, panel.extra))
        marks.append(path(dashed, colour=CLAY, width=2, dash="5 3"))
    marks.append(path(polyline(points(panel.line_x, panel.line)), colour=WATER, width=2.5))
    marks += [_dot(x, y) for x, y in points(panel.dots_x, panel.dots)]
    return marks


def _upright(
    panel: Panel, axis: Axis, base: float, top: float
) -> tuple[Callable[[float], float], list[tuple[float, str]]]:
    """The upright scale of one panel as a function, and its ticks."""
    seen = [panel.dots, panel.line, panel.low, panel.high]
    values = np.concatenate([np.ravel(part[~np.isnan(part)]) for part in seen])
    if axis.logarithmic:
        bottom = 10.0 ** np.floor(log10(max(float(values[values > 0].min()), LEAST_SHARE)))
        span = Span(log10(bottom), 0.0, base, top)
        decades = [10.0**power for power in range(round(log10(bottom)), 1)]
        return lambda value: span.at(log10(value)), [(one, _percent(one)) for one in decades]
    low = min(0.0, float(values.min())) if axis.from_zero else float(values.min())
    step = nice_step(float(values.max()) - low)
    first = np.floor(low / step) * step
    last = np.ceil(float(values.max()) / step) * step
    span = Span(first, last, base, top)
    count = round((last - first) / step)
    return span.at, [(first + step * at, plain(first + step * at)) for at in range(count + 1)]


def _percent(share: float) -> str:
    return f"{plain(100 * share)} %"


def _dot(x: float, y: float) -> str:
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.2" fill="{PAPER}" stroke="{INK}" stroke-width="1.6"/>'
