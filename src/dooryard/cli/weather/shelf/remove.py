"""`dooryard weather shelf remove KEY`: take a record off the shelf."""

from __future__ import annotations

from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly
from dooryard.cli.weather.shared import open_shelf, print_json, shelf_option


@click.command("remove", short_help="Take a record off the shelf.")
@click.argument("key")
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print what was removed as JSON.")
@told_plainly
def command(key: str, folder: Path | None, as_json: bool) -> int:
    """Take the record KEY off the shelf. The files it was read from are not touched."""
    from dooryard.weather import shelf_text

    about = open_shelf(folder).remove(key)
    if as_json:
        print_json({"removed": key, "record": None if about is None else shelf_text.about_json(about)})
    elif about is None:
        say(f"Removed {key}; it was damaged.")
    else:
        say(f"Removed {about.key}: {about.station.name}, {about.first} to {about.last}.")
    return FINE
