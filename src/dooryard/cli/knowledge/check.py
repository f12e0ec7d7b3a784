"""`dooryard knowledge check`: whether a folder of one's own tables is in order, and what it changes."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly


@click.command("check", short_help="Check a folder of your own tables and tell what it changes.")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the changes as JSON.")
@told_plainly
def command(folder: Path, as_json: bool) -> int:
    """Check every table in FOLDER against the shipped ones; list each fault, or else each row it adds or replaces."""
    from dooryard.knowledge import listing
    from dooryard.knowledge.county import with_county

    found = listing.changes(with_county(folder))
    if as_json:
        click.echo(json.dumps([asdict(one) for one in found], ensure_ascii=False, indent=1))
        return FINE
    for one in found:
        say(f"{one.table}: {one.key} {'replaces the shipped row' if one.replaces else 'is new'}")
    say(f"The folder is in order. It holds {len(found)} {'row' if len(found) == 1 else 'rows'}.")
    return FINE
