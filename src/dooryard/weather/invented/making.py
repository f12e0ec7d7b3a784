"""From parameters to days: a record like any other, which says of itself that it is invented."""

from __future__ import annotations

from datetime import date
from math import erfc, sqrt

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.invented.curves import angle_of_year, value
from dooryard.weather.invented.occurrence import Bools, wet_days
from dooryard.weather.invented.parameters import Parameters, faults
from dooryard.weather.invented.residuals import BESIDE, SHARE_OF_LIGHT, around, daily_part
from dooryard.weather.invented.slow import stretch
from dooryard.weather.record import (
    MADE_UP,
    Codes,
    Days,
    Flag,
    Floats,
    Issue,
    Source,
    Station,
    WeatherRecord,
    on_calendar,
)

WARM_UP_D = 90  # days made and thrown away, so that the first day knows nothing of how it began
_STREAMS = 3  # warm-up, days, months and years: a longer run begins with the same days as a shorter one

INVENTED = Issue(
    kind=MADE_UP,
    text="This weather was made by the generator. No one measured it.",
    instead="Use it to try things out; never as evidence of what happened.",
)


def make(
    parameters: Parameters,
    first: date,
    last: date,
    *,
    seed: int,
    region_seed: int = 0,
    shared: float = 0.0,
    station: Station | None = None,
) -> WeatherRecord:
    """Daily weather from `first` to `last`, both included; the same seeds give the same days.

    seed : the station's own chance, 0 or more. region_seed, shared : stations with one region seed share this
    part of their chance (0 none, 1 all), each keeping its own climate. station : whose record it is to be.
    InputError if `last` is before `first`, `shared` is outside 0 to 1, or the parameters make no weather.
    """
    problems = faults(parameters)
    if last < first or not 0 <= shared <= 1:
        problems.append(Problem(f"From {first} to {last} with a share of {shared} nothing can be generated."))
    if problems:
        raise InputError(problems)
    start = np.datetime64(first, "D") - WARM_UP_D
    # The mean of a day knows the rain of the two after it, so those are made too.
    dates = np.arange(start, np.datetime64(last, "D") + 1 + BESIDE)
    chance = _Chance(seed, region_seed, shared)
    angle_rad = angle_of_year(dates)
    rain_mm, wet = _rain(parameters, dates, angle_rad, chance)
    values = _elements(parameters, dates, angle_rad, wet.astype(np.float64), chance)
    values["rain_mm"] = rain_mm
    values = {name: series[WARM_UP_D:-BESIDE] for name, series in values.items()}
    flags: dict[str, Codes] = {
        name: np.full(len(series), Flag.OBSERVED, dtype=np.uint8) for name, series in values.items()
    }
    source = Source(path_name="", layout="invented", note=f"generator, seed {seed}")
    owner = station or Station("invented")
    return on_calendar(owner, dates[WARM_UP_D:-BESIDE], values, flags, (INVENTED,), source)


def as_gauged(record: WeatherRecord) -> WeatherRecord:
    """The record rounded as instruments are read: everything to a tenth of its unit."""
    values = {name: np.round(record.element(name), 1) for name in record.elements}
    return on_calendar(record.station, record.dates, values, record.flags, record.issues, record.source)


class _Chance:
    """Standard normal deviates of a station that shares part of its chance with its region."""

    def __init__(self, seed: int, region_seed: int, shared: float) -> None:
        self._seeds = (seed, region_seed)
        self._shares = (sqrt(1 - shared), sqrt(shared))

    def normal(self, rows: int, columns: int, *, stream: int) -> Floats:
        """Deviates (rows, columns); asking for more rows adds rows at the end."""
        # RandomState, because NumPy promises its streams never change; the newer Generator's may.
        draws = [
            share * np.random.RandomState([number, stream, who]).standard_normal((rows, columns))
            for who, (number, share) in enumerate(zip(self._seeds, self._shares, strict=True))
            if share > 0
        ]
        total: Floats = np.sum(draws, axis=0)
        return total

    def of_days(self, days: int, columns: int, *, topic: int) -> Floats:
        """One row a day, the days before the first from a stream of their own."""
        return np.concatenate(
            (
                self.normal(WARM_UP_D, columns, stream=_STREAMS * topic),
                self.normal(days - WARM_UP_D, columns, stream=_STREAMS * topic + 1),
            )
        )

    def of_calendar(self, dates: Days, columns: int, *, topic: int) -> tuple[Floats, Floats]:
        """A row for every day (days, columns), the same all through its month; likewise its year."""
        months = dates.astype("datetime64[M]").astype(int)
        years = dates.astype("datetime64[Y]").astype(int)
        # Counted from the first day asked for, not from the warm-up, which may lie in the year before.
        rows = [index - index[WARM_UP_D] for index in (months, years)]
        found = []
        for at, row in enumerate(rows):
            drawn = self.normal(int(row[-1]) + 1, columns, stream=_STREAMS * (topic + at) + 2)
            found.append(drawn[np.maximum(row, 0)])
        return found[0], found[1]


def _rain(parameters: Parameters, dates: Days, angle_rad: Floats, chance: _Chance) -> tuple[Floats, Bools]:
    """Rain [mm] and whether it counts as wet, both (days,)."""
    slow = parameters.slow
    draw = chance.of_days(len(dates), 3, topic=0)
    month_slow, year_slow = chance.of_calendar(dates, 2, topic=0)
    above = tails(draw)  # chance of a greater deviate: uniform from 0 to 1
    shift = slow.wet_month * month_slow[:, 0] + slow.wet_year * year_slow[:, 0]
    wet = wet_days(
        parameters.occurrence, angle_rad, np.log(above[:, 0] / (1 - above[:, 0])), shift, stretch(slow)
    )
    was_wet = np.concatenate(([False], wet[:-1]))
    month = dates.astype("datetime64[M]").astype(np.int64) % 12
    deviate = parameters.amounts.deviate(month, above[:, 1], -np.log(above[:, 2]))
    # A logarithm spread about half its variance below 0 has a factor of mean 1.
    logs = slow.amount_month * month_slow[:, 1] + slow.amount_year * year_slow[:, 1]
    factor = np.exp(logs - (slow.amount_month**2 + slow.amount_year**2) / 2)
    amount = parameters.least_mm + parameters.amounts.mean_mm(angle_rad, was_wet) * deviate * factor
    return np.where(wet, amount, 0.0), wet


def _elements(
    parameters: Parameters, dates: Days, angle_rad: Floats, wet: Floats, chance: _Chance
) -> dict[str, Floats]:
    """Temperatures and what else there are parameters for, by name, each (days,)."""
    joined = parameters.residuals
    count = len(joined.elements)
    if not count:
        return {}
    a, b = joined.matrices()
    month = dates.astype("datetime64[M]").astype(np.int64) % 12
    residual = daily_part(a, b, chance.of_days(len(dates), count, topic=2), month)
    of_month, of_year = chance.of_calendar(dates, count, topic=3)
    roots = np.stack([_root(covariance) for covariance in joined.monthly])
    residual = residual + np.einsum("dij,dj->di", roots[month], of_month) + of_year @ _root(joined.yearly).T
    wet_days_about = around(wet, 0.0)
    made = {}
    for at, element in enumerate(joined.elements):
        series = (
            element.mean(angle_rad, wet_days_about)
            + element.spread(angle_rad, wet_days_about) * residual[:, at]
        )
        if element.most is not None:
            most = value(element.most, angle_rad)
            series = np.clip(series, SHARE_OF_LIGHT * most, most)
        made[element.name] = series
    if "t_min_c" in made:
        made["t_min_c"] = np.minimum(made["t_min_c"], made["t_max_c"] - parameters.least_range_c)
        if "dew_point_c" in made:
            made["dew_point_c"] = np.minimum(made["dew_point_c"], (made["t_min_c"] + made["t_max_c"]) / 2)
    return made


def tails(normal: Floats) -> Floats:
    """Chance of a standard normal deviate above each of these; uniform if they are normal."""
    flat = [0.5 * erfc(deviate / sqrt(2)) for deviate in normal.ravel().tolist()]
    chance: Floats = np.clip(np.array(flat), 1e-300, 1 - 1e-16).reshape(normal.shape)
    return chance


def _root(covariance: Floats) -> Floats:
    """A matrix whose product with its transpose is the covariance, which may be singular."""
    sizes, directions = np.linalg.eigh(covariance)
    result: Floats = directions * np.sqrt(np.maximum(sizes, 0.0))
    return result
