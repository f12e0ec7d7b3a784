"""From heat sums to one word per table: is the time when something can be done ahead, open, ending or gone?

A window opens and closes at moments; a moment is a crossing of a published sum, or some days after one.
Each table gives its own window and is judged by itself; `agreed` says what several of them together allow
to be said.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from dooryard.knowledge.rows import Window
from dooryard.season.timing import Crossing

WORDS = ("too early", "soon", "now", "closing", "over", "not here", "cannot tell")
"""The only words a verdict uses, the first five in the order of the season."""

TOO_EARLY, SOON, NOW, CLOSING, OVER, NOT_HERE, CANNOT_TELL = WORDS


@dataclass(frozen=True, slots=True)
class Moment:
    """When a window opens or closes.

    passed : it lies behind the day asked; None if a gap in the record leaves it open.
    earliest, likely, latest : as in `Crossing`, with the lag added. refused : why no date is given.
    """

    passed: bool | None
    earliest: date | None
    likely: date | None
    latest: date | None
    refused: str | None


@dataclass(frozen=True, slots=True)
class WindowVerdict:
    """One table's word about today, when its window opens and closes, and the rule that decided."""

    window: Window
    word: str
    opens: Moment
    closes: Moment
    rule: str


def opening(crossing: Crossing, lag_d: int, on: date) -> Moment:
    """When a window opens that opens ``lag_d`` days after a crossing; on the day itself it is open."""
    return _moment(crossing, lag_d, on)


def closing(crossing: Crossing, lag_d: int, on: date) -> Moment:
    """When a window closes that closes ``lag_d`` days after a crossing; that day still belongs to it."""
    return _moment(crossing, lag_d, on - timedelta(days=1))


def _moment(crossing: Crossing, lag_d: int, limit: date) -> Moment:
    lag = timedelta(days=lag_d)
    earliest, likely, latest = (
        None if day is None else day + lag for day in (crossing.earliest, crossing.likely, crossing.latest)
    )
    passed = crossing.passed
    if passed and earliest is not None and latest is not None:
        # The crossing lies behind us, exactly or within a gap; its lag may not have run out.
        passed = True if latest <= limit else (False if earliest > limit else None)
    return Moment(passed, earliest, likely, latest, crossing.refused)


def judged(
    window: Window, opens: Moment, closes: Moment, on: date, *, soon_d: float, closing_d: float
) -> WindowVerdict:
    """The word of one table's window on the day ``on``."""
    word, rule = _word(opens, closes, on, soon_d, closing_d)
    return WindowVerdict(window, word, opens, closes, rule)


def _word(opens: Moment, closes: Moment, on: date, soon_d: float, closing_d: float) -> tuple[str, str]:
    if closes.passed:
        return OVER, "the closing number lies behind today"
    if opens.passed is None:
        return CANNOT_TELL, "a gap in the record hides whether the opening number was reached"
    if opens.passed and closes.passed is None:
        return CANNOT_TELL, "a gap in the record hides whether the closing number was reached"
    if opens.passed:
        if closes.likely is not None and (closes.likely - on).days <= closing_d:
            return CLOSING, f"opened, and likely closes within {closing_d:g} days"
        return NOW, "the opening number lies behind today, the closing number ahead"
    if opens.refused is not None:
        return CANNOT_TELL, "not open yet, and nothing tells when it will be"
    if opens.earliest is None:
        return NOT_HERE, "fewer than one future in ten reaches the opening number this year"
    if opens.likely is not None and (opens.likely - on).days <= soon_d:
        return SOON, f"likely opens within {soon_d:g} days"
    return TOO_EARLY, f"does not likely open within {soon_d:g} days"


def agreed(words: Iterable[str]) -> str:
    """One cautious word for several tables' words about the same window.

    If they agree, that word. Two steps of the season apart, the word between; one step apart, the word that
    sends a person to look and hurries nobody: soon before now, closing before over. Further apart: cannot
    tell. Tables that cannot tell do not count while others can; a year too cool for one table counts as too
    early.
    """
    said = set(words) - {CANNOT_TELL}
    if not said:
        return CANNOT_TELL
    if said == {NOT_HERE}:
        return NOT_HERE
    steps = sorted(WORDS.index(TOO_EARLY if word == NOT_HERE else word) for word in said)
    first, last = steps[0], steps[-1]
    if first == last:
        return WORDS[first]
    if last - first > 2:
        return CANNOT_TELL
    if last - first == 2:
        return WORDS[first + 1]
    return {0: SOON, 1: SOON, 2: CLOSING, 3: CLOSING}[first]
