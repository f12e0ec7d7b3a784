"""What a season report makes of what was seen: the yard's own shift, sums that start on a day seen, blooms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from dooryard.figure import Input
from dooryard.plan.document import Table
from dooryard.plan.draft import Draft
from dooryard.plan.season_parts import add, crossing_words, number, sum_words, unit
from dooryard.season import from_events, indicators
from dooryard.season.indicators import Neighbour
from dooryard.season.timing import SeasonHeat
from dooryard.season.verdicts import OrganismVerdict
from dooryard.words import day_words, list_words, range_words, sentence
from dooryard.yard.model import Sighting

if TYPE_CHECKING:
    pass


def sightings_here(draft: Draft, verdict: OrganismVerdict) -> None:
    """What was seen against what the heat said, and how far it moves the dates here."""
    if not verdict.compared:
        signs = list(dict.fromkeys(sign for one in verdict.windows for sign in one.window.signs))
        counted = any(row.stage.kind == "event" for row in verdict.rows)
        if verdict.sightings and not counted:
            add(
                draft,
                "What was seen here",
                [
                    "What was seen names no beginning we know of, so it moves no date. "
                    f"Words that do: {list_words(signs, 'or')}."
                    if signs
                    else "No table opens with a sign that can be seen, so what was seen moves no date."
                ],
            )
        return
    said = []
    for one in verdict.windows:
        by = verdict.shifts.get(one.window.key)
        if by is None:
            continue
        mark = draft.book.plain(
            f"organism.{verdict.organism}.shift.{one.window.key}",
            f"shift of {verdict.name} in this yard against the table from {one.window.place}",
            by.days,
            days_words(round(by.days)),
            "season.sighting_shift",
            unit="d",
            exact=f"{by.days:.2f} days, one standard deviation {by.spread_d:.1f} days",
            inputs=[
                Input(
                    f"seen {day_words(each.sighting.date, year=True)} ({each.sighting.sure})",
                    f"{each.days:+d} days against {day_words(each.expected)}, doubt {each.spread_d:g} days",
                    "your sighting",
                )
                for each in by.compared
            ],
        )
        said.append(
            f"By what was seen, the dates for {one.window.name} in the table from {one.window.place} fall here {mark}."
        )
    if any(one.too_far for one in verdict.compared):
        said.append(
            "A sighting further than three weeks from a table's day moves nothing: look again, it may be "
            "something else."
        )
    said.append("The ranges of later stages are wider by how sure these sightings are.")
    rows = tuple(
        (
            day_words(one.sighting.date, year=True),
            f"{one.sighting.sign} ({one.sighting.sure})",
            next(w.window.place for w in verdict.windows if w.window.key == one.window),
            day_words(one.expected),
            f"{one.days:+d}" if one.days else "0",
        )
        for one in verdict.compared
    )
    columns = (
        ("Seen", "left"), ("What", "left"), ("Table from", "left"), ("Heat said", "left"), ("Days", "right"),
    )  # fmt: skip
    add(
        draft,
        "What was seen here",
        said,
        Table("Looking back: what was seen, and what the heat said", columns, rows),
    )


def days_words(days: int) -> str:
    """ "3 days later", "1 day earlier", or that both fall on one day."""
    if days == 0:
        return "on the table's days"
    noun = "day" if abs(days) == 1 else "days"
    return f"{abs(days)} {noun} {'later' if days > 0 else 'earlier'}"


def from_what_was_seen(
    draft: Draft, verdict: OrganismVerdict, heat: SeasonHeat, sightings: Sequence[Sighting]
) -> list[str]:
    """The rows that start on a day to be seen: summed from it, or how to tell it. Gives what the summary says."""
    stages = [row.stage for row in verdict.rows if row.stage.kind == "event"]
    found = from_events.counted(stages, sightings, heat)
    told = {one.stage.start: one.begun for one in found}
    waiting = list(dict.fromkeys(stage.start for stage in stages if stage.start not in told))
    said = [
        f'Some numbers count from a day that only you can see. Tell it with --seen "{draft.on}: {start}".'
        for start in waiting
    ]
    first = []
    for one in found:
        draft.more_sources.add(one.stage.source)
        if one.stage.use == "treat":
            mark = draft.book.plain(
                f"organism.{verdict.organism}.{one.stage.key}",
                f"{one.stage.stage} of {verdict.name}, counted from what was seen",
                "unknown" if one.low.likely is None else one.low.likely.isoformat(),
                crossing_words(one.low),
                "season.crossing",
                unit="date",
                inputs=(
                    Input("seen", f"{day_words(one.begun, year=True)}: {one.stage.start}", "your sighting"),
                    Input(
                        "heat sum of the table", f"{one.stage.dd_low:g} °{one.stage.unit}·d", one.stage.source
                    ),
                ),
                note=f"Published for {one.stage.place}.",
            )
            first.append(
                f"Counted from {one.stage.start} on {day_words(one.begun)}: {one.stage.stage} {mark}."
            )
    rows = tuple(
        (
            _counted_words(one),
            crossing_words(one.low),
        )
        for one in found
    )
    columns = (("Table", "left"), ("Here this year", "left"))
    add(
        draft,
        "Counted from what you see",
        [*first, *said],
        Table("From the day it was seen", columns, rows) if rows else None,
    )
    return first


def _counted_words(one: from_events.Counted) -> str:
    summed = sum_words(replace(one.stage, start=day_words(one.begun)), one.stage.dd_low)
    return f"{one.stage.stage}, {one.stage.place}: {summed} ({one.stage.status})"


def blooms_beside(
    draft: Draft, verdict: OrganismVerdict, heat: SeasonHeat, seen: Sequence[tuple[date, str]]
) -> None:
    """The blooms beside the pest in its own list, and what a bloom that was seen says."""
    rows: list[tuple[str, ...]] = []
    for row in verdict.rows:
        before, after = indicators.around(row.stage, draft.knowledge, heat)
        if not (before or after) or row.low is None:
            continue
        draft.more_sources.add(row.stage.source)
        rows += [_bloom_row(draft, one) for one in before]
        rows.append(
            (
                f"{verdict.name}: {row.stage.stage}",
                number(draft, row.low.threshold),
                crossing_words(row.low),
                row.stage.place,
            )
        )
        rows += [_bloom_row(draft, one) for one in after]
    said = _opinion(draft, verdict, heat, seen)
    columns = (
        ("What", "left"), (f"Heat, {unit(draft)}", "right"), ("Here this year", "left"), ("List of", "left"),
    )  # fmt: skip
    table = Table("In the order of the list", columns, tuple(rows)) if rows else None
    if table is not None:
        said.append("The order of one list holds from year to year, even where its dates do not.")
    add(draft, "Plants as a second opinion", said, table)


def _bloom_row(draft: Draft, one: Neighbour) -> tuple[str, ...]:
    draft.more_sources.add(one.bloom.source)
    return (
        f"{one.bloom.plant}, {one.bloom.event}",
        number(draft, one.bloom.low_cd),
        crossing_words(one.crossing),
        one.bloom.place,
    )


def _opinion(
    draft: Draft, verdict: OrganismVerdict, heat: SeasonHeat, seen: Sequence[tuple[date, str]]
) -> list[str]:
    if not seen:
        return []
    found = indicators.opinions(seen, draft.knowledge, heat)
    if not found:
        return ["No list has the bloom that was seen, so it says nothing about the heat."]
    said = []
    for one in found:
        draft.more_sources.add(one.bloom.source)
        verb = "agrees with" if one.agrees else "disagrees with"
        said.append(
            f"{sentence(one.bloom.plant).rstrip('.')}, {one.bloom.event}, was seen on {day_words(one.seen)}; by the "
            f"list of {one.bloom.place} its heat is reached on {day_words(one.expected)}. It {verb} the heat: "
            f"{days_words(one.days) if one.days else 'the same day'}."
        )
    likely = _by_heat(verdict)
    carried = None if likely is None else indicators.carried(found, likely)
    if carried is not None and likely is not None:
        mark = draft.book.plain(
            f"organism.{verdict.organism}.bloom",
            f"start of the time for {verdict.name} by the blooms seen",
            carried[0].isoformat(),
            range_words(*carried),
            "season.indicator",
            unit="date",
            inputs=[
                Input(
                    f"{one.bloom.plant}, {one.bloom.event}",
                    f"{one.days:+d} days against {day_words(one.expected)}",
                    one.bloom.source,
                )
                for one in found
            ],
        )
        said.append(
            f"By these plants the time for it begins {mark}; by the heat sum most likely {day_words(likely)}."
        )
    return said


def _by_heat(verdict: OrganismVerdict) -> date | None:
    """The day the window likely opens by its table alone, whatever was seen of the pest."""
    one = verdict.deciding or next(iter(verdict.windows), None)
    if one is None:
        return None
    row = next(row for row in verdict.rows if row.stage.key == one.window.opens)
    crossing = row.high if one.window.open_at == "high" and row.high is not None else row.low
    if crossing is None or crossing.likely is None:
        return None
    return crossing.likely + timedelta(days=one.window.open_lag_d)


def bloom_of(draft: Draft, plant: str, heat: SeasonHeat) -> None:
    """When a plant blooms here this year, by each list that has it."""
    said = plant.casefold()
    named = [bloom for bloom in draft.knowledge.blooms if bloom.plant.casefold() == said]
    rows = tuple((*_bloom_row(draft, one), one.bloom.status) for one in indicators.crossings(named, heat))
    columns = (
        ("What", "left"), (f"Heat, {unit(draft)}", "right"), ("Here this year", "left"), ("List of", "left"),
        ("Status", "left"),
    )  # fmt: skip
    if rows:
        add(draft, "When it blooms", (), Table("Each list by its own sum", columns, rows))
