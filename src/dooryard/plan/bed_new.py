"""The first weeks of a bed: new plants dry out before the soil around them, which the bed's account cannot see."""

from __future__ import annotations

from datetime import timedelta

from dooryard.figure import Input
from dooryard.plan.bed_store import Case, cautions
from dooryard.plan.draft import Draft
from dooryard.plan.task import Task
from dooryard.words import day_words

NEW_DAYS_FACT = "root.new_days"


def describe(draft: Draft, case: Case) -> None:
    """Add a look at the plants themselves while a bed of one season is newly planted this year."""
    bed, fact = case.bed, draft.knowledge.fact(NEW_DAYS_FACT)
    if bed.planted is None or case.run.roots.grown_d is None:
        return
    last = bed.planted + timedelta(days=int(fact.value) - 1)
    if not bed.planted <= draft.on <= last:
        return
    until = draft.book.plain(
        f"{case.key}.new_until",
        f"last day on which the {bed.name} counts as newly planted",
        last.isoformat(),
        day_words(last),
        "water.new_plants",
        unit="date",
        inputs=(
            Input("planted", day_words(bed.planted), "the yard file"),
            Input("days until new roots are out in the soil", f"{fact.value:.0f}", fact.source),
        ),
    )
    draft.tasks.append(
        Task(
            id=f"{case.key}.new",
            verb="Look",
            place=bed.name,
            kind="water",
            what=f"Feel the soil right at the young plants or seed rows of the {bed.name} every day or two until "
            f"{until}. Where it is dry give each a little water.",
            from_=draft.on,
            to=min(last, draft.last_day),
            best=draft.on,
            why=f"The bed was planted {day_words(bed.planted)}. A new root ball dries out sooner than the bed around "
            "it, which is all that this plan reckons with.",
            cautions=cautions(draft, bed),
            if_missed="If they wilt, water them the same evening and shade them for some days.",
        )
    )
