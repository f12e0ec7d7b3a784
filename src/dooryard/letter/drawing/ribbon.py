"""The rain ribbon: rain hangs from a line, the level or soil store rises from below, gaps stay white."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from dooryard.letter.drawing.axis import Days, Span, month_axis, nice_step, plain, rounded, runs, spread
from dooryard.letter.drawing.ink import (
    GROUND,
    HAIR,
    INK,
    LABEL,
    PAPER,
    SMALL,
    WATER,
    WATER_AHEAD,
    hatch,
    text_width,
    wrap,
)
from dooryard.letter.drawing.pen import (
    Point,
    area,
    drawing,
    key,
    line,
    name,
    nothing,
    path,
    polyline,
    rect,
    text,
)
from dooryard.letter.prose import NO_BREAK, day_words

_RAIN_TOP = 50.0
_RAIN_DEPTH = 92.0
_LEVEL_TOP = _RAIN_TOP + _RAIN_DEPTH + 56
_LEVEL_DEPTH = 140.0
_BASE = _LEVEL_TOP + _LEVEL_DEPTH
_MARGIN = 84.0  # most room for the names of levels at the left

Series = Sequence[float | None]


def ribbon(chart: Mapping[str, Any], width: int) -> str:
    """One strip of days. Above: rain, hanging. Below: the level, solid to its low end, hatched to its high.

    A day without a record is left white and says so. From `forecast_from` on the rain bars are hollow.
    """
    if not chart["dates"]:
        return nothing(chart, width, "Nothing to draw: there is no day on record in this stretch.")
    if _empty(chart["rain"]) and _empty(chart["low"]) and _empty(chart["high"]):
        return nothing(chart, width, "Nothing to draw: every day of this stretch is without a record.")
    names = [wrap(_mark_words(mark, chart), _MARGIN) for mark in chart["marks"]]
    margin = max([text_width(part) for block in names for part in block] + [text_width("0.25 in")]) + 8
    days = Days(_day(chart["dates"][0]), _day(chart["dates"][-1]), margin, width)
    shade = name(chart, "range", width)
    body = [
        *_rain(chart, days),
        *_level(chart, days, shade, names),
        *month_axis(days, _RAIN_TOP, _BASE, guides=False),
    ]
    body += _today(chart, days, width)
    entries = [
        (rect(0, 2, 32, 14, fill=WATER), "at least"),
        (rect(0, 2, 32, 14, fill=f"url(#{shade})"), "up to"),
    ]
    if chart["forecast_from"] is not None:
        entries.append((rect(12, 1, 8, 15, fill=PAPER, outline=INK, stroke=1.6), "forecast rain"))
        if any(
            level is not None and iso >= chart["forecast_from"]
            for iso, level in zip(chart["dates"], chart["low"], strict=True)
        ):
            entries.append((rect(0, 2, 32, 14, fill=WATER_AHEAD), "expected"))
    if _narrow_gap(chart, days):
        bracket = path("M12 9v-5H20v5", colour=INK, width=1.4, join="miter")
        entries.append((bracket, "no record"))
    legend, depth = key(entries, width, _BASE + 34)
    return drawing(chart, width, _BASE + 34 + depth + 2, [*body, legend], defs=[hatch(shade)])


def _day(iso: str) -> date:
    return date.fromisoformat(iso)


def _empty(series: Series) -> bool:
    return all(value is None for value in series)


def _rain(chart: Mapping[str, Any], days: Days) -> list[str]:
    rain: Series = chart["rain"]
    known = [value for value in rain if value is not None]
    most = max(known, default=0.0)
    step = nice_step(most, 2) if most > 0 else 1.0
    down = Span(0, max(most, step) * 1.08, _RAIN_TOP, _RAIN_TOP + _RAIN_DEPTH)
    marks = [text(0, _RAIN_TOP - 10, f"rain each day, {chart['rain_unit']}", halo=False)]
    edges = [
        (chart["dates"][a], chart["dates"][b - 1]) for a, b in runs([value is not None for value in rain])
    ]
    for first, last in edges:
        a, b = days.left(_day(first)), days.right(_day(last))
        marks.append(rect(a, _RAIN_TOP, b - a, _RAIN_DEPTH, fill=GROUND))
    at = step
    while at <= down.high:
        marks.append(line(days.start, down.at(at), days.end, down.at(at), colour=HAIR))
        marks.append(text(days.start - 8, down.at(at) + 5, plain(at), anchor="end", size=SMALL, halo=False))
        at += step
    ahead = chart["forecast_from"]
    for iso, value in zip(chart["dates"], rain, strict=True):
        if value is not None and value > 0:
            marks.append(_bar(days, _day(iso), down.at(value), hollow=ahead is not None and iso >= ahead))
    marks += [
        _gap(days, chart["dates"], a, b, _RAIN_TOP, _RAIN_DEPTH)
        for a, b in runs(_unrecorded(chart, [value is None for value in rain]))
    ]
    marks.append(line(days.start, _RAIN_TOP, days.end, _RAIN_TOP, colour=INK, width=2))
    if most > 0:
        best = max(range(len(rain)), key=lambda i: rain[i] or 0.0)
        marks.append(
            _most_label(
                days, _day(chart["dates"][best]), down.at(most), f"{plain(most)} {chart['rain_unit']}"
            )
        )
    return marks


def _bar(days: Days, day: date, end: float, *, hollow: bool) -> str:
    thick = min(max(days.column * 0.62, 1.5), 12)
    x = days.middle(day) - thick / 2
    if hollow:
        return rect(x, _RAIN_TOP, thick, end - _RAIN_TOP, fill=PAPER, outline=INK, stroke=1.6)
    return rect(x, _RAIN_TOP, thick, end - _RAIN_TOP, fill=INK)


def _most_label(days: Days, day: date, end: float, words: str) -> str:
    """The heaviest day's amount, beside the foot of its bar, on the side with more room."""
    away = 10.0
    if days.middle(day) + away + text_width(words) < days.end:
        return text(days.middle(day) + away, end, words)
    return text(days.middle(day) - away, end, words, anchor="end")


def _unrecorded(chart: Mapping[str, Any], missing: Sequence[bool]) -> list[bool]:
    """Days whose record is missing: only days that are past can have one."""
    return [gone and iso < chart["today"] for iso, gone in zip(chart["dates"], missing, strict=True)]


def _gap(days: Days, dates: Sequence[str], first: int, end: int, top: float, depth: float) -> str:
    """The words 'no record' in a white gap: level if they fit, or upright, or a bracket the key explains."""
    a, b = days.left(_day(dates[first])), days.right(_day(dates[end - 1]))
    middle = (a + b) / 2
    words = "no record"
    fit = _fit(b - a, depth)
    if fit == "level":
        return text(middle, top + depth / 2 + 5, words, anchor="middle", size=SMALL)
    if fit == "two lines":
        upper = text(middle, top + depth / 2 - 4, "no", anchor="middle", size=SMALL)
        return upper + text(middle, top + depth / 2 + 13, "record", anchor="middle", size=SMALL)
    if fit == "upright":
        return text(middle + 5, top + depth / 2, words, anchor="middle", size=SMALL, turn=-90)
    return path(f"M{a:.1f} {top - 2:.1f}v-5H{b:.1f}v5", colour=INK, width=1.4, join="miter")


def _fit(room: float, depth: float) -> str:
    """How the words 'no record' fit into a gap of this width and depth."""
    if room >= text_width("no record", SMALL) + 8:
        return "level"
    if room >= text_width("record", SMALL) + 4:
        return "two lines"
    if room >= SMALL + 2 and depth >= text_width("no record", SMALL):
        return "upright"
    return "bracket"


def _narrow_gap(chart: Mapping[str, Any], days: Days) -> bool:
    """Whether some gap is too narrow for words, so that the key has to say what a bracket means."""
    levels = [a is None or b is None for a, b in zip(chart["low"], chart["high"], strict=True)]
    strips = (([value is None for value in chart["rain"]], _RAIN_DEPTH), (levels, _LEVEL_DEPTH))
    return any(
        _fit((end - first) * days.column, depth) == "bracket"
        for missing, depth in strips
        for first, end in runs(_unrecorded(chart, missing))
    )


def _level(chart: Mapping[str, Any], days: Days, shade: str, names: Sequence[Sequence[str]]) -> list[str]:
    low: Series = chart["low"]
    high: Series = chart["high"]
    tops = [value for value in (*high, *low) if value is not None]
    tops += [mark["value"] for mark in chart["marks"]] + ([chart["capacity"]] if chart["capacity"] else [])
    up = Span(0, max(tops, default=1.0) * 1.04 or 1.0, _BASE, _LEVEL_TOP)
    marks: list[str] = []
    missing = [a is None or b is None for a, b in zip(low, high, strict=True)]
    ahead = chart["forecast_from"]
    known = [
        None if gone else ahead is not None and iso >= ahead
        for iso, gone in zip(chart["dates"], missing, strict=True)
    ]
    for forecast in (False, True):
        for first, end in runs([part is forecast for part in known]):
            lower, upper, floor = _band(chart["dates"], low, high, days, up, first, end)
            marks.append(rect(lower[0][0], _LEVEL_TOP, lower[-1][0] - lower[0][0], _LEVEL_DEPTH, fill=GROUND))
            marks.append(path(area(lower, floor), fill=WATER_AHEAD if forecast else WATER))
            marks.append(path(area(upper, lower), fill=f"url(#{shade})"))
            marks.append(path(polyline(lower), colour=INK, width=1.2))
            marks.append(path(polyline(upper), colour=WATER, width=1.5))
    marks += [
        _gap(days, chart["dates"], a, b, _LEVEL_TOP, _LEVEL_DEPTH)
        for a, b in runs(_unrecorded(chart, missing))
    ]
    marks.append(text(0, _LEVEL_TOP - 14, f"{chart['level_name']}, {chart['level_unit']}", halo=False))
    return marks + _marks(chart, days, up, names)


def _band(
    dates: Sequence[str], low: Series, high: Series, days: Days, up: Span, first: int, end: int
) -> tuple[list[Point], list[Point], list[Point]]:
    """Lower and upper edge of the level over one unbroken run of days, as steps, and the floor below."""
    lower: list[Point] = []
    upper: list[Point] = []
    for iso, a, b in zip(dates[first:end], low[first:end], high[first:end], strict=True):
        if a is None or b is None:
            continue
        for x in (days.left(_day(iso)), days.right(_day(iso))):
            lower.append((x, up.at(a)))
            upper.append((x, up.at(b)))
    return lower, upper, [(x, up.start) for x, _ in lower]


def _mark_words(mark: Mapping[str, Any], chart: Mapping[str, Any]) -> str:
    return f"{mark['label']} {rounded(mark['value'])}{NO_BREAK}{chart['level_unit']}"


def _marks(chart: Mapping[str, Any], days: Days, up: Span, names: Sequence[Sequence[str]]) -> list[str]:
    """Dashed lines for overflow, outlet, full, stress; each named at the left with its value."""
    levels = [up.at(mark["value"]) for mark in chart["marks"]]
    rows = spread(levels, [len(block) * 18.0 + 2 for block in names], _LEVEL_TOP - 6, _BASE + 8)
    drawn: list[str] = []
    for level, block, y in zip(levels, names, rows, strict=True):
        drawn.append(line(days.start - 5, level, days.end, level, colour=INK, width=1.4, dash="7 4"))
        first = y - len(block) * 9 + 14
        drawn += [
            text(days.start - 8, first + 18 * i, part, anchor="end", halo=False)
            for i, part in enumerate(block)
        ]
    return drawn


def _today(chart: Mapping[str, Any], days: Days, width: int) -> list[str]:
    today = _day(chart["today"])
    # A strip that ends with yesterday still shows where today begins: at its right edge.
    if not days.first <= today <= days.last + timedelta(days=1):
        return []
    x = days.left(today)
    words = f"today, {day_words(today)}"
    wide = text_width(words, LABEL, bold=True)
    marks = [line(x, _RAIN_TOP - 24, x, _BASE, colour=INK, width=1.2)]
    at = min(max(x - wide / 2, 0), width - wide)
    marks.append(text(at, _RAIN_TOP - 32, words, bold=True))
    if chart["forecast_from"] is not None:
        y = _RAIN_TOP + _RAIN_DEPTH + 16
        if days.end - x >= text_width("forecast", SMALL) + 6:
            marks.append(text(x + 5, y, "forecast", size=SMALL))
        else:
            marks.append(text(x - 5, y, "forecast", anchor="end", size=SMALL))
    return marks
