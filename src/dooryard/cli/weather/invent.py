"""`dooryard weather invent FILE`: weather that could have been, made from a station's own record."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly, write_all

TRIAL_YEARS = 400  # made to be compared with the record; more if the record is long
TRIAL_RECORDS = 10
LAST_YEAR = 9999


@click.command("invent", short_help="Weather that could have been.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--years", type=click.IntRange(1, 1000), default=30, show_default=True, help="Years to make.")
@click.option(
    "--from-year", type=click.IntRange(1, LAST_YEAR), help="First of them; else the year after FILE's last."
)
@click.option(
    "--seed",
    type=click.IntRange(0, 2**32 - 1),
    default=1,
    show_default=True,
    help="Another number, other weather.",
)
@click.option(
    "--write", "new", type=click.Path(path_type=Path), metavar="NEW.csv", help="Write the weather there."
)
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@click.option("--json", "as_json", is_flag=True, help="Print the comparison and the parameters as JSON.")
@told_plainly
def command(
    file: Path,
    years: int,
    from_year: int | None,
    seed: int,
    new: Path | None,
    units: Literal["us", "metric"],
    as_json: bool,
) -> int:
    """Make weather that could have been, and say how like FILE it is.

    A generator is fitted to FILE: wet and dry spells, rain, temperatures and how they hang together, and how much
    months and years differ. --write puts the weather into a new plain CSV, to try a barrel or a planting date on.
    It is invented and says so: never evidence of what happened. Exit code 1 means that something about it is
    not like FILE.
    """
    from dataclasses import replace

    from dooryard import weather
    from dooryard.cli.weather.fill import refuse_existing
    from dooryard.problem import InputError, Problem
    from dooryard.weather import invented
    from dooryard.weather.invented import likeness, likeness_text
    from dooryard.weather.invented.making import as_gauged

    if new is not None:
        refuse_existing(new)
    record = weather.read(file)
    first = from_year or record.last.year + 1
    if first + years - 1 > LAST_YEAR:
        raise InputError(
            Problem(f"The calendar ends with {LAST_YEAR}.", "Begin earlier.", field="--from-year")
        )
    parameters = invented.fit(record)
    trial = max(TRIAL_YEARS, TRIAL_RECORDS * (len(record.dates) // 365))
    made = invented.make(parameters, date(1000, 1, 1), date(999 + trial, 12, 31), seed=seed)
    rows = likeness.compare(record, made)
    if new is not None:
        from dooryard.weather import plain_text

        station = replace(record.station, name=f"{record.station.name} (invented)")
        days = invented.make(
            parameters, date(first, 1, 1), date(first + years - 1, 12, 31), seed=seed, station=station
        )
        comments = [
            ("invented", "made by a weather generator; nobody measured this"),
            ("fitted to", f"{record.source.path_name}, SHA-256 {record.source.sha256}"),
            ("seed", str(seed)),
        ]
        text = plain_text.render(as_gauged(days), comments)
        write_all(new.parent, {new.name: text.encode("utf-8")}, "--write")
    if as_json:
        import json

        told = likeness_text.as_json(record, rows, parameters, None if new is None else str(new))
        click.echo(json.dumps(told, indent=2, ensure_ascii=False).encode("utf-8"))
    else:
        say(likeness_text.render(record, rows, units))
        say("")
        say(f"Written: {new}" if new is not None else "Nothing was written. Add --write NEW.csv to write it.")
    return FINE if all(row.within for row in rows) else NEEDS_A_PERSON
