"""A plan to fill the gaps of a record: each gap, by what, how wrong that usually is, or why it stays.

`plan` decides and changes nothing; `apply` makes the record the plan describes, every estimate flagged.
Temperatures come from a neighbour or, up to three days in a row, from the days before and after, whichever
is usually nearer. Rain comes from a neighbour alone. Nothing is estimated from an estimate.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from typing import Any

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.gap_answers import Answers, Neighbour, answer, neighbour, refuse_crossed, usual_sum
from dooryard.weather.gap_limits import GapLimits, gap_limits
from dooryard.weather.neighbours import Months, measured, months_of
from dooryard.weather.quality import runs
from dooryard.weather.record import CORE, WORDS, Flag, Issue, WeatherRecord, as_date

OWN_DAYS = "the days before and after"
MANY_SAME = 0.05  # mean error [degC, mm] below which two records are taken for copies of one


@dataclass(frozen=True, slots=True)
class Stretch:
    """Days in a row of one element that get one answer: an estimate by one way, or none and why.

    gap_days : length of the whole gap these days are part of. left_days : length of what stays missing there
    once the plan is carried out. source : label of the neighbour, `OWN_DAYS`, or "" if refused.
    values : the estimates in the element's unit. daily_error : usual size of the error of one day.
    sum_error : of the sum over the stretch, None if too few such stretches could be hidden to tell.
    """

    element: str
    first: date
    last: date
    days: int
    gap_days: int
    left_days: int = 0
    source: str = ""
    values: tuple[float, ...] = ()
    daily_error: float | None = None
    sum_error: float | None = None
    refused: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class FillPlan:
    """What would be done to a record. notes : what a person should know about the neighbours."""

    record: WeatherRecord
    neighbours: tuple[Neighbour, ...]
    stretches: tuple[Stretch, ...]
    notes: tuple[str, ...]

    @property
    def filled(self) -> tuple[Stretch, ...]:
        """The stretches that get estimates."""
        return tuple(stretch for stretch in self.stretches if not stretch.refused)

    @property
    def left(self) -> tuple[Stretch, ...]:
        """The stretches that stay missing."""
        return tuple(stretch for stretch in self.stretches if stretch.refused)


def plan(
    record: WeatherRecord, neighbours: Sequence[WeatherRecord] = (), limits: GapLimits | None = None
) -> FillPlan:
    """How each gap in temperature and rain between the record's first and last day could be filled.

    limits : how far estimates go; the shipped ones if not given. InputError naming each neighbour whose weather is
    invented, unless the record's is too.
    """
    if not record.invented:
        _refuse_invented(neighbours)
    limits = limits or gap_limits()
    month = months_of(record)
    helpers = tuple(
        neighbour(record, other, label, month, limits)
        for other, label in zip(neighbours, _labels(neighbours), strict=True)
    )
    answers = {element: answer(record, element, helpers, month, limits) for element in CORE}
    refuse_crossed(record, answers)
    stretches = [
        stretch for element in CORE for stretch in _stretches(record, answers[element], helpers, month)
    ]
    stretches.sort(key=lambda stretch: (stretch.first, CORE.index(stretch.element)))
    return FillPlan(record, helpers, tuple(stretches), _notes(helpers))


def apply(plan: FillPlan) -> WeatherRecord:
    """The plan's record with its estimates in place, each flagged ESTIMATED, and issues that say so."""
    record = plan.record
    values: dict[str, Any] = {element: record.element(element).copy() for element in CORE}
    flags = {element: codes.copy() for element, codes in record.flags.items()}
    for stretch in plan.filled:
        at = record.position(stretch.first)
        values[stretch.element][at : at + stretch.days] = stretch.values
        flags[stretch.element][at : at + stretch.days] = Flag.ESTIMATED
    for array in (*values.values(), *flags.values()):
        array.setflags(write=False)
    # What was said about gaps and earlier estimates is no longer the whole story.
    kept = [issue for issue in record.issues if issue.kind not in ("gap", "missing", "estimated")]
    filled = replace(record, flags=MappingProxyType(flags), **values)
    return replace(filled, issues=(*kept, *_issues(filled)))


def _refuse_invented(neighbours: Sequence[WeatherRecord]) -> None:
    what = "This weather is invented: nobody measured it, so it cannot stand for days of a measured record."
    problems = [
        Problem(
            what, "Leave it out; take the record of a real station.", other.source.path_name, field="--from"
        )
        for other in neighbours
        if other.invented
    ]
    if problems:
        raise InputError(problems)


def _labels(neighbours: Sequence[WeatherRecord]) -> list[str]:
    names = [other.station.name for other in neighbours]
    return [
        name if names.count(name) == 1 else f"{name} ({other.source.path_name})"
        for name, other in zip(names, neighbours, strict=True)
    ]


def _stretches(
    record: WeatherRecord, answers: Answers, helpers: Sequence[Neighbour], month: Months
) -> list[Stretch]:
    gap = answers.gap_days > 0
    left = np.zeros(len(gap), dtype=np.int64)
    for start, end in zip(*(edge.tolist() for edge in runs(gap & (answers.helper < 0))), strict=True):
        left[start:end] = end - start
    changed = np.diff(answers.helper, prepend=-2) != 0
    changed |= np.diff(answers.reason, prepend=-1) != 0
    changed |= np.diff(gap.astype(np.int8), prepend=-1) != 0
    starts = np.flatnonzero(changed)
    ends = np.append(starts[1:], len(gap))
    inside = gap[starts]
    known = measured(record, answers.element)
    sums: dict[tuple[int, int, int], float | None] = {}
    found = []
    for start, end in zip(starts[inside].tolist(), ends[inside].tolist(), strict=True):
        helper, days = int(answers.helper[start]), end - start
        stretch = Stretch(
            element=answers.element,
            first=as_date(record.dates[start]),
            last=as_date(record.dates[end - 1]),
            days=days,
            gap_days=int(answers.gap_days[start]),
            left_days=int(left[start]),
            refused=answers.reasons[int(answers.reason[start])] if helper < 0 else "",
        )
        if helper >= 0:
            key = (helper, int(month[start]), days)
            daily = float(answers.error[start:end].mean())
            if days == 1:
                sums[key] = daily
            elif key not in sums:
                sums[key] = usual_sum(helpers, answers.element, key, known, month)
            stretch = replace(
                stretch,
                source=helpers[helper - 1].label if helper else OWN_DAYS,
                values=tuple(answers.value[start:end].tolist()),
                daily_error=daily,
                sum_error=sums[key],
            )
        found.append(stretch)
    return found


def _notes(helpers: Sequence[Neighbour]) -> tuple[str, ...]:
    notes = []
    for helper in helpers:
        for element, relation in helper.relations.items():
            if relation.lag_d and helper.fits[element]:
                when = "earlier" if relation.lag_d > 0 else "later"
                notes.append(
                    f"The {WORDS[element]} of {helper.label} fits better a day {when} and was moved: "
                    "its day seems to end at another hour."
                )
        if helper.usual and all(usual.daily < MANY_SAME for usual in helper.usual.values()):
            notes.append(f"{helper.label} hardly differs: it may be another copy of the same record.")
    return tuple(notes)


def _issues(record: WeatherRecord) -> list[Issue]:
    issues = []
    for element in CORE:
        estimated = np.flatnonzero(record.flags[element] == Flag.ESTIMATED)
        missing = np.flatnonzero(np.isnan(record.element(element)))
        for kind, rows, state in (("estimated", estimated, "estimated"), ("missing", missing, "missing")):
            if rows.size:
                days = "1 day" if rows.size == 1 else f"{rows.size:,} days"
                ends = as_date(record.dates[rows[0]]), as_date(record.dates[rows[-1]])
                text = f"The {WORDS[element]} of {days} is {state}."
                issues.append(Issue(kind, text, *ends, int(rows.size)))
    return issues
