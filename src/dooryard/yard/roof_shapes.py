"""The size of a roof section measured by its slopes: eave, ridge and the run between them, seen from above.

A gable has two slopes and a hip four; a section holds those, or the stretches of them, whose gutter runs to
its downspout. Long slopes are strips (rectangle, gable) or lose their corners to the hips (hip); the end of a
hip roof is a triangle.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import hypot

from dooryard.problem import Problem
from dooryard.yard.keys import ROOF_PART, Table
from dooryard.yard.model import RoofPart
from dooryard.yard.values import Entry, Fault, Names, fault, read_entry

_MEASURES = ("shape", "eave", "ridge", "run", "slope")
_ODD_HIP = 0.25
"""Share of the run by which a ridge may miss its due length before it is doubted: overhangs and tapes vary."""


def is_shaped(entry: Entry) -> bool:
    """Whether a roof's size is given by slopes, rightly or not."""
    return entry.table.name == "roofs" and any(key in entry.raw for key in (*_MEASURES, "parts"))


def rectangle(roof: Entry) -> RoofPart:
    """The one slope of a roof given by length and width."""
    length_m, width_m = roof.values["length"], roof.values["width"]
    return RoofPart("rectangle", length_m, length_m, width_m, roof.values.get("pitch"))


def sized(roof: Entry, knowledge: Names) -> Iterator[Fault]:
    """Put area and slopes of a shaped roof into its values, or say what is wrong with its measures."""
    by_shape = [key for key in _MEASURES if key in roof.raw]
    others = [key for key in ("area", "length", "width", "parts") if key in roof.raw]
    if (by_shape and others) or len(others) > 1:
        ways = [*others, *by_shape[:1]]
        what = f"The size is given twice, by {' and by '.join(ways[:2])}."
        yield fault(roof, ways[0], what, "Keep one way: area, length and width, a shape, or parts.")
        return
    entries, faults = _slopes(roof, knowledge)
    parts = []
    for entry in entries:
        # What could not be read has been told; a slope is only put together from what could.
        if set(entry.raw) <= set(entry.values) and set(entry.raw) <= set(entry.table.keys):
            part, wrong = _slope(entry)
            faults += wrong
            parts += [part] if part else []
    yield from (_in_roof(roof, one) for one in faults)
    roof.values.pop("parts", None)
    if not faults and len(parts) == len(entries):
        roof.values["parts"] = tuple(parts)
        roof.values["area"] = sum(part.area_m2 for part in parts)


def odd_hips(roof: Entry) -> Iterator[Fault]:
    """A hip whose ridge does not fit its run, for a roof without problems.

    Where all slopes are equally steep each hip line lies at half a right angle in plan, so the ridge is
    shorter than the eave by the run at each hipped end.
    """
    key = "ridge" if "ridge" in roof.raw else "parts"
    for part in roof.values.get("parts", ()):
        short = (part.eave_m - part.ridge_m) / part.run_m
        if part.shape == "hip" and min(abs(short - 1), abs(short - 2)) > _ODD_HIP:
            what = (
                "With slopes of one pitch a hip's ridge is shorter than its eave by twice the run, "
                "or by the run if only one end is hipped."
            )
            yield fault(
                roof, key, what, "Measure eave, ridge and run once more; keep them if the ends differ."
            )


def _slopes(roof: Entry, knowledge: Names) -> tuple[list[Entry], list[Fault]]:
    """The slopes as far as they could be read; a roof with one shape is its own only slope."""
    if "parts" not in roof.raw:
        table = Table("", "", ROOF_PART.says, False, ROOF_PART.keys)
        own = {key: roof.raw[key] for key in ROOF_PART.keys if key in roof.raw}
        entry = Entry(table, roof.path, own, {key: roof.values[key] for key in own if key in roof.values})
        missing = [] if "shape" in own else [_no_shape(entry)]
        return [entry], missing
    if "parts" not in roof.values:
        return [], []
    entries, faults = [], []
    for at, raw in enumerate(roof.raw["parts"]):
        entry, wrong = read_entry(ROOF_PART, (*roof.path, "parts", at), raw, knowledge)
        if "pitch" not in raw and "pitch" in roof.values:
            entry.values["pitch"] = roof.values["pitch"]
        entries.append(entry)
        faults += wrong
    return entries, faults


def _no_shape(entry: Entry) -> Fault:
    example = ROOF_PART.keys["shape"].example
    problem = Problem("shape is missing.", f"Write, for example: shape = {example}", field="shape")
    return Fault(entry.path, problem)


def _in_roof(roof: Entry, one: Fault) -> Fault:
    """The fault with the roof's name before the part's."""
    name = ", ".join(part for part in (roof.called, one.problem.field) if part)
    return Fault(one.path, replace(one.problem, field=name))


def _slope(entry: Entry) -> tuple[RoofPart | None, list[Fault]]:
    """One slope from its values, or what is missing or does not fit."""
    value, faults = entry.values, []
    if "shape" not in value:
        return None, []
    shape, eave_m = value["shape"], value.get("eave")
    if eave_m is None:
        faults.append(_due(entry, "eave"))
    if "run" in value and "slope" in value:
        what = "The way from eave to ridge is given twice, by run and by slope."
        faults.append(fault(entry, "slope", what, "Keep run, or slope and pitch, not both."))
    elif "slope" in value and "pitch" not in value:
        what = "From the slope alone nobody can tell how far the roof reaches over the ground."
        faults.append(
            fault(entry, "slope", what, 'Write also: pitch = "6 in 12", or measure the run instead.')
        )
    elif "run" not in value and "slope" not in value:
        faults.append(_due(entry, "run"))
    if shape == "triangle" and "ridge" in value:
        what = "A triangle ends in a point and has no ridge."
        faults.append(fault(entry, "ridge", what, 'Leave ridge out, or write shape = "hip".'))
    elif shape == "hip" and "ridge" not in value:
        faults.append(_due(entry, "ridge"))
    elif shape == "hip" and eave_m is not None and value["ridge"] >= eave_m:
        what = "The ridge of a hip is shorter than its eave."
        faults.append(fault(entry, "ridge", what, 'Measure again, or write shape = "gable".'))
    if faults or eave_m is None:
        return None, faults
    ridge_m = 0.0 if shape == "triangle" else value.get("ridge", eave_m)
    run_m = value["run"] if "run" in value else value["slope"] / hypot(1.0, value["pitch"])
    return RoofPart(shape, eave_m, ridge_m, run_m, value.get("pitch")), []


def _due(entry: Entry, key: str) -> Fault:
    instead = f"Write also: {key} = {ROOF_PART.keys[key].example}"
    return Fault(entry.path, Problem(f"The {key} is missing.", instead, field=entry.field_name(key)))
