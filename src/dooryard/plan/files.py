"""The one place where a plan's files are opened: yard, record, forecast. Everything below it is pure."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from dooryard import weather as weather_room
from dooryard.knowledge import Knowledge
from dooryard.knowledge.county import beside, with_county
from dooryard.plan.assemble import Sky
from dooryard.plan.build import plan
from dooryard.plan.document import Plan
from dooryard.problem import InputError, Problem
from dooryard.weather import forecast as forecast_reader
from dooryard.weather.file import SHELF
from dooryard.yard import file as yard_file
from dooryard.yard.model import Place, Yard

if TYPE_CHECKING:
    from dooryard.care.card import Card
    from dooryard.plan.label_cards import Shelf
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.readers.atlas14 import DesignTable
    from dooryard.weather.record import WeatherRecord

# A record that stopped longer ago than this cannot say anything about today. A limit of use, not of the trade.
STALE_AFTER_DAYS = 60


def plan_from_files(
    yard: Path, *, weather: Path | None, forecast: Path | None, on: date, county: Path | None = None
) -> Plan:
    """Read the files and make the plan for the day `on`; arguments and errors as for `read_files`."""
    read = read_files(yard, weather=weather, forecast=forecast, on=on, county=county)
    sky = read.sky
    return plan(
        read.yard,
        sky.record,
        read.knowledge,
        on,
        sky.forecast,
        gauge=sky.gauge,
        design_table=sky.design_table,
        shelf=label_shelf(yard, read.knowledge),
    )


CARDS = "cards"
LOG = "log.csv"


def label_shelf(yard: Path, knowledge: Knowledge) -> Shelf | None:
    """The label cards in the folder `cards` beside a yard file, with its log.csv; None if there is no such folder.

    Raises InputError with every fault of every card.
    """
    folder = yard.parent / CARDS
    if not folder.is_dir():
        return None
    from dooryard.care import card_file
    from dooryard.plan.label_cards import Shelf

    cards: list[Card] = []
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.toml")):
        try:
            cards.append(card_file.read(path, knowledge))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    log = folder / LOG
    return Shelf(tuple(cards), card_file.read_log(log) if log.exists() else ())


def storm_from_files(
    yard: Path, *, weather: Path | None, forecast: Path, on: date, county: Path | None = None
) -> Plan:
    """Read the files and make the storm drill for the day `on`; arguments and errors as for `read_files`.

    forecast : must hold `on` or days after it.
    """
    from dooryard.plan.storm_report import storm

    read = read_files(yard, weather=weather, forecast=forecast, on=on, county=county)
    return storm(read.yard, read.sky, read.knowledge, on)


def water_from_files(
    yard: Path,
    *,
    weather: Path | None,
    forecast: Path | None,
    on: date,
    trouble: str = "",
    county: Path | None = None,
) -> Plan:
    """Read the files and make the water report for the day `on`; arguments and errors as for `read_files`.

    trouble : words of a trouble, to tell of it alone.
    """
    from dooryard.plan.water_report import water

    read = read_files(yard, weather=weather, forecast=forecast, on=on, county=county)
    return water(read.yard, read.sky, read.knowledge, on, trouble=trouble)


def frost_from_files(yard: Path, *, weather: Path | None, forecast: Path | None, on: date) -> Plan:
    """Read the files and make the frost report for the day `on`; arguments and errors as for `read_files`."""
    from dooryard.plan.frost_report import frost

    read = read_files(yard, weather=weather, forecast=forecast, on=on)
    return frost(read.yard, read.sky, read.knowledge, on)


class Read(NamedTuple):
    """What the files of one yard hold."""

    yard: Yard
    sky: Sky
    knowledge: Knowledge


def read_files(
    yard: Path, *, weather: Path | None, forecast: Path | None, on: date, county: Path | None = None
) -> Read:
    """The yard and all its weather, for a document made on the day `on`.

    weather : station record; None takes the one the yard file names, relative to the yard file.
    county : folder of a person's own tables; None takes the one beside the yard file, if there is one.

    Raises
    ------
    InputError
        If a file or an own table cannot be read, no record is named, or the record ended too long before `on`.
    """
    tables = with_county(beside(yard, county))
    found = yard_file.read(yard, tables)
    record_path = weather if weather is not None else named_record(yard, found.place.weather)
    record = fresh_record(record_path, on)
    foretold = None if forecast is None else forecast_reader.read(forecast)
    gauge, table = design_files(yard, found.place)
    return Read(found, Sky(record, foretold, gauge, table), tables)


def fresh_record(path: Path, on: date) -> WeatherRecord:
    """The record in a file, if it reaches near enough to the day `on`; else InputError with the days it has."""
    record = weather_room.read(path)
    first, last = record.dates[0].item(), record.dates[-1].item()
    if (on - last).days > STALE_AFTER_DAYS or on <= first:
        wanted = "newer" if on > first else "older"
        raise InputError(
            Problem(
                f"The record runs from {first} to {last}; a plan for {on} needs weather up to the day before.",
                f"Bring a record that holds {wanted} days, or look back with --on {last}.",
                str(path),
                field="--on",
                found=str(on),
            )
        )
    return record


def design_files(yard: Path, place: Place) -> tuple[GaugeRecord | None, DesignTable | None]:
    """The sub-daily rain record and the design table the yard file names, each None if it names none.

    yard : the yard file, beside which they lie. Raises InputError if one of them cannot be read.
    """
    gauge = table = None
    if place.rain_gauge is not None:
        gauge = weather_room.read_gauge(yard.parent / place.rain_gauge)
    if place.design_rain is not None:
        from dooryard.weather.readers import atlas14

        table = atlas14.read(yard.parent / place.design_rain)
    return gauge, table


def named_record(yard: Path, named: str | None) -> Path:
    """The station record a yard file names, beside it or on the shelf; InputError if it names none."""
    if named is None:
        raise InputError(
            Problem(
                "No weather record is named.",
                'Name one with --weather FILE, or write weather = "station.csv" under [place].',
                str(yard),
                field="place.weather",
            )
        )
    # A record on the station shelf lies in no folder beside the yard file.
    return Path(named) if named.startswith(SHELF) else yard.parent / named
