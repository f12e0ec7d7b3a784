"""`dooryard work prune`: when and how to cut a plant."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Day,
    answer_options,
    tell,
    today,
)


@click.command("prune", short_help="When and how to cut a plant.")
@click.option("--plant", required=True, help="What it is, by its common name.")
@click.option("--bloom-ended", type=Day(), help="The day this year's bloom ended.")
@click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record, for bloom by heat and late winter."
)
@click.option("--state", help="For oaks: the state, or north or south.")
@click.option("--renew", is_flag=True, help="How to renew an old shrub over three years.")
@answer_options
@told_plainly
def command(
    plant: str,
    bloom_ended: date | None,
    weather: Path | None,
    state: str | None,
    renew: bool,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say when a plant is cut, by its wood, its bloom and the closed weeks of its disease, and how much at most."""
    from dooryard import knowledge
    from dooryard import weather as records
    from dooryard.care import pruning
    from dooryard.plan.work import bloom_end, freeze_date, prune

    tables, day = knowledge.load(), today(on)
    bloom_from, freeze, freeze_from = "", None, ""
    if weather is not None:
        record = records.read(weather)
        freeze, freeze_from = freeze_date.last_of_spring(tables, record, day)
        if bloom_ended is None:
            row = pruning.pruning_of(tables, plant)
            names = (plant, *(row.kinds if row is not None else ()))
            found = next(
                filter(None, (bloom_end.estimate(tables, name, record, day) for name in names)), None
            )
            if found is not None:
                bloom_ended, bloom_from = found
    known = prune.Known(
        bloom_ended,
        bloom_from,
        freeze,
        freeze_from,
        None if state is None else pruning.oak_window(tables, state),
        renew,
    )
    return tell(
        prune.prune(tables, day, plant=plant, known=known, system=system),
        "prune",
        out=out,
        as_json=as_json,
        why=why,
    )
