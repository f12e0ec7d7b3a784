"""Rows of the build sheet: parts, tools and steps. As in `rows`, each has its source, status and origin."""

from __future__ import annotations

from dataclasses import dataclass

GOES_BY = ("barrel", "block", "paver", "stone", "run")
"""What a part's amount goes by: each barrel, block or paver of a stand, liters of stone, meters of overflow hose."""
WHEN = ("always", "stand")
PHASES = ("before", "ground", "drill", "fit", "set", "join", "check", "ahead", "run", "hand-out")
"""Phases of a build in order, then those of a workshop: ahead of the day, its run, what is handed out."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a barrel's kit.

    name : may hold ``{overflow}``, the bore of the overflow. by : one of `GOES_BY`; each : how much for one of
    those; unit : of the amount, empty for pieces. pack : amount in a pack. spare : whether a workshop takes
    spares. cost_low, cost_high : price of a pack [dollars].
    """

    key: str
    name: str
    use: str
    by: str
    each: float
    unit: str
    pack: float
    pack_name: str
    spare: bool
    when: str
    cost_low: float
    cost_high: float
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool. people : households that can share one at a workshop; 0 if it goes by the drills or stays home."""

    key: str
    name: str
    use: str
    people: int
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a build or a workshop, or one thing to check.

    text : with words in braces for the barrel's own numbers. caution : what is due at the step, in short;
    cautions : keys of the cautions told in full. minutes_low, minutes_high : how long it takes [min], None if
    it has no time of its own.
    """

    key: str
    phase: str
    text: str
    caution: str
    cautions: tuple[str, ...]
    minutes_low: float | None
    minutes_high: float | None
    when: str
    source: str
    place: str
    status: str
    note: str
    origin: str
