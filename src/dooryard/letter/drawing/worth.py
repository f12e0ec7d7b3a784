"""The worth steps: what each further barrel would add in a season, in a dry, a middling and a wet year."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from dooryard.letter.drawing.axis import Span, plain, spread
from dooryard.letter.drawing.ink import INK, LABEL, PAPER, WATER, WATER_AHEAD, hatch, text_width, wrap
from dooryard.letter.drawing.pen import drawing, line, name, nothing, path, polyline, rect, text

_TOP = 40.0
_DEPTH = 330.0
_YEARS = ("wet", "middling", "dry")


def worth(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """Three flights of stairs over the same treads: pale for the wet year, hatched middling, solid dry.

    The height of a tread is what that barrel adds; the number stands on it.
    """
    steps = chart["steps"]
    values = [step[year] for step in steps for year in _YEARS if step[year] is not None]
    if not values:
        return nothing(chart, width, "Nothing to draw: no whole year of rain is on record for this storage.")
    names = {year: f"{year} year {chart['years'][year]}" for year in _YEARS}
    margin = max(text_width(part) for year in _YEARS for part in wrap(names[year], 90)) + 16
    tread = (width - margin) / len(steps)
    base = _TOP + _DEPTH * depth
    up = Span(0, max(max(values), 1.0) * 1.05, base, _TOP)
    shade = name(chart, "middling", width)
    fills = {"wet": WATER_AHEAD, "middling": f"url(#{shade})", "dry": WATER}
    body = [text(0, 16, f"added in a season, {chart['unit']}", halo=False)]
    for i in range(len(steps)):
        body += _treads(steps, i, tread, up, fills)
    body.append(line(0, base, width - margin, base, colour=INK, width=2))
    for i, step in enumerate(steps):
        body += _numbers(step, i, tread, up)
        for row, part in enumerate(wrap(step["label"], tread - 6)):
            body.append(text((i + 0.5) * tread, base + 20 + 18 * row, part, anchor="middle", halo=False))
    body += _names(steps[-1], names, width - margin, up)
    deep = max(len(wrap(step["label"], tread - 6)) for step in steps)
    return drawing(chart, width, base + 12 + 18 * deep, body, defs=[hatch(shade)])


def _treads(
    steps: Sequence[Mapping[str, Any]], i: int, tread: float, up: Span, fills: Mapping[str, str]
) -> list[str]:
    """One step's blocks, the highest first, so that a lower one is never hidden whatever its year."""
    known = sorted((year for year in _YEARS if steps[i][year] is not None), key=lambda year: -steps[i][year])
    marks = []
    for year in known:
        left, right, y = i * tread, (i + 1) * tread, up.at(steps[i][year])
        block = polyline([(left, up.start), (left, y), (right, y), (right, up.start)])
        marks.append(path(block, fill=PAPER))
        marks.append(path(block, fill=fills[year], colour=INK, width=2, join="miter"))
    return marks


def _numbers(step: Mapping[str, Any], i: int, tread: float, up: Span) -> list[str]:
    """The amounts, each just above its tread, pushed apart where treads are close.

    Wet above middling above dry goes without saying; in any other order each amount names its year.
    """
    known = [year for year in _YEARS if step[year] is not None]
    usual = known == sorted(known, key=lambda year: step[year], reverse=True)
    rows = spread(
        [up.at(step[year]) - 10 for year in known], [LABEL + 3.0] * len(known), _TOP - 22, up.start - 2
    )
    marks = []
    for year, y in zip(known, rows, strict=True):
        amount = _amount(step, year, usual, tread)
        wide = text_width(amount, LABEL, bold=True) + 6
        # A plate of paper under the number, for it may stand on a hatched or a solid block.
        if y + 7 > up.at(max(step[year] for year in known)):
            marks.append(rect((i + 0.5) * tread - wide / 2, y - 8, wide, 15, fill=PAPER))
        marks.append(text((i + 0.5) * tread, y + 5, amount, anchor="middle", bold=True, halo=False))
    return marks


def _amount(step: Mapping[str, Any], year: str, usual: bool, tread: float) -> str:
    """The amount, with its year's name if that is needed and there is room for it."""
    amount = plain(step[year], 0)
    named = f"{year} {amount}"
    return amount if usual or text_width(named, LABEL, bold=True) > tread else named


def _names(step: Mapping[str, Any], names: Mapping[str, str], x: float, up: Span) -> list[str]:
    """The years' names at the right end of the stairs, each led to its own flight."""
    known = [year for year in _YEARS if step[year] is not None]
    blocks = {year: wrap(names[year], 90) for year in known}
    rows = spread(
        [up.at(step[year]) for year in known],
        [len(blocks[year]) * 18.0 + 8 for year in known],
        _TOP,
        up.start + 24,
    )
    marks: list[str] = []
    for year, y in zip(known, rows, strict=True):
        marks.append(path(f"M{x + 2:.1f} {up.at(step[year]):.1f}L{x + 12:.1f} {y:.1f}", colour=INK))
        first = y - len(blocks[year]) * 9 + 14
        marks += [text(x + 16, first + 18 * i, part, halo=False) for i, part in enumerate(blocks[year])]
    return marks
