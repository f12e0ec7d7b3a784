"""`dooryard weather shelf offset KEY READINGS`: how much colder a yard's nights are than its station's."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.weather.shared import open_shelf, print_json, shelf_option


@click.command("offset", short_help="How much colder a yard's nights are.")
@click.argument("key")
@click.argument("readings", type=click.Path(path_type=Path))
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON, in metric units.")
@told_plainly
def command(
    key: str, readings: Path, units: Literal["us", "metric"], folder: Path | None, as_json: bool
) -> int:
    """Compare the lowest temperatures read in a yard with those of the station KEY on the same nights.

    READINGS is a weather file with the yard's own lowest temperatures (a plain CSV with date and tmin will do).
    The middle difference is the yard's offset; the yard file takes it as night_offset, under [place]. Exit code 1
    means that the readings cannot tell.
    """
    from dooryard import knowledge, weather
    from dooryard import units as unit_room
    from dooryard.weather import shelf_text, site

    tables = knowledge.load()
    found = site.measured_offset(
        weather.read(readings),
        open_shelf(folder).record(key),
        int(tables.fact("site.least_nights").value),
        tables.fact("site.largest_offset_c").value,
    )
    if as_json:
        print_json(shelf_text.plain(asdict(found)))
    elif found.refused:
        say(found.refused)
    else:
        much = unit_room.show(abs(found.middle_c), "temperature_difference", units)
        way = "colder" if found.middle_c < 0 else "warmer"
        say(f"Over {found.nights} nights the yard was {much} {way} than the station (the middle night).")
        low, high = (_signed(value, units) for value in (found.low_c, found.high_c))
        say(f"Half of the nights lay between {low} and {high}.")
        value = _signed(found.middle_c, units)
        say(f'Write it into the yard file, under [place]: night_offset = "{value}"')
    return NEEDS_A_PERSON if found.refused else FINE


def _signed(value_c: float, system: Literal["us", "metric"]) -> str:
    from dooryard import units

    sign = "-" if value_c < 0 else ""
    return f"{sign}{units.show(abs(value_c), 'temperature_difference', system)}"
