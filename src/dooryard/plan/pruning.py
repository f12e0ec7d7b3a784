"""When the yard's own plants are cut: after this year's bloom, seen or by heat, or in late winter at this station."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from dooryard.care import pruning
from dooryard.figure import Input
from dooryard.knowledge.care_rows import Pruning
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.task import Task
from dooryard.plan.work import bloom_end, freeze_date
from dooryard.words import day_words
from dooryard.yard.model import Plant

# A cut in late winter is told when it comes within a season, not a year ahead.
LATE_WINTER_AHEAD_D = 120


def describe(draft: Draft) -> None:
    """Add a task for each plant whose time to be cut is open or comes soon; nothing where no date can be given.

    Oaks and elms are left to the sum that knows the state's closed weeks.
    """
    for plant in draft.yard.plants:
        kind = plant.kind.lower()
        if kind.split()[-1] in (pruning.OAKS, pruning.ELMS):
            continue
        row = pruning.pruning_of(draft.knowledge, kind)
        if row is None:
            continue
        draft.tasks.extend(_tasks(draft, plant, row))


def _tasks(draft: Draft, plant: Plant, row: Pruning) -> Iterator[Task]:
    if row.time == "after bloom":
        yield from _after_bloom(draft, plant, row)
    elif row.time == "late winter":
        yield from _late_winter(draft, plant, row)


def _after_bloom(draft: Draft, plant: Plant, row: Pruning) -> Iterator[Task]:
    after = round(draft.fact("bloom.after"))
    if plant.in_bloom:
        ended, how = draft.on + timedelta(days=round(draft.fact("prune.bloom_lasts"))), "it is in bloom now"
    else:
        found = next(
            filter(
                None,
                (
                    bloom_end.estimate(draft.knowledge, name, draft.record, draft.on)
                    for name in dict.fromkeys((plant.kind, *row.kinds))
                ),
            ),
            None,
        )
        if found is None:
            return
        ended, how = found
    cut = pruning.cut_after_bloom(ended, after, row.latest, draft.on.year)
    last = cut.late or cut.closes
    if last is None or last < draft.on:
        return
    mark = draft.book.plain(
        f"prune.{slug(plant.name)}.by",
        f"last day to cut the {plant.name}",
        last.isoformat(),
        day_words(last),
        "care.prune_by",
        unit="date",
        inputs=(Input("bloom ends about", day_words(ended), how),),
        note=f"The list says: {row.safe}.",
    )
    begin, ends = max(draft.on, ended), "ends" if ended >= draft.on else "ended"
    yield Task(
        id=f"prune.{slug(plant.name)}",
        verb="Do",
        place=plant.name,
        kind="upkeep",
        what=f"if the {plant.name} wants cutting, cut it right after its bloom, by {mark}. {row.how}".strip(),
        from_=begin,
        to=last,
        best=begin,
        why=f"It blooms on last year's wood, and its buds for next year are set in summer. Its bloom {ends} about "
        f"{day_words(ended)} ({how}).",
        cautions=draft.caution("care.cut"),
        if_missed="Leave it this year: a cut from midsummer to spring takes next year's flowers.",
    )


def _late_winter(draft: Draft, plant: Plant, row: Pruning) -> Iterator[Task]:
    last, how = freeze_date.last_of_spring(draft.knowledge, draft.record, draft.on)
    if last is None:
        return
    cut = pruning.cut_at_rest(last, round(draft.fact("prune.rest_before")))
    assert cut.opens is not None
    if (cut.opens - draft.on).days > LATE_WINTER_AHEAD_D:
        return
    begin: date = max(draft.on, cut.opens)
    mark = draft.book.plain(
        f"prune.{slug(plant.name)}.rest",
        f"late winter for the {plant.name}",
        cut.opens.isoformat(),
        day_words(last),
        "care.prune_rest",
        unit="date",
        high=last.isoformat(),
        inputs=(Input("middle date of the last hard freeze", day_words(last), how),),
    )
    yield Task(
        id=f"prune.{slug(plant.name)}",
        verb="Do",
        place=plant.name,
        kind="upkeep",
        what=f"if the {plant.name} wants cutting, cut it in late winter, by about {mark}, before buds swell. "
        f"{row.how}".strip(),
        from_=begin,
        to=last,
        best=last - timedelta(days=14) if last - timedelta(days=14) >= begin else begin,
        why="It is at rest then, and grows from the cut in spring.",
        cautions=draft.caution("care.cut"),
        if_missed="Dead, broken and sick wood may go at any time; leave the rest to next winter.",
    )
