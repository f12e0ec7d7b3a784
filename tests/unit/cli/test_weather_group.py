"""`dooryard weather`: a file name alone means look, whatever stands before or behind it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard


@pytest.fixture
def record(tmp_path: Path) -> Path:
    lines = [
        "date,tmin_F,tmax_F,rain_in",
        *(f"2030-06-{day:02},{50 + day},{70 + day},0.1" for day in range(1, 31)),
    ]
    path = tmp_path / "station.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(dooryard, [str(word) for word in words])


def test_weather_file_alone_means_look(record: Path) -> None:
    assert run("weather", record).stdout == run("weather", "look", record).stdout
    assert "30 days" in run("weather", record).stdout


def test_weather_options_may_stand_before_or_behind_the_file(record: Path) -> None:
    behind = run("weather", record, "--units", "metric").stdout
    assert behind == run("weather", "--units", "metric", record).stdout
    assert behind != run("weather", record).stdout


def test_weather_file_without_a_dot_in_its_name_is_found(
    record: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (record.parent / "station").write_bytes(record.read_bytes())
    monkeypatch.chdir(record.parent)
    assert "30 days" in run("weather", "station").stdout


def test_weather_sub_command_misspelt_is_answered_with_the_near_one() -> None:
    shown = run("weather", "lock")
    assert shown.exit_code == 2
    assert '"look"' in shown.stderr
