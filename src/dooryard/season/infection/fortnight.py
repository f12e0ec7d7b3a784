"""What the last two weeks meant for six diseases, in plain words, with what helps without a spray said first.

Nothing here says that a disease is there: it says what the weather allowed. A disease counts only where its plant
stands, so a caller names those that matter.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge
from dooryard.knowledge.season_rows import Infection
from dooryard.season.infection import severity
from dooryard.season.infection.p_days import p_days
from dooryard.season.infection.turf import brown_patch
from dooryard.season.infection.wet_hours import Entered, judge
from dooryard.season.wetness import Spell

Numbers = NDArray[np.float64]

WEEK_D = 7


@dataclass(frozen=True, slots=True, eq=False)
class Days:
    """The days looked at, the last of them the eve of the day asked; arrays (days,), NaN where not known.

    wet_h, wet_mean_c : hours of wet leaves and their mean temperature [h, degC]. t_min_c, t_max_c [degC] and
    humidity_pct (mean of the day, None if the station has none). spells : wet spells over midnight; of days alone each
    day's wet hours are one. by_hours : False if all this was made from days. heat_ch : degree-hours above the base
    of fire blight [degC.h], None if not made. rained : (days,) whether rain is known to have fallen, None if not told
    beside the wet hours.
    """

    last: date
    wet_h: Numbers
    wet_mean_c: Numbers
    t_min_c: Numbers
    t_max_c: Numbers
    humidity_pct: Numbers | None
    spells: tuple[Spell, ...]
    by_hours: bool
    heat_ch: Numbers | None = None
    rained: NDArray[np.bool_] | None = None


@dataclass(frozen=True, slots=True)
class Meant:
    """What the days meant for one disease.

    word : "favoured", "not favoured", "counted" (nothing can be concluded yet) or
    "cannot tell". value with unit : the count behind it, NaN if it
    cannot be told. method : key of the methods table. status : of the weakest table behind it. first : key of the
    cautions table with what helps without a spray. sentences : in plain words, what helps first not among them.
    """

    disease: str
    word: str
    value: float
    unit: str
    method: str
    status: str
    first: str
    sentences: tuple[str, ...]


DISEASES = (
    "tomato early blight",
    "potato early blight",
    "apple scab",
    "grape black rot",
    "cedar-apple rust",
    "brown patch",
)


def meant(days: Days, knowledge: Knowledge, diseases: Collection[str] = DISEASES) -> tuple[Meant, ...]:
    """What the days meant for each of some diseases, in the order of `DISEASES`.

    Parameters
    ----------
    days : Days
        Two weeks, or as many days as are looked at; early blight wants seven.
    knowledge : Knowledge
        Its infection and severity tables and facts.
    diseases : collection of str
        Out of `DISEASES`.

    Returns
    -------
    tuple of Meant
    """
    found = []
    for disease in DISEASES:
        if disease not in diseases:
            continue
        if disease == "tomato early blight":
            found.append(_early_blight(days, knowledge))
        elif disease == "potato early blight":
            found.append(_potato(days))
        elif disease == "brown patch":
            found.append(_turf(days, knowledge))
        else:
            found.append(_spells(days, knowledge, disease))
    return tuple(found)


def doubt(days: Days, knowledge: Knowledge) -> str:
    """How far all this may be off: the sentence for days made into hours, empty for real hours."""
    if days.by_hours:
        return ""
    error = knowledge.fact("wetness.daily_error")
    low, high = error.low, error.high
    return (
        "This station has no hours, so wet hours were made from each day's two temperatures and its dew point. Against "
        f"real hours of five stations that was off by {low:g} to {high:g} hours a day."
    )


def _early_blight(days: Days, knowledge: Knowledge) -> Meant:
    rows = [row for row in knowledge.severity if row.disease == "tomato early blight"]
    daily = severity.values(rows, days.wet_mean_c, days.wet_h)
    week = severity.last_days(daily, WEEK_D)
    least = knowledge.fact("early_blight.week_favours").value
    status = rows[0].status
    if np.isnan(week):
        return _unknown("tomato early blight", "severity", "season.severity", status, "disease.early_blight")
    word = "favoured" if week >= least else "not favoured"
    said = [
        f"In the last week the weather {'favoured' if week >= least else 'did not favour'} early blight of tomato: its "
        f"days come to {week:.0f} of at most 28, and from {least:g} on the week counts.",
    ]
    total = float(np.nansum(daily))
    said.append(
        f"All {daily.size} days come to {total:.0f}. Those who spray begin at "
        f"{knowledge.fact('early_blight.first_sum').value:g} after planting, and again after each "
        f"{knowledge.fact('early_blight.later_sum').value:g}."
    )
    return Meant(
        "tomato early blight",
        word,
        week,
        "severity",
        "season.severity",
        status,
        "disease.early_blight",
        tuple(said),
    )


def _potato(days: Days) -> Meant:
    total = float(p_days(days.t_min_c, days.t_max_c).sum())
    if np.isnan(total):
        return _unknown(
            "potato early blight", "P-days", "season.p_days", "from memory", "disease.potato_blight"
        )
    said = (
        f"Potatoes had {total:.0f} P-days in these {days.t_min_c.size} days. Counted from the day they come up, early "
        "blight is looked for from 300 on.",
    )
    return Meant(
        "potato early blight",
        "counted",
        total,
        "P-days",
        "season.p_days",
        "from memory",
        "disease.potato_blight",
        said,
    )


def _turf(days: Days, knowledge: Knowledge) -> Meant:
    least = knowledge.fact("brown_patch.warn_at")
    if days.humidity_pct is None or np.isnan(brown_patch(days.humidity_pct, days.t_min_c)).all():
        return _unknown("brown patch", "days", "season.brown_patch", least.status, "disease.brown_patch")
    with np.errstate(invalid="ignore"):
        count = int((brown_patch(days.humidity_pct, days.t_min_c) >= least.value).sum())
    word = "favoured" if count else "not favoured"
    nights = "1 night was" if count == 1 else f"{count or 'No'} nights were"
    said = (f"{nights} warm and damp enough to warn of brown patch in cool-season lawns.",)
    return Meant(
        "brown patch", word, count, "days", "season.brown_patch", least.status, "disease.brown_patch", said
    )


_FIRST = {
    "apple scab": (
        "disease.apple_scab",
        "Only open leaves and fruit can be infected, most of all from bud burst to three weeks after bloom.",
    ),
    "grape black rot": (
        "disease.black_rot",
        "Fruit can be infected from bloom until 3 to 5 weeks after it.",
    ),
    "cedar-apple rust": (
        "disease.cedar_rust",
        "That counts only while orange galls are out on junipers near by, in spring.",
    ),
}


def _spells(days: Days, knowledge: Knowledge, disease: str) -> Meant:
    own = [row for row in knowledge.infection if row.disease == disease]
    mildest = [row for row in own if row.severity in ("any", "light")]
    severe = [row for row in own if row.severity == "severe"]
    first, when = _FIRST[disease]
    if np.isnan(days.wet_h).all():
        return _unknown(disease, "spells", "season.wet_hours_needed", own[0].status, first)
    entered = _possible(mildest, days.spells)
    longest = max(days.spells, key=lambda one: one.wet_h, default=None)
    count = len(entered)
    said = []
    if count:
        best = max(entered, key=lambda one: one.spell.wet_h)
        spells = "One wet spell was" if count == 1 else f"{count} wet spells were"
        hard = len(_possible(severe, days.spells))
        many = (
            f" {hard or 'None'} of them {'was' if hard == 1 else 'were'} enough for many spots."
            if severe
            else ""
        )
        said.append(
            f"{spells} long and warm enough for {disease}; the longest had {best.spell.wet_h} wet hours and "
            f"needed {best.needed_h:.0f}.{many}"
        )
        said.append(when)
    elif longest is None:
        said.append(f"Leaves were not wet long enough for {disease}: no wet hour is known.")
    else:
        said.append(
            f"No wet spell was long and warm enough for {disease}; the longest had {longest.wet_h} hours."
        )
    unknown = int(np.isnan(days.wet_h).sum())
    if unknown:
        said.append(
            f"Of {'1 day' if unknown == 1 else f'{unknown} days'} nothing is known, so there may have been more."
        )
    return Meant(
        disease,
        "favoured" if count else "not favoured",
        count,
        "spells",
        "season.wet_hours_needed",
        own[0].status,
        first,
        tuple(said),
    )


def _possible(rows: Sequence[Infection], spells: Sequence[Spell]) -> list[Entered]:
    judged = [judge(rows, one) for one in spells] if rows else []
    return [one for one in judged if one.word == "possible"]


def _unknown(disease: str, unit: str, method: str, status: str, first: str) -> Meant:
    said = (f"For {disease} we cannot tell: the station's days do not hold what it needs.",)
    return Meant(disease, "cannot tell", float("nan"), unit, method, status, first, said)
