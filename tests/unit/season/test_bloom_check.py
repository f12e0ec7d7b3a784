"""Bloom predicted from cold and warmth: a plant made to obey the rule is found out, and no year helps itself."""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from dooryard.cli.app import dooryard
from dooryard.problem import InputError
from dooryard.season import bloom, bloom_text
from dooryard.season.bloom import Model, Springs
from dooryard.weather import bloom_dates
from dooryard.weather.record import WeatherRecord
from tests.water_yards import days, record

LATITUDE = 40.0
YEARS = range(2001, 2021)


@cache
def weather(seed: int = 1) -> WeatherRecord:
    """Twenty winters of a wave through the year with warm and cold spells."""
    dates = days("2000-10-01", "2020-07-01")
    rng = np.random.default_rng(seed)
    of_year = (dates - dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(int)
    noise = np.convolve(rng.normal(0, 4, dates.size + 29), np.ones(30) / 6, mode="valid")
    mean = 10 - 12 * np.cos(2 * np.pi * (of_year - 20) / 365.25) + noise
    return record(dates, t_min_c=mean - 5, t_max_c=mean + 5)


@cache
def obeying(model: Model) -> tuple[WeatherRecord, dict[int, float]]:
    """The weather, and blooms of a plant that obeys a model to the whole day."""
    made = weather()
    any_day = bloom.springs(made, dict.fromkeys(YEARS, 100.0), LATITUDE)
    found = np.ceil(bloom.predict(model, any_day))
    return made, dict(zip(any_day.years.tolist(), found.tolist(), strict=True))


def test_plant_that_wants_chill_then_heat_is_predicted_on_years_not_used_to_fit_it() -> None:
    made, series = obeying(Model(40.0, 0, 4.0, 180.0))
    checked = bloom.cross_validate(bloom.springs(made, series, LATITUDE), 4)
    by_chill, by_mean = (bloom.errors(one, checked.bloom) for one in (checked.by_chill, checked.by_mean))
    assert by_chill.mean_size_d < 1.5  # dates are whole days
    assert by_mean.mean_size_d > 3 * by_chill.mean_size_d
    assert {model.chill for model in checked.models} <= {35.0, 40.0, 45.0}


def test_plant_of_heat_from_a_fixed_day_is_found_by_that_rule() -> None:
    made, series = obeying(Model(None, 36, 5.0, 150.0))
    checked = bloom.cross_validate(bloom.springs(made, series, LATITUDE), 4)
    assert bloom.errors(checked.by_heat, checked.bloom).mean_size_d < 1.0


@pytest.mark.parametrize("in_blocks", [False, True])
def test_year_does_not_help_to_predict_itself(in_blocks: bool) -> None:
    made, series = obeying(Model(40.0, 0, 4.0, 180.0))
    before = bloom.cross_validate(bloom.springs(made, series, LATITUDE), 4, in_blocks=in_blocks)
    moved = {**series, 2007: series[2007] + 9}
    after = bloom.cross_validate(bloom.springs(made, moved, LATITUDE), 4, in_blocks=in_blocks)
    at = list(YEARS).index(2007)
    for rule in bloom_text.NAMES:
        assert getattr(after, rule)[at] == getattr(before, rule)[at]
    # The other folds did see the moved date: only their mean date must differ.
    assert not np.array_equal(after.by_mean, before.by_mean)


def test_mean_date_is_that_of_the_other_folds() -> None:
    made, series = obeying(Model(40.0, 0, 4.0, 180.0))
    checked = bloom.cross_validate(bloom.springs(made, series, LATITUDE), 4)
    others = [day for year, day in series.items() if year % 4 != 1]
    assert checked.by_mean[0] == pytest.approx(np.mean(others))


def test_predicted_day_carries_its_fraction_and_unreached_heat_gives_the_last_day() -> None:
    """Five degree-days each day from 1 January: 12 are reached 0.4 into the third day."""
    days_of_heat = np.full((1, 92 + bloom.LAST_DAY), 5.0)
    years = Springs(
        np.array([2001]), np.array([3.0]), np.zeros_like(days_of_heat), {0.0: days_of_heat}, 92, ()
    )
    assert bloom.predict(Model(None, 1, 0.0, 12.0), years)[0] == pytest.approx(2.4)
    assert bloom.predict(Model(None, 1, 0.0, 15.0), years)[0] == pytest.approx(3.0)
    assert bloom.predict(Model(None, 1, 0.0, 9999.0), years)[0] == bloom.LAST_DAY
    assert bloom.predict(Model(10.0, 0, 0.0, 12.0), years)[0] == bloom.LAST_DAY


def test_years_with_a_long_gap_are_left_out_and_short_gaps_are_bridged() -> None:
    made, series = obeying(Model(40.0, 0, 4.0, 180.0))
    lows = made.t_min_c.copy()
    for first, count in (("2004-02-01", 3), ("2006-02-01", 4)):
        at = int((np.datetime64(first) - made.dates[0]).astype(int))
        lows[at : at + count] = np.nan
    gappy = record(made.dates, t_min_c=lows, t_max_c=made.t_max_c)
    assert bloom.springs(gappy, series, LATITUDE).left_out == (2006,)


def test_leap_years_have_the_same_columns() -> None:
    made = weather()
    found = bloom.springs(made, dict.fromkeys(YEARS, 100.0), LATITUDE)
    assert found.chill.shape == (20, 92 + bloom.LAST_DAY)
    leap = list(YEARS).index(2004)
    first_of_march = made.t_min_c[(dt.date(2004, 3, 1) - made.first).days]
    mean = first_of_march + 5
    assert found.heat[0.0][leap, 92 + 59] == pytest.approx(max(mean, 0), abs=2.2)


def test_too_few_years_are_refused() -> None:
    with pytest.raises(InputError, match="Only 3 years"):
        bloom.springs(weather(), {2001: 100.0, 2002: 100.0, 2003: 100.0}, LATITUDE)


def test_errors_of_four_predictions() -> None:
    got = bloom.errors(np.array([101.0, 98.0, 100.0, 104.0]), np.full(4, 100.0))
    assert (got.mean_size_d, got.mean_d, got.within_3d) == (1.75, 0.75, 0.75)
    assert got.root_square_d == pytest.approx(np.sqrt(21 / 4))


def write(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def test_dates_are_read_as_dates_or_day_numbers_with_leap_years_put_right(tmp_path: Path) -> None:
    dated = write(tmp_path / "a.csv", "# our cherry\ndate\n2003-03-01\n2004-03-01\n2008-02-29\n")
    assert bloom_dates.read(dated) == {2003: 60, 2004: 60, 2008: 59}
    numbered = write(tmp_path / "b.csv", "Year,pheno\n2003,60\n2004,61\n2005,NA\n")
    assert bloom_dates.read(numbered) == {2003: 60, 2004: 60}


def test_table_of_several_places_wants_one_named(tmp_path: Path) -> None:
    table = write(tmp_path / "a.csv", "location,date\nHill,2003-03-01\nDale,2003-03-09\n")
    assert bloom_dates.read(table, "Dale") == {2003: 68}
    with pytest.raises(InputError, match="several places"):
        bloom_dates.read(table)
    with pytest.raises(InputError, match="Dale"):
        bloom_dates.read(table, "Dael")


def test_faults_of_a_table_are_told_with_their_lines(tmp_path: Path) -> None:
    table = write(tmp_path / "a.csv", "# note\ndate\n2003-03-01\n2003-03-04\nlast week\n")
    with pytest.raises(InputError) as caught:
        bloom_dates.read(table)
    assert [problem.line for problem in caught.value.problems] == [4, 5]
    with pytest.raises(InputError, match="no dates of bloom"):
        bloom_dates.read(write(tmp_path / "b.csv", "year,height\n2003,4\n"))


def test_bloom_command_says_the_errors_and_gives_each_year(tmp_path: Path) -> None:
    made, series = obeying(Model(40.0, 0, 4.0, 180.0))
    lines = ["# latitude: 40.0", "date,tmin_C,tmax_C,rain_mm"]
    for day, low, high in zip(made.dates, made.t_min_c, made.t_max_c, strict=True):
        lines.append(f"{day},{low:.1f},{high:.1f},0.0")
    station = write(tmp_path / "station.csv", "\n".join(lines) + "\n")
    dates = write(tmp_path / "bloom.csv", "year,day_of_year\n" + "".join(
        f"{year},{day + (year % 4 == 0 and day >= 60):.0f}\n" for year, day in series.items()))  # fmt: skip
    told = CliRunner().invoke(dooryard, ["season", "bloom", str(dates), "--weather", str(station)])
    assert told.exit_code == 0, told.output
    assert "20 years from 2001 to 2020" in told.output
    assert "chill, then heat" in told.output
    told = CliRunner().invoke(
        dooryard, ["season", "bloom", str(dates), "--weather", str(station), "--latitude", "-40"]
    )
    assert told.exit_code == 2
