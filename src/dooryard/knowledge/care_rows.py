"""Rows about the care of plants: when to cut, when to divide, when oaks must not be cut, spray limits.

As in `rows`: every row has its source, its status and its origin.
"""

from __future__ import annotations

from dataclasses import dataclass

WOODS = ("old wood", "new wood", "both", "spurs", "one-year wood", "canes", "candles", "foliage", "any")
"""On what a plant flowers or fruits, or what is cut if it is grown for its leaves."""

PRUNING_TIMES = ("after bloom", "late winter", "late spring", "summer", "after harvest", "by group")


@dataclass(frozen=True, slots=True)
class Pruning:
    """When and how a kind of plant is cut.

    kinds : plant kinds as a yard file writes them. time : one of `PRUNING_TIMES`; safe : the same with its
    limits, in words. latest : last good day where one is given (month-day), else empty. avoid : when a cut does
    harm, and what harm.
    """

    key: str
    name: str
    scientific: str
    kinds: tuple[str, ...]
    wood: str
    time: str
    safe: str
    latest: str
    avoid: str
    how: str
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Division:
    """When a perennial is divided: every ``years_low`` to ``years_high`` years (None: no number, or never)."""

    key: str
    name: str
    kinds: tuple[str, ...]
    season: str
    years_low: float | None
    years_high: float | None
    how: str
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class OakWindow:
    """When oaks must not be cut at ``place``, because wounds then spread oak wilt (month-days).

    ``opens`` is empty where the source gives only the end. ``if_wounded`` : what to do all the same.
    """

    key: str
    place: str
    opens: str
    closes: str
    if_wounded: str
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class SprayLimit:
    """One limit of a garden material: ``quantity`` from ``low`` to ``high`` in ``unit`` (None: no such end).

    plants : that it is about, in small letters; empty if it is about none. The label in hand overrules each of them.
    """

    key: str
    material: str
    quantity: str
    low: float | None
    high: float | None
    unit: str
    rule: str
    plants: tuple[str, ...]
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Restriction:
    """What a state or county forbids.

    since, good_until : ISO days; after the second the row may no longer be relied on. material : the kind it is about.
    """

    key: str
    place: str
    material: str
    rule: str
    since: str
    good_until: str
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Invasive:
    """A plant that a county or state lists as running wild.

    kinds : further names it goes by. place : whose list. rule : what it says. good_until : ISO day, after which the
    row may no longer be relied on.
    """

    key: str
    name: str
    kinds: tuple[str, ...]
    place: str
    rule: str
    good_until: str
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class WoundClass:
    """What a loss of bark means: ``share_from`` to ``share_to`` of the circumference, the upper end included.

    words : how much that is. follows : what usually comes of it. then : what to do with the tree.
    """

    key: str
    share_from: float
    share_to: float
    words: str
    follows: str
    then: str
    source: str
    status: str
    note: str
    origin: str
