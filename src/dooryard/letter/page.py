"""The plan as one HTML file that works alone: offline, without scripts, by keyboard, on a phone and on paper.

The template is `templates/page.html`, its look `templates/page.css`. Everything a person typed is escaped by
the template engine; the only markup made here is the link from a figure to its entry under *Why*, and dates.
"""

from __future__ import annotations

import base64
from collections.abc import Mapping
from datetime import timedelta
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from dooryard.letter import prose, report
from dooryard.letter.drawing import NARROW, TRUE_SIZE, WIDE, svg
from dooryard.words import as_date, dates_words, day_words

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

_WEEK = timedelta(days=7)
_FONTS = (("AtkinsonHyperlegibleNext-Regular.woff2", 400), ("AtkinsonHyperlegibleNext-Bold.woff2", 700))

STATUS_WORDS = {
    "seen": "we read the source itself",
    "second-hand": "as another work quotes it",
    "from memory": "from memory of the trade, not looked up",
    "common practice": "common practice, told in many places",
    "computed": "computed",
    "judged": "a judgement, no printed number",
}


def render(doc: Mapping[str, Any]) -> str:
    """The plan document as one self-contained HTML page.

    doc : a plan document that fits ``plan/plan.schema.json``.

    Fonts are embedded if the package carries them; otherwise the reader's own sans-serif face stands in.
    Raises KeyError if a text marks a figure, or a figure a method, that the document does not hold.
    """
    return _environment().get_template("page.html").render(doc=doc, page=_Page(doc), css=_style()).lstrip()


class _Page:
    """What the template asks of one document: texts with links, numbered figures, tasks sorted by week."""

    choices_lead = prose.CHOICES_LEAD

    def __init__(self, doc: Mapping[str, Any]) -> None:
        self.doc = doc
        self.report = report.of(doc)
        self.title = report.title(doc)
        self.is_plan = report.is_plan(doc)
        self.has_tasks = report.has_tasks(doc)
        self.numbers = prose.footnotes(doc)
        self.uses: dict[str, list[str]] = {}
        on = as_date(doc["on"])
        self.week_end = on + _WEEK - timedelta(days=1)
        self.week = [task for task in doc["tasks"] if as_date(task["from"]) <= self.week_end]
        self.later = [task for task in doc["tasks"] if as_date(task["from"]) > self.week_end]
        cautions = {caution["id"]: caution for caution in doc["cautions"]}
        self.letters = prose.caution_letters(doc)
        parts = prose.caution_parts(doc)
        # Each caution once, in three groups: what this week's tasks name, what holds always, what comes later.
        self.caution_groups = [
            (heading, [cautions[key] for key in parts[part]])
            for heading, part in (("", "week"), ("At all times", "always"), ("For what comes later", "later"))
            if parts[part]
        ]
        self.charts = {chart["id"]: chart for chart in doc["charts"]}
        placed = {chart_id for stop in doc["walk"] for chart_id in stop["charts"]}
        loose = [chart for chart in doc["charts"] if chart["id"] not in placed]
        self.season_charts = [chart for chart in loose if chart["kind"] == "season"]
        self.loose_charts = [chart for chart in loose if chart["kind"] != "season"]

    def parts(self) -> list[tuple[str, str]]:
        """Anchors and words of the page's parts, in order; a plan has every part, a report those it fills."""
        doc = self.doc
        found = (
            ("week", "this week", report.has_week(doc, self.week)),
            ("cautions", "cautions", doc["cautions"]),
            ("walk", "walk round the yard" if self.is_plan else self.report.walk.lower(), doc["walk"]),
            ("ahead", "days ahead", self.has_tasks or self.season_charts),
            ("organisms", "pests and plants", doc["organisms"]),
            ("refusals", "what we do not say", doc["refusals"]),
            ("record", "weather record", doc["record"]),
            ("why", "why", doc["figures"]),
        )
        return [(anchor, words) for anchor, words, held in found if held or self.is_plan]

    def has(self, anchor: str) -> bool:
        """Whether the page has the part of that anchor."""
        return any(anchor == found for found, _ in self.parts())

    def capital(self, words: str) -> str:
        """Words as they begin a line."""
        return report.capital(words)

    # --- texts ------------------------------------------------------------------------------------------

    def say(self, text: str | None) -> Markup:
        """A text of the document as HTML: escaped, its figures linked to their entries under Why."""
        from markupsafe import Markup, escape

        parts: list[Markup] = []
        for plain, figure_id in prose.pieces(text or ""):
            parts.append(escape(prose.hold_together(plain)) if figure_id is None else self._link(figure_id))
        return Markup("").join(parts)

    def on_paper(self, text: str | None) -> Markup:
        """The same for a text that only paper shows a second time: numbered as usual, but without links."""
        from markupsafe import Markup, escape

        parts: list[Markup] = []
        for plain, figure_id in prose.pieces(text or ""):
            if figure_id is None:
                parts.append(escape(prose.hold_together(plain)))
            else:
                shown = prose.hold_together(self.doc["figures"][figure_id]["shown"])
                parts.append(
                    Markup('{}<sup class="note-number">{}</sup>').format(shown, self.numbers[figure_id])
                )
        return Markup("").join(parts)

    def caution_letters(self, task: Mapping[str, Any]) -> list[tuple[str, str]]:
        """Id and letter of each caution of a task, in the order of the letters."""
        return [(key, letter) for key, letter in self.letters.items() if key in task["cautions"]]

    def _link(self, figure_id: str) -> Markup:
        from markupsafe import Markup

        figure = self.doc["figures"][figure_id]
        uses = self.uses.setdefault(figure_id, [])
        anchor = f"use-{figure_id}-{len(uses) + 1}"
        uses.append(anchor)
        return Markup('<a class="figure" id="{}" href="#why-{}" data-note="{}">{}</a>').format(
            anchor, figure_id, self.numbers[figure_id], prose.hold_together(figure["shown"])
        )

    def station(self) -> Markup:
        """Where the weather comes from, the ends of its record marked as times for machines."""
        from markupsafe import Markup

        station = self.doc["station"]
        said = prose.hold_together(station["words"].strip().rstrip("."))
        first, last = self.day(station["first"], year=True), self.day(station["last"], year=True)
        return Markup("{}{} record {} to {}.").format(
            station["name"], Markup(", {};").format(said) if said else ",", first, last
        )

    def hold(self, text: str) -> str:
        """A text without marks, its numbers kept beside their units."""
        return prose.hold_together(text)

    def day(self, iso: str | None, *, year: bool = False, weekday: bool = False) -> Markup:
        """A day in words, marked as a time for machines; empty for no day."""
        from markupsafe import Markup

        if iso is None:
            return Markup("")
        words = prose.hold_together(day_words(iso, year=year, weekday=weekday))
        return Markup('<time datetime="{}">{}</time>').format(iso, words)

    def days(self, task: Mapping[str, Any]) -> Markup:
        """A task's window as two times, and its best day."""
        from markupsafe import Markup

        first, last, best = (task["from"], task["to"], task["best"])
        if first == last:
            return self.day(first, weekday=True)
        start = as_date(first)
        end = as_date(last)
        if (start.year, start.month) == (end.year, end.month):
            opening = Markup('<time datetime="{}">{}</time>').format(first, start.day)
        else:
            opening = self.day(first, year=start.year != end.year)
        words = Markup("{} to {}").format(opening, self.day(last, year=start.year != end.year))
        return words if best is None else Markup("{}, best on {}").format(words, self.day(best, weekday=True))

    def dates(self, row: Mapping[str, Any]) -> str:
        """Earliest, likely and latest day of a published row, in words."""
        return prose.hold_together(dates_words(row["earliest"], row["likely"], row["latest"]))

    def today(self, task: Mapping[str, Any]) -> bool:
        """Whether the task needs a person today: its window is open and it is not a wait."""
        return task["verb"] != "Wait" and bool(task["from"] <= self.doc["on"] <= task["to"])

    # --- drawings ---------------------------------------------------------------------------------------

    def drawing(self, chart: Mapping[str, Any]) -> Markup:
        """The drawing twice, for a column and, with its letters kept large, for a phone; one is shown."""
        from markupsafe import Markup

        spelled = {**chart, "words": prose.spell(chart["words"], self.doc["figures"])}
        if chart["kind"] in TRUE_SIZE:
            return Markup(
                '<div class="true-size" role="region" tabindex="0" aria-label="{}">{}</div>'
            ).format(chart["title"], Markup(svg(spelled)))
        return Markup('<div class="wide">{}</div><div class="narrow">{}</div>').format(
            Markup(svg(spelled, WIDE)), Markup(svg(spelled, NARROW))
        )

    # --- why --------------------------------------------------------------------------------------------

    def entries(self) -> list[dict[str, Any]]:
        """One entry for each figure, those the text mentions first and in its order.

        To be called when all texts have been said: the ways back are known only then.
        """
        figures = self.doc["figures"]
        order = sorted(figures, key=lambda figure_id: self.numbers.get(figure_id, len(figures) + 1))
        return [
            {
                "id": figure_id,
                "number": self.numbers.get(figure_id),
                "figure": figures[figure_id],
                "method": self.doc["methods"][figures[figure_id]["method"]],
                "inputs": [self._input(item) for item in figures[figure_id]["inputs"]],
                "uses": self.uses.get(figure_id, []),
            }
            for figure_id in order
        ]

    def _input(self, item: Mapping[str, Any]) -> dict[str, Any]:
        """An input with its source in words, or a link if it is a figure itself."""
        source = item["source"]
        figure = self.doc["figures"].get(source)
        return {
            "name": item["name"],
            "shown": prose.hold_together(item["shown"]),
            "figure": source if figure is not None else None,
            "source": figure["name"] if figure is not None else self.source(source),
        }

    def source(self, source_id: str) -> str:
        """A source in words; an id we have no entry for is itself the words (such as "yard file")."""
        if source_id in self.doc["methods"]:
            return str(self.doc["methods"][source_id]["name"])
        source = self.doc["sources"].get(source_id)
        if source is None:
            return source_id
        return ", ".join(str(part) for part in (source["author"], source["title"], source["year"]) if part)

    def status(self, status: str) -> str:
        """What a status means, in words."""
        return STATUS_WORDS.get(status, status)


def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("dooryard.letter", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


@cache
def _style() -> Markup:
    """The style sheet with the typeface embedded."""
    from markupsafe import Markup

    folder = files("dooryard.letter")
    faces = []
    for name, weight in _FONTS:
        font = folder / "fonts" / name
        if font.is_file():
            data = base64.b64encode(font.read_bytes()).decode("ascii")
            faces.append(
                "@font-face{font-family:'Atkinson Hyperlegible Next';font-style:normal;"
                f"font-weight:{weight};font-display:swap;"
                f"src:url(data:font/woff2;base64,{data}) format('woff2')}}"
            )
    return Markup("\n".join([*faces, (folder / "templates" / "page.css").read_text("utf-8")]))
