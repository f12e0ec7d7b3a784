"""What may be done about an organism at one place on one day: mildest first, each with every reason against it.

To do nothing, to prune, to pick and to wash off are never blocked by the calendar. What kills is: it needs its stage,
no open bloom, a plant within reach, the law of the place, and a label.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from dooryard.knowledge import Knowledge, Treatment
from dooryard.knowledge.care_rows import Restriction
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOT_HERE, NOW, OVER, SOON, TOO_EARLY

Why = Literal[
    "not begun", "over", "look first", "not here", "own time", "bloom", "systemic bloom", "height", "law", "law unsure",
    "water",
]  # fmt: skip
# What kills, however mild.
KILLING = ("biological", "oil or soap", "active ingredient")
# A row whose time is named by the season of the year is not bound to the stage that the verdict is about.
_OWN_TIME = (
    "dormant", "winter", "before the buds", "before hatch", "bare", "early spring", "autumn", "late summer",
    "after bloom", "all year", "october",
)  # fmt: skip

# Unless it names the stage as well: "after the first moths, and again in late summer".
_STAGED = ("first moth", "crawler", "while ")


@dataclass(frozen=True)
class Site:
    """Where it would be done; None for what was not told.

    in_bloom : flowers open on the plant or on weeds below. height_m : of the plant [m]. state : for its laws.
    near_water : a pond, ditch, well or barrel lies near.
    """

    in_bloom: bool | None = None
    height_m: float | None = None
    state: str = ""
    near_water: bool | None = None


@dataclass(frozen=True)
class Option:
    """One thing that can be done. blocked : why not, in the order asked; empty if it may be done.

    law : the row of the place that forbids or limits it, if any.
    """

    treatment: Treatment
    blocked: tuple[Why, ...]
    law: Restriction | None = None

    @property
    def allowed(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.blocked


def options(
    knowledge: Knowledge, organism: str, word: str, site: Site, on: date, reach_m: float
) -> tuple[Option, ...]:
    """Every treatment of an organism, mildest first.

    organism : its key. word : the verdict on it at this station today. site : the place. reach_m : height up to which
    a household treats from the ground [m].
    """
    return tuple(
        _option(knowledge, row, word, site, on, reach_m) for row in knowledge.treatments_of(organism)
    )


def _option(knowledge: Knowledge, row: Treatment, word: str, site: Site, on: date, reach_m: float) -> Option:
    if row.kind not in KILLING:
        return Option(row, ())
    reasons: list[Why] = []
    if not own_time(row):
        stage = _stage(word)
        if stage is not None:
            reasons.append(stage)
    else:
        reasons.append("not here" if word == NOT_HERE else "own time")
    if site.in_bloom and "systemic-bloom" in row.cautions:
        reasons.append("systemic bloom")
    elif site.in_bloom and row.kind == "active ingredient":
        reasons.append("bloom")
    if site.height_m is not None and site.height_m > reach_m and row.kind != "active ingredient":
        reasons.append("height")
    if site.near_water and "water-fish" in row.cautions:
        reasons.append("water")
    law = None
    if "systemic-state" in row.cautions:
        law = restriction(knowledge, site.state)
        if law is not None:
            reasons.append("law" if in_force(law, on) else "law unsure")
        elif site.state == "":
            reasons.append("law unsure")
    return Option(row, tuple(reasons), law)


def own_time(row: Treatment) -> bool:
    """Whether a treatment has a time of its own in the year, beside the stage that the verdict is about."""
    when = row.when.lower()
    return any(word in when for word in _OWN_TIME) and not any(word in when for word in _STAGED)


def _stage(word: str) -> Why | None:
    if word in (TOO_EARLY, SOON):
        return "not begun"
    if word == OVER:
        return "over"
    if word == CANNOT_TELL:
        return "look first"
    if word == NOT_HERE:
        return "not here"
    assert word in (NOW, CLOSING)
    return None


def restriction(knowledge: Knowledge, state: str) -> Restriction | None:
    """The row about soil insecticides in a place: your county's own, else the state's; None if there is neither.

    state : its name, capitals do not matter.
    """
    own = (row for row in knowledge.restrictions.values() if row.origin and "neonic" in row.material.lower())
    found = next(own, None)
    if found is not None:
        return found
    name = " ".join(state.lower().split())
    return next((row for row in knowledge.restrictions.values() if row.place.lower() == name), None)


def in_force(law: Restriction, on: date) -> bool:
    """Whether a row may be relied on that day: it has begun, and was looked at not too long ago."""
    return date.fromisoformat(law.since) <= on <= date.fromisoformat(law.good_until)


def mildest(found: Sequence[Option]) -> Option | None:
    """The first option that may be done and is more than doing nothing; None if there is none."""
    return next(
        (one for one in found if one.allowed and one.treatment.kind not in ("do nothing", "ask")), None
    )
