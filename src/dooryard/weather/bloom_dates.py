"""Dates of bloom as somebody wrote them down, one a year: read from a table with a header."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

from dooryard.problem import InputError, Problem, nearest
from dooryard.weather.opening import open_text

DATE_COLUMNS = ("date", "bloom_date")
DAY_COLUMNS = ("day_of_year", "bloom_doy", "doy", "pheno")
_PLACE = "location"
_WRITE = "Write a header such as date, or year,day_of_year, and one line for each year."


def read(path: Path | str, place: str | None = None) -> dict[int, float]:
    """Day of the year of bloom by year; 60 is 1 March in every year, and 29 February counts as the 28th.

    place : which one, if the table has a column "location" with several. Lines without a day (blank or NA) are passed
    over. InputError if the file cannot be read, listing every fault with its line.
    """
    opened = open_text(Path(path))
    lines = opened.text.split("\n")
    # Lines of comment stand before the header.
    skipped = next((at for at, line in enumerate(lines) if not line.startswith("#")), 0)
    rows = csv.DictReader(lines[skipped:])
    names = {(name or "").strip().lower(): name for name in rows.fieldnames or ()}
    dated = next((names[name] for name in DATE_COLUMNS if name in names), None)
    numbered = next((names[name] for name in DAY_COLUMNS if name in names), None)
    if dated is None and (numbered is None or "year" not in names):
        raise InputError(
            Problem("This table has no dates of bloom.", _WRITE, opened.name, found=lines[skipped][:60])
        )
    found: dict[int, float] = {}
    problems: list[Problem] = []
    places: dict[str, None] = {}
    for number, row in enumerate(rows, start=skipped + 2):
        here = row[names[_PLACE]] if _PLACE in names else ""
        places.setdefault(here)
        if place is not None and here != place:
            continue
        text = row[dated] if dated is not None else row[numbered or ""]
        if text is None or text.strip() in ("", "NA"):
            continue
        try:
            year, day = _dated(text) if dated is not None else _numbered(row[names["year"]], text)
        except (ValueError, TypeError):
            problems.append(
                Problem("This is no date of bloom.", _WRITE, opened.name, number, found=text[:60])
            )
            continue
        if place is None and len(places) > 1:
            break
        if year in found:
            problems.append(
                Problem(f"{year} stands here twice.", "Leave one.", opened.name, number, found=text[:60])
            )
        found[year] = day
    problems += _chosen(opened.name, place, list(places), found)
    if problems:
        raise InputError(problems)
    return found


def _chosen(name: str, place: str | None, places: list[str], found: dict[int, float]) -> list[Problem]:
    if place is None and len(places) > 1:
        what = "This table holds several places."
        return [Problem(what, f"Name one, such as {places[0]}.", name, field="--place")]
    if not found:
        hint = nearest(place, places) if place else ""
        what = "No date of bloom was found."
        return [Problem(what, hint or _WRITE, name, field="--place" if place else "", found=place or "")]
    return []


def _dated(text: str) -> tuple[int, float]:
    day = date.fromisoformat(text.strip())
    if (day.month, day.day) == (2, 29):
        day = day.replace(day=28)
    return day.year, float((day.replace(year=2001) - date(2000, 12, 31)).days)


def _numbered(year: str, text: str) -> tuple[int, float]:
    """A day number counts the days of its own year, so after February it is one less in a leap year."""
    when, day = int(year), float(text)
    leap = date(when, 3, 1).timetuple().tm_yday == 61
    if not 1 <= day <= 366:
        raise ValueError
    return when, day - 1 if leap and day >= 60 else day
