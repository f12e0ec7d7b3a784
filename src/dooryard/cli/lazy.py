"""A command group that imports a command's module only when it is asked for, and suggests near names."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from dooryard.problem import nearest


class LazyGroup(click.Group):
    """A click group over a table of modules.

    table : command name to its one-line help, in the order a newcomer needs them. The command `name` is the object
    `command` in the module `package.name` (with underscores for hyphens).
    default : the command meant when the first word is no command but a file (or looks like one), or None.
    """

    def __init__(
        self,
        *args: Any,
        table: Mapping[str, str],
        package: str,
        default: str | None = None,
        **settings: Any,
    ) -> None:
        super().__init__(*args, **settings)
        self.table = table
        self.package = package
        self.default = default

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Command names in the table's order."""
        return list(self.table)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import the command's module, or None if there is no such command."""
        if cmd_name not in self.table:
            return None
        module = f"{self.package}.{cmd_name.replace('-', '_')}"
        command = import_module(module).command
        if not isinstance(command, click.Command):
            raise TypeError(f"{module}.command is not a click command")
        return command

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """As click does, but options before the first word are the default command's."""
        helps = ctx.help_option_names
        if self.default is not None and args and args[0].startswith("-") and args[0] not in helps:
            args = [self.default, *args]
        return super().parse_args(ctx, args)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but a first word that is no command goes to the default, or gets a near name suggested."""
        name = args[0] if args else ""
        if name in self.table or name.startswith("-"):
            return super().resolve_command(ctx, args)
        if self.default is not None and (any(mark in name for mark in "./\\") or _is_file(name)):
            return super().resolve_command(ctx, [self.default, *args])
        hint = nearest(name, self.table) or f"Commands: {', '.join(self.table)}."
        return ctx.fail(f'There is no command "{name}". {hint}')

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands from the table, so that help imports none of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(self.table.items()))


def _is_file(name: str) -> bool:
    try:
        return Path(name).exists()
    except OSError:  # a word too long to be a file's name
        return False
