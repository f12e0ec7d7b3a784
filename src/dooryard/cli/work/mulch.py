"""`dooryard work mulch`: area, volume and bags for a ring around a trunk or for a bed."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Area,
    Measure,
    answer_options,
    tell,
    today,
)


@click.command("mulch", short_help="Mulch for a tree or a bed: area, volume, bags.")
@click.option("--ring", type=Measure("length"), help='From the middle of the trunk to the edge, "3 ft".')
@click.option("--trunk", type=Measure("length"), help='Trunk across, at the ground, "7 in".')
@click.option("--area", type=Area(), help='Of a bed, in place of --ring, "180 sq ft".')
@click.option("--depth", type=Measure("depth"), help="How deep; else the usual depth.")
@click.option("--clear", type=Measure("length"), help="Left bare around the bark; else the usual width.")
@click.option("--bag", type=Measure("volume"), help='What a bag holds; else "2 cu ft".')
@answer_options
@told_plainly
def command(
    ring: float | None,
    trunk: float | None,
    area: float | None,
    depth: float | None,
    clear: float | None,
    bag: float | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say how much mulch a tree's ring or a bed takes, and how many bags.

    For a tree give --ring and --trunk, for a bed --area.
    """
    from dooryard import knowledge
    from dooryard.plan.work import mulch
    from dooryard.problem import InputError, Problem

    if (ring is None) == (area is None):
        what = "Neither a ring nor a bed is given." if ring is None else "A ring and a bed are given at once."
        raise InputError(Problem(what, 'Write --ring "3 ft" --trunk "7 in", or --area "180 sq ft".'))
    if ring is not None and trunk is None:
        raise InputError(Problem("The trunk is missing.", 'Write --trunk "7 in": its width at the ground.'))
    tables = knowledge.load()
    if ring is not None and trunk is not None:
        plan = mulch.ring(
            tables,
            today(on),
            reach_m=ring,
            trunk_m=trunk,
            depth_mm=depth,
            clear_m=clear,
            bag_l=bag,
            system=system,
        )
    else:
        assert area is not None
        plan = mulch.bed(tables, today(on), area_m2=area, depth_mm=depth, bag_l=bag, system=system)
    return tell(plan, "mulch", out=out, as_json=as_json, why=why)
