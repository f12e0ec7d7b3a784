"""What an organism's verdict says in figures: its dates, the heat sum so far, the published numbers behind them."""

from __future__ import annotations

from datetime import date

from dooryard.figure import Input
from dooryard.knowledge.county import own_words
from dooryard.plan.document import Json
from dooryard.plan.draft import Draft
from dooryard.season import sentences
from dooryard.season.verdicts import OrganismVerdict, RowVerdict
from dooryard.season.windows import CLOSING, NOW, OVER, SOON, TOO_EARLY, Moment, WindowVerdict
from dooryard.words import dates_words, day_words, list_words

HEAT_METHODS = {
    "average": "season.heat.average",
    "not stated": "season.heat.average",
    "modified average": "season.heat.modified",
    "single sine": "season.heat.sine",
    "single triangle": "season.heat.triangle",
    "double sine": "season.heat.double_sine",
    "double triangle": "season.heat.double_triangle",
}


def verdict_sentence(draft: Draft, verdict: OrganismVerdict) -> str:
    """The reason for the word, its dates entered as figures."""
    window = verdict.deciding
    if window is None or window.word not in (TOO_EARLY, SOON, NOW, CLOSING, OVER):
        return verdict.reason
    needed = {
        TOO_EARLY: ("opens",), SOON: ("opens",), NOW: ("opens", "closes"), CLOSING: ("opens", "closes"),
        OVER: ("closes",),
    }[window.word]  # fmt: skip
    ends = {end: moment_mark(draft, verdict, window, end) for end in needed}
    brood = [one for one in verdict.windows if one.window.generation == window.window.generation]
    said = sentences.reason(window, **ends, brood=brood, word=verdict.word)
    seen = [day_words(one.date) for one in verdict.sightings]
    said = f"{said} Seen in this yard: {list_words(seen)}." if seen else said
    by = verdict.shifts.get(window.window.key)
    days = 0 if by is None else round(by.days)
    if days:
        noun = "day" if abs(days) == 1 else "days"
        side = "later" if days > 0 else "earlier"
        said += f" By what was seen here its dates fall {abs(days)} {noun} {side} than the heat says."
    return said


def moment_mark(draft: Draft, verdict: OrganismVerdict, window: WindowVerdict, end: str) -> str:
    """The mark of the day a window opens or closes."""
    moment = window.opens if end == "opens" else window.closes
    lag_d = window.window.open_lag_d if end == "opens" else window.window.close_lag_d
    bound = window.window.open_at if end == "opens" else window.window.close_at
    stage = draft.knowledge.stages[window.window.opens if end == "opens" else window.window.closes]
    number = stage.dd_high if bound == "high" and stage.dd_high is not None else stage.dd_low
    start = "assumed, the table does not state it" if stage.start == "not stated" else "of the table"
    return draft.book.plain(
        f"organism.{verdict.organism}.{end}",
        f"{'start' if end == 'opens' else 'end'} of the time for {window.window.name} of {verdict.name}",
        moment.likely.isoformat() if moment.likely else "unknown",
        _moment_words(moment),
        "season.crossing",
        unit="date",
        low=moment.earliest.isoformat() if moment.earliest else None,
        high=moment.latest.isoformat() if moment.latest else None,
        inputs=(
            Input(
                "heat sum of the table",
                f"{number:g} degree-days above {stage.base:g} °{stage.unit}",
                stage.source,
            ),
            Input(f"summed from, {start}", _month_day(stage.start_used), stage.source),
            Input("method", stage.method, stage.source),
            Input("status of the number", stage.status),
            Input("days added to it", f"{lag_d}", window.window.source),
            *_shift_input(verdict, window),
            Input("past years of this station played on", f"{len(draft.heat_years)}"),
            Input("days of forecast used first", f"{draft.outlook.forecast_days}"),
        ),
        note=f"Published for {stage.place}.",
    )


def _shift_input(verdict: OrganismVerdict, window: WindowVerdict) -> tuple[Input, ...]:
    """How far what was seen has moved the date, if it has."""
    by = verdict.shifts.get(window.window.key)
    return () if by is None else (Input("days moved by what was seen here", f"{by.days:+.1f}"),)


def _moment_words(moment: Moment) -> str:
    if moment.likely is None:
        return dates_words(moment.earliest, None, moment.latest)
    if moment.passed or moment.earliest == moment.latest:
        return day_words(moment.likely)
    return dates_words(moment.earliest, moment.likely, moment.latest)


def _month_day(text: str) -> str:
    month, _, day = text.partition("-")
    return day_words(date(2001, int(month), int(day)))


def heat_reason(draft: Draft, verdict: OrganismVerdict) -> str:
    """The heat sum so far against the number that decided, as a figure."""
    window = verdict.deciding
    if window is None:
        return ""
    ahead = window.opens.passed is False
    key, bound = (
        (window.window.opens, window.window.open_at)
        if ahead
        else (window.window.closes, window.window.close_at)
    )
    row = next(row for row in verdict.rows if row.stage.key == key)
    crossing = row.high if bound == "high" and row.high is not None else row.low
    if crossing is None or crossing.sum_now is None:
        return ""
    mark = draft.book.plain(
        f"organism.{verdict.organism}.heat",
        f"heat sum for {verdict.name} up to yesterday, by the table's own method",
        crossing.sum_now,
        _degree_days(draft, crossing.sum_now),
        HEAT_METHODS[row.stage.method],
        unit="degC.d",
        exact=f"{draft.book.number(crossing.sum_now, 'degree_days'):.1f} {_unit(draft)}",
        low=crossing.sum_low,
        high=crossing.sum_high,
        inputs=(
            Input("base", f"{row.stage.base:g} °{row.stage.unit}", row.stage.source),
            Input("summed from", _month_day(row.stage.start_used), row.stage.source),
            Input("missing days bridged", f"{crossing.gap_days}"),
        ),
    )
    target = _degree_days(draft, crossing.threshold)
    author = draft.knowledge.sources[row.stage.source].author
    return f"The heat sum stands at {mark}; {row.stage.stage} at {target} by the table of {author}."


def _unit(draft: Draft) -> str:
    return "°F·d" if draft.yard.units == "us" else "°C·d"


def _degree_days(draft: Draft, value_cd: float) -> str:
    return f"{draft.book.number(value_cd, 'degree_days'):,.0f} {_unit(draft)}"


def stage_row(row: RowVerdict) -> Json:
    """One published number as the document's table of stages holds it."""
    stage = row.stage
    crossing = row.low
    days: dict[str, str | None] = {"earliest": None, "likely": None, "latest": None}
    if crossing is not None:
        days = {
            "earliest": iso(crossing.earliest),
            "likely": iso(crossing.likely),
            "latest": iso(crossing.latest),
        }
    if stage.kind == "calendar":
        printed = (
            f"{_month_day(stage.first)} to {_month_day(stage.last)}"
            if stage.last
            else _month_day(stage.first)
        )
        printed = f"{printed} in {stage.place}"
    else:
        printed = f"{stage.dd_low:g}"
        printed += f" to {stage.dd_high:g}" if stage.dd_high is not None else ""
        printed += f" °{stage.unit}·d"
    started = f"{_month_day(stage.start_used)}" if stage.start_used else stage.start
    if stage.start == "not stated" and started:
        started = f"not stated, taken as {started}"
    method = (
        f"{stage.method}, base {stage.base:g} °{stage.unit}" if stage.base is not None else "by the calendar"
    )
    return {
        "id": stage.key,
        "stage": stage.stage + own_words(stage),
        "range": printed,
        "method": method,
        "start": started or "by the calendar",
        "sum_now": None
        if crossing is None or crossing.sum_now is None
        else _degree_days_like(stage.unit, crossing.sum_now),
        **days,
        "source": stage.source,
        "status": stage.status,
    }


def _degree_days_like(unit: str, value_cd: float) -> str:
    value = value_cd * 1.8 if unit == "F" else value_cd
    return f"{value:,.0f} °{unit}·d"


def rule_words(verdict: OrganismVerdict) -> str:
    """The rule that decided, with its window and the table's place in words."""
    key, _, rule = verdict.rule.partition(": ")
    decided = next((one for one in verdict.windows if one.window.key == key), None)
    if decided is None:
        return verdict.rule
    return f"{rule} ({decided.window.name}, the table from {decided.window.place})"


def iso(day: date | None) -> str | None:
    """A day as the document holds it; None stays None."""
    return None if day is None else day.isoformat()
