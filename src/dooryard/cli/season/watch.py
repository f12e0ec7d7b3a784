"""`dooryard season watch COUNTY`: what matters this week over all stations of a county."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly, write_all
from dooryard.cli.shared import forms, json_option, on_option, out_option, why_option


@click.command("watch", short_help="What matters this week over all stations of a county.")
@click.argument("county", type=click.Path(path_type=Path))
@click.option("--forecast", type=click.Path(path_type=Path), help="Forecast for the county (CSV or JSON).")
@click.option("--bulletin", is_flag=True, help="Print the text for a newsletter alone.")
@click.option(
    "--units",
    "system",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="Units of the answer.",
)
@on_option
@out_option
@json_option
@why_option
@told_plainly
def command(
    county: Path,
    forecast: Path | None,
    bulletin: bool,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Say the eight things that matter this week, at each station, and what to stop recommending.

    COUNTY is a folder with station records in its folder stations (else in itself). If you like, it holds your own
    tables in a folder county, what was seen in sightings.csv, and its name in county.toml. A record that cannot be
    read, or ends before this week, is told and stops nothing; exit code 1 then.
    """
    from dooryard.county import folder
    from dooryard.county.watch_report import watch_list
    from dooryard.letter import data, screen
    from dooryard.weather import forecast as forecasts

    read = folder.read(county)
    day = on or date.today()
    foretold = None if forecast is None else forecasts.read(forecast)
    plan, text = watch_list(read, day, forecast=foretold, system=system)
    document = plan.document()
    if bulletin:
        say(text.rstrip("\n"))
    elif as_json:
        click.echo(data.render({**document, "bulletin": text}).encode("utf-8"), nl=False)
    else:
        say(screen.render(document, why=why).rstrip("\n"))
    if out is not None:
        written = forms(document, "watch") | {"bulletin.txt": text.encode("utf-8")}
        for path in write_all(out, written):
            click.echo(f"Wrote {path}", err=as_json)
    return NEEDS_A_PERSON if read.unread or plan.refusals else FINE
