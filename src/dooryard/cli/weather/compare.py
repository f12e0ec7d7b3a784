"""`dooryard weather compare FILE`: the last weeks and this year against the station's own past."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from dooryard.cli.output import FINE, NEEDS_A_PERSON, say, told_plainly
from dooryard.cli.shared import Day

if TYPE_CHECKING:
    from dooryard.units import System
    from dooryard.weather.compare import Quantity
    from dooryard.weather.record import WeatherRecord

LONGEST_SPAN_D = 366


@click.command("compare", short_help="This year against the usual.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--on", type=Day(), help="Compare the days before it; else those before the record's end.")
@click.option("--from-year", type=int, help="First past year that counts; else every year of the record.")
@click.option("--heat-base", default=None, help='Lower threshold of the heat sum, such as "50 F".')
@click.option("--latitude", type=click.FloatRange(-90, 90), help="Degrees north, if the record has none.")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Units to print."
)
@click.option("--json", "as_json", is_flag=True, help="Print the comparison as JSON, in metric units.")
@told_plainly
def command(
    file: Path,
    on: date | None,
    from_year: int | None,
    heat_base: str | None,
    latitude: float | None,
    units: Literal["us", "metric"],
    as_json: bool,
) -> int:
    """Compare this year with the station's own past years, in plain words.

    FILE is a daily record. Rain, mean temperature, the heat sum and the water that the air draws from grass
    are taken over the last 30 and 90 days and since 1 January, and set against the same days of every past
    year. Exit code 1 means that something could not be compared.
    """
    from dooryard import weather
    from dooryard.weather import compare, compare_report, similar

    record = weather.read(file)
    day = on or record.last + timedelta(days=1)
    known = record.until(day)
    quantities, notes = _quantities(known, heat_base, latitude, units)
    rows = compare.compare(known.dates, quantities, day, from_year=from_year)
    usual = compare_report.usual_day(known)
    alike = similar.weigh(known, day, range(known.first.year, day.year))
    if as_json:
        import json

        shown = compare_report.as_json(rows, usual, alike, record, day) | {"notes": notes}
        click.echo(json.dumps(shown, indent=2, ensure_ascii=False).encode("utf-8"))
    else:
        say(compare_report.render(rows, usual, alike, record, day, units))
        for note in notes:
            say(f"Note: {note}")
    return NEEDS_A_PERSON if not rows or any(row.refused for row in rows) else FINE


def _quantities(
    record: WeatherRecord, heat_base: str | None, latitude: float | None, system: System
) -> tuple[list[Quantity], list[str]]:
    """What this record can be asked about, and notes on what it cannot."""
    import numpy as np

    from dooryard import knowledge, units
    from dooryard.problem import InputError
    from dooryard.season import heat
    from dooryard.water import evapotranspiration
    from dooryard.weather.compare import Quantity
    from dooryard.weather.outlook import bridge_gaps
    from dooryard.weather.record import CORE, WORDS, Flag

    found: list[Quantity] = []
    notes: list[str] = []
    for element in CORE:
        estimated = int((record.flags[element][-LONGEST_SPAN_D:] == Flag.ESTIMATED).sum())
        if estimated:
            notes.append(f"{estimated} of the last {LONGEST_SPAN_D} days of {WORDS[element]} are estimates.")
    if not np.isnan(record.rain_mm).all():
        found.append(Quantity("rain_mm", "rain", "total", "depth", record.rain_mm))
    warmth = (record.t_min_c + record.t_max_c) / 2
    if np.isnan(warmth).all():
        return found, ["The record has no days with both temperatures."]
    found.append(Quantity("t_mean_c", "mean temperature", "mean", "temperature", warmth))
    base = (
        knowledge.load().fact("weather.compare.heat_base_c").value
        if heat_base is None
        else units.parse(heat_base, "temperature")
    )
    low, bridged_low = bridge_gaps(record.t_min_c)
    high, bridged_high = bridge_gaps(record.t_max_c)
    sums = heat.sine(low, np.maximum(low, high), base)
    name = f"heat above {units.show(base, 'temperature', system)}"
    bridged = int((bridged_low | bridged_high).sum())
    note = f"single sine, no upper limit; {bridged} days of short gaps bridged by a straight line"
    found.append(Quantity("heat_cd", name, "total", "degree_days", sums, note))
    try:
        reference = evapotranspiration.reference(record, latitude)
    except InputError as error:
        notes.append(f"Water drawn by the air is left out: {error.problems[0].what}")
    else:
        words = "; ".join(reference.assumptions)
        found.append(
            Quantity("et_mm", "water drawn from grass by the air", "total", "depth", reference.et_mm, words)
        )
    return found, notes
