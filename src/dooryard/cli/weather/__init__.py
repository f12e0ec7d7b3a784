"""`dooryard weather …`: one module per sub-command. A file name in place of a sub-command means `look`."""

from __future__ import annotations

import click

from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "look": "What a record holds, as a picture with its gaps. Also: weather FILE.",
    "check": "Everything that is wrong or doubtful in records.",
    "compare": "This year against the station's own past years.",
    "forecast": "What a forecast file holds, its age and its gaps.",
    "fetch": "Records and forecasts from two public services.",
    "shelf": "Records kept on this computer, with where they came from.",
    "fill": "Missing days from a neighbouring station, and how wrong that usually is.",
    "invent": "Weather that could have been, made from a record and held against it.",
}


@click.group(
    "weather",
    cls=LazyGroup,
    table=COMMANDS,
    package="dooryard.cli.weather",
    default="look",
    short_help="What a station's record holds.",
)
def command() -> None:
    """Read a station's weather and say what it holds and how far to trust it.

    "dooryard weather FILE" is short for "dooryard weather look FILE". Exit code 1 means that something
    needs a person.
    """
