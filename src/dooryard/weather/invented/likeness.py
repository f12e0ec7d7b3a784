"""How like a record the weather made from it is: the numbers a garden and a barrel depend on, side by side.

A record is one draw of its climate, the shorter the less it knows. So the generated weather is cut into
stretches as long as the record: a difference is allowed up to the measure's stated tolerance, or up to three
times what such stretches differ among themselves if that is more.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.weather.invented.curves import angle_of_year, basis, least_squares
from dooryard.weather.invented.fitting import measured, needs
from dooryard.weather.record import Floats, WeatherRecord, on_calendar

LONG_D = (7, 14)  # dry spells a bed feels, and a barrel
ERRORS = 3.0  # times what stretches of made weather differ: within it a difference proves nothing
FEWEST = 5  # stretches the made weather must be cut into
ONE_MONTH = 1  # of twelve may be beyond what is allowed, up to twice as far
CLIMATE_HARMONICS = 3  # of the mean course of the year, taken out before days are compared with the next
_PAIR = 6  # sums kept of two columns: n, x, y, xx, yy, xy


@dataclass(frozen=True, slots=True, eq=False)
class Measure:
    """One measure of a record: a value for each month (12,), or one for all years (1,).

    key : its name. words : what it is. unit : "mm", "degC", "d" or "1".
    """

    key: str
    words: str
    unit: str
    value: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Compared:
    """A measure of the record beside the same of the generated weather.

    made : the generated weather's value. chance : standard deviation of that value among stretches of generated
    weather as long as the record. tolerance : difference allowed whatever the chance. All of one shape.
    """

    measure: Measure
    made: Floats
    chance: Floats
    tolerance: Floats

    @property
    def allowed(self) -> Floats:
        """Largest difference that passes."""
        result: Floats = np.maximum(self.tolerance, ERRORS * self.chance)
        return result

    @property
    def difference(self) -> Floats:
        """Generated less recorded."""
        result: Floats = self.made - self.measure.value
        return result

    @property
    def within(self) -> bool:
        """Whether the measure passes: all but one of its months as allowed, and that one within twice that.

        Twelve months at three standard errors are off once in a while by chance alone. A value that cannot be
        had on either side does not pass.
        """
        beyond = ~(np.abs(self.difference) <= self.allowed)
        spared = ONE_MONTH if len(beyond) == 12 else 0
        return bool(beyond.sum() <= spared and np.all(np.abs(self.difference) <= 2 * self.allowed))


@dataclass(frozen=True, slots=True)
class Tolerances:
    """The facts `generator.like_*`; see `knowledge/facts/weather_generator.csv`."""

    wet_share: float
    rain_pct: float
    rain_mm: float
    spread_pct: float
    spell_pct: float
    spell_d: float
    mean_c: float
    spread_c: float
    correlation: float


@lru_cache(maxsize=1)
def tolerances() -> Tolerances:
    """The shipped tolerances. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return Tolerances(**{name: tables.fact(f"generator.like_{name}").value for name in Tolerances.__slots__})


def compare(record: WeatherRecord, made: WeatherRecord) -> tuple[Compared, ...]:
    """Every measure both records have, in a fixed order.

    made : generated from the record's parameters, at least five times as long. InputError if it is shorter.
    """
    years = max(int(np.sum(~np.isnan(measured(record, "rain_mm")))) // 365, 1)
    count = (made.last.year - made.first.year + 1) // years
    if count < FEWEST:
        raise InputError(
            Problem(
                f"The generated weather is cut into stretches of {years} years, and there are only {count}.",
                f"Generate at least {FEWEST * years} years.",
            )
        )
    found = {measure.key: measure.value for measure in measures(made)}
    stretches = [
        {
            measure.key: measure.value
            for measure in measures(some_years(made, made.first.year + at * years, years))
        }
        for at in range(count)
    ]
    return tuple(
        Compared(
            measure,
            found[measure.key],
            np.std([stretch[measure.key] for stretch in stretches], axis=0, ddof=1),
            _tolerance(measure),
        )
        for measure in measures(record)
        if measure.key in found
    )


def some_years(record: WeatherRecord, first: int, years: int) -> WeatherRecord:
    """Some calendar years of a record."""
    edges = np.array([f"{first:04d}-01-01", f"{first + years:04d}-01-01"], "datetime64[D]")
    span = slice(*np.searchsorted(record.dates, edges).tolist())
    values = {name: record.element(name)[span] for name in record.elements}
    flags = {name: codes[span] for name, codes in record.flags.items()}
    return on_calendar(record.station, record.dates[span], values, flags, record.issues, record.source)


def measures(record: WeatherRecord) -> list[Measure]:
    """All measures of one record: rain first, then spells, temperatures, and how years differ."""
    table = _Table(record)
    rain_mm = measured(record, "rain_mm")
    wet = np.where(np.isnan(rain_mm), np.nan, rain_mm >= needs().wet_day_mm)
    fallen = np.where(wet == 0, 0.0, rain_mm)
    totals = table.month_sums(fallen)
    found = [
        table.measure("wet_share", "share of wet days", "1", table.sums(wet), _mean),
        table.measure("rain_mean", "rain of a month", "mm", _moments(totals), _mean),
        table.measure("rain_spread", "spread of a month's rain", "mm", _moments(totals), _spread),
        *_spells(table, wet),
        table.measure("wettest_day", "wettest day of a year", "mm", _moments(table.year_most(fallen)), _mean),
        table.measure(
            "year_spread", "spread of a year's rain", "mm", _moments(totals.sum(axis=1)[:, None]), _spread
        ),
    ]
    found += _temperatures(table, record)
    return found


class _Table:
    """Days of a record by calendar year and month."""

    def __init__(self, record: WeatherRecord) -> None:
        months = record.dates.astype("datetime64[M]").astype(np.int64)
        first = months[0] - months[0] % 12
        self.slot = months - first
        self.year = self.slot // 12
        self.years = int(self.year[-1]) + 1
        edges = (first + np.arange(self.years * 12 + 1)).astype("datetime64[M]").astype("datetime64[D]")
        self.length = np.diff(edges).astype(int)

    def sums(self, values: Floats) -> Floats:
        """n, sum and sum of squares (years, 12, 3) of what is known in each month."""
        known = ~np.isnan(values)
        columns = [
            np.bincount(self.slot[known], weights=weights, minlength=self.years * 12)
            for weights in (np.ones(int(known.sum())), values[known], values[known] ** 2)
        ]
        return np.stack(columns, axis=1).reshape(self.years, 12, 3).astype(np.float64)

    def pair_sums(self, x: Floats, y: Floats) -> Floats:
        """n and the sums of x, y, xx, yy, xy (years, 12, 6) over the days on which both are known."""
        known = ~np.isnan(x) & ~np.isnan(y)
        a, b = x[known], y[known]
        columns = [
            np.bincount(self.slot[known], weights=weights, minlength=self.years * 12)
            for weights in (np.ones_like(a), a, b, a * a, b * b, a * b)
        ]
        return np.stack(columns, axis=1).reshape(self.years, 12, _PAIR).astype(np.float64)

    def month_sums(self, values: Floats) -> Floats:
        """Sum of each month (years, 12), NaN unless every day of it is known."""
        found = self.sums(values).reshape(-1, 3)
        total: Floats = np.where(found[:, 0] == self.length, found[:, 1], np.nan).reshape(-1, 12)
        return total

    def month_means(self, values: Floats) -> Floats:
        """Mean of each month (years, 12), NaN unless every day of it is known."""
        mean: Floats = self.month_sums(values) / self.length.reshape(-1, 12)
        return mean

    def whole_years(self, values: Floats) -> NDArray[np.bool_]:
        """Which years have every day known."""
        whole: NDArray[np.bool_] = ~np.isnan(self.month_sums(values).sum(axis=1))
        return whole

    def year_most(self, values: Floats) -> Floats:
        """Greatest value of each whole year (years, 1), NaN for others."""
        most = np.full(self.years, -np.inf)
        known = ~np.isnan(values)
        np.maximum.at(most, self.year[known], values[known])
        return np.where(self.whole_years(values), most, np.nan)[:, None]

    def measure(
        self, key: str, words: str, unit: str, parts: Floats, turn: Callable[[Floats], Floats]
    ) -> Measure:
        """A measure from its sums by year (years, months, sums)."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return Measure(key, words, unit, turn(parts.sum(axis=0)))


def _spells(table: _Table, wet: Floats) -> list[Measure]:
    """Measures of spells; each spell belongs to the year of its last day, and must be known to both ends."""
    found = []
    for state, name in ((0.0, "dry"), (1.0, "wet")):
        length, last = spells(wet, state)
        year = table.year[last]
        parts = np.stack(
            [
                np.bincount(year, minlength=table.years),
                np.bincount(year, weights=length, minlength=table.years),
                np.zeros(table.years),
            ],
            axis=1,
        )[:, None, :]
        found.append(table.measure(f"{name}_spell", f"mean length of a {name} spell", "d", parts, _mean))
        if state == 1.0:
            continue
        whole = table.whole_years(wet)
        for long in LONG_D:
            days = np.bincount(year, weights=np.where(length >= long, length, 0.0), minlength=table.years)
            parts = np.stack([whole, np.where(whole, days, 0.0), np.zeros(table.years)], axis=1)[:, None, :]
            words = f"days a year in dry spells of {long} days and more"
            found.append(table.measure(f"dry_{long}", words, "d", parts.astype(np.float64), _mean))
        most = np.zeros(table.years)
        np.maximum.at(most, year, length)
        longest = np.where(whole, most, np.nan)[:, None]
        found.append(
            table.measure("longest_dry", "longest dry spell of a year", "d", _moments(longest), _mean)
        )
    return found


def spells(wet: Floats, state: float) -> tuple[Floats, NDArray[np.int64]]:
    """Lengths [d] of all spells of a state (1 wet, 0 dry) known from end to end, and their last days.

    wet : (days,) 1, 0 or NaN for unknown. A spell beside an unknown day, or at an end of the record, is left out.
    """
    same = np.concatenate(([False], wet == state, [False]))
    start = np.flatnonzero(same[1:] & ~same[:-1])
    end = np.flatnonzero(~same[1:] & same[:-1])
    edged = np.concatenate(([np.nan], wet, [np.nan]))
    known = ~np.isnan(edged[start]) & ~np.isnan(edged[end + 1])
    return (end - start)[known].astype(np.float64), (end - 1)[known]


def _temperatures(table: _Table, record: WeatherRecord) -> list[Measure]:
    found = []
    deviations: dict[str, Floats] = {}
    for name, words in (("t_max_c", "highest temperature"), ("t_min_c", "lowest temperature")):
        values = measured(record, name)
        if np.isnan(values).all():
            continue
        deviation = deviations[name] = _from_climate(values, record)
        day_before = np.concatenate(([np.nan], deviation[:-1]))
        means = table.month_means(values)
        found += [
            table.measure(f"{name}.mean", f"mean {words}", "degC", table.sums(values), _mean),
            table.measure(f"{name}.spread", f"spread of the {words}", "degC", table.sums(deviation), _spread),
            table.measure(
                f"{name}.lag_1",
                f"{words}: correlation with the day before",
                "1",
                table.pair_sums(deviation, day_before),
                _correlation,
            ),
            table.measure(
                f"{name}.month_spread", f"spread of a month's mean {words}", "degC", _moments(means), _spread
            ),
            table.measure(
                f"{name}.year_spread",
                f"spread of a year's mean {words}",
                "degC",
                _moments(means.mean(axis=1)[:, None]),
                _spread,
            ),
        ]
    if len(deviations) == 2:
        parts = table.pair_sums(deviations["t_max_c"], deviations["t_min_c"])
        found.append(
            table.measure("t_cross", "correlation of a day's highest and lowest", "1", parts, _correlation)
        )
    return found


def _from_climate(values: Floats, record: WeatherRecord) -> Floats:
    """Deviations (days,) from the record's own mean course of the year."""
    columns = basis(angle_of_year(record.dates), CLIMATE_HARMONICS)
    known = ~np.isnan(values)
    course = least_squares(columns[known], values[known])
    deviation: Floats = values - columns @ course
    return deviation


def _moments(values: Floats) -> Floats:
    """n, sum and sum of squares (years, columns, 3) of one value a year in each column, NaN left out."""
    known = ~np.isnan(values)
    held = np.where(known, values, 0.0)
    return np.stack([known.astype(np.float64), held, held**2], axis=2)


def _mean(sums: Floats) -> Floats:
    result: Floats = sums[:, 1] / sums[:, 0]
    return result


def _spread(sums: Floats) -> Floats:
    """Standard deviation, with n - 1."""
    n, total, square = sums.T
    result: Floats = np.sqrt(np.maximum(square - total**2 / n, 0.0) / (n - 1))
    return result


def _correlation(sums: Floats) -> Floats:
    n, x, y, xx, yy, xy = sums.T
    result: Floats = (xy - x * y / n) / np.sqrt((xx - x * x / n) * (yy - y * y / n))
    return result


def _tolerance(measure: Measure) -> Floats:
    """The difference allowed to a measure of its kind, from the tables."""
    allow, size = tolerances(), np.abs(measure.value)
    kind = measure.key.split(".")[-1]
    if kind == "wet_share":
        tolerance = np.full_like(size, allow.wet_share)
    elif kind in ("lag_1", "t_cross"):
        tolerance = np.full_like(size, allow.correlation)
    elif kind == "mean":
        tolerance = np.full_like(size, allow.mean_c)
    elif measure.unit == "degC":
        tolerance = np.maximum(size * allow.spread_pct / 100, allow.spread_c)
    elif measure.unit == "d":
        tolerance = np.maximum(size * allow.spell_pct / 100, allow.spell_d)
    else:
        share = allow.rain_pct if kind == "rain_mean" else allow.spread_pct
        tolerance = np.maximum(size * share / 100, allow.rain_mm)
    return tolerance


def told(rows: Sequence[Compared]) -> str:
    """A sentence: how many of the measures are within what is allowed, and which are not."""
    outside = [row.measure.words for row in rows if not row.within]
    if not outside:
        return f"All {len(rows)} measures are within what is allowed."
    return f"{len(rows) - len(outside)} of {len(rows)} measures are within what is allowed; not: {', '.join(outside)}."
