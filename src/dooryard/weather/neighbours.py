"""What a neighbouring station says about a day this one missed, and how wrong that usually is.

Temperatures by a straight line through the days both stations know, rain by the ratio of amounts of the same
rarity, both by season: each month with the month before and after it. How wrong: real days are hidden, a
fortnight at a time, the relation is made without them, and what it says is compared with what was measured.
Only measured values take part. An estimate is never made from an estimate.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from dooryard.weather.record import Flag, Floats, Station, WeatherRecord

Months = NDArray[np.int64]

EARTH_KM = 6371.0088  # mean radius
HIDDEN_D = 15  # days hidden in one piece: neither too few to resemble a gap nor a whole season
PARTS = 5  # a fifth of the days is hidden at a time
CLASSES = 20  # classes of rain amounts at most, from common to rare
CLASS_DAYS = 10  # wet days in a class at least


@dataclass(frozen=True, slots=True, eq=False)
class Regression:
    """A straight line for each month (12,), January first: estimate = intercept_c + slope * neighbour.

    days : (12,) days in common the line of that month was drawn through. NaN where there were none.
    """

    slope: Floats
    intercept_c: Floats
    days: Months

    def estimate(self, neighbour_c: Floats, month: Months) -> Floats:
        """Temperatures [degC] for the neighbour's, both (days,); month 0 to 11. NaN stays NaN."""
        return self.intercept_c[month] + self.slope[month] * neighbour_c


@dataclass(frozen=True, slots=True, eq=False)
class QuantileRatio:
    """For each month, the neighbour's rain amounts [mm] and the ratio to apply to them, both rising by class.

    days : (12,) days in common on which it rained at the neighbour. Between two classes the ratio runs in a
    straight line; above the highest and below the lowest it stays, so no rain is carried further than seen.
    """

    amounts_mm: tuple[Floats, ...]
    ratios: tuple[Floats, ...]
    days: Months

    def estimate(self, neighbour_mm: Floats, month: Months) -> Floats:
        """Rain [mm] for the neighbour's, both (days,); a dry day there is a dry day here. NaN stays NaN."""
        result = np.full(len(neighbour_mm), np.nan)
        for number in range(12):
            here = month == number
            if self.amounts_mm[number].size:
                amount = neighbour_mm[here]
                result[here] = amount * np.interp(amount, self.amounts_mm[number], self.ratios[number])
        return result


@dataclass(frozen=True, slots=True, eq=False)
class Relation:
    """One element of one neighbour, laid on the days of the record it is to help; arrays (days,).

    lag_d : days the neighbour's dates run late (its gauge read in the morning, say); taken out here.
    estimate : what it says for every day it measured.
    error : estimate less measured, on days that were hidden from the relation they are estimated by.
    guess_error : the same days guessed without a neighbour: usual temperature of the date, or no rain.
    paired : (12,) days in common that each month's relation rests on (for rain those with rain there).
    """

    element: str
    lag_d: int
    estimate: Floats
    error: Floats
    guess_error: Floats
    paired: Months


def relate(record: WeatherRecord, neighbour: WeatherRecord, element: str, lag_margin: float) -> Relation:
    """How one element of a neighbour tells this record's.

    lag_margin : how much better a day's shift must correlate before it is believed [1].
    """
    target = measured(record, element)
    month = months_of(record)
    rain = element == "rain_mm"
    lag_d = _lag(record, neighbour, element, lag_margin)
    told = _laid(record, neighbour, element, lag_d)
    model = fit_ratio(told, target, month) if rain else fit_regression(told, target, month)
    error = np.full(len(target), np.nan)
    paired = ~np.isnan(told) & ~np.isnan(target)
    part = record.dates.astype(int) // HIDDEN_D % PARTS
    for number in range(PARTS):
        hidden = paired & (part == number)
        left = np.where(part == number, np.nan, target)
        trial = fit_ratio(told, left, month) if rain else fit_regression(told, left, month)
        error[hidden] = trial.estimate(told[hidden], month[hidden]) - target[hidden]
    guess = np.zeros(len(target)) if rain else usual(target, record)
    return Relation(
        element=element,
        lag_d=lag_d,
        estimate=model.estimate(told, month),
        error=error,
        guess_error=np.where(np.isnan(error), np.nan, guess - target),
        paired=model.days,
    )


def fit_regression(neighbour_c: Floats, target_c: Floats, month: Months) -> Regression:
    """Least squares by month, each with the month before and after it; all (days,), NaN days left out."""
    both = ~np.isnan(neighbour_c) & ~np.isnan(target_c)
    x, y, when = neighbour_c[both], target_c[both], month[both]
    # Sums about the middle of the whole, or squares of temperatures would eat the last digits.
    middle_x, middle_y = (float(v.mean()) if v.size else 0.0 for v in (x, y))
    x, y = x - middle_x, y - middle_y
    n, sx, sy, sxx, sxy = (
        season_sum(np.bincount(when, weights=weights, minlength=12).astype(np.float64))
        for weights in (np.ones_like(x), x, y, x * x, x * y)
    )
    with np.errstate(invalid="ignore", divide="ignore"):
        spread = sxx - sx * sx / n
        slope = np.where(spread > 1e-9, (sxy - sx * sy / n) / spread, np.nan)
        intercept = sy / n - slope * sx / n
    return Regression(slope, intercept + middle_y - slope * middle_x, n.round().astype(np.int64))


def fit_ratio(neighbour_mm: Floats, target_mm: Floats, month: Months) -> QuantileRatio:
    """Ratio of the amounts reached equally often at both places, by class of rarity and by season.

    Rarity counts all days in common, wet and dry, so a place with fewer rainy days gets its small rains
    dropped. All (days,), NaN days left out.
    """
    both = ~np.isnan(neighbour_mm) & ~np.isnan(target_mm)
    amounts: list[Floats] = []
    ratios: list[Floats] = []
    days = np.zeros(12, dtype=np.int64)
    for number in range(12):
        here = both & np.isin(month, [(number - 1) % 12, number, (number + 1) % 12])
        there, target = np.sort(neighbour_mm[here]), np.sort(target_mm[here])
        wet = int((there > 0).sum())
        days[number] = wet
        classes = min(CLASSES, wet // CLASS_DAYS)
        # Middle of each class, counted from the rarest: the same place in both sorted columns.
        place = len(there) - wet + ((np.arange(classes) + 0.5) / max(classes, 1) * wet).astype(int)
        amount, first = np.unique(there[place], return_index=True)
        of_class = target[place] / there[place]
        # Gauges read in steps, so classes may share an amount: they share the mean of their ratios too.
        count = np.diff(np.append(first, classes))
        amounts.append(amount)
        ratios.append(np.add.reduceat(of_class, first) / count if classes else of_class)
    return QuantileRatio(tuple(amounts), tuple(ratios), days)


def measured(record: WeatherRecord, element: str) -> Floats:
    """Values (days,) of an element that somebody measured; NaN for all others, estimates among them."""
    flags = record.flags[element]
    return np.where((flags == Flag.OBSERVED) | (flags == Flag.TRACE), record.element(element), np.nan)


def months_of(record: WeatherRecord) -> Months:
    """Month of every day of a record (days,), 0 for January."""
    months: Months = record.dates.astype("datetime64[M]").astype(np.int64) % 12
    return months


def season_sum(monthly: Floats) -> Floats:
    """Each month's sum (12,) with those of the month before and after."""
    return monthly + np.roll(monthly, 1) + np.roll(monthly, -1)


def usual(values: Floats, record: WeatherRecord) -> Floats:
    """The value (days,) this record itself would lead one to expect: mean of the month about the date.

    A plain running mean over the calendar, good enough to hold an estimate against. NaN if nothing is known.
    """
    start = record.dates.astype("datetime64[Y]").astype("datetime64[D]")
    day = np.minimum((record.dates - start).astype(int), 364)
    known = ~np.isnan(values)
    count = np.bincount(day[known], minlength=365).astype(float)
    total = np.bincount(day[known], weights=values[known], minlength=365)
    wide = [np.convolve(np.concatenate((v[-15:], v, v[:15])), np.ones(31), "valid") for v in (count, total)]
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = wide[1] / wide[0]
    return np.asarray(mean[day], dtype=np.float64)


def distance_km(a: Station, b: Station) -> float | None:
    """Great-circle distance of two stations [km], or None if one does not say where it stands."""
    if a.latitude is None or a.longitude is None or b.latitude is None or b.longitude is None:
        return None
    north_a, north_b = radians(a.latitude), radians(b.latitude)
    half = sin((north_b - north_a) / 2) ** 2
    half += cos(north_a) * cos(north_b) * sin(radians(b.longitude - a.longitude) / 2) ** 2
    return 2 * EARTH_KM * asin(min(1.0, sqrt(half)))


def _laid(record: WeatherRecord, neighbour: WeatherRecord, element: str, lag_d: int) -> Floats:
    """The neighbour's measured values on the record's days (days,), its dates moved back by `lag_d`."""
    laid = np.full(len(record.dates), np.nan)
    offset = int((neighbour.dates[0] - record.dates[0]).astype(int)) - lag_d
    first, last = max(offset, 0), min(offset + len(neighbour.dates), len(laid))
    if first < last:
        laid[first:last] = measured(neighbour, element)[first - offset : last - offset]
    return laid


def _lag(record: WeatherRecord, neighbour: WeatherRecord, element: str, margin: float) -> int:
    """Does the neighbour write the same weather a day later or earlier? By correlation; 0 if in doubt."""
    target = _stirred(measured(record, element), element)
    score = {}
    for lag_d in (0, 1, -1):
        told = _stirred(_laid(record, neighbour, element, lag_d), element)
        both = ~np.isnan(told) & ~np.isnan(target)
        x, y = told[both], target[both]
        sound = len(x) > 2 and x.std() > 0 and y.std() > 0
        score[lag_d] = float(np.corrcoef(x, y)[0, 1]) if sound else 0.0
    best = max(score, key=lambda lag_d: score[lag_d])
    return best if score[best] > score[0] + margin else 0


def _stirred(values: Floats, element: str) -> Floats:
    """What tells one day from the next: steps of temperature, roots of rain (or one storm would decide)."""
    return np.sqrt(values) if element == "rain_mm" else np.diff(values, prepend=np.nan)
