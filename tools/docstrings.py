"""Docstrings held to the code beside them: present, with the real parameters, in the units the names say."""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from tools.layers import modules

Function = ast.FunctionDef | ast.AsyncFunctionDef

_HEADING = re.compile(r"^([A-Z][A-Za-z ]+)\n-{3,}\s*$", re.MULTILINE)
_ENTRY = re.compile(r"^(\*{0,2}\w+(?:\s*,\s*\*{0,2}\w+)*)\s*(?::.*)?$")
_BRACKET = re.compile(r"\[([^\[\]]{1,20})\]")


def public(tree: ast.Module) -> Iterator[tuple[str, ast.ClassDef | Function]]:
    """Dotted name and node of everything a module promises: its functions, classes and their methods.

    The members of a Protocol are left out: they are promised, and described, where they are kept.
    """
    for node in tree.body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield node.name, node
            if any(ast.unparse(base).split(".")[-1].split("[")[0] == "Protocol" for base in node.bases):
                continue
            for inner in node.body:
                if isinstance(inner, Function) and not inner.name.startswith("_"):
                    yield f"{node.name}.{inner.name}", inner
        elif isinstance(node, Function) and not node.name.startswith("_"):
            yield node.name, node


def parameters(function: Function) -> list[str]:
    """The parameter names of a function in the order of its signature, without self and cls."""
    given = function.args
    names = [argument.arg for argument in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
    names += [extra.arg for extra in (given.vararg, given.kwarg) if extra is not None]
    return [name for name in names if name not in ("self", "cls")]


def documented(docstring: str) -> list[tuple[list[str], str]] | None:
    """What a "Parameters" section lists: the names and text of each entry; None without such a section."""
    text = inspect.cleandoc(docstring)
    headings = list(_HEADING.finditer(text))
    for at, heading in enumerate(headings):
        if heading.group(1) == "Parameters":
            end = headings[at + 1].start() if at + 1 < len(headings) else len(text)
            return list(_entries(text[heading.end() : end]))
    return None


def missing_docstring_faults(source: Path) -> list[str]:
    """Modules, and public functions, classes and methods, that say nothing about themselves."""
    folders = sorted({path.parent for path in source.rglob("*.py")})
    faults = [
        f"{folder.relative_to(source.parent)}: no __init__.py says what lives here."
        for folder in folders
        if not (folder / "__init__.py").is_file()
    ]
    for path, tree in modules(source):
        place = path.relative_to(source)
        if not ast.get_docstring(tree):
            faults.append(f"{place}: the module has no docstring.")
        for name, node in public(tree):
            if not ast.get_docstring(node):
                faults.append(f"{place} line {node.lineno}: {name} has no docstring.")
    return faults


def parameter_faults(source: Path) -> list[str]:
    """Parameters sections that list other names than the signature, or list them in another order."""
    faults = []
    for place, name, node, entries in _documented_functions(source):
        listed = [word for words, _ in entries for word in words]
        real = parameters(node)
        if sorted(listed) != sorted(real):
            extra, absent = sorted(set(listed) - set(real)), sorted(set(real) - set(listed))
            faults.append(
                f"{place} line {node.lineno}: {name} documents other parameters than it takes "
                f"(not in the signature: {extra or 'none'}; not documented: {absent or 'none'})."
            )
    return faults


def unit_faults(source: Path, endings: Mapping[str, tuple[str, ...]]) -> list[str]:
    """Parameters whose bracketed unit is not one that the ending of their name stands for.

    endings : name ending without its underscore, such as "mm", to the units that may stand in brackets.
    """
    known = {unit for units in endings.values() for unit in units}
    faults = []
    for place, name, node, entries in _documented_functions(source):
        for words, text in entries:
            stated = {unit for unit in _BRACKET.findall(text) if unit in known}
            for word in words:
                ending = ending_of(word, endings)
                if ending and stated and not stated & set(endings[ending]):
                    faults.append(
                        f"{place} line {node.lineno}: {name} says [{', '.join(sorted(stated))}] of {word}; "
                        f"names on _{ending} are in {' or '.join(endings[ending])}."
                    )
    return faults


def ending_of(name: str, endings: Mapping[str, tuple[str, ...]]) -> str:
    """The longest known ending of a name ("mj_m2_d" before "d"), or an empty string."""
    fitting = [ending for ending in endings if name.endswith(f"_{ending}")]
    return max(fitting, key=len, default="")


def glossary_endings(glossary: Path) -> dict[str, tuple[str, ...]]:
    """The table of endings in the glossary: rows such as ``| `_mm` | depth of water | mm, mm/d |``."""
    rows = re.findall(
        r"^\| `_(\w+)` \|[^|]*\| ([^|]+) \|$", glossary.read_text(encoding="utf-8"), re.MULTILINE
    )
    return {ending: tuple(unit.strip() for unit in units.split(",")) for ending, units in rows}


def _documented_functions(source: Path) -> Iterator[tuple[Path, str, Function, list[tuple[list[str], str]]]]:
    for path, tree in modules(source):
        for name, node in public(tree):
            entries = documented(ast.get_docstring(node) or "") if isinstance(node, Function) else None
            if entries is not None:
                assert isinstance(node, Function)
                yield path.relative_to(source), name, node, entries


def _entries(section: str) -> Iterator[tuple[list[str], str]]:
    """Entries of a section: a name line at the margin, then indented text."""
    names: list[str] = []
    text: list[str] = []
    for line in section.strip("\n").splitlines():
        if line and not line[0].isspace():
            if names:
                yield names, "\n".join(text)
            entry = _ENTRY.match(line)
            names = [word.strip().lstrip("*") for word in entry.group(1).split(",")] if entry else []
            text = [line]
        else:
            text.append(line)
    if names:
        yield names, "\n".join(text)
