"""`dooryard weather forecast FILE`: what a forecast file foretells, how old it is and what it lacks."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.weather.shared import spot


@click.command("forecast", short_help="What a forecast file holds.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--zone", help="Time zone whose standard time days follow, such as America/Chicago.")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@click.option(
    "--yard", type=click.Path(path_type=Path), help="Say whether it was made for this yard's place, too."
)
@click.option("--json", "as_json", is_flag=True, help="Print the forecast as JSON, in metric units.")
@told_plainly
def command(
    file: Path, zone: str | None, units: Literal["us", "metric"], yard: Path | None, as_json: bool
) -> int:
    """Show a forecast day by day, its age, and what it lacks.

    FILE is a plain CSV, or a forecast as the US National Weather Service sends it: grid data, periods of day
    and night, or single hours (JSON). "dooryard plan --forecast" takes the same files. Exit code 1 means that
    all of its days are past, that it is old, or that it was made for a place far from the yard.
    """
    from dooryard.weather import forecast, forecast_fit, forecast_text
    from dooryard.weather.record import Issue

    found = forecast.read(file, zone=zone)
    now = datetime.now().astimezone()
    place = found.place or (0.0, 0.0)
    if yard is not None:
        place = spot(yard, None)[:2]
    unfit = forecast_fit.against(found, *place, now.date(), units)
    doubts = (*(Issue("unfit", sentence) for sentence in unfit), *forecast.doubts(found, now))
    if as_json:
        import json

        told = forecast_text.as_json(found, doubts)
        click.echo(json.dumps(told, indent=2, ensure_ascii=False).encode("utf-8"))
    else:
        say(forecast_text.render(found, doubts, units))
    return NEEDS_A_PERSON if unfit or found.last < now.date() else FINE
