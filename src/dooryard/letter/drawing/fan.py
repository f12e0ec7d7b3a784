"""The fan: heat so far as a line, this station's own years ahead as greys, thresholds as labelled dashes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from dooryard.letter.drawing.axis import Days, Span, month_axis, nice_step, plain, runs, spread
from dooryard.letter.drawing.ink import FAN_INNER, FAN_OUTER, INK, LABEL, RULE, SMALL, text_width, wrap
from dooryard.letter.drawing.pen import Point, area, drawing, key, line, nothing, path, polyline, rect, text
from dooryard.words import day_words, list_words, range_words

_TOP = 56.0
_DEPTH = 340.0  # more if many thresholds need room for their names

Series = Sequence[float | None]


def fan(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """Solid line: the sum so far. Light grey: 10 to 90 of 100 years. Dark grey: the middle half of them."""
    chart = {"usual_low": [], "usual_high": [], **chart}
    parts = ("observed", "p10", "p90", "p50", "usual_high")
    every = [value for part in parts for value in chart[part] if value is not None]
    if not every:
        return nothing(chart, width, "Nothing to draw: the heat sum of this year is not known.")
    most = max(every + [mark["value"] for mark in chart["thresholds"]])
    margin = text_width(plain(most * 1.06), SMALL) + 12
    days = Days(_day(chart["dates"][0]), _day(chart["dates"][-1]), 0, width - margin)
    names = _names(chart, days)
    base = _TOP + max(_DEPTH * depth, sum(_name_height(name) for name in names))
    up = Span(0, most * 1.06 or 1.0, base, _TOP)
    body = [*_scale(chart, up, days, width), *month_axis(days, _TOP, base)]
    body.append(path(_between(chart, days, up, "p10", "p90"), fill=FAN_OUTER))
    body.append(path(_between(chart, days, up, "p25", "p75"), fill=FAN_INNER))
    for part in ("usual_low", "usual_high"):
        body += [path(d, colour=INK, width=0.8) for d in _lines(chart, days, up, part)]
    body += [path(d, colour=INK, width=1.6, dash="2 3") for d in _lines(chart, days, up, "p50")]
    body += [path(d, colour=INK, width=3.2) for d in _lines(chart, days, up, "observed")]
    body += _today(chart, days, up, width)
    body += _thresholds(chart, names, days, up)
    legend, high = key(_key_entries(chart), width, base + 34)
    return drawing(chart, width, base + 34 + high + 2, [*body, legend])


def _day(iso: str) -> date:
    return date.fromisoformat(iso)


def _key_entries(chart: Mapping[str, Any]) -> list[tuple[str, str]]:
    entries = [
        (line(0, 9, 32, 9, colour=INK, width=3.2), "so far"),
        (line(0, 9, 32, 9, colour=INK, width=1.6, dash="2 3"), "middle of past years"),
        (rect(0, 2, 32, 14, fill=FAN_INNER), "half of the years"),
        (rect(0, 2, 32, 14, fill=FAN_OUTER), "80 of 100 years"),
    ]
    if any(value is not None for value in chart["usual_low"]):
        thin = line(0, 4, 32, 4, colour=INK, width=0.8) + line(0, 14, 32, 14, colour=INK, width=0.8)
        entries.append((thin, "8 of 10 past years"))
    gaps = _gaps(chart)
    if gaps:
        named = gaps if len(gaps) <= 3 else [*gaps[:2], f"{len(gaps) - 2} more"]
        broken = line(0, 9, 12, 9, colour=INK, width=3.2) + line(20, 9, 32, 9, colour=INK, width=3.2)
        entries.append((broken, f"no record: {list_words(named)}"))
    return entries


def _scale(chart: Mapping[str, Any], up: Span, days: Days, width: int) -> list[str]:
    """The scale at the right edge, where the fan ends."""
    marks = [line(days.end, up.end, days.end, up.start, colour=RULE)]
    step = nice_step(up.high, 4)
    at = step
    while at <= up.high:
        marks.append(line(days.end, up.at(at), days.end + 5, up.at(at), colour=RULE))
        marks.append(text(days.end + 8, up.at(at) + 5, plain(at), size=SMALL, halo=False))
        at += step
    # The name of the scale stands over its numbers; the row above it belongs to today's date.
    marks.append(text(width, _TOP - 10, f"heat sum, {chart['unit']}", anchor="end"))
    return marks


def _points(chart: Mapping[str, Any], days: Days, up: Span, part: str) -> list[Point | None]:
    return [
        None if value is None else (days.middle(_day(iso)), up.at(value))
        for iso, value in zip(chart["dates"] if chart[part] else (), chart[part], strict=True)
    ]


def _between(chart: Mapping[str, Any], days: Days, up: Span, low: str, high: str) -> str:
    """Path data of the area between two percentiles, over the days that have both."""
    pairs = zip(_points(chart, days, up, low), _points(chart, days, up, high), strict=True)
    both = [(a, b) for a, b in pairs if a is not None and b is not None]
    return area([b for _, b in both], [a for a, _ in both])


def _lines(chart: Mapping[str, Any], days: Days, up: Span, part: str) -> list[str]:
    points = _points(chart, days, up, part)
    found = []
    for first, end in runs([point is not None for point in points]):
        found.append(polyline([point for point in points[first:end] if point is not None]))
    return found


def _gaps(chart: Mapping[str, Any]) -> list[str]:
    """Breaks in the line so far, as days; before its first and after its last reading there is no break."""
    observed: Series = chart["observed"]
    known = [i for i, value in enumerate(observed) if value is not None]
    return [
        range_words(chart["dates"][first], chart["dates"][end - 1])
        for first, end in runs([value is None for value in observed])
        if known and known[0] < first and end <= known[-1]
    ]


def _names(chart: Mapping[str, Any], days: Days) -> list[list[str]]:
    """The thresholds' names with their values, in lines that fit into the left of the drawing."""
    room = (days.end - days.start) * 0.42
    return [wrap(f"{mark['label']}, {plain(mark['value'])}", room, SMALL) for mark in chart["thresholds"]]


def _name_height(name: Sequence[str]) -> float:
    return len(name) * 16.0 + 4


def _thresholds(chart: Mapping[str, Any], names: Sequence[Sequence[str]], days: Days, up: Span) -> list[str]:
    """Dashes, each led to its name at the left, where the sum of the year is still low."""
    found = chart["thresholds"]
    end = max((text_width(part, SMALL) for name in names for part in name), default=0.0)
    rows = spread(
        [up.at(mark["value"]) for mark in found],
        [_name_height(name) for name in names],
        _TOP - 4,
        up.start - 4,
    )
    marks: list[str] = []
    for mark, name, y in zip(found, names, rows, strict=True):
        level = up.at(mark["value"])
        marks.append(path(f"M{end + 5:.1f} {y:.1f}L{end + 25:.1f} {level:.1f}", colour=INK))
        marks.append(line(end + 25, level, days.end, level, colour=INK, width=1.2, dash="8 4"))
        first = y - len(name) * 8 + 13
        marks += [text(end, first + 16 * i, part, anchor="end", size=SMALL) for i, part in enumerate(name)]
    return marks


def _today(chart: Mapping[str, Any], days: Days, up: Span, width: int) -> list[str]:
    """The hair for today, its date above it, the sum so far at the end of its line."""
    today = _day(chart["today"])
    # Days that end with yesterday still show where today begins: at their right edge.
    if not days.first <= today <= days.last + timedelta(days=1):
        return []
    x = days.left(today)
    words = f"today, {day_words(today)}"
    half = text_width(words, LABEL, bold=True) / 2
    at = min(max(x, half), width - half)
    marks = [line(x, _TOP - 32, x, up.start, colour=INK, width=1.2)]
    marks.append(text(at, _TOP - 38, words, anchor="middle", bold=True))
    known = [value for value in chart["observed"] if value is not None]
    if known:
        y = min(up.at(known[-1]) + 20, up.start - 6)
        marks.append(text(x + 8, y, f"{plain(known[-1], 0)} so far", bold=True))
    return marks
