"""Release: a text may go when every reason is mended, or overridden by somebody who says why. The record is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dooryard.letter.gate.finding import Finding


@dataclass(frozen=True)
class Override:
    """One reason set aside. finding : its `Finding.key`. by : who, by name or role. reason : why. on : the day."""

    finding: str
    by: str
    reason: str
    on: date

    def __post_init__(self) -> None:
        if not (self.finding.strip() and self.by.strip() and self.reason.strip()):
            raise ValueError("an override names its finding, who, and why")


@dataclass(frozen=True)
class Release:
    """What became of the reasons. open : still in the way. overridden : set aside, with the record.

    idle : overrides that no reason answers to; they are kept, and change nothing.
    """

    open: tuple[Finding, ...]
    overridden: tuple[tuple[Finding, Override], ...]
    idle: tuple[Override, ...]

    @property
    def released(self) -> bool:
        """Whether the text may go."""
        return not self.open


def release(findings: Sequence[Finding], overrides: Sequence[Override] = ()) -> Release:
    """Hold reasons against overrides. An override counts only for the very words it names."""
    by_key = {_plain(one.finding): one for one in overrides}
    met = {_plain(one.key) for one in findings}
    return Release(
        tuple(one for one in findings if _plain(one.key) not in by_key),
        tuple((one, by_key[_plain(one.key)]) for one in findings if _plain(one.key) in by_key),
        tuple(one for one in overrides if _plain(one.finding) not in met),
    )


def _plain(key: str) -> str:
    return " ".join(key.lower().split())
