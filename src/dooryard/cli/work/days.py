"""`dooryard work days`: which coming days a treatment may fall on."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeVar

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.work.shared import (
    Day,
    Measure,
    answer_options,
    tell,
    today,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from dooryard.problem import Problem

T = TypeVar("T")


@click.command("days", short_help="Which coming days a treatment may fall on.")
@click.option(
    "--card", type=click.Path(path_type=Path), help="Label card (TOML), typed from the label in hand."
)
@click.option("--plant", required=True, help="The plant, as the label names it.")
@click.option("--pest", default="", help="The pest or disease, as the label names it.")
@click.option("--forecast", required=True, type=click.Path(path_type=Path), help="Forecast file.")
@click.option(
    "--weather", type=click.Path(path_type=Path), help="Station record, for rain since the last time."
)
@click.option(
    "--rain", type=Measure("depth", any_sign=True), help="Rain since the last time, in place of --weather."
)
@click.option("--log", type=click.Path(path_type=Path), help="Treatment log, in place of --last and --used.")
@click.option("--last", type=Day(), help="Day of the last treatment.")
@click.option(
    "--used", type=click.IntRange(0), default=0, show_default=True, help="Treatments this season so far."
)
@click.option(
    "--oil-or-sulfur", type=Day(), help="Day of the last sulfur before this oil, or oil before sulfur."
)
@click.option("--harvest", type=Day(), help="Next day of picking, if it is eaten.")
@click.option("--in-bloom", is_flag=True, help="The plant, or weeds below it, are in bloom.")
@click.option("--thirsty", is_flag=True, help="The plant lacks water.")
@answer_options
@told_plainly
def command(
    card: Path | None,
    plant: str,
    pest: str,
    forecast: Path,
    weather: Path | None,
    rain: float | None,
    log: Path | None,
    last: date | None,
    used: int,
    oil_or_sulfur: date | None,
    harvest: date | None,
    in_bloom: bool,
    thirsty: bool,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Hold every coming day against the label and the weather, and say which are open and what closed the others.

    By hours where the forecast has them. Without a label card no day is named.
    """
    from dooryard import knowledge
    from dooryard import weather as records
    from dooryard.care import card_file
    from dooryard.care.log import season
    from dooryard.plan.work import treat_days
    from dooryard.problem import InputError
    from dooryard.weather import forecast as forecasts

    tables, day = knowledge.load(), today(on)
    problems: list[Problem] = []
    read = _read(lambda: None if card is None else card_file.read(card, tables), problems)
    done = _read(lambda: None if log is None else card_file.read_log(log), problems)
    foretold = _read(lambda: forecasts.read(forecast), problems)
    record = _read(lambda: None if weather is None else records.read(weather), problems)
    if problems or foretold is None:
        raise InputError(problems)
    if done is not None and read is not None:
        last, used = season(done, read.name, plant, day)
    plan = treat_days.treat_days(
        tables,
        day,
        read,
        plant=plant,
        pest=pest,
        done=treat_days.Done(last, used, harvest, in_bloom, thirsty, rain, oil_or_sulfur),
        forecast=foretold,
        record=record,
        system=system,
    )
    return tell(plan, "days", out=out, as_json=as_json, why=why)


def _read(reader: Callable[[], T], problems: list[Problem]) -> T | None:
    """What a file holds, or None after noting its faults, so that those of all files are told at once."""
    from dooryard.problem import InputError

    try:
        return reader()
    except InputError as error:
        problems += error.problems
        return None
