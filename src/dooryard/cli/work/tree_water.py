"""`dooryard work tree-water`: a watering schedule for a young tree."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Day,
    Measure,
    answer_options,
    tell,
    today,
)


@click.command("tree-water", short_help="Water for a young tree.")
@click.option("--trunk", type=Measure("length"), required=True, help='Trunk across, "2 in".')
@click.option("--planted", type=Day(), help="The day it was planted; else today.")
@click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record: has rain stood for the turn?"
)
@click.option("--forecast", type=click.Path(path_type=Path), help="Forecast file, for rain to come.")
@answer_options
@told_plainly
def command(
    trunk: float,
    planted: date | None,
    weather: Path | None,
    forecast: Path | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say how much water a newly planted tree gets, how often, and for how long.

    With the station's record it says whether today is a turn, and whether rain has stood for it.
    """
    from dooryard import knowledge
    from dooryard import weather as records
    from dooryard.plan.work import tree_water
    from dooryard.weather import forecast as forecasts

    day = today(on)
    plan = tree_water.young_tree(
        knowledge.load(),
        day,
        diameter_m=trunk,
        planted=planted or day,
        record=None if weather is None else records.read(weather),
        forecast=None if forecast is None else forecasts.read(forecast),
        system=system,
    )
    return tell(plan, "tree-water", out=out, as_json=as_json, why=why)
