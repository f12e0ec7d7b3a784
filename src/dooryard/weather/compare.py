"""This year against the station's own past: the same span of days in every year, ranked, with what is left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.quantiles import quantiles
from dooryard.weather.record import Days, Floats, as_date
from dooryard.weather.usual_limits import UsualLimits, usual_limits

if TYPE_CHECKING:
    from dooryard.units import Dimension

SPANS_D = (30, 90)
SHORTEST_YEAR_SO_FAR_D = 31


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """A daily series to compare.

    key, name : for data, and for a person ("rain"). kind : whether a span's days are added up or averaged.
    dimension : of the result, for `units.show`. values : (days,), NaN where missing. note : how it was made.
    """

    key: str
    name: str
    kind: Literal["total", "mean"]
    dimension: Dimension
    values: Floats
    note: str = ""


@dataclass(frozen=True, slots=True)
class PastYear:
    """A past year's value over the same span, and how many of its days had none."""

    year: int
    value: float
    missing_days: int


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity over one span of days.

    first, last : the span this year, both included. value : this year's, None if not known. missing_days : of this
    span this year; the past is taken over the days that are known, so that like is set against like.
    past : the years compared. left_out : (year, reason) of the others.
    low, middle, high : ends of the middle third and the middle of the past years; None if there are none.
    below, above : how many past years had less, and more. word : far below usual, below usual, usual, above usual,
    far above usual, or empty if it cannot be said; then `refused` says why.
    """

    quantity: Quantity
    span: str
    first: date
    last: date
    value: float | None
    missing_days: int
    past: tuple[PastYear, ...]
    left_out: tuple[tuple[int, str], ...]
    low: float | None
    middle: float | None
    high: float | None
    below: int
    above: int
    word: str
    refused: str


WORDS = ("far below usual", "below usual", "usual", "above usual", "far above usual")


def compare(
    dates: Days,
    quantities: Sequence[Quantity],
    on: date,
    *,
    from_year: int | None = None,
    limits: UsualLimits | None = None,
) -> tuple[Row, ...]:
    """Every quantity over the last 30 and 90 days before `on` and since 1 January, against past years.

    dates : (days,) every calendar day of the record, ending on the eve of `on`. from_year : the first past year
    that counts; all if None. A past year's span has as many days as this year's and ends on the same day of the
    calendar. A year is left out if its span lacks too many days (facts `weather.normals.*`).
    """
    limits = limits or usual_limits()
    spans = [(f"last {days} days", days) for days in SPANS_D]
    so_far = (on - date((on - timedelta(days=1)).year, 1, 1)).days
    if so_far >= SHORTEST_YEAR_SO_FAR_D and so_far not in SPANS_D:
        spans.append(("since 1 January", so_far))
    return tuple(
        _row(dates, quantity, on, words, days, from_year, limits)
        for quantity in quantities
        for words, days in spans
        if days <= len(dates)
    )


def _row(
    dates: Days,
    quantity: Quantity,
    on: date,
    span: str,
    days: int,
    from_year: int | None,
    limits: UsualLimits,
) -> Row:
    now = quantity.values[len(dates) - days :]
    known = ~np.isnan(now)
    missing = int(days - known.sum())
    past, left_out = _past(dates, quantity, on, days, known, from_year, limits)
    value = None if not known.any() else _gathered(now[known], quantity.kind)
    refused = _refusal(value, missing, days, len(past), limits)
    values = np.array([year.value for year in past])
    ends = (limits.rare_share, limits.usual_share, 0.5, 1 - limits.usual_share, 1 - limits.rare_share)
    points: list[float] = quantiles(values, ends).tolist() if past else []
    return Row(
        quantity=quantity,
        span=span,
        first=on - timedelta(days=days),
        last=on - timedelta(days=1),
        value=value,
        missing_days=missing,
        past=past,
        left_out=left_out,
        low=points[1] if past else None,
        middle=points[2] if past else None,
        high=points[3] if past else None,
        below=0 if value is None else int((values < value).sum()),
        above=0 if value is None else int((values > value).sum()),
        word="" if refused or value is None else _word(value, points),
        refused=refused,
    )


def _past(
    dates: Days,
    quantity: Quantity,
    on: date,
    days: int,
    known: NDArray[np.bool_],
    from_year: int | None,
    limits: UsualLimits,
) -> tuple[tuple[PastYear, ...], tuple[tuple[int, str], ...]]:
    """The same span of every past year, over the days known this year."""
    first = as_date(dates[0])
    past: list[PastYear] = []
    left_out: list[tuple[int, str]] = []
    for year in range(first.year if from_year is None else max(first.year, from_year), on.year):
        end = (_same_day(on, year) - first).days
        if end < days:
            left_out.append((year, "the record begins later"))
            continue
        span = quantity.values[end - days : end][known]
        gaps = np.isnan(span)
        reason = _too_full_of_gaps(gaps, quantity.kind, limits)
        if reason:
            left_out.append((year, reason))
        else:
            past.append(PastYear(year, _gathered(span[~gaps], quantity.kind), int(gaps.sum())))
    return tuple(past), tuple(left_out)


def _too_full_of_gaps(gaps: NDArray[np.bool_], kind: Literal["total", "mean"], limits: UsualLimits) -> str:
    """Why a span cannot stand for its year, or nothing."""
    missing = int(gaps.sum())
    allowed = limits.total_missing_share if kind == "total" else limits.mean_missing_share
    if missing > allowed * len(gaps) or missing == len(gaps):
        return f"{missing} of {len(gaps)} days have no value"
    if kind == "mean" and _longest_run(gaps) > limits.mean_missing_run_d:
        return f"{_longest_run(gaps)} days in a row have no value"
    return ""


def _refusal(value: float | None, missing: int, days: int, years: int, limits: UsualLimits) -> str:
    if value is None:
        return "None of these days has a value."
    if missing > limits.mean_missing_share * days:
        return f"{missing} of {days} days have no value, so it is not compared."
    if years < limits.years_low:
        known = "Not one past year is" if years == 0 else f"Only {years} past years are"
        return f"{known} whole enough; {limits.years_low:.0f} are needed to say what is usual."
    return ""


def _word(value: float, points: Sequence[float]) -> str:
    rare_low, low, _, high, rare_high = points
    if value < low:
        return WORDS[0] if value < rare_low else WORDS[1]
    if value > high:
        return WORDS[4] if value > rare_high else WORDS[3]
    return WORDS[2]


def _gathered(values: Floats, kind: Literal["total", "mean"]) -> float:
    return float(values.sum() if kind == "total" else values.mean())


def _longest_run(gaps: NDArray[np.bool_]) -> int:
    edges = np.diff(np.concatenate(([False], gaps, [False])).astype(np.int8))
    lengths = np.flatnonzero(edges == -1) - np.flatnonzero(edges == 1)
    return int(lengths.max()) if lengths.size else 0


def _same_day(on: date, year: int) -> date:
    try:
        return on.replace(year=year)
    except ValueError:
        return date(year, 3, 1)
