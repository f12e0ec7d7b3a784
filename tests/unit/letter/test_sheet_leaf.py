"""What goes on paper: cautions once, drawings that tell something, shared inputs and methods told once."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import appendix, explain, leaf

DOC: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "plan.json").read_text(encoding="utf-8")
)


def ribbon(known: int, days: int) -> dict[str, Any]:
    dates = [f"2031-05-{day:02}" for day in range(1, days + 1)]
    high: list[float | None] = [None] * (days - known) + [4.0] * known
    return {"kind": "ribbon", "dates": dates, "high": high, "today": "2031-05-21"}


@pytest.mark.parametrize(("known", "enough"), [(0, False), (4, False), (5, True), (20, True)])
def test_ribbon_of_twenty_days_is_printed_from_five_known_days_on(known: int, enough: bool) -> None:
    assert leaf.tells_enough(ribbon(known, 20)) is enough


def test_ribbon_counts_past_days_alone() -> None:
    ahead = ribbon(4, 30)
    assert ahead["high"][-4:] == [4.0] * 4
    assert leaf.tells_enough(ahead) is False


@pytest.mark.parametrize(("dry", "enough"), [(0, False), (None, False), (3, True)])
def test_flat_steps_are_not_printed(dry: int | None, enough: bool) -> None:
    step = {"label": "one more", "dry": dry, "middling": 0, "wet": 0}
    chart = {"kind": "worth", "years": {"dry": 2012, "middling": 2007, "wet": 2018}, "steps": [step]}
    assert leaf.tells_enough(chart) is enough


def test_drawing_left_to_the_page_is_named() -> None:
    doc = copy.deepcopy(DOC)
    chart = next(chart for chart in doc["charts"] if chart["kind"] == "ribbon")
    chart["high"] = [None] * len(chart["high"])
    content, files = leaf.view(doc, paper="us-letter", large=False)
    assert content["charts_left"].replace("\N{NO-BREAK SPACE}", " ").endswith(f": {chart['title']}.")
    assert len(files) == len(doc["charts"]) - 1
    assert leaf.view(DOC, paper="us-letter", large=False)[0]["charts_left"] is None


def test_paragraphs_join_short_topics_and_keep_every_word() -> None:
    topics = ["Short one.", "x" * leaf.PARAGRAPH, "Another."]
    assert leaf.paragraphs(topics) == [f"Short one. {topics[1]}", "Another."]
    assert leaf.paragraphs([]) == []


def test_cautions_are_parted_into_week_always_and_later_each_once() -> None:
    content, _ = leaf.view(DOC, paper="us-letter", large=False)
    parts = [*content["cautions"], *content["later_cautions"]]
    texts = [item["text"][0]["t"] for part in parts for item in part["items"]]
    assert len(texts) == len(DOC["cautions"])
    assert len(set(texts)) == len(texts)
    letters = [item["letter"] for part in parts for item in part["items"] if item["letter"]]
    assert letters == [chr(ord("A") + i) for i in range(len(letters))]


def shared_input(times: int) -> dict[str, Any]:
    """The document with one long input given to its first `times` figures in reading order."""
    doc = copy.deepcopy(DOC)
    numbers = [note.figure for note in explain.notes(doc)][:times]
    for key in numbers:
        doc["figures"][key]["inputs"] = [
            {"name": "years of this station", "shown": "29 whole years", "source": "the yard file"}
        ]
    return doc


def test_input_of_several_numbers_is_told_once() -> None:
    why = appendix.view(shared_input(2))
    told = [entry for entry in why["shared"] if "29 whole years" in entry["text"]]
    assert [entry["text"] for entry in told] == ["Years of this station: 29 whole years (Y)."]
    assert [note["text"].startswith(f"From {told[0]['key']}.") for note in why["notes"][:2]] == [True, True]


def test_input_of_one_number_stands_with_it() -> None:
    why = appendix.view(shared_input(1))
    assert "From years of this station: 29 whole years (Y)." in why["notes"][0]["text"]
    assert not any("29 whole years" in entry["text"] for entry in why["shared"])


def test_stage_table_names_its_way_of_summing_by_a_mark_below() -> None:
    why = appendix.view(DOC)
    rows = [row for organism in DOC["organisms"] for row in organism["rows"]]
    table = why["stages"]
    assert sum(len(group["rows"]) for group in table["groups"]) == len(rows)
    for group in table["groups"]:
        for cells in group["rows"]:
            assert cells[4] == "" or f"{cells[4]}: " in table["ways"]
