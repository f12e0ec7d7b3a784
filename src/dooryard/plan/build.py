"""plan(): one yard, one record and the knowledge tables become one dated plan. The place where all rooms meet."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from dooryard.knowledge import Knowledge
from dooryard.plan import beds, frost, organisms, roofs, station, storages, storm_drill, summary, upkeep
from dooryard.plan.document import Plan, Refusal, unmarked
from dooryard.plan.draft import Draft
from dooryard.plan.figures import FigureBook
from dooryard.plan.task import in_date_order
from dooryard.water import network
from dooryard.weather import site
from dooryard.weather.forecast import Forecast
from dooryard.weather.outlook import ahead
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Place, Yard

if TYPE_CHECKING:
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.readers.atlas14 import DesignTable

NEAR_DAYS = 21
# Advice rests on a record that ends today; two weeks on it wants newer weather.
ADVICE_DAYS = 14


def plan(
    yard: Yard,
    record: WeatherRecord,
    knowledge: Knowledge,
    on: date,
    forecast: Forecast | None = None,
    *,
    gauge: GaugeRecord | None = None,
    design_table: DesignTable | None = None,
) -> Plan:
    """The plan of a yard as seen on the morning of `on`: the next 21 days and the season ahead.

    yard : as read, every name resolved. record : the station's days; only those before `on` are used.
    forecast : days from `on` on, or None. The station's nights are moved to the yard's, if it has an offset.

    Raises
    ------
    InputError
        If the record begins on or after `on`.
    """
    record = site.moved(record, yard.place.night_offset_c, system=yard.units)
    draft = Draft(
        yard=yard,
        record=record.until(on),
        outlook=ahead(record, on, forecast=forecast),
        knowledge=knowledge,
        on=on,
        until=on + timedelta(days=NEAR_DAYS),
        forecast=forecast,
        book=FigureBook(yard.units),
        gauge=gauge,
        design_table=design_table,
    )
    run, problems = network.run(yard, draft.record, knowledge, on)
    station_words = station.describe(draft)
    draft.record_notes += [
        f"{problem.what} {problem.instead}".strip() for problem in (*yard.notes, *problems)
    ]
    roofs.describe(draft)
    storages.describe(draft, run)
    storm_drill.describe(draft, run)
    beds.describe(draft, run)
    organisms.describe(draft)
    upkeep.describe(draft, run)
    frost.describe(draft, run)
    if not draft.outlook.years:
        draft.refusals.append(
            Refusal(
                "We will not give dates ahead",
                "The record has no whole past year to go by",
                "Bring a record of at least ten years of this station",
            )
        )
    near = [task for task in draft.tasks if task.from_ < draft.until]
    later = [task for task in draft.tasks if task.from_ >= draft.until]
    return Plan(
        on=on,
        until=draft.until,
        advice_ends=on + timedelta(days=ADVICE_DAYS),
        units=yard.units,
        yard={"name": yard.name, "place": _place_words(draft, yard.place)},
        station=station_words,
        summary=tuple(summary.sentences(draft, near)),
        tasks=tuple(in_date_order(near)),
        ahead=tuple(in_date_order(later)),
        walk=tuple(draft.walk),
        organisms=tuple(draft.organisms),
        refusals=tuple(draft.refusals),
        record=tuple(unmarked(note) for note in draft.record_notes),
        cautions=draft.cautions,
        figures=draft.book.figures,
        charts=tuple(draft.charts),
        knowledge=knowledge,
        more_sources=frozenset(draft.more_sources),
    )


def _place_words(draft: Draft, place: Place) -> str:
    north = "N" if place.latitude >= 0 else "S"
    east = "E" if place.longitude >= 0 else "W"
    return (
        f"{abs(place.latitude):.2f}° {north}, {abs(place.longitude):.2f}° {east}, "
        f"{draft.book.show(place.elevation_m, 'length')} above the sea"
    )
