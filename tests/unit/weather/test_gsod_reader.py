"""NOAA's summary of the day: its missing codes, its marks, and its noughts that are none."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag

HEAD = (
    '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","TEMP","TEMP_ATTRIBUTES","DEWP",'
    '"DEWP_ATTRIBUTES","WDSP","WDSP_ATTRIBUTES","MAX","MAX_ATTRIBUTES","MIN","MIN_ATTRIBUTES","PRCP",'
    '"PRCP_ATTRIBUTES","FRSHTT"'
)


def line(day, rain, mark, high="  77.0", high_mark=" ", station="00000099999", wind=" 10.0", dew="  50.0"):
    return (
        f'"{station}","2024-05-{day:02d}","38.0","-84.5","290.0","PLACE, XX","  68.0","24","{dew}","24",'
        f'"{wind}","24","{high}","{high_mark}","  59.0"," ","{rain}","{mark}","010000"'
    )


def gsod(*lines):
    return "\n".join([HEAD, *lines]) + "\n"


def test_gsod_units_and_place(put):
    record = weather.read(put(gsod(line(1, " 0.50", "G"))))
    assert (record.t_min_c[0], record.t_max_c[0]) == (15.0, 25.0)
    assert record.rain_mm[0] == pytest.approx(12.7)
    assert (record.t_mean_c[0], record.dew_point_c[0]) == (20.0, 10.0)
    assert record.wind_m_s[0] == pytest.approx(10 * 1852 / 3600)
    assert (record.station.name, record.station.longitude) == ("PLACE, XX", -84.5)


@pytest.mark.parametrize(
    ("rain", "mark", "value", "flag"),
    [
        (" 0.00", "I", np.nan, Flag.SUSPECT),
        (" 0.00", "H", np.nan, Flag.SUSPECT),
        (" 0.00", "G", 0.0, Flag.OBSERVED),
        (" 0.10", "D", 2.54, Flag.OBSERVED),
        (" 0.10", "A", 2.54, Flag.ESTIMATED),
        (" 0.10", "E", 2.54, Flag.ESTIMATED),
        ("99.99", " ", np.nan, Flag.MISSING),
    ],
)
def test_gsod_rain_means_what_its_mark_says(put, rain, mark, value, flag):
    record = weather.read(put(gsod(line(1, rain, mark), line(2, " 0.00", "G"))))
    assert record.rain_mm[0] == pytest.approx(value, nan_ok=True)
    assert record.flags["rain_mm"][0] == flag


def test_gsod_noughts_that_were_not_measured_are_told(put):
    record = weather.read(put(gsod(*(line(day, " 0.00", "I") for day in range(1, 8)))))
    issue = next(issue for issue in record.issues if issue.kind == "false zeros")
    assert (issue.days, issue.element) == (7, "rain_mm")
    assert np.isnan(record.rain_mm).all()


def test_gsod_missing_codes_of_other_columns(put):
    row = line(1, " 0.00", "G", high="9999.9", wind="999.9", dew="9999.9")
    record = weather.read(put(gsod(row, line(2, " 0.00", "G"))))
    for element in ("t_max_c", "wind_m_s", "dew_point_c"):
        assert record.flags[element].tolist() == [Flag.MISSING, Flag.OBSERVED]


def test_gsod_highest_of_hourly_reports_only_is_measured_and_told(put):
    """The mark says where the number was found, in the hourly data: it is no estimate."""
    record = weather.read(put(gsod(line(1, " 0.00", "G", high_mark="*"))))
    assert (record.t_max_c[0], record.flags["t_max_c"][0]) == (25.0, Flag.OBSERVED)
    (issue,) = [issue for issue in record.issues if issue.kind == "hourly"]
    assert (issue.element, issue.days) == ("t_max_c", 1)
    assert "can have been warmer" in issue.instead


def test_gsod_missing_rain_is_no_lost_trace(put):
    """99.99 is the layout's word for missing, and a trace is 0.00 in it."""
    days = (np.datetime64("2023-01-01") + np.arange(400)).astype(str).tolist()
    rows = [
        line(1, "99.99" if row % 8 == 0 else " 0.10", "G").replace("2024-05-01", day)
        for row, day in enumerate(days)
    ]
    record = weather.read(put(gsod(*rows)))
    assert np.isnan(record.rain_mm).sum() == 50
    assert "trace" not in [issue.kind for issue in record.issues]


@pytest.mark.parametrize("layout", ["gsod", "uscrn", "knmi", "met-eireann", "ghcn-fixed", "daily-summaries"])
def test_plain_file_called_another_layout_is_refused_in_words(faults_of, layout):
    problems = faults_of("date,tmin_C,tmax_C,rain_mm\n2031-05-01,5,15,0\n", layout=layout)
    assert problems
    assert all(problem.what and problem.file == "record.csv" for problem in problems)


def test_gsod_years_below_one_another_are_one_record(put):
    later = line(2, " 0.20", "G")
    record = weather.read(put(gsod(line(1, " 0.10", "G"), HEAD, later)))
    assert record.rain_mm.tolist() == pytest.approx([2.54, 5.08])


def test_gsod_day_of_universal_time_is_told_in_sun_time(put):
    issues = weather.read(put(gsod(line(1, " 0.10", "G")))).issues
    text = next(issue.text for issue in issues if issue.kind == "day boundary")
    # Midnight in Greenwich, 84.5 degrees west: 84.5 / 15 hours earlier.
    assert "18:22" in text


def test_gsod_two_stations_are_refused(faults_of):
    problems = faults_of(gsod(line(1, " 0.10", "G"), line(2, " 0.10", "G", station="1")))
    assert "mixes 2 stations" in problems[0].what
