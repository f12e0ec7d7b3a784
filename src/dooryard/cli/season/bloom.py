"""`dooryard season bloom DATES --weather RECORD`: bloom predicted from cold and warmth, tried on other years."""

from __future__ import annotations

import json
from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly
from dooryard.problem import InputError, Problem


@click.command("bloom", short_help="Bloom dates predicted from cold and warmth, tried on other years.")
@click.argument("dates", type=click.Path(path_type=Path))
@click.option(
    "--weather", required=True, type=click.Path(path_type=Path), help="Station record near the plant."
)
@click.option("--place", help='Which place, if the table holds several, such as "Japan/Kyoto".')
@click.option("--latitude", type=float, help="Degrees north; else the record's own.")
@click.option("--blocks", is_flag=True, help="Leave out runs of years, not every tenth: a harder test.")
@click.option("--json", "as_json", is_flag=True, help="Print the check as JSON.")
@told_plainly
def command(
    dates: Path, weather: Path, place: str | None, latitude: float | None, blocks: bool, as_json: bool
) -> int:
    """Predict dates of bloom from the winter's cold and the warmth after it, and say how far that is off.

    DATES is a table with a header: a column "date", or "year" and "day_of_year". Each year is predicted by
    rules fitted on other years, and held beside the mean date. It shows whether the sums of heat and chill are
    any good for a living thing at this place; it is no forecast, for the weather up to bloom is known.
    """
    from dooryard import weather as weather_room
    from dooryard.season import bloom, bloom_text
    from dooryard.weather import bloom_dates

    record = weather_room.read(weather)
    where = latitude if latitude is not None else record.station.latitude
    if where is None or where < 0:
        what = (
            "The record does not say its latitude."
            if where is None
            else "This is for the north of the equator."
        )
        raise InputError(
            Problem(what, "Say it with --latitude, in degrees north.", str(weather), field="--latitude")
        )
    springs = bloom.springs(record, bloom_dates.read(dates, place), where)
    checked = bloom.cross_validate(springs, in_blocks=blocks)
    if as_json:
        told = bloom_text.data(springs, checked, in_blocks=blocks)
        click.echo(json.dumps(told, indent=2).encode("utf-8") + b"\n", nl=False)
    else:
        say("\n".join(bloom_text.lines(springs, checked)))
    return FINE
