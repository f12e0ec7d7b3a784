"""What each missing day could be filled with, by the way that is usually nearest, or why it is not.

One `Answers` for each element holds the decisions day by day; `fill` makes stretches of days out of them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.gap_limits import GapLimits
from dooryard.weather.hidden import Usual, own_day_errors, steady_error, usual_error, usual_sum_error
from dooryard.weather.neighbours import Months, Relation, distance_km, measured, relate
from dooryard.weather.outlook import LONGEST_BRIDGED_DAYS, bridge_gaps
from dooryard.weather.quality import runs
from dooryard.weather.record import CORE, WORDS, Flag, Floats, WeatherRecord


@dataclass(frozen=True, slots=True, eq=False)
class Neighbour:
    """One station that may help, and what hiding real days told about it.

    higher_m : how far it stands above the record's station [m]. relations, usual : by element.
    fits : element to the months (0 to 11) it may be used in. unfit : element to why it may not in the others.
    """

    label: str
    file: str
    distance_km: float | None
    higher_m: float | None
    relations: Mapping[str, Relation]
    usual: Mapping[str, Usual]
    fits: Mapping[str, tuple[int, ...]]
    unfit: Mapping[str, str]


@dataclass(slots=True)
class Answers:
    """One element, day by day (days,): helper -1 for none, 0 for own days, k + 1 for neighbour k."""

    element: str
    gap_days: NDArray[np.int64]  # length of the gap a day lies in, 0 if it has a value
    helper: NDArray[np.int64]
    value: Floats
    error: Floats  # usual size of the error of that day's estimate
    reason: NDArray[np.int64]  # index into reasons
    reasons: list[str] = field(default_factory=lambda: [""])

    def refuse(self, days: NDArray[np.bool_], why: str) -> None:
        """No estimate on these days (days,), for the reason given."""
        if why not in self.reasons:
            self.reasons.append(why)
        self.helper[days], self.value[days] = -1, np.nan
        self.reason[days] = self.reasons.index(why)


def neighbour(
    record: WeatherRecord, other: WeatherRecord, label: str, month: Months, limits: GapLimits
) -> Neighbour:
    """What one station can do for a record; month : (days,) of the record, 0 for January."""
    relations = {element: relate(record, other, element, limits.lag_margin) for element in CORE}
    usual, fits, unfit = {}, {}, {}
    for element, relation in relations.items():
        whole = usual_error(relation.error, relation.guess_error)
        if whole is not None:
            usual[element] = whole
        fits[element], unfit[element] = _fit_months(relation, month, limits)
    here, there = record.station, other.station
    higher_m = None
    if here.elevation_m is not None and there.elevation_m is not None:
        higher_m = there.elevation_m - here.elevation_m
    return Neighbour(
        label, other.source.path_name, distance_km(here, there), higher_m, relations, usual, fits, unfit
    )


def _fit_months(relation: Relation, month: Months, limits: GapLimits) -> tuple[tuple[int, ...], str]:
    """Months in which the relation keeps the limits, and why it may not be used in the others."""
    element = relation.element
    fewest, share = limits.fewest_d(element), limits.share(element)
    fits, why = [], set()
    for number in range(12):
        usual = usual_error(relation.error, relation.guess_error, month, number)
        if usual is None or relation.paired[number] < fewest:
            why.add("few")
        elif usual.daily > share * usual.guess:
            why.add("wrong")
        else:
            fits.append(number)
    kind = "days of rain in common" if element == "rain_mm" else "days in common"
    words = {
        "few": f"fewer than {fewest} {kind} in a season",
        "wrong": f"its error is more than {share:g} of a guess without it",
    }
    return tuple(fits), " or ".join(words[key] for key in ("few", "wrong") if key in why)


def answer(
    record: WeatherRecord,
    element: str,
    helpers: Sequence[Neighbour],
    month: Months,
    limits: GapLimits,
) -> Answers:
    """Every missing day of one element with the way that is usually nearest, or the reason it stays."""
    gap = np.isnan(record.element(element))
    starts, ends = runs(gap)
    lengths = np.zeros(len(gap), dtype=np.int64)
    lengths[gap] = np.repeat(ends - starts, ends - starts)
    size = len(gap)
    answers = Answers(
        element,
        gap_days=lengths,
        helper=np.full(size, -1),
        value=np.full(size, np.nan),
        error=np.full(size, np.inf),
        reason=np.zeros(size, dtype=np.int64),
    )
    answers.refuse(gap, _why_nobody(element, helpers))
    for index, (estimate, error) in enumerate(_ways(record, element, helpers, month, limits)):
        better = gap & ~np.isnan(estimate) & (error < answers.error)
        answers.error[better] = error[better]
        answers.helper[better], answers.value[better] = index, estimate[better]
        answers.reason[better] = 0
    moved = gap & (answers.helper < 0) & _moved(element, helpers, limits).any(axis=0)
    why = "About these days the neighbour is steadily off: one of the two stations seems to have been moved."
    answers.refuse(moved, why)
    answers.value[:] = np.round(answers.value, 1)
    longest = limits.longest_d(element)
    if gap.all():
        answers.refuse(gap, f"The record has no {WORDS[element]} at all.")
    answers.refuse(gap & (lengths > longest) & ~gap.all(), f"The gap is longer than {longest} days.")
    total = gap & (record.flags[element] == Flag.ACCUMULATED)
    answers.refuse(total, "A total over several days was measured; estimates would contradict it.")
    _refuse_crowded_years(record, answers, limits.year_d(element))
    return answers


def _ways(
    record: WeatherRecord, element: str, helpers: Sequence[Neighbour], month: Months, limits: GapLimits
) -> list[tuple[Floats, Floats]]:
    """(estimate, usual daily error) of each way, both (days,): own days first, then each neighbour."""
    ways = [_own_days(record, element, month)]
    for helper, moved in zip(helpers, _moved(element, helpers, limits), strict=True):
        relation = helper.relations[element]
        by_month = np.full(12, np.nan)
        for number in helper.fits[element]:
            usual = usual_error(relation.error, relation.guess_error, month, number)
            by_month[number] = np.nan if usual is None else usual.daily
        ways.append((np.where(moved, np.nan, relation.estimate), by_month[month]))
    return ways


def _moved(element: str, helpers: Sequence[Neighbour], limits: GapLimits) -> NDArray[np.bool_]:
    """Days (neighbours, days) that a neighbour has and about which it is steadily off."""
    rows = []
    for helper in helpers:
        relation = helper.relations[element]
        usual = helper.usual.get(element)
        most = np.inf if usual is None else limits.drift_share * usual.daily
        rows.append((np.abs(steady_error(relation.error)) > most) & ~np.isnan(relation.estimate))
    return np.array(rows, dtype=np.bool_)


def _own_days(record: WeatherRecord, element: str, month: Months) -> tuple[Floats, Floats]:
    known = measured(record, element)
    error = np.full(len(known), np.nan)
    if element == "rain_mm":
        return error, error
    line, bridged = bridge_gaps(known)
    starts, ends = runs(bridged)
    for length in range(1, LONGEST_BRIDGED_DAYS + 1):
        of_length = starts[ends - starts == length]
        if of_length.size:
            daily, _ = _own_usual(known, month, length)
            for start in of_length.tolist():
                error[start : start + length] = daily[month[start]]
    return np.where(bridged, line, np.nan), error


def _own_usual(known: Floats, month: Months, length: int) -> tuple[Floats, Floats]:
    """Usual error by month (12,) of one day of a straight line over `length` days, and of their sum."""
    errors, starts = own_day_errors(known, length)
    daily, total = np.full(12, np.nan), np.full(12, np.nan)
    for number in range(12):
        sizes, sums = (
            usual_error(series, series, month[starts], number)
            for series in (np.abs(errors).mean(axis=1), errors.sum(axis=1))
        )
        if sizes is not None and sums is not None:
            daily[number], total[number] = sizes.daily, sums.daily
    return daily, total


def _why_nobody(element: str, helpers: Sequence[Neighbour]) -> str:
    if not helpers:
        return "No neighbouring station was given."
    if not any(helper.fits[element] for helper in helpers):
        return f"No neighbour's {WORDS[element]} tells this station's well enough."
    return "No neighbour that tells enough in this season has these days."


def _refuse_crowded_years(record: WeatherRecord, answers: Answers, most: int) -> None:
    """A year with too many estimated days, those already in the file among them, gets none of ours."""
    year = record.dates.astype("datetime64[Y]").astype(np.int64)
    year -= year[0]
    planned = answers.helper >= 0
    estimated = planned | (record.flags[answers.element] == Flag.ESTIMATED)
    crowded = np.bincount(year, weights=estimated)[year] > most
    answers.refuse(planned & crowded, f"More than {most} days of that year would be estimates.")


def refuse_crossed(record: WeatherRecord, answers: Mapping[str, Answers]) -> None:
    """An estimate on the wrong side of the day's other extreme is taken back."""
    low, high = answers["t_min_c"], answers["t_max_c"]
    ends = [np.where(side.helper >= 0, side.value, record.element(side.element)) for side in (low, high)]
    crossed = ends[0] > ends[1]
    for side in (low, high):
        why = "The estimates of lowest and highest temperature would cross."
        side.refuse(crossed & (side.helper >= 0), why)


def usual_sum(
    helpers: Sequence[Neighbour], element: str, key: tuple[int, int, int], known: Floats, month: Months
) -> float | None:
    """Usual size of the error of the sum of a stretch of days, or None if too few could be hidden to tell.

    key : the way (0 own days, k + 1 neighbour k), month the stretch begins in, its days. known : measured values
    of the record (days,).
    """
    helper, centre, days = key
    if helper == 0:
        total = float(_own_usual(known, month, days)[1][centre])
        return None if np.isnan(total) else total
    return usual_sum_error(helpers[helper - 1].relations[element].error, month, centre, days)
