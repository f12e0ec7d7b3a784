"""One thing to look at, do, wait for or ask, with its place, days, reason, caution and what if missed."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

VERBS = ("Look", "Do", "Wait", "Ask")


@dataclass(frozen=True)
class Task:
    """A dated task of a plan.

    verb : Look (go and see), Do, Wait (leave it, until `to`) or Ask (someone licensed, the lab, the label).
    from_, to : first and last day of the window, both included; best : the day we would choose, or None.
    Texts may hold figure marks; `cautions` are keys of the cautions table.
    """

    id: str
    verb: str
    place: str
    kind: str
    what: str
    from_: date
    to: date
    why: str
    if_missed: str
    best: date | None = None
    cautions: tuple[str, ...] = ()
    organism: str | None = None
    figures: tuple[str, ...] = field(default=())

    def __post_init__(self) -> None:
        if self.verb not in VERBS:
            raise ValueError(f"task {self.id}: verb {self.verb!r} is not one of {', '.join(VERBS)}")
        if self.to < self.from_:
            raise ValueError(f"task {self.id}: window ends before it begins")
        if self.best is not None and not self.from_ <= self.best <= self.to:
            raise ValueError(f"task {self.id}: best day outside the window")


def in_date_order(tasks: list[Task]) -> list[Task]:
    """Tasks by the day to act (the best day, else the first), then by the end of the window, then by id."""
    return sorted(tasks, key=lambda task: (task.best or task.from_, task.to, task.id))
