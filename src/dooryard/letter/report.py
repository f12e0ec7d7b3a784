"""What a document is called: a plan, a water report, a storm drill, a build sheet or a workshop's kit.

All of them are one kind of document, and each form asks here for its headings. A report leaves out the parts it
has nothing for; a plan says that there is nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dooryard.letter.prose import Document
from dooryard.words import day_words


@dataclass(frozen=True)
class Report:
    """Words for one kind of document.

    name : what it is called in a sentence. walk : heading over its stops on the page; walk_on_paper : on the sheet.
    """

    name: str
    walk: str
    walk_on_paper: str


PLAN = Report("plan", "A walk round the yard", "Roof, barrels, beds and trees")
REPORTS = {
    "water": Report("water report", "From roof to root", "From roof to root"),
    "storm": Report(
        "storm drill", "What comes, and what there is room for", "What comes, and the room for it"
    ),
    "build": Report("build sheet", "What to make, and how", "What to make, and how"),
    "kit": Report("workshop kit", "What to buy, bring and do", "What to buy, bring and do"),
    "season": Report("season report", "How we know, and what else to know", "How we know"),
    "work": Report("sum", "The sum, and how to go about it", "The sum, and how to go about it"),
    "look": Report("diagnosis", "What may be behind it", "What may be behind it"),
    "letter": Report("answer letter", "The answer", "The answer"),
    "frost": Report("frost report", "Cold nights, and the soil", "Cold nights, and the soil"),
    "watch": Report("watch list", "What matters this week", "What matters this week"),
}


def of(doc: Document) -> Report:
    """The words for a document; one that says nothing of its kind is a plan."""
    return REPORTS.get(doc.get("report", ""), PLAN)


def is_plan(doc: Document) -> bool:
    """Whether the document is a plan, which names even the parts that hold nothing."""
    return of(doc) is PLAN


# Parts of a letter that list things.
LISTED = ("seen", "options", "cautions")


def is_letter(doc: Document) -> bool:
    """Whether the document is a letter, which is read from top to bottom."""
    return bool(doc.get("report") == "letter")


def title(doc: Document) -> str:
    """The document's own heading, else its name and day: "plan of 20 May 2031"."""
    return str(doc.get("title") or f"{of(doc).name} of {day_words(doc['on'], year=True)}")


# Short answers, whose parts go on below one another instead of beginning a page.
_FLOWING = ("season", "work", "look", "watch", "letter")
# Long ones whose first page would hold a summary alone if nothing is to be done soon.
_FLOWING_IDLE = ("frost", "water")


def flows(doc: Document) -> bool:
    """Whether what follows the first part goes on below it on paper, as in a short answer."""
    kind = doc.get("report", "")
    return kind in _FLOWING or (kind in _FLOWING_IDLE and not doc["tasks"])


def has_week(doc: Document, week: Sequence[object]) -> bool:
    """Whether the week has a part of its own: in a plan always, in a report if it has a task. week : its tasks."""
    return is_plan(doc) or bool(week)


def capital(words: str) -> str:
    """Words as they begin a line, with a capital."""
    return words[:1].upper() + words[1:]


def has_tasks(doc: Document) -> bool:
    """Whether the document lists tasks: a plan always does, a report if it has any.

    A letter tells its one task, to look again, in a part of its own; calendar and table hold it all the same.
    """
    if is_letter(doc):
        return False
    return is_plan(doc) or bool(doc["tasks"] or doc["ahead"])
