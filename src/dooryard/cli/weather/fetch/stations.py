"""`dooryard weather fetch stations YARD`: stations of NOAA's daily archive near a yard."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.weather.shared import at_option, offline_option, open_desk, print_json, refresh_option, spot

SHOWN = 12


@click.command("stations", short_help="Stations near a yard.")
@click.argument("yard", required=False, type=click.Path(path_type=Path))
@at_option
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@offline_option
@refresh_option
@click.option("--json", "as_json", is_flag=True, help="Print the stations as JSON.")
@told_plainly
def command(
    yard: Path | None,
    at: str | None,
    units: Literal["us", "metric"],
    offline: bool,
    refresh: bool,
    as_json: bool,
) -> int:
    """List the stations that report to the archive near YARD, the nearest first.

    Each with its distance, its height against the yard's, and on how many of seven days it reported rain and
    both temperatures. Exit code 1 means that there is none, or that the list is old.
    """
    from dooryard.weather.distance import great_circle_km
    from dooryard.weather.fetch import stations
    from dooryard.weather.shelf_text import place_words

    where = spot(yard, at)
    found = stations.near(where.latitude, where.longitude, open_desk(offline, refresh))
    rows = []
    for reporting in found.stations:
        station = reporting.station
        away_km = rise_m = None
        if station.latitude is not None and station.longitude is not None:
            away_km = great_circle_km(where.latitude, where.longitude, station.latitude, station.longitude)
        if station.elevation_m is not None and where.elevation_m is not None:
            rise_m = station.elevation_m - where.elevation_m
        rows.append((away_km, rise_m, reporting))
    rows.sort(key=lambda row: (row[0] is None, row[0] or 0.0, row[2].station.id))
    if as_json:
        listed = [
            {**asdict(one.station), "distance_km": away_km, "rise_m": rise_m, "days_reported": one.days}
            for away_km, rise_m, one in rows
        ]
        week = {"first": found.first.isoformat(), "last": found.last.isoformat()}
        print_json({**week, "warning": found.warning, "stations": listed})
        return FINE if rows and not found.warning else NEEDS_A_PERSON
    say(f"Days reported out of seven, {found.first} to {found.last}: rain, highest, lowest temperature.")
    for away_km, rise_m, one in rows[:SHOWN]:
        counts = "/".join(str(one.days[name]) for name in ("PRCP", "TMAX", "TMIN"))
        say(f"{one.station.id}  {counts}  {one.station.name}, {place_words(away_km, rise_m, units)}")
    if len(rows) > SHOWN:
        say(f"and {len(rows) - SHOWN} farther ones")
    if not rows:
        say("No station of the archive reported near this place in that week.")
    else:
        say(
            'Next: "dooryard weather fetch record STATION" with the identifier of one that reports all three.'
        )
    if found.warning:
        say(found.warning)
    return FINE if rows and not found.warning else NEEDS_A_PERSON
