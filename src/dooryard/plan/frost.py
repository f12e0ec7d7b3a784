"""Before the hard frost and after the last one: draining the barrel, and when tender plants may go out."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from dooryard.figure import Input
from dooryard.plan.document import Refusal
from dooryard.plan.draft import Draft
from dooryard.plan.storages import pool_words
from dooryard.plan.task import Task
from dooryard.season.frost import dates_at, last_and_first
from dooryard.water.network import YardRun
from dooryard.words import day_words, list_words

# The one year in ten that is earliest, the middle, and the one in ten that is latest.
EARLY, MIDDLE, LATE = 0.9, 0.5, 0.1
FEWEST_DATES = 5
LEAD_DAYS = 14


def describe(draft: Draft, run: YardRun) -> None:
    """Add the drain before hard frost for storages, and the wait for the last frost for tender beds."""
    drain(draft, run)
    if draft.yard.place.latitude >= 0:
        _set_out(draft)


def drain(draft: Draft, run: YardRun) -> None:
    """Add the drain before hard frost; a refusal where no frost dates can be given, nothing without storages."""
    if not run.pools:
        return
    if draft.yard.place.latitude < 0:
        draft.refusals.append(
            Refusal(
                "We will not give frost dates",
                "South of the equator they are not worked out yet",
                "Ask your weather service for the first date of hard frost, and drain the barrel before it",
            )
        )
        return
    _drain(draft, run)


def _drain(draft: Draft, run: YardRun) -> None:
    threshold = draft.knowledge.fact("frost.drain_at")
    cold = last_and_first(draft.record, threshold.value)
    share = share_of_years(cold.first_autumn, cold.autumn_known)
    if share == 0.0 or np.count_nonzero(~np.isnan(cold.first_autumn)) < FEWEST_DATES:
        return
    days = dates_at(cold.first_autumn, (EARLY, MIDDLE), share_of_years=1.0)
    early, middle = (None if day is None else date_of(draft.on.year, day) for day in days)
    if early is None or middle is None or middle < draft.on:
        return
    draft.caution("water.freeze")
    names = list_words([pool_words(pool) for pool in run.pools])
    mark = draft.book.plain(
        "frost.first-hard",
        f"first night at or below {draft.book.show(threshold.value, 'temperature')} in autumn",
        middle.isoformat(),
        f"about {day_words(middle)} in a middling year, by {day_words(early)} in one year of ten",
        "season.frost_levels",
        unit="date",
        low=early.isoformat(),
        inputs=(
            Input("autumns counted", f"{int(cold.autumn_known.sum())}"),
            Input("share of autumns that had such a night", f"{share:.0%}"),
            draft.book.input("drain before", threshold.value, "temperature", threshold.source),
        ),
    )
    begin = max(early - timedelta(days=LEAD_DAYS), draft.on)
    end = max(early, begin)
    several = sum(len(pool.storages) for pool in run.pools) > 1
    draft.tasks.append(
        Task(
            id="frost.drain",
            verb="Do",
            place=list_words([name for pool in run.pools for name in pool.storages]),
            kind="frost",
            what=f"Drain {names}, leave the spigot open, put the downspout back with its end away from the wall, and "
            f"tie {'them' if several else 'it'} down or store {'them' if several else 'it'}.",
            from_=begin,
            to=end,
            best=max(begin, end - timedelta(days=LEAD_DAYS // 2)),
            why=f"The first hard freeze comes {mark}. Ice splits barrels and spigots.",
            cautions=draft.caution("water.freeze", "water.empty_barrel"),
            if_missed="Drain it on the next mild day. Look for cracks at the spigot before you fill it in spring.",
        )
    )


def _set_out(draft: Draft) -> None:
    """Before the last frost: wait with tender plants that are not planted yet."""
    crops = draft.knowledge.crops
    tender = [
        bed.name
        for bed in draft.yard.beds
        if bed.planted is None and crops[bed.grows].kind == "vegetable" and crops[bed.grows].ini_d is not None
    ]
    if not tender:
        return
    threshold = draft.knowledge.fact("frost.frost")
    cold = last_and_first(draft.record, threshold.value)
    if np.count_nonzero(~np.isnan(cold.last_spring)) < FEWEST_DATES:
        return
    days = dates_at(cold.last_spring, (MIDDLE, LATE))
    middle, late = (None if day is None else date_of(draft.on.year, day) for day in days)
    if middle is None or late is None or late <= draft.on:
        return
    mark = draft.book.plain(
        "frost.last",
        f"last night at or below {draft.book.show(threshold.value, 'temperature')} in spring",
        middle.isoformat(),
        f"about {day_words(middle)} in a middling year, {day_words(late)} in one year of ten",
        "season.frost_levels",
        unit="date",
        high=late.isoformat(),
        inputs=(Input("springs counted", f"{int(cold.spring_known.sum())}"),),
    )
    moved = draft.yard.place.night_offset_c != 0.0
    where, low = (
        ("in this yard", "") if moved else ("at this station", " Low ground is colder than the station.")
    )
    draft.tasks.append(
        Task(
            id="frost.set-out",
            verb="Wait",
            place=list_words(tender),
            kind="frost",
            what=f"Wait with frost-tender plants in the {list_words(tender)} until {day_words(late)}, or cover them on "
            "clear calm nights.",
            from_=draft.on,
            to=late,
            why=f"The last frost {where} comes {mark}.{low}",
            if_missed="Cover with cloth before dusk. Plants touched by frost: wait some days before you cut.",
        )
    )


def share_of_years(days: np.ndarray, known: np.ndarray) -> float:
    """Share of the known half years that had such a night."""
    counted = int(np.count_nonzero(known))
    return float(np.count_nonzero(~np.isnan(days) & known)) / counted if counted else 0.0


def date_of(year: int, day_of_year: float) -> date:
    """The date of a day of the year in a given year; 1 is 1 January and 60 is 1 March, in leap years too."""
    day = date(2001, 1, 1) + timedelta(days=round(day_of_year) - 1)
    return day.replace(year=day.year - 2001 + year)
