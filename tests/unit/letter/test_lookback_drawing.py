"""The drawing of the look-back: dots, lines that break, and a picture that says why it is empty."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree

import pytest

from dooryard.letter.drawing import LARGE, NARROW, WIDE, svg


def chart(**changes: Any) -> dict[str, Any]:
    whole: dict[str, Any] = {
        "id": "x",
        "kind": "lookback",
        "title": "How often the dates were right",
        "words": "Most held.",
        "groups": ["under 15", "15 to 29", "30 or more"],
        "held": [0.86, None, 0.79],
        "said": 0.8,
        "band": [0.72, 0.88],
        "rules": [
            {"name": "ours", "loss": [0.5, 1.0, 1.5]},
            {"name": "years", "loss": [0.6, 1.1, 1.6]},
            {"name": "dates", "loss": [1.8, 1.9, 2.0]},
            {"name": "rate", "loss": [1.4, 9.0, 1.9]},
        ],
    }
    return whole | changes


def words(drawn: str) -> list[str]:
    root = ElementTree.fromstring(drawn)
    return [node.text or "" for node in root.iter() if node.tag.endswith("text")]


@pytest.mark.parametrize("width", [WIDE, LARGE, NARROW])
def test_lookback_names_every_rule_and_every_held_share(width: int) -> None:
    found = words(svg(chart(), width))
    assert {"86", "79", "ours", "years", "dates"} <= set(found)
    assert "80" in found


def test_rule_that_runs_out_of_the_picture_says_so_and_its_line_breaks() -> None:
    drawn = svg(chart())
    assert any(name.endswith("(partly above)") and name.startswith("rate") for name in words(drawn))
    # Of the four rules three have one line through all three groups; the fourth has none, being cut in two points.
    lines = [part for part in drawn.split("<path ") if part.startswith('d="M')]
    assert sum(part.split('"')[1].count("L") == 2 for part in lines) == 3
    assert all(part.split('"')[1].count("L") in (0, 2) for part in lines)


def test_lookback_without_a_single_date_says_why() -> None:
    assert any("Nothing to draw" in part for part in words(svg(chart(held=[None, None, None]))))
