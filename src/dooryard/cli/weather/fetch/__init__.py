"""`dooryard weather fetch …`: the two public services, each with a command, and a list of stations near a place."""

from __future__ import annotations

import click

from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "stations": "Stations of NOAA's daily archive near a yard.",
    "record": "A station's daily record, from NOAA's archive to the shelf.",
    "forecast": "The forecast for a yard, from the US National Weather Service.",
}


@click.group(
    "fetch",
    cls=LazyGroup,
    table=COMMANDS,
    package="dooryard.cli.weather.fetch",
    short_help="Records and forecasts from two public services.",
)
def command() -> None:
    """Bring weather from NOAA's data service and the US National Weather Service.

    Answers are kept with their age and asked for again only when they are old. Without a network an old answer
    is used and its age told; without one, what is missing is said, and how to bring the file by hand. Settings
    (environment): DOORYARD_CONTACT, a mail address sent with every question; DOORYARD_SHELF and DOORYARD_CACHE,
    folders; DOORYARD_DAILY_URL and DOORYARD_FORECAST_URL, the services' addresses.
    """
