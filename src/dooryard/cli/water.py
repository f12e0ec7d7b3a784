"""`dooryard water YARD`: all of a yard's water as one report, from roof to root."""

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


@click.command("water", short_help="All of a yard's water as one report.")
@yard_argument
@weather_option
@click.option(
    "--forecast", type=click.Path(path_type=Path), help="Forecast file (CSV, or JSON of the US service)."
)
@click.option("--trouble", default="", help='What is wrong, such as "low pressure": only what bears on it.')
@county_option
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    yard: Path,
    weather: Path | None,
    forecast: Path | None,
    trouble: str,
    county: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Tell all of a yard's water: roofs, pipes, barrels, stands, storms, beds, upkeep.

    YARD is a yard file (TOML). It says what the roofs shed and the pipes carry, what stands in the barrels and
    what comes out of them, how they stand, where their water goes in a year, what beds want, and what to do
    through the year; last comes a finder for troubles. Exit code 1 means that something was refused.
    """
    from dooryard.plan.files import water_from_files

    plan = water_from_files(
        yard, weather=weather, forecast=forecast, on=on or date.today(), trouble=trouble, county=county
    )
    return hand_over(plan, f"{yard.stem}-water", out=out, as_json=as_json, why=why)
