"""On which line of a TOML text each key and table stands. Parsed only when something is to be pointed at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tree_sitter import Node

Path = tuple[str | int, ...]
"""("roofs", 0, "area"): the area of the first roof. ("place",): the heading of a table. (): the top."""


@dataclass(frozen=True, slots=True)
class Span:
    """Where a table or a pair stands, in bytes of the UTF-8 text and in lines (from 1).

    start, end : of the whole pair, or of a table from its heading to the end of its last pair. value_start,
    value_end : of a pair's value; equal to start and end for a table.
    """

    line: int
    start: int
    end: int
    value_start: int
    value_end: int
    is_pair: bool


def spans(text: str) -> dict[Path, Span]:
    """The place of every table and key of a valid TOML text."""
    import tree_sitter
    import tree_sitter_toml

    language = tree_sitter.Language(tree_sitter_toml.language())
    root = tree_sitter.Parser(language).parse(text.encode("utf-8")).root_node
    found: dict[Path, Span] = {}
    counts: dict[Path, int] = {}
    for node in root.named_children:
        if node.type == "pair":
            _pair(node, (), found)
        elif node.type in ("table", "table_array_element"):
            _table(node, found, counts)
    return found


def line_of(path: Path, found: dict[Path, Span]) -> int | None:
    """The line of a key, or of the nearest table around it; None for what has no line (a missing table)."""
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]].line
    return None


def _table(node: Node, found: dict[Path, Span], counts: dict[Path, int]) -> None:
    children = node.named_children
    head = _names(children[0])
    path: Path = ()
    for at, name in enumerate(head):
        path += (name,)
        last = at == len(head) - 1
        if last and node.type == "table_array_element":
            counts[path] = counts.get(path, -1) + 1
            path += (counts[path],)
        elif path in counts:
            path += (counts[path],)
    pairs = [child for child in children[1:] if child.type == "pair"]
    end = pairs[-1].children[2].end_byte if pairs else _heading_end(node)
    line = node.start_point[0] + 1
    found[path] = Span(line, node.start_byte, end, node.start_byte, end, is_pair=False)
    # A list of tables is pointed at by its first heading.
    if isinstance(path[-1], int):
        found.setdefault(path[:-1], found[path])
    for pair in pairs:
        _pair(pair, path, found)


def _heading_end(node: Node) -> int:
    closing = [child for child in node.children if child.type in ("]", "]]")]
    return closing[-1].end_byte if closing else node.end_byte


def _pair(node: Node, above: Path, found: dict[Path, Span]) -> None:
    key, _, value = node.children[:3]  # a remark behind the value would be a fourth child
    path = above + tuple(_names(key))
    line = node.start_point[0] + 1
    span = Span(line, node.start_byte, value.end_byte, value.start_byte, value.end_byte, is_pair=True)
    for length in range(len(above) + 1, len(path) + 1):
        found.setdefault(path[:length], span)
    _value(value, path, found)


def _value(node: Node, path: Path, found: dict[Path, Span]) -> None:
    if node.type == "inline_table":
        for child in node.named_children:
            if child.type == "pair":
                _pair(child, path, found)
    elif node.type == "array":
        for at, item in enumerate(child for child in node.named_children if child.type != "comment"):
            start, end = item.start_byte, item.end_byte
            found[(*path, at)] = Span(item.start_point[0] + 1, start, end, start, end, is_pair=False)
            _value(item, (*path, at), found)


def _names(node: Node) -> list[str]:
    return list(_key_parts(node))


def _key_parts(node: Node) -> Iterator[str]:
    """A key's names: one for a bare or quoted key, several for a dotted one."""
    if node.type == "dotted_key":
        for child in node.named_children:
            yield from _key_parts(child)
        return
    import tomllib

    text = (node.text or b"").decode("utf-8")
    # The TOML reader itself undoes quotes and escapes.
    yield next(iter(tomllib.loads(f"{text} = 0")))
