"""`dooryard storm YARD --forecast F`: what to let out before a storm, and what little that changes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import (
    county_option,
    hand_over,
    json_option,
    on_option,
    out_option,
    weather_option,
    why_option,
    yard_argument,
)


@click.command("storm", short_help="The drill before a forecast storm.")
@yard_argument
@click.option(
    "--forecast",
    required=True,
    type=click.Path(path_type=Path),
    help="Forecast file (CSV, or JSON of the US service).",
)
@weather_option
@county_option
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    yard: Path,
    forecast: Path,
    weather: Path | None,
    county: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say how much to let out of each barrel before a storm, by when, and what it changes.

    YARD is a yard file (TOML). The wettest spell of the forecast is taken, with the range it gives. Exit
    code 1 means that more comes than the barrels can hold: a person should look where it runs. A barrel is no
    flood protection, and the drill says so.
    """
    from dooryard.plan.files import storm_from_files

    plan = storm_from_files(yard, weather=weather, forecast=forecast, on=on or date.today(), county=county)
    return hand_over(plan, f"{yard.stem}-storm", out=out, as_json=as_json, why=why)
