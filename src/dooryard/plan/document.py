"""The plan as one JSON document: the only thing that page, sheet, screen, calendar and data are rendered from.

Its schema is `plan.schema.json` beside this file. Dates are ISO days, texts may hold ``[[figure id]]`` marks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from dooryard import __version__
from dooryard.figure import Figure
from dooryard.knowledge import Knowledge
from dooryard.knowledge.county import own_words
from dooryard.plan.task import Task

SCHEMA = "dooryard-plan-1"
Json = dict[str, Any]


@dataclass(frozen=True)
class Refusal:
    """What we will not say, what is missing for it, and how to get it."""

    what: str
    missing: str
    how: str


@dataclass(frozen=True)
class Table:
    """A small table of texts. `columns` are (heading, "left" or "right")."""

    caption: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]

    def json(self) -> Json:
        """The table as the document holds it."""
        return {
            "caption": self.caption,
            "columns": [{"text": text, "align": align} for text, align in self.columns],
            "rows": [list(row) for row in self.rows],
        }


@dataclass(frozen=True)
class Stop:
    """One stop of the walk through the yard: a roof, a storage, a bed or a plant.

    kind : "roof", "storage", "bed", "plant", or "part" for a part of a report that is no place.
    """

    kind: str
    id: str
    name: str
    sentences: tuple[str, ...]
    table: Table | None = None
    charts: tuple[str, ...] = ()

    def json(self) -> Json:
        """The stop as the document holds it."""
        return {
            "id": self.id,
            "kind": self.kind,
            "name": self.name,
            "sentences": list(self.sentences),
            "table": None if self.table is None else self.table.json(),
            "charts": list(self.charts),
        }


@dataclass(frozen=True)
class Plan:
    """One yard's dated plan, ready to be rendered. See `plan.schema.json` for each part.

    report : "" for a plan, else "water", "storm", "build", "kit", "season" or "work". title : words for
    the heading in place of the usual ones. station : None for a sheet that needs no weather.
    """

    on: date
    until: date
    advice_ends: date
    units: str
    yard: Mapping[str, str]
    station: Mapping[str, Any] | None
    summary: tuple[str, ...]
    tasks: tuple[Task, ...]
    ahead: tuple[Task, ...]
    walk: tuple[Stop, ...]
    organisms: tuple[Json, ...]
    refusals: tuple[Refusal, ...]
    record: tuple[str, ...]
    cautions: tuple[str, ...]
    figures: Mapping[str, Figure]
    charts: tuple[Json, ...]
    knowledge: Knowledge = field(repr=False)
    more_sources: frozenset[str] = frozenset()
    report: str = ""
    title: str = ""

    @property
    def needs_a_person(self) -> bool:
        """Whether something was refused: exit code 1 of the command."""
        return bool(self.refusals)

    def document(self) -> Json:
        """The whole plan as plain dicts, lists, texts and numbers."""
        methods = {figure.method for figure in self.figures.values()}
        sources = set(self.more_sources)
        sources |= {self.knowledge.methods[key].source for key in methods}
        sources |= {self.knowledge.cautions[key].source for key in self.cautions}
        for figure in self.figures.values():
            sources |= {item.source for item in figure.inputs if item.source in self.knowledge.sources}
        return {
            "schema": SCHEMA,
            "program": f"dooryard {__version__}",
            "on": self.on.isoformat(),
            "until": self.until.isoformat(),
            "advice_ends": self.advice_ends.isoformat(),
            "units": self.units,
            "language": "en",
            **({"report": self.report} if self.report else {}),
            **({"title": self.title} if self.title else {}),
            "yard": dict(self.yard),
            "station": None if self.station is None else dict(self.station),
            "summary": list(self.summary),
            "tasks": [_task(task) for task in self.tasks],
            "ahead": [_task(task) for task in self.ahead],
            "walk": [stop.json() for stop in self.walk],
            "organisms": list(self.organisms),
            "refusals": [{"what": r.what, "missing": r.missing, "how": r.how} for r in self.refusals],
            "record": list(self.record),
            "cautions": [self._caution(key) for key in self.cautions],
            "figures": {key: _figure(figure) for key, figure in self.figures.items()},
            "methods": {key: self._method(key) for key in sorted(methods)},
            "sources": {key: self._source(key) for key in sorted(sources & set(self.knowledge.sources))},
            "charts": list(self.charts),
        }

    def _caution(self, key: str) -> Json:
        caution = self.knowledge.cautions[key]
        return {"id": key, "text": caution.text, "source": caution.source, "status": caution.status}

    def _method(self, key: str) -> Json:
        method = self.knowledge.methods[key]
        return {
            "name": method.name,
            "formula": method.formula,
            "limits": method.limits,
            "source": method.source,
            "status": method.status,
        }

    def _source(self, key: str) -> Json:
        source = self.knowledge.sources[key]
        return {"title": source.title + own_words(source), "author": source.author, "year": source.year}


def unmarked(text: str) -> str:
    """A text from outside (a record's own words) with nothing in it that could be taken for a figure's mark."""
    return text.replace("[[", "[").replace("]]", "]")


def marks(texts: Iterable[str]) -> list[str]:
    """Ids of the figures that texts refer to, in order of first appearance."""
    found: dict[str, None] = {}
    for text in texts:
        for figure_id in re.findall(r"\[\[([^\]]+)\]\]", text):
            found.setdefault(figure_id)
    return list(found)


def _task(task: Task) -> Json:
    document: Json = {
        "id": task.id,
        "verb": task.verb,
        "place": task.place,
        "kind": task.kind,
        "what": task.what,
        "from": task.from_.isoformat(),
        "to": task.to.isoformat(),
        "best": None if task.best is None else task.best.isoformat(),
        "why": task.why,
        "cautions": list(task.cautions),
        "if_missed": task.if_missed,
    }
    if task.organism is not None:
        document["organism"] = task.organism
    return document


def _figure(figure: Figure) -> Json:
    return {
        "name": figure.name,
        "value": figure.value,
        "unit": figure.unit,
        "shown": figure.shown,
        "exact": figure.exact,
        "low": figure.low,
        "high": figure.high,
        "method": figure.method,
        "inputs": [{"name": i.name, "shown": i.shown, "source": i.source} for i in figure.inputs],
        "note": figure.note,
    }
