"""water(): all of a yard's water as one report, from roof to root, and what to do about it through the year.

The room's other files each hold one part; here they are put in order. With the words of a trouble only its entry
and the parts of the yard it points to are told.
"""

from __future__ import annotations

from datetime import date

from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.knowledge.rows import Trouble
from dooryard.plan import (
    assemble,
    barrel_beds,
    barrel_burst,
    barrel_choices,
    barrel_footing,
    barrel_outlet,
    barrel_stand,
    barrel_storm,
    barrel_worth,
    beds,
    freeze_odds,
    frost,
    mosquito_words,
    roof_survey,
    roofs,
    storages,
    storm_drill,
    troubles,
    upkeep,
    upkeep_year,
    water_account,
)
from dooryard.plan.assemble import Begun, Sky
from dooryard.plan.document import Plan, Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.roofs import ROUND_DEPTH_MM
from dooryard.water import roof as survey
from dooryard.water.network import PoolRun, YardRun
from dooryard.water.uphill import uphill
from dooryard.words import day_words, list_words
from dooryard.yard.model import Storage, Yard

TOPICS = ("level", "fill", "outlet", "beds", "stand", "burst", "ground")
"""What is told of a storage, in order; `worth` comes after them."""
EVERY_TOPIC = frozenset({*TOPICS, "worth"})
_NEEDS = 4


def water(yard: Yard, sky: Sky, knowledge: Knowledge, on: date, *, trouble: str = "") -> Plan:
    """The water report of a yard, seen on the morning of `on`.

    yard : as read. trouble : words of a trouble; then only its entry and what the yard's numbers say on it.

    Raises
    ------
    InputError
        If the record begins on or after `on`, or no trouble goes by those words.
    """
    found = troubles.find(knowledge.troubles, trouble) if trouble else {}
    begun = assemble.begin(yard, sky, knowledge, on, by_hours=True)
    return _about(begun, trouble, found) if found else _whole(begun)


# --- the whole report -----------------------------------------------------------------------------------


def _whole(begun: Begun) -> Plan:
    draft, run, _ = begun
    roof_survey.describe(draft)
    for pool in run.pools:
        _storages(draft, run, pool, EVERY_TOPIC)
        storages.look(draft, pool)
    water_account.describe(draft, run)
    barrel_choices.describe(draft, run)
    storm_drill.describe(draft, run)
    beds.describe(draft, run)
    upkeep.describe(draft, run)
    upkeep_year.describe(draft, run)
    frost.drain(draft, run)
    troubles.describe_all(draft)
    return assemble.finish(begun, report="water", first=_summary(draft, run))


def _storages(
    draft: Draft, run: YardRun, pool: PoolRun, topics: frozenset[str], *, drawn: bool = True
) -> None:
    """The stop of every storage of a pool, with those topics; what belongs to the pool is told at its first."""
    worth_words, worth_chart = barrel_worth.describe(draft, run, pool) if "worth" in topics else ([], [])
    shared = storages.shared_drawings(draft, pool, worth_chart) if drawn else []
    for number, storage in enumerate(storages.members(draft, pool)):
        sentences = [
            text for topic in TOPICS if topic in topics for text in _told(topic, draft, run, pool, storage)
        ]
        sentences += worth_words if number == 0 else []
        if sentences:
            storages.add_stop(draft, pool, storage, sentences, shared if number == 0 else [], drawn=drawn)


def _told(topic: str, draft: Draft, run: YardRun, pool: PoolRun, storage: Storage) -> list[str]:
    """Sentences on one storage; what belongs to its pool is told at the first of it."""
    first = storage.name == pool.storages[0]
    match topic:
        case "level":
            return storages.standing(draft, run, pool, storage)
        case "fill":
            return (
                [*storages.filling(draft, pool, storage), *barrel_storm.filling(draft, pool)] if first else []
            )
        case "outlet":
            return barrel_outlet.sentences(draft, storage)
        case "beds":
            return barrel_beds.sentences(draft, pool) if first else []
        case "stand":
            return [*barrel_stand.sentences(draft, storage), *barrel_footing.sentences(draft, storage)]
        case "burst":
            return barrel_burst.sentences(draft, storage)
        case "ground" if _lets_out(draft, storage):
            return [*barrel_storm.ground(draft, storage), *barrel_storm.hollow(draft, pool, storage)]
    return []


def _lets_out(draft: Draft, storage: Storage) -> bool:
    """Whether rain that runs over leaves here onto the ground or a bed."""
    here = uphill(draft.yard, storage.name)
    onward = storage.empties_to in {one.name for one in draft.yard.storages}
    return bool(here.roofs) and not onward and (storage == here.mouth or storage.ground_drop_m is not None)


# --- in short -------------------------------------------------------------------------------------------


def _summary(draft: Draft, run: YardRun) -> list[str]:
    said = [*_roofs(draft, run), *[text for pool in run.pools for text in _season(draft, pool)]]
    doing = [task for task in draft.tasks if task.verb in ("Do", "Ask") and task.from_ < draft.until]
    if doing:
        places = list(dict.fromkeys(task.place for task in doing))
        many = "One thing needs" if len(doing) == 1 else f"{len(doing)} things need"
        said.append(f"{many} doing in these three weeks, at {list_words(places)}; the dates follow.")
    said += [text for _, text in sorted(draft.headlines, key=lambda pair: pair[0])][:_NEEDS]
    return said or ["There is no roof and no barrel in this yard file."]


def _roofs(draft: Draft, run: YardRun) -> list[str]:
    """What a round depth of rain sends down all roofs, and what the barrels hold of it."""
    if not draft.yard.roofs:
        return []
    depth_mm = ROUND_DEPTH_MM[draft.yard.units]
    sections = survey.survey(draft.yard, draft.knowledge)
    ends = [
        sum(float(survey.gives(section.litres_per_mm, depth_mm)[end]) for section in sections)
        for end in range(3)
    ]
    gives = draft.book.quantity(
        "yard.gives",
        "what all roofs of the yard shed",
        ends[1],
        "volume",
        "water.roof_gives",
        low=ends[0],
        high=ends[2],
        inputs=(draft.book.input("rain", depth_mm, "depth"), Input("roof sections", f"{len(sections)}")),
    )
    holds_l = sum(pool.capacity_l for pool in run.pools)
    spoken = "One inch" if draft.yard.units == "us" else "Every 10 mm"
    if holds_l <= 0.0:
        return [f"{spoken} of rain sends {gives} down the roofs; there is no barrel to hold any."]
    holds = draft.book.quantity(
        "yard.holds",
        "usable water the barrels of the yard hold",
        holds_l,
        "volume",
        "plan.sum",
        inputs=tuple(
            draft.book.input(list_words(pool.storages), pool.capacity_l, "volume", "the yard file")
            for pool in run.pools
        ),
    )
    return [f"{spoken} of rain sends {gives} down the roofs; the barrels hold {holds} above their outlets."]


def _season(draft: Draft, pool: PoolRun) -> list[str]:
    """What a pool gave of what its beds wanted, if its worth was told."""
    key = f"storage.{slug(pool.storages[0])}"
    if f"{key}.given" not in draft.book.figures:
        return []
    gives = "gives" if len(pool.storages) == 1 else "give"
    fed = [bed.name for bed in draft.yard.beds if bed.watered_from in pool.storages]
    if fed and fed == roofs.kept_from(draft, pool.storages):
        return [
            f"Water of {storages.pool_words(pool)} should stay off the food plants it was meant for: see below."
        ]
    asked = f"[[{key}.wanted]] {barrel_worth.askers(draft, pool)} want"
    return [f"In a season {storages.pool_words(pool)} {gives} [[{key}.given]] of the {asked}."]


# --- one trouble ----------------------------------------------------------------------------------------


def _about(begun: Begun, trouble: str, found: dict[str, list[Trouble]]) -> Plan:
    """Only what bears on a trouble: its entries, and the parts of the yard they point to."""
    draft, run, _ = begun
    troubles.describe_found(draft, found)
    topics = troubles.topics(found)
    if "roof" in topics:
        roof_survey.describe(draft)
    for pool in run.pools:
        _storages(draft, run, pool, topics & EVERY_TOPIC, drawn=False)
    _more(draft, run, topics)
    draft.tasks.clear()
    draft.headlines.clear()
    title = f"trouble finder, {day_words(draft.on, year=True)}"
    return assemble.finish(begun, report="water", title=title, first=_found_words(trouble, found))


def _more(draft: Draft, run: YardRun, topics: frozenset[str]) -> None:
    if "mosquito" in topics and run.pools:
        said = mosquito_words.sentences(draft, run)
        draft.walk.append(Stop("part", "mosquitoes", "Mosquitoes here", tuple(said)))
    if "frost" in topics:
        odds = freeze_odds.sentences(draft)
        if odds:
            draft.walk.append(
                Stop("part", "freeze", "Before and after the frost", tuple(odds), freeze_odds.table(draft))
            )


def _found_words(trouble: str, found: dict[str, list[Trouble]]) -> list[str]:
    causes = sum(len(rows) for rows in found.values())
    names = list_words([f"“{symptom}”" for symptom in found])
    many = "One thing" if causes == 1 else f"{causes} things"
    return [
        f"You asked about {trouble.strip()}: see {names}. {many} may be behind it; try the tests in their order.",
        "What this yard's own numbers say on it follows.",
    ]
