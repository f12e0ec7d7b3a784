"""Tonight and the coming nights in this yard: how cold, how likely, and what that hurts."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from dooryard.figure import Input
from dooryard.plan.document import Table
from dooryard.plan.draft import Draft
from dooryard.plan.frost_exposed import Exposed
from dooryard.plan.task import Task
from dooryard.season.night_odds import Night, Spread, night, past_share
from dooryard.words import day_words, list_words, range_words

LIMITS = ("frost.leaf_frost", "frost.frost", "frost.freeze", "frost.hard_freeze")
"""36, 32, 28 and 24 °F."""
AHEAD_D = 14
_FEWEST_YEARS = 5


def limits_c(draft: Draft) -> list[float]:
    """The four limits [degC], warmest first."""
    return [draft.fact(key) for key in LIMITS]


def coming(draft: Draft) -> list[Night]:
    """The forecast's nights after the day asked, moved to the yard; empty without one.

    The low of a day is taken as that of the night that ends in it.
    """
    forecast = draft.forecast
    if forecast is None:
        return []
    offset = draft.yard.place.night_offset_c
    spread = Spread(
        draft.fact("frost.forecast_error"),
        draft.fact("frost.forecast_error_later"),
        draft.fact("frost.yard_varies" if offset else "frost.yard_unknown"),
    )
    found = []
    for day, low in zip(forecast.dates.tolist(), forecast.t_min_c.tolist(), strict=True):
        lead = (day - draft.on).days
        if 1 <= lead <= draft.fact("frost.nights_shown") and not np.isnan(low):
            found.append(night(lead, low, offset, spread, limits_c(draft)))
    return found


def odds_words(odds: float) -> str:
    """Odds as people say them: to the next twentieth, and no certainty at the ends."""
    if odds < 0.025:
        return "hardly"
    if odds > 0.975:
        return "all but sure"
    return f"{round(odds * 20) * 5} %"


def sentences(draft: Draft, nights: Sequence[Night], places: Sequence[Exposed]) -> list[str]:
    """Tonight, where these lows come from, and how often such nights came in past years."""
    said = []
    if nights and nights[0].lead == 1:
        said += _tonight(draft, nights[0], places)
    elif draft.forecast is None:
        said.append("No forecast was given, so tonight's low is not known: add one with --forecast.")
    else:
        said.append("The forecast does not hold the coming night.")
    if nights:
        said.append(_moved(draft))
    return [*said, *_past(draft)]


def _tonight(draft: Draft, tonight: Night, places: Sequence[Exposed]) -> list[str]:
    day = draft.on + timedelta(days=1)
    frost = tonight.odds[LIMITS.index("frost.frost")]
    low = draft.book.quantity(
        "night.low",
        f"lowest temperature of the night to {day_words(day)}, in this yard",
        tonight.low_c,
        "temperature",
        "season.night_odds",
        about=True,
        inputs=_inputs(draft, tonight),
    )
    limit = draft.book.show(draft.fact("frost.frost"), "temperature")
    mark = draft.book.plain(
        "night.frost",
        f"chance of {limit} or less in the night to {day_words(day)}",
        round(frost, 4),
        odds_words(frost),
        "season.night_odds",
        inputs=_inputs(draft, tonight),
    )
    chance = (
        f"the chance of {limit} or less is {mark}"
        if 0.025 <= frost <= 0.975
        else f"{limit} or less is {mark}"
    )
    if frost < 0.025:
        chance = f"{limit} or less will {mark} come"
    said = [f"In the night to {day_words(day)} it falls to {low} in this yard; {chance}."]
    hurt = [place for place in places if odds_of(tonight, place.fact.value) >= draft.fact("frost.cover_odds")]
    if hurt:
        said.append(f"Such a night may hurt {list_words(list(dict.fromkeys(one.words for one in hurt)))}.")
    elif places:
        said.append("Nothing listed for this yard is likely to be hurt by it.")
    return said


def _inputs(draft: Draft, one: Night) -> tuple[Input, ...]:
    offset = draft.yard.place.night_offset_c
    inputs = [
        draft.book.input("forecast low", one.low_c - offset, "temperature", "the forecast file"),
        draft.book.input("how far it may be off", one.spread_c, "temperature_difference", "judged"),
    ]
    if offset:
        inputs.insert(1, draft.book.input("this yard", offset, "temperature_difference", "the yard file"))
    return tuple(inputs)


def odds_of(one: Night, limit_c: float) -> float:
    """Chance that a night falls to a limit [degC]."""
    from statistics import NormalDist

    return NormalDist(one.low_c, one.spread_c).cdf(limit_c)


def _moved(draft: Draft) -> str:
    offset = draft.yard.place.night_offset_c
    if not offset:
        unknown = draft.fact("frost.yard_unknown")
        return (
            "How much colder this yard is than its forecast was not measured, so the odds are wide. On a calm clear "
            f"night low ground can be {draft.book.show(unknown, 'temperature_difference')} colder."
        )
    size = draft.book.show(abs(offset), "temperature_difference")
    word = "colder" if offset < 0 else "warmer"
    return f"The forecast's lows are taken {size} {word} here, as the yard file says."


def _past(draft: Draft) -> list[str]:
    """How often such a night came in the two weeks ahead in the station's own years."""
    first = draft.outlook.forecast_days
    ahead = draft.outlook.t_min_c[:, max(first, 1) : AHEAD_D + 1]
    days = ahead.shape[1]
    if len(draft.outlook.years) < _FEWEST_YEARS or days < 1:
        return []
    begin = draft.on + timedelta(days=AHEAD_D + 1 - days)
    counted: list[str] = []
    for key in LIMITS:
        limit = draft.fact(key)
        came, of = past_share(ahead, limit)
        if not of or not came:
            continue
        mark = draft.book.plain(
            f"night.past.{key.removeprefix('frost.')}",
            f"past years with a night at or below {draft.book.show(limit, 'temperature')} in these days",
            came,
            f"{came} of {of}",
            "season.past_nights",
            inputs=(Input("days", range_words(begin, draft.on + timedelta(days=AHEAD_D))),),
        )
        shown = draft.book.show(limit, "temperature")
        counted.append(f"{shown} in {mark}" if counted else f"{shown} came in {mark} past years")
    spoken = range_words(begin, draft.on + timedelta(days=AHEAD_D))
    if not counted:
        warmest = draft.book.show(draft.fact(LIMITS[0]), "temperature")
        return [f"From {spoken} no past year had a night as cold as {warmest}."]
    return [f"From {spoken} a night at or below {list_words(counted)}."]


def table(draft: Draft, nights: Sequence[Night], places: Sequence[Exposed]) -> Table | None:
    """The coming nights: low in this yard, odds at the four limits, and what that hurts; None without a forecast."""
    if not nights:
        return None
    least = draft.fact("frost.cover_odds")
    rows = []
    for one in nights:
        hurt = list(dict.fromkeys(p.name for p in places if odds_of(one, p.fact.value) >= least))
        rows.append(
            (
                day_words(draft.on + timedelta(days=one.lead)),
                draft.book.show(one.low_c, "temperature"),
                *(odds_words(odds) for odds in one.odds),
                list_words(hurt) if hurt else "nothing listed",
            )
        )
    return Table(
        "The coming nights in this yard, and the odds of each limit or less",
        (
            ("Night to", "left"),
            ("Low", "right"),
            *((draft.book.show(limit, "temperature"), "right") for limit in limits_c(draft)),
            ("May hurt", "left"),
        ),
        tuple(rows),
    )


def tasks(draft: Draft, nights: Sequence[Night], places: Sequence[Exposed]) -> None:
    """Add the covering before the first night that may hurt what a cloth can save, and the drain before a hard one."""
    least = draft.fact("frost.cover_odds")
    for one in nights:
        eve = draft.on + timedelta(days=one.lead - 1)
        hurt = [p for p in places if p.covered and odds_of(one, p.fact.value) >= least]
        if hurt:
            names = list(dict.fromkeys(p.name for p in hurt))
            draft.tasks.append(
                Task(
                    id=f"frost.cover-{eve.isoformat()}",
                    verb="Do",
                    place=list_words(names),
                    kind="frost",
                    what=f"Cover the {list_words(names)} before dusk, with cloth down to the ground. Take it off in "
                    "the morning when it is above freezing.",
                    from_=eve,
                    to=eve,
                    best=eve,
                    why=f"The night to {day_words(eve + timedelta(days=1))} may fall to "
                    f"{draft.book.show(one.low_c, 'temperature')} here. {hurt[0].words}: {hurt[0].harm}.",
                    if_missed="Wait some days before you cut anything: what was touched shows only then.",
                )
            )
            return
