"""Dates and lists in words, the same in every room: "6 to 8 June, most likely 7"; "roof, barrel and bed".

Month names are ours, not the computer's, so that a plan reads the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def as_date(day: date | str) -> date:
    """A date from the document's ISO text; a date stays as it is."""
    return day if isinstance(day, date) else date.fromisoformat(day)


def day_words(day: date | str, *, weekday: bool = False, year: bool = False) -> str:
    """ "7 June", or "Sunday 7 June 2026" with weekday and year."""
    day = as_date(day)
    words = f"{day.day} {MONTHS[day.month - 1]}"
    if weekday:
        words = f"{WEEKDAYS[day.weekday()]} {words}"
    return f"{words} {day.year}" if year else words


def range_words(first: date | str, last: date | str, *, year: bool = False) -> str:
    """ "6 to 8 June", "28 May to 3 June", "28 December 2026 to 3 January 2027"; one day if both are one."""
    first, last = as_date(first), as_date(last)
    if first == last:
        return day_words(first, year=year)
    if first.year != last.year:
        return f"{day_words(first, year=True)} to {day_words(last, year=True)}"
    if first.month != last.month:
        return f"{day_words(first)} to {day_words(last, year=year)}"
    return f"{first.day} to {day_words(last, year=year)}"


def dates_words(
    earliest: date | str | None, likely: date | str | None, latest: date | str | None, *, year: bool = False
) -> str:
    """ "6 to 8 June, most likely 7"; an end that was not reached within the days looked at is said in words.

    None stands for "not reached within the days looked at", as the plan document has it. No likely day between two
    known ends stands for a day hidden in a gap of the record: "between 16 and 18 May".
    """
    if likely is None and earliest is not None and latest is not None:
        hidden = range_words(earliest, latest, year=year)
        return f"between {hidden.replace(' to ', ' and ')}" if as_date(earliest) < as_date(latest) else hidden
    if earliest is None:
        return "no date yet" if likely is None else f"most likely {day_words(likely, year=year)}"
    if likely is None:
        return f"{day_words(earliest, year=year)} at the earliest, in most years later or not at all"
    if latest is None:
        spoken = day_words(likely, year=year)
        return f"{day_words(earliest, year=year)} or later, most likely {spoken}, in some years not at all"
    earliest, likely, latest = as_date(earliest), as_date(likely), as_date(latest)
    if earliest == latest:
        return day_words(earliest, year=year)
    one_month = (earliest.year, earliest.month) == (latest.year, latest.month)
    middle = str(likely.day) if one_month else day_words(likely, year=earliest.year != latest.year)
    return f"{range_words(earliest, latest, year=year)}, most likely {middle}"


def list_words(words: Sequence[str], joiner: str = "and") -> str:
    """ "roof", "roof and barrel", "roof, barrel and bed"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joiner} {words[-1]}"


def sentence(text: str) -> str:
    """The text with a capital first letter and a full stop, if it has any words."""
    text = text.strip()
    if not text:
        return ""
    # A figure mark keeps its case: it is an id, not a word.
    text = text if text.startswith("[[") else text[0].upper() + text[1:]
    return text if text[-1] in ".?:" else f"{text}."
