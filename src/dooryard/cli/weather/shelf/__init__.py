"""`dooryard weather shelf …`: the station shelf, one module a command."""

from __future__ import annotations

import click

from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "list": "The stations on the shelf.",
    "show": "What a record holds and where it came from.",
    "add": "Put a record on the shelf, or join it to the one there.",
    "nearest": "Which station speaks for a yard, and why not the others.",
    "offset": "How much colder a yard's nights are than a station's.",
    "export": "Write a record as a plain CSV, moved to a yard if asked.",
    "remove": "Take a record off the shelf.",
}


@click.group(
    "shelf",
    cls=LazyGroup,
    table=COMMANDS,
    package="dooryard.cli.weather.shelf",
    short_help="Records kept on this computer.",
)
def command() -> None:
    """Keep station records on a shelf, each with where it came from.

    Wherever a record's file is due, shelf:KEY names one on the shelf: "dooryard weather look shelf:KEY",
    "dooryard plan YARD --weather shelf:KEY". The shelf is one folder of Parquet files (--shelf, or the environment's
    DOORYARD_SHELF, else this system's place for data).
    """
