"""`dooryard kit KITS`: what a workshop of so many barrels buys, brings and does."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import county_option, hand_over, json_option, on_option, out_option, why_option


@click.command(
    "kit", short_help="A workshop of so many barrels.", context_settings={"ignore_unknown_options": True}
)
@click.argument("kits")
@click.option(
    "--yard", type=click.Path(path_type=Path), help="Yard file whose barrel is built; else the usual drum."
)
@click.option("--storage", default="", help="Name of its barrel, if it has several.")
@click.option(
    "--units",
    "system",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Units of the answer, without a yard file.",
)
@county_option
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    kits: str,
    yard: Path | None,
    storage: str,
    system: Literal["us", "metric"],
    county: Path | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Plan a workshop in which so many households build a barrel each.

    It lists what to buy, in whole packs and with spares; what that costs a household, as a range; how many
    drills and helpers it takes; the run of the day; and what to hand out. KITS is a whole number.
    """
    from dooryard.knowledge.county import beside, with_county
    from dooryard.plan.kit_report import kit, kits_from_text
    from dooryard.yard import file

    tables = with_county(county if yard is None else beside(yard, county))
    many = kits_from_text(kits, tables)
    read = None if yard is None else file.read(yard, tables)
    plan = kit(many, tables, on or date.today(), yard=read, storage=storage, system=system)
    return hand_over(plan, f"kit-{many}", out=out, as_json=as_json, why=why)
