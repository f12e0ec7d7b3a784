"""The plan as JSON and its tasks as CSV."""

from __future__ import annotations

import csv
import io
import json
import math
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import data

DOC: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "plan.json").read_text(encoding="utf-8")
)


def rows(doc: dict[str, Any]) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.tasks_csv(doc), newline="")))


def test_json_read_back_is_the_document_in_its_order() -> None:
    text = data.render(DOC)
    assert json.loads(text) == DOC
    assert list(json.loads(text)) == list(DOC)
    assert text.endswith("}\n")


def test_json_keeps_signs_as_they_are() -> None:
    assert "°F·d" in data.render(DOC)


def test_json_number_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="JSON"):
        data.render({**DOC, "charts": [{"low": [math.nan]}]})


def test_csv_has_one_row_a_task_with_days_and_words() -> None:
    found = rows(DOC)
    tasks = [*DOC["tasks"], *DOC["ahead"]]
    assert [(row["from"], row["to"], row["verb"]) for row in found] == [
        (task["from"], task["to"], task["verb"]) for task in tasks
    ]
    assert not any("[[" in cell for row in found for cell in row.values())


def test_csv_spells_figures_and_cautions() -> None:
    (row,) = [row for row in rows(DOC) if row["place"] == "tomato bed"]
    assert row["what"].startswith("Give the tomato bed about 25 gal: first 9 to 15 gal")
    assert row["cautions"].startswith("On vegetables, water the soil")


def test_csv_names_the_organism_as_people_do() -> None:
    names = {organism["id"]: organism["name"] for organism in DOC["organisms"]}
    told = [
        names[task["organism"]] for task in [*DOC["tasks"], *DOC["ahead"]] if task.get("organism") in names
    ]
    assert told
    assert [row["organism"] for row in rows(DOC) if row["organism"]] == told


def test_csv_lines_end_in_crlf() -> None:
    text = data.tasks_csv(DOC)
    assert text.endswith("\r\n")
    assert text.count("\n") == text.count("\r\n")


@pytest.mark.parametrize("start", ["=", "+", "-", "@"])
def test_csv_name_that_a_spreadsheet_would_run_is_quoted(start: str) -> None:
    doc = {**DOC, "tasks": [{**DOC["tasks"][0], "place": f"{start}1+1"}], "ahead": []}
    assert rows(doc)[0]["place"] == f"'{start}1+1"
