"""`dooryard season …`: what time of year it really is. Any word that is no command is an organism's or plant's name."""

from __future__ import annotations

import click

from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "of": "Is it time for one organism, or for all on one plant?",
    "watch": "What matters this week over all stations of a county.",
    "leaves": "Wet leaves in the last two weeks, and what they meant for diseases.",
    "chill": "How much cold this winter has brought, beside other winters.",
    "bloom": "Bloom dates predicted from cold and warmth, tried on other years.",
    "score": "How often such dates were right, over every past year of a record.",
}


class NamesGroup(LazyGroup):
    """A group whose first word, if it is no command, is taken for a name and given to the default command."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but a word that is no command goes to the default."""
        name = args[0] if args else ""
        if name not in self.table and not name.startswith("-") and self.default is not None:
            args = [self.default, *args]
        return super().resolve_command(ctx, args)


@click.group(
    "season",
    cls=NamesGroup,
    table=COMMANDS,
    package="dooryard.cli.season",
    default="of",
    short_help="What time of year it really is, for any pest or plant.",
)
def command() -> None:
    """Say what time of year it really is: too early, soon, now, closing, over or not here.

    "dooryard season bagworm --weather RECORD" is short for "dooryard season of bagworm …".
    """
