"""The wetness strip: hours of wet leaves day by day, and below them how much each day favours a disease."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from dooryard.letter.drawing.axis import Days, Span, month_axis
from dooryard.letter.drawing.ink import HAIR, INK, PAPER, RULE, SMALL, WATER, text_width
from dooryard.letter.drawing.pen import drawing, key, line, nothing, rect, text
from dooryard.words import range_words

_TOP = 44.0
_WET_DEPTH = 130.0
_BLOCK = 15.0
_MOST = 4
_HOURS = 24
_SCALE = 26.0  # room for the hours at the right


def strip(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """Above: a bar for each day's wet hours, 24 at most. Below: a pile of 0 to 4 blocks, the day's severity value.

    A day that is not known has a question mark in place of both. Nothing hangs on colour.

    chart : ``dates`` (ISO), ``wet`` and ``value`` (numbers or None, one a day), ``today``.
    """
    dates = [date.fromisoformat(day) for day in chart["dates"]]
    if not dates or all(hours is None for hours in chart["wet"]):
        return nothing(chart, width, "Nothing to draw: no day of these has its hours of wet leaves.")
    right = width - _SCALE
    days = Days(dates[0], dates[-1], 0, right)
    wet_base = _TOP + _WET_DEPTH * depth
    up = Span(0, _HOURS, wet_base, _TOP)
    floor = wet_base + 48 + _MOST * _BLOCK
    body = [text(0, 16, "hours of wet leaves", halo=False)]
    for hours in (6, 12, 18, 24):
        body.append(line(0, up.at(hours), right, up.at(hours), colour=HAIR))
        body.append(text(width, up.at(hours) + 5, f"{hours}", anchor="end", size=SMALL, halo=False))
    body.append(text(0, wet_base + 30, "severity value, 0 to 4", halo=False))
    room = days.column - 2
    for day, hours, value in zip(dates, chart["wet"], chart["value"], strict=True):
        x = days.left(day) + 1
        if hours is None:
            body.append(text(days.middle(day), wet_base - 4, "?", anchor="middle", bold=True, halo=False))
        elif hours > 0:
            body.append(rect(x, up.at(hours), room, wet_base - up.at(hours), fill=WATER, outline=INK))
            if text_width("24", SMALL) <= room and hours <= _HOURS - 3:
                words = f"{hours:.0f}"
                body.append(text(days.middle(day), up.at(hours) - 4, words, anchor="middle", size=SMALL))
        body += _pile(days, day, value, floor)
    body.append(line(0, wet_base, right, wet_base, colour=INK))
    body += month_axis(days, _TOP, floor, guides=False)
    words = range_words(dates[0], dates[-1], year=True)
    body.append(text(width, 16, words, anchor="end", halo=False))
    entries = [
        (rect(0, 2, 32, 14, fill=WATER, outline=INK), "wet hours of a day"),
        (rect(10, 2, 13, 13, fill=INK), "one point of severity"),
        (text(16, 16, "?", anchor="middle", bold=True, halo=False), "not known"),
    ]
    legend, high = key(entries, width, floor + 34)
    return drawing(chart, width, floor + 34 + high + 4, [*body, legend])


def _pile(days: Days, day: date, value: float | None, floor: float) -> list[str]:
    """The blocks of one day, hollow up to four so that a glance tells two of four from two."""
    wide = min(days.column - 2, _BLOCK)
    x = days.middle(day) - wide / 2
    if value is None:
        return [text(days.middle(day), floor - 4, "?", anchor="middle", bold=True, halo=False)]
    marks = []
    for block in range(_MOST):
        filled = block < round(value)
        fill, edge = (INK, INK) if filled else (PAPER, RULE)
        marks.append(rect(x, floor - (block + 1) * _BLOCK + 1, wide, _BLOCK - 2, fill=fill, outline=edge))
    return marks
