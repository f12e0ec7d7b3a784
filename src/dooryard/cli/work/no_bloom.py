"""`dooryard work no-bloom`: why a shrub does not bloom, and when to cut it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Day,
    json_option,
    on_option,
    out_option,
    tell,
    today,
    units_option,
    why_option,
)


@click.command("no-bloom", short_help="Why a shrub does not bloom, and when to cut it.")
@click.option("--plant", required=True, help="What it is, such as lilac.")
@click.option(
    "--wood",
    type=click.Choice(["old", "new", "both"]),
    required=True,
    help="Where its flowers sit: on last year's wood, this year's, or both.",
)
@click.option("--bloom-ended", type=Day(), help="The day its bloom ended, or usually ends.")
@click.option("--pruned", type=Day(), help="The day it was last cut.")
@click.option("--sun", type=click.FloatRange(0, 24), help="Hours of sun a day.")
@click.option("--years", type=click.FloatRange(0, 200), help="Years since it was planted.")
@click.option("--lawn-fed/--not-fed", default=None, help="Lawn fertilizer reaches it.")
@click.option("--buds-froze/--no-frost", default=None, help="A winter or late frost hard on its buds.")
@click.option("--dry-summer/--no-drought", default=None, help="Last summer was dry.")
@click.option("--deer/--no-deer", default=None, help="Deer eat at it.")
@click.option("--crowded/--thinned", default=None, help="Old stems never taken out, or planted too deep.")
@units_option
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    plant: str,
    wood: Literal["old", "new", "both"],
    bloom_ended: date | None,
    pruned: date | None,
    sun: float | None,
    years: float | None,
    lawn_fed: bool | None,
    buds_froze: bool | None,
    dry_summer: bool | None,
    deer: bool | None,
    crowded: bool | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Hold the usual reasons against what you know, rank them, and say what to ask next and when to cut."""
    from dooryard import knowledge
    from dooryard.care.no_bloom import Facts
    from dooryard.plan.work import no_bloom
    from dooryard.problem import InputError, Problem

    day = today(on)
    if pruned is not None and pruned > day:
        raise InputError(
            Problem("The cut lies ahead.", "Check --pruned and --on.", field="--pruned", found=str(pruned))
        )
    facts = Facts(wood, bloom_ended, pruned, sun, years, lawn_fed, buds_froze, dry_summer, deer, crowded)
    plan = no_bloom.no_bloom(knowledge.load(), day, plant=plant, facts=facts, system=system)
    return tell(plan, "no-bloom", out=out, as_json=as_json, why=why)
