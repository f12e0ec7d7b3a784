"""The published schema takes the sample plan and refuses what no renderer could print."""

from __future__ import annotations

import copy
import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

jsonschema = pytest.importorskip("jsonschema")

PLAN = json.loads((Path(__file__).parents[2] / "fixtures" / "plan.json").read_text("utf-8"))
SCHEMA = json.loads((files("dooryard.plan") / "plan.schema.json").read_text("utf-8"))


def faults(doc: Any) -> list[str]:
    checker = jsonschema.Draft202012Validator(SCHEMA, format_checker=jsonschema.FormatChecker())
    return [
        f"{'.'.join(str(part) for part in fault.path)}: {fault.message}" for fault in checker.iter_errors(doc)
    ]


def changed(*path: str | int, value: Any) -> Any:
    doc = copy.deepcopy(PLAN)
    part = doc
    for step in path[:-1]:
        part = part[step]
    part[path[-1]] = value
    return doc


def test_schema_is_itself_valid() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_schema_takes_the_sample_plan() -> None:
    assert faults(PLAN) == []


@pytest.mark.parametrize(
    "doc",
    [
        pytest.param(changed("schema", value="dooryard-plan-2"), id="another-schema"),
        pytest.param(changed("colour", value="green"), id="unknown-field"),
        pytest.param(changed("on", value="20 May 2031"), id="date-in-words"),
        pytest.param(changed("on", value="2031-02-30"), id="no-such-day"),
        pytest.param(changed("units", value="imperial"), id="unknown-units"),
        pytest.param(changed("tasks", 0, "verb", value="Spray"), id="fifth-verb"),
        pytest.param(changed("tasks", 0, "note", value=""), id="unknown-field-of-a-task"),
        pytest.param(changed("organisms", 0, "word", value="maybe"), id="eighth-verdict-word"),
        pytest.param(changed("organisms", 0, "rows", 0, "status", value="sure"), id="unknown-status"),
        pytest.param(changed("charts", 0, "kind", value="dial"), id="unknown-drawing"),
        pytest.param(changed("charts", 0, "rain", 0, value="wet"), id="word-for-a-number"),
        pytest.param(
            changed("walk", 0, "table", value={"caption": "", "columns": [], "rows": []}), id="no-columns"
        ),
        pytest.param({key: value for key, value in PLAN.items() if key != "refusals"}, id="no-refusals"),
    ],
)
def test_schema_refuses_what_no_renderer_could_print(doc: Any) -> None:
    assert faults(doc)


def test_schema_every_object_is_closed() -> None:
    """No object of the document may carry fields the schema does not know, save the maps keyed by id."""
    open_maps = []

    def walk(part: Any, path: str) -> None:
        if isinstance(part, dict):
            if part.get("type") == "object" and part.get("additionalProperties") is not False:
                open_maps.append(path)
            for key, value in part.items():
                walk(value, f"{path}/{key}")
        elif isinstance(part, list):
            for i, value in enumerate(part):
                walk(value, f"{path}/{i}")

    walk(SCHEMA, "")
    assert open_maps == ["/properties/figures", "/properties/methods", "/properties/sources"]
