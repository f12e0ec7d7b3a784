"""Rules about the program's code that its syntax tree can answer: who imports whom, and what stays pure."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

PACKAGE = "dooryard"

# Ground floor first. A room may import itself and any room before it.
ROOMS = (
    "problem",
    "words",
    "unit_table",
    "units",
    "figure",
    "knowledge",
    "yard",
    "weather",
    "water",
    "season",
    "care",
    "plan",
    "letter",
    "demo",
    "desk",
    "county",
    "web",
    "cli",
)
FACES = ("web", "cli")

# Each costs 15 to 200 ms to import: only the function that needs one may pay for it.
HEAVY = (
    "pydantic",
    "tomlkit",
    "tree_sitter",
    "tree_sitter_toml",
    "icalendar",
    "typst",
    "jinja2",
    "httpx2",
    "polars",
    "platformdirs",
)

# Files whose work is to open other files. `weather` holds several and is left out of the rule altogether.
PURE_ROOMS = ("problem", "words", "unit_table", "units", "figure", "yard", "water", "season", "care", "plan")
FILE_SHELLS = ("yard/file.py", "yard/syntax.py", "yard/edit.py", "care/card_file.py", "plan/files.py")
FILE_CALLS = ("open", "read_text", "read_bytes", "write_text", "write_bytes")
CLOCK_CALLS = ("now", "today", "utcnow", "localtime", "gmtime", "perf_counter")


def modules(source: Path) -> Iterator[tuple[Path, ast.Module]]:
    """Every module below the package folder `source`, in name order, parsed."""
    for path in sorted(source.rglob("*.py")):
        yield path, _parsed(path, path.stat().st_mtime_ns)


def imported(tree: ast.Module, path: Path, source: Path) -> Iterator[tuple[int, str]]:
    """Line and full dotted name of every import in a module, relative ones resolved, wherever it stands."""
    package = [PACKAGE, *path.relative_to(source).parent.parts]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                above = package[: len(package) - node.level + 1]
                base = ".".join([*above, base] if base else above)
            yield from ((node.lineno, f"{base}.{alias.name}") for alias in node.names)


def room_of(path: Path, source: Path) -> str:
    """The room a file belongs to: the folder below the package, or the module that stands there alone."""
    return path.relative_to(source).parts[0].removesuffix(".py")


def layer_faults(source: Path) -> list[str]:
    """Imports that run upwards, from one face to another, or to a room nobody has placed in the order."""
    rank = {room: at for at, room in enumerate(ROOMS)}
    faults = []
    for path, tree in modules(source):
        room = room_of(path, source)
        place = path.relative_to(source)
        if room == "__init__":
            room = ""  # the package itself stands below every room
        elif room not in rank:
            faults.append(f"{place}: the room {room!r} has no place in tools/layers.py.")
            continue
        for line, name in imported(tree, path, source):
            parts = name.split(".")
            # `from dooryard import __version__` names no room.
            if parts[0] != PACKAGE or len(parts) < 2 or parts[1].startswith("__"):
                continue
            other = parts[1]
            if other not in rank:
                faults.append(f"{place} line {line}: {name} lies in no known room.")
            elif room in FACES and other in FACES and other != room:
                faults.append(f"{place} line {line}: the face {room} imports the face {other}.")
            elif rank[other] > rank.get(room, -1):
                faults.append(f"{place} line {line}: {room or PACKAGE} imports {other}, which lies above it.")
    return faults


def heavy_import_faults(source: Path) -> list[str]:
    """Heavy libraries imported when a module loads instead of when a function runs."""
    faults = []
    for path, tree in modules(source):
        for node in _at_load(tree):
            names = (
                [alias.name for alias in node.names] if isinstance(node, ast.Import) else [node.module or ""]
            )
            for name in names:
                if name.split(".")[0] in HEAVY:
                    place = f"{path.relative_to(source)} line {node.lineno}"
                    faults.append(f"{place}: import {name} inside the function that needs it.")
    return faults


def purity_faults(source: Path) -> list[str]:
    """Printing outside the command line, a clock outside the faces, files opened in a pure room."""
    faults = []
    for path, tree in modules(source):
        room, place = room_of(path, source), path.relative_to(source)
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call):
                continue
            called = _called(node.func)
            where = f"{place} line {node.lineno}"
            if isinstance(node.func, ast.Name) and called in ("print", "input"):
                faults.append(f"{where}: {called}() belongs to no room; the command line uses click.")
            if room not in FACES and isinstance(node.func, ast.Attribute) and called in CLOCK_CALLS:
                faults.append(f"{where}: .{called}() reads the clock; take the day as an argument.")
            if room in PURE_ROOMS and place.as_posix() not in FILE_SHELLS and called in FILE_CALLS:
                faults.append(f"{where}: {called}() touches a file, and {room} is a pure room.")
    return faults


def swallowed_name_faults(source: Path) -> list[str]:
    """Functions whose `**names` would accept a misspelt argument.

    A decorator passing on a ParamSpec may take them, and a subclass that hands them all to its parent, which
    checks them.
    """
    faults = []
    for path, tree in modules(source):
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.args.kwarg is not None:
                note, name = node.args.kwarg.annotation, node.args.kwarg.arg
                handed_on = re.search(rf"super\(\)\.{node.name}\([^()]*\*\*{name}\)", ast.unparse(node))
                if not (handed_on or (isinstance(note, ast.Attribute) and note.attr == "kwargs")):
                    place = f"{path.relative_to(source)} line {node.lineno}"
                    faults.append(f"{place}: {node.name} takes **{node.args.kwarg.arg}; name its arguments.")
    return faults


@cache
def _parsed(path: Path, _changed_ns: int) -> ast.Module:
    """A module's tree, kept until the file changes: every rule reads the same ones."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def _at_load(tree: ast.AST) -> Iterator[ast.Import | ast.ImportFrom]:
    """The imports that run when the module loads: all but those in functions and for the type checker."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield node
        elif isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        elif not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            yield from _at_load(node)


def _called(function: ast.expr) -> str:
    """The last name of what is called: `open` for both open(...) and path.open(...)."""
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""
