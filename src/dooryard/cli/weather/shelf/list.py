"""`dooryard weather shelf list`: the stations on the shelf."""

from __future__ import annotations

from pathlib import Path

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.weather.shared import open_shelf, print_json, shelf_option


@click.command("list", short_help="The stations on the shelf.")
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print the stations as JSON.")
@told_plainly
def command(folder: Path | None, as_json: bool) -> int:
    """List the stations on the shelf. Exit code 1 means that a record is damaged."""
    from dooryard.weather import shelf_text

    held, problems = open_shelf(folder).contents()
    if as_json:
        print_json(
            {
                "stations": [shelf_text.about_json(about) for about in held],
                "problems": [str(problem) for problem in problems],
            }
        )
    else:
        say(shelf_text.render_list(held))
        for problem in problems:
            say(str(problem))
    return NEEDS_A_PERSON if problems else FINE
