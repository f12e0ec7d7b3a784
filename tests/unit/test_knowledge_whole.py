"""The knowledge folder as a whole, read without the loader: nothing unsourced, unread or asked for vainly."""

from __future__ import annotations

import ast
import csv
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tools import layers

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "dooryard"
TABLES = SOURCE / "knowledge"
STATUSES = {"seen", "second-hand", "from memory", "common practice", "computed", "judged"}


def rows(path: Path) -> list[dict[str, str]]:
    """The rows of a table; lines that begin with # are remarks."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def sourced_tables() -> Iterator[tuple[str, list[dict[str, str]]]]:
    for path in sorted(TABLES.rglob("*.csv")):
        if path.parent.name != "sources":
            yield path.relative_to(TABLES).as_posix(), rows(path)


def methods() -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = {}
    for path in sorted((TABLES / "methods").glob("*.toml")):
        for key, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
            assert key not in found, f"{key} is described twice"
            found[key] = entry
    return found


def source_ids() -> list[str]:
    return [row["id"] for path in sorted((TABLES / "sources").glob("*.csv")) for row in rows(path)]


def test_knowledge_every_row_names_a_known_source_and_a_status() -> None:
    known = set(source_ids())
    seen = 0
    for name, table in sourced_tables():
        for row in table:
            seen += 1
            assert row["source"] in known, f"{name}: {row}"
            assert row["status"] in STATUSES, f"{name}: {row}"
    assert seen > 100


def test_knowledge_every_method_says_formula_limits_source_and_status() -> None:
    known = set(source_ids())
    assert methods()
    for key, entry in methods().items():
        assert set(entry) == {"name", "formula", "limits", "source", "status"}, key
        assert entry["source"] in known, key
        assert entry["status"] in STATUSES, key


def test_knowledge_sources_are_named_once_and_say_what_they_are() -> None:
    ids = source_ids()
    assert sorted(ids) == sorted(set(ids))
    for path in sorted((TABLES / "sources").glob("*.csv")):
        for row in rows(path):
            assert row["author"], row
            assert row["title"], row


def test_knowledge_keys_are_unique_over_all_files_of_a_folder() -> None:
    for folder in ("facts", "cautions"):
        keys = [row["key"] for path in sorted((TABLES / folder).glob("*.csv")) for row in rows(path)]
        assert sorted(keys) == sorted(set(keys))


def test_knowledge_loader_reads_every_row_there_is(knowledge: Any) -> None:
    """No table lies in the folder that the loader passes over."""
    counted = {
        "facts": len(knowledge.facts),
        "cautions": len(knowledge.cautions),
        "sources": len(knowledge.sources),
        "methods": len(knowledge.methods),
        "bearing": len(knowledge.bearing_soils),
        "coverings": len(knowledge.coverings),
        "crops": len(knowledge.crops),
        "soils": len(knowledge.soils),
        "organisms": len(knowledge.organisms),
        "stages": len(knowledge.stages),
        "windows": len(knowledge.windows),
        "treatments": len(knowledge.treatments),
        "troubles": len(knowledge.troubles),
        "hosts": len(knowledge.hosts),
        "blooms": len(knowledge.blooms),
        "soil_temperatures": len(knowledge.soil_temperatures),
        "germination": len(knowledge.germination),
        "infection": len(knowledge.infection),
        "severity": len(knowledge.severity),
        "chill": len(knowledge.chill),
        "windows_by_date": len(knowledge.dated_windows),
        "pruning": len(knowledge.pruning),
        "division": len(knowledge.divisions),
        "oak_windows": len(knowledge.oak_windows),
        "spray_limits": len(knowledge.spray_limits),
        "restrictions": len(knowledge.restrictions),
        "wounds": len(knowledge.wounds),
        "invasive": len(knowledge.invasive),
        "gate_words": len(knowledge.gate_words),
        "parts": len(knowledge.parts),
        "tools": len(knowledge.tools),
        "steps": len(knowledge.steps),
        "signs": len(knowledge.signs),
        "causes": len(knowledge.causes),
        "plant_groups": len(knowledge.plant_groups),
    }
    lying: dict[str, int] = {"methods": len(methods())}
    for path in sorted(TABLES.rglob("*.csv")):
        table = path.stem if path.parent == TABLES else path.parent.name
        lying[table] = lying.get(table, 0) + len(rows(path))
    assert lying == {name: count for name, count in counted.items() if count or name in lying}


def test_knowledge_asked_for_by_name_in_the_code_exists(knowledge: Any) -> None:
    """A misspelt key would only show when a plan happens to need it."""
    tables = {"fact": knowledge.facts, "caution": knowledge.cautions, "method": knowledge.methods}
    asked = 0
    for path, tree in layers.modules(SOURCE):
        for table, key, line in keys_asked_for(tree):
            asked += 1
            assert key in tables[table], f"{path.relative_to(SOURCE)} line {line}: no {table} {key!r}"
    assert asked > 10


def keys_asked_for(tree: ast.Module) -> Iterator[tuple[str, str, int]]:
    """Literal keys given to fact(…), caution(…) or method=…, and those indexed out of a table."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else ""
            given = [(name, value) for value in node.args] if name in ("fact", "caution") else []
            given += [("method", word.value) for word in node.keywords if word.arg == "method"]
            # book.quantity(id, name, value, dimension, method) and book.plain(id, name, value, shown, method)
            given += [("method", value) for value in node.args[4:5] if name in ("quantity", "plain")]
        elif isinstance(node, ast.Subscript) and isinstance(node.value, ast.Attribute):
            name = node.value.attr
            given = [(name[:-1], node.slice)] if name in ("facts", "cautions", "methods") else []
        else:
            continue
        for table, value in given:
            if isinstance(value, ast.Constant) and isinstance(value.value, str) and "." in value.value:
                yield table, value.value, node.lineno
