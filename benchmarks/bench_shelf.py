"""The station shelf at the size of a state: `python -m benchmarks.bench_shelf [stations]`.

Adds one 30-year record, reads it back, adds it again, lists a shelf of many stations and ranks them for a yard; medians
of several runs in one process after a warming call. The stations are copies of one generated record under other keys.
"""

from __future__ import annotations

import shutil
import statistics
import sys
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from time import perf_counter

from benchmarks import record
from dooryard import weather
from dooryard.weather import nearest
from dooryard.weather.shelf_limits import limits
from dooryard.weather.store import Shelf

ON = date(2031, 5, 20)
RUNS = 7


def median_s(work: Callable[[], object]) -> float:
    """Median time of a piece of work [s]."""
    work()
    times = []
    for _ in range(RUNS):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return statistics.median(times)


def told(name: str, work: Callable[[], object]) -> None:
    """Print how long a piece of work takes."""
    print(f"{name:<26}{1000 * median_s(work):8.1f} ms")


def main(words: list[str]) -> int:
    """Measure, and print one line a thing."""
    count = int(words[0]) if words else 1000
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = record.write(folder, 30).weather
        read = weather.read(path)
        shelf = Shelf(folder / "shelf")
        shelf.add(read, ON, key="one")
        size = (shelf.folder / "one.parquet").stat().st_size
        print(f"One station of {len(read.dates):,} days takes {size / 1000:.0f} kB on the shelf.")
        told("add a record, new", lambda: shelf.add(read, ON, key="one", afresh=True))
        told("add it again, no change", lambda: shelf.add(read, ON, key="one"))
        told("read it back", lambda: shelf.record("one"))
        told("read it from its CSV", lambda: weather.read(path))
        for number in range(count - 1):
            shutil.copy(shelf.folder / "one.parquet", shelf.folder / f"s{number}.parquet")
        told(f"list {count:,} stations", shelf.contents)
        held, _ = shelf.contents()
        told("rank them for a yard", lambda: nearest.rank(38.2, -85.1, 190.0, held, ON, limits()))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
