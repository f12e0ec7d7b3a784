"""`dooryard weather shelf add FILE…`: put records on the shelf."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import click

from dooryard.cli.output import BAD_INPUT, FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.progress import counted
from dooryard.cli.weather.shared import measure, open_shelf, print_json, shelf_option, spot
from dooryard.problem import InputError, Problem


@click.command("add", short_help="Put records on the shelf.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--layout", help="The layout, if it is not found by looking into the file.")
@click.option("--station", "chosen", help="Which station of each file, if they hold several.")
@click.option("--key", help="Its name on the shelf; else the station's identifier, its name or the file's.")
@click.option("--name", help="The station's name, if the file has none.")
@click.option("--at", help='Where the station stands, such as "38.04, -84.50".')
@click.option("--elevation", help='Its height, such as "890 ft".')
@click.option("--replace", "afresh", is_flag=True, help="Forget what the shelf had under this key.")
@shelf_option
@click.option("--json", "as_json", is_flag=True, help="Print what was done as JSON.")
@told_plainly
def command(
    files: tuple[Path, ...],
    layout: str | None,
    chosen: str | None,
    key: str | None,
    name: str | None,
    at: str | None,
    elevation: str | None,
    afresh: bool,
    folder: Path | None,
    as_json: bool,
) -> int:
    """Read FILES and put each on the shelf, with its hash, the day, how it was read and what was flagged.

    A file added again changes nothing. Another file of a station that is there is joined to it: the newer file's
    values stand, and what it changed is told. A file that cannot be read does not keep the others out. Exit code 1
    means that a record holds something a person should know, 2 that a file was not added.
    """
    from dooryard import weather
    from dooryard.weather import shelf_text
    from dooryard.weather.record import Station

    if len(files) > 1 and (key or name or at or elevation):
        what = "Key, name and place belong to one station, and there are several files."
        raise InputError(Problem(what, "Add that station's file by itself.", field="--key"))
    station = None
    if name or at or elevation:
        place = None if at is None else spot(None, at)
        station = Station(
            name=name or "",
            latitude=None if place is None else place.latitude,
            longitude=None if place is None else place.longitude,
            elevation_m=None if elevation is None else measure(elevation, "length", "--elevation"),
        )
    shelf = open_shelf(folder)
    told: list[dict[str, Any]] = []
    code = FINE
    for path in counted(files, "Reading", len(files)):
        try:
            record = weather.read(path, layout, station=chosen)
            added = shelf.add(record, date.today(), key=key, station=station, afresh=afresh)
        except InputError as error:
            code = BAD_INPUT
            problems = [str(problem) for problem in error.problems]
            told.append({"file": str(path), "problems": problems})
            if not as_json:
                for line in (f"{path.name}: not added.", *problems):
                    say(line)
            continue
        code = max(code, NEEDS_A_PERSON if record.issues else FINE)
        about = shelf_text.about_json(added.about)
        told.append({"file": str(path), "change": added.change, "replaced": added.replaced, "record": about})
        if not as_json:
            say(f"{path.name}: {_WORDS[added.change]} shelf:{added.about.key}{_changed(added.replaced)}")
            if record.issues:
                count = "1 finding" if len(record.issues) == 1 else f"{len(record.issues)} findings"
                say(f'  A person should look: {count}; "dooryard weather check {path}" lists them.')
    if as_json:
        print_json(told)
    return code


_WORDS = {
    "new": "new on the shelf as",
    "unchanged": "already there as",
    "merged": "joined to",
    "replaced": "in the place of the old",
}


def _changed(count: int) -> str:
    return "." if not count else f"; it changed {count:,} {'value' if count == 1 else 'values'}."
