"""`dooryard season chill RECORD`: how much cold this winter has brought, beside other winters."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly
from dooryard.cli.shared import json_option, on_option
from dooryard.problem import InputError, Problem


@click.command("chill", short_help="How much cold this winter has brought.")
@click.argument("record", type=click.Path(path_type=Path))
@click.option("--latitude", type=float, help="Degrees north; else the record's own.")
@on_option
@json_option
@told_plainly
def command(record: Path, latitude: float | None, on: date | None, as_json: bool) -> int:
    """Say how much winter cold fruit and bulbs have had, in four countings that are kept apart.

    RECORD holds days. Cold is counted from 1 October to the day before, and not beyond 30 April. Beside it stands
    what past winters of the station had by the same day.
    """
    from dooryard import knowledge
    from dooryard.plan.files import fresh_record
    from dooryard.season import chill_text, winter_chill

    tables, morning = knowledge.load(), on or date.today()
    days = fresh_record(record, morning)
    where = latitude if latitude is not None else days.station.latitude
    if where is None:
        what = "The record does not say its latitude."
        raise InputError(Problem(what, "Say it with --latitude.", str(record), field="--latitude"))
    found = winter_chill.winter(days, morning, where, tables)
    if as_json:
        told = json.dumps(chill_text.data(found, tables), indent=2, ensure_ascii=False) + "\n"
        click.echo(told.encode("utf-8"), nl=False)
    else:
        say("\n".join(chill_text.lines(found, tables)))
    return FINE
