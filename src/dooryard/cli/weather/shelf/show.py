"""`dooryard weather shelf show KEY`: what a shelved record holds and where it came from."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, say, told_plainly
from dooryard.cli.weather.shared import open_shelf, print_json, shelf_option


@click.command("show", short_help="Where a record came from.")
@click.argument("key")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@told_plainly
def command(key: str, units: Literal["us", "metric"], folder: Path | None, as_json: bool) -> int:
    """Show what the record KEY holds: its files, their hashes, when and how each was read, what was flagged.

    KEY is a key on the shelf, or the station's identifier or name.
    """
    from dooryard.weather import shelf_text
    from dooryard.weather.shelved import read_about

    about = read_about(open_shelf(folder).find(key))
    if as_json:
        print_json(shelf_text.about_json(about))
    else:
        say(shelf_text.render_about(about, units))
    return FINE
