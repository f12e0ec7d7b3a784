"""The command group: finds a command's module only when it is asked for, and suggests near names."""

from __future__ import annotations

from importlib import import_module

import click

from dooryard import __version__
from dooryard.problem import nearest

# Name and one-line help. The module is `dooryard.cli.<name>`, the command in it is called `command`.
COMMANDS = {
    "plan": "One yard's dated plan: what to look at, do, wait for and ask.",
    "check": "Check a yard file and list everything that needs mending.",
    "weather": "What a station's weather record holds, and what is wrong with it.",
    "demo": "Write the invented demo county and one yard's plan in every form.",
}


class LazyGroup(click.Group):
    """A click group that imports a command's module on first use."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Command names in the order a newcomer needs them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import the command's module, or None if there is no such command."""
        if cmd_name not in COMMANDS:
            return None
        command = import_module(f"dooryard.cli.{cmd_name}").command
        if not isinstance(command, click.Command):
            raise TypeError(f"dooryard.cli.{cmd_name}.command is not a click command")
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but a mistyped command gets the nearest one suggested."""
        name = args[0] if args else ""
        if name and not name.startswith("-") and name not in COMMANDS:
            hint = nearest(name, COMMANDS) or f"Commands: {', '.join(COMMANDS)}."
            ctx.fail(f'There is no command "{name}". {hint}')
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands from the table, so that help imports none of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, prog_name="dooryard")
def dooryard() -> None:
    """Turn a yard, its weather record and sourced knowledge into one dated, safe plan.

    Start with "dooryard demo". Exit codes: 0 all well, 1 done but something needs a person, 2 the input
    cannot be used.
    """
