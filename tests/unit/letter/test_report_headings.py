"""A report is the same document as a plan with its own heading, and without the parts it has nothing for."""

from __future__ import annotations

import copy
import json
from datetime import UTC, datetime
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import calendar, leaf, page, screen, sheet

PLAN = json.loads((Path(__file__).parents[2] / "fixtures" / "plan.json").read_text("utf-8"))


def report_document(kind: str, **changes: Any) -> dict[str, Any]:
    """The sample plan as a report."""
    return {**copy.deepcopy(PLAN), "report": kind, **changes}


def bare_report(kind: str, **changes: Any) -> dict[str, Any]:
    """A report of one summary sentence and one part without a number in it, needing no weather."""
    parts = ("tasks", "ahead", "organisms", "refusals", "record", "cautions", "charts")
    words = {"figures": {}, "methods": {}, "sources": {}, "station": None}
    stop = {"id": "a", "kind": "part", "name": "Saw", "sentences": ["Cut it."], "table": None, "charts": []}
    said = {"summary": ["One barrel on blocks."], "walk": [stop]}
    return report_document(kind, **{part: [] for part in parts}, **words, **said, **changes)


@pytest.mark.parametrize(
    ("kind", "words"),
    [("water", "water report"), ("storm", "storm drill"), ("build", "build sheet"), ("kit", "workshop kit")],
)
def test_report_without_a_title_is_called_by_its_kind_and_day(kind: str, words: str) -> None:
    doc = report_document(kind)
    assert f"{words} of 20 May 2031" in screen.render(doc)
    assert f"{words} of 20 May 2031</title>" in page.render(doc)
    assert leaf.view(doc, paper="us-letter", large=False)[0]["title"].endswith(f"{words} of 20 May 2031")
    assert words in calendar.render(doc, stamp=datetime(2031, 5, 20, tzinfo=UTC)).decode().replace(
        "\r\n ", ""
    )


def test_title_of_the_document_stands_in_every_heading() -> None:
    doc = report_document("build", title="barrel and stand, drawn to build")
    assert "barrel and stand, drawn to build" in screen.render(doc).splitlines()[0]
    assert "barrel and stand, drawn to build</title>" in page.render(doc)
    content, _ = leaf.view(doc, paper="us-letter", large=False)
    assert content["title"].endswith("barrel and stand, drawn to build")
    assert content["lead"].startswith("Barrel and stand, drawn to build.")


def test_plan_keeps_its_heading() -> None:
    assert "plan of 20 May 2031" in screen.render(PLAN).splitlines()[0]
    assert f"{PLAN['yard']['name']}: plan of 2031-05-20</title>" in page.render(PLAN)


def test_bare_report_names_no_part_it_does_not_hold() -> None:
    doc = bare_report("kit")
    for text in (screen.render(doc), page.render(doc)):
        for part in (
            "This week",
            "this week",
            "Nothing to do",
            "weather record",
            "Weather:",
            "What we do not say",
        ):
            assert part not in text
        assert "Cut it." in text
    html = page.render(doc)
    for line in html.splitlines():
        if line.startswith('<a href="#'):
            assert f'id="{line.split("#")[1].split(chr(34))[0]}"' in html


def test_bare_report_prints_as_a_tagged_file() -> None:
    pypdf = pytest.importorskip("pypdf")
    found = pypdf.PdfReader(BytesIO(sheet.render(bare_report("kit"))))
    text = "\n".join(each.extract_text() for each in found.pages)
    assert "Cut it." in text
    assert "This week" not in text
    assert "weather record" not in text
    assert found.trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_schema_takes_reports_and_refuses_an_unknown_kind() -> None:
    jsonschema = pytest.importorskip("jsonschema")
    schema = json.loads((files("dooryard.plan") / "plan.schema.json").read_text("utf-8"))
    checker = jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker())
    assert list(checker.iter_errors(bare_report("kit", title="a workshop"))) == []
    assert list(checker.iter_errors(report_document("poster"))) != []


@pytest.mark.parametrize(("kind", "tasks", "goes_on"), [("frost", [], True), ("frost", PLAN["tasks"], False)])
def test_report_with_nothing_to_do_soon_wastes_no_first_page(
    kind: str, tasks: list[dict[str, Any]], goes_on: bool
) -> None:
    content, _ = leaf.view(report_document(kind, tasks=tasks), paper="us-letter", large=False)
    assert content["flows"] is goes_on


def test_title_and_day_on_the_page_are_parted_by_a_comma() -> None:
    doc = report_document("watch", title="what to look for, 20 to 26 May")
    assert "What to look for, 20 to 26 May, made on" in page.render(doc)
