"""Draft: what a plan is being built from and what has been said so far.

Each part of the plan (storages, beds, organisms, upkeep) is a function that reads the inputs and adds its
sentences, tasks, figures, cautions and refusals to the draft.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING

from dooryard.knowledge import Knowledge
from dooryard.plan.document import Json, Refusal, Stop
from dooryard.plan.figures import FigureBook
from dooryard.plan.task import Task
from dooryard.season.ensemble import years_heard
from dooryard.weather.forecast import Forecast
from dooryard.weather.outlook import Outlook
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Yard

if TYPE_CHECKING:
    from dooryard.water.design_rain import DesignBurst
    from dooryard.weather.gauge import GaugeRecord
    from dooryard.weather.readers.atlas14 import DesignTable


@dataclass
class Draft:
    """Inputs of a plan (yard, record before `on`, outlook from `on`) and the parts said so far.

    gauge, design_table : a sub-daily rain record and a design table of the place, where there is one. bursts :
    what `plan.bursts` made of them, once it was asked.
    """

    yard: Yard
    record: WeatherRecord
    outlook: Outlook
    knowledge: Knowledge
    on: date
    until: date
    forecast: Forecast | None
    book: FigureBook
    tasks: list[Task] = field(default_factory=list)
    walk: list[Stop] = field(default_factory=list)
    organisms: list[Json] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)
    charts: list[Json] = field(default_factory=list)
    record_notes: list[str] = field(default_factory=list)
    more_sources: set[str] = field(default_factory=set)
    headlines: list[tuple[int, str]] = field(default_factory=list)
    gauge: GaugeRecord | None = None
    design_table: DesignTable | None = None
    bursts: tuple[DesignBurst, ...] | None = None
    _cautions: dict[str, None] = field(default_factory=dict)

    def caution(self, *keys: str) -> tuple[str, ...]:
        """Note that these cautions apply to the plan, and give them for a task."""
        for key in keys:
            if key not in self.knowledge.cautions:
                raise KeyError(f"no caution {key!r} in the cautions table")
            self._cautions.setdefault(key)
        return keys

    @property
    def cautions(self) -> tuple[str, ...]:
        """Every caution noted, in the order noted."""
        return tuple(self._cautions)

    @property
    def heat_years(self) -> tuple[int, ...]:
        """The past years whose warmth is played on for dates of heat sums."""
        return years_heard(self.outlook.years, self.on, self.knowledge)

    @property
    def last_day(self) -> date:
        """Last day of the near plan (the window's end is not included in it)."""
        return self.until - timedelta(days=1)

    def headline(self, rank: int, text: str) -> None:
        """Offer a sentence for the summary; lower ranks come first."""
        self.headlines.append((rank, text))

    def fact(self, key: str) -> float:
        """A fact's value from the knowledge tables."""
        return self.knowledge.fact(key).value
