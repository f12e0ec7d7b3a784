"""From the text of a case file to a case, or to every mistake in it at once. Pure: no files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dooryard.care.suspects import Suspects
from dooryard.knowledge import Knowledge
from dooryard.plan.answer.case import Case, Edit, SetAside
from dooryard.plan.answer.case_keys import CASE, EDITS, OVERRIDES
from dooryard.problem import InputError, Problem
from dooryard.season import names
from dooryard.yard import lines, syntax
from dooryard.yard.keys import Table
from dooryard.yard.values import Entry, Fault, fault, near_name, read_entry


def from_text(text: str, file: str, knowledge: Knowledge) -> Case:
    """The case in a text.

    file : its name in messages. knowledge : the loaded tables. Raises InputError with all problems, each with its
    line: keys that are unknown, missing or unreadable, plants, pests, causes and signs that nobody knows.
    """
    if not text.removeprefix("\ufeff").strip():
        instead = 'Begin with code = "H-12" and plant = "magnolia"; docs/letter.md has an example.'
        raise InputError(Problem("The file is empty.", instead, file=file))
    raw = syntax.tables(text, file)
    many = {table.name: raw.pop(table.name, []) for table in (EDITS, OVERRIDES)}
    strays = [_stray(name) for name, value in raw.items() if _is_table(value) and name not in CASE.keys]
    raw = {name: value for name, value in raw.items() if name in CASE.keys or not _is_table(value)}
    top, faults = read_entry(CASE, (), raw, knowledge)
    faults += strays
    edits, edit_faults = _several(EDITS, many["edits"], knowledge)
    set_aside, override_faults = _several(OVERRIDES, many["overrides"], knowledge)
    faults += [*edit_faults, *override_faults, *_top_faults(top, knowledge), *_twice(edits)]
    if faults:
        found = lines.spans(text.removeprefix("\ufeff"))
        placed = [one.problem.at(file=file, line=lines.line_of(one.path, found)) for one in faults]
        raise InputError(sorted(placed, key=lambda problem: problem.line or 0))
    values = dict(_attributes(top))
    values |= {key: _signs(top, key, knowledge)[0] for key in ("seen", "unseen")}
    if "organism" in top.values:
        values["organism"] = names.find(top.values["organism"], knowledge).organisms[0]
    return Case(
        **values,
        edits=tuple(Edit(**_attributes(one)) for one in edits),
        overrides=tuple(SetAside(**_attributes(one)) for one in set_aside),
    )


def _is_table(value: Any) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and any(isinstance(one, dict) for one in value)
    )


def _stray(name: str) -> Fault:
    near = near_name(name, ("edits", "overrides"))
    instead = f"Did you mean [[{near}]]?" if near else "A case has the headings [[edits]] and [[overrides]]."
    return Fault((name,), Problem(f"There is no heading {name} in a case.", instead, field=name))


def _several(table: Table, raw: Any, knowledge: Knowledge) -> tuple[list[Entry], list[Fault]]:
    if not (isinstance(raw, list) and all(isinstance(one, dict) for one in raw)):
        instead = f"Write the heading {table.heading} on its own line and the keys below it."
        problem = Problem(f"{table.name} is not written as a list.", instead, field=table.name)
        return [], [Fault((table.name,), problem)]
    entries, faults = [], []
    for at, one in enumerate(raw):
        entry, found = read_entry(table, (table.name, at), one, knowledge)
        entries.append(entry)
        faults += found
    return entries, faults


def _top_faults(top: Entry, knowledge: Knowledge) -> list[Fault]:
    values, faults = top.values, [*_signs(top, "seen", knowledge)[1], *_signs(top, "unseen", knowledge)[1]]
    both = set(_signs(top, "seen", knowledge)[0]) & set(_signs(top, "unseen", knowledge)[0])
    if both:
        what = f"{', '.join(sorted(both))} cannot be seen and not seen."
        faults.append(fault(top, "unseen", what, "Keep one of the two."))
    if "plant" in values:
        try:
            Suspects(knowledge, values["plant"], month=1, verdicts={})
        except InputError as error:
            faults += [fault(top, "plant", one.what, one.instead) for one in error.problems]
    if "organism" in values:
        faults += _organism_faults(top, knowledge)
    if "lab" in values and values["lab"] not in knowledge.causes:
        near = near_name(values["lab"], knowledge.causes)
        instead = f'Did you mean "{near}"?' if near else "Write the key of a cause, such as late-blight."
        faults.append(fault(top, "lab", "We know no cause of this name.", instead))
    if (values.get("evidence") == "lab") != ("lab" in values) and "evidence" in values:
        what = "A laboratory's result and what it named go together."
        key = "lab" if "lab" in values else "evidence"
        faults.append(fault(top, key, what, 'Write evidence = "lab" and lab = "...", or neither.'))
    return faults


def _organism_faults(top: Entry, knowledge: Knowledge) -> list[Fault]:
    try:
        found = names.find(top.values["organism"], knowledge)
    except InputError as error:
        return [fault(top, "organism", one.what, one.instead) for one in error.problems]
    if found.plant is None:
        return []
    return [fault(top, "organism", "This is a plant.", "Name the pest, such as magnolia scale.")]


def _signs(top: Entry, key: str, knowledge: Knowledge) -> tuple[tuple[str, ...], list[Fault]]:
    """Keys of the signs named under a key, and a fault for each that nobody knows."""
    spelled = {sign.replace("-", " "): sign for sign in knowledge.signs}
    found, faults = [], []
    for word in top.values.get(key, ()):
        name = " ".join(word.lower().replace("-", " ").split())
        if name in spelled:
            found.append(spelled[name])
            continue
        near = near_name(name, spelled)
        plant = top.values.get("plant", "oak")
        instead = (
            f'Did you mean "{spelled[near]}"?'
            if near
            else f'"dooryard look --plant {plant} --signs" lists them.'
        )
        faults.append(fault(top, key, "We know no sign of this name.", instead, f'"{word}"'))
    return tuple(dict.fromkeys(found)), faults


def _twice(edits: list[Entry]) -> list[Fault]:
    seen: set[str] = set()
    faults = []
    for one in edits:
        part = one.values.get("part")
        if part in seen:
            faults.append(fault(one, "part", "This part is edited twice.", "Keep one of the two edits."))
        elif part:
            seen.add(part)
    return faults


def _attributes(entry: Entry) -> Mapping[str, Any]:
    keys = entry.table.keys
    return {keys[name].attribute: value for name, value in entry.values.items() if name in keys}
