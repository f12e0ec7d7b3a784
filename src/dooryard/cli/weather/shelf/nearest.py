"""`dooryard weather shelf nearest YARD`: which station on the shelf speaks for a yard."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.shared import Day
from dooryard.cli.weather.shared import (
    at_option,
    is_invented,
    open_shelf,
    print_json,
    shelf_option,
    spot,
    with_height,
)


@click.command("nearest", short_help="Which station speaks for a yard.")
@click.argument("yard", required=False, type=click.Path(path_type=Path))
@at_option
@click.option("--elevation", help='The yard\'s height with --at, such as "890 ft".')
@click.option("--on", type=Day(), help="Day it is asked for; else today.")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print the stations as JSON.")
@told_plainly
def command(
    yard: Path | None,
    at: str | None,
    elevation: str | None,
    on: date | None,
    units: Literal["us", "metric"],
    folder: Path | None,
    as_json: bool,
) -> int:
    """Rank the stations on the shelf for YARD, the nearest first, and choose the nearest that can be used.

    Each with its distance, its height against the yard's, and everything that speaks against it: no rain or no
    temperatures, a record that stopped, too few years, far away, much higher or lower, invented weather. Exit
    code 1 means that none could be chosen.
    """
    from dooryard.weather import nearest, shelf_text
    from dooryard.weather.shelf_limits import limits

    where = with_height(spot(yard, at), elevation)
    held, problems = open_shelf(folder).contents()
    day = on or date.today()
    invented_too = any(about.invented for about in held) and yard is not None and is_invented(yard)
    ranked = nearest.rank(
        where.latitude, where.longitude, where.elevation_m, held, day, limits(), invented_too=invented_too
    )
    if as_json:
        print_json([shelf_text.candidate_json(candidate) for candidate in ranked])
    else:
        say(shelf_text.render_nearest(ranked, units) if ranked else shelf_text.render_list(()))
    for problem in problems:
        click.echo(str(problem), err=True)
    return FINE if any(candidate.chosen for candidate in ranked) else NEEDS_A_PERSON
