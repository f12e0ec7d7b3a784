"""Heat sums that start on a day only a person can see: the first steady catch, half of the buds open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from dooryard.knowledge import Stage
from dooryard.season.book import heat_sum, thresholds
from dooryard.season.timing import Crossing, SeasonHeat
from dooryard.yard.model import Sighting

SHORTEST = 4
"""Letters of a word that counts when a told sign is held against a table's start."""


@dataclass(frozen=True, slots=True)
class Counted:
    """A row summed from the day its start was seen this year: when its low and, if printed, its high number come."""

    stage: Stage
    begun: date
    low: Crossing
    high: Crossing | None


def counted(stages: Iterable[Stage], sightings: Sequence[Sighting], heat: SeasonHeat) -> tuple[Counted, ...]:
    """Every row whose start was seen this year, summed from that day (the earliest, if it was told several times)."""
    found = []
    for stage in stages:
        if stage.kind != "event":
            continue
        days = [
            one.date
            for one in sightings
            if one.organism == stage.organism
            and one.date.year == heat.on.year
            and one.date <= heat.on
            and starts(stage, one.sign or "")
        ]
        if not days:
            continue
        begun = min(days)
        kind = replace(heat_sum(replace(stage, start_used="01-01")), start=(begun.month, begun.day))
        crossings = heat.crossings(kind, thresholds(stage))
        found.append(Counted(stage, begun, crossings[0], crossings[1] if len(crossings) > 1 else None))
    return tuple(found)


def starts(stage: Stage, sign: str) -> bool:
    """Whether a told sign is the start of an event row: two of its longer words, or all there are."""
    told, wanted = _words(sign), _words(stage.start)
    return stage.kind == "event" and len(told & wanted) >= min(2, len(wanted)) > 0


def _words(text: str) -> set[str]:
    plain = "".join(sign if sign.isalnum() else " " for sign in text.casefold())
    return {word for word in plain.split() if len(word) >= SHORTEST}
