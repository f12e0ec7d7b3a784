"""`dooryard weather invent` as a person runs it, on the demo county's station and on records it refuses."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result

from dooryard import weather
from dooryard.cli.app import dooryard
from dooryard.demo import county
from dooryard.weather.invented import parameters


def run(*words: str | Path) -> Result:
    """`dooryard weather invent` with these words."""
    return CliRunner().invoke(dooryard, ["weather", "invent", *map(str, words)], prog_name="dooryard")


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    return folder / "stations" / "creek-bottom.csv"


def test_invent_compares_and_writes_nothing_unless_asked(station: Path) -> None:
    before = sorted(path.name for path in station.parent.iterdir())
    result = run(station)
    assert result.exit_code in (0, 1)
    assert "Creek Bottom, fitted to 30 years" in result.stdout
    assert "All 21 measures" in result.stdout or " of 21 measures" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert result.stdout.rstrip().endswith("Nothing was written. Add --write NEW.csv to write it.")
    assert sorted(path.name for path in station.parent.iterdir()) == before


def test_invent_writes_a_record_that_reads_back_and_says_it_is_invented(
    station: Path, tmp_path: Path
) -> None:
    files = [tmp_path / name for name in ("one.csv", "two.csv", "three.csv")]
    for new, seed in zip(files, ("7", "7", "8"), strict=True):
        assert run(station, "--years", "12", "--seed", seed, "--write", new).exit_code in (0, 1)
    assert files[0].read_bytes() == files[1].read_bytes() != files[2].read_bytes()
    assert "nobody measured this" in files[0].read_text("utf-8")
    record = weather.read(files[0])
    assert record.station.name == "Creek Bottom (invented)"
    assert (str(record.first), str(record.last)) == ("2032-01-01", "2043-12-31")
    assert not np.isnan(record.rain_mm).any()
    assert (record.t_min_c <= record.t_max_c).all()
    real = weather.read(station)
    assert record.t_max_c.mean() == pytest.approx(np.nanmean(real.t_max_c), abs=1.0)


def test_invent_gives_parameters_that_can_be_used_again(station: Path) -> None:
    result = run(station, "--json")
    told = json.loads(result.stdout)
    assert told["written"] is None
    assert len(told["measures"]) == 21
    assert len(told["measures"][0]["record"]) == 12
    assert (result.exit_code == 0) == all(row["within"] for row in told["measures"])
    assert parameters.from_plain(told["parameters"]).residuals.m0.shape[0] == 12


def test_invent_never_writes_over_a_file(station: Path, tmp_path: Path) -> None:
    new = tmp_path / "mine.csv"
    new.write_text("mine", encoding="utf-8")
    result = run(station, "--write", new)
    assert result.exit_code == 2
    assert "never written over" in result.stderr
    assert new.read_text("utf-8") == "mine"


def test_invent_from_a_short_record_is_refused_with_what_is_needed(tmp_path: Path) -> None:
    path = tmp_path / "short.csv"
    lines = [f"2030-06-{day:02},12.0,25.0,{day % 3}.0" for day in range(1, 31)]
    path.write_text("\n".join(["date,tmin_C,tmax_C,rain_mm", *lines]) + "\n", encoding="utf-8")
    result = run(path)
    assert result.exit_code == 2
    assert "at least 5 years" in result.stderr


def test_invent_beyond_the_calendar_is_refused(station: Path) -> None:
    result = run(station, "--from-year", "9990")
    assert result.exit_code == 2
    assert "9999" in result.stderr
