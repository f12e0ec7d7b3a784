"""Why notes: ranges in the yard's units, inputs that point to other notes, sources in words."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import explain

DOC = json.loads((Path(__file__).parents[2] / "fixtures" / "plan.json").read_text(encoding="utf-8"))


def figure(**changes: Any) -> dict[str, Any]:
    return {"value": 0.0, "unit": "L", "exact": "", "low": None, "high": None, **changes}


@pytest.mark.parametrize(
    ("given", "words"),
    [
        # 37.85411784 L are ten US gallons.
        (figure(value=37.85411784, exact="10.0 gal", low=18.92705892, high=75.70823568), "5.0 to 20.0 gal"),
        (figure(value=25.4, unit="mm", exact="1.00 in a day", low=12.7, high=50.8), "0.50 to 2.00 in a day"),
        # A temperature has its zero elsewhere: 0, 10 and 20 degC are 32, 50 and 68 degF.
        (figure(value=10.0, unit="degC", exact="50 °F", low=0.0, high=20.0), "32 to 68 °F"),
        # A difference has not: 5, 10 and 20 degC are 9, 18 and 36 degF.
        (figure(value=10.0, unit="degC", exact="18 °F", low=5.0, high=20.0), "9 to 36 °F"),
        (
            figure(value="2031-06-07", unit="date", exact="7 June 2031", low="2031-06-06", high="2031-06-08"),
            "6 to 8 June 2031",
        ),
        (figure(value=1.0, exact="14.2 to 20.4 gal", low=0.5, high=1.5), ""),
        (figure(value=0.0, exact="0 gal", low=0.0, high=1.0), ""),
        (figure(value=1.0, exact="1 gal"), ""),
        (figure(value=1.0, exact="1 gal", low=1.0, high=1.0), ""),
    ],
)
def test_figure_range_stands_in_the_units_of_its_exact_text(given: dict[str, Any], words: str) -> None:
    assert explain.figure_range(given) == words


def test_exact_words_say_a_day_in_words_and_leave_other_texts() -> None:
    assert explain.exact_words(figure(unit="date", exact="2031-06-07")) == "7 June 2031"
    assert explain.exact_words(figure(unit="date", exact="unknown")) == "unknown"
    assert explain.exact_words(figure(exact="2031-06-07")) == "2031-06-07"


def test_notes_are_numbered_in_order_without_gaps() -> None:
    numbers = [note.number for note in explain.notes(DOC)]
    assert numbers == list(range(1, len(numbers) + 1))


def test_notes_hold_formula_source_and_status_of_the_method() -> None:
    for note in explain.notes(DOC):
        method = DOC["methods"][DOC["figures"][note.figure]["method"]]
        assert (note.formula, note.status) == (method["formula"], method["status"])
        assert str(DOC["sources"][method["source"]]["title"]) in note.source


def test_note_inputs_name_the_note_of_another_figure() -> None:
    notes = {note.figure: note for note in explain.notes(DOC)}
    level = notes["storage.back-barrel.level"].number
    assert notes["storage.back-barrel.usable"].inputs[0] == f"level: 14.2 to 20.4 gal (note {level})"


def test_note_inputs_name_a_source_by_author_and_year() -> None:
    notes = {note.figure: note for note in explain.notes(DOC)}
    assert "(State water development board 2005)" in notes["roof.north.per_inch"].inputs[1]


def test_source_words_keep_plain_words() -> None:
    assert explain.source_words(DOC, "yard file") == "yard file"


def test_stage_words_say_sum_dates_and_source() -> None:
    row = DOC["organisms"][2]["rows"][0]
    assert explain.stage_words(DOC, row) == (
        "630 °F·d, single sine, base 50 °F, from 1 January; now 478 °F·d; 28 May to 4 June, "
        "most likely 31 May (State university, horticulture 2004; seen)."
    )


def test_stage_words_without_a_sum_say_so() -> None:
    row = {
        **DOC["organisms"][2]["rows"][0],
        "sum_now": None,
        "earliest": None,
        "likely": None,
        "latest": None,
    }
    assert "; the sum today is not known; no date yet (" in explain.stage_words(DOC, row)


def test_status_words_explain_every_status_of_the_tables() -> None:
    assert {method["status"] for method in DOC["methods"].values()} <= set(explain.STATUS_WORDS)
