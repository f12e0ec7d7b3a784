"""What the measurements run on: a long record, a yard, and the heat rows of the tables."""

from __future__ import annotations

import shutil
import tomllib
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import dooryard.demo
from dooryard.demo import county
from dooryard.knowledge.load import Knowledge
from dooryard.knowledge.rows import Stage
from dooryard.season import heat
from dooryard.units import parse
from dooryard.weather.record import WeatherRecord

DEMO = Path(dooryard.demo.__file__).parent
YARD = "household-12.toml"


@dataclass(frozen=True)
class Case:
    """Files of one measured plan and the day it is made."""

    yard: Path
    weather: Path
    out: Path
    on: date


def write(folder: Path, years: int) -> Case:
    """A demo yard and its station's record, stretched by the generator to this many years."""
    parameters = tomllib.loads((DEMO / "stations.toml").read_text(encoding="utf-8"))
    last: date = parameters["last"]
    longer = parameters | {"first": last.replace(year=last.year - years)}
    weather = folder / "station.csv"
    weather.write_text(county.station_csv(longer, parameters["stations"][0]), encoding="utf-8")
    yard = folder / YARD
    shutil.copyfile(DEMO / "yards" / YARD, yard)
    return Case(yard, weather, folder / "out", last)


def heat_rows(tables: Knowledge) -> list[Stage]:
    """The stage rows that ask for a sum of degree-days."""
    return [stage for stage in tables.stages.values() if stage.base is not None]


def all_heat(tables: Knowledge, found: WeatherRecord) -> float:
    """Degree-days of every day of a record for each heat row on its own, nothing shared between rows."""
    total = 0.0
    for stage in heat_rows(tables):
        lower_c = parse(f"{stage.base} °{stage.unit}", "temperature")
        upper_c = None if stage.upper is None else parse(f"{stage.upper} °{stage.unit}", "temperature")
        daily = heat.method(stage.method)(found.t_min_c, found.t_max_c, lower_c, upper_c)
        total += float(daily[-1])
    return total
