"""`dooryard weather shelf export KEY`: a record as a plain CSV, moved to a yard's own nights if asked."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, say, told_plainly, write_all
from dooryard.cli.weather.shared import measure, open_shelf, print_json, shelf_option
from dooryard.problem import InputError, Problem


@click.command("export", short_help="A record as a plain CSV.")
@click.argument("key")
@click.option(
    "--write", "new", required=True, type=click.Path(path_type=Path), metavar="NEW.csv", help="Where to."
)
@click.option("--night-offset", help='Added to each lowest temperature, such as "-3 F".')
@click.option("--day-offset", help='Added to each highest temperature, such as "2 F".')
@click.option("--reason", default="", help="Why, kept in the file: such as low ground by the creek.")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units of the note."
)
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print what was written as JSON.")
@told_plainly
def command(
    key: str,
    new: Path,
    night_offset: str | None,
    day_offset: str | None,
    reason: str,
    units: Literal["us", "metric"],
    folder: Path | None,
    as_json: bool,
) -> int:
    """Write the record KEY as a plain CSV with its flags.

    With an offset the temperatures are moved to a yard that is colder or warmer than its station, such as low
    ground on still nights; every moved value is flagged, and the file says what was added. For a plan it is simpler
    to write night_offset into the yard file. "dooryard weather shelf offset" finds it from a yard's own readings.
    """
    from dooryard import knowledge
    from dooryard.cli.weather.fill import refuse_existing
    from dooryard.weather import plain_text, site

    refuse_existing(new)
    record = open_shelf(folder).record(key)
    night_c, day_c = (
        0.0 if text is None else measure(text, "temperature_difference", option)
        for text, option in ((night_offset, "--night-offset"), (day_offset, "--day-offset"))
    )
    largest_c = knowledge.load().fact("site.largest_offset_c").value
    for degrees_c, option in ((night_c, "--night-offset"), (day_c, "--day-offset")):
        if abs(degrees_c) > largest_c:
            what = "No yard is so much colder or warmer than a station near it."
            raise InputError(Problem(what, "Check the number and its unit.", field=option))
    moved = site.moved(record, night_c, day_c, reason, system=units)
    comments = [(issue.kind, issue.text) for issue in moved.issues if issue.kind == "site"]
    text = plain_text.render(moved, comments)
    (path,) = write_all(new.parent, {new.name: text.encode("utf-8")}, "--write")
    told = moved.issues[-1] if comments else None
    if as_json:
        print_json(
            {
                "written": str(path),
                "days": len(moved.dates),
                "night_offset_c": night_c,
                "day_offset_c": day_c,
                "told": None if told is None else told.text,
            }
        )
    else:
        if told is not None:
            say(f"{told.text} {told.instead}")
        say(f"Written: {path}")
    return FINE
