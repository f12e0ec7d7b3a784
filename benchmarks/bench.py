"""How long things take, as medians and as ratios within one run: `make bench`.

    python -m benchmarks.bench              everything
    python -m benchmarks.bench --runs 20    more cold starts (at least ten by default)

Cold starts are new processes of the installed command with byte-code compiled; they are taken in turns, so
that a busy minute falls on all of them alike. Everything else runs in this process after one warming call.
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import subprocess
import sys
import sysconfig
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np

from benchmarks import record
from dooryard import knowledge, weather
from dooryard.season import verdicts
from dooryard.water import storage
from dooryard.water.yield_curve import yield_curve
from dooryard.weather import outlook

YEARS = 50
SIZES = 200
OUTLOOK_AIM_S = 0.020
TANK_L = 208.0  # about one 55 gal barrel


@dataclass(frozen=True)
class Row:
    """One measured thing."""

    name: str
    seconds: tuple[float, ...]
    aim_s: float | None = None

    @property
    def median(self) -> float:
        """The middle of its runs [s]."""
        return statistics.median(self.seconds)


@dataclass(frozen=True)
class Ratio:
    """How one thing compares with another of the same run."""

    name: str
    of: Row
    to: Row
    aim: float | None = None

    @property
    def value(self) -> float:
        """Median over median."""
        return self.of.median / self.to.median


def main(words: Sequence[str]) -> int:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description="Measure Dooryard on this machine.")
    parser.add_argument("--runs", type=int, default=10, help="cold starts of each kind (default 10)")
    runs = max(10, parser.parse_args(words).runs)
    with tempfile.TemporaryDirectory() as folder:
        case = record.write(Path(folder), YEARS)
        cold = cold_starts(case, runs)
        warm = kernels(case)
    machine = f"{os.cpu_count()} cores, {platform.system()}"
    print(f"Python {platform.python_version()}, NumPy {np.__version__}, {machine}\n")
    print_rows([*cold.values(), *warm.values()])
    print()
    print_ratios(
        [
            Ratio("dooryard --help to a bare Python", cold["help"], cold["bare"]),
            Ratio("plan on the screen to importing NumPy", cold["plan"], cold["numpy"]),
            Ratio("plan with page and PDF to plan on the screen", cold["out"], cold["plan"]),
            Ratio("yield_curve to one simulate of one tank", warm["curve"], warm["one"], aim=2.0),
            Ratio(f"{SIZES} sizes one by one to yield_curve", warm["each"], warm["curve"]),
            Ratio(f"{SIZES} sizes at once to yield_curve", warm["many"], warm["curve"]),
            Ratio(f"{SIZES} sizes one by one to all at once", warm["each"], warm["many"]),
        ]
    )
    return 0


def cold_starts(case: record.Case, runs: int) -> dict[str, Row]:
    """New processes, in turns."""
    python = sys.executable
    suffix = ".exe" if os.name == "nt" else ""
    dooryard = str(Path(sysconfig.get_path("scripts")) / f"dooryard{suffix}")
    plan = [dooryard, "plan", str(case.yard), "--weather", str(case.weather), "--on", str(case.on)]
    commands: dict[str, tuple[str, list[str], float | None]] = {
        "bare": ("python -c pass", [python, "-c", "pass"], None),
        "numpy": ("import numpy", [python, "-c", "import numpy"], None),
        "help": ("dooryard --help", [dooryard, "--help"], 0.060),
        "check": ("dooryard check", [dooryard, "check", str(case.yard)], None),
        "plan": (f"dooryard plan, {YEARS} years", plan, 0.35),
        "why": ("  the same with --why", [*plan, "--why"], None),
        "out": ("  the same with --out", [*plan, "--out", str(case.out)], 1.0),
    }
    # The machine may forbid byte-code; a user's does not, and that is the start we mean.
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    taken: dict[str, list[float]] = {key: [] for key in commands}
    for turn in range(runs + 1):
        for key, (_, command, _) in commands.items():
            start = perf_counter()
            ran = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
            seconds = perf_counter() - start
            if ran.returncode not in (0, 1) or "Traceback" in ran.stderr:
                raise SystemExit(f"{' '.join(command)}\n{ran.stderr}")
            if turn > 0:  # the first turn warms the disk
                taken[key].append(seconds)
    return {key: Row(name, tuple(taken[key]), aim) for key, (name, _, aim) in commands.items()}


def kernels(case: record.Case) -> dict[str, Row]:
    """The calculations under a plan, in this process."""
    rain = np.nan_to_num(weather.read(case.weather).rain_mm)
    days = np.arange(rain.size)
    inflow_l = 40.0 * np.maximum(rain - 1.0, 0.0)  # 40 m2 of roof, its first millimetre lost
    demand_l = 45.0 * ((days % 365 > 120) & (days % 365 < 270))
    sizes_l = np.linspace(50.0, 5000.0, SIZES)
    found = weather.read(case.weather)
    known, tables = found.until(case.on), knowledge.load()
    future = outlook.ahead(known, case.on)
    one = ("one simulate of one tank", lambda: storage.simulate(inflow_l, demand_l, TANK_L, "ybs"))
    measured: dict[str, tuple[str, Callable[[], object], int]] = {
        "read": (f"weather.read, {YEARS} years of CSV", lambda: weather.read(case.weather), 9),
        "one": (*one, 15),
        "curve": ("yield_curve, every size", lambda: yield_curve(inflow_l, demand_l), 15),
        "many": (
            f"simulate, {SIZES} sizes at once",
            lambda: storage.simulate(inflow_l, demand_l, sizes_l, "ybs"),
            5,
        ),
        "each": (
            f"simulate, {SIZES} sizes one by one",
            lambda: [storage.simulate(inflow_l, demand_l, size_l, "ybs") for size_l in sizes_l],
            3,
        ),
        "heat": (
            f"degree-days of all {len(record.heat_rows(tables))} stage rows, {YEARS} years",
            lambda: record.all_heat(tables, found),
            5,
        ),
        "ahead": (f"outlook from {YEARS} years", lambda: outlook.ahead(known, case.on), 9),
        "like": (
            f"outlook from {YEARS} years, by likeness",
            lambda: outlook.ahead(known, case.on, by_likeness=True),
            9,
        ),
        "judge": (
            f"verdicts on all {len(tables.organisms)} organisms",
            lambda: verdicts.judge_all(tables.organisms, tables, known, future, case.on),
            5,
        ),
    }
    # The one tank and the curve are compared closely, so all are taken in turns as well.
    taken: dict[str, list[float]] = {key: [] for key in measured}
    for turn in range(1 + max(runs for _, _, runs in measured.values())):
        for key, (_, work, runs) in measured.items():
            if turn <= runs:
                start = perf_counter()
                work()
                if turn > 0:
                    taken[key].append(perf_counter() - start)
    return {
        key: Row(name, tuple(taken[key]), OUTLOOK_AIM_S if key in ("ahead", "like") else None)
        for key, (name, _, _) in measured.items()
    }


def print_rows(rows: Sequence[Row]) -> None:
    """The times, in milliseconds."""
    print(f"{'':44}{'runs':>5}{'min ms':>10}{'median ms':>11}{'aim ms':>8}")
    for row in rows:
        aim = "" if row.aim_s is None else f"{row.aim_s * 1000:.0f}"
        least, middle = min(row.seconds) * 1000, row.median * 1000
        told = verdict(row.median, row.aim_s)
        print(f"{row.name:44}{len(row.seconds):5}{least:10.1f}{middle:11.1f}{aim:>8}{told}")


def print_ratios(ratios: Sequence[Ratio]) -> None:
    """The ratios of medians."""
    print(f"{'':60}{'ratio':>10}{'aim':>8}")
    for ratio in ratios:
        aim = "" if ratio.aim is None else f"{ratio.aim:.1f}"
        print(f"{ratio.name:60}{ratio.value:10.2f}{aim:>8}{verdict(ratio.value, ratio.aim)}")


def verdict(value: float, aim: float | None) -> str:
    """Whether an aim was met, in words."""
    return "" if aim is None else ("  met" if value <= aim else "  missed")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
