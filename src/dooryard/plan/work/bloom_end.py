"""When a plant's bloom ends at a station this year, by heat, where nobody has seen it."""

from __future__ import annotations

from datetime import date, timedelta

from dooryard.knowledge import Knowledge
from dooryard.season import indicators
from dooryard.season.timing import SeasonHeat
from dooryard.weather.outlook import ahead
from dooryard.weather.record import WeatherRecord


def estimate(knowledge: Knowledge, plant: str, record: WeatherRecord, on: date) -> tuple[date, str] | None:
    """The likely end of bloom, and the list it is estimated from; None if no list has the plant or heat is unknown.

    plant : common name. record : the station's days. The end is taken from a row of late or full bloom, else from the
    first day and the usual length of bloom.
    """
    name = plant.casefold()
    rows = [row for row in knowledge.blooms if row.plant.casefold() in (name, f"common {name}")]
    rows = rows or [row for row in knowledge.blooms if name in row.plant.casefold().split()]
    if not rows:
        return None
    heat = SeasonHeat(record.until(on), ahead(record, on), on)
    lasts = knowledge.fact("prune.bloom_lasts")
    found: list[tuple[date, str]] = []
    for one in indicators.crossings(rows, heat):
        day = one.crossing.reached or one.crossing.likely
        if day is None:
            continue
        days = lasts.value if one.bloom.event in ("first bloom", "early bloom") else lasts.value / 2
        found.append(
            (
                day + timedelta(days=round(days)),
                f"{one.bloom.event} by the list of {one.bloom.place or one.bloom.source}",
            )
        )
    return max(found) if found else None
