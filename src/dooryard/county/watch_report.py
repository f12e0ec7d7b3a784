"""The watch list as a document: the eight things that matter this week, per station, and what to stop recommending."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from dooryard.county import bulletin
from dooryard.county.folder import County
from dooryard.county.watch import SOON_DAYS, Item, Watch, watch, window_of
from dooryard.figure import Input
from dooryard.plan.document import Json, Plan, Refusal, Stop, Table
from dooryard.plan.figures import FigureBook, slug
from dooryard.plan.organism_tasks import plain_order
from dooryard.season.ensemble import years_heard
from dooryard.season.sentences import span_words
from dooryard.season.timing import LONGEST_FILLED_D, SeasonHeat
from dooryard.season.verdicts import OrganismVerdict, judge_all
from dooryard.season.windows import CLOSING, NOW, SOON, Moment
from dooryard.units import System
from dooryard.weather.forecast import Forecast
from dooryard.weather.outlook import Outlook, ahead
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words, list_words, range_words, sentence

ADVICE_DAYS = 7
NOTHING_KNOWN = "We cannot say what matters this week: no station's record reaches it."


def watch_list(
    county: County, on: date, *, forecast: Forecast | None = None, system: System = "us"
) -> tuple[Plan, str]:
    """The document and the bulletin text, seen on the morning of `on`.

    forecast : of the county, the same for every station. A station whose record begins too late or ends too early is
    told as silent; it stops nothing.
    """
    judged: dict[str, tuple[OrganismVerdict, ...]] = {}
    outlooks: dict[str, Outlook] = {}
    late: dict[str, str] = {}
    keys = tuple(county.knowledge.organisms)
    for record in county.records:
        name = record.station.name
        why = _out_of_reach(record, on)
        if why:
            late[name] = why
            continue
        outlook = ahead(record, on, forecast=forecast)
        outlooks[name] = outlook
        known = record.until(on)
        judged[name] = judge_all(
            keys, county.knowledge, known, outlook, on, county.sightings.get(name, ()),
            heat=SeasonHeat(known, outlook, on),
        )  # fmt: skip
    found = watch(judged, on)
    silent = {**found.silent, **late}
    document = _document(county, on, found, silent, outlooks, system)
    if len(silent) == len(county.records):
        return document, f"{NOTHING_KNOWN} So there is no text for a newsletter.\n"
    return document, bulletin.text(county.knowledge, county.name, on, found, tuple(silent))


def _out_of_reach(record: WeatherRecord, on: date) -> str:
    """Why a record says nothing of this week: it begins too late, or its temperatures end too long before it."""
    if record.first >= on:
        return f"Its record begins on {day_words(record.first, year=True)}."
    known = record.until(on)
    days = np.flatnonzero(~np.isnan(known.t_min_c + known.t_max_c))
    if not days.size:
        return "Its record has no temperatures before this week."
    last = known.first + timedelta(days=int(days[-1]))
    behind = (on - last).days - 1
    if behind <= LONGEST_FILLED_D:
        return ""
    return f"Its temperatures end on {day_words(last, year=True)}, {behind} days before this week."


def _document(
    county: County,
    on: date,
    found: Watch,
    silent: Mapping[str, str],
    outlooks: Mapping[str, Outlook],
    system: System,
) -> Plan:
    book = FigureBook(system)
    stops = [_item(county, book, item, outlooks) for item in found.look]
    if found.stop:
        stops.append(_stops(county, book, found, outlooks))
    stops.append(_stations(county, on, silent))
    sources = {
        county.knowledge.stages[window.window.opens].source
        for item in (*found.look, *found.stop)
        for one in item.verdicts.values()
        if (window := window_of(one)) is not None
    }
    return Plan(
        on=on,
        until=on + timedelta(days=ADVICE_DAYS),
        advice_ends=on + timedelta(days=ADVICE_DAYS),
        units=system,
        yard={"name": county.name[:1].upper() + county.name[1:], "place": ""},
        station=None,
        summary=tuple(_summary(found, silent, all_silent=len(silent) == len(county.records))),
        tasks=(),
        ahead=(),
        walk=tuple(stops),
        organisms=(),
        refusals=tuple(
            Refusal(
                f"We cannot say what matters at {station}.", why, "Bring a record that reaches this week."
            )
            for station, why in silent.items()
        ),
        record=tuple(_notes(county)),
        cautions=("label-law", "bees-bloom", "helpers") if found.look else (),
        figures=book.figures,
        charts=tuple(_chart(found, on)),
        knowledge=county.knowledge,
        more_sources=frozenset(sources),
        report="watch",
        title=f"what to look for, {range_words(on, on + timedelta(days=6))}",
    )


def _summary(found: Watch, silent: Collection[str], *, all_silent: bool) -> list[str]:
    if all_silent:
        return [NOTHING_KNOWN]
    untold = [f"Of {list_words(tuple(silent))} nothing can be said."] if silent else []
    if not found.look:
        where = "the other stations" if silent else "any station"
        return [f"Nothing in the tables opens, is open or closes this week at {where}.", *untold]
    said = []
    for word, words in ((NOW, "Now"), (CLOSING, "Closing"), (SOON, f"Within {SOON_DAYS} days")):
        names = [item.name for item in found.look if _lead(item) == word]
        if names:
            said.append(f"{words}: {list_words(names)}.")
    if found.stop:
        said.append(
            f"Stop recommending treatment of {list_words([item.name for item in found.stop])}: it is over."
        )
    return [*said, *untold]


def _lead(item: Item) -> str:
    """The word that speaks for an item: now before closing before soon."""
    words = {verdict.word for verdict in item.verdicts.values()}
    return next((word for word in (NOW, CLOSING, SOON) if word in words), "")


def _item(county: County, book: FigureBook, item: Item, outlooks: Mapping[str, Outlook]) -> Stop:
    organism = county.knowledge.organisms[item.organism]
    lead = _lead(item)
    do = organism.do_soon if lead == SOON else organism.do_now
    said = [
        f"{where_words(item)} {organism.look} Look on {organism.hosts}.",
        sentence(plain_order(do)),
        f"Leave it alone: {organism.leave_alone}" if organism.leave_alone else "",
    ]
    said += [one.conflict for one in item.verdicts.values() if one.conflict][:1]
    rows = tuple(
        (
            station,
            verdict.word,
            _mark(county, book, item, station, verdict, "opens", outlooks),
            _mark(county, book, item, station, verdict, "closes", outlooks),
            against_usual(verdict) or "not known",
        )
        for station, verdict in item.verdicts.items()
    )
    columns = (
        ("Station", "left"),
        ("Today", "left"),
        ("Begins", "left"),
        ("Ends", "left"),
        ("Against usual", "left"),
    )
    name = item.name[:1].upper() + item.name[1:]
    return Stop(
        "part",
        item.organism,
        name,
        tuple(filter(None, said)),
        Table(f"{name} at each station", columns, rows),
    )


def where_words(item: Item) -> str:
    """ "Now at Creek Bottom; soon at Ridge School (24 to 27 May)." """
    parts = []
    for word in (NOW, CLOSING, SOON):
        stations = item.at(word)
        if not stations:
            continue
        if word == SOON:
            named = [f"{station} ({_span(item.verdicts[station], 'opens')})" for station in stations]
            parts.append(f"soon at {list_words(named)}")
        else:
            parts.append(f"{word} at {list_words(stations)}")
    text = "; ".join(parts)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def against_usual(verdict: OrganismVerdict) -> str:
    """ "6 days earlier"; empty where the station's past does not say."""
    likely, usual = verdict.line.likely_from, verdict.line.usual_from
    if likely is None or usual is None:
        return ""
    days = (likely - usual).days
    if days == 0:
        return "as usual"
    return f"{abs(days)} {'day' if abs(days) == 1 else 'days'} {'later' if days > 0 else 'earlier'}"


def _span(verdict: OrganismVerdict, end: str) -> str:
    moment = _moment(verdict, end)
    return "unknown" if moment is None else span_words(moment)


def _moment(verdict: OrganismVerdict, end: str) -> Moment | None:
    window = window_of(verdict)
    return None if window is None else window.opens if end == "opens" else window.closes


def _mark(
    county: County,
    book: FigureBook,
    item: Item,
    station: str,
    verdict: OrganismVerdict,
    end: str,
    outlooks: Mapping[str, Outlook],
) -> str:
    """A date range as a figure that can say where it comes from."""
    window, moment = window_of(verdict), _moment(verdict, end)
    if window is None or moment is None or (moment.likely is None and moment.earliest is None):
        return "unknown"
    stage = county.knowledge.stages[window.window.opens if end == "opens" else window.window.closes]
    heard = len(years_heard(outlooks[station].years, outlooks[station].on, county.knowledge))
    return book.plain(
        f"watch.{slug(station)}.{item.organism}.{end}",
        f"{'start' if end == 'opens' else 'end'} of the time for {window.window.name} of {item.name} at {station}",
        moment.likely.isoformat() if moment.likely else "unknown",
        span_words(moment),
        "season.crossing",
        unit="date",
        low=moment.earliest.isoformat() if moment.earliest else None,
        high=moment.latest.isoformat() if moment.latest else None,
        inputs=(
            Input("table of", stage.place, stage.source),
            Input("status of the number", stage.status),
            Input("past years of the station played on", f"{heard}"),
            Input("days of forecast used first", f"{outlooks[station].forecast_days}"),
        ),
    )


def _stops(county: County, book: FigureBook, found: Watch, outlooks: Mapping[str, Outlook]) -> Stop:
    said = []
    for item in found.stop:
        ends = [
            f"{_mark(county, book, item, station, verdict, 'closes', outlooks)} at {station}"
            for station, verdict in item.verdicts.items()
        ]
        name = item.name[:1].upper() + item.name[1:]
        over = county.knowledge.organisms[item.organism].do_over
        said.append(f"{name}: its time ended {list_words(ends)}. {sentence(plain_order(over))}")
    return Stop("part", "stop", "Stop recommending", tuple(said))


def _stations(county: County, on: date, silent: Mapping[str, str]) -> Stop:
    """The state of each station: its last day, and what it cannot say."""
    rows = []
    for record in county.records:
        name = record.station.name
        behind = (on - record.last).days - 1
        state = "up to date" if behind <= 0 else f"{behind} {'day' if behind == 1 else 'days'} behind"
        if record.invented:
            state += ", invented"
        rows.append((name, day_words(record.last, year=True), state, silent.get(name, "")))
    rows += [
        (Path(name).stem, "", "cannot be read", " ".join(str(problems[0]).split()))
        for name, problems in county.unread
    ]
    columns = (("Station", "left"), ("Last day", "left"), ("State", "left"), ("What it cannot say", "left"))
    return Stop("part", "stations", "The stations", (), Table("State of each station", columns, tuple(rows)))


def _notes(county: County) -> list[str]:
    counted = sum(len(seen) for seen in county.sightings.values())
    said = [
        f"{len(county.records)} station{'s' if len(county.records) != 1 else ''} read, each judged by its own days."
    ]
    if county.unread:
        said.append(f"{len(county.unread)} could not be read; the table of stations says why.")
    if counted:
        said.append(f"{counted} sighting{'s' if counted != 1 else ''} counted, each at its station.")
    return said


def _chart(found: Watch, on: date) -> list[Json]:
    """A window of each thing: from the first station's start to the last one's end."""
    lines: list[Json] = []
    for item in found.look:
        own = [one.line for one in item.verdicts.values() if one.line.likely_from is not None]
        if not own:
            continue
        lines.append(
            {
                "label": item.name,
                "word": _lead(item),
                "earliest": _first([one.earliest or one.likely_from for one in own]),
                "likely_from": _first([one.likely_from for one in own]),
                "likely_to": _last([one.likely_to for one in own]),
                "latest": _last([one.latest or one.likely_to for one in own]),
                "usual_from": _first([one.usual_from for one in own]),
                "usual_to": _last([one.usual_to for one in own]),
                "sightings": [],
            }
        )
    if not lines:
        return []
    lines.sort(key=lambda line: str(line["likely_from"]))
    return [
        {
            "id": "season",
            "kind": "season",
            "title": "When each can be met this year, over all stations",
            "words": "The thick bar runs from the first station's likely start to the last one's likely end, the thin "
            "one from earliest to latest, the notch is the usual window of past years.",
            "from": date(on.year, 1, 1).isoformat(),
            "to": date(on.year, 12, 31).isoformat(),
            "today": on.isoformat(),
            "lines": lines,
            "table": {
                "caption": "Windows of this year",
                "columns": [{"text": text, "align": "left"} for text in ("Name", "Today", "Begins", "Ends")],
                "rows": [
                    [
                        str(line["label"]),
                        str(line["word"]),
                        _said(line["likely_from"]),
                        _said(line["likely_to"]),
                    ]
                    for line in lines
                ],
            },
        }
    ]


def _first(days: list[date | None]) -> str | None:
    known = [day for day in days if day is not None]
    return min(known).isoformat() if known else None


def _last(days: list[date | None]) -> str | None:
    known = [day for day in days if day is not None]
    return max(known).isoformat() if known else None


def _said(iso: object) -> str:
    return day_words(str(iso)) if iso else "unknown"
