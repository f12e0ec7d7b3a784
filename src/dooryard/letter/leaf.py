"""What the printed sheet holds, as plain data for the typesetter: texts in runs, tasks, cautions, drawings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any

from dooryard.letter import appendix, report
from dooryard.letter.drawing import COLUMN, LARGE, PLATE, PLATES, SQUAT, svg
from dooryard.letter.prose import (
    CHOICES_LEAD,
    Document,
    caution_letters,
    caution_parts,
    footnotes,
    headline,
    hold_together,
    later_tasks,
    pieces,
    refusal_words,
    spell,
    station_words,
    verdict_words,
    week_tasks,
)
from dooryard.words import as_date, day_words, list_words, range_words, sentence

Json = dict[str, Any]
CHARTS_NOTE = (
    "The numbers behind each drawing, day by day, are in the page and the data file that go with this sheet."
)
# A stop with no more sentences than this has its name in the line; letters after which a paragraph may end.
BRIEF, PARAGRAPH = 2, 200
# A ribbon with a smaller share of known days is left to the page.
FEWEST_KNOWN = 0.25
LEFT_NOTE = "Drawn only on the page, for there is little to see in it yet:"
NOW = ("now", "closing")


def view(doc: Document, *, paper: str, large: bool) -> tuple[Json, dict[str, str]]:
    """The sheet's content and its drawings as SVG by file name.

    Raises KeyError with the id if a text names a figure the document does not hold.
    """
    leaf = _Leaf(doc)
    on = as_date(doc["on"])
    ahead = doc["ahead"] if report.has_tasks(doc) else ()
    made, ends = day_words(on, year=True), day_words(doc["advice_ends"], year=True)
    plates = [chart for chart in doc["charts"] if chart["kind"] in PLATES]
    shown = [chart for chart in doc["charts"] if tells_enough(chart) and chart not in plates]
    left = [chart["title"] for chart in doc["charts"] if not tells_enough(chart)]
    charts, drawings = leaf.charts(shown, large)
    whole_pages, plate_drawings = leaf.plates(plates)
    drawings |= plate_drawings
    content: Json = {
        "paper": paper,
        "large": large,
        "language": doc["language"],
        "title": f"{doc['yard']['name']}: {report.title(doc)}",
        "heading": doc["yard"]["name"][:1].upper() + doc["yard"]["name"][1:],
        "lead": hold_together(
            f"{report.capital(report.title(doc))}. This advice ends on {ends}. "
            f"{sentence(doc['yard'].get('place') or '')} {_weather(doc)}"
        ),
        "footer": {
            "left": " · ".join(
                [doc["yard"]["name"], *([doc["station"]["name"]] if doc["station"] is not None else [])]
            ),
            "dates": f"made on {made} · advice ends on {ends}",
        },
        "summary_heading": "In short",
        "summary": [leaf.runs(text) for text in doc["summary"]],
        "has_tasks": report.has_tasks(doc),
        "has_week": report.has_week(doc, week_tasks(doc)),
        "week": {
            "heading": f"This week, {range_words(on, on + timedelta(days=6))}",
            "tasks": [leaf.task(task) for task in week_tasks(doc)],
        },
        "reasons_heading": "Why, and what if missed",
        "caution_heading": "Caution",
        "cautions": [
            {"lead": None, "items": leaf.cautions("week")},
            {"lead": "At all times", "items": leaf.cautions("always")},
        ],
        "later_cautions": [{"lead": None, "items": leaf.cautions("later")}],
        "later": {
            "heading": f"{'After that' if report.has_week(doc, week_tasks(doc)) else 'Later'}, "
            f"to {day_words(as_date(doc['until']) - timedelta(days=1))}",
            "tasks": [leaf.task(task) for task in later_tasks(doc)],
        },
        "ahead": {"heading": "Later this season", "tasks": [leaf.task(task) for task in ahead]},
        # Lists that go to a shop or to the work bench want the whole width.
        "one_column": doc.get("report") in ("build", "kit", "work", "look", "letter"),
        "letter": report.is_letter(doc),
        "flows": report.flows(doc),
        "walk_heading": report.of(doc).walk_on_paper,
        "walk": [leaf.stop(stop) for stop in doc["walk"]],
        "organisms_heading": "Pests and diseases",
        "organisms": [leaf.organism(organism) for organism in doc["organisms"]],
        "refusals_heading": "What we do not say, and how to get it",
        "refusals": [leaf.runs(refusal_words(refusal)) for refusal in doc["refusals"]],
        "record_heading": "The weather record",
        "record": [leaf.runs(text) for text in doc["record"]],
        "charts_heading": "Drawings",
        "charts_note": CHARTS_NOTE,
        "charts_left": leaf.plain(f"{LEFT_NOTE} {'; '.join(left)}.") if left else None,
        "charts": charts,
        "plates": whole_pages,
        "why": appendix.view(doc),
    }
    return content, drawings


def _weather(doc: Document) -> str:
    """Where the weather comes from; nothing for a sheet that needs none."""
    return "" if doc["station"] is None else f"Weather: {station_words(doc)}"


class _Leaf:
    """Turns parts of one document into what the template takes."""

    def __init__(self, doc: Document) -> None:
        self.doc = doc
        self.figures = doc["figures"]
        self.numbers = footnotes(doc)
        # Each caution is printed once: with the tasks that name it first, or once for all if none does.
        self.parts = caution_parts(doc)
        self.letters = caution_letters(doc)

    def runs(self, text: str) -> list[Json]:
        """The text as runs: {"t": words}, and {"t": shown, "n": note number} for a figure."""
        found: list[Json] = []
        for words, figure_id in pieces(hold_together(text)):
            if figure_id is None:
                found.append({"t": words})
            else:
                shown = hold_together(str(self.figures[figure_id]["shown"]))
                found.append({"t": shown, "n": self.numbers[figure_id]})
        return found

    def plain(self, text: str) -> str:
        """The text with its figures and no notes."""
        return hold_together(spell(text, self.figures))

    def cautions(self, part: str) -> list[Json]:
        """The cautions of one part, in full, each with its letter; those that always hold have none."""
        texts = {caution["id"]: caution["text"] for caution in self.doc["cautions"]}
        return [{"letter": self.letters.get(key), "text": self.runs(texts[key])} for key in self.parts[part]]

    def task(self, task: Mapping[str, Any]) -> Json:
        """A task's row: its days, its verb and the rest, why, if missed, and the letters of its cautions."""
        verb, rest = headline(task)
        on = as_date(self.doc["on"])
        best = None if task["best"] is None else as_date(task["best"])
        first, last = as_date(task["from"]), as_date(task["to"])
        letters = [mark for key, mark in self.letters.items() if key in task["cautions"]]
        return {
            "place": self.plain(task["place"]),
            "days": hold_together(range_words(first, last)),
            "best": None if best is None or first == last else hold_together(f"best on {day_words(best)}"),
            "verb": verb,
            "rest": self.runs(rest),
            "today": task["verb"] != "Wait" and first <= on <= last,
            "why": self.runs(task["why"]),
            "missed": self.runs(task["if_missed"]),
            "cautions": f"Caution {list_words(letters)}." if letters else None,
        }

    def stop(self, stop: Mapping[str, Any]) -> Json:
        """One stop of the walk: its sentences as paragraphs, and its table unless a glass shows its heights."""
        kinds = {chart["id"]: chart["kind"] for chart in self.doc["charts"]}
        drawn = any(kinds[key] == "glass" for key in stop["charts"])
        letter = report.is_letter(self.doc)
        listed = letter and stop["id"] in report.LISTED
        return {
            "name": sentence(stop["name"]).rstrip("."),
            "brief": len(stop["sentences"]) <= BRIEF and not letter,
            # What a letter lists is one thing a line.
            "texts": [
                self.runs(text) for text in (stop["sentences"] if listed else paragraphs(stop["sentences"]))
            ],
            "table": None if stop["table"] is None or drawn else self.table(stop["table"]),
        }

    def organism(self, organism: Mapping[str, Any]) -> Json:
        """A verdict: its word, the rest of the sentence, reason, what to do, what sources disagree on."""
        word, rest = verdict_words(organism)
        changes = organism["changes_on"]
        latin = f" ({organism['scientific']})" if organism["scientific"] else ""
        return {
            "name": f"{sentence(organism['name']).rstrip('.')}{latin}, {organism['place']}",
            "word": word,
            "rest": self.runs(rest),
            "today": organism["word"] in NOW,
            "reason": self.runs(organism["reason"]),
            "do": self.runs(organism["do"]),
            "choices_lead": f"{CHOICES_LEAD}:",
            "choices": [self.runs(choice) for choice in organism.get("choices", ())],
            "conflict": self.runs(organism["conflict"] or ""),
            "changes": f"This answer changes about {day_words(changes)}." if changes else None,
        }

    def table(self, table: Mapping[str, Any]) -> Json:
        """A table with its texts spelled."""
        return {
            "caption": self.plain(table.get("caption") or "") or None,
            "columns": [{"text": self.plain(c["text"]), "align": c["align"]} for c in table["columns"]],
            "rows": [
                ["" if cell is None else self.plain(str(cell)) for cell in row] for row in table["rows"]
            ],
        }

    def charts(self, shown: Sequence[Mapping[str, Any]], large: bool) -> tuple[list[Json], dict[str, str]]:
        """Each drawing with its title, its words and its file; the words double as its alternative text.

        Words that stand under an earlier drawing are not printed again.
        """
        found: list[Json] = []
        files: dict[str, str] = {}
        said: set[str] = set()
        for number, chart in enumerate(shown, 1):
            file = f"drawing-{number}.svg"
            # Letters keep their size in a drawing: they print at 14 pt over a sheet, at 9 pt in half of it.
            files[file] = svg(chart, LARGE if large else COLUMN, depth=SQUAT)
            found.append(
                {
                    "title": self.plain(chart["title"]),
                    "words": [] if chart["words"] in said else self.runs(chart["words"]),
                    "alt": self.plain(f"{sentence(chart['title'])} {chart['words']}"),
                    "file": file,
                }
            )
            said.add(chart["words"])
        return found, files

    def plates(self, charts: Sequence[Mapping[str, Any]]) -> tuple[list[Json], dict[str, str]]:
        """Drawings that take a page each and print in the size they state."""
        files = {f"plate-{n}.svg": svg(chart, PLATE) for n, chart in enumerate(charts, 1)}
        pages = [
            {
                "title": self.plain(chart["title"]),
                "words": self.runs(chart["words"]),
                "alt": self.plain(f"{sentence(chart['title'])} {chart['words']}"),
                "file": file,
            }
            for chart, file in zip(charts, files, strict=True)
        ]
        return pages, files


def tells_enough(chart: Mapping[str, Any]) -> bool:
    """Whether a drawing earns its place on paper.

    Not so a ribbon that is mostly white, as of a bed just planted, nor steps that are all flat.
    """
    if chart["kind"] == "worth":
        return any(step[year] for step in chart["steps"] for year in chart["years"])
    if chart["kind"] != "ribbon":
        return True
    past = [value for day, value in zip(chart["dates"], chart["high"], strict=True) if day < chart["today"]]
    return len(past) > 0 and sum(value is not None for value in past) >= FEWEST_KNOWN * len(past)


def paragraphs(sentences: Sequence[str]) -> list[str]:
    """Topics of one sentence or two joined until a paragraph has some length: paper is scarcer than screen."""
    found: list[str] = []
    for said in sentences:
        if found and len(found[-1]) < PARAGRAPH:
            found[-1] = f"{found[-1]} {said}"
        else:
            found.append(said)
    return found
