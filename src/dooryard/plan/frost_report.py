"""frost(): a yard's cold nights as one report: tonight, first and last dates with their odds, soil, season's end.

The room's other ``frost_`` files each hold one part; here they are put in order.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from dooryard.knowledge import Knowledge
from dooryard.plan import assemble, freeze_odds, frost_dates, frost_exposed, frost_nights, frost_sowing
from dooryard.plan import frost as frost_tasks
from dooryard.plan.assemble import Sky
from dooryard.plan.document import Plan, Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.frost_exposed import Exposed
from dooryard.season.night_odds import Night
from dooryard.words import list_words
from dooryard.yard.model import Yard

# A forecast of nights is worth little after some days.
ADVICE_DAYS = 3


def frost(yard: Yard, sky: Sky, knowledge: Knowledge, on: date) -> Plan:
    """The frost report of a yard, seen on the morning of `on`.

    yard : as read. sky : with or without a forecast.

    Raises
    ------
    InputError
        If the record begins on or after `on`.
    """
    begun = assemble.begin(yard, sky, knowledge, on)
    draft, run, _ = begun
    places = frost_exposed.exposed(draft, run)
    nights = frost_nights.coming(draft)
    said = frost_nights.sentences(draft, nights, places)
    draft.walk.append(
        Stop("part", "nights", "The coming nights", tuple(said), frost_nights.table(draft, nights, places))
    )
    _places(draft, places)
    found = frost_dates.station_levels(draft)
    frost_dates.describe(draft, found)
    frost_sowing.describe(draft, found)
    _storages(draft)
    frost_nights.tasks(draft, nights, places)
    if found:
        frost_tasks.describe(draft, run)
    return assemble.finish(
        begun,
        report="frost",
        first=_summary(draft, said, nights),
        advice_days=ADVICE_DAYS if nights else assemble.ADVICE_DAYS,
    )


def _places(draft: Draft, places: Sequence[Exposed]) -> None:
    """What of this yard stands out now, and what cold it bears."""
    unknown = frost_exposed.unknown(draft)
    said = []
    if places:
        said.append("What stands out now, the tenderest first. Limits are of the air in the shelter.")
    else:
        said.append("Nothing stands out now that has a limit in our tables.")
    if unknown:
        said.append(f"We have no limit for the {list_words(unknown)}.")
    rows = tuple(
        (one.words, draft.book.show(one.fact.value, "temperature"), one.harm, one.fact.status)
        for one in places
    )
    table = None
    if rows:
        columns = (("Place", "left"), ("At or below", "right"), ("Then", "left"), ("How we know", "left"))
        table = Table("What a cold night hurts here", columns, rows)
        draft.more_sources |= {one.fact.source for one in places}
    draft.walk.append(Stop("part", "exposed", "What a cold night can hurt", tuple(said), table))


def _storages(draft: Draft) -> None:
    if not draft.yard.storages:
        return
    said = freeze_odds.sentences(draft)
    if said:
        draft.walk.append(
            Stop("part", "freeze", "The end of the barrels' season", tuple(said), freeze_odds.table(draft))
        )


def _summary(draft: Draft, said: Sequence[str], nights: Sequence[Night]) -> list[str]:
    first = list(said[:2]) if nights and nights[0].lead == 1 else [said[0], *said[1:][-1:]]
    figures = draft.book.figures
    if "levels.frost.spring-50" in figures:
        first.append(
            "The last frost of spring is over by [[levels.frost.spring-50]] in half of the years, by "
            "[[levels.frost.spring-90]] in nine of ten."
        )
    if "levels.frost.autumn-50" in figures:
        first.append("The first of autumn has come by [[levels.frost.autumn-50]] in half of them.")
    if "soil.warmth" in figures and draft.on.month < 8:
        first.append("Bare topsoil is [[soil.warmth]] by the air of the last weeks.")
    cover = [task for task in draft.tasks if task.id.startswith("frost.cover")]
    if cover and cover[0].from_ <= draft.on + timedelta(days=frost_nights.AHEAD_D):
        first.append(f"Cover the {cover[0].place} before dusk; the date stands below.")
    return first
