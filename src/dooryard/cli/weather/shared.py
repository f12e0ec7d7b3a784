"""What the commands that fetch or use the station shelf share: folders, a yard's place, lines for who waits."""

from __future__ import annotations

import json
import os
import re
import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from dooryard.problem import InputError, Problem

if TYPE_CHECKING:
    from dooryard.units import Dimension
    from dooryard.weather.fetch.obtaining import Desk
    from dooryard.weather.store import Shelf

shelf_option = click.option(
    "--shelf", "folder", type=click.Path(path_type=Path), help="Folder of the shelf; else the usual one."
)
offline_option = click.option("--offline", is_flag=True, help="Ask nobody; use answers kept from before.")
refresh_option = click.option(
    "--refresh", is_flag=True, help="Ask again, even for what was kept a short while ago."
)
at_option = click.option("--at", help='A place instead of a yard file, such as "38.04, -84.50".')


class Spot(NamedTuple):
    """A place [degree], its height [m] or None if it was not said."""

    latitude: float
    longitude: float
    elevation_m: float | None


def open_shelf(folder: Path | None) -> Shelf:
    """The shelf in a folder, or in the usual one."""
    from dooryard.weather.fetch.settings import shelf_folder
    from dooryard.weather.store import Shelf

    return Shelf(shelf_folder(os.environ) if folder is None else folder)


def open_desk(offline: bool, refresh: bool = False) -> Desk:
    """What fetching works with, set up from the environment."""
    from dooryard.weather.fetch import obtaining, settings

    return obtaining.open_desk(
        settings.from_environment(os.environ),
        datetime.now(UTC),
        offline=offline,
        refresh=refresh,
        tell=tell_waiting,
    )


def tell_waiting(line: str) -> None:
    """A line on standard error, if somebody sits there."""
    if sys.stderr.isatty():
        click.echo(line, err=True)


def spot(yard: Path | None, at: str | None) -> Spot:
    """The place of a yard file, or the one said. InputError if neither or both are given, or it cannot be read."""
    if (yard is None) == (at is None):
        what = "It is not clear for which place." if yard is None else "Two places are given."
        raise InputError(Problem(what, 'Name a yard file, or write --at "38.04, -84.50".', field="--at"))
    if yard is not None:
        from dooryard import knowledge
        from dooryard.yard import file

        place = file.read(yard, knowledge.load()).place
        return Spot(place.latitude, place.longitude, place.elevation_m)
    match = re.fullmatch(r"\s*(-?\d+(?:\.\d+)?)\s*[, ]\s*(-?\d+(?:\.\d+)?)\s*", at or "")
    if match is None or not abs(float(match[1])) <= 90 or not abs(float(match[2])) <= 180:
        what = "This is no place."
        instead = 'Write latitude and longitude in degrees, west and south with a minus: "38.04, -84.50".'
        raise InputError(Problem(what, instead, field="--at", found=at or ""))
    return Spot(float(match[1]), float(match[2]), None)


def is_invented(yard: Path) -> bool:
    """True if the weather a yard file names is invented, as that of the demo county is. A yard that names none, or
    one that cannot be read, is taken for a real one."""
    from dooryard import knowledge, weather
    from dooryard.weather.file import SHELF
    from dooryard.yard import file

    named = file.read(yard, knowledge.load()).place.weather
    if named is None:
        return False
    try:
        return weather.read(named if named.startswith(SHELF) else yard.parent / named).invented
    except InputError:
        return False


def with_height(found: Spot, elevation: str | None) -> Spot:
    """The place with a height a person wrote, such as "890 ft"."""
    if elevation is None:
        return found
    return found._replace(elevation_m=measure(elevation, "length", "--elevation"))


def measure(text: str, dimension: Dimension, option: str) -> float:
    """A number with its unit, as written behind an option. InputError that names the option."""
    from dooryard import units

    try:
        return units.parse(text, dimension)
    except InputError as error:
        raise InputError(replace(problem, field=option) for problem in error.problems) from error


def save_file(path: Path, content: bytes, option: str) -> Path:
    """Write one file whole or not at all; gives its path. InputError if it cannot be written, or is a folder."""
    from dooryard.cli.output import write_all

    if path.is_dir():
        what = "This is a folder, and a file is to be written."
        raise InputError(Problem(what, "Name a file in it.", str(path), field=option))
    (written,) = write_all(path.parent, {path.name: content}, option)
    return written


def print_json(said: Any) -> None:
    """Plain data as JSON on standard output, in UTF-8 whatever the terminal."""
    click.echo(json.dumps(said, indent=2, ensure_ascii=False).encode("utf-8"))
