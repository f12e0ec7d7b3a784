"""The dates of a notebook put together: years that stand once, months in either order, weekdays that must fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from dooryard.weather.opening import Faults, Opened
from dooryard.weather.readers.notebook_lines import Entry, Heading, WrittenDate, parse_line
from dooryard.weather.record import Issue
from dooryard.words import WEEKDAYS

_WRITE_YEAR = "Write the year by itself in a line above, such as 2031."
_WRITE_ORDER = "Put a first line # dates: month first (or day first) into the file."
_WRITE = "Write lines such as May 3 0.40."
_HALF_YEAR = timedelta(days=183)


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading with its real day; since : day the span begins, None if not written; line : where it stands."""

    day: date
    since: date | None
    entry: Entry
    line: int


@dataclass(slots=True)
class _Context:
    """What the lines above have settled: year and month headings, and the last day read."""

    year: int | None
    month: int | None = None
    last: date | None = None


def dated(
    opened: Opened, order: str, year: str, faults: Faults
) -> tuple[tuple[Reading, ...], tuple[Issue, ...]]:
    """Every reading with its day, in the order of the file, which must be the order of time.

    order : "month first", "day first" or "" for dates such as 5/3. year : of the first line, or "". What cannot
    be understood is told to `faults`.
    """
    parsed = _parsed(opened, faults)
    month_first, issues = _order(parsed, order, faults)
    if year and not (len(year) == 4 and year.isdecimal()):
        faults.add("This is no year.", "Write one such as 2031.", name="year", found=year)
        year = ""
    context = _Context(int(year) if year else None)
    readings: list[Reading] = []
    named = 0
    for line, item in parsed:
        if isinstance(item, Heading):
            context.year, context.month = item.year, item.month
            continue
        day = _day(_ordered(item.date, month_first), context, line, faults)
        if day is None:
            continue
        named += item.date.day is None and item.date.pair is None
        since = None
        if item.since is not None:
            since = _since(_ordered(item.since, month_first), day, line, faults)
        if context.last is not None and day < context.last:
            what = f"This day is earlier than the one before it ({context.last})."
            faults.add(
                what, "Bring the lines into the order of time.", line=line, name="date", found=str(day)
            )
        context.last, context.year = day, day.year
        readings.append(Reading(day, since, item, line))
    if named:
        lines = "1 line names" if named == 1 else f"{named:,} lines name"
        text = f"{lines} only a weekday: the next one after the line above was taken."
        issues += (Issue("dates", text, instead="Write the date as well if that is wrong."),)
    return tuple(readings), issues


def _parsed(opened: Opened, faults: Faults) -> list[tuple[int, Entry | Heading]]:
    found: list[tuple[int, Entry | Heading]] = []
    under_month = False
    for number, line in enumerate(opened.lines, start=1):
        if not line.strip() or line.startswith("#"):
            continue
        item = parse_line(line, under_month=under_month)
        if isinstance(item, str):
            faults.add(item, _WRITE, line=number, found=line.strip())
        elif item is not None:
            under_month = item.month is not None if isinstance(item, Heading) else under_month
            found.append((number, item))
    return found


def _order(
    parsed: list[tuple[int, Entry | Heading]], said: str, faults: Faults
) -> tuple[bool, tuple[Issue, ...]]:
    """Whether dates such as 5/3 put the month first: as said, or as the numbers, weekdays and sequence allow."""
    if said.strip().lower() in ("month first", "day first"):
        return said.strip().lower() == "month first", ()
    if said:
        faults.add("This is not understood.", "Write month first or day first.", name="dates", found=said)
    dates = [item.date for _, item in parsed if isinstance(item, Entry)]
    pairs = [written for written in dates if written.pair is not None]
    if not pairs:
        return True, ()
    scores = {month_first: _misfits(dates, month_first) for month_first in (True, False)}
    shown = f"{pairs[0].pair[0]}/{pairs[0].pair[1]}" if pairs[0].pair else ""
    if scores[True] == scores[False]:
        if all(pair.pair is not None and pair.pair[0] == pair.pair[1] for pair in pairs):
            return True, ()
        what = "These dates do not say whether the month or the day comes first."
        faults.add(what, _WRITE_ORDER, name="date", found=shown)
        return True, ()
    best = min(scores, key=lambda month_first: scores[month_first])
    word = "month" if best else "day"
    text = f"Dates such as {shown} were read {word} first: only so do the days exist and follow one another."
    return best, (
        Issue("dates", text, instead=f"If that is wrong: {_WRITE_ORDER[0].lower()}{_WRITE_ORDER[1:]}"),
    )


def _misfits(dates: list[WrittenDate], month_first: bool) -> tuple[int, int, int]:
    """Dates that do not exist, weekdays that do not fit, and months that run back or leap, under one order."""
    impossible = wrong = leaps = 0
    last: int | None = None
    for written in dates:
        ordered = _ordered(written, month_first)
        if ordered.month is None:
            continue
        day = _real(ordered.year if ordered.year and ordered.year > 99 else 2000, ordered.month, ordered.day)
        if day is None:
            impossible += 1
            continue
        if ordered.weekday is not None and ordered.year is not None and ordered.year > 99:
            wrong += day.weekday() != ordered.weekday
        number = (day - date(day.year, 1, 1)).days
        if last is not None:
            leaps += (number - last) % 365
        last = number
    return impossible, wrong, leaps


def _ordered(written: WrittenDate, month_first: bool) -> WrittenDate:
    if written.pair is None:
        return written
    month, day = written.pair if month_first else written.pair[::-1]
    return replace(written, month=month, day=day)


def _day(written: WrittenDate, context: _Context, line: int, faults: Faults) -> date | None:
    """The real day of a line; None, told to `faults`, if it has none."""
    last = context.last
    if written.day is None:
        if last is None or written.weekday is None:
            what = "Only a weekday, and no date above it."
            faults.add(what, "Write the date in the first line.", line=line, name="date")
            return None
        return last + timedelta(days=(written.weekday - last.weekday() - 1) % 7 + 1)
    year, month = _year(written, context), written.month or context.month
    if year is None or month is None:
        faults.add("The notebook does not say its year.", _WRITE_YEAR, line=line, name="date")
        return None
    day = _real(year, month, written.day)
    if day is not None and written.year is None and last is not None and day < last - _HALF_YEAR:
        day = _real(year + 1, month, written.day)
    return _checked(day, written, f"{year}-{month}-{written.day}", line, faults)


def _year(written: WrittenDate, context: _Context) -> int | None:
    if not written.two_digit_year or written.year is None:
        return written.year or context.year
    if context.year is None:
        return None
    # The century is the notebook's own; 98 under 2001 is the year before the turn, not one to come.
    year = context.year - context.year % 100 + written.year
    return min((year - 100, year, year + 100), key=lambda near: abs(near - (context.year or 0)))


def _checked(day: date | None, written: WrittenDate, found: str, line: int, faults: Faults) -> date | None:
    if day is None:
        faults.add("There is no such day.", _WRITE, line=line, name="date", found=found)
    elif written.weekday is not None and day.weekday() != written.weekday:
        what = f"{day} is a {WEEKDAYS[day.weekday()]}, not a {WEEKDAYS[written.weekday]}."
        faults.add(what, "Mend the date or the weekday.", line=line, name="date", found=found)
        return None
    return day


def _since(written: WrittenDate, day: date, line: int, faults: Faults) -> date | None:
    """The day a span begins: the latest such day before the reading."""
    if written.day is None:
        return day - timedelta(days=(day.weekday() - (written.weekday or 0) - 1) % 7 + 1)
    years: Callable[[int], date | None] = lambda year: _real(year, written.month, written.day)  # noqa: E731
    begin = years(written.year or day.year)
    if begin is not None and begin >= day and written.year is None:
        begin = years(day.year - 1)
    found = f"since {written.month}/{written.day}"
    if begin is not None and begin >= day:
        faults.add("The span begins after it ends.", "Mend one of the two dates.", line=line, found=found)
        return None
    return _checked(begin, written, found, line, faults)


def _real(year: int, month: int | None, day: int | None) -> date | None:
    try:
        return date(year, month or 0, day or 0)
    except ValueError:
        return None
