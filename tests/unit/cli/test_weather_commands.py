"""compare, check and forecast as a person runs them."""

from __future__ import annotations

import json
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(dooryard, ["weather", *(str(word) for word in words)])


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Twelve years whose rain grows by a tenth of an inch a day and year."""
    lines = ["# station: Hilltop", "# latitude: 38", "date,tmin_F,tmax_F,rain_in"]
    day = date(2019, 1, 1)
    while day < date(2031, 5, 20):
        lines.append(
            f"{day},{40 + day.month + day.day % 2},{60 + day.month + day.day % 2},{(day.year - 2018) / 10}"
        )
        day += timedelta(days=1)
    path = tmp_path_factory.mktemp("weather") / "hilltop.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def grid(folder: Path, first: datetime) -> Path:
    """A forecast grid of three whole days at 90 degrees west."""
    start = first.strftime("%Y-%m-%dT06:00:00+00:00")
    layers = {
        "temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": f"{start}/P3D", "value": 20}]},
        "quantitativePrecipitation": {
            "uom": "wmoUnit:mm",
            "values": [{"validTime": f"{start}/P2D", "value": 50.8}],
        },
    }
    text = json.dumps(
        {"geometry": {"type": "Point", "coordinates": [-90, 35]},
         "properties": {"updateTime": first.strftime("%Y-%m-%dT00:00:00+00:00"), **layers}}
    )  # fmt: skip
    path = folder / "grid.json"
    path.write_text(text, encoding="utf-8")
    return path


def test_compare_tells_the_wettest_year_in_words(record: Path) -> None:
    shown = run("compare", record)
    assert "Rain, last 30 days: 39.0 in, far above usual." in shown.stdout
    assert "higher than in all 12 past years" in shown.stdout
    assert max(map(len, shown.stdout.splitlines())) <= 80


def test_compare_json_holds_every_past_year(record: Path) -> None:
    told = json.loads(run("compare", record, "--json", "--on", "2030-05-20").stdout)
    row = next(row for row in told["rows"] if row["key"] == "rain_mm" and row["span"] == "last 30 days")
    assert [year["year"] for year in row["past"]] == list(range(2019, 2030))
    assert row["value"] == pytest.approx(30 * 1.2 * 25.4)
    assert told["usual_day"]["t_min_c"]["years"] == list(range(2019, 2031))


def test_compare_needs_a_person_if_there_are_too_few_years(record: Path) -> None:
    shown = run("compare", record, "--from-year", "2029")
    assert shown.exit_code == 1
    assert "Only 2 past years" in shown.stdout


def test_compare_heat_base_is_read_with_its_unit(record: Path) -> None:
    assert "Heat above 40 °F" in run("compare", record, "--heat-base", "40 F").stdout
    assert run("compare", record, "--heat-base", "40").exit_code == 2


def test_compare_tells_how_many_days_are_estimates(record: Path, tmp_path: Path) -> None:
    lines = record.read_text(encoding="utf-8").splitlines()
    marked = tmp_path / "marked.csv"
    marked.write_text("\n".join([*lines[:-3], *(f"{line}E" for line in lines[-3:])]) + "\n", encoding="utf-8")
    assert "3 of the last 366 days of rain are estimates" in run("compare", marked).stdout
    assert "estimates" not in run("compare", record).stdout


def test_check_lists_findings_and_goes_on_after_a_file_it_cannot_read(record: Path, tmp_path: Path) -> None:
    gappy = tmp_path / "gappy.csv"
    lines = record.read_text(encoding="utf-8").splitlines()
    gappy.write_text("\n".join(lines[:400] + lines[450:]) + "\n", encoding="utf-8")
    broken = tmp_path / "broken.csv"
    broken.write_text("colour,shape\nred,round\n", encoding="utf-8")
    shown = run("check", broken, gappy)
    assert shown.exit_code == 2
    assert "broken.csv: this file cannot be read" in shown.stdout
    assert "Gap" in shown.stdout
    assert run("check", gappy).exit_code == 1
    told = json.loads(run("check", gappy, broken, "--json").stdout)
    assert [finding["days"] for finding in told[0]["findings"] if finding["kind"] == "gap"] == [50]
    assert told[1]["unreadable"]


def test_forecast_shows_the_days_and_the_age_of_a_grid(tmp_path: Path) -> None:
    shown = run("forecast", grid(tmp_path, datetime(2031, 5, 20)), "--units", "metric")
    assert "2031-05-20 Tue" in shown.stdout
    assert "25.4" in shown.stdout
    assert "made" in shown.stdout
    told = json.loads(run("forecast", tmp_path / "grid.json", "--json").stdout)
    assert [day["rain_mm"] for day in told["days"]] == [pytest.approx(25.4), pytest.approx(25.4), None]


def test_forecast_of_days_gone_by_needs_a_person(tmp_path: Path) -> None:
    shown = run("forecast", grid(tmp_path, datetime(2021, 5, 20)))
    assert shown.exit_code == 1
    assert "past" in shown.stdout


def test_plan_takes_a_forecast_grid(tmp_path: Path) -> None:
    assert CliRunner().invoke(dooryard, ["demo", "--out", str(tmp_path)]).exit_code in (0, 1)
    words = ["plan", tmp_path / "household-12.toml", "--on", "2031-05-20", "--json", "--forecast"]
    shown = CliRunner().invoke(dooryard, [*map(str, words), str(grid(tmp_path, datetime(2031, 5, 20)))])
    assert shown.exit_code in (0, 1), shown.stderr
    assert "after 3 days of forecast" in json.dumps(json.loads(shown.stdout), ensure_ascii=False)
