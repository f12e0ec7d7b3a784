"""Heat dates at the size of a county, and a look-back of fifty years: `python -m benchmarks.bench_season`.

Two aims: the dates of 60 sums from thirty past years at 20 stations within half a second once warm, and the look-back
of one station's fifty years within five seconds. Beside each stands the same work as a plain loop over years and days,
for the ratio; a plain loop over a part is counted up to the whole. All weather is made up.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from time import perf_counter

import numpy as np

from benchmarks import record
from dooryard import knowledge, weather
from dooryard.season.ensemble import Leaning
from dooryard.season.hindcast import THRESHOLDS_F, Hindcast
from dooryard.season.timing import HeatSum, SeasonHeat
from dooryard.weather.outlook import ahead, bridge_gaps
from dooryard.weather.record import WeatherRecord

RUNS = 5
STATIONS, ORGANISMS, YEARS = 20, 60, 31
COUNTY_AIM_S, LOOK_BACK_AIM_S = 0.5, 5.0
KINDS = tuple(
    HeatSum(method, base, None, "none", start)
    for method in ("average", "single sine")
    for base in (10.0, 7.2)
    for start in ((1, 1), (3, 1))
)
PLAIN = (0, 20, 40)  # three of the sums, low, middling and high


def median_s(work: Callable[[], object], runs: int = RUNS) -> float:
    """Median time of a piece of work after a warming call [s]."""
    work()
    times = []
    for _ in range(runs):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return statistics.median(times)


def county(stations: list[WeatherRecord], on: date) -> int:
    """Dates of all sums at all stations, from reading the record's arrays on; gives how many there are."""
    found = 0
    for one in stations:
        heat = SeasonHeat(one, ahead(one, on), on)
        for number, kind in enumerate(KINDS):
            sums = [100.0 + 10 * organism for organism in range(number, ORGANISMS, len(KINDS))]
            found += len(heat.crossings(kind, sums))
    return found


def plain_county(one: WeatherRecord, on: date) -> list[int]:
    """The same for one station and a few sums, a day at a time: the plain mean above 10 degC, years as they were."""
    low, high = (bridge_gaps(values)[0].tolist() for values in (one.t_min_c, one.t_max_c))
    first, found = one.first, []
    for organism in PLAIN:
        wanted, so_far = 100.0 + 10 * organism, 0.0
        for at in range((date(on.year, 1, 1) - first).days, (on - first).days):
            so_far += max((low[at] + high[at]) / 2 - 10.0, 0.0)
        for year in range(on.year - 30, on.year):
            at, total = (on.replace(year=year) - first).days, so_far
            end = at + (date(on.year, 12, 31) - on).days
            while total < wanted and at < end:
                total += max((low[at] + high[at]) / 2 - 10.0, 0.0)
                at += 1
            found.append(at)
    return found


def plain_look_back(one: WeatherRecord, year: int) -> int:
    """One year's forecasts of the look-back, a day at a time, by past years as they were."""
    low, high = (bridge_gaps(values)[0].tolist() for values in (one.t_min_c, one.t_max_c))
    first, count = one.first, 0
    day = date(year, 2, 1)
    while day.year == year:
        for threshold in THRESHOLDS_F:
            so_far = 0.0
            for at in range((date(year, 1, 1) - first).days, (day - first).days):
                so_far += max((low[at] + high[at]) / 2 - 10.0, 0.0)
            for past in range(year - 30, year):
                at, total = (date(past, day.month, min(day.day, 28)) - first).days, so_far
                end = at + (date(year, 12, 31) - day).days
                while total < threshold / 1.8 and at < end:
                    total += max((low[at] + high[at]) / 2 - 10.0, 0.0)
                    at += 1
            count += 1
        day += timedelta(days=10)
    return count


def main() -> int:
    """Measure, and print one line a thing."""
    tables = knowledge.load()
    Leaning.of(tables)
    with tempfile.TemporaryDirectory() as name:
        short = weather.read(record.write(Path(name), YEARS).weather)
        long = weather.read(record.write(Path(name), 80).weather)
    on = date(short.last.year, 4, 20)
    stations = [short] * STATIONS
    fast = median_s(lambda: county(stations, on))
    slow = median_s(lambda: plain_county(short, on), 2) * STATIONS * ORGANISMS / len(PLAIN)
    told(f"{ORGANISMS} sums x 30 years x {STATIONS} stations", fast, COUNTY_AIM_S, slow)
    sums = [threshold / 1.8 for threshold in THRESHOLDS_F]
    years = range(long.last.year - 50, long.last.year)
    kind = HeatSum("average", 10.0, None, "none", (1, 1))
    fast = median_s(lambda: Hindcast(long, kind, sums, tables).run(years), 3)
    slow = median_s(lambda: plain_look_back(long, years[-1]), 1) * len(years)
    told(f"look-back of {len(years)} years, four rules", fast, LOOK_BACK_AIM_S, slow)
    print(f"NumPy {np.__version__}. The plain loops do less: one rule, the plain mean, nothing moved.")
    return 0


def told(name: str, fast_s: float, aim_s: float, slow_s: float) -> None:
    """Print a time, its aim, and how many times as long the plain loop takes."""
    print(
        f"{name:<40}{fast_s:7.2f} s  (aim {aim_s:g} s)   plain loop {slow_s:7.1f} s, {slow_s / fast_s:.0f} times"
    )


if __name__ == "__main__":
    sys.exit(main())
