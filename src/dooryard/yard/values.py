"""Each value of a yard file by its key's declaration: the canonical value, or what to write instead."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from math import radians, tan
from typing import Any, Protocol

from dooryard import units
from dooryard.problem import InputError, Problem, nearest
from dooryard.unit_table import Dimension
from dooryard.yard.keys import TABLES, Key, Table
from dooryard.yard.lines import Path


class HasValue(Protocol):
    """A fact of the knowledge tables, as far as the yard file needs it."""

    @property
    def value(self) -> float: ...


class HasName(Protocol):
    """A row of a knowledge table that also has a name in words."""

    @property
    def name(self) -> str: ...


class HasPlantKind(Protocol):
    """A row that says an organism lives on a kind of plant."""

    @property
    def plant_kind(self) -> str: ...


class Names(Protocol):
    """What the reader needs of the knowledge tables: names to check against, and a few facts."""

    @property
    def coverings(self) -> Mapping[str, HasName]: ...
    @property
    def crops(self) -> Mapping[str, HasName]: ...
    @property
    def soils(self) -> Mapping[str, HasName]: ...
    @property
    def bearing_soils(self) -> Mapping[str, HasName]: ...
    @property
    def organisms(self) -> Mapping[str, HasName]: ...
    @property
    def hosts(self) -> Iterable[HasPlantKind]: ...
    def fact(self, key: str) -> HasValue: ...


@dataclass
class Entry:
    """One table of the file as far as it could be read: `values` by key, in canonical units.

    path : where it stands. raw : as typed.
    """

    table: Table
    path: Path
    raw: Mapping[str, Any]
    values: dict[str, Any] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """Its name, or empty if it has none that can be read."""
        return str(self.values.get("name", ""))

    @property
    def called(self) -> str:
        """How a message speaks of it: 'roof "garage"', 'roof 2', "place", or "" for the top of the file."""
        if self.name and self.table.many:
            return f'{self.table.one} "{self.name}"'
        return f"{self.table.one} {int(self.path[-1]) + 1}" if self.table.many else self.table.name

    def field_name(self, key: str) -> str:
        """How a message names one of its keys: 'roof "garage", area'."""
        return ", ".join(part for part in (self.called, key) if part)


@dataclass(frozen=True)
class Fault:
    """A problem and the path of what it is about, from which its line is found."""

    path: Path
    problem: Problem


def fault(entry: Entry, key: str, what: str, instead: str, found: str | None = None) -> Fault:
    """A problem about one key of an entry; `found` is the raw value unless given."""
    shown = _shown(entry.raw[key]) if found is None and key in entry.raw else found or ""
    return Fault((*entry.path, key), Problem(what, instead, field=entry.field_name(key), found=shown))


def read_entry(
    table: Table, path: Path, raw: Mapping[str, Any], knowledge: Names
) -> tuple[Entry, list[Fault]]:
    """One table of the file: what could be read of it, and a fault for each key that could not."""
    entry = Entry(table, path, raw)
    if isinstance(raw.get("name"), str):
        # Known first, so that messages about the other keys can call the place by its name.
        entry.values["name"] = " ".join(raw["name"].split())
    faults: list[Fault] = []
    for name, value in raw.items():
        key = table.keys.get(name)
        if key is None:
            # At the top of the file the other tables are keys too; the file reader looks at them.
            faults += [] if not table.name and name in TABLES else [_unknown_key(entry, name)]
            continue
        try:
            entry.values[name] = _READERS[key.kind](key, value, knowledge)
        except InputError as error:
            faults += [
                Fault(
                    (*path, name),
                    replace(problem, field=entry.field_name(name), found=_found(problem, value)),
                )
                for problem in error.problems
            ]
    # A misspelled key is one mistake, not two.
    meant = {near_name(name, table.keys) for name in raw if name not in table.keys}
    due = [key for key in table.keys.values() if key.required and key.name not in raw]
    faults += [_missing(entry, key) for key in due if key.name not in meant]
    return entry, faults


def _found(problem: Problem, value: Any) -> str:
    """In a list the one item that is wrong, else the value as typed."""
    return problem.found if isinstance(value, list) and problem.found else _shown(value)


def _unknown_key(entry: Entry, name: str) -> Fault:
    table, value = entry.table, entry.raw[name]
    if not table.name and isinstance(value, dict | list):
        near = near_name(name, [heading for heading in TABLES if heading])
        instead = f"Did you mean {TABLES[near].heading}?" if near else f"Headings: {_headings()}."
        return fault(entry, name, f"There is no heading {name} in a yard file.", instead)
    near = near_name(name, table.keys)
    elsewhere = [other for other in TABLES.values() if name in other.keys]
    if near:
        instead = f'Did you mean "{near}"?'
    elif elsewhere and not elsewhere[0].name:
        instead = "It belongs at the very top of the file, before the first heading."
    elif elsewhere:
        instead = f"It belongs under {elsewhere[0].heading}."
    else:
        instead = f"Keys here: {', '.join(table.keys)}."
    what = f"There is no key {name} " + (f"under {table.heading}." if table.name else "here.")
    return fault(entry, name, what, instead)


def _headings() -> str:
    return ", ".join(table.heading for table in TABLES.values() if table.name)


def _missing(entry: Entry, key: Key) -> Fault:
    what = f"{key.name} is missing." if entry.table.name else f"{key.name} is missing at the top of the file."
    instead = f"Write, for example: {key.name} = {key.example}"
    return Fault(entry.path, Problem(what, instead, field=entry.field_name(key.name)))


def _refuse(what: str, instead: str, found: str = "") -> InputError:
    return InputError(Problem(what, instead, found=found))


def _text(key: Key, value: Any, _: Names) -> str:
    if not isinstance(value, str):
        raise _refuse(
            "This is not text in quotation marks.", f"Write, for example: {key.name} = {key.example}"
        )
    # Doubled spaces mean nothing in a name, but they may in a file's path.
    text = value.strip() if key.name in ("weather", "rain_gauge", "design_rain") else " ".join(value.split())
    if not text:
        raise _refuse("The text is empty.", f"Write, for example: {key.name} = {key.example}", '""')
    _refuse_marks(text)
    return text


def _refuse_marks(text: str) -> None:
    """Two square brackets mark a figure in a plan's sentences, so no text of a yard file may hold them."""
    if "[[" in text or "]]" in text:
        raise _refuse("Two square brackets in a row cannot stand in a text.", "Write one, or round brackets.")


def _quantity(key: Key, value: Any, _: Names) -> float:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise _refuse(
            "A number with its unit is due here, in quotation marks.",
            f"Write, for example: {key.name} = {key.example}",
        )
    return _measured(key, value if isinstance(value, str) else _shown(value), key.dimension)


def _measured(key: Key, text: str, dimension: Dimension) -> float:
    # Nothing needs no unit: "0" is 0 in every unit but a temperature, which no key here is.
    amount = 0.0 if text.strip() in ("0", "0.0") else units.parse(text, dimension)
    named = key.name.replace("_", " ")
    if amount < 0 and key.limit != "any":
        raise _refuse(f"{_a(named)} cannot be below zero.", "Write it without the minus sign.", f'"{text}"')
    if amount == 0 and key.limit == "above zero":
        instead = f"Write the true value, or leave {key.name} out if it is not known."
        raise _refuse(f"{_a(named)} of zero cannot be right.", instead, f'"{text}"')
    return amount


def _a(noun: str) -> str:
    return f"An {noun}" if noun[0] in "aeiou" else f"A {noun}"


def _degrees(key: Key, value: Any, _: Names) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _refuse(
            "A plain number of degrees is due here, without quotation marks.",
            f"Write, for example: {key.name} = {key.example}",
        )
    limit = 90 if key.name == "latitude" else 180
    if not -limit <= value <= limit:
        raise _refuse(
            f"A {key.name} lies between -{limit} and {limit}.",
            f"Write, for example: {key.name} = {key.example}",
        )
    return float(value)


def _date(key: Key, value: Any, _: Names) -> dt.date:
    if isinstance(value, dt.datetime):
        raise _refuse("A day is due here, without a time.", f"Write: {key.name} = {value:%Y-%m-%d}")
    if isinstance(value, dt.date):
        return value
    if isinstance(value, str):
        found = re.fullmatch(r"\s*(\d{4})-(\d{2})-(\d{2})\s*", value)
        shown = value.strip() if found else key.example
        raise _refuse(
            "The date is written as text.", f"Write it without quotation marks: {key.name} = {shown}"
        )
    raise _refuse("This is not a date.", f"Write year-month-day: {key.name} = {key.example}")


def _yes_no(key: Key, value: Any, _: Names) -> bool:
    if isinstance(value, bool):
        return value
    word = str(value).strip().lower()
    meant = {"yes": "true", "y": "true", "true": "true", "no": "false", "n": "false", "false": "false"}.get(
        word
    )
    instead = f"Write {key.name} = {meant}" if meant else f"Write {key.name} = true or {key.name} = false"
    raise _refuse("A plain true or false is due here.", f"{instead}, without quotation marks.")


def _choice(key: Key, value: Any, _: Names) -> str:
    return _one_of(value, key.choices)


def _one_of(value: Any, choices: tuple[str, ...]) -> str:
    if isinstance(value, str) and value.strip().lower() in choices:
        return value.strip().lower()
    listed = f"Write one of {', '.join(quoted(choices))}."
    near = nearest(value, choices) if isinstance(value, str) else ""
    raise _refuse("This is none of the words known here.", f"{near} {listed}".strip())


def _known(key: Key, value: Any, knowledge: Names) -> str:
    if not isinstance(value, str):
        raise _refuse(
            "A name in quotation marks is due here.", f"Write, for example: {key.name} = {key.example}"
        )
    rows: Mapping[str, HasName] = getattr(knowledge, key.table)
    # Where two rows share a name the first keeps it; a key is never taken by another row's name.
    spelled: dict[str, str] = {flat(row.name): row_key for row_key, row in reversed(list(rows.items()))}
    spelled |= {flat(row_key): row_key for row_key in rows}
    if flat(value) in spelled:
        return spelled[flat(value)]
    near = near_name(value, spelled)
    meant = f'Did you mean "{spelled[flat(near)]}"?' if near else ""
    short_enough = len(rows) <= _LONGEST_LIST
    listed = f"Known are {', '.join(quoted(rows))}." if short_enough else "docs/yard-file.md lists them all."
    raise _refuse(_UNKNOWN[key.table], meant or listed)


_LONGEST_LIST = 16
_UNKNOWN = {
    "coverings": "We know no roof covering of this name.",
    "crops": "We know nothing of this name that grows in beds.",
    "soils": "We know no soil of this name.",
    "bearing_soils": "We know no ground of this name.",
}


def flat(text: str) -> str:
    """A name without what people vary: capitals, hyphens, underscores, doubled spaces."""
    return re.sub(r"[\s_-]+", " ", text).strip().lower()


def _names(key: Key, value: Any, _: Names) -> tuple[str, ...]:
    listed = [value] if isinstance(value, str) else value
    if not isinstance(listed, list) or not all(isinstance(item, str) and item.strip() for item in listed):
        raise _refuse("A list of names is due here.", f"Write, for example: {key.name} = {key.example}")
    names = [" ".join(item.split()) for item in listed]
    for name in names:
        _refuse_marks(name)
    if key.choices:
        names = [_one_of(item, key.choices) for item in names]
    if len(set(names)) < len(names):
        raise _refuse("A name stands twice in this list.", "Write each name once.")
    return tuple(names)


def _size(key: Key, value: Any, knowledge: Names) -> tuple[float, float]:
    sides = re.split(r"\s+x\s+|\s*×\s*|\s+by\s+", value.strip()) if isinstance(value, str) else value
    sides = sides if isinstance(sides, list) else [sides]
    if not 1 <= len(sides) <= 2:
        raise _refuse("One length or two are due here.", f"Write, for example: {key.name} = {key.example}")
    measured = [_quantity(key, side, knowledge) for side in sides]
    return measured[0], measured[-1]


def _pitch(key: Key, value: Any, _: Names) -> float:
    """Rise over run, from "6 in 12" or from degrees."""
    text = value.strip() if isinstance(value, str) else ""
    ratio = re.fullmatch(r"(\d{1,3}(?:\.\d{1,3})?)\s*(?:in|on|:|/)\s*(\d{1,3}(?:\.\d{1,3})?)", text)
    if ratio is not None and float(ratio[2]) > 0:
        pitch = float(ratio[1]) / float(ratio[2])
    elif re.fullmatch(r"\d.*(deg|°).*", text):
        angle_deg = units.parse(text, "angle")
        pitch = tan(radians(angle_deg)) if angle_deg < _VERTICAL_DEG else _STEEPEST_PITCH + 1
    else:
        instead = f'Write, for example: {key.name} = {key.example} or {key.name} = "27 degrees"'
        raise _refuse("How steep a roof is, is written as rise in run.", instead)
    if pitch > _STEEPEST_PITCH:
        raise _refuse("No roof is as steep as that.", f"Write rise in run: {key.name} = {key.example}")
    return pitch


_VERTICAL_DEG = 90.0
_STEEPEST_PITCH = 5.0
"""48 in 12 is met on spires; beyond that somebody mixed up the two numbers or their units."""


def _parts(key: Key, value: Any, _: Names) -> Any:
    """As typed: the slopes are read one by one where the roof's size is put together."""
    if not (isinstance(value, list) and value and all(isinstance(item, dict) for item in value)):
        raise _refuse(
            "A list of slopes in braces is due here.", f"Write, for example: {key.name} = {key.example}"
        )
    return value


def _share(key: Key, value: Any, _: Names) -> float:
    """A part of a whole, from "90 %" or 0.9."""
    instead = f"Write, for example: {key.name} = {key.example}"
    if isinstance(value, str):
        found = re.fullmatch(r"\s*(\d{1,3}(?:\.\d{1,6})?)\s*(?:%|percent|per cent)\s*", value)
        part = float(found[1]) / 100 if found else None
    else:
        part = float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
        instead = f"{instead} (or a number from 0 to 1)"
    if part is None:
        raise _refuse("A share in per cent is due here, in quotation marks.", instead)
    if not 0.0 <= part <= 1.0:
        raise _refuse("A share lies between nothing and all, 0 % and 100 %.", instead)
    return part


def _count(key: Key, value: Any, _: Names) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not key.least <= value <= key.most:
        raise _refuse(
            f"A whole number of {key.counted} is due here, without quotation marks.",
            f"Write, for example: {key.name} = {key.example} (at most {key.most})",
        )
    return value


_HUNDRED_CUBIC_FEET = re.compile(r"\b(?:ccf|hcf)\b", re.IGNORECASE)
_PRICE = re.compile(
    r"\$?\s*(\d{1,9}(?:,\d{3})*(?:\.\d{1,6})?)\s*(?:\$|dollars?|usd)?\s*(?:per|for|an?|/)\s*(.{1,40})",
    re.IGNORECASE,
)
_OTHER_MONEY = re.compile(r"[€£¥₹]|\b(?:eur|euros?|gbp|pounds?|cad|aud|pesos?|cents?)\b|¢", re.IGNORECASE)


def _price(key: Key, value: Any, knowledge: Names) -> float:
    """Dollars for a cubic metre, from "4.50 per 1000 gal" or "1.20 per m3"."""
    instead = f'Write, for example: {key.name} = {key.example} or {key.name} = "1.20 per m3"'
    if isinstance(value, str) and _OTHER_MONEY.search(value):
        what = "The price is in other money than dollars, in which barrels are priced here."
        raise _refuse(what, f"Change it into dollars. {instead}")
    found = _PRICE.fullmatch(value.strip()) if isinstance(value, str) else None
    if found is None:
        raise _refuse("A price is due here: so many dollars for so much water, in quotation marks.", instead)
    volume = _HUNDRED_CUBIC_FEET.sub("100 cu ft", found[2].strip())
    # "per m3" and "per 100 ccf": one of what is named unless a number says how many
    many = re.fullmatch(r"([\d,.]+)\s*100 cu ft", volume)
    if many is not None:
        raise _refuse("How much water the price is for cannot be read.", instead)
    if not volume[0].isdigit():
        volume = f"1 {volume}"
    try:
        litres = units.parse(volume, "volume")
    except InputError:
        raise _refuse("How much water the price is for cannot be read.", instead) from None
    price = float(found[1].replace(",", ""))
    if price <= 0.0 or litres <= 0.0:
        raise _refuse(
            "Water that costs nothing needs no price.", f"Leave {key.name} out, or write the true one."
        )
    price_m3 = price / litres * 1000.0
    most = knowledge.fact("water.price_most").value
    if price_m3 > most:
        raise _refuse(
            f"That is {price_m3:,.0f} dollars for a cubic metre, more than water costs anywhere near.",
            f"Is the price for 1000 gal or for 100 cu ft (ccf)? {instead}",
        )
    return price_m3


_READERS: Mapping[str, Callable[[Key, Any, Names], Any]] = {
    "text": _text,
    "quantity": _quantity,
    "degrees": _degrees,
    "date": _date,
    "yes or no": _yes_no,
    "choice": _choice,
    "known": _known,
    "names": _names,
    "size": _size,
    "pitch": _pitch,
    "parts": _parts,
    "share": _share,
    "count": _count,
    "price": _price,
}


def quoted(names: Iterable[str]) -> list[str]:
    """Names in quotation marks, as they are written in the file."""
    return [f'"{name}"' for name in names]


def near_name(name: str, known: Iterable[str], likeness: float = 0.6) -> str:
    """The known name closest to this one, or an empty string if none is near."""
    by_flat = {flat(spelling): spelling for spelling in known}
    close = get_close_matches(flat(name), list(by_flat), n=1, cutoff=likeness)
    return by_flat[close[0]] if close else ""


def _shown(value: Any, longest: int = 60) -> str:
    """A value as it was typed, near enough to be found again."""
    if isinstance(value, list):
        text = (
            "[" + ", ".join("[...]" if isinstance(item, list) else _one_shown(item) for item in value) + "]"
        )
    else:
        text = _one_shown(value)
    return text if len(text) <= longest else text[: longest - 3] + "..."


def _one_shown(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "a table"
    try:
        return str(value)
    except ValueError:  # Python refuses to spell out integers of thousands of digits
        return "a very long number"
