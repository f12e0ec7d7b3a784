"""What a season report tells of one organism beside its verdict: each table by itself, and how it lives."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from dooryard.knowledge import Stage
from dooryard.plan.document import Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.organism_figures import rule_words
from dooryard.season import sentences
from dooryard.season.timing import Crossing
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import WindowVerdict
from dooryard.words import dates_words, day_words, sentence

if TYPE_CHECKING:
    pass


def why(draft: Draft, verdict: OrganismVerdict) -> None:
    """The rule that decided, and every table's word and dates by its own sum."""
    said = [f"The rule that decided: {rule_words(verdict)}."]
    years = max((row.low.years for row in verdict.rows if row.low is not None), default=0)
    if verdict.windows and years:
        said.append(
            f"Dates ahead are the days on which the sum is reached if the rest of the year goes as in one of {years} "
            "past years of this station, each made warmer or cooler by what this year is known to differ. The range "
            "from earliest to latest holds the middle eight of ten such years."
        )
    if not verdict.windows:
        add(draft, "Why this word", said)
        return
    said.append(
        "Each table below is summed its own way and from its own start. Sums of two tables must not be compared."
    )
    rows = tuple(_window_row(draft, one) for one in verdict.windows)
    columns = (("Table", "left"), ("Today", "left"), ("Begins", "left"), ("Ends", "left"))
    add(draft, "Why this word", said, Table("Each table by itself", columns, rows))


def _window_row(draft: Draft, one: WindowVerdict) -> tuple[str, ...]:
    stage = draft.knowledge.stages[one.window.opens]
    draft.more_sources.add(stage.source)
    at_high = one.window.open_at == "high" and stage.dd_high is not None
    lag = f", {one.window.open_lag_d} days on" if one.window.open_lag_d else ""
    summed = sum_words(stage, stage.dd_high if at_high else stage.dd_low)
    return (
        f"{one.window.place}, {one.window.name}: {summed}{lag} ({stage.status})",
        one.word,
        _moment(one.opens.refused, sentences.span_words(one.opens)),
        _moment(one.closes.refused, sentences.span_words(one.closes)),
    )


def _moment(refused: str | None, words: str) -> str:
    return "unknown" if refused is not None and words == "no date yet" else words


def words_of_each(draft: Draft, ranked: Sequence[OrganismVerdict]) -> None:
    """One table of all organisms of a plant: word, dates, what decided."""
    rows = tuple(
        (
            one.name,
            one.word,
            "" if one.line.likely_from is None else day_words(one.line.likely_from),
            "" if one.line.likely_to is None else day_words(one.line.likely_to),
            "" if one.changes_on is None else day_words(one.changes_on),
        )
        for one in ranked
    )
    columns = tuple(
        (text, "left") for text in ("Name", "Today", "Likely begins", "Likely ends", "Word changes")
    )
    if rows:
        add(draft, "All on one page", (), Table("What lives on it, and where it stands", columns, rows))


def life(draft: Draft, verdict: OrganismVerdict) -> None:
    """How it lives, what can be hit, what not to do."""
    organism = draft.knowledge.organisms[verdict.organism]
    draft.more_sources.add(organism.source)
    said = [
        f"Lives on {organism.hosts}. Broods in a year: {organism.generations}. Winter: {organism.overwinters}.",
        sentence(organism.cycle),
        sentence(organism.look),
        f"What can be treated: {organism.treatable}." if organism.treatable else "",
        f"When to leave it alone: {organism.leave_alone}",
        f"Common mistake: {organism.mistake}" if organism.mistake else "",
    ]
    add(draft, "How it lives", [text for text in said if text])


def number(draft: Draft, value_cd: float) -> str:
    """Degree-days as a bare number of the yard's units."""
    return f"{draft.book.number(value_cd, 'degree_days'):,.0f}"


def unit(draft: Draft) -> str:
    """The unit of degree-days in the yard's system."""
    return "°F·d" if draft.yard.units == "us" else "°C·d"


def crossing_words(one: Crossing) -> str:
    """When a sum is reached, in words; "unknown" if a gap hides it."""
    if one.refused is not None and one.likely is None and one.earliest is None:
        return "unknown"
    return dates_words(one.earliest, one.likely, one.latest)


def add(draft: Draft, name: str, said: Sequence[str], table: Table | None = None) -> None:
    """A part of the report with a heading of its own, if there is anything to say."""
    if said or table is not None:
        key = "".join(sign if sign.isalnum() else "-" for sign in name.lower())
        draft.walk.append(Stop("part", key, name, tuple(said), table))


def sum_words(stage: Stage, number: float | None) -> str:
    """A table's number with its base, method and start: all that makes sums of two tables differ."""
    if number is None or stage.base is None:
        return stage.kind
    method = "method not stated, plain mean" if stage.method == "not stated" else stage.method
    begin = sentences.month_day_words(stage.start_used) if stage.start_used else stage.start
    start = f"start not stated, {begin} taken" if stage.start == "not stated" else f"from {begin}"
    return f"{number:g} °{stage.unit}·d above {stage.base:g} °{stage.unit}, {method}, {start}"
