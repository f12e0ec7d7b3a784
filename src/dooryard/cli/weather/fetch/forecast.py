"""`dooryard weather fetch forecast YARD`: the Weather Service's forecast for a yard, written to a file."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.weather.shared import (
    at_option,
    offline_option,
    open_desk,
    print_json,
    refresh_option,
    save_file,
    spot,
)


@click.command("forecast", short_help="The forecast for a yard.")
@click.argument("yard", required=False, type=click.Path(path_type=Path))
@at_option
@click.option(
    "--save",
    type=click.Path(path_type=Path),
    default=Path("forecast.json"),
    show_default=True,
    metavar="FILE",
    help="Where to write it.",
)
@click.option("--periods", is_flag=True, help="Half-day periods instead of hours; no amounts of rain.")
@offline_option
@refresh_option
@click.option("--json", "as_json", is_flag=True, help="Print what was fetched as JSON.")
@told_plainly
def command(
    yard: Path | None,
    at: str | None,
    save: Path,
    periods: bool,
    offline: bool,
    refresh: bool,
    as_json: bool,
) -> int:
    """Fetch the forecast for the place of YARD and write it to a file.

    The service covers the United States. The file is what "dooryard plan --forecast" and "dooryard weather
    forecast" read. Exit code 1 means that an old forecast had to do.
    """
    from dooryard.weather.fetch import forecast
    from dooryard.weather.fetch.obtaining import age_words

    where = spot(yard, at)
    desk = open_desk(offline, refresh)
    kind: Literal["grid", "periods"] = "periods" if periods else "grid"
    fetched = forecast.forecast(where.latitude, where.longitude, desk, kind=kind)
    path = save_file(save, fetched.content, "--save")
    cell = fetched.cell
    if as_json:
        print_json(
            {
                "saved": str(path),
                "made": fetched.updated.isoformat(),
                "office": cell.office,
                "cell": [cell.x, cell.y],
                "time_zone": cell.time_zone,
                "near": cell.town,
                "questions": fetched.asked,
                "warnings": list(fetched.warnings),
            }
        )
    else:
        near = f" near {cell.town}" if cell.town else ""
        age = age_words(desk.now - fetched.updated)
        say(f"Forecast of {cell.office}{near}, made {age} ago. Written: {path}")
        for warning in fetched.warnings:
            say(warning)
        say(f'Next: "dooryard plan YARD --forecast {path}".')
    return NEEDS_A_PERSON if fetched.warnings else FINE
