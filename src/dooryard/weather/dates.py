"""Dates as weather files write them: year first, or in an order and a century that have to be found out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.opening import Faults
from dooryard.weather.packed import Packed
from dooryard.weather.record import Days, Issue

Numbers = NDArray[np.int64]

_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[ T]00:00(?::00)?)?")
_DIGITS = re.compile(r"(\d{4})(\d\d)(\d\d)")
_YEAR_LAST = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})(?: 0?0:00(?::00)?)?")
_SHORT_YEAR = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{2})(?: 0?0:00(?::00)?)?")
_NAMED = re.compile(r"(\d{1,2})[-/. ]([A-Za-z]{3,9})[-/. ](\d{4}|\d{2})")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WRITE = "Write the year first, such as 2031-05-20."
# Where day, month and year stand in a date of three short numbers.
_ORDERS = {"day first": (0, 1, 2), "month first": (1, 0, 2), "year first": (2, 1, 0)}


def parse_dates(
    cells: Sequence[str],
    lines: Sequence[int],
    faults: Faults,
    *,
    first_year: str = "",
    written: date | None = None,
) -> tuple[Days, tuple[Issue, ...]]:
    """Days of a column of date text, shape (rows,), NaT where the text is no date (told to `faults`).

    Year-first text is read as it stands, and so is a month by its English name. For text that ends in the
    year, day and month are told apart by the numbers above 12; failing that by which order gives a record
    without leaps; failing that it is refused. Two-digit years run on from one another, so only the century of
    the first is open: `first_year` as the file's comment gives it, else the latest years that end before the
    file was `written`. lines : line number of each cell. Also noted as faults: dates twice, and out of order.
    """
    days = cells.days() if isinstance(cells, Packed) else _iso_days(cells)
    issues: tuple[Issue, ...] = ()
    if days is None:
        days, issues = _loose_days([cell.strip() for cell in cells], lines, faults, first_year, written)
    _check_order(days, lines, faults)
    return days, issues


def _iso_days(cells: Sequence[str]) -> Days | None:
    """All cells as YYYY-MM-DD in one go, or None if any is something else."""
    text = "".join(cells)
    if not text.isascii() or set(map(len, cells)) != {10}:
        return None
    codes = np.frombuffer(text.encode("ascii"), dtype=np.uint8).reshape(-1, 10)
    digits = codes[:, (0, 1, 2, 3, 5, 6, 8, 9)] - np.uint8(48)
    if (codes[:, (4, 7)] != ord("-")).any() or (digits > 9).any():
        return None
    tens = digits.astype(np.int64)
    years = ((tens[:, 0] * 10 + tens[:, 1]) * 10 + tens[:, 2]) * 10 + tens[:, 3]
    days = days_of(years, tens[:, 4] * 10 + tens[:, 5], tens[:, 6] * 10 + tens[:, 7])
    return None if np.isnat(days).any() else days


def days_of(
    years: Numbers,
    months: Numbers,
    days: Numbers,
) -> Days:
    """Calendar days of year, month and day numbers of one shape; NaT where there is no such day."""
    possible = (months >= 1) & (months <= 12) & (years >= 1600) & (years <= 2400)
    month = (years - 1970) * 12 + np.clip(months, 1, 12) - 1
    starts = month.astype("datetime64[M]")
    result = starts.astype("datetime64[D]") + (days - 1).astype("timedelta64[D]")
    possible &= (days >= 1) & (result.astype("datetime64[M]") == starts)
    return np.where(possible, result, np.datetime64("NaT", "D"))


def _loose_days(
    cells: list[str], lines: Sequence[int], faults: Faults, first_year: str, written: date | None
) -> tuple[Days, tuple[Issue, ...]]:
    kinds: list[str] = []
    numbers: list[tuple[str, ...]] = []
    for cell in cells:
        kind, parts = _parts(cell)
        kinds.append(kind)
        numbers.append(parts)
    short = {"short", "named short"}
    mixed = bool(short & set(kinds)) and not set(kinds) <= {*short, ""}
    for row, (cell, kind) in enumerate(zip(cells, kinds, strict=True)):
        if not kind or (mixed and kind in short):
            what = "The year has two digits among years of four." if kind else "This is no date."
            faults.add(what, _WRITE, line=lines[row], name="date", found=cell or "nothing")
    kind_of = np.array(kinds)
    parts_of = np.array(numbers, dtype="U4").astype(np.int64)
    days = np.full(len(cells), np.datetime64("NaT", "D"))
    first = kind_of == "year first"
    days[first] = days_of(*parts_of[first].T)
    issues: tuple[Issue, ...] = ()
    last = kind_of == "year last"
    if last.any():
        days[last], issues = _year_last_days(parts_of[last], faults)
    named = kind_of == "named"
    days[named] = days_of(*parts_of[named].T[::-1])
    two = np.isin(kind_of, list(short))
    if two.any() and not mixed:
        is_named = bool((kind_of[two] == "named short").all())
        sample = cells[int(np.argmax(two))]
        days[two], told = _short_days(parts_of[two], is_named, sample, first_year, written, faults)
        issues += told
    told_already = (kind_of == "") | (two & mixed)
    for row in np.flatnonzero(~told_already & np.isnat(days)).tolist():
        faults.add("There is no such day.", _WRITE, line=lines[row], name="date", found=cells[row])
    return days, issues


def _parts(cell: str) -> tuple[str, tuple[str, ...]]:
    """What kind of date this is ("" for none), and its three numbers as they stand."""
    if match := _YEAR_FIRST.fullmatch(cell) or _DIGITS.fullmatch(cell):
        return "year first", match.groups()
    if match := _YEAR_LAST.fullmatch(cell):
        return "year last", match.groups()
    if match := _SHORT_YEAR.fullmatch(cell):
        return "short", match.groups()
    if (match := _NAMED.fullmatch(cell)) and match[2][:3].lower() in _MONTHS:
        month = str(_MONTHS.index(match[2][:3].lower()) + 1)
        return "named" if len(match[3]) == 4 else "named short", (match[1], month, match[3])
    return "", ("0", "0", "0")


def _short_days(
    parts: Numbers, named: bool, sample: str, first_year: str, written: date | None, faults: Faults
) -> tuple[Days, tuple[Issue, ...]]:
    """Days of dates with two-digit years, in whichever order lets them follow one another."""
    said = int(first_year) if first_year.isdecimal() else None
    if first_year and (said is None or not 1600 <= said < 2400):
        faults.add(
            "This is no year.", "Write four digits, such as 1948.", name="first year", found=first_year
        )
    readings: dict[str, tuple[int, int, Days]] = {}
    for order, places in _ORDERS.items():
        day, month, short = (parts[:, place] for place in places)
        days = _in_centuries(day, month, short, said, written)
        known = days[~np.isnat(days)]
        leaps = int(np.abs(np.diff(known).astype(int) - 1).sum())
        readings[order] = (int(np.isnat(days).sum()), leaps, days)
        if named:
            break
    ranked = sorted(readings, key=lambda order: readings[order][:2])
    days = readings[ranked[0]][2]
    if len(ranked) > 1 and readings[ranked[0]][:2] == readings[ranked[1]][:2]:
        what = "These dates do not say which number is the day, the month and the year."
        faults.add(what, _WRITE, name="date", found=sample)
        return days, ()
    known = days[~np.isnat(days)].astype("datetime64[Y]").astype(int) + 1970
    if not known.size:
        return days, ()
    if said is not None and known[0] != said:
        what = f"The comment says that the years begin in {said}, but the first date is {sample}."
        faults.add(what, "Write the year of the first line.", name="first year", found=first_year)
    why = (
        "as the file's comment says"
        if said is not None
        else "the latest years that end before the file was written"
    )
    text = f"Dates such as {sample} have years of two digits. They were read {ranked[0]}, as the years "
    text += f"{known.min()} to {known.max()}: {why}."
    instead = "If that is wrong, put a first line such as # first year: 1848 into the file."
    return days, (Issue("dates", text, instead="" if said is not None else instead),)


def _in_centuries(
    day: Numbers, month: Numbers, short: Numbers, first_year: int | None, written: date | None
) -> Days:
    """Days whose years go on where 99 is followed by 00, in the century that fits the first or the last."""
    turn = np.diff(short, prepend=short[0])
    running = short + 100 * np.cumsum((turn < -50).astype(np.int64) - (turn > 50))
    if first_year is not None:
        century = first_year // 100 * 100
        return days_of(running + century, month, day)
    from dooryard.weather.limits import quality_limits

    # Copies lose the day a file was written, but none was written before these tables were.
    newest = date(int(quality_limits().files_written_from), 12, 31)
    limit = max(written or newest, newest)
    century = (limit.year - int(running.max())) // 100 * 100
    days = days_of(running + century, month, day)
    if not np.isnat(days).all() and days[~np.isnat(days)].max() > np.datetime64(limit):
        days = days_of(running + century - 100, month, day)
    return days


def _year_last_days(parts: Numbers, faults: Faults) -> tuple[Days, tuple[Issue, ...]]:
    """Month first or day first? Whichever the numbers allow; if both, whichever runs on without leaps."""
    first, second, years = parts.T
    readings = {"month first": days_of(years, first, second), "day first": days_of(years, second, first)}
    bad = {order: int(np.isnat(days).sum()) for order, days in readings.items()}
    if bad["month first"] != bad["day first"]:
        order = min(bad, key=lambda name: bad[name])
        why = "one of the two numbers goes above 12"
    else:
        steps = {name: int(np.abs(np.diff(days).astype(int) - 1).sum()) for name, days in readings.items()}
        if steps["month first"] == steps["day first"]:
            faults.add(
                "These dates do not say whether the day or the month comes first.",
                _WRITE,
                name="date",
                found=f"{first[0]}/{second[0]}/{years[0]}",
            )
            return readings["month first"], ()
        order = min(steps, key=lambda name: steps[name])
        why = "only so do the days follow one another"
    issue = Issue("dates", f"Dates such as {first[0]}/{second[0]}/{years[0]} were read {order}: {why}.")
    return readings[order], (issue,)


def _check_order(days: Days, lines: Sequence[int], faults: Faults) -> None:
    known = np.flatnonzero(~np.isnat(days))
    steps = np.diff(days[known]).astype(int)
    if (steps > 0).all():
        return
    if len(steps) > 1 and (steps < 0).all():
        faults.add(
            "The newest day comes first.", "Sort the lines so that the oldest day comes first.", name="date"
        )
        return
    # A stable sort brings equal dates together with the earlier line in front.
    sort = np.argsort(days[known], kind="stable")
    again = np.diff(days[known][sort]).astype(int) == 0
    twice = {
        int(known[row]): int(known[earlier])
        for earlier, row in zip(sort[:-1][again], sort[1:][again], strict=True)
    }
    highest = np.maximum.accumulate(days[known])
    back = {int(row) for row in known[1:][days[known][1:] < highest[:-1]]}
    for row in sorted(back | set(twice)):
        if row in twice:
            what, instead = (
                f"This day stands in line {lines[twice[row]]} already.",
                "Keep one of the two lines.",
            )
        else:
            what, instead = "This day is earlier than the one before it.", "Sort the lines by date."
        faults.add(what, instead, line=lines[row], name="date", found=str(days[row]))
