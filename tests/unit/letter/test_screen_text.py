"""The plan in a terminal: order, width, numbers whole, plain signs."""

from __future__ import annotations

import copy
import json
import re
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import few_signs, prose, screen
from dooryard.letter.explain import notes

DOC: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "plan.json").read_text(encoding="utf-8")
)


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("why", [False, True])
@pytest.mark.parametrize("width", [40, 60, 80])
def test_screen_lines_fit_the_width(width: int, why: bool) -> None:
    lines = screen.render(DOC, why=why, width=width).split("\n")
    # A single long word may stand over the edge at 40 columns; at 60 and more nothing does.
    too_long = [line for line in lines if len(line) > width and " " in line.strip()]
    assert too_long == []


def test_screen_says_the_answer_first_and_how_to_see_more_last() -> None:
    lines = screen.render(DOC).rstrip("\n").split("\n")
    headings = [lines[i - 1] for i, line in enumerate(lines) if line and set(line) <= {"-", "="}]
    assert headings[:4] == [
        "Household 12: plan of 20 May 2031",
        "In short",
        "This week, 20 to 26 May",
        "After that, to 9 June",
    ]
    assert all(option in lines[-1] for option in ("--why", "--json", "--out"))


def test_screen_has_no_colour_and_no_box_drawing() -> None:
    text = screen.render(DOC, why=True)
    assert not re.search("[\x1b\u2500-\u259f]", text)


def test_screen_leaves_no_mark_and_no_no_break_space() -> None:
    text = screen.render(DOC, why=True)
    assert "[[" not in text
    assert "\N{NO-BREAK SPACE}" not in text


@pytest.mark.parametrize("width", range(40, 81))
def test_screen_never_breaks_a_number_from_its_unit(width: int) -> None:
    lines = screen.render(DOC, width=width).split("\n")
    units = ("gal", "in", "lb", "sq", "ft", "°F·d", "May", "June", "July", "August", "October")
    for line, following in pairwise(lines):
        first = following.split()[0].strip(".,;:") if following.split() else ""
        assert not (re.search(r"[0-9½]$", line) and first in units), f"{line!r} / {following!r}"


def test_screen_says_every_task_verdict_refusal_and_caution() -> None:
    text = flat(screen.render(DOC))
    for organism in DOC["organisms"]:
        assert organism["word"] in text.lower()
        assert organism["name"].capitalize() in text
    for caution in DOC["cautions"]:
        assert flat(caution["text"]) in text
    for refusal in DOC["refusals"]:
        assert flat(refusal["what"]) in text
    for task in [*DOC["tasks"], *DOC["ahead"]]:
        assert task["place"] in text


def test_screen_gives_each_topic_of_a_stop_its_own_paragraph() -> None:
    stop = next(stop for stop in DOC["walk"] if len(stop["sentences"]) > 1)
    paragraphs = [flat(part) for part in screen.render(DOC).split("\n\n")]
    for topic in stop["sentences"][1:]:
        assert flat(prose.spell(topic, DOC["figures"])) in paragraphs


def test_screen_says_where_the_weather_comes_from_in_one_sentence() -> None:
    assert f"Weather: {prose.station_words(DOC)}" in flat(screen.render(DOC))


def test_screen_numbers_the_choices_under_what_to_do() -> None:
    lines = [line.strip() for line in screen.render(DOC).split("\n")]
    lead = lines.index("Choices, mildest first:")
    assert any(line.startswith("What to do:") for line in lines[lead - 3 : lead])
    assert lines[lead + 1] == "1. Pick off the bags by hand (September to May)."
    assert lines[lead + 2].startswith("2. Bacillus thuringiensis kurstaki on bags")
    assert lines.count("Choices, mildest first:") == 1  # of seven organisms one has choices


def test_screen_with_why_numbers_each_figure_and_explains_it() -> None:
    text = flat(screen.render(DOC, why=True))
    for note in notes(DOC):
        assert f"{note.shown} [{note.number}]" in text
        assert flat(f"[{note.number}] {note.name}: {note.exact}") in text
        assert flat(f"How: {note.method_name}: {note.formula}") in text
        assert flat(f"Source: {note.source} ({note.status})") in text


def test_screen_without_why_has_no_note_numbers() -> None:
    assert not re.search(r"\[[0-9]+\]", screen.render(DOC))


def test_screen_unknown_figure_raises_key_error_with_the_id() -> None:
    doc = {**DOC, "summary": ["It holds [[cellar.level]]."]}
    with pytest.raises(KeyError, match=r"cellar\.level"):
        screen.render(doc)


def test_screen_name_with_control_signs_cannot_move_the_cursor() -> None:
    doc = copy.deepcopy(DOC)
    doc["yard"]["name"] = "Mill\x1b[2J\r\nLane"
    text = screen.render(doc)
    assert "\x1b" not in text
    assert "\r" not in text


def test_screen_table_too_wide_for_the_terminal_becomes_a_list() -> None:
    head = {"text": "Nitrogenfertiliserrate", "align": "right"}
    doc = copy.deepcopy(DOC)
    doc["walk"][0]["table"] = {"caption": "", "columns": [head] * 4, "rows": [["1", "2", "3", "4"]]}
    text = screen.render(doc, width=40)
    assert "Nitrogenfertiliserrate: 4" in text


def test_screen_without_tasks_says_so() -> None:
    assert "Nothing to do." in screen.render({**DOC, "tasks": [], "ahead": []})


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("1½ in", "1 1/2 in"),
        ("½ in", "1/2 in"),
        ("32 °F", "32 deg F"),
        ("480 °F·d", "480 degree-days F"),
        ("5 × 6 − 2", "5 x 6 - 2"),
        ("Peña’s “yard”", 'Pena\'s "yard"'),
        ("日本", "??"),
    ],
)
def test_plain_ascii_keeps_the_meaning(text: str, plain: str) -> None:
    assert few_signs.plain_ascii(text) == plain


def test_plain_ascii_of_the_whole_plan_fits_any_terminal() -> None:
    few_signs.plain_ascii(screen.render(DOC, why=True)).encode("ascii")
