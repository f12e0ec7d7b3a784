"""Before a forecast storm: how much to let out, by when, how long it takes, and what little it changes."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from math import ceil

import numpy as np

from dooryard.plan.draft import Draft
from dooryard.plan.storages import pool_words
from dooryard.plan.storm_case import HIGH, LIKELY, Case, Storm, cases, storm_of
from dooryard.plan.storm_marks import NO_ROOM_L, Marks, marks, spell_words
from dooryard.plan.task import Task
from dooryard.water.network import YardRun
from dooryard.words import day_words, list_words


def describe(draft: Draft, run: YardRun) -> tuple[Case, ...]:
    """Add a task for every storage that the forecast's wettest spell would overfill; gives all cases."""
    storm = None if draft.forecast is None else storm_of(draft.forecast, draft.on)
    if storm is None:
        return ()
    found = cases(draft, run, storm)
    for case in found:
        if overfills(case):
            add_task(draft, case)
    return found


def overfills(case: Case) -> bool:
    """Whether the storm's rain, at its high end at least, brings more than there is room for."""
    return case.spilled_kept_l[HIGH] > 0.0


def add_task(draft: Draft, case: Case) -> None:
    """The one thing to do at a storage before the storm: let water out, or see that the rest can run off."""
    said = marks(draft, case)
    room = room_words(case, said)
    if case.drill.let_out_l <= 0.0:
        _look(draft, case, said, room)
        return
    name, when = pool_words(case.pool), spell_words(case.storm)
    first, last, hour = opening(draft, case)
    draft.headline(
        0, f"{said.rain} of rain is forecast for {when}: let {said.let_out} out of {name} before it."
    )
    draft.caution("water.overflow_place")
    draft.tasks.append(
        Task(
            id=f"{case.key}.storm-{case.storm.first.isoformat()}",
            verb="Do",
            place=list_words(case.pool.storages),
            kind="storage",
            what=f"Open the spigot of {name} {hour} and let out {said.let_out}, {until_words(draft, case)}, on a bed "
            f"that can use it or away from the house. Then close it.{time_words(said)}",
            from_=first,
            to=last,
            best=last,
            why=f"{said.rain} of rain is forecast for {when}. It sends {said.comes} to {name}, and {room}. Letting "
            f"out keeps {said.share} of it; even then {said.spilled} {_runs(case)}. This is not flood protection.",
            cautions=draft.caution("water.overflow"),
            if_missed="A little more runs over. See that the overflow is open and its end lies away from the wall.",
        )
    )


def room_words(case: Case, said: Marks) -> str:
    """Whether there is room, in the middle of a sentence."""
    return (
        "there is no room left"
        if sum(case.room_l) / 2 < NO_ROOM_L and case.room_l[1] < NO_ROOM_L
        else f"there is room for {said.room}"
    )


def until_words(draft: Draft, case: Case) -> str:
    """When to stop letting out, as one sees it at the barrel."""
    stands = float(case.drill.done.before_l[case.storm.spell.first])
    if stands <= case.pool.dead_l + NO_ROOM_L:
        return "until no more comes"
    sections = [draft.yard.storage(name).section_m2 for name in case.pool.storages]
    if None in sections:
        return "and no more"
    height_m = stands / (sum(one or 0.0 for one in sections) * 1000)
    return f"until the water stands {draft.book.show(height_m, 'length')} above the bottom"


def time_words(said: Marks) -> str:
    """How long it takes, as a sentence with a space before it; empty if measures are missing."""
    if not said.time:
        return ""
    if not said.hose_time:
        return f" Without a hose that takes {said.time}."
    return (
        f" Without a hose that takes {said.time}; through a hose that ends on the ground, {said.hose_time}."
    )


def opening(draft: Draft, case: Case) -> tuple[date, date, str]:
    """First and last day to open the spigot, and the last moment for it in words ("before 3 June")."""
    storm = case.storm
    begins = rain_begins(draft, storm)
    if begins is not None:
        hours = [draft.book.figures[f"{case.key}.{part}"].high for part in ("drain-time", "drain-hose-time")
                 if f"{case.key}.{part}" in draft.book.figures]  # fmt: skip
        longest = max((float(hour) for hour in hours if hour is not None), default=1.0)
        latest = begins - timedelta(hours=ceil(longest))
        if latest.date() >= draft.on:
            words = f"by {hour_words(latest, draft.yard.units)} on {day_words(latest.date())}"
            return draft.on, latest.date(), words
        return draft.on, draft.on, "now"
    if storm.first <= draft.on:
        return draft.on, draft.on, "now, before the rain begins,"
    return draft.on, storm.first - timedelta(days=1), f"before {day_words(storm.first)}"


def rain_begins(draft: Draft, storm: Storm) -> datetime | None:
    """The first hour of rain on the spell's first day, if the forecast goes by hours; the place's standard time."""
    hours = None if draft.forecast is None else draft.forecast.hours
    if hours is None:
        return None
    first = np.datetime64(storm.first)
    inside = (hours.local.astype("datetime64[D]") == first) & (np.nan_to_num(hours.rain_mm) > 0.0)
    if not inside.any():
        return None
    moment: datetime = hours.local[int(np.argmax(inside))].astype("datetime64[s]").item()
    return moment


def hour_words(moment: datetime, system: str) -> str:
    """An hour of the day: "3 pm", "noon", or "15:00" in metric yards."""
    if system != "us":
        return f"{moment:%H}:00"
    if moment.hour in (0, 12):
        return "noon" if moment.hour else "midnight"
    return f"{moment.hour % 12} {'am' if moment.hour < 12 else 'pm'}"


def _look(draft: Draft, case: Case, said: Marks, room: str) -> None:
    first = case.storm.first
    last = max(draft.on, first - timedelta(days=1))
    draft.tasks.append(
        Task(
            id=f"{case.key}.storm-{first.isoformat()}",
            verb="Look",
            place=list_words(case.pool.storages),
            kind="storage",
            what=f"Clear the screen of {pool_words(case.pool)} and see that the overflow is open before "
            f"{day_words(first)}.",
            from_=draft.on,
            to=last,
            best=last,
            why=f"{said.rain} of rain is forecast for {spell_words(case.storm)}. It sends {said.comes}, and {room}. "
            f"{_nothing(case, said)}",
            cautions=draft.caution("water.overflow"),
            if_missed="A blocked screen or overflow sends water down the wall.",
        )
    )


def _nothing(case: Case, said: Marks) -> str:
    """Why nothing is let out: nothing can be, or what is likely finds room."""
    if case.spilled_kept_l[LIKELY] > 0.0:
        return "There is nothing to let out first."
    return f"Most likely all of it finds room; with the most that is forecast, {said.kept} {_runs(case)}."


def _runs(case: Case) -> str:
    return f"runs on into the {case.onward}" if case.onward else "runs over"
