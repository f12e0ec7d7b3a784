"""TMY3: hours 01:00 to 24:00, joined years, and rain whose header is wrong about its unit."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag
from dooryard.weather.subdaily import read_hourly

PLACE = '723170,"A TOWN",NC,-5.0,36.100,-79.950,273\n'
HEADER = (
    "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),Dry-bulb (C),Dew-point (C),RHum (%),Wspd (m/s),"
    "Lprecip depth (mm),Lprecip quantity (hr)\n"
)
# Hundredths of an inch in whole tenths of a millimetre: 1 to 25 of them.
TENTHS = [3, 5, 8, 10, 13, 15, 18, 20, 23, 25, 28, 30, 33, 36, 38, 41, 43, 46, 48, 51, 53, 56, 58, 61, 64]


def year(rain=None, days=("01/31/1988", "02/01/1996"), quantity=1):
    """Two days of different years; rain by hour, 0 where not given."""
    rain = rain or {}
    lines, hour = [], 0
    for day in days:
        for clock in range(1, 25):
            depth = rain.get(hour, 0)
            lines.append(f"{day},{clock:02d}:00,100,{clock},5,80,4,{depth},{quantity}\n")
            hour += 1
    return PLACE + HEADER + "".join(lines)


def test_hour_24_ends_the_day_and_the_years_are_joined_on_one(put):
    record = read_hourly(put(year()))
    assert (str(record.hours[0]), str(record.hours[-1]), len(record.hours)) == (
        "2001-01-31T00",
        "2001-02-01T23",
        48,
    )
    assert record.temperature_c[:24].tolist() == list(range(1, 25))
    station = record.station
    assert (station.name, station.latitude, station.elevation_m, record.offset_h) == (
        "A TOWN, NC", 36.1, 273, -5,
    )  # fmt: skip
    assert any("between 1988 and 1996" in issue.text for issue in record.issues)


def test_hundredths_of_an_inch_give_tenths_of_a_millimetre_away(put):
    record = read_hourly(put(year(dict(enumerate(TENTHS)))))
    assert record.rain_mm.sum() == pytest.approx(sum(TENTHS) / 10)
    # The 25 depths are 1 to 25 hundredths of an inch; rounding each to a tenth of a mm moves it by 0.05 at most.
    assert record.rain_mm.sum() == pytest.approx(sum(range(1, 26)) * 0.254, abs=25 * 0.05)
    assert any("tenths" in issue.text for issue in record.issues)


def test_rain_with_decimals_is_in_millimetres_as_the_header_says(put):
    record = read_hourly(put(year({hour: 0.3 * (hour + 1) for hour in range(25)})))
    assert record.rain_mm.sum() == pytest.approx(0.3 * 325)
    assert not any(issue.kind == "units" for issue in record.issues)


def test_whole_millimetres_of_every_size_are_millimetres(put):
    record = read_hourly(put(year({hour: hour + 1 for hour in range(25)})))
    assert record.rain_mm.sum() == 325


def test_rain_in_too_few_hours_to_tell_its_unit_is_left_out(put):
    record = read_hourly(put(year({3: 10, 4: 25})))
    assert np.isnan(record.rain_mm).all()
    assert record.flags["rain_mm"][3] == Flag.SUSPECT
    assert any(issue.instead == "It is left out." for issue in record.issues)


def test_rain_gathered_over_several_hours_is_not_spread(put):
    record = read_hourly(put(year(dict.fromkeys(range(0, 48, 6), 0.5), quantity=6)))
    assert record.flags["rain_mm"][0] == Flag.ACCUMULATED
    assert np.isnan(record.rain_mm[0])
    assert record.rain_mm[1] == 0


def test_missing_code_and_hours_out_of_order(put):
    record = read_hourly(put(year({3: -9900})))
    assert np.isnan(record.rain_mm[3])
    text = year()
    lines = text.splitlines(keepends=True)
    with pytest.raises(InputError, match="does not follow"):
        read_hourly(put("".join([*lines[:5], lines[4], *lines[5:]])))


def test_typical_year_can_be_read_by_days(put):
    daily = weather.read(put(year()))
    assert daily.t_max_c.tolist() == [24, 24]
    assert daily.solar_mj_m2.tolist() == [pytest.approx(8.64)] * 2
    assert any(issue.kind == "typical" for issue in daily.issues)


def test_broken_lines_are_told_together(put):
    text = year().replace("02:00,100", "02:00", 1).replace("05:00,100", "05:00", 1)
    with pytest.raises(InputError) as caught:
        read_hourly(put(text))
    assert [problem.line for problem in caught.value.problems] == [4, 7]
