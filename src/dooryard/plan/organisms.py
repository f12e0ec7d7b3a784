"""Each organism that lives on what grows in the yard: is it time, why, what to do, and when that changes."""

from __future__ import annotations

from collections.abc import Sequence

from dooryard.care import treatment
from dooryard.care.treatment import Site
from dooryard.plan import season_charts
from dooryard.plan.document import Json, Refusal, Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.organism_figures import heat_reason, iso, rule_words, stage_row, verdict_sentence
from dooryard.plan.organism_tasks import add_task, plain_order
from dooryard.plan.treatment_words import against
from dooryard.season import verdicts
from dooryard.season.timing import SeasonHeat
from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOT_HERE, NOW, OVER, SOON, TOO_EARLY
from dooryard.words import day_words, list_words, sentence

# Which words a household should read first.
ORDER = (CLOSING, NOW, SOON, CANNOT_TELL, TOO_EARLY, OVER, NOT_HERE)


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
        draft.organisms.append(entry(draft, verdict, place))
        add_task(draft, verdict, place)
        # Where no table opens any window there is nothing a better record could mend: its entry says so.
        if verdict.refusal is not None and verdict.windows:
            draft.refusals.append(Refusal(verdict.refusal.what, verdict.refusal.missing, verdict.refusal.how))
    _unsaid(draft, judged)
    draft.charts.extend(season_charts.season_lines(draft, judged))
    draft.charts.extend(season_charts.heat_fan(draft, judged, heat))


def _unsaid(draft: Draft, judged: Sequence[OrganismVerdict]) -> None:
    """One headline for all organisms we cannot tell about."""
    names = [verdict.name for verdict in judged if verdict.word == CANNOT_TELL and verdict.windows]
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


def entry(draft: Draft, verdict: OrganismVerdict, place: str) -> Json:
    """One organism as the document holds it. place : where in the yard."""
    draft.more_sources.update(row.stage.source for row in verdict.rows)
    return {
        "id": verdict.organism,
        "name": verdict.name,
        "scientific": verdict.scientific,
        "place": place,
        "word": verdict.word,
        "sentence": verdict_sentence(draft, verdict),
        "reason": heat_reason(draft, verdict) or f"What decided: {rule_words(verdict)}.",
        "do": sentence(plain_order(verdict.do_now)),
        "choices": _choices(draft, verdict),
        "changes_on": iso(None if verdict.word in (OVER, NOT_HERE) else verdict.changes_on),
        "conflict": verdict.conflict,
        "rows": [stage_row(row) for row in verdict.rows],
    }


def _choices(draft: Draft, verdict: OrganismVerdict) -> list[str]:
    """What can be done, mildest first, with what speaks against it now; no amounts, which only a label can give."""
    reach_m = draft.fact("spray.reach")
    by_site = [
        treatment.options(draft.knowledge, verdict.organism, verdict.word, site, draft.on, reach_m)
        for site in _sites(draft, verdict)
    ]
    said = []
    for places in zip(*by_site, strict=True):
        row = places[0].treatment
        words = f"{row.action.rstrip('.')} ({row.when})" if row.when else row.action
        why = against(places)
        said.append(f"{sentence(words)} Not now: {why}." if why else sentence(words))
    return said


def _sites(draft: Draft, verdict: OrganismVerdict) -> list[Site]:
    """The yard's plants it may live on, as places to treat; one of which nothing is told if there is none."""
    found = [
        Site(in_bloom=plant.in_bloom, height_m=plant.height_m)
        for plant in draft.yard.plants
        if verdict.organism in draft.knowledge.organisms_on(plant.kind)
    ]
    return found or [Site()]
