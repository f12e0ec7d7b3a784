"""`dooryard frost YARD`: tonight's odds, first and last frost, what it hurts, and the soil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import (
    hand_over,
    json_option,
    on_option,
    out_option,
    weather_option,
    why_option,
    yard_argument,
)


@click.command("frost", short_help="Cold nights: tonight, first and last, and the soil.")
@yard_argument
@weather_option
@click.option(
    "--forecast", type=click.Path(path_type=Path), help="Forecast file (CSV, or JSON of the US service)."
)
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    yard: Path,
    weather: Path | None,
    forecast: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Tell a yard's cold nights: the odds for tonight, the usual first and last ones, and what they hurt.

    YARD is a yard file (TOML). With a forecast it says how likely each coming night falls to 36, 32, 28 and
    24 °F in this yard, and what to cover. Then come the dates of the last and first such nights with their
    odds, the time between, when to plant out, how warm the soil is and what can be sown, and when to drain
    the barrels. Exit code 1 means that something was refused.
    """
    from dooryard.plan.files import frost_from_files

    plan = frost_from_files(yard, weather=weather, forecast=forecast, on=on or date.today())
    return hand_over(plan, f"{yard.stem}-frost", out=out, as_json=as_json, why=why)
