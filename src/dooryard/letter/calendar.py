"""The plan's tasks as a calendar (RFC 5545): all-day entries that a new plan replaces, never doubles."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any
from urllib.parse import quote
from uuid import UUID, uuid5

from dooryard.letter.prose import Document, headline, spell, task_days
from dooryard.words import as_date, day_words, sentence

if TYPE_CHECKING:
    from icalendar import Event

# Names the space our task ids live in; drawn once at random, never to change.
_SPACE = UUID("6f0d4a52-2c7b-4d0e-9a57-8a3f5f1b7c11")
# The evening before an all-day entry: six hours before its midnight.
_EVENING_BEFORE = timedelta(hours=-6)


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
    # The first sentence is the entry's name; all of them stand in its description.
    first = re.split(r"(?<=[.?])\s+(?=[A-Z\[])", "".join(headline(task)), maxsplit=1)[0]
    summary = _plain(spell(first, figures)).replace("\n", " ").rstrip(".")
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", stamp)
    event.add("dtstart", as_date(task["from"]))
    event.add("dtend", as_date(task["to"]) + timedelta(days=1))
    event.add("summary", summary)
    event.add("description", _plain(spell(_description(doc, task), figures)))
    event.add("location", _plain(task["place"]))
    event.add("categories", [task["verb"]])
    event.add("transp", "TRANSPARENT")
    if task["verb"] == "Do":
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", summary)
        alarm.add("trigger", _before_best(task))
        event.add_component(alarm)
    return event


def _before_best(task: Mapping[str, Any]) -> timedelta:
    """The evening before the best day (else the first), counted from the entry's start."""
    first = as_date(task["from"])
    best = first if task.get("best") is None else as_date(task["best"])
    return (best - first) + _EVENING_BEFORE


def _description(doc: Document, task: Mapping[str, Any]) -> str:
    """What, when, why, cautions and what if missed, each on its own line."""
    cautions = {caution["id"]: caution["text"] for caution in doc["cautions"]}
    lines = ["".join(headline(task)), f"When: {sentence(task_days(task))}", f"Why: {task['why']}"]
    lines += [f"Caution: {cautions[key]}" for key in task["cautions"]]
    if task["if_missed"]:
        lines.append(f"If missed: {task['if_missed']}")
    lines.append(
        f"From the plan of {day_words(doc['on'], year=True)} by the record of {doc['station']['name']}; "
        f"this advice ends on {day_words(doc['advice_ends'], year=True)}."
    )
    return "\n".join(lines)


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
