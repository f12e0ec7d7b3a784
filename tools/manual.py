"""The page of commands, docs/commands.md, made from the help each command gives.

python -m tools.manual       write the page anew
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click

from dooryard.cli.app import dooryard

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "commands.md"
HEAD = """# Commands

Made from the program's own help (`make manual`). Every quantity in a yard file is written with its unit;
`dooryard check` says what else may be wrong with one.

| Exit code | Meaning |
|---|---|
| 0 | all well |
| 1 | done, but something was refused or a gap in the record matters: a person should look |
| 2 | the input cannot be used; what to mend is printed |
"""


def render() -> str:
    """The page: the program's help, then each command's, as a terminal of 80 columns shows them."""
    parts = [HEAD, *_sections(dooryard, dooryard.name or "dooryard", None)]
    return "\n".join(parts)


def main() -> int:
    """Write docs/commands.md."""
    PAGE.write_text(render(), encoding="utf-8", newline="\n")
    print("docs/commands.md written")
    return 0


def _sections(command: click.Command, name: str, above: click.Context | None) -> Iterator[str]:
    """A command's section, then those of the commands below it."""
    here = click.Context(command, info_name=name, parent=above, terminal_width=80, **command.context_settings)
    body = "\n".join(line.rstrip() for line in command.get_help(here).splitlines())
    yield f"## {here.command_path}\n\n```text\n{body}\n```\n"
    if isinstance(command, click.Group):
        for below in command.list_commands(here):
            found = command.get_command(here, below)
            assert found is not None
            yield from _sections(found, below, here)


if __name__ == "__main__":
    sys.exit(main())
