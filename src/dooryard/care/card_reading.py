"""From the text of a label card to a card, or to every mistake in it at once. Pure: no files."""

from __future__ import annotations

import re
from typing import Any

from dooryard.care import rate as rates
from dooryard.care.card import Card, Use
from dooryard.care.card_keys import TOP, USES
from dooryard.problem import InputError, Problem
from dooryard.yard import lines, syntax
from dooryard.yard.values import Entry, Fault, Names, fault, read_entry

# Letters that mark a registered name: a card holds active ingredients, not brands.
_BRAND = re.compile(r"[®™℠]|\((?:R|TM)\)")


def from_text(text: str, file: str, knowledge: Names) -> Card:
    """The card in a text.

    file : its name in messages. knowledge : the loaded tables. Raises InputError with all problems, each with its
    line: keys that are unknown, missing or unreadable, brand marks, numbers that contradict each other.
    """
    raw = syntax.tables(text, file)
    uses_raw = raw.pop("uses", [])
    top, faults = read_entry(TOP, (), raw, knowledge)
    uses: list[Use] = []
    if not (isinstance(uses_raw, list) and uses_raw and all(isinstance(use, dict) for use in uses_raw)):
        what = "The card names no use." if not uses_raw else "uses is not written as a list."
        instead = "Write the heading [[uses]] on its own line and the keys below it, once for each use."
        faults.append(Fault(("uses",), Problem(what, instead, field="uses")))
        uses_raw = []
    faults += _top_faults(top)
    for at, use_raw in enumerate(uses_raw):
        entry, entry_faults = read_entry(USES, ("uses", at), use_raw, knowledge)
        faults += entry_faults + _use_faults(entry)
        read, rate_faults = _rate(entry)
        faults += rate_faults
        if not entry_faults:
            uses.append(Use(**_attributes(entry) | {"rate": read}))
    if faults:
        found = lines.spans(text.removeprefix("\ufeff"))
        placed = [one.problem.at(file=file, line=lines.line_of(one.path, found)) for one in faults]
        raise InputError(sorted(placed, key=lambda problem: problem.line or 0))
    return Card(**_attributes(top), uses=tuple(uses))


def _rate(entry: Entry) -> tuple[rates.Rate | None, list[Fault]]:
    if "rate" not in entry.values:
        return None, []
    try:
        return rates.parse(entry.values["rate"]), []
    except InputError as error:
        return None, [fault(entry, "rate", one.what, one.instead) for one in error.problems]


def _top_faults(top: Entry) -> list[Fault]:
    faults = [
        fault(top, key, "This looks like a brand.", "Write the active ingredient or a name of your own.")
        for key in ("name", "material")
        if _BRAND.search(str(top.values.get(key, "")))
    ]
    first, second = (str(top.values.get(key, "")).lower() for key in ("read_by", "second_reader"))
    if first and first == second:
        faults.append(
            fault(top, "second_reader", "One person cannot be both readers.", "Let another person check it.")
        )
    until, read_on = top.values.get("good_until"), top.values.get("read_on")
    if until is not None and read_on is not None and until < read_on:
        faults.append(
            fault(top, "good_until", "This day lies before the label was read.", "Check both dates.")
        )
    return faults


_ORDERED = (
    ("interval_days", "interval_most_days", "The most days are fewer than the least."),
    ("coldest", "hottest", "The hottest is colder than the coldest."),
)


def _use_faults(entry: Entry) -> list[Fault]:
    values = entry.values
    faults = [
        fault(entry, high, what, "Look at the label again.")
        for low, high, what in _ORDERED
        if low in values and high in values and values[low] > values[high]
    ]
    if values.get("season_most") == 0:
        faults.append(
            fault(entry, "season_most", "No treatment at all is allowed then.", "Look at the label again.")
        )
    return faults


def _attributes(entry: Entry) -> dict[str, Any]:
    keys = entry.table.keys
    return {keys[name].attribute: value for name, value in entry.values.items() if name in keys}
