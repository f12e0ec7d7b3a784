"""A case: what a household asked and what was seen, as the desk wrote it down."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from dooryard.care.diagnosis import Evidence

Part = Literal[
    "summary", "confidence", "seen", "options", "timing", "amounts", "cautions", "sample", "follow-up", "sources"
]  # fmt: skip
PARTS: tuple[Part, ...] = (
    "summary", "confidence", "seen", "options", "timing", "amounts", "cautions", "sample", "follow-up", "sources",
)  # fmt: skip


@dataclass(frozen=True)
class Edit:
    """The adviser's words in place of a part. was : the computed words they replaced. by : role. on : the day."""

    part: Part
    text: str
    by: str
    on: date
    was: str = ""


@dataclass(frozen=True)
class SetAside:
    """A reason of the review gate that somebody sets aside. finding : its key. by, reason : who, and why."""

    finding: str
    by: str
    reason: str
    on: date


@dataclass(frozen=True)
class Case:
    """One question. None and empty: not told.

    code : of the household, never a name. plant : its kind. question : in the desk's words. seen, unseen : keys of
    signs. evidence : what was looked at; who : by whom. lab : cause a laboratory named. organism : pest that was
    known for sure. yard, weather, card : files, seen from the case's own folder. height_m : of the plant [m].
    keep_out : names that must not stand in the letter.
    """

    code: str
    plant: str
    evidence: Evidence
    who: str
    question: str = ""
    asked_on: date | None = None
    seen: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()
    lab: str = ""
    organism: str = ""
    yard: str = ""
    weather: str = ""
    card: str = ""
    state: str = ""
    in_bloom: bool | None = None
    near_water: bool | None = None
    height_m: float | None = None
    follow_up: date | None = None
    keep_out: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = ()
    overrides: tuple[SetAside, ...] = ()
