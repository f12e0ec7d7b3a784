"""What was seen here against what the heat said: a yard's own shift, in days, and how far it may be trusted.

A sighting counts against a table if its sign is one that opens the table's window ("hatch"). The days between the
table's date and the sighting are kept for each sighting. Together they shift the table's later dates, drawn back
towards no shift at all while few or unsure eyes have looked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil, inf, sqrt

from dooryard.knowledge import Knowledge, Window
from dooryard.season.book import HeatBook
from dooryard.season.windows import Moment
from dooryard.yard.model import Sighting

TENTH = 1.2816
"""Standard deviations from the middle to the outer tenth of a normal spread."""
_MONTH_D = 30


@dataclass(frozen=True, slots=True)
class Compared:
    """One sighting against one table's date for what was seen.

    expected : the table's likely day in the sighting's year. days : sighting less expected, later positive.
    spread_d : how far the sighting may lie from the true day, one standard deviation [d]. too_far : it lies so
    far from the table that it is shown and shifts nothing.
    """

    sighting: Sighting
    window: str
    expected: date
    days: int
    spread_d: float
    too_far: bool


@dataclass(frozen=True, slots=True)
class Shift:
    """How much later (or earlier, below zero) a table's dates fall here [d], and its standard deviation [d]."""

    days: float
    spread_d: float
    compared: tuple[Compared, ...]


def compared(
    window: Window, sightings: Iterable[Sighting], book: HeatBook, knowledge: Knowledge
) -> tuple[Compared, ...]:
    """Every sighting that says the window has opened, against the day the table opens it.

    A later sighting on the same plant in the same year adds nothing if an earlier one was as sure: what has
    hatched stays hatched. Sightings after the day asked, or of a year whose heat is not known, are left out.
    """
    told: list[Compared] = []
    most_d = knowledge.fact("season.shift_most").value
    best: dict[tuple[str, int], list[Sighting]] = {}
    for one in sorted(sightings, key=lambda seen: seen.date):
        if one.date > book.on or not opens(window, one):
            continue
        earlier = best.setdefault((one.plant, one.date.year), [])
        spread_d = knowledge.fact(f"season.sighting_spread.{one.sure}").value
        if any(knowledge.fact(f"season.sighting_spread.{old.sure}").value <= spread_d for old in earlier):
            continue
        expected = _expected(window, one.date.year, book)
        if expected is not None:
            earlier.append(one)
            days = (one.date - expected).days
            told.append(Compared(one, window.key, expected, days, spread_d, abs(days) > most_d))
    return tuple(told)


def opens(window: Window, sighting: Sighting) -> bool:
    """Whether what was seen is a sign that this window has opened."""
    return (
        sighting.organism == window.organism
        and sighting.sign is not None
        and any(sign.lower() in sighting.sign.lower() for sign in window.signs)
    )


def of_brood(
    windows: Sequence[Window], sightings: Iterable[Sighting], book: HeatBook
) -> Mapping[int, tuple[Sighting, ...]]:
    """Each sighting under the brood it is a sign of: of several with that sign, the one due nearest to its day.

    windows : all of one organism. A brood that nothing dates comes after those that are dated.
    """
    found: dict[int, list[Sighting]] = {window.generation: [] for window in windows}
    for one in sightings:
        away = [
            (inf if expected is None else abs((one.date - expected).days), window.generation)
            for window in windows
            if opens(window, one)
            for expected in (_expected(window, one.date.year, book),)
        ]
        if away:
            found[min(away)[1]].append(one)
    return {generation: tuple(told) for generation, told in found.items()}


def each_once(seen: Iterable[Compared]) -> tuple[Compared, ...]:
    """One entry for each sighting, at the middle of what several tables make of it: one eye is one witness.

    An entry that lies too far from its table is left out before.
    """
    together: dict[Sighting, list[Compared]] = {}
    for one in seen:
        if not one.too_far:
            together.setdefault(one.sighting, []).append(one)
    found = []
    for sighting, entries in together.items():
        days = round(sum(one.days for one in entries) / len(entries))
        expected = sighting.date - timedelta(days=days)
        found.append(replace(entries[0], expected=expected, days=days))
    return tuple(found)


def shift(seen: Sequence[Compared], knowledge: Knowledge) -> Shift | None:
    """The shift that several sightings of one table point to; None without any that is near enough.

    Each counts by one over its variance, and the table itself counts as a sighting of "no shift" whose
    spread is how far tables lie from a yard (knowledge facts ``season.local_shift``, ``season.shift_least``).

    Source
    ------
    The normal posterior mean under a normal prior, in any book on statistics.
    """
    seen = [one for one in seen if not one.too_far]
    if not seen:
        return None
    prior = 1 / knowledge.fact("season.local_shift").value ** 2
    weights = [1 / one.spread_d**2 for one in seen]
    total = prior + sum(weights)
    days = sum(weight * one.days for weight, one in zip(weights, seen, strict=True)) / total
    least = knowledge.fact("season.shift_least").value
    return Shift(days, max(sqrt(1 / total), least), tuple(seen))


def moved(moment: Moment, by: Shift, on: date, knowledge: Knowledge, *, after_d: int = 0) -> Moment:
    """A moment of the table as it falls here: moved by the shift, its range widened by the shift's doubt.

    after_d : days between the stage that was seen and this one; over them the shift gains doubt.
    on : last day on which the moment counts as ahead is this one; it has passed if it likely lies before.
    """
    if moment.likely is None:
        return moment
    drift = knowledge.fact("season.shift_drift").value * max(after_d, 0) / _MONTH_D
    doubt = TENTH * sqrt(by.spread_d**2 + drift**2)
    likely = moment.likely + timedelta(days=round(by.days))

    def end(day: date | None, side: int) -> date | None:
        if day is None or moment.likely is None:
            return None
        away = sqrt((day - moment.likely).days ** 2 + doubt**2)
        return likely + timedelta(days=side * ceil(away - 1e-9))

    return Moment(likely <= on, end(moment.earliest, -1), likely, end(moment.latest, 1), moment.refused)


def seen_on(day: date) -> Moment:
    """The moment of something that was seen to have come."""
    return Moment(True, day, day, day, None)


def _expected(window: Window, year: int, book: HeatBook) -> date | None:
    if year == book.on.year:
        day = book.at(window.opens, window.open_at).likely
    else:
        day = book.past(window.opens, window.open_at, year)
    return None if day is None else day + timedelta(days=window.open_lag_d)
