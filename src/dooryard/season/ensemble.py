"""What a station's past years say about the days ahead: the years made like this one, and the dates they give.

A past year stands for what may come, but it was a year of its own. Before its days are used they are moved by as
much as this year is known to differ: by the share of the station's warming that lies between the two years, by a
part of what the last twelve months differ, and by a part of what the last few days differ, which fades. Because each
year is moved by its own difference, years also draw nearer to each other where the past says they should.

The same few functions serve the plan and the look-back that scores it (`hindcast`). Shares and spans are knowledge
facts, tuned by the look-back on some stations and years and scored on others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.knowledge import Knowledge

Numbers = NDArray[np.float64]
Counts = NDArray[np.int64]

SHARES = (0.1, 0.5, 0.9)
"""Earliest, likely and latest: the shares of the futures that reach a sum by that date."""

YEAR_D = 365
FULL_YEARS = 30
"""Years from which a trend's share was tuned; a line through fewer is trusted by the cube of their number."""

ROUNDING_CD = 1e-9  # a sum that should equal its threshold may fall short by the last digit
_ROUNDING_D = 1e-9


@dataclass(frozen=True, slots=True)
class Leaning:
    """How past years are moved (knowledge facts ``season.ahead.…``).

    years : how many years before its own a forecast looks back on. trend_share, year_share, recent_share : parts [1]
    of the station's trend, of the last twelve months' and of the last days' difference. recent_d, fades_d : [d].
    known_share : part of a span's days that must be known.
    """

    years: int
    trend_share: float
    year_share: float
    recent_share: float
    recent_d: int
    fades_d: float
    known_share: float

    @classmethod
    def of(cls, knowledge: Knowledge) -> Leaning:
        """The shares and spans of the tables."""

        def value(name: str) -> float:
            return knowledge.fact(f"season.ahead.{name}").value

        return cls(
            years=int(value("years")),
            trend_share=value("trend_share"),
            year_share=value("year_share"),
            recent_share=value("recent_share"),
            recent_d=int(value("recent")),
            fades_d=value("fades"),
            known_share=value("known_share"),
        )


def years_heard(years: Sequence[int], on: date, knowledge: Knowledge) -> tuple[int, ...]:
    """Those of a station's past years that a forecast made on a day looks back on."""
    span = Leaning.of(knowledge).years
    return tuple(year for year in years if on.year - year <= span)


class Warmth:
    """Mean warmth of any span of days before a day, from running totals."""

    def __init__(self, t_min_c: Numbers, t_max_c: Numbers, known_share: float) -> None:
        middle = (t_min_c + t_max_c) / 2
        known = ~np.isnan(middle)
        self._total = np.concatenate([[0.0], np.cumsum(np.where(known, middle, 0.0))])
        self._known = np.concatenate([[0], np.cumsum(known)])
        self._share = known_share

    def before(self, days: Counts, span_d: int) -> Numbers:
        """Mean [degC] of the ``span_d`` days before each index; NaN if too few are known or the record is shorter."""
        last = len(self._total) - 1
        inside = (days >= span_d) & (days <= last)
        end = np.clip(days, 0, last)
        first = np.clip(days - span_d, 0, last)
        count = self._known[end] - self._known[first]
        enough = inside & (count >= self._share * span_d) & (count > 0)
        mean: Numbers = (self._total[end] - self._total[first]) / np.maximum(count, 1)
        return np.where(enough, mean, np.nan)


def moves(
    leaning: Leaning,
    years_back: Numbers,
    year_c: Numbers,
    recent_c: Numbers,
    now: tuple[float, float],
    days: int,
) -> Numbers:
    """By how much each day of each past year is moved.

    Parameters
    ----------
    leaning : Leaning
    years_back : array (M,)
        How many years before this one each past year lies.
    year_c, recent_c : array (M,)
        Mean warmth of its twelve months, and of its few days, before the same calendar day [degC]; NaN if unknown.
    now : (float, float)
        The same two of this year [degC].
    days : int
        Days ahead, counted from the first day that is not known and not forecast.

    Returns
    -------
    array (M, days)
        Change of the day's temperatures [degC]. A difference that is not known moves nothing.
    """
    warming = -trend(leaning, years_back, year_c, now[0]) * years_back
    year_part = leaning.year_share * _or_nothing(now[0] - year_c - warming)
    recent_part = leaning.recent_share * _or_nothing(now[1] - recent_c - warming - year_part)
    fading = np.exp(-np.arange(days) / leaning.fades_d)
    moved: Numbers = (warming + year_part)[:, None] + recent_part[:, None] * fading
    return moved


def trend(leaning: Leaning, years_back: Numbers, year_c: Numbers, now_c: float) -> float:
    """The change of the years' warmth per year back [degC], as far as it is carried; 0 with fewer than three years.

    The least-squares line's slope has an error that falls with the cube of the number of years. With the tuned share
    taken as (what is true) / (what is true + that error) at thirty years, fewer years keep a smaller share.
    """
    back = np.append(years_back, 0.0)
    warmth = np.append(year_c, now_c)
    known = ~np.isnan(warmth)
    count = int(known.sum())
    if count < 3 or leaning.trend_share <= 0:
        return 0.0
    off = back[known] - back[known].mean()
    slope = float((off * warmth[known]).sum() / (off * off).sum())
    doubt = (1 / leaning.trend_share - 1) * (FULL_YEARS / count) ** 3
    return slope / (1 + doubt)


def days_to_reach(ahead: Numbers, missing_cd: Sequence[float] | Numbers) -> Counts:
    """Days until each future (M, h) has gathered each missing heat (K,): (K, M), sorted, h if never."""
    goals = np.asarray(missing_cd, dtype=np.float64) - ROUNDING_CD
    found = np.empty((len(goals), len(ahead)), dtype=np.int64)
    for member, sums in enumerate(ahead):
        found[:, member] = sums.searchsorted(goals)
    found.sort(axis=1)
    return found


def whole_days(ranked: Counts | Numbers, never: int, shares: Sequence[float] = SHARES) -> Counts:
    """Earliest, likely and latest of sorted days (K, M): (K, 3) whole days, ``never`` if a share is not reached.

    The day that will come is one more draw beside the M that are known, so share p lies at rank p (M + 1), between
    two of them on a straight line (definition 6 of Hyndman and Fan 1996, American Statistician 50:361). The range
    takes the whole days that lie inside its ends, the likely day is the nearest.
    """
    count = ranked.shape[1]
    places = [min(max(share * (count + 1) - 1, 0.0), count - 1.0) for share in shares]
    below = [int(place + _ROUNDING_D) for place in places]
    above = [min(rank + 1, count - 1) for rank in below]
    part = np.array([max(place - rank, 0.0) for place, rank in zip(places, below, strict=True)])
    part[part < _ROUNDING_D] = 0.0
    low, high = ranked[:, below].astype(np.float64), ranked[:, above].astype(np.float64)
    days = low + part * (high - low)
    days[(low >= never) | ((part > 0) & (high >= never))] = never
    likely = np.floor(days[:, 1] + 0.5)
    earliest = np.minimum(np.ceil(days[:, 0] - _ROUNDING_D), likely)
    latest = np.maximum(np.floor(days[:, 2] + _ROUNDING_D), likely)
    return np.stack([earliest, likely, latest], axis=1).astype(np.int64)


def _or_nothing(values: Numbers) -> Numbers:
    return np.where(np.isnan(values), 0.0, values)
