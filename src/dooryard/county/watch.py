"""Which few things matter this week over all stations: what opens, is open, closes, and what to stop recommending."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from dooryard.season.verdicts import OrganismVerdict
from dooryard.season.windows import CLOSING, NOW, OVER, SOON, WindowVerdict

MOST = 8
MOST_STOPS = 4
# A window that opens within so many days is looked for this week; one that closed within so many is still asked about.
SOON_DAYS = 10
STOP_DAYS = 21
# What has been open for long is known by now; what opens, closes or just ended is news.
_NEWEST, _CLOSING, _COMING, _LONG_OPEN = 100.0, 90.0, 80.0, 60.0


@dataclass(frozen=True)
class Item:
    """One thing to tell. organism : key. verdicts : by station, of those that can say something.

    news : how pressing it is; higher comes first.
    """

    organism: str
    verdicts: Mapping[str, OrganismVerdict]
    news: float

    @property
    def name(self) -> str:
        """Its common name."""
        return next(iter(self.verdicts.values())).name

    def at(self, *words: str) -> tuple[str, ...]:
        """Stations at which its verdict is one of these words."""
        return tuple(station for station, verdict in self.verdicts.items() if verdict.word in words)


@dataclass(frozen=True)
class Watch:
    """What to tell. look : what matters, the most pressing first. stop : what to stop recommending, the latest first.

    silent : stations whose records cannot say anything today, with the reason.
    """

    look: tuple[Item, ...]
    stop: tuple[Item, ...]
    silent: Mapping[str, str]


def watch(judged: Mapping[str, Sequence[OrganismVerdict]], on: date, *, most: int = MOST) -> Watch:
    """Rank verdicts of all stations. judged : by station, every organism's verdict. most : things to look for."""
    by_organism: dict[str, dict[str, OrganismVerdict]] = {}
    silent: dict[str, str] = {}
    for station, verdicts in judged.items():
        telling = [one for one in verdicts if one.refusal is None and window_of(one) is not None]
        if verdicts and not telling:
            silent[station] = next((one.reason for one in verdicts if one.refusal is not None), "")
        for verdict in telling:
            by_organism.setdefault(verdict.organism, {})[station] = verdict
    items = [
        Item(key, found, max(_news(one, on) for one in found.values())) for key, found in by_organism.items()
    ]
    look = sorted((item for item in items if item.news > 0), key=lambda item: (-item.news, item.name))
    over = [item for item in items if item.news <= 0 and _just_over(item, on) is not None]
    stop = sorted(over, key=lambda item: (_just_over(item, on) or 0, item.name))
    return Watch(tuple(look[:most]), tuple(stop[:MOST_STOPS]), silent)


def window_of(verdict: OrganismVerdict) -> WindowVerdict | None:
    """The window that decided; if what was seen decided, the first table's."""
    if verdict.deciding is not None or verdict.word not in (NOW, CLOSING, SOON, OVER):
        return verdict.deciding
    return verdict.windows[0] if verdict.windows else None


def _news(verdict: OrganismVerdict, on: date) -> float:
    """How pressing one verdict is; 0 for none of this week's business."""
    opens, closes = _likely(verdict)
    if verdict.word == NOW and verdict.deciding is None:
        return _NEWEST  # somebody saw it
    if verdict.word == NOW:
        since = _LONG_OPEN if opens is None else (on - opens).days
        return max(_LONG_OPEN, _NEWEST - since) if since <= _NEWEST - _LONG_OPEN else _LONG_OPEN
    if verdict.word == CLOSING:
        return _CLOSING - (0 if closes is None else min(9, max(0, (closes - on).days)))
    if verdict.word == SOON and opens is not None and (opens - on).days <= SOON_DAYS:
        return _COMING - max(0, (opens - on).days)
    return 0.0


def _likely(verdict: OrganismVerdict) -> tuple[date | None, date | None]:
    window = window_of(verdict)
    return (None, None) if window is None else (window.opens.likely, window.closes.likely)


def _just_over(item: Item, on: date) -> int | None:
    """Days since its time ended at the last station, if it is over at all of them and not long ago."""
    days = []
    for verdict in item.verdicts.values():
        _, closes = _likely(verdict)
        if verdict.word != OVER or closes is None:
            return None
        days.append((on - closes).days)
    return min(days) if days and min(days) <= STOP_DAYS else None
