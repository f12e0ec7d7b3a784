"""The invented county: the same bytes every time, a humid temperate climate, blemishes where they were put."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.demo import county
from dooryard.weather import Flag, forecast


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    path = tmp_path_factory.mktemp("county")
    county.write(path)
    return path


@pytest.fixture(scope="module")
def records(folder):
    return {path.stem: weather.read(path) for path in sorted((folder / "stations").glob("*.csv"))}


def test_county_writes_the_same_bytes_again(folder, tmp_path):
    again = county.write(tmp_path)
    assert [path.name for path in again] == [
        "creek-bottom.csv",
        "ridge-school.csv",
        "county.toml",
        "forecast.csv",
    ]
    for path in again:
        assert path.read_bytes() == (folder / path.relative_to(tmp_path)).read_bytes()


def test_county_stations_cover_thirty_years_in_two_unit_systems(folder, records):
    for record in records.values():
        assert (str(record.first), str(record.last)) == ("2001-01-01", "2031-05-19")
        assert record.station.latitude == pytest.approx(38.2, abs=0.1)
    assert "tmin_F" in (folder / "stations/creek-bottom.csv").read_text()
    assert "tmin_C" in (folder / "stations/ridge-school.csv").read_text()


@pytest.mark.parametrize("name", ["creek-bottom", "ridge-school"])
def test_county_climate_is_humid_and_temperate(records, name):
    record = records[name]
    month = record.dates.astype("datetime64[M]").astype(int) % 12
    mean = (record.t_min_c + record.t_max_c) / 2
    years = len(record.dates) / 365.25
    assert np.nansum(record.rain_mm) / years == pytest.approx(1150, abs=100)
    assert np.nanmean(mean[month == 0]) == pytest.approx(1.0, abs=1.0)
    assert np.nanmean(mean[month == 6]) == pytest.approx(25.0, abs=1.0)
    assert -32 < np.nanmin(record.t_min_c) < -12
    assert 34 < np.nanmax(record.t_max_c) < 43


def test_county_heat_by_late_may_is_about_600_fahrenheit_degree_days(records):
    """Average method above 50 °F from 1 January, counted here with three lines of its own."""
    sums = []
    for record in records.values():
        since = record.dates >= np.datetime64("2031-01-01")
        mean_f = (record.t_min_c + record.t_max_c)[since] / 2 * 1.8 + 32
        sums.append(np.nansum(np.maximum(mean_f - 50, 0)))
    assert np.mean(sums) == pytest.approx(600, abs=60)


def test_county_hollow_has_colder_nights_than_the_ridge(records):
    low, high = (records[name].t_min_c for name in ("creek-bottom", "ridge-school"))
    assert np.nanmean(high - low) == pytest.approx(1.8, abs=0.7)


def test_county_neighbours_are_wet_together_more_than_strangers_would_be(records):
    wet = [record.rain_mm > 0.3 for record in records.values()]
    together = np.mean(wet[0] & wet[1])
    assert together > 1.5 * wet[0].mean() * wet[1].mean()


def test_county_blemishes_are_told_as_what_they_are(records):
    record = records["creek-bottom"]
    assert Flag.TRACE in record.flags["rain_mm"].tolist()
    gap = next(issue for issue in record.issues if issue.kind == "gap")
    assert (str(gap.first), str(gap.last), gap.days) == ("2016-07-03", "2016-07-11", 9)
    march = record.position(gap.first.replace(year=2031, month=3, day=8))
    assert np.isnan(record.t_min_c[march : march + 2]).all()
    assert not np.isnan(record.rain_mm[march : march + 2]).any()
    assert {issue.kind for issue in record.issues} == {"gap", "missing", "invented"}


def test_county_dew_point_is_never_above_the_lowest_temperature(records):
    for record in records.values():
        assert np.nanmax(record.dew_point_c - record.t_min_c) <= 1e-9


def test_county_forecast_brings_a_storm(folder):
    found = forecast.read(folder / "forecast.csv")
    assert (str(found.dates[0]), str(found.dates[-1]), str(found.issued)) == (
        "2031-05-20",
        "2031-05-26",
        "2031-05-20",
    )
    storm = int(np.argmax(found.rain_mm))
    assert found.rain_mm[storm] == pytest.approx(50.8, abs=2.6)
    assert (found.rain_low_mm[storm], found.rain_high_mm[storm]) == pytest.approx((30.48, 76.2))
