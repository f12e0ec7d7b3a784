"""Start-up is a contract: what the command line may load before it knows what is asked of it."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = {
    "numpy",
    "pydantic",
    "jinja2",
    "typst",
    "icalendar",
    "tomlkit",
    "tree_sitter",
    "tree_sitter_toml",
    "httpx2",
    "polars",
    "platformdirs",
}

LISTED = (
    "; import sys; print(' '.join(sorted({name.split('.')[0] for name in sys.modules})), file=sys.stderr)"
)


def loaded_by(statement: str) -> set[str]:
    """The top-level modules a fresh interpreter holds after a statement."""
    ran = subprocess.run(
        [sys.executable, "-c", statement + LISTED], capture_output=True, text=True, check=True
    )
    return set(ran.stderr.split())


def test_start_up_probe_sees_a_heavy_module() -> None:
    """The probe itself works: a loaded library is seen."""
    assert "tomlkit" in loaded_by("import tomlkit")


def test_start_up_of_the_command_line_loads_nothing_heavy() -> None:
    loaded = loaded_by("import dooryard.cli, dooryard.cli.app")
    assert "dooryard" in loaded
    assert loaded & HEAVY == set()


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["--version"],
        ["plan", "--help"],
        ["check", "--help"],
        ["weather", "fetch", "record", "--help"],
        ["weather", "shelf", "--help"],
    ],
)
def test_start_up_for_help_loads_nothing_heavy(words: list[str]) -> None:
    loaded = loaded_by(f"from dooryard.cli.app import dooryard; dooryard({words!r}, standalone_mode=False)")
    assert "click" in loaded
    assert loaded & HEAVY == set()


@pytest.mark.parametrize("room", ["problem", "units", "figure", "yard.model"])
def test_start_up_of_a_ground_room_needs_no_numpy(room: str) -> None:
    """A yard file can be checked without arrays."""
    assert loaded_by(f"import dooryard.{room}") & HEAVY == set()
