"""Sheet: one sum being said. It gathers sentences, figures, cautions and refusals and becomes a document."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan, Refusal, Stop, Table
from dooryard.plan.figures import FigureBook, join_range, plain_number
from dooryard.plan.task import Task
from dooryard.units import System

Space = Literal["cu ft", "cu yd"]
_SPACE_L: dict[Space, float] = {"cu ft": 28.316846592, "cu yd": 764.554857984}
_SQ_FT_M2 = 0.09290304


@dataclass
class Sheet:
    """A sum for a person who asked on a day. title : its heading, such as "Mulch". system : units to say it in.

    report : what kind of document it becomes.
    """

    title: str
    knowledge: Knowledge
    on: date
    system: System = "us"
    advice_days: int = 14
    report: str = "work"
    short: list[str] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)
    stops: list[Stop] = field(default_factory=list)
    tasks: list[Task] = field(default_factory=list)
    more_sources: set[str] = field(default_factory=set)
    _cautions: dict[str, None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.book = FigureBook(self.system)

    def fact(self, key: str) -> float:
        """A fact's value; its source joins the document's."""
        fact = self.knowledge.fact(key)
        self.more_sources.add(fact.source)
        return fact.value

    def fact_range(self, key: str) -> tuple[float, float]:
        """A fact's low and high ends; both its value if it has none."""
        fact = self.knowledge.fact(key)
        self.more_sources.add(fact.source)
        return (
            fact.value if fact.low is None else fact.low,
            fact.value if fact.high is None else fact.high,
        )

    def caution(self, *keys: str) -> tuple[str, ...]:
        """Note cautions, and give them for a task."""
        for key in keys:
            if key not in self.knowledge.cautions:
                raise KeyError(f"no caution {key!r} in the cautions table")
            self._cautions.setdefault(key)
        return keys

    def refuse(self, what: str, missing: str, how: str) -> None:
        """Refuse to say something: what, what is missing, how to get it."""
        self.refusals.append(Refusal(what, missing, how))

    def part(self, name: str, *sentences: str, table: Table | None = None) -> None:
        """A part with a heading of its own."""
        key = "".join(sign if sign.isalnum() else "-" for sign in name.lower())
        self.stops.append(Stop("part", key, name, tuple(sentences), table))

    def space(self, figure_id: str, name: str, value_l: float, method: str, *inputs: Input) -> str:
        """Enter a volume of something dry and give its mark: cubic feet and yards, or litres and cubic metres."""
        return self.book.plain(
            figure_id,
            name,
            value_l,
            self.space_words(value_l),
            method,
            unit="L",
            exact=self._space(value_l, plain_number),
            inputs=inputs,
        )

    def space_words(self, value_l: float) -> str:
        """A dry volume rounded for use."""
        return self._space(
            value_l, lambda number: f"{number:,.1f}".removesuffix(".0") if number < 100 else f"{number:,.0f}"
        )

    def _space(self, value_l: float, shown: object) -> str:
        assert callable(shown)
        if self.system == "metric":
            return f"{shown(value_l)} L" if value_l < 1000 else f"{shown(value_l / 1000)} m3"
        return f"{shown(value_l / _SPACE_L['cu ft'])} cu ft"

    def cubic_yards(self, value_l: float) -> str:
        """A dry volume in cubic yards, or cubic metres: how loose mulch and soil are sold."""
        if self.system == "metric":
            return f"{value_l / 1000:.2f} m3"
        return f"{value_l / _SPACE_L['cu yd']:.2f} cu yd"

    def span(self, low: float, high: float, unit: Literal["length", "depth", "temperature", "speed"]) -> str:
        """Two ends in words, the unit said once."""
        return join_range(self.book.show(low, unit), self.book.show(high, unit))

    def finish(self) -> Plan:
        """The document of all that was said."""
        return Plan(
            on=self.on,
            until=max(
                [
                    self.on + timedelta(days=self.advice_days),
                    *(task.to + timedelta(days=1) for task in self.tasks),
                ]
            ),
            advice_ends=self.on + timedelta(days=self.advice_days),
            units=self.system,
            yard={"name": self.title, "place": ""},
            station=None,
            summary=tuple(self.short),
            tasks=tuple(sorted(self.tasks, key=lambda task: (task.from_, task.to))),
            ahead=(),
            walk=tuple(self.stops),
            organisms=(),
            refusals=tuple(self.refusals),
            record=(),
            cautions=tuple(self._cautions),
            figures=self.book.figures,
            charts=(),
            knowledge=self.knowledge,
            more_sources=frozenset(self.more_sources),
            report=self.report,
        )
