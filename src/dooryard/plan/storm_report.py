"""storm(): the drill before a forecast storm as a document of its own: what comes, what to let out, what it changes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from dooryard.knowledge import Knowledge
from dooryard.plan import assemble, barrel_burst, storages, storm_drill, storm_peaks
from dooryard.plan.assemble import Sky
from dooryard.plan.document import Plan, Refusal, Stop, Table, unmarked
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.storages import pool_words
from dooryard.plan.storm_case import HIGH, LIKELY, LOW, Case, Storm, storm_of
from dooryard.plan.storm_marks import NO_ROOM_L, Marks, marks, rain_mark, spell_words
from dooryard.plan.task import Task
from dooryard.problem import InputError, Problem
from dooryard.water.network import PoolRun
from dooryard.words import day_words, list_words, range_words, sentence
from dooryard.yard.model import Yard

# A forecast of rain is worth little a week on.
ADVICE_DAYS = 3
# Letting out on each morning is told of if it keeps this much more than letting out once [L].
_WORTH_TELLING_L = 10.0


def storm(yard: Yard, sky: Sky, knowledge: Knowledge, on: date) -> Plan:
    """The drill for the wettest spell of a forecast, seen on the morning of `on`.

    yard : as read. sky : with a forecast.

    Raises
    ------
    InputError
        If there is no forecast, it is all past, or the record begins on or after `on`.
    """
    forecast = sky.forecast
    if forecast is None or forecast.last < on:
        what = "There is no forecast." if forecast is None else f"The forecast ends on {forecast.last}."
        raise InputError(
            Problem(
                what,
                f"Give one that holds {on} or days after it.",
                "" if forecast is None else forecast.source,
                field="--forecast",
                found="" if forecast is None else str(forecast.last),
            )
        )
    begun = assemble.begin(yard, sky, knowledge, on)
    draft, run, _ = begun
    _age(draft)
    draft.caution("water.overflow", "water.overflow_place")
    found = storm_drill.describe(draft, run)
    coming = storm_of(forecast, on)
    for case in found:
        _stop(draft, case)
    _others(draft, run.pools)
    if coming is not None and found:
        _afterwards(draft, found)
        _not_protection(draft, found)
    return assemble.finish(
        begun, report="storm", first=_summary(draft, coming, found), advice_days=ADVICE_DAYS
    )


def _age(draft: Draft) -> None:
    """Whether the forecast is old, and what its file lacks."""
    forecast = draft.forecast
    assert forecast is not None
    old = draft.fact("drill.forecast_old")
    if forecast.issued is None:
        draft.record_notes.append("The forecast file does not say when it was made.")
    elif (draft.on - forecast.issued).days > old:
        draft.record_notes.append(
            f"The forecast was made on {day_words(forecast.issued)}, {(draft.on - forecast.issued).days} days ago. "
            "Fetch a newer one before you act on it."
        )
    draft.record_notes += [unmarked(f"{issue.text} {issue.instead}".strip()) for issue in forecast.issues]


# --- in short -------------------------------------------------------------------------------------------


def _summary(draft: Draft, coming: Storm | None, found: Sequence[Case]) -> list[str]:
    forecast = draft.forecast
    assert forecast is not None
    if coming is None:
        days = range_words(max(forecast.first, draft.on), forecast.last)
        return [f"No rain is forecast for {days}. There is nothing to let out."]
    said = [f"{rain_mark(draft, coming)} of rain is forecast for {spell_words(coming)}."]
    if not found:
        return [*said, "No barrel of this yard stands under a downspout now, so there is nothing to let out."]
    for case in found:
        said += _in_short(draft, case)
    return said


def _in_short(draft: Draft, case: Case) -> list[str]:
    name, known = pool_words(case.pool), marks(draft, case)
    if not storm_drill.overfills(case):
        return [f"All of it finds room in {name}: {known.comes} comes, and there is room for {known.room}."]
    room = storm_drill.room_words(case, known)
    comes = f"It sends {known.comes} to {name}, and {room}."
    if case.spilled_kept_l[LIKELY] <= 0.0:
        return [f"{comes} Most likely nothing runs over; let nothing out."]
    if case.drill.let_out_l <= 0.0:
        return [f"{comes} Nothing can be let out first, so {known.kept} {_runs(case)}."]
    _, _, hour = storm_drill.opening(draft, case)
    return [
        f"{comes} {sentence(f'{hour} let {known.let_out} out'.replace(',', ''))} "
        f"That keeps {known.share} of what comes; {known.spilled} still {_runs(case)}."
    ]


def _runs(case: Case) -> str:
    return f"runs on into the {case.onward}" if case.onward else "runs over"


# --- one barrel -----------------------------------------------------------------------------------------


def _stop(draft: Draft, case: Case) -> None:
    """The stop of one pool: level, days of the storm, what letting out changes, and its hardest minutes."""
    known = marks(draft, case)
    members = [draft.yard.storage(name) for name in case.pool.storages]
    sentences = [storages.level_words(draft, case.pool, storage, len(members)) for storage in members]
    sentences += [*_story(draft, case, known), *_change(draft, case, known)]
    glasses = [glass for storage in members for glass in storages.glass(draft, case.pool, storage)]
    draft.charts.extend(glasses)
    key = slug(case.pool.storages[0])
    draft.walk.append(
        Stop(
            "storage",
            key,
            list_words(case.pool.storages),
            tuple(sentences),
            _days_table(draft, case),
            tuple(glass["id"] for glass in glasses),
        )
    )
    said = storm_peaks.sentences(draft, case)
    for storage in members:
        if storage.wall_distance_m is not None:
            said += barrel_burst.distance(draft, storage)
    draft.walk.append(
        Stop(
            "part",
            f"{key}-hardest",
            f"The hardest minutes at {pool_words(case.pool)}",
            tuple(said),
            storm_peaks.table(draft, case),
        )
    )


def _story(draft: Draft, case: Case, known: Marks) -> list[str]:
    before = float(case.storm.depth_mm[LIKELY, : case.storm.spell.first].sum())
    earlier = (
        f" What {draft.book.show(before, 'depth')} of rain before it brings is counted."
        if before > 0.0
        else ""
    )
    room = storm_drill.room_words(case, known)
    from_other = "" if case.pool.area_m2 > 0.0 else " All of it comes over from another barrel."
    return [
        f"The storm of {spell_words(case.storm)} sends it {known.comes}, and {room}.{earlier}{from_other} "
        f"If nothing is let out, {known.kept} {_runs(case)}."
    ]


def _change(draft: Draft, case: Case, known: Marks) -> list[str]:
    """What letting out changes, once and on each morning, and what it may cost."""
    if not storm_drill.overfills(case):
        return ["All of it finds room, so leave the spigot shut."]
    if case.drill.let_out_l <= 0.0:
        return []
    of_others = (case.inflow_l - case.litres_per_mm * case.storm.depth_mm).max() >= NO_ROOM_L
    above = " That counts what is let out of the barrels above it." if of_others else ""
    said = [
        f"Letting out {known.let_out} beforehand keeps {known.held} from running over, {known.share} of what the "
        f"storm sends. {known.spilled} still {_runs(case)}.{above}{storm_drill.time_words(known)}"
    ]
    more = case.drill.held_again_l - case.drill.held_l
    if more >= _WORTH_TELLING_L:
        again = draft.book.quantity(
            f"{case.key}.held-again",
            f"more water kept if {pool_words(case.pool)} is let out again on each morning of the storm",
            more,
            "volume",
            "water.storm_play",
            about=True,
            inputs=(
                draft.book.input("kept in all", case.drill.held_again_l, "volume"),
                draft.book.input("kept by letting out once", case.drill.held_l, "volume"),
            ),
        )
        said.append(f"Opened again on each morning of the storm for that day's rain, it keeps {again} more.")
    return [*said, _cost(draft, case)]


def _cost(draft: Draft, case: Case) -> str:
    """Whether the barrel is full again afterwards, even after the least of the foretold rain."""
    if case.lacking_l < NO_ROOM_L:
        least = "even after the least of that rain" if case.storm.ranged else "afterwards"
        return f"It costs nothing: the barrel is as full {least} as if it had stayed shut."
    lacking = draft.book.quantity(
        f"{case.key}.lacking",
        f"water {pool_words(case.pool)} is short of after the least of that rain",
        case.lacking_l,
        "volume",
        "water.storm_play",
        about=True,
        inputs=(draft.book.input("rain, low end", case.storm.total_mm[LOW], "depth", "the forecast file"),),
    )
    return f"If only the least of that rain comes, it stands {lacking} lower afterwards than if it had stayed shut."


def _days_table(draft: Draft, case: Case) -> Table:
    """The storm day by day: rain, water, and what runs over either way; the likely rain, with its ends."""
    storm = case.storm
    volume = "gal" if draft.yard.units == "us" else "L"
    rows = []
    for index, day in enumerate(storm.days):
        low, likely, high = (float(storm.depth_mm[row, index]) for row in (LOW, LIKELY, HIGH))
        depth = draft.book.show(likely, "depth")
        if low != high:
            depth = f"{depth} ({draft.book.range_words(low, high, 'depth')})"
        amounts = (
            float(case.inflow_l[LIKELY, index]),
            float(case.drill.kept.spilled_l[index]),
            float(case.drill.done.spilled_l[index]),
        )
        rows.append((day_words(day), depth, *(f"{draft.book.number(one, 'volume'):,.0f}" for one in amounts)))
    return Table(
        f"The days of the storm at {pool_words(case.pool)}, by the likely rain",
        (
            ("Day", "left"),
            ("Rain", "right"),
            (f"Comes, {volume}", "right"),
            (f"Runs over, shut, {volume}", "right"),
            (f"Runs over, let out, {volume}", "right"),
        ),
        tuple(rows),
    )


# --- the rest -------------------------------------------------------------------------------------------


def _others(draft: Draft, pools: Sequence[PoolRun]) -> None:
    """Barrels that are drained and off their downspouts: nothing to do before a storm but to see that it is so."""
    away = [pool for pool in pools if not storages.in_use(pool)]
    if away:
        names = list_words([pool_words(pool) for pool in away])
        draft.record_notes.append(
            f"In this part of the year {names} {'is' if len(away[0].storages) == len(away) == 1 else 'are'} taken to "
            "be drained and off the downspout."
        )


def _afterwards(draft: Draft, found: Sequence[Case]) -> None:
    """The look after the storm."""
    last = found[0].storm.last
    places = list_words([name for case in found for name in case.pool.storages])
    names = list_words([pool_words(case.pool) for case in found])
    first = last + timedelta(days=1)
    draft.tasks.append(
        Task(
            id=f"storm.after-{last.isoformat()}",
            verb="Look",
            place=places,
            kind="upkeep",
            what=f"After the storm clear the screens of {names}, look where the overflow ran, and look at the "
            "wall and into the cellar behind it.",
            from_=first,
            to=first + timedelta(days=1),
            best=first,
            why="Leaves and grit come with the first hard rain, and a wet wall shows where water went wrong.",
            cautions=draft.caution("water.overflow"),
            if_missed="A blocked screen sends the next rain down the wall.",
        )
    )


def _not_protection(draft: Draft, found: Sequence[Case]) -> None:
    """The refusal to call it flood protection, with the numbers that say why; none if nothing runs over."""
    over = [case for case in found if storm_drill.overfills(case) and not case.onward]
    if not over:
        return
    parts = []
    for case in over:
        known = marks(draft, case)
        parts.append(
            f"of {known.comes} that comes to {pool_words(case.pool)} letting out keeps {known.share}"
        )
    draft.refusals.append(
        Refusal(
            "We will not call this flood protection",
            f"{sentence('; '.join(parts)).rstrip('.')}. The rest, and all rain beside the roof, goes its own way",
            "If water stands at the wall or comes into the cellar, ask a drainage contractor or your county's "
            "stormwater office about the ground, not about the barrel",
        )
    )
