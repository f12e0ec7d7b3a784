"""`dooryard check YARD`: only validate, and say everything that needs mending at once."""

from __future__ import annotations

from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly


@click.command("check", short_help="Check a yard file.")
@click.argument("yard", type=click.Path(path_type=Path))
@told_plainly
def command(yard: Path) -> int:
    """Check a yard file and list everything that needs mending.

    YARD is a yard file (TOML); docs/yard-file.md tells what may stand in it.
    """
    from dooryard.knowledge.county import beside, with_county
    from dooryard.yard import file

    found = file.read(yard, with_county(beside(yard)))
    counted = ", ".join(
        f"{len(places)} {word if len(places) == 1 else word + 's'}"
        for word, places in (
            ("roof", found.roofs),
            ("downspout", found.downspouts),
            ("barrel or tank", found.storages),
            ("bed", found.beds),
            ("plant", found.plants),
        )
        if places
    ).replace("barrel or tanks", "barrels or tanks")
    say(f"{found.name}: the file is in order. It holds {counted or 'no places yet'}.")
    for note in found.notes:
        say(f"Note: {note}")
    say(f'Next: "dooryard plan {yard}".')
    return FINE
