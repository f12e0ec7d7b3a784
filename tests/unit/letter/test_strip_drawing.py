"""The wetness strip: bars as high as their hours, blocks as many as the value, and question marks for the unknown."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any
from xml.etree import ElementTree

import pytest

from dooryard.letter.drawing import COLUMN, NARROW, WIDE, svg
from dooryard.letter.drawing.ink import INK, WATER

SVG = "{http://www.w3.org/2000/svg}"


def chart(wet: list[float | None], value: list[float | None]) -> dict[str, Any]:
    first = date(2031, 6, 1)
    return {
        "kind": "strip",
        "id": "leaves",
        "title": "Wet leaves",
        "words": "Some days.",
        "dates": [(first + timedelta(days=i)).isoformat() for i in range(len(wet))],
        "wet": wet,
        "value": value,
        "today": (first + timedelta(days=len(wet))).isoformat(),
    }


def drawn(wet: list[float | None], value: list[float | None], width: int = WIDE) -> ElementTree.Element:
    return ElementTree.fromstring(svg(chart(wet, value), width))


def rects(root: ElementTree.Element, fill: str) -> list[ElementTree.Element]:
    """The rectangles of a colour, without the swatch of the key."""
    return [one for one in root.findall(f"{SVG}rect") if one.get("fill") == fill]


@pytest.mark.parametrize("width", [WIDE, COLUMN, NARROW])
def test_strip_bars_are_as_high_as_their_hours(width: int) -> None:
    bars = rects(drawn([6.0, 12.0, 24.0], [0.0, 1.0, 4.0], width), WATER)
    heights = [float(bar.get("height", "0")) for bar in bars]
    assert heights[1] == pytest.approx(2 * heights[0], abs=0.05)
    assert heights[2] == pytest.approx(4 * heights[0], abs=0.1)


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_strip_piles_as_many_dark_blocks_as_the_value(width: int) -> None:
    root = drawn([6.0, 12.0, 24.0, 3.0], [0.0, 1.0, 4.0, 2.0], width)
    columns: dict[str, int] = {}
    for block in rects(root, INK):
        columns[block.get("x", "")] = columns.get(block.get("x", ""), 0) + 1
    assert sorted(columns.values()) == [1, 2, 4]


def test_strip_marks_days_that_are_not_known_and_draws_no_bar_for_them() -> None:
    root = drawn([6.0, None, 0.0], [1.0, None, 0.0])
    words = [text.text for text in root.iter(f"{SVG}text")]
    assert words.count("?") == 3  # bar, pile and key
    assert len(rects(root, WATER)) == 1


def test_strip_without_a_known_day_says_so() -> None:
    assert "Nothing to draw" in svg(chart([None, None], [None, None]), WIDE)


def test_strip_of_many_days_keeps_its_letters_legible_and_leaves_numbers_out() -> None:
    root = drawn([float(i % 25) for i in range(120)], [float(i % 5) for i in range(120)])
    sizes = [float(text.get("font-size", "0")) for text in root.iter(f"{SVG}text")]
    assert min(sizes) >= 12
    assert "13" not in [text.text for text in root.iter(f"{SVG}text")]
