"""Plants in bloom as a second opinion: a bloom that came early or late says the same of the heat sum beside it.

Blooms and pests of one list were summed the same way, so their order holds from year to year even where their
dates do not. Rows of two lists are never put in one order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from dooryard.knowledge import Bloom, Knowledge, Stage
from dooryard.season.book import heat_sum
from dooryard.season.heat import METHODS, NOT_STATED
from dooryard.season.timing import Crossing, HeatSum, SeasonHeat

ASSUMED_START = (3, 1)
"""Where a list that does not state its start is summed from, as for such rows of pests."""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A bloom that stands before or after a pest's number in the same list, and when it comes here this year."""

    bloom: Bloom
    crossing: Crossing


@dataclass(frozen=True, slots=True)
class Opinion:
    """A bloom seen against its own heat sum.

    expected : the day the sum is reached. days : seen less expected, later positive. agrees : within the days
    that looking now and then can tell (knowledge fact ``season.indicator_agrees``).
    """

    bloom: Bloom
    seen: date
    expected: date
    days: int
    agrees: bool


def bloom_sum(bloom: Bloom) -> HeatSum:
    """How a bloom row's sum is made; a start not stated is taken as 1 March."""
    start = ASSUMED_START
    if bloom.start != NOT_STATED:
        month, day = bloom.start.split("-")
        start = (int(month), int(day))
    return HeatSum(bloom.method, bloom.base_c, None, "none", start)


def summable(bloom: Bloom) -> bool:
    """Whether the list's way of summing is one that can be followed here."""
    return bloom.method in METHODS or bloom.method == NOT_STATED


def crossings(blooms: Iterable[Bloom], heat: SeasonHeat) -> tuple[Neighbour, ...]:
    """When each bloom comes here this year, in the order given."""
    return tuple(
        Neighbour(bloom, heat.crossings(bloom_sum(bloom), (bloom.low_cd,))[0])
        for bloom in blooms
        if summable(bloom)
    )


def around(
    stage: Stage, knowledge: Knowledge, heat: SeasonHeat, each_side: int = 2
) -> tuple[tuple[Neighbour, ...], tuple[Neighbour, ...]]:
    """The last blooms before a pest's number and the first after it, in its own list; both empty without one.

    A list is one source, one base and one start.
    """
    if stage.kind != "heat" or stage.dd_low is None:
        return (), ()
    kind = heat_sum(stage)
    goal_cd = stage.dd_low / (1.8 if stage.unit == "F" else 1.0)
    same = [
        bloom
        for bloom in knowledge.blooms
        if bloom.source == stage.source
        and summable(bloom)
        and abs(bloom.base_c - kind.lower_c) < 0.01
        and bloom_sum(bloom).start == kind.start
    ]
    ranked = sorted(same, key=lambda bloom: bloom.low_cd)
    before = [bloom for bloom in ranked if bloom.low_cd <= goal_cd + 1e-6][-each_side:]
    after = [bloom for bloom in ranked if bloom.low_cd > goal_cd + 1e-6][:each_side]
    return crossings(before, heat), crossings(after, heat)


def opinions(seen: Sequence[tuple[date, str]], knowledge: Knowledge, heat: SeasonHeat) -> tuple[Opinion, ...]:
    """Each bloom seen this year against every list that has the plant.

    seen : (day, words) such as "red maple, first bloom". The plant's name must stand in the words; without
    "full" in them they are taken as first bloom.
    """
    agrees_d = knowledge.fact("season.indicator_agrees").value
    found = []
    for day, words in seen:
        if day.year != heat.on.year or day > heat.on:
            continue
        for one in crossings(_named(words, knowledge.blooms), heat):
            expected = one.crossing.likely
            if expected is not None:
                days = (day - expected).days
                found.append(Opinion(one.bloom, day, expected, days, abs(days) <= agrees_d))
    return tuple(found)


def carried(opinions_: Sequence[Opinion], likely: date) -> tuple[date, date] | None:
    """First and last day that the blooms point to for something due on ``likely``; None without a bloom."""
    if not opinions_:
        return None
    days = [one.days for one in opinions_]
    return likely + timedelta(days=min(days)), likely + timedelta(days=max(days))


def _named(words: str, blooms: Iterable[Bloom]) -> list[Bloom]:
    said = words.casefold()
    event = "full" if "full" in said else "first"
    named = [bloom for bloom in blooms if bloom.plant.casefold() in said and event in bloom.event]
    # "Red maple" also holds "maple": the longest name is the plant meant.
    longest = max((len(bloom.plant) for bloom in named), default=0)
    return [bloom for bloom in named if len(bloom.plant) == longest]
