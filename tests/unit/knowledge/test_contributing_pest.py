"""The pest shown in CONTRIBUTING: its rows load as they stand there, and a verdict comes of them."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from dooryard.knowledge.county import own_words, with_county
from dooryard.season.verdicts import judge
from dooryard.season.windows import NOW, OVER, TOO_EARLY
from dooryard.weather.outlook import ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

ROOT = Path(__file__).resolve().parents[3]


def shown(folder: Path) -> Path:
    """The files shown in CONTRIBUTING, written out as they stand there."""
    text = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^`county/([^`]+)`.*?^```csv\n(.*?)^```", text, flags=re.MULTILINE | re.DOTALL)
    assert len(blocks) == 5
    for name, rows in blocks:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(rows, encoding="utf-8")
    return folder


def even_station() -> WeatherRecord:
    """Every day from 10 to 20 degC: 5 degree-days above 10 degC a day, 9 in Fahrenheit above 50."""
    days = np.arange(np.datetime64("2000-01-01"), np.datetime64("2031-01-01"))
    values = {"t_min_c": np.full(len(days), 10.0), "t_max_c": np.full(len(days), 20.0)}
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Even", latitude=38.0), days, values, flags, (), Source("made", "none"))


@pytest.mark.parametrize(
    ("on", "word"),
    # 300 at 9 a day is reached on the 34th day (3 February), 450 on the 50th (19 February).
    [(date(2030, 1, 5), TOO_EARLY), (date(2030, 2, 8), NOW), (date(2030, 2, 25), OVER)],
)
def test_pest_of_contributing_loads_and_is_judged(tmp_path: Path, on: date, word: str) -> None:
    tables = with_county(shown(tmp_path))
    record = even_station()
    found = judge("hedge-roller", tables, record, ahead(record, on), on, plant_kinds={"privet"})
    assert found.word == word
    assert found.refusal is None
    assert own_words(found.rows[0].stage)
    assert tables.organisms_on("privet")[-1] == "hedge-roller"
