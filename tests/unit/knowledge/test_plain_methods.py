"""The quick reader of methods gives what the full reader of TOML gives, or steps aside for it."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from dooryard.knowledge.load import SHIPPED, plain_entries

METHODS = sorted((SHIPPED / "methods").glob("*.toml"))


@pytest.mark.parametrize("path", METHODS, ids=lambda path: path.stem)
def test_shipped_methods_read_quickly_are_those_of_the_full_reader(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found = plain_entries(text)
    assert found is None or found == tomllib.loads(text)


def test_most_shipped_methods_are_read_quickly() -> None:
    quick = [path for path in METHODS if plain_entries(path.read_text(encoding="utf-8")) is not None]
    assert len(quick) > len(METHODS) / 2


@pytest.mark.parametrize(
    "text",
    [
        '["a"]\nname = "x \\" y"\n',
        '["a"]\nname = """x"""\n',
        "['a']\nname = 'x'\n",
        "[a]\n",
        '["a"]\nname = 3\n',
        '["a"]\nname = "x" # a remark\n',
        'name = "x"\n',
        '["a"]\n["a"]\n',
        '["a"]\nname = "x"\nname = "y"\n',
        '["a"]\nname = "x\n',
    ],
)
def test_whatever_is_not_plain_is_left_to_the_full_reader(text: str) -> None:
    assert plain_entries(text) is None


def test_remarks_and_empty_lines_are_passed_over() -> None:
    assert plain_entries('# a remark\n\n["a.b"]\nname = "x"\n') == {"a.b": {"name": "x"}}
