"""Each organism that lives on what grows in the yard: is it time, why, what to do, and when that changes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from dooryard.figure import Input
from dooryard.knowledge import Organism
from dooryard.plan import season_charts
from dooryard.plan.document import Json, Refusal, Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.task import VERBS, Task
from dooryard.season import sentences, verdicts
from dooryard.season.timing import SeasonHeat
from dooryard.season.verdicts import OrganismVerdict, RowVerdict
from dooryard.season.windows import (
    CANNOT_TELL,
    CLOSING,
    NOT_HERE,
    NOW,
    OVER,
    SOON,
    TOO_EARLY,
    Moment,
    WindowVerdict,
)
from dooryard.words import dates_words, day_words, list_words, sentence

# Which words a household should read first.
ORDER = (CLOSING, NOW, SOON, CANNOT_TELL, TOO_EARLY, OVER, NOT_HERE)
HEAT_METHODS = {
    "average": "season.heat.average",
    "not stated": "season.heat.average",
    "modified average": "season.heat.modified",
    "single sine": "season.heat.sine",
    "single triangle": "season.heat.triangle",
    "double sine": "season.heat.double_sine",
    "double triangle": "season.heat.double_triangle",
}


def describe(draft: Draft) -> None:
    """Add verdicts, tasks, drawings and refusals for every organism whose host grows in the yard."""
    places = _places(draft)
    _plants(draft)
    if not places:
        return
    heat = SeasonHeat(draft.record, draft.outlook, draft.on)
    judged = verdicts.judge_all(
        places, draft.knowledge, draft.record, draft.outlook, draft.on, draft.yard.sightings, heat=heat
    )
    for verdict in sorted(judged, key=lambda v: (ORDER.index(v.word), v.name)):
        place = list_words(places[verdict.organism])
        draft.organisms.append(_entry(draft, verdict, place))
        _task(draft, verdict, place)
        if verdict.refusal is not None:
            draft.refusals.append(Refusal(verdict.refusal.what, verdict.refusal.missing, verdict.refusal.how))
    _unsaid(draft, judged)
    draft.charts.extend(season_charts.season_lines(draft, judged))
    draft.charts.extend(season_charts.heat_fan(draft, judged, heat))


def _unsaid(draft: Draft, judged: Sequence[OrganismVerdict]) -> None:
    """One headline for all organisms we cannot tell about."""
    names = [verdict.name for verdict in judged if verdict.word == CANNOT_TELL]
    if names:
        draft.headline(
            4, f"We cannot tell whether it is time for {list_words(names)}: look on the plants themselves."
        )


def _places(draft: Draft) -> dict[str, list[str]]:
    """Organism keys with the names of the plants and beds they may live on, in the yard's order."""
    found: dict[str, list[str]] = {}
    growing = [(plant.name, plant.kind) for plant in draft.yard.plants]
    growing += [(bed.name, bed.grows.replace("-", " ")) for bed in draft.yard.beds]
    for name, kind in growing:
        for organism in draft.knowledge.organisms_on(kind):
            found.setdefault(organism, []).append(name)
    return found


def _plants(draft: Draft) -> None:
    """One stop of the walk for each plant, with what was seen on it."""
    for plant in draft.yard.plants:
        said = []
        names = [draft.knowledge.organisms[key].name for key in draft.knowledge.organisms_on(plant.kind)]
        if names:
            said.append(f"On {_article(plant.kind)} {plant.kind} we watch for {list_words(names)}.")
        else:
            said.append(f"We have no timing for pests of {plant.kind} yet.")
        for seen in draft.yard.sightings:
            if seen.plant == plant.name:
                what = ", ".join(text for text in (seen.organism, seen.sign) if text)
                said.append(f"Seen on {day_words(seen.date)}: {what} ({seen.sure}).")
        draft.walk.append(Stop("plant", slug(plant.name), plant.name, tuple(said)))


def _article(word: str) -> str:
    return "an" if word[:1].lower() in "aeiou" else "a"


def _entry(draft: Draft, verdict: OrganismVerdict, place: str) -> Json:
    draft.more_sources.update(row.stage.source for row in verdict.rows)
    return {
        "id": verdict.organism,
        "name": verdict.name,
        "scientific": verdict.scientific,
        "place": place,
        "word": verdict.word,
        "sentence": _sentence(draft, verdict),
        "reason": _reason(draft, verdict),
        "do": sentence(_plain_order(verdict.do_now)),
        "choices": _choices(draft, draft.knowledge.organisms[verdict.organism]),
        "changes_on": _iso(None if verdict.word in (OVER, NOT_HERE) else verdict.changes_on),
        "conflict": verdict.conflict,
        "rows": [_row(row) for row in verdict.rows],
    }


def _sentence(draft: Draft, verdict: OrganismVerdict) -> str:
    """The reason for the word, its dates entered as figures."""
    window = verdict.deciding
    if window is None or window.word not in (TOO_EARLY, SOON, NOW, CLOSING, OVER):
        return verdict.reason
    needed = {
        TOO_EARLY: ("opens",), SOON: ("opens",), NOW: ("opens", "closes"), CLOSING: ("opens", "closes"),
        OVER: ("closes",),
    }[window.word]  # fmt: skip
    ends = {end: _moment(draft, verdict, window, end) for end in needed}
    said = sentences.reason(window, **ends)
    seen = [day_words(one.date) for one in verdict.sightings]
    return f"{said} Seen in this yard: {list_words(seen)}." if seen else said


def _moment(draft: Draft, verdict: OrganismVerdict, window: WindowVerdict, end: str) -> str:
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
            Input("past years of this station played on", f"{len(draft.outlook.years)}"),
            Input("days of forecast used first", f"{draft.outlook.forecast_days}"),
        ),
        note=f"Published for {stage.place}.",
    )


def _moment_words(moment: Moment) -> str:
    if moment.likely is None:
        return dates_words(moment.earliest, None, moment.latest)
    if moment.passed or moment.earliest == moment.latest:
        return day_words(moment.likely)
    return dates_words(moment.earliest, moment.likely, moment.latest)


def _month_day(text: str) -> str:
    month, _, day = text.partition("-")
    return day_words(date(2001, int(month), int(day)))


def _reason(draft: Draft, verdict: OrganismVerdict) -> str:
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


def _row(row: RowVerdict) -> Json:
    """One published number as the document's table of stages holds it."""
    stage = row.stage
    crossing = row.low
    days: dict[str, str | None] = {"earliest": None, "likely": None, "latest": None}
    if crossing is not None:
        days = {
            "earliest": _iso(crossing.earliest),
            "likely": _iso(crossing.likely),
            "latest": _iso(crossing.latest),
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
    started = f"{_month_day(stage.start_used)}" if stage.start_used else ""
    if stage.start == "not stated" and started:
        started = f"not stated, taken as {started}"
    method = (
        f"{stage.method}, base {stage.base:g} °{stage.unit}" if stage.base is not None else "by the calendar"
    )
    return {
        "id": stage.key,
        "stage": stage.stage,
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


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _task(draft: Draft, verdict: OrganismVerdict, place: str) -> None:
    """The task that follows from the word, if one does this season."""
    organism = draft.knowledge.organisms[verdict.organism]
    window = verdict.deciding
    if verdict.word in (NOW, CLOSING):
        verb, what = _order(verdict.do_now, place)
        end = window.closes.likely if window and window.closes.likely else draft.last_day
        last = max(draft.on, min(end, draft.last_day))
        # The order alone; what to look for stands with the task.
        draft.headline(1, f"{_name(verdict)}: {verdict.word}. {what.partition('. ')[0].rstrip('.')}.")
        _add(draft, verdict, verb, place, what, draft.on, last, min(draft.on + timedelta(days=2), last))
    elif verdict.word in (SOON, TOO_EARLY) and window is not None and window.opens.likely is not None:
        begin = max(window.opens.earliest or window.opens.likely, draft.on)
        end = max(window.closes.likely or window.opens.latest or begin, begin)
        if begin < draft.until:
            end = max(begin, min(end, draft.last_day))
        best = min(max(window.opens.likely, begin), end)
        what = f"Look over the {place} every few days for {verdict.name}. {organism.look}"
        if verdict.word == SOON:
            draft.headline(3, f"{_name(verdict)}: soon, {_moment(draft, verdict, window, 'opens')}.")
        _add(draft, verdict, "Look", place, what, begin, end, best)
    elif verdict.word == CANNOT_TELL:
        what = f"Look over the {place} for {verdict.name}. {organism.look}"
        _add(draft, verdict, "Look", place, what, draft.on, draft.last_day, None)


def _order(text: str, place: str) -> tuple[str, str]:
    """One of the organism's sentences as verb and order, with the place named where it only says "the plant"."""
    verb = text.partition(" ")[0].rstrip(".:,")
    if verb not in VERBS:
        raise ValueError(f"{text!r} does not begin with one of the four verbs")
    said = text.replace("Look on the plant itself.", f"Look at the {place} first.").replace(
        "Look first.", f"Look at the {place} first."
    )
    return verb, sentence(_plain_order(said))


def _plain_order(text: str) -> str:
    """ "Do pick off bags" as "Pick off bags"; the other verbs stay."""
    rest = text.removeprefix("Do ")
    return rest[:1].upper() + rest[1:]


def _add(
    draft: Draft,
    verdict: OrganismVerdict,
    verb: str,
    place: str,
    what: str,
    begin: date,
    end: date,
    best: date | None,
) -> None:
    organism = draft.knowledge.organisms[verdict.organism]
    draft.tasks.append(
        Task(
            id=f"organism.{verdict.organism}",
            verb=verb,
            place=place,
            kind="organism",
            what=what,
            from_=begin,
            to=end,
            best=best,
            why=_sentence(draft, verdict),
            cautions=_cautions(draft, organism, verdict.word),
            if_missed=sentence(_plain_order(organism.do_over)),
            organism=verdict.organism,
        )
    )


def _choices(draft: Draft, organism: Organism) -> list[str]:
    """What can be done, mildest first; no amounts, which only a label in hand can give."""
    return [
        sentence(f"{row.action.rstrip('.')} ({row.when})" if row.when else row.action)
        for row in draft.knowledge.treatments_of(organism.key)
    ]


def _cautions(draft: Draft, organism: Organism, word: str) -> tuple[str, ...]:
    keys: dict[str, None] = {}
    for row in draft.knowledge.treatments_of(organism.key):
        if word in (NOW, CLOSING, SOON):
            for key in row.cautions:
                keys.setdefault(key)
    return draft.caution(*keys)


def _name(verdict: OrganismVerdict) -> str:
    return verdict.name[:1].upper() + verdict.name[1:]
