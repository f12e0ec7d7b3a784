"""Every command explains itself, and the manual names it."""

from __future__ import annotations

from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from tools import manual

ROOT = Path(__file__).resolve().parents[2]
COMMANDS = (
    "plan",
    "water",
    "storm",
    "build",
    "kit",
    "frost",
    "check",
    "season",
    "look",
    "letter",
    "work",
    "knowledge",
    "weather",
    "demo",
)


def command_named(name: str) -> click.Command:
    command = dooryard.get_command(click.Context(dooryard), name)
    assert command is not None
    return command


def test_commands_listed_by_help_are_the_ones_tested_here() -> None:
    assert tuple(dooryard.list_commands(click.Context(dooryard))) == COMMANDS


def paths(group: click.Group, *above: str) -> list[str]:
    """Words of every command below a group, as one text each."""
    found = []
    for name in group.list_commands(click.Context(group)):
        command = group.get_command(click.Context(group), name)
        assert command is not None
        found += [" ".join((*above, name))]
        found += paths(command, *above, name) if isinstance(command, click.Group) else []
    return found


EVERY_COMMAND = tuple(paths(dooryard))


@pytest.mark.parametrize("path", EVERY_COMMAND)
def test_command_help_says_what_it_does_and_what_each_option_is(path: str) -> None:
    name, *rest = path.split()
    command = command_named(name)
    for word in rest:
        assert isinstance(command, click.Group)
        found = command.get_command(click.Context(command), word)
        assert found is not None
        command = found
    assert command.help
    silent = [
        option.name for option in command.params if isinstance(option, click.Option) and not option.help
    ]
    assert silent == []
    shown = CliRunner().invoke(dooryard, [name, *rest, "--help"])
    assert shown.exit_code == 0
    for parameter in command.params:
        word = parameter.opts[-1] if isinstance(parameter, click.Option) else (parameter.name or "").upper()
        assert word in shown.stdout


@pytest.mark.parametrize("name", COMMANDS)
def test_command_stands_in_the_readme(name: str) -> None:
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"dooryard {name}" in page or f"make {name}" in page


def test_commands_page_is_in_step_with_the_help() -> None:
    """docs/commands.md says what the program says; `make manual` writes it anew."""
    assert manual.PAGE.read_text(encoding="utf-8") == manual.render()


def test_command_help_fits_eighty_columns() -> None:
    for words in ([], *(path.split() for path in EVERY_COMMAND)):
        shown = CliRunner().invoke(dooryard, [*words, "--help"], terminal_width=80)
        assert max(map(len, shown.stdout.splitlines())) <= 80


@pytest.mark.parametrize(("typed", "meant"), [("pln", "plan"), ("wether", "weather"), ("chek", "check")])
def test_command_misspelt_is_answered_with_the_near_one(typed: str, meant: str) -> None:
    shown = CliRunner().invoke(dooryard, [typed])
    assert shown.exit_code == 2
    assert f'"{meant}"' in shown.stderr
