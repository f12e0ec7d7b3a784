"""season(): is it time for one organism, or for all that live on one plant? As one report, with every table's word.

`season_parts`, `season_seen` and `season_elsewhere` hold what is told of one organism beside its verdict; here it is
put in order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from dooryard.knowledge import Knowledge
from dooryard.plan import (
    assemble,
    organisms,
    season_charts,
    season_elsewhere,
    season_parts,
    season_seen,
    station,
)
from dooryard.plan.assemble import ADVICE_DAYS, NEAR_DAYS, Sky
from dooryard.plan.document import Plan, Refusal, unmarked
from dooryard.plan.draft import Draft
from dooryard.plan.figures import FigureBook
from dooryard.plan.organism_figures import verdict_sentence
from dooryard.plan.organism_tasks import add_task, plain_order
from dooryard.plan.task import in_date_order
from dooryard.season import from_events, verdicts
from dooryard.season.book import HeatBook
from dooryard.season.names import Named
from dooryard.season.timing import LONGEST_FILLED_D, SeasonHeat
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CLOSING, NOT_HERE, NOW, OVER
from dooryard.units import System
from dooryard.weather import site
from dooryard.weather.outlook import ahead
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words, list_words, sentence
from dooryard.yard.model import Place, Sighting, Yard

if TYPE_CHECKING:
    from dooryard.weather.hourly import HourlyRecord


@dataclass(frozen=True)
class Asked:
    """What is asked about, and all that bears on it beside the station's days.

    named : the organism, or a plant's organisms. yard : whose plants and sightings count, or None for the station
    itself. seen : sightings told with the question. blooms : (day, words) of blooms seen. hours : the station's
    hours. there : a record of the place that printed dates come from.
    """

    named: Named
    yard: Yard | None = None
    seen: tuple[Sighting, ...] = ()
    blooms: tuple[tuple[date, str], ...] = ()
    hours: HourlyRecord | None = None
    there: WeatherRecord | None = None
    system: System = "us"


def season(asked: Asked, sky: Sky, knowledge: Knowledge, on: date) -> Plan:
    """The season report, seen on the morning of `on`.

    Raises InputError if the record begins on or after `on`.
    """
    draft = _draft(asked, sky, knowledge, on)
    about = station.describe(draft)
    if asked.yard is None:
        about["words"] = "asked for the station itself"
    heat = SeasonHeat(draft.record, draft.outlook, on)
    keys = asked.named.organisms
    sightings = (*draft.yard.sightings, *asked.seen)
    judged = verdicts.judge_all(keys, knowledge, draft.record, draft.outlook, on, sightings, heat=heat)
    ranked = sorted(
        (_counting(one, sightings, heat) for one in judged),
        key=lambda one: (organisms.ORDER.index(one.word), one.name),
    )
    first = [text for one in ranked for text in _tell(draft, one, alone=len(ranked) == 1)]
    if asked.named.plant is not None:
        first = [*_plant_first(draft, asked.named.plant, ranked), *first]
        season_seen.bloom_of(draft, asked.named.plant, heat)
    if len(ranked) == 1:
        first += _alone(draft, ranked[0], asked, sightings, heat)
    else:
        season_parts.words_of_each(draft, ranked)
        draft.charts.extend(season_charts.season_lines(draft, ranked))
        draft.charts.extend(season_charts.heat_fan(draft, ranked, heat))
    return _document(draft, asked, about, [*first, *_behind(draft)])


def _behind(draft: Draft) -> list[str]:
    """That the record stops too long before the day asked for its heat sums to be known, if it does."""
    known = np.flatnonzero(~np.isnan(draft.record.t_min_c + draft.record.t_max_c))
    if not known.size:
        return []
    last = draft.record.first + timedelta(days=int(known[-1]))
    days = (draft.on - last).days - 1
    if days <= LONGEST_FILLED_D:
        return []
    return [
        f"The record's temperatures end on {day_words(last)}; the {days} days since have none, and what needs them is "
        "not known."
    ]


def _counting(verdict: OrganismVerdict, sightings: Sequence[Sighting], heat: SeasonHeat) -> OrganismVerdict:
    """The verdict on an organism whose numbers count from a day that was seen: no refusal, for they can be dated."""
    counted = from_events.counted((row.stage for row in verdict.rows), sightings, heat)
    if verdict.windows or verdict.refusal is None or not counted:
        return verdict
    told = "Its days are counted from what you saw. No number says when the time for doing something ends."
    return replace(verdict, refusal=None, reason=told)


def _alone(
    draft: Draft, verdict: OrganismVerdict, asked: Asked, sightings: Sequence[Sighting], heat: SeasonHeat
) -> list[str]:
    """Everything on one organism beside its verdict; gives what the summary says of it."""
    book = HeatBook(draft.knowledge, (verdict.organism,), heat)
    first = season_seen.from_what_was_seen(draft, verdict, heat, sightings)
    season_parts.why(draft, verdict)
    season_seen.sightings_here(draft, verdict)
    season_seen.blooms_beside(draft, verdict, heat, asked.blooms or _yard_blooms(draft))
    next_year = season_elsewhere.other_years(draft, verdict, book)
    season_elsewhere.other_places(draft, verdict, heat, asked.there)
    if asked.hours is not None:
        season_elsewhere.by_the_hour(draft, verdict, asked.hours)
    season_parts.life(draft, verdict)
    draft.charts.extend(season_charts.window_lines(draft, verdict, book))
    draft.charts.extend(season_charts.heat_picture(draft, verdict, heat))
    return [*first, *(next_year if verdict.word == OVER else [])]


def _draft(asked: Asked, sky: Sky, knowledge: Knowledge, on: date) -> Draft:
    record = sky.record
    yard, offset_c = asked.yard, 0.0
    if yard is None:
        known = record.station
        where = Place(
            latitude=float("nan") if known.latitude is None else known.latitude,
            longitude=float("nan") if known.longitude is None else known.longitude,
            elevation_m=known.elevation_m or 0.0,
            station=known.name,
        )
        yard = Yard(name=unmarked(known.name) or "This station", units=asked.system, place=where)
    else:
        offset_c = yard.place.night_offset_c
        record = site.moved(record, offset_c, system=yard.units)
    return Draft(
        yard=yard,
        record=record.until(on),
        outlook=ahead(record, on, forecast=site.forecast_at(sky.forecast, offset_c)),
        knowledge=knowledge,
        on=on,
        until=on + timedelta(days=NEAR_DAYS),
        forecast=sky.forecast,
        book=FigureBook(yard.units),
    )


def _tell(draft: Draft, verdict: OrganismVerdict, *, alone: bool) -> list[str]:
    """The organism's entry, task and refusal; gives what the summary says of it."""
    on_what = _hosts(draft, verdict)
    draft.organisms.append(organisms.entry(draft, verdict, on_what))
    add_task(draft, verdict, on_what)
    if verdict.refusal is not None:
        draft.refusals.append(Refusal(verdict.refusal.what, verdict.refusal.missing, verdict.refusal.how))
    if not alone:
        return []
    name = verdict.name[:1].upper() + verdict.name[1:]
    said = [f"{name}: {verdict.word}. {verdict_sentence(draft, verdict)}"]
    said += _against_usual(verdict)
    said.append(sentence(plain_order(verdict.do_now)))
    if verdict.changes_on is not None and verdict.word not in (OVER, NOT_HERE):
        said.append(f"This word is likely to change on {day_words(verdict.changes_on)}.")
    elif verdict.word in (OVER, NOT_HERE):
        said.append(f"Sums begin anew on 1 January {draft.on.year + 1}.")
    return said


def _against_usual(verdict: OrganismVerdict) -> list[str]:
    """How many days earlier or later than in the middle past year, where the station has one."""
    likely, usual = verdict.line.likely_from, verdict.line.usual_from
    if likely is None or usual is None or verdict.word == NOT_HERE:
        return []
    days = (likely - usual).days
    window = verdict.deciding
    begun = window.opens.passed is not False if window is not None else verdict.word in (NOW, CLOSING, OVER)
    verb = "It began" if begun else "It is likely to begin"
    if days == 0:
        return [f"{verb} on the day of a usual year here."]
    noun = "day" if abs(days) == 1 else "days"
    return [f"{verb} {abs(days)} {noun} {'later' if days > 0 else 'earlier'} than in a usual year here."]


def _hosts(draft: Draft, verdict: OrganismVerdict) -> str:
    """Names of the yard's plants it may live on; else the word for all of them."""
    growing = [(plant.name, plant.kind) for plant in draft.yard.plants]
    growing += [(bed.name, bed.grows.replace("-", " ")) for bed in draft.yard.beds]
    names = [name for name, kind in growing if verdict.organism in draft.knowledge.organisms_on(kind)]
    return list_words(names) or "plants it lives on"


def _plant_first(draft: Draft, plant: str, ranked: Sequence[OrganismVerdict]) -> list[str]:
    if not ranked:
        return [f"No pest in the tables lives on {plant}. Its bloom is told below."]
    said = [f"{one.name}: {one.word}" for one in ranked]
    return [f"On {plant}, on {day_words(draft.on)}: {'; '.join(said)}."]


def _yard_blooms(draft: Draft) -> tuple[tuple[date, str], ...]:
    """Blooms among the yard's sightings, with the kind of the plant they were seen on."""
    kinds = {plant.name: plant.kind for plant in draft.yard.plants}
    return tuple(
        (seen.date, f"{kinds.get(seen.plant, seen.plant)} {seen.sign}")
        for seen in draft.yard.sightings
        if seen.organism is None and seen.sign is not None and "bloom" in seen.sign.lower()
    )


def _document(draft: Draft, asked: Asked, about: dict[str, str], first: Sequence[str]) -> Plan:
    near = [task for task in draft.tasks if task.from_ < draft.until]
    later = [task for task in draft.tasks if task.from_ >= draft.until]
    name = asked.named.plant or draft.knowledge.organisms[asked.named.organisms[0]].name
    return Plan(
        on=draft.on,
        until=draft.until,
        advice_ends=draft.on + timedelta(days=ADVICE_DAYS),
        units=draft.yard.units,
        yard={
            "name": draft.yard.name,
            "place": "" if asked.yard is None else assemble.place_words(draft, draft.yard.place),
        },
        station=about,
        summary=tuple(first),
        tasks=tuple(in_date_order(near)),
        ahead=tuple(in_date_order(later)),
        walk=tuple(draft.walk),
        organisms=tuple(draft.organisms),
        refusals=tuple(draft.refusals),
        record=tuple(unmarked(note) for note in draft.record_notes),
        cautions=draft.cautions,
        figures=draft.book.figures,
        charts=tuple(draft.charts),
        knowledge=draft.knowledge,
        more_sources=frozenset(draft.more_sources),
        report="season",
        title=f"season report for {name}",
    )
