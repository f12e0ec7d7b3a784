"""Last and first cold nights at four limits with their odds, and how long the season between them is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from dooryard.figure import Input
from dooryard.plan.document import Refusal, Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.frost import FEWEST_DATES, date_of
from dooryard.plan.frost_nights import LIMITS, limits_c
from dooryard.season.freeze_levels import Days, Level, levels
from dooryard.words import day_words

# Place of each chance in the tuples of `freeze_levels`.
ONE_IN_TEN, HALF, NINE_IN_TEN = 0, 1, 2


def station_levels(draft: Draft) -> tuple[Level, ...]:
    """The four limits' dates; empty with the refusal south of the equator or with too few years."""
    if draft.yard.place.latitude < 0:
        _refuse(draft, "South of the equator they are not worked out yet")
        return ()
    found = levels(
        draft.record, limits_c(draft), allowed_missing_d=round(draft.fact("frost.missing_allowed"))
    )
    years = max(found[0].springs, found[0].autumns)
    if years < FEWEST_DATES:
        _refuse(draft, f"The record has {years} whole springs or autumns, and {FEWEST_DATES} are needed")
        return ()
    return found


def _refuse(draft: Draft, why: str) -> None:
    draft.refusals.append(
        Refusal(
            "We will not give first and last frost dates",
            why,
            "Ask your weather service for them, or bring the longer record of a station near by",
        )
    )


def describe(draft: Draft, found: Sequence[Level]) -> None:
    """Add the dates and the season as parts of the report."""
    if not found:
        return
    spring = _table(
        draft,
        "By when the last such night of spring is over",
        ("One year in ten", "Half of the years", "Nine in ten"),
        [(level, level.over, level.springs, level.spring_share) for level in found],
    )
    autumn = _table(
        draft,
        "By when the first such night of autumn has come",
        ("One year in ten", "Half of the years", "Nine in ten"),
        [(level, level.come, level.autumns, level.autumn_share) for level in found],
    )
    draft.walk.append(
        Stop("part", "last-cold", "The last cold nights of spring", tuple(_spring(draft, found)), spring)
    )
    draft.walk.append(
        Stop("part", "first-cold", "The first cold nights of autumn", tuple(_autumn(draft, found)), autumn)
    )
    draft.walk.append(
        Stop(
            "part",
            "season-length",
            "The time without such nights",
            tuple(_season(draft, found)),
            _lengths(draft, found),
        )
    )


def date_mark(draft: Draft, level: Level, key: str, season: str, chance: int) -> str:
    """The figure of one date; "" where so many years never have such a night."""
    days: Days = level.over if season == "spring" else level.come
    ranked: Days = level.over_ranked if season == "spring" else level.come_ranked
    day = days[chance]
    if day is None:
        return ""
    years = level.springs if season == "spring" else level.autumns
    share = level.spring_share if season == "spring" else level.autumn_share
    limit = draft.book.show(level.cold.threshold_c, "temperature")
    came = (
        "last such night of spring is over" if season == "spring" else "first such night of autumn has come"
    )
    shown = day_words(date_of(2001, day))
    by_rank = ranked[chance]
    return draft.book.plain(
        f"{key}.{season}-{(10, 50, 90)[chance]}",
        f"day by which the {came} in {(10, 50, 90)[chance]} % of the years, {limit}",
        shown,
        shown,
        "season.frost_levels",
        unit="day of the year",
        inputs=(
            Input("years counted", f"{years}"),
            Input("share of them that had such a night", f"{share:.0%}"),
            Input(
                "by ranks, without a curve",
                "outside the ranks" if by_rank is None else day_words(date_of(2001, by_rank)),
            ),
        ),
    )


def _spring(draft: Draft, found: Sequence[Level]) -> list[str]:
    frost = found[LIMITS.index("frost.frost")]
    half, late = (date_mark(draft, frost, "levels.frost", "spring", chance) for chance in (HALF, NINE_IN_TEN))
    limit = draft.book.show(frost.cold.threshold_c, "temperature")
    if not half or not late:
        return [f"Most springs here have no night at or below {limit}."]
    return [
        f"The last night at or below {limit} is over by {half} in half of the years, and by {late} in nine of ten.",
        f"Counted over {frost.springs} springs. These are nights in the weather shelter; on a calm clear night "
        "leaves near the ground are colder.",
        *_few(draft, frost.springs),
    ]


def _autumn(draft: Draft, found: Sequence[Level]) -> list[str]:
    frost = found[LIMITS.index("frost.frost")]
    early, half = (date_mark(draft, frost, "levels.frost", "autumn", chance) for chance in (ONE_IN_TEN, HALF))
    limit = draft.book.show(frost.cold.threshold_c, "temperature")
    if not half or not early:
        return [f"Most autumns here have no night at or below {limit}."]
    return [
        f"The first night at or below {limit} has come by {early} in one year of ten, and by {half} in half of them."
    ]


def _season(draft: Draft, found: Sequence[Level]) -> list[str]:
    frost = found[LIMITS.index("frost.frost")]
    short, half, long = frost.season_d
    limit = draft.book.show(frost.cold.threshold_c, "temperature")
    if half is None:
        return [
            f"Too few years have both a spring and an autumn night at {limit} to tell the time between them."
        ]
    mark = draft.book.plain(
        "levels.frost.season",
        f"days between the last night of spring and the first of autumn at or below {limit}",
        round(half),
        f"{round(half)} days",
        "season.growing_season",
        unit="d",
        low=None if short is None else round(short),
        high=None if long is None else round(long),
        inputs=(Input("years with both nights", f"{frost.seasons}"),),
    )
    ends = (
        ""
        if short is None or long is None
        else f", {round(short)} in a short one and {round(long)} in a long one"
    )
    return [f"Between these nights lie {mark} in a middling year{ends}."]


def _few(draft: Draft, years: int) -> list[str]:
    wanted = round(draft.fact("season.fewest_years"))
    return [] if years >= wanted else [f"With fewer than {wanted} years these dates are rough."]


def _table(
    draft: Draft,
    caption: str,
    headings: tuple[str, str, str],
    found: Sequence[tuple[Level, Days, int, float]],
) -> Table:
    rows = []
    for level, days, years, share in found:
        shown = ["seldom" if day is None else day_words(date_of(2001, day)) for day in days]
        limit = draft.book.show(level.cold.threshold_c, "temperature")
        rows.append((limit, *shown, f"{round(share * years)} of {years}"))
    return Table(
        caption,
        (("At or below", "left"), *((text, "right") for text in headings), ("Years that had one", "right")),
        tuple(rows),
    )


def _lengths(draft: Draft, found: Sequence[Level]) -> Table:
    rows = []
    for level in found:
        shown = ["not known" if days is None else f"{round(days)}" for days in level.season_d]
        rows.append((draft.book.show(level.cold.threshold_c, "temperature"), *shown, f"{level.seasons}"))
    return Table(
        "Days between the last such night of spring and the first of autumn",
        (
            ("At or below", "left"),
            ("Short, one in ten", "right"),
            ("Middling", "right"),
            ("Long, one in ten", "right"),
            ("Years with both", "right"),
        ),
        tuple(rows),
    )


def coming_autumn(draft: Draft, level: Level, chance: int) -> int | None:
    """Days from today to an autumn date of this year; None if there is none or it is past."""
    day = level.come[chance]
    if day is None or np.isnan(day):
        return None
    left = (date_of(draft.on.year, day) - draft.on).days
    return left if left >= 0 else None
