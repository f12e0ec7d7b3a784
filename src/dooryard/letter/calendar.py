"""The plan's tasks as a calendar (RFC 5545): all-day entries that a new plan replaces, never doubles."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from urllib.parse import quote
from uuid import UUID, uuid5

from dooryard.letter import report
from dooryard.letter.prose import CHOICES_LEAD, Document, headline, spell, task_days
from dooryard.words import as_date, day_words, sentence

if TYPE_CHECKING:
    from icalendar import Event

# Names the space our task ids live in; drawn once at random, never to change.
_SPACE = UUID("6f0d4a52-2c7b-4d0e-9a57-8a3f5f1b7c11")
# The evening before an all-day entry, six hours before its midnight; or, if that is past, its morning.
_EVENING_BEFORE = timedelta(hours=-6)
_MORNING = timedelta(hours=8)
# Longest name of an entry [letters]: what a phone shows in two lines.
_LONGEST_NAME = 70
# Where a long order may end and still be one: at a comma, or before a word that only adds to it.
_CLAUSE_END = re.compile(r"[,;:]? (?=(?:and|or|before|until|so that)\b)|[,;] ")
# A look that can wait longer than this does not ring.
_SHORT_LOOK = timedelta(days=3)


def render(doc: Document, *, stamp: datetime) -> bytes:
    """The tasks as an iCalendar file in UTF-8.

    stamp : when the plan was made, with its time zone; becomes DTSTAMP. The same input gives the same bytes.

    Every task is an all-day entry from its first to its last day that leaves the day free. Its UID comes from
    the yard, the task's id and the year, so a plan made again with other dates moves the entry.

    Raises
    ------
    ValueError
        If `stamp` has no time zone.
    """
    from icalendar import Calendar

    if stamp.tzinfo is None:
        raise ValueError("stamp needs a time zone")
    calendar = Calendar()
    calendar.add("prodid", f"-//{doc['program']}//plan//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", doc["yard"]["name"])
    for uid, task in _with_uids(doc):
        calendar.add_component(_event(doc, task, uid, stamp))
    return bytes(calendar.to_ical())


def _event(doc: Document, task: Mapping[str, Any], uid: str, stamp: datetime) -> Event:
    from icalendar import Alarm, Event

    figures = doc["figures"]
    summary = _plain(_name(doc, task))
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", stamp)
    event.add("dtstart", as_date(task["from"]))
    event.add("dtend", as_date(task["to"]) + timedelta(days=1))
    event.add("summary", summary)
    event.add("description", _plain(spell(_description(doc, task), figures)))
    event.add("location", _plain(f"{task['place']}, {doc['yard']['name']}"))
    event.add("categories", [task["verb"]])
    event.add("transp", "TRANSPARENT")
    if _rings(task):
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", summary)
        alarm.add("trigger", _trigger(task, as_date(doc["on"])))
        event.add_component(alarm)
    return event


def _name(doc: Document, task: Mapping[str, Any]) -> str:
    """The entry's name: the order's first sentence, cut where a clause ends if it is long.

    What a reader would miss in it follows in brackets: the organism, that it is about watering, the place.
    """
    first = re.split(r"(?<=[.?])\s+(?=[A-Z\[])", "".join(headline(task)), maxsplit=1)[0]
    whole = spell(first, doc["figures"]).replace("\n", " ").rstrip(".")
    name = whole if len(whole) <= _LONGEST_NAME else _cut(whole, task)
    # An organism's second name, as in "lilac borer (ash borer)", is left out.
    organisms = {organism["id"]: organism["name"].partition(" (")[0] for organism in doc["organisms"]}
    telling = [organisms.get(task.get("organism"), ""), "watering" if task["kind"] == "water" else ""]
    said = _bare(name)
    missing = [
        part for part in (*telling, task["place"]) if part and _bare(part).removesuffix("ing") not in said
    ]
    return f"{name} ({', '.join(missing)})" if missing else name


def _cut(order: str, task: Mapping[str, Any]) -> str:
    """The order up to the last clause that fits, but at least one clause, and never cut inside the place."""
    place = re.search(
        re.escape(task["place"]).replace(r"\ and\ ", r"\ and\ (?:the\ )?"), order, re.IGNORECASE
    )
    inside = range(*place.span()) if place else range(0)
    # The verb and its colon alone are no order.
    least = len(task["verb"]) + 1
    ends = [at for found in _CLAUSE_END.finditer(order) if (at := found.start()) > least and at not in inside]
    fitting = [end for end in ends if end <= _LONGEST_NAME]
    return order[: max(fitting)] if fitting else order[: min(ends)] if ends else order


def _bare(words: str) -> str:
    """Words to compare by: no capitals, no articles."""
    return re.sub(r"\bthe ", "", words.lower())


def _rings(task: Mapping[str, Any]) -> bool:
    """Whether a task has an alarm: what is to be done or asked, and a look that cannot wait."""
    if task["verb"] == "Look":
        return as_date(task["to"]) - as_date(task["from"]) < _SHORT_LOOK
    return task["verb"] in ("Do", "Ask")


def _trigger(task: Mapping[str, Any], on: date) -> timedelta:
    """From the entry's start to the evening before its best day (else its first); never before the plan's day."""
    first = as_date(task["from"])
    best = first if task.get("best") is None else as_date(task["best"])
    return (best - first) + (_EVENING_BEFORE if best > on else _MORNING)


def _description(doc: Document, task: Mapping[str, Any]) -> str:
    """What, where, when, why, choices, cautions and what if missed, each on its own line."""
    cautions = {caution["id"]: caution["text"] for caution in doc["cautions"]}
    lines = ["".join(headline(task)), f"Where: {task['place']}, {doc['yard']['name']}."]
    lines += [f"When: {sentence(task_days(task))}", f"Why: {task['why']}"]
    choices = _choices(doc, task)
    lines += (
        [f"{CHOICES_LEAD}:", *(f"{n}. {choice}" for n, choice in enumerate(choices, 1))] if choices else []
    )
    lines += [f"Caution: {cautions[key]}" for key in task["cautions"]]
    if task["if_missed"]:
        lines.append(f"If missed: {task['if_missed']}")
    weather = "" if doc["station"] is None else f" by the record of {doc['station']['name']}"
    lines.append(
        f"From the {report.of(doc).name} of {day_words(doc['on'], year=True)}{weather}; "
        f"this advice ends on {day_words(doc['advice_ends'], year=True)}."
    )
    return "\n".join(lines)


def _choices(doc: Document, task: Mapping[str, Any]) -> list[str]:
    """What there is to choose from against a task's organism, mildest first."""
    key = task.get("organism")
    found = (organism.get("choices", ()) for organism in doc["organisms"] if key and organism["id"] == key)
    return list(next(found, ()))


def _plain(text: str) -> str:
    """The text without control signs, which a calendar may not hold; line feeds stay."""
    return re.sub(r"[\x00-\x09\x0b-\x1f\x7f]", " ", text)


def _with_uids(doc: Document) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Each task with its UID. A task without an id is known by what it says of where, to whom and how."""
    seen: Counter[str] = Counter()
    for task in [*doc["tasks"], *doc["ahead"]]:
        key = task.get("id") or "/".join(
            str(task.get(part) or "") for part in ("kind", "organism", "place", "verb")
        )
        name = f"{quote(doc['yard']['name'])}/{as_date(task['from']).year}/{key}"
        # Two tasks of one key in one year keep their order: the first, the second.
        seen[name] += 1
        again = f"/{seen[name]}" if seen[name] > 1 else ""
        yield f"{uuid5(_SPACE, name + again)}@dooryard", task
