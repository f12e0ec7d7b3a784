"""When a plant blooms, from its winter's cold and the warmth after it, tried on years that were not used to fit it.

The plant first wants so much chill (portions of the dynamic model), then so much heat (degree-days above a base). Both
are found on some years and tried on the others. Rivals: the mean date, and heat from a fixed day without any chill.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.season import heat
from dooryard.season.chill import dynamic_portions
from dooryard.season.daily_curve import hours_of_days
from dooryard.weather.record import WeatherRecord

Numbers = NDArray[np.float64]

FIRST_MONTH = 10
"""Chill is counted from 1 October on, the usual beginning in the northern half of the world."""
LAST_DAY = 181
"""Bloom is looked for up to 30 June."""
BRIDGED_D = 3
"""Missing days in a row that a straight line bridges; a longer gap leaves the year out."""

CHILLS = tuple(range(0, 105, 5))
BASES_C = (0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
STARTS = tuple(range(1, 75, 7))
"""What is tried: chill portions, bases of the heat [degC], and fixed starts as days of the year."""


@dataclass(frozen=True, slots=True, eq=False)
class Springs:
    """Years with bloom and the weather before it; columns are days from 1 October to 30 June.

    years, bloom : (Y,) year and day of the year of bloom. chill : (Y, D) portions from 1 October to that day's end.
    heat : for each base (Y, D) degree-days of each day [degC.d]. new_year : column of 1 January. left_out : years with
    bloom that lack weather.
    """

    years: NDArray[np.int64]
    bloom: Numbers
    chill: Numbers
    heat: Mapping[float, Numbers]
    new_year: int
    left_out: tuple[int, ...]

    def part(self, which: NDArray[np.bool_]) -> Springs:
        """Some of the years."""
        return Springs(
            self.years[which],
            self.bloom[which],
            self.chill[which],
            {base: days[which] for base, days in self.heat.items()},
            self.new_year,
            (),
        )


def springs(
    record: WeatherRecord, bloom: Mapping[int, float], latitude: float, *, bases_c: Sequence[float] = BASES_C
) -> Springs:
    """The years of a bloom series that a record has the weather for.

    Parameters
    ----------
    record : WeatherRecord
        Days of a station near the plant, in the northern half of the world.
    bloom : mapping
        Day of the year of bloom by year; 60 is 1 March in every year.
    latitude : float
        Degrees north, for the hours that chill needs.
    bases_c : sequence of float
        Bases of the heat sums [degC].

    Returns
    -------
    Springs

    Raises
    ------
    InputError
        If fewer than five years have both.
    """
    low, high = bridged(record.t_min_c), bridged(record.t_max_c)
    new_year = (date(2001, 1, 1) - date(2000, FIRST_MONTH, 1)).days
    size = new_year + LAST_DAY
    kept: list[int] = []
    lows, highs = [], []
    for year in sorted(bloom):
        start = (date(year - 1, FIRST_MONTH, 1) - record.first).days
        # A leap year's 29 February is left out, so that columns are the same days in every year.
        leap = new_year + 59 if date(year, 3, 1).timetuple().tm_yday == 61 else None
        days = np.arange(start, start + size + (leap is not None))
        if leap is not None:
            days = np.delete(days, leap)
        if start < 0 or days[-1] >= low.size or np.isnan(low[days] + high[days]).any():
            continue
        kept.append(year)
        lows.append(low[days])
        highs.append(high[days])
    if len(kept) < _LEAST_YEARS:
        what = f"Only {len(kept)} years have both bloom and the weather from October before it."
        raise InputError(
            Problem(what, f"Give a record that covers {_LEAST_YEARS} years or more.", field="weather")
        )
    t_min, t_max = np.array(lows), np.array(highs)
    of_year = (np.arange(size) - new_year) % 365 + 1.0
    chill = np.array(
        [
            np.cumsum(
                dynamic_portions(hours_of_days(a, b, of_year, latitude).ravel()).reshape(size, 24).sum(axis=1)
            )
            for a, b in zip(t_min, t_max, strict=True)
        ]
    )
    sums = {base: heat.sine(t_min, t_max, base) for base in bases_c}
    days_of_bloom = np.array([bloom[year] for year in kept], dtype=np.float64)
    left_out = tuple(year for year in sorted(bloom) if year not in kept)
    return Springs(np.array(kept), days_of_bloom, chill, sums, new_year, left_out)


_LEAST_YEARS = 5


@dataclass(frozen=True, slots=True)
class Model:
    """A fitted model: chill portions first (None: no chill, heat from the day `start`), then heat_cd above base_c."""

    chill: float | None
    start: int
    base_c: float
    heat_cd: float


def predict(model: Model, years: Springs) -> Numbers:
    """Day of the year of bloom in each year, with its fraction; 30 June where it is not reached by then.

    Heat counts to the end of the day of bloom, and within a day it grows evenly: a sum reached at noon of day 100 gives
    99.5, so that fitting and predicting agree.

    Parameters
    ----------
    model : Model
        As fitted.
    years : Springs
        Any years with weather.

    Returns
    -------
    array (Y,)
    """
    total = _heat_from(years, model.base_c, _begins(years, model.chill, model.start))
    reached = total >= model.heat_cd - 1e-9
    first = np.argmax(reached, axis=1)
    rows = np.arange(first.size)
    after, before = total[rows, first], np.where(first > 0, total[rows, np.maximum(first - 1, 0)], 0.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        part = np.where(after > before, (model.heat_cd - before) / (after - before), 1.0)
    return np.where(reached.any(axis=1), first - years.new_year + part, float(LAST_DAY))


def fit(years: Springs, *, with_chill: bool) -> Model:
    """The requirements with the least mean error in days on these years, out of all that are tried.

    Parameters
    ----------
    years : Springs
        The years to fit.
    with_chill : bool
        Chill then heat; or heat from a fixed day.

    Returns
    -------
    Model
        Its heat is the mean heat that these years had by bloom. A chill that some year does not reach before bloom is
        not tried.
    """
    best: tuple[float, Model] | None = None
    starts = [(float(chill), 0) for chill in CHILLS] if with_chill else [(None, start) for start in STARTS]
    rows = np.arange(years.years.size)
    at_bloom = np.rint(years.bloom).astype(int) + years.new_year - 1
    for chill, start in starts:
        begins = _begins(years, chill, start)
        if (begins >= at_bloom).any():
            continue
        for base in years.heat:
            total = _heat_from(years, base, begins)
            model = Model(chill, start, base, float(total[rows, at_bloom].mean()))
            error = float(np.abs(predict(model, years) - years.bloom).mean())
            if best is None or error < best[0] - 1e-12:
                best = (error, model)
    if best is None:
        raise InputError(
            Problem(
                "Bloom comes before any chill or start that is tried.", "Look at the dates.", field="bloom"
            )
        )
    return best[1]


@dataclass(frozen=True, slots=True, eq=False)
class Checked:
    """Bloom against predictions of models that had not seen the year; all (Y,) days of the year.

    by_chill, by_heat, by_mean : chill then heat; heat from a fixed day; the mean date of the other years. models : the
    fitted chill-and-heat model of each fold.
    """

    years: NDArray[np.int64]
    bloom: Numbers
    by_chill: Numbers
    by_heat: Numbers
    by_mean: Numbers
    models: tuple[Model, ...]


def cross_validate(years: Springs, folds: int = 10, *, in_blocks: bool = False) -> Checked:
    """Each year predicted by models fitted on the years outside its fold.

    Parameters
    ----------
    years : Springs
        All years.
    folds : int
        How many parts; no more than there are years.
    in_blocks : bool
        Parts of years that follow each other, the harder test while the climate warms; else every n-th year.

    Returns
    -------
    Checked
    """
    count = years.years.size
    results = [np.empty(count) for _ in range(3)]
    models = []
    for out in _folds(count, min(folds, count), in_blocks):
        known, asked = years.part(~out), years.part(out)
        model = fit(known, with_chill=True)
        models.append(model)
        results[0][out] = predict(model, asked)
        results[1][out] = predict(fit(known, with_chill=False), asked)
        results[2][out] = known.bloom.mean()
    return Checked(years.years, years.bloom, results[0], results[1], results[2], tuple(models))


@dataclass(frozen=True, slots=True)
class Errors:
    """How far predictions lie from bloom: mean size, root mean square and mean [d], and the share within 3 days."""

    mean_size_d: float
    root_square_d: float
    mean_d: float
    within_3d: float


def errors(predicted: Numbers, bloom: Numbers) -> Errors:
    """The errors of predictions in days, predicted less seen.

    Parameters
    ----------
    predicted, bloom : array (Y,)
        Days of the year.
    """
    off = predicted - bloom
    size = np.abs(off)
    return Errors(
        float(size.mean()),
        float(np.sqrt((off**2).mean())),
        float(off.mean()),
        float((size <= 3.0 + 1e-9).mean()),
    )


def _begins(years: Springs, chill: float | None, start: int) -> NDArray[np.int64]:
    """Column from which heat counts: the day after the chill is full, or the fixed day; past the end if never."""
    if chill is None:
        return np.full(years.years.size, years.new_year + start - 1)
    full = years.chill >= chill
    begins = np.where(full.any(axis=1), np.argmax(full, axis=1) + 1, years.chill.shape[1])
    return np.asarray(begins, dtype=np.int64)


def _heat_from(years: Springs, base_c: float, begins: NDArray[np.int64]) -> Numbers:
    days = years.heat[base_c]
    counted = np.arange(days.shape[1])[None, :] >= begins[:, None]
    return np.asarray(np.cumsum(np.where(counted, days, 0.0), axis=1))


def _folds(count: int, folds: int, in_blocks: bool) -> Iterator[NDArray[np.bool_]]:
    places = np.arange(count)
    part = places * folds // count if in_blocks else places % folds
    for fold in range(folds):
        yield part == fold


def bridged(values: Numbers) -> Numbers:
    """Gaps of up to `BRIDGED_D` days bridged by a straight line."""
    known = np.flatnonzero(~np.isnan(values))
    if not known.size:
        return values
    filled = np.interp(np.arange(values.size), known, values[known])
    after = np.searchsorted(known, np.arange(values.size))
    inside = (after > 0) & (after < known.size)
    gap = np.full(values.size, values.size)
    gap[inside] = (
        known[np.minimum(after, known.size - 1)][inside] - known[np.maximum(after - 1, 0)][inside] - 1
    )
    missing = np.isnan(values)
    return np.where(missing & (gap > BRIDGED_D), np.nan, np.where(missing, filled, values))
