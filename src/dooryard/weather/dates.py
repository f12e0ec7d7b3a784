"""Dates as weather files write them: year first, or day and month in an order that has to be found out."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from dooryard.weather.opening import Faults
from dooryard.weather.packed import Packed
from dooryard.weather.record import Days, Issue

_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[ T]00:00(?::00)?)?")
_DIGITS = re.compile(r"(\d{4})(\d\d)(\d\d)")
_YEAR_LAST = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})(?: 0?0:00(?::00)?)?")
_SHORT_YEAR = re.compile(r"\d{1,2}[-/.]\d{1,2}[-/.]\d{2}")
_WRITE = "Write the year first, such as 2031-05-20."


def parse_dates(cells: Sequence[str], lines: Sequence[int], faults: Faults) -> tuple[Days, tuple[Issue, ...]]:
    """Days of a column of date text, shape (rows,), NaT where the text is no date (told to `faults`).

    Year-first text is read as it stands. For text that ends in the year, day and month are told apart by the
    numbers above 12; failing that by which order gives a record without leaps; failing that it is refused.
    lines : line number of each cell. Also noted as faults: dates twice, and out of order.
    """
    days = cells.days() if isinstance(cells, Packed) else _iso_days(cells)
    issues: tuple[Issue, ...] = ()
    if days is None:
        days, issues = _loose_days([cell.strip() for cell in cells], lines, faults)
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
    years: np.ndarray[tuple[int, ...], np.dtype[np.int64]],
    months: np.ndarray[tuple[int, ...], np.dtype[np.int64]],
    days: np.ndarray[tuple[int, ...], np.dtype[np.int64]],
) -> Days:
    """Calendar days of year, month and day numbers of one shape; NaT where there is no such day."""
    possible = (months >= 1) & (months <= 12) & (years >= 1600) & (years <= 2400)
    month = (years - 1970) * 12 + np.clip(months, 1, 12) - 1
    starts = month.astype("datetime64[M]")
    result = starts.astype("datetime64[D]") + (days - 1).astype("timedelta64[D]")
    possible &= (days >= 1) & (result.astype("datetime64[M]") == starts)
    return np.where(possible, result, np.datetime64("NaT", "D"))


def _loose_days(cells: list[str], lines: Sequence[int], faults: Faults) -> tuple[Days, tuple[Issue, ...]]:
    orders: list[int] = []
    numbers: list[tuple[str, ...]] = []
    for row, cell in enumerate(cells):
        if match := _YEAR_LAST.fullmatch(cell):
            orders.append(2)
        elif match := _YEAR_FIRST.fullmatch(cell) or _DIGITS.fullmatch(cell):
            orders.append(1)
        else:
            orders.append(0)
            short = _SHORT_YEAR.fullmatch(cell) is not None
            what = "The year has two digits, so the century is a guess." if short else "This is no date."
            faults.add(what, _WRITE, line=lines[row], name="date", found=cell or "nothing")
        numbers.append(match.groups() if match else ("0", "0", "0"))
    order = np.array(orders)
    parts = np.array(numbers, dtype="U4").astype(np.int64)
    read, year_first = order > 0, order == 1
    days = np.full(len(cells), np.datetime64("NaT", "D"))
    days[year_first] = days_of(*parts[year_first].T)
    year_last = order == 2
    issues: tuple[Issue, ...] = ()
    if year_last.any():
        days[year_last], issues = _year_last_days(parts[year_last], faults)
    for row in np.flatnonzero(read & np.isnat(days)).tolist():
        faults.add("There is no such day.", _WRITE, line=lines[row], name="date", found=cells[row])
    return days, issues


def _year_last_days(
    parts: np.ndarray[tuple[int, ...], np.dtype[np.int64]], faults: Faults
) -> tuple[Days, tuple[Issue, ...]]:
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
