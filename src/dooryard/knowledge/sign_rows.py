"""Rows of the diagnosis: signs a household can look for, causes that show them, and groups of plants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

PARTS = ("yard", "whole", "leaf", "needle", "twig", "trunk", "root", "fruit", "stem", "turf")
KINDS = ("insect", "mite", "disease", "abiotic", "animal", "normal")
COMMON = ("common", "uncommon", "rare")
SHOWS = ("always", "usually", "often", "sometimes", "rarely", "never")


@dataclass(frozen=True, slots=True)
class Sign:
    """Something one can look for. ``question`` is answered yes or no, ``look`` says how to find out.

    ``met`` is how often it is seen for other reasons than the cause that is asked about.
    """

    key: str
    part: str
    question: str
    look: str
    met: str
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Cause:
    """What may be behind a complaint.

    ``plants`` are kinds or groups of plants, or "any" (every plant but turf). ``months`` are the first and the last
    month it is seen in, wrapping at the year's end. ``organism`` is a key of the organisms or empty. ``shows`` maps a
    sign to one of the words of `SHOWS`. ``first`` is the mildest first step; ``send`` what to send, or empty.
    """

    key: str
    name: str
    kind: str
    how_common: str
    plants: tuple[str, ...]
    months: tuple[int, int]
    organism: str
    urgent: bool
    shows: Mapping[str, str]
    first: str
    send: str
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class PlantGroups:
    """The groups one kind of plant belongs to, such as tree, conifer or vegetable."""

    plant: str
    groups: tuple[str, ...]
    source: str
    status: str
    origin: str
