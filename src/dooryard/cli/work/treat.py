"""`dooryard work treat`: what may be done about one organism today, mildest first."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import click

from dooryard.cli.output import told_plainly
from dooryard.cli.shared import county_option
from dooryard.cli.work.shared import (
    Measure,
    answer_options,
    tell,
    today,
)


@click.command("treat", short_help="What may be done about a pest today, mildest first.")
@click.option("--organism", required=True, help="The pest, by its common name.")
@click.option("--plant", required=True, help="The plant it sits on.")
@click.option("--weather", required=True, type=click.Path(path_type=Path), help="Station record.")
@click.option("--forecast", type=click.Path(path_type=Path), help="Forecast file.")
@click.option("--in-bloom/--not-in-bloom", default=None, help="Flowers are open on it, or on weeds below.")
@click.option("--height", type=Measure("length"), help="Of the plant.")
@click.option("--near-water/--no-water", default=None, help="A pond, ditch, well or barrel lies near.")
@click.option("--state", default="", help="For its laws, such as Maryland.")
@county_option
@answer_options
@told_plainly
def command(
    organism: str,
    plant: str,
    weather: Path,
    forecast: Path | None,
    in_bloom: bool | None,
    height: float | None,
    near_water: bool | None,
    state: str,
    county: Path | None,
    system: Literal["us", "metric"],
    on: date | None,
    out: Path | None,
    as_json: bool,
    why: bool,
) -> int:
    """Hold every treatment against stage, bloom, reach and law. Doing nothing comes first; no rate is named."""
    from dooryard import weather as records
    from dooryard.care.treatment import Site
    from dooryard.knowledge.county import with_county
    from dooryard.plan.work import treat
    from dooryard.problem import InputError, Problem
    from dooryard.season import names, verdicts
    from dooryard.weather import forecast as forecasts
    from dooryard.weather.outlook import ahead

    tables, day = with_county(county), today(on)
    named = names.find(organism, tables)
    if named.plant is not None:
        what = f"{organism} is a plant."
        raise InputError(
            Problem(what, "Name the pest, such as magnolia scale.", field="--organism", found=organism)
        )
    record = records.read(weather)
    foretold = None if forecast is None else forecasts.read(forecast)
    verdict = verdicts.judge(
        named.organisms[0],
        tables,
        record.until(day),
        ahead(record, day, forecast=foretold),
        day,
        plant_kinds=None,
    )
    plan = treat.treat(
        tables,
        day,
        verdict=verdict,
        plant=plant,
        site=Site(in_bloom, height, state, near_water),
        station=record.station.name,
        system=system,
    )
    return tell(plan, "treat", out=out, as_json=as_json, why=why)
