"""What a season report tells of one organism beside its verdict: each table, what was seen, blooms, other years."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from dooryard.figure import Input
from dooryard.knowledge import Stage
from dooryard.plan.document import Refusal, Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.organism_figures import rule_words
from dooryard.season import hourly_heat, indicators, moved_dates, sentences
from dooryard.season.book import HeatBook, heat_sum
from dooryard.season.indicators import Neighbour
from dooryard.season.timing import Crossing, SeasonHeat
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import WindowVerdict
from dooryard.weather.record import WeatherRecord
from dooryard.words import dates_words, day_words, list_words, range_words, sentence

if TYPE_CHECKING:
    from dooryard.weather.hourly import HourlyRecord

TENTHS = (0.1, 0.5, 0.9)


def describe(
    draft: Draft,
    verdict: OrganismVerdict,
    book: HeatBook,
    heat: SeasonHeat,
    blooms: Sequence[tuple[date, str]],
) -> None:
    """Add the parts on one organism: the rule, each table, what was seen, blooms beside it, other years."""
    _why(draft, verdict)
    _seen(draft, verdict)
    _blooms(draft, verdict, heat, blooms)
    _other_years(draft, verdict, book)


def _add(draft: Draft, name: str, said: Sequence[str], table: Table | None = None) -> None:
    if said or table is not None:
        key = "".join(sign if sign.isalnum() else "-" for sign in name.lower())
        draft.walk.append(Stop("part", key, name, tuple(said), table))


# --- the rule, and each table by itself ---------------------------------------------------------------


def _why(draft: Draft, verdict: OrganismVerdict) -> None:
    said = [f"The rule that decided: {rule_words(verdict)}."]
    years = len(draft.outlook.years)
    if verdict.windows and years:
        covered = "The range from earliest to latest holds the middle eight of ten such years."
        said.append(
            f"Dates ahead are the days on which the sum is reached if the rest of the year goes as in one of {years} "
            f"past years of this station. {covered}"
        )
    if not verdict.windows:
        _add(draft, "Why this word", said)
        return
    said.append(
        "Each table below is summed its own way and from its own start. Sums of two tables must not be compared."
    )
    rows = tuple(_window_row(draft, one) for one in verdict.windows)
    columns = (("Table", "left"), ("Today", "left"), ("Begins", "left"), ("Ends", "left"))
    _add(draft, "Why this word", said, Table("Each table by itself", columns, rows))


def _window_row(draft: Draft, one: WindowVerdict) -> tuple[str, ...]:
    stage = draft.knowledge.stages[one.window.opens]
    draft.more_sources.add(stage.source)
    at_high = one.window.open_at == "high" and stage.dd_high is not None
    lag = f", {one.window.open_lag_d} days on" if one.window.open_lag_d else ""
    summed = _sum_words(stage, stage.dd_high if at_high else stage.dd_low)
    return (
        f"{one.window.place}, {one.window.name}: {summed}{lag} ({stage.status})",
        one.word,
        _moment(one.opens.refused, sentences.span_words(one.opens)),
        _moment(one.closes.refused, sentences.span_words(one.closes)),
    )


def _moment(refused: str | None, words: str) -> str:
    return "unknown" if refused is not None and words == "no date yet" else words


def _sum_words(stage: Stage, number: float | None) -> str:
    if number is None or stage.base is None:
        return stage.kind
    method = "method not stated, plain mean" if stage.method == "not stated" else stage.method
    begin = sentences.month_day_words(stage.start_used) if stage.start_used else stage.start
    start = f"start not stated, {begin} taken" if stage.start == "not stated" else f"from {begin}"
    return f"{number:g} °{stage.unit}·d above {stage.base:g} °{stage.unit}, {method}, {start}"


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
        _add(draft, "All on one page", (), Table("What lives on it, and where it stands", columns, rows))


# --- what was seen here -------------------------------------------------------------------------------


def _seen(draft: Draft, verdict: OrganismVerdict) -> None:
    if not verdict.compared:
        signs = list(dict.fromkeys(sign for one in verdict.windows for sign in one.window.signs))
        if verdict.sightings:
            _add(
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
            _days_words(round(by.days)),
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
    _add(
        draft,
        "What was seen here",
        said,
        Table("Looking back: what was seen, and what the heat said", columns, rows),
    )


def _days_words(days: int) -> str:
    if days == 0:
        return "on the table's days"
    noun = "day" if abs(days) == 1 else "days"
    return f"{abs(days)} {noun} {'later' if days > 0 else 'earlier'}"


# --- blooms -------------------------------------------------------------------------------------------


def _blooms(
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
                _number(draft, row.low.threshold),
                _crossing(row.low),
                row.stage.place,
            )
        )
        rows += [_bloom_row(draft, one) for one in after]
    said = _opinion(draft, verdict, heat, seen)
    columns = (
        ("What", "left"), (f"Heat, {_unit(draft)}", "right"), ("Here this year", "left"), ("List of", "left"),
    )  # fmt: skip
    table = Table("In the order of the list", columns, tuple(rows)) if rows else None
    if table is not None:
        said.append("The order of one list holds from year to year, even where its dates do not.")
    _add(draft, "Plants as a second opinion", said, table)


def _bloom_row(draft: Draft, one: Neighbour) -> tuple[str, ...]:
    draft.more_sources.add(one.bloom.source)
    return (
        f"{one.bloom.plant}, {one.bloom.event}",
        _number(draft, one.bloom.low_cd),
        _crossing(one.crossing),
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
            f"{_days_words(one.days) if one.days else 'the same day'}."
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
        ("What", "left"), (f"Heat, {_unit(draft)}", "right"), ("Here this year", "left"), ("List of", "left"),
        ("Status", "left"),
    )  # fmt: skip
    if rows:
        _add(draft, "When it blooms", (), Table("Each list by its own sum", columns, rows))


def _number(draft: Draft, value_cd: float) -> str:
    return f"{draft.book.number(value_cd, 'degree_days'):,.0f}"


def _unit(draft: Draft) -> str:
    return "°F·d" if draft.yard.units == "us" else "°C·d"


def _crossing(one: Crossing) -> str:
    if one.refused is not None and one.likely is None and one.earliest is None:
        return "unknown"
    return dates_words(one.earliest, one.likely, one.latest)


# --- other years, other places ------------------------------------------------------------------------


def _other_years(draft: Draft, verdict: OrganismVerdict, book: HeatBook) -> None:
    """When it usually begins here, how far years differ, and what to put in next year's calendar."""
    if not verdict.windows:
        return
    one = verdict.deciding or verdict.windows[0]
    lag = timedelta(days=one.window.open_lag_d)
    days = book.past_days(one.window.opens, one.window.open_at)
    total = len(book.past_years(one.window.opens, one.window.open_at))
    if not days:
        if total:
            _add(
                draft,
                "Other years",
                [
                    f"In none of {total} whole past years did this station get warm enough for {one.window.name}."
                ],
            )
        return
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
    begun = early - lead
    said.append(
        f"For next year's calendar: from {day_words(begun, year=True)} look, buy and ask; treat only what you find."
    )
    _add(draft, "Other years, and next year's calendar", said)


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
        mark = draft.book.plain(
            f"organism.{verdict.organism}.moved.{window.key}",
            f"{window.name}, moved here from {window.place}",
            "unknown" if found.opens.likely is None else found.opens.likely.isoformat(),
            _crossing(found.opens),
            "season.moved_dates",
            unit="date",
            inputs=(
                Input(
                    f"heat usually gathered there by {sentences.month_day_words(window.opens)}",
                    f"{_number(draft, found.opens_cd or 0.0)} {_unit(draft)}",
                    window.source,
                ),
                Input("whole years of the record of that place", f"{found.years}"),
            ),
        )
        said.append(
            f"{printed} Moved here by heat it begins {mark} and ends {_crossing(found.closes)}. This takes the record "
            f"given to be that of {window.place}, and the creature to follow the heat."
        )
    if windows and there is None:
        said.append("To move them, give a record of that place with --there RECORD.")
    _add(draft, "Dates printed for other places", said)


# --- hours --------------------------------------------------------------------------------------------


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
                    _number(draft, one.hourly_cd),
                    _number(draft, one.daily_cd),
                    f"{draft.book.number(one.difference_cd, 'degree_days'):+,.0f}",
                )
            )
    unit = _unit(draft)
    columns = (
        ("Base, daily method, start", "left"), ("Days", "right"), ("Left out", "right"), (f"By hours, {unit}", "right"),
        (f"By days, {unit}", "right"), ("Difference", "right"),
    )  # fmt: skip
    if rows:
        _add(
            draft,
            "By the hour",
            [
                "The tables were made from daily lows and highs, so their own method decides. "
                "The hours show what it misses."
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


# --- the creature -------------------------------------------------------------------------------------


def life(draft: Draft, verdict: OrganismVerdict) -> None:
    """How it lives, what can be hit, what not to do."""
    organism = draft.knowledge.organisms[verdict.organism]
    draft.more_sources.add(organism.source)
    said = [
        f"Lives on {organism.hosts}. Broods in a year: {organism.generations}. Winter: {organism.overwinters}.",
        sentence(organism.look),
        f"What can be treated: {organism.treatable}." if organism.treatable else "",
        sentence(organism.leave_alone),
        f"Common mistake: {organism.mistake}" if organism.mistake else "",
    ]
    _add(draft, "How it lives", [text for text in said if text])
