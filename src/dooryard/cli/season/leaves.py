"""`dooryard season leaves RECORD`: hours of wet leaves in two weeks, and what they meant for diseases."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly, write_all
from dooryard.cli.shared import Day, json_option, on_option
from dooryard.problem import InputError, Problem

if TYPE_CHECKING:
    from dooryard.knowledge import Knowledge
    from dooryard.season.infection.fortnight import Days

DISEASES = ("early-blight", "potato", "scab", "black-rot", "rust", "brown-patch")


@click.command("leaves", short_help="Wet leaves in the last two weeks, and what they meant.")
@click.argument("record", type=click.Path(path_type=Path))
@click.option(
    "--disease",
    "diseases",
    multiple=True,
    type=click.Choice(DISEASES),
    help="Only this one; may be repeated.",
)
@click.option("--days", type=click.IntRange(7, 120), default=14, show_default=True, help="How many days.")
@click.option("--bloom", type=Day(), help="Day apple or pear began to bloom: adds fire blight.")
@click.option("--station", help="Which one, if an hourly file holds several.")
@click.option("--latitude", type=float, help="Degrees north, for a daily record that does not say it.")
@on_option
@click.option("--out", type=click.Path(path_type=Path), help="Write the drawing and the JSON there.")
@json_option
@told_plainly
def command(
    record: Path,
    diseases: tuple[str, ...],
    days: int,
    bloom: date | None,
    station: str | None,
    latitude: float | None,
    on: date | None,
    out: Path | None,
    as_json: bool,
) -> int:
    """Say what the last two weeks' weather meant for early blight, scab, black rot, rust and brown patch.

    RECORD holds hours with humidity or dew point, or days with one of the two: from days it is rough, and
    it says how rough. What helps without a spray comes first. With --bloom fire blight is told as well.
    Exit code 1 means that something cannot be told.
    """
    from dooryard import knowledge
    from dooryard.letter.drawing import svg
    from dooryard.season import leaves_text
    from dooryard.season.infection import blossoms, fortnight

    tables, morning = knowledge.load(), on or date.today()
    seen = _seen(record, morning, days, station, latitude, tables)
    names = dict(zip(DISEASES, fortnight.DISEASES, strict=True))
    found = fortnight.meant(seen, tables, [names[one] for one in diseases or DISEASES])
    if bloom is not None:
        since = blossoms.checked(bloom, morning)
        of_bloom = _seen(record, morning, since, station, latitude, tables)
        found = (*found, blossoms.fire_blight(of_bloom, tables, bloom))
    text = json.dumps(leaves_text.data(seen, found, tables), indent=2, ensure_ascii=False) + "\n"
    if as_json:
        click.echo(text.encode("utf-8"), nl=False)
    else:
        say("\n".join(leaves_text.lines(seen, found, tables)))
    if out is not None:
        drawn = svg(leaves_text.chart(seen, tables)).encode("utf-8")
        for path in write_all(out, {"leaves.json": text.encode("utf-8"), "leaves.svg": drawn}):
            click.echo(f"Wrote {path}", err=as_json)
    return NEEDS_A_PERSON if any(one.word == "cannot tell" for one in found) else FINE


def _seen(
    record: Path, on: date, days: int, station: str | None, latitude: float | None, tables: Knowledge
) -> Days:
    """The days before `on`, from hours if the file has them."""
    from dooryard import weather
    from dooryard.season.infection import days as seen_days
    from dooryard.weather import subdaily
    from dooryard.weather.opening import open_text

    if subdaily.recognise(open_text(record)) in subdaily.HOURLY_LAYOUTS:
        return seen_days.from_hours(subdaily.read_hourly(record, station=station), on, tables, days)
    daily = weather.read(record)
    where = latitude if latitude is not None else daily.station.latitude
    if where is None:
        what = "The record does not say its latitude."
        raise InputError(Problem(what, "Say it with --latitude.", str(record), field="--latitude"))
    return seen_days.from_days(daily, on, where, tables, days)
