"""What every document of a yard begins and ends with: the draft before anything is said, the plan when all is.

The plan itself, the water report and the storm drill differ only in what they say in between.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, NamedTuple

from dooryard.knowledge import Knowledge
from dooryard.plan import station, summary
from dooryard.plan.document import Plan, unmarked
from dooryard.plan.draft import Draft
from dooryard.plan.figures import FigureBook
from dooryard.plan.task import in_date_order
from dooryard.water import network
from dooryard.water.network import YardRun
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


@dataclass(frozen=True)
class Sky:
    """All that is known of a yard's weather: its station's days, a forecast, rain by the minute, a design table."""

    record: WeatherRecord
    forecast: Forecast | None = None
    gauge: GaugeRecord | None = None
    design_table: DesignTable | None = None


class Begun(NamedTuple):
    """A draft with nothing said yet, the yard's water up to its eve, and the station as the document holds it."""

    draft: Draft
    run: YardRun
    station: Mapping[str, str]


def begin(
    yard: Yard,
    sky: Sky,
    knowledge: Knowledge,
    on: date,
    *,
    near_days: int = NEAR_DAYS,
    by_hours: bool = False,
) -> Begun:
    """What every document of a yard begins with, seen on the morning of `on`.

    yard : as read, every name resolved. near_days : days that count as near [d]. by_hours : run the barrels by the
    gauge's hours where there are any. The station's nights are moved to the yard's, if it has an offset.

    Raises
    ------
    InputError
        If the record begins on or after `on`.
    """
    record = site.moved(sky.record, yard.place.night_offset_c, system=yard.units)
    draft = Draft(
        yard=yard,
        record=record.until(on),
        outlook=ahead(record, on, forecast=site.forecast_at(sky.forecast, yard.place.night_offset_c)),
        knowledge=knowledge,
        on=on,
        until=on + timedelta(days=near_days),
        forecast=sky.forecast,
        book=FigureBook(yard.units),
        gauge=sky.gauge,
        design_table=sky.design_table,
    )
    run, problems = network.run(yard, draft.record, knowledge, on, hours=sky.gauge if by_hours else None)
    about = station.describe(draft)
    draft.record_notes += [
        f"{problem.what} {problem.instead}".strip() for problem in (*yard.notes, *problems)
    ]
    return Begun(draft, run, about)


def finish(
    begun: Begun,
    *,
    report: str = "",
    title: str = "",
    first: Sequence[str] = (),
    advice_days: int = ADVICE_DAYS,
) -> Plan:
    """The document of all that was said to the draft.

    report, title : as in `Plan`. first : sentences that open it in place of the most pressing headlines.
    advice_days : days from the draft's day for which it holds [d].
    """
    draft = begun.draft
    near = [task for task in draft.tasks if task.from_ < draft.until]
    later = [task for task in draft.tasks if task.from_ >= draft.until]
    said = [*first, *summary.refused(draft)] if first else summary.sentences(draft, near)
    return Plan(
        on=draft.on,
        until=draft.until,
        advice_ends=draft.on + timedelta(days=advice_days),
        units=draft.yard.units,
        yard={"name": draft.yard.name, "place": place_words(draft, draft.yard.place)},
        station=begun.station,
        summary=tuple(said),
        tasks=tuple(in_date_order(near)),
        ahead=tuple(in_date_order(later)),
        walk=tuple(draft.walk),
        organisms=tuple(draft.organisms),
        refusals=tuple(draft.refusals),
        record=tuple(unmarked(note) for note in draft.record_notes),
        cautions=draft.cautions,
        figures=draft.book.figures,
        charts=tuple(draft.charts),
        knowledge=draft.knowledge,
        more_sources=frozenset(draft.more_sources),
        report=report,
        title=title,
    )


def place_words(draft: Draft, place: Place) -> str:
    """Where the yard lies: "38.22° N, 85.10° W, 625 ft above the sea"."""
    north = "N" if place.latitude >= 0 else "S"
    east = "E" if place.longitude >= 0 else "W"
    return (
        f"{abs(place.latitude):.2f}° {north}, {abs(place.longitude):.2f}° {east}, "
        f"{draft.book.show(place.elevation_m, 'length')} above the sea"
    )
