"""The page of commands, docs/commands.md, made from the help each command gives.

python -m tools.manual       write the page anew
"""

from __future__ import annotations

import sys
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
    program = dooryard.name or "dooryard"
    top = click.Context(dooryard, info_name=program, terminal_width=80, **dooryard.context_settings)
    parts = [HEAD, _section(program, dooryard.get_help(top))]
    for name in dooryard.list_commands(top):
        command = dooryard.get_command(top, name)
        assert command is not None
        own = click.Context(command, info_name=name, parent=top, terminal_width=80)
        parts.append(_section(f"{program} {name}", command.get_help(own)))
    return "\n".join(parts)


def main() -> int:
    """Write docs/commands.md."""
    PAGE.write_text(render(), encoding="utf-8", newline="\n")
    print("docs/commands.md written")
    return 0


def _section(title: str, text: str) -> str:
    body = "\n".join(line.rstrip() for line in text.splitlines())
    return f"## {title}\n\n```text\n{body}\n```\n"


if __name__ == "__main__":
    sys.exit(main())
