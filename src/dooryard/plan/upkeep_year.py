"""The upkeep of a barrel through the year, with this station's dates: spring start, gutters, the drain before frost."""

from __future__ import annotations

from datetime import timedelta

from dooryard.plan import freeze_odds, mosquito_words
from dooryard.plan.document import Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.freeze_odds import Odds
from dooryard.plan.storages import pool_words
from dooryard.plan.task import Task
from dooryard.water.network import YardRun
from dooryard.words import day_words, list_words, range_words

SPRING_WINDOW = timedelta(days=14)


def describe(draft: Draft, run: YardRun) -> None:
    """Add the stop of the year's upkeep, the odds of a freeze, and the tasks of spring and autumn."""
    if not run.pools:
        return
    draft.walk.append(
        Stop(
            "part",
            "upkeep",
            "Upkeep through the year",
            (*mosquito_words.sentences(draft, run), _wash(draft)),
            _table(draft),
        )
    )
    frost = freeze_odds.sentences(draft)
    if frost:
        draft.walk.append(
            Stop("part", "freeze", "Before and after the frost", tuple(frost), freeze_odds.table(draft))
        )
    found = freeze_odds.odds(draft, "frost.drain_at")
    if found is not None:
        _spring(draft, run, found)
        _gutters(draft, run, found)


def _wash(draft: Draft) -> str:
    """The wash before the season, as one fact sheet has it."""
    share = draft.knowledge.fact("quality.bleach_wash")
    draft.caution("water.bleach")
    over = draft.knowledge.fact("quality.over_watering_limit")
    draft.more_sources.update((share.source, over.source))
    return (
        "Brush the barrel out and rinse it before the season. One fact sheet washes it with "
        f"{share.value * 100:.0f} % of household bleach in water and rinses well; that is no treatment of the water "
        "you use. In one state's samples from barrels all were over the limit of germs for drinking water and "
        f"{over.value * 100:.0f} in 100 over the one for watering."
    )


def _table(draft: Draft) -> Table:
    """What to do when, with this station's dates where it has them."""
    found = freeze_odds.odds(draft, "frost.drain_at")
    seasons = mosquito_words.seasons(draft)
    warm = "warm months"
    if len(seasons) >= mosquito_words.FEWEST_YEARS:
        warm = range_words(*mosquito_words.usual(draft, seasons))
    rows = [
        (
            _spring_words(found),
            "Rinse it; look at level, gasket, screen and hose; mark the spigot; put it back",
        ),
        (f"Each week, {warm}", "Use or drain the water; look for wrigglers; see that the screens lie tight"),
        ("After each hard rain", "Clear the screen; look at the overflow's path and at the wall"),
        ("Twice a year", "Clean the gutters, once after leaf fall; wash the barrel"),
        (
            _autumn_words(found),
            "Drain it, take it off, lead the downspout away from the wall, leave the spigot open, tie it down",
        ),
    ]
    return Table("The year of a rain barrel", (("When", "left"), ("What", "left")), tuple(rows))


def _spring_words(found: Odds | None) -> str:
    if found is None or found.spring[1] is None or found.spring[2] is None:
        return "After the last hard freeze"
    return f"{range_words(found.spring[1], found.spring[2])}, after the last hard freeze"


def _autumn_words(found: Odds | None) -> str:
    if found is None or found.autumn[0] is None:
        return "Before a hard freeze"
    return f"Before {day_words(found.autumn[0])}, the first hard freeze of one year in ten"


def _names(run: YardRun) -> tuple[str, str]:
    """The barrels in a sentence, and as a place."""
    return (
        list_words([pool_words(pool) for pool in run.pools]),
        list_words([name for pool in run.pools for name in pool.storages]),
    )


def _spring(draft: Draft, run: YardRun, found: Odds) -> None:
    middle, late = found.spring[1], found.spring[2]
    if middle is None or late is None or late < draft.on:
        return
    names, place = _names(run)
    first = max(middle, draft.on)
    draft.tasks.append(
        Task(
            id="upkeep.spring",
            verb="Do",
            place=place,
            kind="upkeep",
            what=f"Rinse {names}, clean the gutters, look at level, gasket, screen and hose, mark the spigot as not "
            "for drinking, and join the downspout again.",
            from_=first,
            to=max(late, first) + SPRING_WINDOW,
            best=max(late, first),
            why="The last hard freeze of spring is over by [[frost.spring-50]] in half of the years and by "
            "[[frost.spring-90]] in nine of ten.",
            cautions=draft.caution("water.ladder", "water.not_drinking", "water.level_base"),
            if_missed="Begin when you can; until then the downspout carries the water away.",
        )
    )


def _gutters(draft: Draft, run: YardRun, found: Odds) -> None:
    early = found.autumn[0]
    if early is None or early < draft.on:
        return
    names, place = _names(run)
    lead = timedelta(days=round(draft.fact("upkeep.leaf_fall_lead")))
    first = max(early - lead, draft.on)
    draft.tasks.append(
        Task(
            id="upkeep.gutters",
            verb="Do",
            place=place,
            kind="upkeep",
            what=f"Clean the gutters above {names} once most leaves are down, and wash the barrel when you drain it.",
            from_=first,
            to=early,
            best=first,
            why="Leaves rot in gutter and barrel, clog screens and feed mosquitoes. Twice a year is usual.",
            cautions=draft.caution("water.ladder"),
            if_missed="Clean them on a mild day in winter or in spring, before the barrel goes back.",
        )
    )
