"""The invented county's yard files, and what the demonstration shows of them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

SHOWN_YARD = "household-12.toml"
METRIC_YARD = "household-31.toml"
FAULTY_YARD = "household-47.toml"
FORECAST = "forecast.csv"
MADE_ON = date(2031, 5, 20)

_YARDS = Path(__file__).parent / "yards"


def write(folder: Path) -> list[Path]:
    """Copy the yard files into `folder` (made if absent), the same bytes every time; gives their paths.

    A yard file that someone has changed there is kept: it may be their first try at their own yard.
    """
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for yard in sorted(_YARDS.glob("*.toml")):
        path = folder / yard.name
        if not path.exists():
            path.write_bytes(yard.read_bytes())
        paths.append(path)
    return paths
