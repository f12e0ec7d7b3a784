"""Changing a yard file as a careful person would: one thing, in its place, every other letter left alone."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dooryard.problem import InputError, Problem, nearest
from dooryard.yard import lines, syntax
from dooryard.yard.keys import TABLES
from dooryard.yard.model import Yard
from dooryard.yard.reading import from_text
from dooryard.yard.values import Names, flat


@dataclass(frozen=True)
class Add:
    """A new entry of a list, such as a level reading. keys : as they are to stand in the file.

    Quantities are text with their unit ("20 gal"), dates are dates.
    """

    table: str
    keys: Mapping[str, Any]


@dataclass(frozen=True)
class Put:
    """One key, new or changed. name : which entry of a list; None for the top, [place] and [household]."""

    table: str
    name: str | None
    key: str
    value: Any


@dataclass(frozen=True)
class Drop:
    """An entry of a list taken out, by its name."""

    table: str
    name: str


Change = Add | Put | Drop


def edit(path: Path | str, changes: Sequence[Change], knowledge: Names) -> Yard:
    """Change a yard file and return the yard it then describes.

    Comments, order, blank lines and line ends stay as they are; the file is replaced in one step, or not
    touched at all. Raises InputError if the changed file would not be valid, with all its problems, or if a
    change speaks of a place that is not there.
    """
    path = Path(path)
    before = syntax.read_text(path)
    after = changed(before, changes, path.name)
    yard = from_text(after, path.name, knowledge)
    _replace(path, after)
    return yard


def changed(text: str, changes: Sequence[Change], file: str) -> str:
    """The text with the changes made; pure. Raises InputError if one cannot be made."""
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    line_end = "\r\n" if "\r\n" in text else "\n"
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n")
    for change in changes:
        _check_keys(change, file)
        expected = _in_data(syntax.tables(plain, file), change, file)
        plain = _in_text(plain, change, file)
        # The text was changed by place; only if it now says exactly what was wanted may it be kept.
        if syntax.tables(plain, file) != expected:
            raise _by_hand(change, file)
    return mark + plain.replace("\n", line_end)


def _check_keys(change: Change, file: str) -> None:
    if change.table not in TABLES:
        what = f"There is no table {change.table} in a yard file."
        raise InputError(Problem(what, nearest(change.table, TABLES) or "See docs/yard-file.md.", file))
    table = TABLES[change.table]
    if isinstance(change, Put) and table.many != (change.name is not None):
        what = f"{table.heading or 'The top of the file'} {'needs' if table.many else 'has'} no name."
        what = f"It is not said which {table.one} is meant." if table.many else what
        raise InputError(Problem(what, "", file, field=change.key))
    named = change.keys if isinstance(change, Add) else (change.key,) if isinstance(change, Put) else ()
    for key in named:
        if key not in table.keys:
            what = f"A {table.one} has no key {key}."
            instead = nearest(key, table.keys) or f"Its keys are: {', '.join(table.keys)}."
            raise InputError(Problem(what, instead, file, field=key))


def _by_hand(change: Change, file: str) -> InputError:
    what = "The file is written in a way this change cannot be fitted into."
    instead = f"Write it into the file by hand, under {TABLES[change.table].heading or 'its first lines'}."
    return InputError(Problem(what, instead, file, field=change.table))


def _in_data(data: dict[str, Any], change: Change, file: str) -> dict[str, Any]:
    """The tables as they should read afterwards."""
    if isinstance(change, Add):
        entries = data.setdefault(change.table, [])
        if not isinstance(entries, list):
            raise _by_hand(change, file)
        entries.append(_plain(dict(change.keys)))
    elif isinstance(change, Drop):
        del data[change.table][_entry_index(data, change.table, change.name, file)]
        if not data[change.table]:  # with its last entry the heading is gone too
            del data[change.table]
    elif change.name is None:
        target = data.setdefault(change.table, {}) if change.table else data
        if not isinstance(target, dict):
            raise _by_hand(change, file)
        target[change.key] = _plain(change.value)
    else:
        at = _entry_index(data, change.table, change.name, file)
        data[change.table][at][change.key] = _plain(change.value)
    return data


def _entry_index(data: Mapping[str, Any], table: str, name: str, file: str) -> int:
    entries = data.get(table, [])
    entries = entries if isinstance(entries, list) else []
    names = [str(entry.get("name", "")) if isinstance(entry, dict) else "" for entry in entries]
    for at, known in enumerate(names):
        if flat(known) == flat(name):
            return at
    one = TABLES[table].one
    instead = nearest(name, names) or f"Describe it first under {TABLES[table].heading}."
    raise InputError(Problem(f'There is no {one} called "{name}".', instead, file, field=table))


def _plain(value: Any) -> Any:
    """Tuples are lists in TOML."""
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    return [_plain(item) for item in value] if isinstance(value, tuple | list) else value


def _in_text(text: str, change: Change, file: str) -> str:
    data = text.encode("utf-8")
    found = lines.spans(text)
    if isinstance(change, Add):
        return _added(data, found, change, file).decode("utf-8")
    at = _entry_index(syntax.tables(text, file), change.table, change.name, file) if change.name else None
    path = (change.table, at) if at is not None else (change.table,) if change.table else ()
    if isinstance(change, Drop):
        span = found[path]
        if not _has_heading(data, span):
            raise _by_hand(change, file)
        start = data.rfind(b"\n", 0, span.start) + 1
        return (data[:start] + data[_line_end(data, span.end) :].lstrip(b"\n")).decode("utf-8")
    return _put(data, found, path, change, file).decode("utf-8")


def _added(data: bytes, found: Mapping[lines.Path, lines.Span], change: Add, file: str) -> bytes:
    """The new entry directly behind the last of its kind, else at the end of the file."""
    rows = "".join(f"{key} = {_toml(value)}\n" for key, value in change.keys.items())
    block = f"{TABLES[change.table].heading}\n{rows}".encode()
    there = [
        path for path in found if len(path) == 2 and path[0] == change.table and isinstance(path[1], int)
    ]
    if (change.table,) in found and (not there or not _has_heading(data, found[there[-1]])):
        raise _by_hand(change, file)
    if not there:
        return data.rstrip(b"\n") + b"\n\n" + block
    end = _line_end(data, max(found[path].end for path in there))
    before = data[:end] if data[:end].endswith(b"\n") else data[:end] + b"\n"
    return before + b"\n" + block + data[end:]


def _put(
    data: bytes, found: Mapping[lines.Path, lines.Span], path: lines.Path, change: Put, file: str
) -> bytes:
    value = _toml(change.value).encode()
    row = change.key.encode() + b" = " + value + b"\n"
    pair = found.get((*path, change.key))
    if pair is not None and pair.is_pair:
        return data[: pair.value_start] + value + data[pair.value_end :]
    if not path:
        tops = [span.end for place, span in found.items() if span.is_pair and len(place) == 1]
        end = _line_end(data, max(tops)) if tops else 0
    elif path not in found:
        return data.rstrip(b"\n") + f"\n\n{TABLES[change.table].heading}\n".encode() + row
    elif _has_heading(data, found[path]):
        end = _line_end(data, found[path].end)
    else:
        raise _by_hand(change, file)
    before = data[:end] if not end or data[:end].endswith(b"\n") else data[:end] + b"\n"
    return before + row + data[end:]


def _has_heading(data: bytes, span: lines.Span) -> bool:
    """Written under its own [heading], not inside a line of braces."""
    return not span.is_pair and data[span.start : span.start + 1] == b"["


def _line_end(data: bytes, at: int) -> int:
    """Just behind the end of the line that holds this byte, its remark included."""
    end = data.find(b"\n", at)
    return len(data) if end < 0 else end + 1


def _toml(value: Any) -> str:
    import tomlkit

    plain = _plain(value)
    if isinstance(plain, list):
        # Left to itself the library would write tables under headings of their own.
        listed = tomlkit.array()
        listed.extend(plain)
        return listed.as_string()
    return str(tomlkit.item(plain).as_string())


def _replace(path: Path, text: str) -> None:
    """Put the text in the file's place in one step, keeping who may read it; a link stays a link."""
    import tempfile

    target = path.resolve()
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".new")
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(text.encode("utf-8"))
            out.flush()
            os.fsync(out.fileno())
        fresh.chmod(target.stat().st_mode & 0o7777)
        fresh.replace(target)
    except BaseException:
        with suppress(OSError):
            fresh.unlink()
        raise
