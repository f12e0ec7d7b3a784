"""Irish daily values: heading, indicators, month names."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag

HEADING = """Station Name: HILL FARM
Station Height: 71 M
Latitude:53.428  ,Longitude: -6.241


date:  -  00 to 00 utc
rain:  -  Precipitation Amount (mm)
ind:   -  Indicator (i)

"""
ROWS = """date,ind,maxtp,ind,mintp,igmin,gmin,ind,rain,cbl,wdsp,g_rad
01-jan-2031,0,9.7,0,6.8,0,4.7,0,0.3,1020.3,10.0,150
02-jan-2031,0,9.9,2,7.9,0,6.7,2,0.0,1016.2,15.2,
03-jan-2031,0,,4, ,0,-20.0,3,1.2,1006.8,14.0,90
"""


def test_irish_values_units_and_place(put):
    record = weather.read(put(HEADING + ROWS))
    station = record.station
    assert (station.name, station.latitude, station.longitude, station.elevation_m) == (
        "Hill Farm", 53.428, -6.241, 71.0,
    )  # fmt: skip
    assert np.array_equal(record.t_max_c, [9.7, 9.9, np.nan], equal_nan=True)
    assert np.array_equal(record.t_min_c, [6.8, 7.9, np.nan], equal_nan=True)
    assert record.rain_mm.tolist() == [0.3, 0.0, 1.2]
    assert record.wind_m_s[0] == pytest.approx(10 * 1852 / 3600)
    assert record.solar_mj_m2[0] == 1.5


def test_irish_indicators_become_flags_and_are_told(put):
    record = weather.read(put(HEADING + ROWS))
    assert record.flags["rain_mm"].tolist() == [Flag.OBSERVED, Flag.TRACE, Flag.ESTIMATED]
    assert record.flags["t_min_c"].tolist() == [Flag.OBSERVED, Flag.ESTIMATED, Flag.MISSING]
    told = {issue.element: issue.days for issue in record.issues if issue.kind == "estimated"}
    assert told == {"rain_mm": 1, "t_min_c": 1}


def test_irish_grass_minimum_is_not_the_lowest_air_temperature(put):
    assert np.nanmin(weather.read(put(HEADING + ROWS)).t_min_c) == 6.8


def test_irish_climate_station_with_its_shorter_names(put):
    text = "date,ind,rain,ind,maxt,ind,mint,gmin,soil\n01-feb-2031,0,2.5,0,8.0,0,1.0,-1.0,4.0\n"
    record = weather.read(put(HEADING + text))
    assert (record.rain_mm[0], record.t_max_c[0], record.t_min_c[0]) == (2.5, 8.0, 1.0)


def test_irish_rain_gauge_whose_day_begins_in_the_morning_says_what_was_taken_for_granted(put):
    text = HEADING.replace("00 to 00", "09 to 09") + "date,ind,rain\n01-feb-2031,0,2.5\n"
    record = weather.read(put(text))
    assert record.first.isoformat() == "2031-02-01"
    assert "taken to stand" in next(issue.text for issue in record.issues if issue.kind == "day boundary")


def test_irish_fault_has_the_line_of_the_file(faults_of):
    problems = faults_of(HEADING + ROWS.replace("1.2,", "x1.2,"))
    assert [(problem.line, problem.field) for problem in problems] == [(13, "rain")]
