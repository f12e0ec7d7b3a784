"""`dooryard work mix`: an amount from the label in hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Area,
    Measure,
    Size,
    answer_options,
    tell,
    today,
)


@click.command("mix", short_help="An amount from the label in hand, checked backwards.")
@click.option(
    "--card", type=click.Path(path_type=Path), help="Label card (TOML), typed from the label in hand."
)
@click.option("--plant", required=True, help="The plant, as the label names it.")
@click.option("--pest", default="", help="The pest or disease, as the label names it.")
@click.option(
    "--water", type=Measure("volume"), help='Spray to mix, or with --crown what the tank holds, "1.5 gal".'
)
@click.option("--area", type=Area(), help='Ground to treat, "400 sq ft".')
@click.option("--girth", type=Measure("length"), help='Around the trunk at 4.5 ft, "32 in".')
@click.option("--crown", type=Size(), help='Crown to spray: width x height, "10 ft x 12 ft".')
@answer_options
@told_plainly
def command(
    card: Path | None,
    plant: str,
    pest: str,
    water: float | None,
    area: float | None,
    girth: float | None,
    crown: tuple[float, float] | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Work out how much of a product a job takes, from a card typed from the label, and check it backwards.

    Without a card there is no amount. docs/label-card.md shows how to type one.
    """
    from dooryard import knowledge
    from dooryard.care import card_file
    from dooryard.plan.work import mixing

    tables = knowledge.load()
    plan = mixing.mixture(
        tables,
        today(on),
        None if card is None else card_file.read(card, tables),
        plant=plant,
        pest=pest,
        job=mixing.Job(water, area, girth, crown),
        system=system,
    )
    return tell(plan, "mix", out=out, as_json=as_json, why=why)
