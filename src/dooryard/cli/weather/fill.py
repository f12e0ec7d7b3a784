"""`dooryard weather fill FILE`: how missing days could be estimated, how wrong that is, and a new file if asked."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly, write_all
from dooryard.cli.shared import Day
from dooryard.problem import InputError, Problem

if TYPE_CHECKING:
    from dooryard.weather import WeatherRecord

LONGEST_D = 3650  # farther than any gap can be filled: a slip in the year. A limit of use, not of the trade


@click.command("fill", short_help="Estimate missing days, and say how wrong that usually is.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--from",
    "neighbours",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="PATH",
    help="A neighbouring station's record; may be given several times.",
)
@click.option("--until", type=Day(), help="Go on to this day, if FILE stops earlier.")
@click.option(
    "--write",
    "new",
    type=click.Path(path_type=Path),
    metavar="NEW.csv",
    help="Write the filled record there.",
)
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON.")
@told_plainly
def command(
    file: Path,
    neighbours: tuple[Path, ...],
    until: date | None,
    new: Path | None,
    units: Literal["us", "metric"],
    as_json: bool,
) -> int:
    """Show how the missing days of FILE could be estimated, and how wrong that usually is.

    Temperatures are estimated from a neighbouring station or, up to three days in a row, from the days before
    and after; rain from a neighbouring station only. The error comes from real days, hidden and estimated.
    FILE is never changed: --write makes a new plain CSV in which every estimate is flagged. Exit code 1 means
    that some days stay missing.
    """
    from dooryard import knowledge, weather
    from dooryard.weather import fill, fill_text

    allowed_d = int(knowledge.load().fact("frost.missing_allowed").value)
    if new is not None:
        refuse_existing(new)
    record = weather.read(file)
    if until is not None:
        record = longer(record, until)
    plan = fill.plan(record, readable(neighbours))
    if new is not None:
        from dooryard.weather import plain_text

        text = plain_text.render(fill.apply(plan), fill_text.comments(plan))
        write_all(new.parent, {new.name: text.encode("utf-8")}, "--write")
    if as_json:
        import json

        told = fill_text.as_json(plan, allowed_d, None if new is None else str(new))
        click.echo(json.dumps(told, indent=2, ensure_ascii=False).encode("utf-8"))
    else:
        say(fill_text.render(plan, units, allowed_d))
        say("")
        say(f"Written: {new}" if new is not None else "Nothing was written. Add --write NEW.csv to write it.")
    return NEEDS_A_PERSON if plan.left else FINE


def readable(paths: tuple[Path, ...]) -> list[WeatherRecord]:
    """The record of each file. InputError with the problems of all that cannot be read."""
    from dooryard import weather

    found: list[WeatherRecord] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            found.append(weather.read(path))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return found


def refuse_existing(path: Path) -> None:
    """InputError if a file of that name is there: a record is never written over."""
    if path.exists():
        what = "There is a file of that name, and records are never written over."
        raise InputError(Problem(what, "Give a new name.", str(path), field="--write"))


def longer(record: WeatherRecord, until: date) -> WeatherRecord:
    """The record with missing days added up to `until`, that day included. InputError if it gets there itself."""
    if until <= record.last:
        what = f"The record itself goes on to {record.last}."
        raise InputError(Problem(what, "Leave the option out.", record.source.path_name, field="--until"))
    if (until - record.last).days > LONGEST_D:
        what = f"This is more than {LONGEST_D // 365} years after the record's end, {record.last}."
        raise InputError(Problem(what, "Give an earlier day.", field="--until", found=str(until)))
    return record.until(until + timedelta(days=1))
