"""US Climate Reference Network, as published and as CSV."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag
from dooryard.weather.readers.uscrn import FIELDS


def fields(day, **changed):
    values = dict.fromkeys(FIELDS, "-9999.0") | {name: "-99.000" for name in FIELDS if "MOISTURE" in name}
    values |= {
        "WBANNO": "03739", "LST_DATE": f"202005{day:02d}", "CRX_VN": "2.622", "LONGITUDE": "-86.23",
        "LATITUDE": "37.25", "T_DAILY_MAX": "24.3", "T_DAILY_MIN": "-0.4", "T_DAILY_AVG": "11.2",
        "P_DAILY_CALC": "3.1", "SOLARAD_DAILY": "22.15", "SUR_TEMP_DAILY_TYPE": "C", "RH_DAILY_AVG": "61.0",
    }  # fmt: skip
    return values | changed


def published(*days):
    return "".join(" ".join(f"{value:>8}" for value in day.values()).lstrip() + "\n" for day in days)


def as_csv(*days):
    head = ",".join(name.lower() for name in FIELDS).replace("wbanno", "wban")
    return head + "\n" + "".join(",".join(day.values()) + "\n" for day in days)


@pytest.mark.parametrize("written", [published, as_csv])
def test_uscrn_values_and_missing_codes(put, written):
    empty = {"T_DAILY_MAX": "-9999.0", "P_DAILY_CALC": "-9999.0", "SOLARAD_DAILY": "-99.000"}
    record = weather.read(put(written(fields(1), fields(2, **empty))))
    assert record.source.layout == "US Climate Reference Network daily"
    assert np.array_equal(record.t_max_c, [24.3, np.nan], equal_nan=True)
    assert np.array_equal(record.rain_mm, [3.1, np.nan], equal_nan=True)
    assert np.array_equal(record.solar_mj_m2, [22.15, np.nan], equal_nan=True)
    assert record.t_min_c.tolist() == [-0.4, -0.4]
    assert record.humidity_pct.tolist() == [61.0, 61.0]
    assert record.flags["rain_mm"].tolist() == [Flag.OBSERVED, Flag.MISSING]
    assert (record.station.latitude, record.station.longitude, record.station.id) == (37.25, -86.23, "03739")


def test_uscrn_name_of_the_station_is_in_the_name_of_the_file(put):
    record = weather.read(put(published(fields(1)), "CRND0103-2020-KY_Bowling_Green_21_NNE.txt"))
    assert record.station.name == "Bowling Green 21 NNE, KY"


def test_uscrn_heading_line_may_stand_above(put):
    assert weather.read(put(" ".join(FIELDS) + "\n" + published(fields(1)))).rain_mm.tolist() == [3.1]


def test_uscrn_broken_line_is_told_with_its_number(faults_of):
    problems = faults_of(published(fields(1), fields(2)) + "03739 20200503 2.622\n")
    assert [(problem.line, "3 fields" in problem.what) for problem in problems] == [(3, True)]


def test_uscrn_two_stations_are_refused(faults_of):
    problems = faults_of(published(fields(1), fields(2, WBANNO="53131")))
    assert "mixes 2 stations" in problems[0].what
