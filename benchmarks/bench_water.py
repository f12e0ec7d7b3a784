"""A yard's water for thirty years: the network against plain loops of the same arithmetic.

    python -m benchmarks.bench_water            three roofs, three storages, five beds

The plain versions are what one would write first: a loop over the rows of a data frame, and a loop over the
days of arrays. They get the weather, the crop factors and the seasons ready made; `network.run` works these
out as well, and bounds for what a day leaves open. All three must give the same levels.
"""

from __future__ import annotations

import datetime as dt
import platform
import sys
from collections.abc import Callable
from dataclasses import dataclass
from time import perf_counter

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from benchmarks.bench import Ratio, Row, print_ratios, print_rows
from dooryard import knowledge
from dooryard.knowledge import Knowledge
from dooryard.water import choice_years, choices, network, storage
from dooryard.water.yield_curve import yield_curve
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Bed, Downspout, Place, Roof, Storage, Yard

Array = NDArray[np.float64]

YEARS = 30
ON = dt.date(2026, 1, 1)
NETWORK_AIM_S = 0.050
CHOICES_AIM_S = 0.5

ROOFS = (
    Roof("house", 40.0, "asphalt-shingle", "one"),
    Roof("porch", 25.0, "metal", "two"),
    Roof("garage", 30.0, "asphalt-shingle", "three"),
)
STORAGES = (
    Storage("upper", 208.0, 0.58, 0.88, 0.08, 0.8, fed_by=("one",), empties_to="lower"),
    Storage("lower", 416.0, 0.8, 0.9, 0.08, 0.82, fed_by=("two",)),
    Storage("garage drum", 208.0, 0.58, 0.88, 0.08, 0.8, fed_by=("three",), daily_use_l=5.0),
)
BEDS = (
    Bed("tomatoes", 4.0, "tomato", "loam", "upper", planted=dt.date(2025, 5, 10)),
    Bed("border", 6.0, "annual-flowers", "sandy-loam", "lower"),
    Bed("beans", 3.0, "green-bean", "silt-loam", "garage drum"),
    Bed("far border", 10.0, "annual-flowers", "loam", "tap"),
    Bed("rain bed", 8.0, "annual-flowers", "loam", "rain"),
)


def main() -> int:
    """Measure and print the table; 1 if the three do not agree."""
    tables, here, weather = knowledge.load(), yard(), record()
    run, _ = network.run(here, weather, tables, ON)
    case = Case.of(run, tables)
    frame = case.frame()
    for name, plain in (("arrays", by_arrays(case)), ("data frame", by_frame(case, frame))):
        worst = max(
            float(np.max(np.abs(levels - pool.yas.level_l)))
            for levels, pool in zip(plain, run.pools, strict=True)
        )
        print(f"plain loop over {name}: levels differ at most by {worst:.1e} L from the network's")
        if worst > 1e-6:
            return 1
    rain = np.nan_to_num(weather.rain_mm)
    inflow_l = 40.0 * np.maximum(rain - 1.0, 0.0)
    demand_l = 45.0 * ((np.arange(rain.size) % 365 > 120) & (np.arange(rain.size) % 365 < 270))
    whole = choice_years.years_of(here, run, tables)
    kinds = choice_years.kinds_of(tables)
    if whole is None:
        return 1
    many = choices.play(whole, kinds)
    work: dict[str, tuple[str, Callable[[], object], int, float | None]] = {
        "network": (
            "network.run, 3 roofs, 3 storages, 5 beds",
            lambda: network.run(here, weather, tables, ON),
            15,
            NETWORK_AIM_S,
        ),
        "arrays": ("  a plain loop over NumPy arrays", lambda: by_arrays(case), 5, None),
        "frame": ("  a plain loop over pandas rows", lambda: by_frame(case, frame), 3, None),
        "one": ("simulate, one tank", lambda: storage.simulate(inflow_l, demand_l, 208.0, "ybs"), 15, None),
        "choices": (
            f"{len(many.played)} choices of barrels, sorted to a short list",
            lambda: choices.short_list(
                choices.unbeaten(choices.play(whole, kinds).offered, least_gain_l=19.0, least_share=0.01),
                most=8,
                now=whole.now,
            ),
            5,
            CHOICES_AIM_S,
        ),
        "curve": ("yield_curve, every size", lambda: yield_curve(inflow_l, demand_l), 15, None),
    }
    rows = {key: _measured(name, call, runs, aim) for key, (name, call, runs, aim) in work.items()}
    print(
        f"\nPython {platform.python_version()}, NumPy {np.__version__}, pandas {pd.__version__}, {YEARS} years\n"
    )
    print_rows(list(rows.values()))
    print()
    print_ratios(
        [
            Ratio("plain loop over pandas rows to the network", rows["frame"], rows["network"]),
            Ratio("plain loop over NumPy arrays to the network", rows["arrays"], rows["network"]),
            Ratio(
                f"{len(many.played)} choices of barrels to one simulated tank", rows["choices"], rows["one"]
            ),
            Ratio("yield_curve to one simulated tank", rows["curve"], rows["one"], aim=1.5),
        ]
    )
    return 0


def _measured(name: str, call: Callable[[], object], runs: int, aim: float | None) -> Row:
    call()
    taken = []
    for _ in range(runs):
        start = perf_counter()
        call()
        taken.append(perf_counter() - start)
    return Row(name, tuple(taken), aim)


def yard() -> Yard:
    """Three roofs, a cascade of two storages and a third one, five beds."""
    spouts = tuple(Downspout(name, 0.05, 0.075) for name in ("one", "two", "three"))
    place = Place(latitude=40.0, longitude=-85.0, elevation_m=200.0, station="made up")
    return Yard("bench", "us", place, roofs=ROOFS, downspouts=spouts, storages=STORAGES, beds=BEDS)


def record() -> WeatherRecord:
    """Thirty made-up years of a climate with a winter; every day measured."""
    dates = np.arange(np.datetime64(f"{ON.year - YEARS}-01-01"), np.datetime64(ON))
    luck = np.random.default_rng(1)
    rain = np.where(luck.random(len(dates)) < 0.3, luck.gamma(0.7, 9.0, len(dates)), 0.0)
    season = np.cos(2 * np.pi * (np.arange(len(dates)) % 365.25 - 15) / 365.25)
    mean = 11.0 - 14.0 * season + luck.normal(0.0, 4.0, len(dates))
    values = {"rain_mm": rain, "t_min_c": mean - 6.0, "t_max_c": mean + 6.0}
    flags = {name: np.full(len(dates), Flag.OBSERVED, dtype=np.uint8) for name in values}
    station = Station("made up", latitude=40.0, longitude=-85.0, elevation_m=200.0)
    return on_calendar(station, dates, values, flags, (), Source("made-up.csv", "plain"))


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """What the plain loops are given: arrays (N,), and one tuple or array a roof, bed or storage."""

    dates: NDArray[np.datetime64]
    rain_mm: Array
    in_service: NDArray[np.bool_]
    growing: list[NDArray[np.bool_]]
    crop_et_mm: list[Array]
    taw_mm: list[Array]
    raw_mm: list[Array]
    yields: list[tuple[float, float]]
    capacities: list[float]
    reset_d: float

    @classmethod
    def of(cls, run: network.YardRun, tables: Knowledge) -> Case:
        """The inputs behind a run."""
        kinds = [tables.coverings[roof.covering] for roof in ROOFS]
        return cls(
            run.dates,
            run.snow.liquid_mm,
            run.pools[0].in_service,
            [bed.growing for bed in run.beds],
            [bed.crop_et_mm for bed in run.beds],
            [bed.taw_mm for bed in run.beds],
            [bed.raw_mm for bed in run.beds],
            [
                (roof.area_m2 * kind.coefficient, kind.wetting_loss_mm)
                for roof, kind in zip(ROOFS, kinds, strict=True)
            ],
            [pool.capacity_l for pool in run.pools],
            tables.fact("roof.dry_reset").value,
        )

    def frame(self) -> pd.DataFrame:
        """The same as a table with a row a day."""
        columns: dict[str, object] = {"rain": self.rain_mm, "in_service": self.in_service}
        for number in range(len(BEDS)):
            columns[f"growing{number}"] = self.growing[number]
            columns[f"use{number}"] = self.crop_et_mm[number]
            columns[f"taw{number}"] = self.taw_mm[number]
            columns[f"raw{number}"] = self.raw_mm[number]
        return pd.DataFrame(columns, index=self.dates)


class Day:
    """The state of the yard, moved on by a day; the arithmetic both plain loops share."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.dry_days = [1e9] * 3
        self.loss_left = [0.0] * 3
        self.depletion = [[0.0, 0.0] for _ in BEDS]  # watered when due, rain only
        self.grew = [False] * len(BEDS)
        self.levels = [[0.0] * 4 for _ in STORAGES]  # yas, ybs, lowest, highest
        self.served = False

    def roof(self, number: int, rain: float) -> float:
        """Litres from a roof."""
        litres_per_mm, loss = self.case.yields[number]
        if rain == 0.0:
            self.dry_days[number] += 1
            return 0.0
        if self.dry_days[number] >= self.case.reset_d:
            self.loss_left[number] = loss
        self.dry_days[number] = 0
        wetted = min(rain, self.loss_left[number])
        self.loss_left[number] -= wetted
        return litres_per_mm * (rain - wetted)

    def bed(self, number: int, rain: float, growing: bool, use: float, taw: float, raw: float) -> float:
        """What a bed asks for [L]; both its stories move on."""
        asked = 0.0
        if growing:
            for story in range(2):
                left = self.depletion[number][story] if self.grew[number] else 0.0
                used = use * (taw - left) / (taw - raw) if left > raw else use
                if story == 0 and left >= raw and BEDS[number].watered_from != "rain":
                    asked, left = left * BEDS[number].area_m2, 0.0
                self.depletion[number][story] = min(max(left + used - rain, 0.0), taw)
        self.grew[number] = growing
        return asked

    def storages(self, inflow: list[float], asked: list[float], in_service: bool) -> list[float]:
        """Evening levels under yield after spillage; all four stories move on."""
        if not in_service:
            self.levels = [[0.0] * 4 for _ in STORAGES]
            return [0.0] * len(STORAGES)
        spilled = [0.0] * 4
        for number in range(len(STORAGES)):
            capacity, want = self.case.capacities[number], asked[number]
            here, above = self.levels[number], spilled if number == 1 else [0.0] * 4
            spilled = [0.0] * 4
            for story in range(4):
                came, held = inflow[number] + above[story], here[story]
                if story == 0:
                    supply = min(want, held)
                    full = capacity - supply
                    here[0] = min(held + came - supply, full)
                    spilled[0] = max(held + came - supply - full, 0.0)
                elif story == 1:
                    supply = min(want, held + came)
                    here[1] = min(held + came - supply, capacity)
                    spilled[1] = max(held + came - supply - capacity, 0.0)
                elif story == 2:
                    here[2] = max(min(held + came, capacity) - want, 0.0)
                    spilled[2] = max(held + came - want - capacity, 0.0)
                else:
                    here[3] = min(max(held - want, 0.0) + came, capacity)
                    spilled[3] = max(held + came - capacity, 0.0)
        return [here[0] for here in self.levels]


def _asked(demands: list[float]) -> list[float]:
    asked = [store.daily_use_l for store in STORAGES]
    for bed, litres in zip(BEDS, demands, strict=True):
        for number, store in enumerate(STORAGES):
            if bed.watered_from == store.name:
                asked[number] += litres
    return asked


def by_arrays(case: Case) -> list[Array]:
    """A loop over the days of arrays; evening levels of each storage."""
    state, days = Day(case), len(case.dates)
    levels = np.zeros((len(STORAGES), days))
    for day in range(days):
        rain = case.rain_mm[day]
        inflow = [state.roof(number, rain) for number in range(len(ROOFS))]
        demands = [
            state.bed(
                number, rain, case.growing[number][day], case.crop_et_mm[number][day],
                case.taw_mm[number][day], case.raw_mm[number][day],
            )
            for number in range(len(BEDS))
        ]  # fmt: skip
        levels[:, day] = state.storages(inflow, _asked(demands), bool(case.in_service[day]))
    return list(levels)


def by_frame(case: Case, frame: pd.DataFrame) -> list[Array]:
    """A loop over the rows of a data frame; evening levels of each storage."""
    state = Day(case)
    found = []
    for _, row in frame.iterrows():
        inflow = [state.roof(number, row["rain"]) for number in range(len(ROOFS))]
        demands = [
            state.bed(
                number, row["rain"], row[f"growing{number}"], row[f"use{number}"], row[f"taw{number}"],
                row[f"raw{number}"],
            )
            for number in range(len(BEDS))
        ]  # fmt: skip
        found.append(state.storages(inflow, _asked(demands), bool(row["in_service"])))
    levels = pd.DataFrame(found)
    return [levels[number].to_numpy() for number in range(len(STORAGES))]


if __name__ == "__main__":
    sys.exit(main())
