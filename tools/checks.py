"""The list of checks against the world, docs/checks.md, read out of the tests' own markers.

    python -m tools.checks       write the list anew

A marker is ``@pytest.mark.check("W-02-3", source="…", status="computed")`` on a test, or the same mark in
``pytest.param(..., marks=…)``. It is read from the syntax tree, so every value must be written out in place.
"""

from __future__ import annotations

import ast
import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LIST = ROOT / "docs" / "checks.md"
STATUSES = ("seen", "second-hand", "from memory", "common practice", "computed")
Function = ast.FunctionDef | ast.AsyncFunctionDef

HEAD = """# Checks against the world

Every check here compares the program with something outside it. The list is made from the tests
(`make checks`), and a test keeps the two in step.

- **Source**: the published work, rule or calculation the expected value comes from.
- **Status**: how we know it. *seen*: read in the source itself. *second-hand*: read in a work that quotes it.
  *from memory*: known to the trade, source not at hand. *common practice*: what advisers do.
  *computed*: worked out independently, by hand or by another program.
"""


@dataclass(frozen=True)
class Check:
    """One marker: its ID, what the test says it holds, where the expectation comes from, and the test."""

    id: str
    says: str
    source: str
    status: str
    test: str


def collect(tests: Path) -> tuple[list[Check], list[str]]:
    """Every check marker below a folder of tests, sorted by ID, and what is wrong with any of them."""
    found: list[Check] = []
    faults: list[str] = []
    for path in sorted(tests.rglob("*.py")):
        place = path.relative_to(tests.parent).as_posix()
        tree = ast.parse(path.read_text(encoding="utf-8"), filename=str(path))
        functions = list(_tests(tree))
        for call, owner in _markers(tree, functions):
            check = _read(call, owner, place)
            if isinstance(check, str):
                faults.append(check)
            else:
                found.append(check)
    return sorted(set(found), key=lambda check: (natural(check.id), check.test, check.says)), faults


def natural(text: str) -> list[tuple[int, int | str]]:
    """A sort key that puts W-02-3 before W-02-10."""
    return [(0, int(part)) if part.isdigit() else (1, part) for part in re.split(r"(\d+)", text) if part]


def render(checks: list[Check]) -> str:
    """The list as a page."""
    counts = Counter(check.status for check in checks)
    told = ", ".join(f"{counts[status]} {status}" for status in STATUSES if counts[status])
    rows = "".join(
        f"| {check.id} | {_cell(check.says)} | {_cell(check.source)} | {check.status} | `{check.test}` |\n"
        for check in checks
    )
    ids = len({check.id for check in checks})
    return (
        f"{HEAD}\n{ids} checks in {len(checks)} rows: {told or 'none yet'}.\n\n"
        f"| ID | What must hold | Source | Status | Test |\n|---|---|---|---|---|\n{rows}"
    )


def main() -> int:
    """Write docs/checks.md; says what is wrong and writes nothing if a marker cannot be read."""
    checks, faults = collect(ROOT / "tests")
    if faults:
        print("\n".join(faults), file=sys.stderr)
        return 1
    LIST.parent.mkdir(exist_ok=True)
    LIST.write_text(render(checks), encoding="utf-8", newline="\n")
    print(f"docs/checks.md: {len(checks)} rows")
    return 0


def _tests(tree: ast.Module) -> Iterator[tuple[str, Function]]:
    """Name (with its class) and node of each test function."""
    for node in tree.body:
        if isinstance(node, Function) and node.name.startswith("test_"):
            yield node.name, node
        elif isinstance(node, ast.ClassDef):
            for inner in node.body:
                if isinstance(inner, Function) and inner.name.startswith("test_"):
                    yield f"{node.name}::{inner.name}", inner


def _markers(
    tree: ast.Module, functions: list[tuple[str, Function]]
) -> Iterator[tuple[ast.Call, tuple[str, Function] | None]]:
    """Each marker call with the test it belongs to: its own, or each test whose decorators name its list."""
    owned: dict[ast.Call, list[tuple[str, Function]]] = {
        node: [] for node in ast.walk(tree) if isinstance(node, ast.Call) and _is_marker(node)
    }
    lists = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    } | {
        node.target.id: node.value
        for node in tree.body
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.value is not None
    }
    for name, function in functions:
        for decorator in function.decorator_list:
            nodes = list(ast.walk(decorator))
            named = [lists[node.id] for node in nodes if isinstance(node, ast.Name) and node.id in lists]
            for node in [*nodes, *(inner for value in named for inner in ast.walk(value))]:
                if isinstance(node, ast.Call) and node in owned and (name, function) not in owned[node]:
                    owned[node].append((name, function))
    for call, owners in owned.items():
        yield from ((call, owner) for owner in owners or [None])


def _is_marker(call: ast.Call) -> bool:
    """Whether a call is ``….mark.check(…)``."""
    function = call.func
    return (
        isinstance(function, ast.Attribute)
        and function.attr == "check"
        and ast.unparse(function.value).endswith("mark")
    )


def _read(call: ast.Call, owner: tuple[str, Function] | None, place: str) -> Check | str:
    """The check a marker stands for, or what is wrong with it."""
    where = f"{place} line {call.lineno}"
    if owner is None:
        return f"{where}: the check mark belongs to no test."
    given = {keyword.arg: keyword.value for keyword in call.keywords}
    if len(call.args) != 1 or sorted(map(str, given)) != ["source", "status"]:
        return f'{where}: write check("ID", source="…", status="…").'
    values = [_literal(node) for node in (call.args[0], given["source"], given["status"])]
    if not all(values):
        return f"{where}: ID, source and status must be written out as text."
    identity, source, status = map(str, values)
    if status not in STATUSES:
        return f'{where}: the status "{status}" is none of: {", ".join(STATUSES)}.'
    name, function = owner
    said = (ast.get_docstring(function) or "").split("\n\n")[0]
    says = " ".join(said.split()) or name.split("::")[-1].removeprefix("test_").replace("_", " ")
    return Check(identity, says, source, status, f"{place}::{name}")


def _literal(node: ast.expr) -> str:
    """The text of a literal (adjacent pieces are one literal to Python), or nothing."""
    return node.value.strip() if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


if __name__ == "__main__":
    sys.exit(main())
