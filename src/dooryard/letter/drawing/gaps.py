"""What a rain ribbon leaves white: stretches without a record, each with its words, a bracket, or a key."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from dooryard.letter.drawing.axis import Days, runs
from dooryard.letter.drawing.ink import INK, SMALL, text_width
from dooryard.letter.drawing.pen import path, text


@dataclass(frozen=True)
class Frame:
    """Where the strip's two parts stand: rain from `rain_top` down, the level from `base` up."""

    rain_depth: float
    level_depth: float
    rain_top: float = 50.0

    @property
    def rain_base(self) -> float:
        """The foot of the rain part."""
        return self.rain_top + self.rain_depth

    @property
    def level_top(self) -> float:
        """The top of the level part; what lies between holds the word forecast and the level's name."""
        return self.rain_base + 56

    @property
    def base(self) -> float:
        """The line of days."""
        return self.level_top + self.level_depth


def _unrecorded(chart: Mapping[str, Any], missing: Sequence[bool]) -> list[bool]:
    """Days whose record is missing: only days that are past can have one."""
    return [gone and iso < chart["today"] for iso, gone in zip(chart["dates"], missing, strict=True)]


def _strips(chart: Mapping[str, Any], frame: Frame) -> list[tuple[int, int, float, float, str]]:
    """Every gap as (first, one past the last, top and depth of its strip, its words).

    A day without rain on record has no record. A level may also be unknown for another reason, such as a bed not
    yet planted: where the rain is on record, only that is said.
    """
    rain = _unrecorded(chart, [value is None for value in chart["rain"]])
    level = _unrecorded(
        chart, [a is None or b is None for a, b in zip(chart["low"], chart["high"], strict=True)]
    )
    found = [(a, b, frame.rain_top, frame.rain_depth, "no record") for a, b in runs(rain)]
    found += [
        (a, b, frame.level_top, frame.level_depth, "no record" if all(rain[a:b]) else "not known")
        for a, b in runs(level)
    ]
    return found


def white(chart: Mapping[str, Any], days: Days, frame: Frame) -> list[str]:
    """The words of every gap, or a bracket over one too narrow for words."""
    return [_gap(days, chart["dates"], *strip) for strip in _strips(chart, frame)]


def _gap(days: Days, dates: Sequence[str], first: int, end: int, top: float, depth: float, words: str) -> str:
    """The words in a white gap: level if they fit, or upright, or a bracket the key explains."""
    a, b = days.left(date.fromisoformat(dates[first])), days.right(date.fromisoformat(dates[end - 1]))
    middle = (a + b) / 2
    fit = _fit(words, b - a, depth)
    if fit == "level":
        return text(middle, top + depth * 0.3 + 5, words, anchor="middle", size=SMALL)
    if fit == "two lines":
        upper, lower = words.split(" ")
        return text(middle, top + depth * 0.3 - 4, upper, anchor="middle", size=SMALL) + text(
            middle, top + depth * 0.3 + 13, lower, anchor="middle", size=SMALL
        )
    if fit == "upright":
        return text(middle + 5, top + depth / 2, words, anchor="middle", size=SMALL, turn=-90)
    return path(f"M{a:.1f} {top - 2:.1f}v-5H{b:.1f}v5", colour=INK, width=1.4, join="miter")


def _fit(words: str, room: float, depth: float) -> str:
    """How the words fit into a gap of this width and depth."""
    if room >= text_width(words, SMALL) + 8:
        return "level"
    if room >= max(text_width(part, SMALL) for part in words.split(" ")) + 4:
        return "two lines"
    if room >= SMALL + 2 and depth >= text_width(words, SMALL):
        return "upright"
    return "bracket"


def brackets(chart: Mapping[str, Any], days: Days, frame: Frame) -> list[str]:
    """What the brackets over gaps too narrow for words stand for."""
    found = {
        words: None
        for first, end, _, depth, words in _strips(chart, frame)
        if _fit(words, (end - first) * days.column, depth) == "bracket"
    }
    return list(found)
