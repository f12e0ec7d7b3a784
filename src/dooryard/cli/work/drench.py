"""`dooryard work drench`: whether a tree may get a soil drench at all."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Measure,
    Share,
    answer_options,
    tell,
    today,
)


@click.command("drench", short_help="Whether a tree may get a soil drench at all.")
@click.option("--girth", type=Measure("length"), required=True, help='Around the trunk at 4.5 ft, "41.5 in".')
@click.option("--crown-lost", type=Share(), required=True, help='Part of the crown that is gone, "20 %".')
@click.option(
    "--flowers", type=Measure("length"), help="From the trunk to the nearest flowers or vegetables."
)
@click.option("--water", type=Measure("length"), help="From the trunk to open water or a drain.")
@answer_options
@told_plainly
def command(
    girth: float,
    crown_lost: float,
    flowers: float | None,
    water: float | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say whether size, crown and place allow a household to drench a tree. No rate is named."""
    from dooryard import knowledge
    from dooryard.plan.work import drench

    plan = drench.drench(
        knowledge.load(),
        today(on),
        girth_m=girth,
        crown_lost=crown_lost,
        flowers_m=flowers,
        water_m=water,
        system=system,
    )
    return tell(plan, "drench", out=out, as_json=as_json, why=why)
