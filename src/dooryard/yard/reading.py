"""From the text of a yard file to a yard, or to every mistake in it at once. Pure: no files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dooryard.problem import InputError, Problem
from dooryard.yard import checks, lines, model, syntax
from dooryard.yard.checks import Draft
from dooryard.yard.keys import HOUSEHOLD, PLACE, TABLES, Table
from dooryard.yard.values import Entry, Fault, Names, read_entry


def from_text(text: str, file: str, knowledge: Names) -> model.Yard:
    """The yard described in a text; `file` is its name in messages. Raises InputError as `read` does."""
    draft, faults = _draft(syntax.tables(text, file), knowledge)
    faults += checks.problems(draft, knowledge)
    if faults:
        raise InputError(_placed(faults, text, file))
    return _built(draft, tuple(_placed(checks.notes(draft, knowledge), text, file)))


def _placed(faults: list[Fault], text: str, file: str) -> list[Problem]:
    """The problems with file and line, in the order of the lines."""
    if not faults:
        return []
    found = lines.spans(text.removeprefix("\ufeff"))
    placed = [fault.problem.at(file=file, line=lines.line_of(fault.path, found)) for fault in faults]
    return sorted(placed, key=lambda problem: problem.line or 0)


def _draft(raw: Mapping[str, Any], knowledge: Names) -> tuple[Draft, list[Fault]]:
    draft, faults = Draft(), []
    for table in TABLES.values():
        value = raw.get(table.name, [] if table.many else {}) if table.name else raw
        wrong = _wrong_shape(table, value)
        if wrong:
            faults.append(Fault((table.name,), wrong))
            continue
        if table is HOUSEHOLD and not value:
            continue
        if table is PLACE and not value:
            faults.append(Fault(("place",), _no_place()))
            continue
        for at, entry_raw in enumerate(value if table.many else [value]):
            path = (table.name, at) if table.many else (table.name,) if table.name else ()
            entry, entry_faults = read_entry(table, path, entry_raw, knowledge)
            draft.entries.setdefault(table.name, []).append(entry)
            faults += entry_faults
    return draft, faults


def _wrong_shape(table: Table, value: Any) -> Problem | None:
    if table.many and not (isinstance(value, list) and all(isinstance(item, dict) for item in value)):
        what = f"{table.name} is not written as a list of {table.name}."
    elif not table.many and not isinstance(value, dict):
        what = f"{table.name} is not written as one table."
    else:
        return None
    instead = f"Write the heading {table.heading} on its own line and the keys below it."
    return Problem(what, instead, field=table.name)


def _no_place() -> Problem:
    lines_due = "; ".join(f"{key.name} = {key.example}" for key in PLACE.keys.values() if key.required)
    return Problem(
        "The place is missing.", f"Write the heading [place] and below it: {lines_due}", field="place"
    )


def _built(draft: Draft, notes: tuple[Problem, ...]) -> model.Yard:
    (top,) = draft.of("")
    return model.Yard(
        name=top.values["name"],
        units=top.values["units"],
        place=model.Place(**_attributes(draft.of("place")[0])),
        household=model.Household(**_attributes(draft.of("household")[0]))
        if draft.of("household")
        else model.Household(),
        roofs=tuple(model.Roof(**_attributes(entry)) for entry in draft.of("roofs")),
        downspouts=tuple(model.Downspout(**_attributes(entry)) for entry in draft.of("downspouts")),
        storages=tuple(model.Storage(**_attributes(entry)) for entry in draft.of("storages")),
        beds=tuple(model.Bed(**_attributes(entry)) for entry in draft.of("beds")),
        plants=tuple(model.Plant(**_attributes(entry)) for entry in draft.of("plants")),
        sightings=tuple(
            model.Sighting(**{"organism": None, "sign": None} | _attributes(entry))
            for entry in draft.of("sightings")
        ),
        levels=tuple(model.Level(**_attributes(entry)) for entry in draft.of("levels")),
        notes=notes,
    )


def _attributes(entry: Entry) -> dict[str, Any]:
    """The model's attributes; keys that only helped the reader (length, width) have none."""
    keys = entry.table.keys
    return {keys[name].attribute: value for name, value in entry.values.items() if keys[name].attribute}
