"""A desk for the tests: a service on this computer, short patience, pauses noted instead of slept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path

from dooryard.weather.fetch.answers import Answers
from dooryard.weather.fetch.asking import Asker
from dooryard.weather.fetch.limits import limits
from dooryard.weather.fetch.obtaining import Desk
from dooryard.weather.fetch.settings import Settings

NOW = datetime(2031, 6, 10, 12, 0, tzinfo=UTC)


@dataclass
class Notes:
    """Pauses [s] that would have been slept, and lines a person would have read."""

    pauses: list[float] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)


def desk_for(
    url: str, folder: Path, notes: Notes, *, now: datetime = NOW, offline: bool = False, chance: float = 1.0
) -> Desk:
    """A desk whose two services are the one at `url`."""
    settings = Settings(shelf=folder / "shelf", cache=folder / "cache", daily_url=url, forecast_url=url)
    patience = replace(limits(), connect_s=1.0, silence_s=0.3, answer_s=0.6, largest_answer_mb=1.0)
    tell: Callable[[str], None] = notes.lines.append
    asker = Asker(settings.agent, patience, now, tell, notes.pauses.append, lambda: chance)
    return Desk(settings, patience, Answers(settings.cache), None if offline else asker, now, tell)
