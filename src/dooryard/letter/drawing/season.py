"""The season line: a line for each organism or job through this station's year, and today across them all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from dooryard.letter.drawing.axis import Days, month_axis
from dooryard.letter.drawing.ink import CLAY, INK, LABEL, PAPER, RULE, text_width, wrap
from dooryard.letter.drawing.pen import drawing, key, line, nothing, path, rect, text
from dooryard.letter.prose import VERDICTS
from dooryard.words import day_words

_ROW = 60.0
_TIGHTEST = 56.0  # a name, a bar with its notch and a drop, none on the next
_TOP = 34.0
_MORE = 19.0  # for each further line of a long name
_URGENT = ("now", "closing")


def season(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:
    """Thick bar: the likely window. Thin bar: earliest to latest. Notch: the usual window of past years.

    A hair marks today, a hollow drop a sighting; the verdict word stands at the line's end.
    """
    lines = chart["lines"]
    if not lines:
        return nothing(chart, width, "No line to draw: nothing in this yard has a season on file.")
    words_width = max(
        text_width(word, LABEL, bold=True) for word in (*VERDICTS, *(row["word"] for row in lines))
    )
    days = Days(_day(chart["from"]), _day(chart["to"]), 0, width - words_width - 12)
    names = [wrap(row["label"], width) for row in lines]
    tops = [_TOP]
    for name in names:
        tops.append(tops[-1] + max(_ROW * depth, _TIGHTEST) + _MORE * (len(name) - 1))
    base = tops[-1] + 6
    body = month_axis(days, _TOP - 6, base)
    today = _day(chart["today"])
    if days.holds(today):
        x = days.middle(today)
        body.append(line(x, _TOP - 12, x, base, colour=INK, width=1.2))
    for row, name, top in zip(lines, names, tops, strict=False):
        body += _row(row, name, days, top, width)
    if days.holds(today):
        body.append(_today_label(days, today, width))
    legend, high = key(_key_entries(), width, base + 36)
    return drawing(chart, width, base + 36 + high + 4, [*body, legend])


def _day(iso: str) -> date:
    return date.fromisoformat(iso)


def _today_label(days: Days, today: date, width: int) -> str:
    words = f"today, {day_words(today)}"
    half = text_width(words, LABEL, bold=True) / 2
    x = min(max(days.middle(today), half), width - half)
    return text(x, _TOP - 18, words, anchor="middle", bold=True)


def _row(row: Mapping[str, Any], name: Sequence[str], days: Days, top: float, width: int) -> list[str]:
    """One line: its name above it at the left, its bars on it, its word at its end."""
    y = top + 39 + _MORE * (len(name) - 1)
    colour = CLAY if row["word"] in _URGENT else INK
    marks = [line(days.start, y, days.end, y, colour=RULE)]
    usual = _window(days, row["usual_from"], row["usual_to"])
    if usual:
        a, b = usual
        marks.append(
            path(
                f"M{a:.1f} {y + 5:.1f}V{y + 13:.1f}H{b:.1f}V{y + 5:.1f}", colour=INK, width=1.4, join="miter"
            )
        )
    reach = _window(days, row["earliest"], row["latest"])
    if reach:
        marks.append(rect(reach[0], y - 2, max(reach[1] - reach[0], 2), 4, fill=colour))
    likely = _window(days, row["likely_from"], row["likely_to"])
    if likely:
        marks.append(rect(likely[0], y - 7, max(likely[1] - likely[0], 4), 14, fill=colour))
    for sighting in row["sightings"]:
        if days.holds(_day(sighting)):
            marks.append(_drop(days.middle(_day(sighting)), y - 8))
    marks += [text(0, top + 15 + _MORE * i, part) for i, part in enumerate(name)]
    marks.append(text(width, y + 5, row["word"], anchor="end", bold=True, colour=colour, halo=False))
    return marks


def _window(days: Days, first: str | None, last: str | None) -> tuple[float, float] | None:
    """Both edges of a window on the scale; an open end runs to the scale's end; None if it is not on it."""
    if first is None and last is None:
        return None
    start = days.first if first is None else _day(first)
    end = days.last if last is None else _day(last)
    if end < days.first or start > days.last:
        return None
    return days.left(start), days.right(end)


def _drop(x: float, y: float) -> str:
    """A hollow drop with its tip at (x, y)."""
    d = f"M{x:.1f} {y:.1f}c-2 -4 -4.5 -6 -4.5 -9a4.5 4.5 0 1 1 9 0c0 3 -2.5 5 -4.5 9Z"
    return path(d, fill=PAPER, colour=INK, width=1.6)


def _key_entries() -> list[tuple[str, str]]:
    return [
        (rect(0, 2, 32, 14, fill=INK), "likely"),
        (rect(0, 7, 32, 4, fill=INK), "earliest to latest"),
        (path("M1 5V13H31V5", colour=INK, width=1.4, join="miter"), "usual in past years"),
        (_drop(16, 17), "seen in this yard"),
    ]
