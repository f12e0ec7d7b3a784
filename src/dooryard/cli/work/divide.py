"""`dooryard work divide`: when a perennial is divided."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import county_option
from dooryard.cli.work.shared import (
    Day,
    answer_options,
    tell,
    today,
)


@click.command("divide", short_help="When a perennial is divided, and how.")
@click.option("--plant", required=True, help="What it is, by its common name.")
@click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record, for hard freezes and the soil."
)
@click.option("--hard-freeze", type=Day(), help="Its middle date this year, in place of --weather.")
@county_option
@answer_options
@told_plainly
def command(
    plant: str,
    weather: Path | None,
    hard_freeze: date | None,
    county: Path | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say in which season a perennial is divided, how often, how, and by when in fall."""
    from dooryard import weather as records
    from dooryard.knowledge.county import with_county
    from dooryard.plan.work import divide, freeze_date

    tables, day, freeze_from = with_county(county), today(on), "given"
    record = None if weather is None else records.read(weather)
    spring = None
    if record is not None:
        last, source = freeze_date.last_of_spring(tables, record, day)
        spring = None if last is None else divide.Spring(last, source)
        if hard_freeze is None:
            hard_freeze, freeze_from = freeze_date.middle(tables, record, day)
    plan = divide.divide(
        tables,
        day,
        plant=plant,
        hard_freeze=hard_freeze,
        freeze_from=freeze_from,
        spring=spring,
        record=record,
        system=system,
    )
    return tell(plan, "divide", out=out, as_json=as_json, why=why)
