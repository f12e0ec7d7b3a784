"""`dooryard work no-bloom`: why a shrub does not bloom, and when to cut it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Day,
    answer_options,
    tell,
    today,
)

if TYPE_CHECKING:
    from dooryard.knowledge import Knowledge


@click.command("no-bloom", short_help="Why a shrub does not bloom, and when to cut it.")
@click.option("--plant", required=True, help="What it is, such as lilac.")
@click.option(
    "--wood",
    type=click.Choice(["old", "new", "both"]),
    help="Where its flowers sit: on last year's wood, this year's, or both; else by its name.",
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
@answer_options
@told_plainly
def command(
    plant: str,
    wood: Literal["old", "new", "both"] | None,
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

    tables, day = knowledge.load(), today(on)
    if wood is None:
        wood = _wood(tables, plant)
    if pruned is not None and pruned > day:
        raise InputError(
            Problem("The cut lies ahead.", "Check --pruned and --on.", field="--pruned", found=str(pruned))
        )
    facts = Facts(wood, bloom_ended, pruned, sun, years, lawn_fed, buds_froze, dry_summer, deer, crowded)
    plan = no_bloom.no_bloom(tables, day, plant=plant, facts=facts, system=system)
    return tell(plan, "no-bloom", out=out, as_json=as_json, why=why)


def _wood(tables: Knowledge, plant: str) -> Literal["old", "new", "both"]:
    """Where a plant's flowers sit, by its name in the pruning table."""
    from dooryard.care.pruning import known_to_prune, pruning_of
    from dooryard.problem import InputError, Problem, nearest

    row = pruning_of(tables, plant)
    words: dict[str, Literal["old", "new", "both"]] = {"old wood": "old", "new wood": "new", "both": "both"}
    if row is None or row.wood not in words:
        hint = (
            nearest(plant, known_to_prune(tables))
            or "Write --wood old for what blooms before June, else --wood new."
        )
        raise InputError(
            Problem("We do not know on which wood it blooms.", hint, field="--plant", found=plant)
        )
    return words[row.wood]
