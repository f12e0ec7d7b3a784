"""`dooryard season NAME`: is it time for one organism, or for all that live on one plant?"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dooryard.cli.output import FINE, say, told_plainly
from dooryard.cli.shared import county_option, hand_over, json_option, on_option, out_option, why_option
from dooryard.problem import InputError, Problem

if TYPE_CHECKING:
    from dooryard.unit_table import System

_file = click.Path(path_type=Path)


@click.command("of", short_help="Is it time for one organism, or for all on one plant?")
@click.argument("name", nargs=-1)
@click.option("--weather", type=_file, help="Station record; else the one the yard file names.")
@click.option("--forecast", type=_file, help="Forecast file (CSV, or JSON of the US service).")
@click.option("--yard", type=_file, help="Yard file, for its plants and what was seen there.")
@click.option(
    "--seen",
    multiple=True,
    metavar="TEXT",
    help='What was seen, such as "2031-06-09: bags hatching" or "2031-04-02: red maple first bloom".',
)
@click.option("--hours", type=_file, help="Hourly temperatures, to sum the heat by the hour as well.")
@click.option("--there", type=_file, help="Record of the place that printed dates come from, to move them.")
@click.option(
    "--units",
    "system",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Units where no yard file says.",
)
@county_option
@click.option("--list", "list_names", is_flag=True, help="List every name that can be asked for.")
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    name: tuple[str, ...],
    weather: Path | None,
    forecast: Path | None,
    yard: Path | None,
    seen: tuple[str, ...],
    hours: Path | None,
    there: Path | None,
    system: System,
    county: Path | None,
    list_names: bool,
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say whether it is time for an organism, or for all that live on a plant.

    NAME is its common or scientific name, such as bagworm or fall webworm. The answer is one word with a range of
    dates, the rule that decided, when the word changes, what to do, and every table by its own sum. What was seen
    moves the dates here; blooms are a second opinion. Exit code 1 means that something was refused.
    """
    if list_names:
        _list(county)
        return FINE
    if not name:
        raise InputError(
            Problem("No name is given.", "Name an organism or a plant; --list gives all names.", field="NAME")
        )
    from dooryard.plan.season_files import SeasonFiles, season_from_files

    words = " ".join(name)
    files = SeasonFiles(
        weather=weather, forecast=forecast, yard=yard, hours=hours, there=there, county=county
    )
    plan = season_from_files(words, files, on or date.today(), seen=seen, system=system)
    stem = "".join(sign if sign.isalnum() else "-" for sign in words.casefold()).strip("-")
    return hand_over(plan, f"season-{stem}", out=out, as_json=as_json, why=why)


def _list(county: Path | None) -> None:
    from dooryard.knowledge.county import with_county
    from dooryard.season import names

    tables = with_county(county)
    for heading, found in (
        ("Organisms", names.organism_names(tables)),
        ("Plants", names.plant_names(tables)),
    ):
        say(f"{heading}:")
        for one in found:
            say(f"  {one}")
