"""`dooryard work plugs`: dividing a ground cover."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import county_option
from dooryard.cli.work.shared import (
    Area,
    Day,
    Measure,
    Share,
    Size,
    answer_options,
    tell,
    today,
)


@click.command("plugs", short_help="Dividing a ground cover: plugs, spacing, last day.")
@click.option("--area", type=Area(), required=True, help='Ground to plant, "180 sq ft".')
@click.option("--mat", type=Size(), help='The piece that is divided, "6 ft x 5 ft".')
@click.option("--plug", type=Measure("length"), help='Side of a plug, "4 in".')
@click.option("--lost", type=Share(), help='Part that dies in the first year, "10 %"; else the usual part.')
@click.option("--spacing", type=Measure("length"), help='A spacing you wish for, "8 in".')
@click.option("--plant", default="", help="What it is; held against your county's list of what runs wild.")
@click.option("--planted", type=Day(), help="The day plugs are set, for watering in; else the day asked on.")
@click.option("--weather", type=click.Path(path_type=Path), help="Station record, for the first hard freeze.")
@click.option("--hard-freeze", type=Day(), help="Its middle date this year, in place of --weather.")
@county_option
@answer_options
@told_plainly
def command(
    area: float,
    mat: tuple[float, float] | None,
    plug: float | None,
    lost: float | None,
    spacing: float | None,
    plant: str,
    planted: date | None,
    weather: Path | None,
    hard_freeze: date | None,
    county: Path | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say how many plugs a mat gives or a spacing takes, how far apart they stand, and the last day for it."""
    from dooryard import weather as records
    from dooryard.knowledge.county import with_county
    from dooryard.plan.work import freeze_date, plugs

    tables, day = with_county(county), today(on)
    freeze_from = "given"
    if hard_freeze is None and weather is not None:
        hard_freeze, freeze_from = freeze_date.middle(tables, records.read(weather), day)
    plan = plugs.plugs(
        tables,
        day,
        area_m2=area,
        mat=None if mat is None else plugs.Mat(*mat),
        plug_m=plug,
        share_lost=lost,
        spacing_m=spacing,
        hard_freeze=hard_freeze,
        freeze_from=freeze_from,
        plant=plant,
        planted=planted,
        system=system,
    )
    return tell(plan, "plugs", out=out, as_json=as_json, why=why)
