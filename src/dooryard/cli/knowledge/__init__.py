"""`dooryard knowledge …`: the tables of facts, a person's own among them."""

from __future__ import annotations

import click

from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "show": "The rows of a table, or those that hold a word.",
    "check": "Check a folder of your own tables and tell what it changes.",
    "sources": "The publications behind the tables.",
}


@click.group(
    "knowledge",
    cls=LazyGroup,
    table=COMMANDS,
    package="dooryard.cli.knowledge",
    short_help="The tables of facts, and your own county's.",
)
def command() -> None:
    """Look into the tables of facts: what the program knows, how sure it is, and who said so.

    docs/knowledge.md tells how to add your own county's rows.
    """
