"""Where a season report's files are opened: record, forecast, yard, hours, a record of another place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from dooryard import weather as weather_room
from dooryard.knowledge.county import beside, with_county
from dooryard.plan.assemble import Sky
from dooryard.plan.document import Plan
from dooryard.plan.files import fresh_record, named_record
from dooryard.plan.season_report import Asked, season
from dooryard.problem import InputError, Problem
from dooryard.season import names
from dooryard.season.seen import parse
from dooryard.units import System
from dooryard.weather import forecast as forecast_reader
from dooryard.yard import file as yard_file


class SeasonFiles(NamedTuple):
    """Files a season report may rest on: station record, forecast, yard, hours, a record of another place.

    county : folder of a person's own tables; None takes the one beside the yard file, if there is one.
    """

    weather: Path | None = None
    forecast: Path | None = None
    yard: Path | None = None
    hours: Path | None = None
    there: Path | None = None
    county: Path | None = None


def season_from_files(
    name: str, files: SeasonFiles, on: date, *, seen: Sequence[str], system: System
) -> Plan:
    """Read the files and make the season report on one organism or plant for the day `on`.

    name : what a person calls it. seen : what was seen, each as "2031-06-09: bags hatching". system : units where no
    yard file says. Raises InputError as `read_files`, and if nothing goes by the name.
    """
    tables = with_county(files.county if files.yard is None else beside(files.yard, files.county))
    named = names.find(name, tables)
    yard = None
    if files.yard is not None:
        yard = yard_file.read(files.yard, tables)
    if files.weather is not None:
        record_path = files.weather
    elif files.yard is not None and yard is not None:
        record_path = named_record(files.yard, yard.place.weather)
    else:
        raise InputError(
            Problem(
                "No weather record is named.",
                "Name one with --weather FILE, or a yard file that names one with --yard FILE.",
                field="--weather",
            )
        )
    record = fresh_record(record_path, on)
    sightings, blooms = parse(seen, named, tables, on)
    asked = Asked(
        named=named,
        yard=yard,
        seen=sightings,
        blooms=blooms,
        hours=None if files.hours is None else weather_room.read_hourly(files.hours),
        there=None if files.there is None else weather_room.read(files.there),
        system=system,
    )
    foretold = None if files.forecast is None else forecast_reader.read(files.forecast)
    return season(asked, Sky(record, foretold), tables, on)
