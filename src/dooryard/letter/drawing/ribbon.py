"""The rain ribbon: rain hangs from a line, the level or soil store rises from below, gaps stay white."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from dooryard.letter.drawing.axis import Days, Span, month_axis, nice_step, plain, rounded, runs, spread
from dooryard.letter.drawing.gaps import Frame, brackets, white
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
from dooryard.letter.prose import NO_BREAK
from dooryard.words import day_words

_MARGIN = 84.0  # most room for the names of levels at the left

Series = Sequence[float | None]


def ribbon(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """One strip of days. Above: rain, hanging. Below: the level, solid to its low end, hatched to its high.

    A day without a record is left white and says so. From `forecast_from` on the rain bars are hollow.
    depth : share of its usual height.
    """
    if not chart["dates"]:
        return nothing(chart, width, "Nothing to draw: there is no day on record in this stretch.")
    if _empty(chart["rain"]) and _empty(chart["low"]) and _empty(chart["high"]):
        return nothing(chart, width, "Nothing to draw: every day of this stretch is without a record.")
    names = [wrap(_mark_words(mark, chart), _MARGIN) for mark in chart["marks"]]
    named = sum(len(block) * 18.0 + 2 for block in names)
    frame = Frame(92.0 * depth, max(140.0 * depth, named))
    margin = max([text_width(part) for block in names for part in block] + [text_width("0.25 in")]) + 8
    days = Days(_day(chart["dates"][0]), _day(chart["dates"][-1]), margin, width)
    shade = name(chart, "range", width)
    body = [
        *_rain(chart, days, frame),
        *_level(chart, days, shade, names, frame),
        *month_axis(days, frame.rain_top, frame.base, guides=False),
    ]
    body += _today(chart, days, width, frame)
    body.append(_most(chart, days, frame))
    body += white(chart, days, frame)
    entries = [
        (rect(0, 2, 32, 14, fill=WATER), "at least"),
        (rect(0, 2, 32, 14, fill=f"url(#{shade})"), "up to"),
    ]
    if chart["forecast_from"] is not None:
        entries.append((rect(12, 1, 8, 15, fill=PAPER, outline=INK, stroke=1.6), "forecast"))
        if any(
            level is not None and iso >= chart["forecast_from"]
            for iso, level in zip(chart["dates"], chart["low"], strict=True)
        ):
            entries.append((rect(0, 2, 32, 14, fill=WATER_AHEAD), "expected"))
    narrow = brackets(chart, days, frame)
    if narrow:
        bracket = path("M12 9v-5H20v5", colour=INK, width=1.4, join="miter")
        entries.append((bracket, " or ".join(narrow)))
    legend, high = key(entries, width, frame.base + 34)
    return drawing(chart, width, frame.base + 34 + high + 2, [*body, legend], defs=[hatch(shade)])


def _day(iso: str) -> date:
    return date.fromisoformat(iso)


def _empty(series: Series) -> bool:
    return all(value is None for value in series)


def _rain(chart: Mapping[str, Any], days: Days, frame: Frame) -> list[str]:
    rain: Series = chart["rain"]
    down = _down(rain, frame)
    step = nice_step(down.high / 1.08, 2)
    marks = [text(0, frame.rain_top - 10, f"rain each day, {chart['rain_unit']}", halo=False)]
    edges = [
        (chart["dates"][a], chart["dates"][b - 1]) for a, b in runs([value is not None for value in rain])
    ]
    for first, last in edges:
        a, b = days.left(_day(first)), days.right(_day(last))
        marks.append(rect(a, frame.rain_top, b - a, frame.rain_depth, fill=GROUND))
    at = step
    while at <= down.high:
        marks.append(line(days.start, down.at(at), days.end, down.at(at), colour=HAIR))
        marks.append(text(days.start - 8, down.at(at) + 5, plain(at), anchor="end", size=SMALL, halo=False))
        at += step
    ahead = chart["forecast_from"]
    for iso, value in zip(chart["dates"], rain, strict=True):
        if value is not None and value > 0:
            marks.append(_bar(days, _day(iso), down, value, hollow=ahead is not None and iso >= ahead))
    marks.append(line(days.start, frame.rain_top, days.end, frame.rain_top, colour=INK, width=2))
    return marks


def _most(chart: Mapping[str, Any], days: Days, frame: Frame) -> str:
    """The amount of the rainiest day, written at its bar."""
    rain: Series = chart["rain"]
    best = max(range(len(rain)), key=lambda i: rain[i] or 0.0)
    most = rain[best] or 0.0
    if most <= 0:
        return ""
    words = f"{plain(most)} {chart['rain_unit']}"
    return _most_label(days, _day(chart["dates"][best]), _down(rain, frame).at(most), words)


def _down(rain: Series, frame: Frame) -> Span:
    """The scale rain hangs on, with room below the rainiest day."""
    most = max((value for value in rain if value is not None), default=0.0)
    step = nice_step(most, 2) if most > 0 else 1.0
    return Span(0, max(most, step) * 1.08, frame.rain_top, frame.rain_base)


def _bar(days: Days, day: date, down: Span, amount: float, *, hollow: bool) -> str:
    thick = min(max(days.column * 0.62, 1.5), 12)
    x = days.middle(day) - thick / 2
    top, deep = down.start, down.at(amount) - down.start
    if hollow:
        return rect(x, top, thick, deep, fill=PAPER, outline=INK, stroke=1.6)
    return rect(x, top, thick, deep, fill=INK)


def _most_label(days: Days, day: date, end: float, words: str) -> str:
    """The heaviest day's amount, beside the foot of its bar, on the side with more room."""
    away = 10.0
    if days.middle(day) + away + text_width(words) < days.end:
        return text(days.middle(day) + away, end, words)
    return text(days.middle(day) - away, end, words, anchor="end")


def _level(
    chart: Mapping[str, Any], days: Days, shade: str, names: Sequence[Sequence[str]], frame: Frame
) -> list[str]:
    low: Series = chart["low"]
    high: Series = chart["high"]
    tops = [value for value in (*high, *low) if value is not None]
    tops += [mark["value"] for mark in chart["marks"]] + ([chart["capacity"]] if chart["capacity"] else [])
    up = Span(0, max(tops, default=1.0) * 1.04 or 1.0, frame.base, frame.level_top)
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
            marks.append(
                rect(lower[0][0], frame.level_top, lower[-1][0] - lower[0][0], frame.level_depth, fill=GROUND)
            )
            marks.append(path(area(lower, floor), fill=WATER_AHEAD if forecast else WATER))
            marks.append(path(area(upper, lower), fill=f"url(#{shade})"))
            marks.append(path(polyline(lower), colour=INK, width=1.2))
            marks.append(path(polyline(upper), colour=WATER, width=1.5))
    marks.append(text(0, frame.level_top - 14, f"{chart['level_name']}, {chart['level_unit']}", halo=False))
    return marks + _marks(chart, days, up, names, frame)


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


def _marks(
    chart: Mapping[str, Any], days: Days, up: Span, names: Sequence[Sequence[str]], frame: Frame
) -> list[str]:
    """Dashed lines for overflow, outlet, full, stress; each named at the left with its value."""
    levels = [up.at(mark["value"]) for mark in chart["marks"]]
    rows = spread(levels, [len(block) * 18.0 + 2 for block in names], frame.level_top - 6, frame.base + 8)
    drawn: list[str] = []
    for level, block, y in zip(levels, names, rows, strict=True):
        drawn.append(line(days.start - 5, level, days.end, level, colour=INK, width=1.4, dash="7 4"))
        first = y - len(block) * 9 + 14
        drawn += [
            text(days.start - 8, first + 18 * i, part, anchor="end", halo=False)
            for i, part in enumerate(block)
        ]
    return drawn


def _today(chart: Mapping[str, Any], days: Days, width: int, frame: Frame) -> list[str]:
    today = _day(chart["today"])
    # A strip that ends with yesterday still shows where today begins: at its right edge.
    if not days.first <= today <= days.last + timedelta(days=1):
        return []
    x = days.left(today)
    words = f"today, {day_words(today)}"
    wide = text_width(words, LABEL, bold=True)
    marks = [line(x, frame.rain_top - 24, x, frame.base, colour=INK, width=1.2)]
    at = min(max(x - wide / 2, 0), width - wide)
    marks.append(text(at, frame.rain_top - 32, words, bold=True))
    if chart["forecast_from"] is not None:
        y = frame.rain_base + 16
        if days.end - x >= text_width("forecast", SMALL) + 6:
            marks.append(text(x + 5, y, "forecast", size=SMALL))
        else:
            marks.append(text(x - 5, y, "forecast", anchor="end", size=SMALL))
    return marks
