"""The dates by which this station has had hard freezes, with their odds: when to drain, and when to begin again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

import numpy as np

from dooryard.figure import Input
from dooryard.knowledge.rows import Fact
from dooryard.plan.document import Table
from dooryard.plan.draft import Draft
from dooryard.plan.frost import FEWEST_DATES, date_of, share_of_years
from dooryard.season.frost import ColdDates, dates_at, last_and_first
from dooryard.words import day_words

CHANCES = (0.1, 0.5, 0.9)
"""One year in ten, half of the years, nine years in ten."""
_NEXT_DAYS = 14


@dataclass(frozen=True)
class Odds:
    """Days by which a night at or below a threshold has come in autumn, and is over in spring; None where never.

    autumn, spring : one date for each of `CHANCES`, of the coming autumn and the coming spring.
    """

    threshold: Fact
    cold: ColdDates
    autumn: tuple[date | None, ...]
    spring: tuple[date | None, ...]


def odds(draft: Draft, key: str) -> Odds | None:
    """The odds for a threshold of the facts tables; None south of the equator or with too few years."""
    threshold = draft.knowledge.fact(key)
    if draft.yard.place.latitude < 0:
        return None
    cold = last_and_first(draft.record, threshold.value)
    if np.count_nonzero(~np.isnan(cold.first_autumn)) < FEWEST_DATES:
        return None
    # The share of a date by which it *has* come: dates_at counts what comes *after*, so the days run backwards.
    first = dates_at(
        -cold.first_autumn, CHANCES, share_of_years=share_of_years(cold.first_autumn, cold.autumn_known)
    )
    over = dates_at(
        cold.last_spring,
        tuple(1 - chance for chance in CHANCES),
        share_of_years=share_of_years(cold.last_spring, cold.spring_known),
    )
    autumn = _coming(draft.on, [None if day is None else -day for day in first])
    spring = _coming(draft.on, list(over))
    return Odds(threshold, cold, autumn, spring)


def _coming(on: date, days: list[float | None]) -> tuple[date | None, ...]:
    """The days of the year as dates of the first season whose last date is not past."""
    known = [day for day in days if day is not None]
    year = on.year + 1 if known and date_of(on.year, max(known)) < on else on.year
    return tuple(None if day is None else date_of(year, day) for day in days)


def sentences(draft: Draft) -> list[str]:
    """Before the freeze, in the next two weeks, and after the last one; empty where no odds can be given."""
    found = odds(draft, "frost.drain_at")
    if found is None:
        return []
    return [*_autumn(draft, found), *_next(draft, found), *_spring(draft, found)]


def table(draft: Draft) -> Table | None:
    """Odds by date for the nights that call for draining and those that break fittings; None without odds."""
    rows = []
    for key, words in (("frost.drain_at", "drain before"), ("frost.breaks_at", "breaks fittings")):
        found = odds(draft, key)
        if found is not None:
            shown = draft.book.show(found.threshold.value, "temperature")
            rows.append(
                (f"{shown}, {words}", *("seldom" if day is None else day_words(day) for day in found.autumn))
            )
    if not rows:
        return None
    return Table(
        "By when autumns of this station have had such a night",
        (
            ("At or below", "left"),
            ("One year in ten", "right"),
            ("Half of the years", "right"),
            ("Nine in ten", "right"),
        ),
        tuple(rows),
    )


def _mark(draft: Draft, found: Odds, season: str, chance: int) -> str:
    """The figure of one date; "" where so many years never have such a night."""
    day = getattr(found, season)[chance]
    if day is None:
        return ""
    known = found.cold.autumn_known if season == "autumn" else found.cold.spring_known
    days = found.cold.first_autumn if season == "autumn" else found.cold.last_spring
    threshold = draft.book.show(found.threshold.value, "temperature")
    came = "has come" if season == "autumn" else "is over"
    return draft.book.plain(
        f"frost.{season}-{round(CHANCES[chance] * 100)}",
        f"day by which a night at or below {threshold} {came} in {CHANCES[chance]:.0%} of the years",
        day.isoformat(),
        day_words(day),
        "water.freeze_odds",
        unit="date",
        inputs=(
            draft.book.input("night", found.threshold.value, "temperature", found.threshold.source),
            Input("years counted", f"{int(known.sum())}"),
            Input("share of them that had such a night", f"{share_of_years(days, known):.0%}"),
        ),
    )


def _autumn(draft: Draft, found: Odds) -> list[str]:
    mark = partial(_mark, draft, found, "autumn")
    early, middle = mark(0), mark(1)
    if not early or not middle:
        return [
            "In most years no hard freeze comes here, so the barrel can stay; drain it when one is forecast."
        ]
    draft.caution("water.freeze")
    threshold = draft.book.show(found.threshold.value, "temperature")
    return [
        f"A night at or below {threshold} has come by {early} in one autumn of ten, and by {middle} in half of them. "
        f"Drain the barrel before {early}, or watch the forecast from then on."
    ]


def _next(draft: Draft, found: Odds) -> list[str]:
    """How often such a night came in the two weeks from today, if it ever did."""
    ahead = draft.outlook.t_min_c[:, :_NEXT_DAYS]
    if not ahead.size:
        return []
    came = (ahead <= found.threshold.value).any(axis=1)
    years = len(draft.outlook.years)
    if not came.any() or came.all():
        return []
    mark = draft.book.plain(
        "frost.two-weeks",
        "past years with such a night in the two weeks from today",
        int(came.sum()),
        f"{int(came.sum())} of {years} past years",
        "water.past_years",
        inputs=(
            Input("from", f"{day_words(draft.on)} to {day_words(draft.on + timedelta(days=_NEXT_DAYS - 1))}"),
            draft.book.input("night", found.threshold.value, "temperature", found.threshold.source),
        ),
    )
    return [f"In the two weeks from today such a night came in {mark}."]


def _spring(draft: Draft, found: Odds) -> list[str]:
    mark = partial(_mark, draft, found, "spring")
    middle, late = mark(1), mark(2)
    if not middle or not late:
        return []
    return [
        f"The last such night of spring is over by {middle} in half of the years, and by {late} in nine of ten."
    ]
