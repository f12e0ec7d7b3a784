"""`dooryard weather look FILE`: what a record holds, its yearly totals, its faults, and a small picture."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, shows, told_plainly


@click.command("look", short_help="What a weather record holds.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@click.option(
    "--of",
    type=click.Choice(["rain", "temperature"]),
    default="rain",
    show_default=True,
    help="What the picture shows.",
)
@click.option("--layout", help="The layout, if it is not found by looking into the file.")
@click.option("--station", help="Which station, if the file holds several.")
@click.option("--day-ends", help="When the observer reads, such as 07:00, if the file does not say so.")
@click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON.")
@told_plainly
def command(
    file: Path,
    units: Literal["us", "metric"],
    of: Literal["rain", "temperature"],
    layout: str | None,
    station: str | None,
    day_ends: str | None,
    as_json: bool,
) -> int:
    """Show what a station's weather record holds and what is wrong with it.

    FILE is a station's record in any layout of the manual's page on weather files, such as NOAA daily summaries
    or a plain CSV with units in its header. A name ending in .gz is unpacked. Exit code 1 means that something
    needs a person.
    """
    from dooryard import weather
    from dooryard.weather import summary

    record = weather.read(file, layout, day_ends=day_ends, station=station)
    held = summary.summarise(record)
    if as_json:
        import json

        click.echo(json.dumps(summary.as_json(held, record), indent=2, ensure_ascii=False).encode("utf-8"))
    else:
        say(summary.render(held, record, units, blocks=shows("█"), of=of))
    return NEEDS_A_PERSON if record.issues else FINE
