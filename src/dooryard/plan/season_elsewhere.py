"""What a season report tells of other years, other places and the hours between the daily readings."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from dooryard.figure import Input
from dooryard.plan.document import Refusal, Table, unmarked
from dooryard.plan.draft import Draft
from dooryard.plan.season_parts import add, crossing_words, number, unit
from dooryard.season import hourly_heat, moved_dates, sentences
from dooryard.season.book import HeatBook, heat_sum
from dooryard.season.timing import SeasonHeat
from dooryard.season.verdicts import OrganismVerdict
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words, sentence

if TYPE_CHECKING:
    from dooryard.weather.hourly import HourlyRecord

TENTHS = (0.1, 0.5, 0.9)


def other_years(draft: Draft, verdict: OrganismVerdict, book: HeatBook) -> list[str]:
    """When it usually begins here, how far years differ, and what to put in next year's calendar; gives the latter."""
    if not verdict.windows:
        return []
    one = verdict.deciding or verdict.windows[0]
    lag = timedelta(days=one.window.open_lag_d)
    days = book.past_days(one.window.opens, one.window.open_at)
    total = len(book.past_years(one.window.opens, one.window.open_at))
    if not days:
        if total:
            add(
                draft,
                "Other years",
                [
                    f"In none of {total} whole past years did this station get warm enough for {one.window.name}."
                ],
            )
        return []
    since = np.array([(day + lag - date(year, 1, 1)).days for year, day in days.items()])
    ends = np.quantile(since, TENTHS, method="inverted_cdf").astype(int)
    nominal = date(draft.on.year + 1, 1, 1)
    early, middle, late = (nominal + timedelta(days=int(day)) for day in ends)
    lead = timedelta(days=draft.fact("season.calendar_lead"))
    spread = int(since.max() - since.min())
    said = [
        f"In {total} whole past years of this station the time for {one.window.name} usually began about "
        f"{day_words(middle)}, in eight of ten years between {day_words(early)} and {day_words(late)} (table from "
        f"{one.window.place}). {spread} days lie between the earliest and the latest year."
    ]
    if len(days) < total:
        said.append(f"In {total - len(days)} of these years it was too cool for it to begin at all.")
    begun = day_words(early - lead, year=True)
    calendar = f"For next year's calendar: from {begun} look, buy and ask; treat only what you find."
    add(draft, "Other years, and next year's calendar", [*said, calendar])
    return [calendar]


def other_places(
    draft: Draft, verdict: OrganismVerdict, heat: SeasonHeat, there: WeatherRecord | None
) -> None:
    """Dates printed for another place: moved by heat with the assumption said, or left where they are."""
    windows = [one for one in draft.knowledge.dated_windows if one.organism == verdict.organism]
    said = []
    for window in windows:
        draft.more_sources.add(window.source)
        printed = (
            f"{sentence(window.name).rstrip('.')}: {sentences.month_day_words(window.opens)} to "
            f"{sentences.month_day_words(window.closes)} in {window.place} ({window.status})."
        )
        found = moved_dates.move(window, heat, there, draft.knowledge)
        if found.refused is not None or found.opens is None or found.closes is None:
            said.append(f"{printed} {found.refused}")
            continue
        if found.opens.refused is not None and found.opens.likely is None:
            said.append(f"{printed} It cannot be moved: {found.opens.refused}")
            continue
        mark = draft.book.plain(
            f"organism.{verdict.organism}.moved.{window.key}",
            f"{window.name}, moved here from {window.place}",
            "unknown" if found.opens.likely is None else found.opens.likely.isoformat(),
            crossing_words(found.opens),
            "season.moved_dates",
            unit="date",
            inputs=(
                Input(
                    f"heat usually gathered there by {sentences.month_day_words(window.opens)}",
                    f"{number(draft, found.opens_cd or 0.0)} {unit(draft)}",
                    window.source,
                ),
                Input("whole years of the record of that place", f"{found.years}"),
            ),
        )
        said.append(
            f"{printed} Moved here by heat it begins {mark} and ends {crossing_words(found.closes)}. This takes the "
            f"record given to be that of {window.place}, and the creature to follow the heat."
        )
    if windows and there is None:
        said.append("To move them, give a record of that place with --there RECORD.")
    add(draft, "Dates printed for other places", said)


def by_the_hour(draft: Draft, verdict: OrganismVerdict, hours: HourlyRecord) -> None:
    """The sums by their hours, beside the daily method on the same days."""
    rows = []
    kinds = {heat_sum(row.stage): row.stage for row in verdict.rows if row.stage.kind == "heat"}
    for kind, stage in kinds.items():
        one = hourly_heat.compare(hours, kind, draft.on)
        if one.days:
            rows.append(
                (
                    f"{stage.base:g} °{stage.unit}, {stage.method}, from {sentences.month_day_words(stage.start_used)}",
                    f"{one.days}",
                    f"{one.missing}",
                    number(draft, one.hourly_cd),
                    number(draft, one.daily_cd),
                    f"{draft.book.number(one.difference_cd, 'degree_days'):+,.0f}",
                )
            )
    of_sum = unit(draft)
    columns = (
        ("Base, daily method, start", "left"), ("Days", "right"), ("Left out", "right"),
        (f"By hours, {of_sum}", "right"), (f"By days, {of_sum}", "right"), ("Difference", "right"),
    )  # fmt: skip
    if rows:
        add(
            draft,
            "By the hour",
            [
                "The tables were made from daily lows and highs, so their own method decides. "
                "The hours show what it misses."
                f"The hours are those of {unmarked(hours.station.name)}, the days those hours' lows and highs.",
            ],
            Table("The same days by hours and by the table's daily method", columns, tuple(rows)),
        )
    else:
        draft.refusals.append(
            Refusal(
                "We cannot sum the heat by the hour.",
                "No whole day of this year's sum is in the file of hours.",
                "Bring hours that reach into this year.",
            )
        )
