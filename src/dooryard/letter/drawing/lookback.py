"""The look-back: how often ranges held the day, and how far off each rule was, by days ahead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from dooryard.letter.drawing.axis import Span, nice_step, plain, runs
from dooryard.letter.drawing.ink import FAN_OUTER, HAIR, INK, PAPER, RULE, SMALL, text_width
from dooryard.letter.drawing.pen import Point, drawing, key, line, nothing, path, polyline, rect, text

_TOP = 44.0
_HELD_DEPTH, _LOSS_DEPTH, _BETWEEN = 150.0, 210.0, 64.0
_LEFT = 40.0
_STYLES = (("", 3.2, "dot"), ("8 4", 1.8, "square"), ("2 3", 1.8, "ring"), ("12 4 2 4", 1.8, "cross"))


def lookback(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """Above: dots are the share of ranges that held the day, the grey band what may pass for the share they say.

    Below: the mean loss of each rule in days, one line each. A rule's points above the scale are left out, and its
    name says so.

    chart : ``groups`` (names of leads), ``held`` (share or None for each), ``said`` and ``band`` (shares), ``rules``
    (name and ``loss`` for each lead, ours first; at most four).
    """
    groups, rules = chart["groups"], chart["rules"]
    if not any(value is not None for value in chart["held"]):
        return nothing(chart, width, "Nothing to draw: no forecast gave a date within its year.")
    column = (width - _LEFT) / len(groups)
    xs = [_LEFT + (i + 0.5) * column for i in range(len(groups))]
    base = _TOP + _HELD_DEPTH * depth
    body = _held(chart, xs, Span(0.5, 1.0, base, _TOP), width)
    top = base + _BETWEEN
    foot = top + _LOSS_DEPTH * depth
    most = _most(rules)
    body += _losses(rules, xs, Span(0, most, foot, top), width)
    for x, name in zip(xs, groups, strict=True):
        fits = text_width(name, SMALL) <= column - 4
        words = name if fits else name.replace(" to ", "-").replace(" or more", "+").replace("under ", "<")
        body.append(text(x, foot + 18, words, anchor="middle", size=SMALL, halo=False))
    body.append(text(width, foot + 38, "days ahead, as expected", anchor="end", size=SMALL, halo=False))
    entries = [
        (line(0, 9, 32, 9, colour=INK, width=stroke, dash=dash) + _sign((16, 9), sign), _named(rule, most))
        for rule, (dash, stroke, sign) in zip(rules, _STYLES, strict=False)
    ]
    legend, high = key(entries, width, foot + 52)
    return drawing(chart, width, foot + 52 + high + 2, [*body, legend])


def _most(rules: Sequence[Mapping[str, Any]]) -> float:
    """Top of the loss scale: the greatest of the rules but the worst, which may run out of the picture."""
    tops = sorted(max((loss for loss in rule["loss"] if loss is not None), default=0.0) for rule in rules)
    return (tops[-2] if len(tops) > 2 else tops[-1]) * 1.08 or 1.0


def _named(rule: Mapping[str, Any], most: float) -> str:
    beyond = any(loss is not None and loss > most for loss in rule["loss"])
    return f"{rule['name']} (partly above)" if beyond else str(rule["name"])


def _held(chart: Mapping[str, Any], xs: Sequence[float], up: Span, width: int) -> list[str]:
    low, high = chart["band"]
    marks = [text(0, 16, "ranges that held the day, of 100", halo=False)]
    marks.append(rect(_LEFT, up.at(high), width - _LEFT, up.at(low) - up.at(high), fill=FAN_OUTER))
    for share in (0.5, 0.6, 0.7, 0.8, 0.9, 1.0):
        y = up.at(share)
        bold = abs(share - chart["said"]) < 1e-9
        marks.append(line(_LEFT, y, width, y, colour=INK if bold else HAIR, width=1.6 if bold else 1))
        marks.append(text(_LEFT - 8, y + 5, f"{100 * share:.0f}", anchor="end", size=SMALL, halo=False))
    for x, share in zip(xs, chart["held"], strict=True):
        if share is not None:
            held = max(share, up.low)
            marks.append(_sign((x, up.at(held)), "dot"))
            marks.append(text(x + 10, up.at(held) - 7, f"{100 * share:.0f}", size=SMALL, bold=True))
    return marks


def _losses(rules: Sequence[Mapping[str, Any]], xs: Sequence[float], up: Span, width: int) -> list[str]:
    marks = [text(0, up.end - 20, "loss (how far off and how wide), days; lower is better", halo=False)]
    step = nice_step(up.high, 4)
    at = 0.0
    while at <= up.high:
        marks.append(line(_LEFT, up.at(at), width, up.at(at), colour=RULE if at == 0 else HAIR))
        marks.append(text(_LEFT - 8, up.at(at) + 5, plain(at), anchor="end", size=SMALL, halo=False))
        at += step
    # Ours is drawn last, so that it lies on top where lines meet.
    for rule, (dash, stroke, sign) in reversed(list(zip(rules, _STYLES, strict=False))):
        # A line breaks where its rule runs out of the picture, and never joins what it does not show.
        shown = [loss is not None and loss <= up.high for loss in rule["loss"]]
        points = [(x, up.at(loss or 0.0)) for x, loss in zip(xs, rule["loss"], strict=True)]
        for first, end in runs(shown):
            marks.append(path(polyline(points[first:end]), colour=INK, width=stroke, dash=dash))
            marks += [_sign(point, sign) for point in points[first:end]]
    return marks


def _sign(at: Point, kind: str) -> str:
    x, y = at
    if kind == "square":
        return rect(x - 4, y - 4, 8, 8, fill=PAPER, outline=INK, stroke=1.6)
    if kind == "cross":
        return line(x - 4, y - 4, x + 4, y + 4, width=2) + line(x - 4, y + 4, x + 4, y - 4, width=2)
    fill = INK if kind == "dot" else PAPER
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4.5" fill="{fill}" stroke="{INK}" stroke-width="1.6"/>'
