"""A thousand stations of thirty years, read and judged, against a general CSV reader that only parses them.

    python -m benchmarks.bench_weather [stations] [years]

Each reading runs in a process of its own, three times in turns; the medians are told, with processor time (the
general reader uses every core) and peak memory. The general reader is polars, the fastest of those tried; it
makes columns of text and numbers, while ours also finds the days, the flags and every doubt.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path
from time import perf_counter, process_time

from benchmarks import record
from dooryard import weather
from dooryard.demo import county

TURNS = 3
DIFFERENT = 25  # files with their own weather; the rest are copies under other names
READINGS = {
    "ours": "weather.read, one after the other",
    "kept": "weather.read, all records kept",
    "polars": "polars.read_csv, every core",
    "one": "polars.read_csv, one core",
}


def main(words: list[str]) -> int:
    """Write the stations, read them in every way, print the table."""
    if words[:1] == ["--read"]:
        print(json.dumps(read_all(words[1], Path(words[2]))))
        return 0
    stations = int(words[0]) if words else 1000
    years = int(words[1]) if len(words) > 1 else 30
    taken: dict[str, list[dict[str, float]]] = {way: [] for way in READINGS}
    with tempfile.TemporaryDirectory() as name:
        size = write(Path(name), stations, years)
        for _ in range(TURNS):
            for way in READINGS:
                taken[way].append(run(way, name))
    print(f"{stations:,} stations of {years} years, {size / 1e6:,.0f} MB, {os.cpu_count()} cores\n")
    print(f"{'':36}{'seconds':>9}{'a station':>12}{'processor':>11}{'peak memory':>13}")
    middle = {
        way: {key: statistics.median(one[key] for one in runs) for key in runs[0]}
        for way, runs in taken.items()
    }
    for way, told in middle.items():
        each, peak = 1000 * told["wall_s"] / stations, told["peak_mb"]
        print(f"{READINGS[way]:36}{told['wall_s']:9.2f}{each:9.2f} ms{told['cpu_s']:9.2f} s{peak:10.0f} MB")
    print()
    for way in ("polars", "one"):
        ratio = middle["ours"]["wall_s"] / middle[way]["wall_s"]
        print(f"ours to {READINGS[way]}: {ratio:.2f} (aim 2.0)")
    print(f"the same in processor time: {middle['ours']['cpu_s'] / middle['polars']['cpu_s']:.2f}")
    return 0


def write(folder: Path, stations: int, years: int) -> int:
    """The files of so many stations, in bytes all together."""
    parameters = tomllib.loads((record.DEMO / "stations.toml").read_text(encoding="utf-8"))
    last = parameters["last"]
    longer = parameters | {"first": last.replace(year=last.year - years)}
    texts = []
    for number in range(min(DIFFERENT, stations)):
        station = parameters["stations"][0]
        texts.append(county.station_csv(longer, station | {"seed": station["seed"] + number}))
    for number in range(stations):
        (folder / f"station-{number:04d}.csv").write_text(texts[number % len(texts)], encoding="utf-8")
    return sum(len(texts[number % len(texts)]) for number in range(stations))


def run(way: str, folder: str) -> dict[str, float]:
    """One reading in a new process."""
    environment = os.environ | ({"POLARS_MAX_THREADS": "1"} if way == "one" else {})
    command = [sys.executable, "-m", "benchmarks.bench_weather", "--read", way, folder]
    ran = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    told: dict[str, float] = json.loads(ran.stdout)
    return told


def read_all(way: str, folder: Path) -> dict[str, float]:
    """Read every file of a folder once, after one to warm up."""
    paths = sorted(folder.glob("*.csv"))
    if way in ("ours", "kept"):
        kept = []
        read = weather.read
        read(paths[0])
        start, used = perf_counter(), process_time()
        for path in paths:
            found = read(path)
            if way == "kept":
                kept.append(found)
    else:
        import polars

        def parse(path: Path) -> object:
            return polars.read_csv(path, comment_prefix="#", null_values=["T"])

        parse(paths[0])
        start, used = perf_counter(), process_time()
        for path in paths:
            parse(path)
    seconds, processor = perf_counter() - start, process_time() - used
    return {"wall_s": seconds, "cpu_s": processor, "peak_mb": peak_mb()}


def peak_mb() -> float:
    """Most memory this process has held [MB]; NaN where the system does not tell."""
    try:
        import resource
    except ImportError:  # Windows
        return float("nan")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (1e6 if sys.platform == "darwin" else 1e3)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
