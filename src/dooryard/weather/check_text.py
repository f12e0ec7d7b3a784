"""What is wrong with a record, finding by finding, as text of 80 columns and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from dooryard.weather.record import WORDS, Issue, WeatherRecord
from dooryard.words import range_words

_WIDTH = 80


def render(record: WeatherRecord) -> str:
    """Every finding with its place, its dates, what it rests on and what to do; or that there is none."""
    head = f"{record.source.path_name}: {record.station.name}, {record.first} to {record.last}"
    if not record.issues:
        return "\n".join([*_wrapped(head), "  Nothing stands out in this record."])
    noun = "1 finding" if len(record.issues) == 1 else f"{len(record.issues)} findings"
    lines = [*_wrapped(head), f"  {noun}."]
    for number, issue in enumerate(record.issues, start=1):
        lines += _finding(number, issue)
    return "\n".join(lines)


def as_json(record: WeatherRecord) -> dict[str, Any]:
    """A record's name, span and findings as plain data."""
    return {
        "file": record.source.path_name,
        "layout": record.source.layout,
        "station": record.station.name,
        "invented": record.invented,
        "first": record.first.isoformat(),
        "last": record.last.isoformat(),
        "findings": issues_as_json(record.issues),
    }


def issues_as_json(issues: Sequence[Issue]) -> list[dict[str, Any]]:
    """Findings as plain data, dates as text."""
    return [
        asdict(issue)
        | {
            "first": None if issue.first is None else issue.first.isoformat(),
            "last": None if issue.last is None else issue.last.isoformat(),
        }
        for issue in issues
    ]


def _finding(number: int, issue: Issue) -> list[str]:
    place = [issue.kind.capitalize()]
    if issue.element:
        place.append(WORDS.get(issue.element, issue.element))
    if issue.first is not None:
        place.append(range_words(issue.first, issue.last or issue.first, year=True))
    if issue.days:
        place.append("1 day" if issue.days == 1 else f"{issue.days:,} days")
    label = f"{number}. "
    lines = _wrapped(f"{label}{', '.join(place)}", "  ", "     ")
    for word, text in (("", issue.text), ("Seen in: ", issue.evidence), ("Then: ", issue.instead)):
        if text:
            lines += _wrapped(f"{word}{text}", "     ", "     ")
    return lines


def _wrapped(text: str, first: str = "", rest: str = "  ") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=rest)
