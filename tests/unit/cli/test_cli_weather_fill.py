"""`dooryard weather fill` as a person runs it, on the demo county's two stations and on made-up ones."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result

from dooryard import weather
from dooryard.cli.app import dooryard
from dooryard.demo import county
from dooryard.weather import Flag


def run(*words: str | Path) -> Result:
    """`dooryard weather fill` with these words."""
    return CliRunner().invoke(dooryard, ["weather", "fill", *map(str, words)], prog_name="dooryard")


@pytest.fixture(scope="module")
def stations(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the demo county's two stations."""
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    return folder / "stations"


def test_fill_shows_errors_and_what_stays_and_writes_nothing(stations: Path) -> None:
    before = sorted(path.name for path in stations.iterdir())
    result = run(stations / "creek-bottom.csv", "--from", stations / "ridge-school.csv")
    assert result.exit_code in (0, 1)
    assert "lowest temperature on 13 days, of which 13 can be estimated" in " ".join(result.stdout.split())
    assert "3 to 11 July 2016 (9 days), lowest temperature: from Ridge School" in " ".join(
        result.stdout.split()
    )
    assert "off on 9 days in 10" not in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert result.stdout.rstrip().endswith("Nothing was written. Add --write NEW.csv to write it.")
    assert sorted(path.name for path in stations.iterdir()) == before


def test_fill_of_the_demo_is_written_flagged_and_told_by_every_later_reader(
    stations: Path, tmp_path: Path
) -> None:
    new = tmp_path / "filled.csv"
    source = stations / "creek-bottom.csv"
    untouched = source.read_bytes()
    assert run(source, "--from", stations / "ridge-school.csv", "--write", new).exit_code in (0, 1)
    assert source.read_bytes() == untouched
    assert f"SHA-256 {sha256(untouched).hexdigest()}\n" in new.read_text("utf-8")
    before, after = weather.read(source), weather.read(new)
    assert (after.station, after.first, after.last) == (before.station, before.first, before.last)
    for element in before.elements:
        known = ~np.isnan(before.element(element))
        assert np.array_equal(after.element(element)[known], before.element(element)[known])
        assert np.array_equal(after.flags[element][known], before.flags[element][known])
    gone = np.isnan(before.t_min_c)
    assert (after.flags["t_min_c"][gone] == Flag.ESTIMATED).all()
    assert not np.isnan(after.t_min_c).any()
    told = [issue for issue in after.issues if issue.kind == "estimated" and "lowest" in issue.text]
    assert [issue.days for issue in told] == [13]
    assert "Ridge School (ridge-school.csv)" in told[0].instead
    assert "filled" not in {issue.kind for issue in after.issues}


def test_fill_estimates_of_the_demo_are_near_the_days_the_generator_made(stations: Path) -> None:
    """The demo's gaps were cut out of whole weather, so here the truth behind them is known."""
    import tomllib

    parameters = tomllib.loads((Path(county.__file__).parent / "stations.toml").read_text("utf-8"))
    truth = county.weather_of(parameters, parameters["stations"][0])
    told = json.loads(
        run(stations / "creek-bottom.csv", "--from", stations / "ridge-school.csv", "--json").stdout
    )
    errors, foretold = [], []
    for stretch in told["stretches"]:
        if stretch["refused"] is None and stretch["element"] != "rain_mm":
            at = int((np.datetime64(stretch["first"]) - truth.dates[0]).astype(int))
            true = getattr(truth, stretch["element"])[at : at + stretch["days"]]
            errors += np.abs(np.array(stretch["values"]) - true).tolist()
            foretold += [stretch["daily_error"]] * stretch["days"]
    assert len(errors) == 26
    assert np.mean(errors) < 2 * np.mean(foretold)


def test_fill_as_json_says_where_each_value_comes_from_and_what_a_gap_means(stations: Path) -> None:
    told = json.loads(run(stations / "creek-bottom.csv", "--json").stdout)
    assert (told["station"], told["neighbours"], told["written"]) == ("Creek Bottom", [], None)
    assert told["days"]["rain_mm"] == {"filled": 0, "left": 15}
    by_length = {stretch["days"]: stretch for stretch in told["stretches"] if stretch["element"] == "t_min_c"}
    assert (by_length[1]["source"], by_length[1]["refused"]) == ("the days before and after", None)
    long = by_length[9]
    assert (long["values"], long["refused"]) == ([], "No neighbouring station was given.")
    assert "A number that was reached inside the gap is not claimed to be reached." in long["means"]


def test_fill_never_writes_over_a_file(stations: Path, tmp_path: Path) -> None:
    taken = tmp_path / "taken.csv"
    taken.write_text("mine\n")
    result = run(stations / "creek-bottom.csv", "--write", taken)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "records are never written over" in result.stderr
    assert taken.read_text() == "mine\n"


def test_fill_of_a_whole_record_has_nothing_to_do_and_ends_well(tmp_path: Path) -> None:
    path = tmp_path / "whole.csv"
    path.write_text("date,tmin_C,tmax_C,rain_mm\n2031-05-01,1,9,0\n2031-05-02,2,8,1\n")
    result = run(path)
    assert result.exit_code == 0
    assert "nothing to fill" in " ".join(result.stdout.split())


def test_fill_with_a_neighbour_that_is_no_weather_file_names_it(stations: Path, tmp_path: Path) -> None:
    wrong = tmp_path / "list.csv"
    wrong.write_text("a,b\n1,2\n")
    result = run(stations / "creek-bottom.csv", "--from", wrong)
    assert result.exit_code == 2
    assert "list.csv" in result.stderr


def test_fill_until_a_day_borrows_the_days_since_the_record_stopped(stations: Path, tmp_path: Path) -> None:
    """Creek Bottom cut off six days before Ridge School's last day: those six can be estimated, a seventh cannot."""
    lines = (stations / "creek-bottom.csv").read_text("utf-8").splitlines()
    short, new = tmp_path / "short.csv", tmp_path / "new.csv"
    short.write_text("\n".join(lines[:-6]) + "\n", encoding="utf-8")
    words = (short, "--from", stations / "ridge-school.csv", "--until", "2031-05-20")
    assert run(*words, "--write", new).exit_code == 1
    after = weather.read(new)
    assert str(after.last) == "2031-05-20"
    assert after.flags["t_max_c"][-8:].tolist() == [Flag.OBSERVED, *[Flag.ESTIMATED] * 6, Flag.MISSING]
    result = run(short, "--until", "2031-05-01")
    assert result.exit_code == 2
    assert "The record itself goes on to 2031-05-13." in result.stderr


def test_fill_never_takes_invented_weather_for_a_measured_record(stations: Path, tmp_path: Path) -> None:
    """The demo county's stations may help each other, and nobody else."""
    measured = tmp_path / "measured.csv"
    lines = (stations / "creek-bottom.csv").read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if "invented" not in line.lower()]
    measured.write_text("\n".join(kept) + "\n", encoding="utf-8")
    assert not weather.read(measured).invented
    other = stations / "ridge-school.csv"
    new = tmp_path / "new.csv"
    refused = run(measured, "--from", other, "--from", stations / "creek-bottom.csv", "--write", new)
    assert refused.exit_code == 2
    assert refused.stderr.count("This weather is invented") == 2
    assert not new.exists()


def test_fill_tells_of_every_neighbour_that_cannot_be_read(stations: Path, tmp_path: Path) -> None:
    refused = run(stations / "creek-bottom.csv", "--from", tmp_path / "no.csv", "--from", tmp_path)
    assert refused.exit_code == 2
    assert "2 problems found" in refused.stderr


def test_fill_until_a_day_of_another_century_is_taken_for_a_slip(stations: Path) -> None:
    refused = run(stations / "creek-bottom.csv", "--until", "2499-01-01")
    assert refused.exit_code == 2
    assert "more than 10 years after the record's end, 2031-05-19" in refused.stderr
