"""The rules of the house hold for the project as it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import docstrings, house, layers

ROOT = Path(__file__).resolve().parents[2]
RULES = (
    "imports run downwards",
    "heavy libraries load late",
    "pure rooms stay pure",
    "no argument is swallowed",
    "everything public says what it is",
    "documented parameters are the real ones",
    "units agree with names",
    "nothing speaks of where it was made",
    "no file is too large",
    "locks hold no address",
    "links lead somewhere",
    "test files have names of their own",
    "check marks can be read",
    "the list of checks is in step",
)


@pytest.fixture(scope="module")
def broken() -> dict[str, list[str]]:
    return house.faults(ROOT)


def test_house_rules_as_listed_here_are_all_run(broken: dict[str, list[str]]) -> None:
    assert tuple(broken) == RULES


@pytest.mark.parametrize("rule", RULES)
def test_house_rule_over_the_tree_is_kept(rule: str, broken: dict[str, list[str]]) -> None:
    assert broken[rule] == []


def test_house_source_folder_holds_the_rooms() -> None:
    """The rules above would pass over an empty folder; this one would not."""
    rooms = {
        layers.room_of(path, ROOT / "src" / "dooryard")
        for path, _ in layers.modules(ROOT / "src" / "dooryard")
    }
    assert {"problem", "units", "figure", "knowledge", "yard", "weather", "water", "season"} <= rooms
    assert {"plan", "letter", "demo", "cli"} <= rooms


def test_glossary_endings_are_read_from_its_table() -> None:
    endings = docstrings.glossary_endings(ROOT / "docs" / "glossary.md")
    assert endings["mm"] == ("mm", "mm/d")
    assert endings["m2"] == ("m2",)
    assert len(endings) >= 15
