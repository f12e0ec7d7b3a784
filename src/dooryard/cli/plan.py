"""`dooryard plan YARD`: one yard's dated plan, on the screen and in every form it leaves the house."""

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


@click.command("plan", short_help="One yard's dated plan.")
@yard_argument
@weather_option
@click.option(
    "--forecast", type=click.Path(path_type=Path), help="Forecast file (CSV, or JSON of the US service)."
)
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
    county: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Make one yard's plan for the next 21 days and the season ahead.

    YARD is a yard file (TOML). The plan is printed; with --out it is also written as a page, a PDF, a
    calendar and data. Exit code 1 means that something was refused or the record has a gap that matters.
    """
    from dooryard.plan.files import plan_from_files

    plan = plan_from_files(yard, weather=weather, forecast=forecast, on=on or date.today(), county=county)
    return hand_over(plan, yard.stem, out=out, as_json=as_json, why=why)
