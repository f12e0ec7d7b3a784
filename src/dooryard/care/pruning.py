"""When a plant may be cut: after its bloom, at rest, or not in the weeks in which wounds spread a disease."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from dooryard.care.no_bloom import in_year, prune_by
from dooryard.knowledge import Knowledge
from dooryard.knowledge.care_rows import Division, OakWindow, Pruning
from dooryard.problem import InputError, Problem, nearest

OAKS, ELMS = "oak", "elm"


@dataclass(frozen=True)
class Cut:
    """When one plant is cut. opens, closes : first and last good day this year; None where no date is known.

    late : the closing date of the trade's list, where it lies before the one by bloom.
    """

    opens: date | None
    closes: date | None
    late: date | None = None


def pruning_of(knowledge: Knowledge, plant: str) -> Pruning | None:
    """The row for a plant by its common name or kind; None if there is none. plant : as typed."""
    name = _plain(plant)
    rows = tuple(knowledge.pruning.values())
    for row in rows:
        if name in (_plain(row.key), _plain(row.name), *map(_plain, row.kinds)):
            return row
    # "pin oak" is an oak, "pink azalea" an azalea: the last word of a name is its kind.
    last = name.split()[-1] if name else ""
    return next((row for row in rows if last in map(_plain, row.kinds)), None)


def division_of(knowledge: Knowledge, plant: str) -> Division | None:
    """The row for a perennial by its common name or kind; None if there is none."""
    name = _plain(plant)
    names = {name, name.removesuffix("s")}
    for row in knowledge.divisions.values():
        if names & {_plain(row.key), _plain(row.name), *map(_plain, row.kinds)}:
            return row
    return None


def known_to_prune(knowledge: Knowledge) -> list[str]:
    """Names that can be asked for."""
    return sorted({kind for row in knowledge.pruning.values() for kind in row.kinds})


def cut_after_bloom(ended: date, after_bloom_d: int, latest: str, year: int) -> Cut:
    """Good days for a shrub that blooms on old wood.

    ended : end of this year's bloom. after_bloom_d : days it may be cut after that [d]. latest : month-day of the
    trade's list, or empty. year : of the cut.
    """
    closes = prune_by(ended, after_bloom_d)
    late = None
    if latest:
        month, day = latest.split("-")
        late = date(year, int(month), int(day))
    return Cut(ended, closes, late if late is not None and ended <= late < closes else None)


def cut_at_rest(last_hard_freeze: date, before_d: int) -> Cut:
    """Good days for what is cut in late winter: the weeks before the last hard freeze of spring.

    last_hard_freeze : its middle date this year. before_d : how many days before it the time begins [d].
    """
    return Cut(last_hard_freeze - timedelta(days=before_d), last_hard_freeze)


def closed_for_oak(window: OakWindow, on: date) -> bool:
    """Whether oaks must not be cut on a day. A row without a beginning is closed up to its end."""
    closes = _day(window.closes, on.year)
    opens = _day(window.opens, on.year) if window.opens else date(on.year, 1, 1)
    return opens <= on <= closes


def oak_window(knowledge: Knowledge, state: str) -> OakWindow:
    """The row of a state. Raises InputError with near names if there is none; "north" and "south" always are."""
    name = _plain(state)
    for row in knowledge.oak_windows.values():
        if name in (_plain(row.key), _plain(row.place)):
            return row
    keys = list(knowledge.oak_windows)
    hint = nearest(name, keys) or f"Write one of: {', '.join(keys)}."
    raise InputError(Problem("No oak window is on file for this state.", hint, field="--state", found=state))


def again_on(window: OakWindow, on: date) -> date:
    """The first day on which oaks may be cut again, for a day that is closed."""
    return _day(window.closes, on.year) + timedelta(days=1)


def _day(month_day: str, year: int) -> date:
    month, day = month_day.split("-")
    return in_year(date(2000, int(month), int(day)), year)


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("-", " ").split())
