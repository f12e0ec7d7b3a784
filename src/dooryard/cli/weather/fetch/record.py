"""`dooryard weather fetch record STATION`: a station's daily record from NOAA's archive, put on the shelf."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.shared import Day
from dooryard.cli.weather.shared import (
    offline_option,
    open_desk,
    open_shelf,
    print_json,
    refresh_option,
    save_file,
    shelf_option,
)

if TYPE_CHECKING:
    from dooryard.weather.fetch.daily import Fetched

YEARS = 30


@click.command("record", short_help="A station's daily record.")
@click.argument("station")
@click.option("--from", "first", type=Day(), help=f"First day; else {YEARS} years back.")
@click.option("--to", "last", type=Day(), help="Last day; else yesterday.")
@click.option(
    "--save", type=click.Path(path_type=Path), metavar="FILE", help="Also write the fetched CSV there."
)
@click.option("--key", help="Its name on the shelf; else the identifier.")
@shelf_option
@offline_option
@refresh_option
@click.option("--json", "as_json", is_flag=True, help="Print what was fetched as JSON.")
@told_plainly
def command(
    station: str,
    first: date | None,
    last: date | None,
    save: Path | None,
    key: str | None,
    folder: Path | None,
    offline: bool,
    refresh: bool,
    as_json: bool,
) -> int:
    """Fetch the daily record of STATION and put it on the shelf.

    STATION is an identifier of the archive, such as USW00094846. Fetched again, a record grows by its new days,
    and what the archive has revised is counted and told. Exit code 1 means that a part is old or did not
    come, or that the record holds something a person should know.
    """
    from dooryard.weather import check_text, shelf_text
    from dooryard.weather.fetch import daily

    desk = open_desk(offline, refresh)
    today = desk.now.astimezone().date()
    last = min(last or today, today - timedelta(days=1))
    first = first or date(last.year - YEARS, 1, 1)
    fetched = daily.record(station, first, last, desk)
    if save is not None:
        click.echo(f"Written: {save_file(save, fetched.content, '--save')}", err=True)
    added = open_shelf(folder).add(fetched.record, today, key=key or fetched.station)
    if as_json:
        print_json(
            {
                "change": added.change,
                "replaced": added.replaced,
                "questions": fetched.asked,
                "asked": [str(day) for day in fetched.wanted],
                "received": [str(fetched.first), str(fetched.last)],
                "days": fetched.days,
                "empty": list(fetched.empty),
                "notes": list(fetched.notes),
                "warnings": list(fetched.warnings),
                "saved": None if save is None else str(save),
                "record": shelf_text.about_json(added.about),
            }
        )
    else:
        say(_told(fetched, added.change, added.replaced))
        for line in (*fetched.notes, *fetched.warnings):
            say(line)
        if fetched.record.issues:
            say(check_text.render(fetched.record))
        say(f'Next: "dooryard weather look shelf:{added.about.key}".')
    return NEEDS_A_PERSON if fetched.warnings or fetched.record.issues else FINE


def _told(fetched: Fetched, change: str, replaced: int) -> str:
    first, last = fetched.wanted
    said = f"{fetched.station}: asked for {first} to {last}, "
    said += f"received {fetched.days:,} days from {fetched.first} to {fetched.last}."
    how = {
        "new": "It is new on the shelf.",
        "unchanged": "The shelf had it so already.",
        "merged": "It was joined to what the shelf had.",
        "replaced": "It took the place of what the shelf had.",
    }[change]
    if replaced:
        how += f" The archive has revised {replaced:,} {'value' if replaced == 1 else 'values'}."
    return f"{said} {how}"
