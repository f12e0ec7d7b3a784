"""Hourly files: which report counts, whose clock it is, in which units, and what days come of them."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag, subdaily
from dooryard.weather.file import LAYOUTS, SUBDAILY_LAYOUTS
from dooryard.weather.subdaily import read_gauge, read_hourly

LCD = "STATION,DATE,REPORT_TYPE,HOURLYDRYBULBTEMPF,HOURLYDewPointTempF,HOURLYRelativeHumidity,"
LCD += "HOURLYPrecip,HOURLYWindSpeed\n"


def lcd(*rows):
    """Reports of (time, temperature, rain) on 2031-05-20, all else blank."""
    return LCD + "".join(f"72,2031-05-20T{time}:00,FM-15,{temp},,,{rain},\n" for time, temp, rain in rows)


def day_of_hours(rain="0.1", skip=(), temp=None):
    """A plain hourly sheet of 2031-05-20, rain in mm, temperature 10 + hour."""
    rows = [
        f"2031-05-20 {hour:02d}:00,{10 + hour if temp is None else temp},{rain}\n"
        for hour in range(24)
        if hour not in skip
    ]
    return "time,temp_C,rain_mm\n" + "".join(rows)


def hours(record):
    return record.hours.astype(str).tolist()


def test_special_reports_run_on_and_the_largest_counts_for_the_hour(put):
    rows = [("10:51", 60, "0.00"), ("11:05", 61, "0.10"), ("11:30", 58, "0.25"), ("11:51", 57, "0.30"),
            ("12:10", 57, "0.05"), ("12:51", 56, "0.05")]  # fmt: skip
    record = read_hourly(put(lcd(*rows)))
    assert hours(record) == ["2031-05-20T10", "2031-05-20T11", "2031-05-20T12"]
    assert record.rain_mm / 25.4 == pytest.approx([0.0, 0.30, 0.05])
    assert record.temperature_c * 1.8 + 32 == pytest.approx([60, 57, 56])
    assert record.high_c * 1.8 + 32 == pytest.approx([60, 61, 57])


def test_reports_out_of_order_give_the_same_hours(put):
    rows = [("10:51", 60, "0.00"), ("11:30", 58, "0.25"), ("11:51", 57, "0.30"), ("12:51", 56, "T")]
    ordered = read_hourly(put(lcd(*rows), "a.csv"))
    turned = read_hourly(put(lcd(*rows[::-1]), "b.csv"))
    for name in ordered.elements:
        assert np.array_equal(ordered.element(name), turned.element(name), equal_nan=True)
        assert np.array_equal(ordered.flags[name], turned.flags[name])


def test_trace_and_suspect_marks_of_reports_become_flags(put):
    rows = [
        ("10:51", 60, "T"),
        ("11:51", 57, "0.02s"),
        ("12:51", 56, ""),
        ("13:51", 56, "*"),
        ("14:51", 56, "0"),
    ]
    record = read_hourly(put(lcd(*rows)))
    assert [Flag(int(code)).name for code in record.flags["rain_mm"]] == [
        "TRACE", "SUSPECT", "MISSING", "MISSING", "OBSERVED",
    ]  # fmt: skip
    assert np.array_equal(record.rain_mm, [0, np.nan, np.nan, np.nan, 0], equal_nan=True)


def test_mark_of_utc_in_a_standard_time_layout_is_not_believed_but_told(put):
    text = lcd(("10:51", 60, "0")).replace(":00,FM", ":00Z,FM")
    record = read_hourly(put(text))
    assert hours(record) == ["2031-05-20T10"]
    assert any("mark of UTC" in issue.text for issue in record.issues)


def test_network_extract_in_utc_is_moved_by_its_longitude(put):
    head = "# latitude: 38\n# longitude: -84.6\n"
    text = (
        head
        + "station,valid,tmpf,p01i\nLEX,2031-05-20 03:53+00:00,50,0.0001\nLEX,2031-05-20 04:53+00:00,M,0.12\n"
    )
    record = read_hourly(put(text))
    assert hours(record) == ["2031-05-19T21", "2031-05-19T22"]
    assert record.offset_h == -6
    assert record.rain_mm.tolist() == [0.0, pytest.approx(3.048)]
    assert record.flags["rain_mm"].tolist() == [Flag.TRACE, Flag.OBSERVED]


AIRPORT = "origin,year,month,day,hour,temp,dewp,humid,wind_dir,wind_speed,precip,time_hour\n"


def airport(*rows):
    """Rows of (local day, hour, UTC hour, temperature, wind, rain) in November 2013."""
    return AIRPORT + "".join(
        f"EWR,2013,11,{day},{hour},{temp},39.02,60,310,{wind},{rain},2013-11-{utc}:00:00Z\n"
        for day, hour, utc, temp, wind, rain in rows
    )


def test_repeated_hour_is_settled_by_the_column_of_utc(put):
    rows = [(3, 0, "03T04", 53.96, 5, 0.01), (3, 1, "03T05", 51.98, 5, 0.02), (3, 1, "03T06", 50, 5, 0.04),
            (3, 2, "03T07", 51.08, 5, 0.08)]  # fmt: skip
    record = read_hourly(put("# units: standard\n" + airport(*rows)))
    assert hours(record) == ["2013-11-02T23", "2013-11-03T00", "2013-11-03T01", "2013-11-03T02"]
    assert record.rain_mm / 25.4 == pytest.approx([0.01, 0.02, 0.04, 0.08])
    assert record.offset_h == -5


def test_wind_of_a_thousand_miles_an_hour_is_refused_and_told(put):
    rows = [(4, hour, f"04T{hour + 5:02d}", 50.0, 1048.36058 if hour == 3 else 9.2, 0) for hour in range(12)]
    record = read_hourly(put("# units: standard\n" + airport(*rows)))
    assert np.isnan(record.wind_m_s[3])
    assert record.flags["wind_m_s"][3] == Flag.SUSPECT
    assert record.wind_m_s[2] == pytest.approx(4.112768)
    issue = next(issue for issue in record.issues if issue.kind == "suspect")
    assert "468.659 m/s" in issue.text


def test_several_stations_need_a_choice_and_a_wrong_one_is_helped(put):
    row = airport((4, 1, "04T06", 50, 5, 0))
    text = "# units: standard\n" + row + row.split("\n")[1].replace("EWR", "JFK") + "\n"
    with pytest.raises(InputError, match="EWR, JFK"):
        read_hourly(put(text))
    assert read_hourly(put(text), station="JFK").station.id == "JFK"
    with pytest.raises(InputError, match='Did you mean "JFK"'):
        read_hourly(put(text), station="JKF")


def test_units_that_the_header_does_not_say_are_decided_or_refused(put):
    rows = [(4, hour, f"04T{hour + 5:02d}", 70.5 + hour, 9.2, 0.01) for hour in range(12)]
    record = read_hourly(put(airport(*rows)))
    assert any(issue.kind == "units" and "Fahrenheit" in issue.text for issue in record.issues)
    mild = [(4, hour, f"04T{hour + 5:02d}", 20 + hour, 5, 0) for hour in range(12)]
    with pytest.raises(InputError, match="# units: standard"):
        read_hourly(put(airport(*mild)))
    # Fahrenheit made of whole Celsius has decimals too (39.02), so decimals do not make it Celsius.
    cool = [(4, hour, f"04T{hour + 5:02d}", 39.02 + hour, 5, 0) for hour in range(12)]
    with pytest.raises(InputError, match="or millimetres and degrees Celsius or inches"):
        read_hourly(put(airport(*cool)))


def test_own_sheet_with_a_clock_follows_summer_time(put):
    text = "# clock: America/New_York\ntime,temp_F\n2031-03-09 01:00,40\n2031-03-09 03:00,41\n2031-07-01 12:00,80\n"
    record = read_hourly(put(text))
    assert hours(record)[:2] == ["2031-03-09T01", "2031-03-09T02"]
    assert hours(record)[-1] == "2031-07-01T11"
    assert record.offset_h == -5


def test_own_sheet_without_a_clock_is_standard_time_and_a_repeat_is_refused(put):
    record = read_hourly(put(day_of_hours()))
    assert any(issue.kind == "clock" for issue in record.issues)
    text = day_of_hours() + "2031-05-20 23:00,5,0\n"
    with pytest.raises(InputError, match="summer time"):
        read_hourly(put(text))


def test_clock_said_by_the_caller_overrules_the_file(put):
    text = "# clock: UTC-5\ntime,temp_F\n2031-07-01 12:00,80\n"
    assert hours(read_hourly(put(text))) == ["2031-07-01T12"]
    assert hours(read_hourly(put(text), clock="America/New_York")) == ["2031-07-01T11"]


def test_date_and_hour_in_two_columns_are_joined(put):
    text = "date,hour,temp_C\n2031-05-20,7,1\n2031-05-20,8,2\n"
    assert hours(read_hourly(put(text))) == ["2031-05-20T07", "2031-05-20T08"]
    text = "date,time,temp_C\n2031-05-20,0700,1\n2031-05-20,08:00,2\n"
    assert hours(read_hourly(put(text))) == ["2031-05-20T07", "2031-05-20T08"]


def test_times_that_end_an_hour_are_moved_if_the_file_says_so(put):
    text = "# times: end\n" + day_of_hours().replace("2031-05-20 00:00", "2031-05-20 24:00")
    record = read_hourly(put(text))
    assert (hours(record)[0], hours(record)[-1], len(record.hours)) == ("2031-05-20T00", "2031-05-20T23", 24)
    assert record.temperature_c[-1] == 10


def test_quarters_of_an_hour_are_added_up_and_an_absent_one_leaves_no_rain(put):
    rows = [
        f"2031-05-20 {h:02d}:{m:02d},{h},0.5\n"
        for h in (7, 8, 9)
        for m in (0, 15, 30, 45)
        if (h, m) != (8, 30)
    ]
    record = read_hourly(put("time,temp_C,rain_mm\n" + "".join(rows)))
    assert np.array_equal(record.rain_mm, [2.0, np.nan, 2.0], equal_nan=True)
    assert record.temperature_c.tolist() == [7, 8, 9]


def test_whole_day_of_hours_gives_its_sum_extremes_and_means(put):
    daily = read_hourly(put(day_of_hours(rain="0.5"))).to_daily()
    assert daily.rain_mm.tolist() == [12.0]
    assert (daily.t_min_c.tolist(), daily.t_max_c.tolist(), daily.t_mean_c.tolist()) == ([10], [33], [21.5])
    assert {name: int(codes[0]) for name, codes in daily.flags.items()} == {
        "rain_mm": 0, "t_min_c": 0, "t_max_c": 0, "t_mean_c": 0,
    }  # fmt: skip


def test_day_with_a_missing_hour_has_no_rain_but_estimated_temperatures(put):
    daily = read_hourly(put(day_of_hours(rain="0.5", skip=(4,)))).to_daily()
    assert np.isnan(daily.rain_mm[0])
    assert daily.flags["rain_mm"][0] == Flag.MISSING
    assert (daily.t_min_c[0], daily.flags["t_min_c"][0]) == (10, Flag.ESTIMATED)
    assert any("11.5 mm fell in the others" in issue.text for issue in daily.issues)


def test_day_with_too_few_hours_has_no_temperature(put, knowledge):
    bearable = int(knowledge.fact("weather.hourly.missing_temperature_h").value)
    text = day_of_hours(skip=range(bearable)) + "2031-05-21 12:00,5,0\n"
    daily = read_hourly(put(text)).to_daily()
    assert daily.flags["t_max_c"].tolist() == [Flag.ESTIMATED]
    text = day_of_hours(skip=range(5, 6 + bearable))
    daily = read_hourly(put(text)).to_daily()
    assert np.isnan(daily.t_max_c).all()


def test_blank_rain_counts_as_dry_only_if_that_is_stated(put):
    record = read_hourly(put(day_of_hours(rain="")))
    assert np.isnan(record.to_daily().rain_mm).all()
    daily = record.to_daily(blank_rain_is_dry=True)
    assert (daily.rain_mm.tolist(), daily.flags["rain_mm"].tolist()) == ([0.0], [Flag.ESTIMATED])


def test_trace_hours_make_a_trace_day(put):
    daily = read_hourly(put(day_of_hours(rain="T"))).to_daily()
    assert (daily.rain_mm.tolist(), daily.flags["rain_mm"].tolist()) == ([0.0], [Flag.TRACE])


def test_sunshine_of_a_day_is_the_energy_of_its_hours(put):
    text = "time,solar_W_m2,temp_C\n" + "".join(f"2031-05-20 {h:02d}:00,{250},10\n" for h in range(24))
    daily = read_hourly(put(text)).to_daily()
    # 250 W/m2 all day: 250 x 86,400 s = 21.6 MJ/m2.
    assert daily.solar_mj_m2.tolist() == [pytest.approx(21.6)]


def test_hours_are_intervals_for_bursts_and_hours_without_rain_cannot_be(put):
    record = read_gauge(put(day_of_hours(rain="0.5")))
    assert (record.total_mm, record.burst(60).low_mm, record.burst(60).high_mm) == (12.0, 0.5, 1.0)
    with pytest.raises(InputError, match="no rain"):
        read_gauge(put("time,temp_C\n2031-05-20 00:00,5\n"))


def test_missing_hours_are_counted_and_told(put):
    record = read_hourly(put(day_of_hours(skip=(4, 5, 9))))
    issue = next(issue for issue in record.issues if issue.kind == "missing")
    assert "3 of 24 hours, at most 2 in a row" in issue.text
    assert issue.days == 1


def test_file_of_no_sub_daily_layout_says_what_to_write(put):
    with pytest.raises(InputError, match="time,temp_F,rain_in"):
        read_hourly(put("date,tmin_F,tmax_F,rain_in\n2031-05-01,50,60,0\n"))
    with pytest.raises(InputError, match='Did you mean "hourly"'):
        read_hourly(put(day_of_hours()), "hourli")


def test_layout_said_for_a_file_without_its_header_is_refused(put):
    for layout in ("tmy3", "nerrs", "usgs-gauge", "minute-of-day"):
        with pytest.raises(InputError, match=f'no header of the layout "{layout}"'):
            read_gauge(put(day_of_hours()), layout)
    with pytest.raises(InputError, match="no header"):
        weather.read(put("date,rain_in\n2031-05-20,0.1\n"), "hourly")


def test_layouts_of_hours_are_those_the_daily_reader_knows():
    assert set(subdaily.LAYOUTS) == set(SUBDAILY_LAYOUTS)
    assert set(SUBDAILY_LAYOUTS) < set(LAYOUTS)


def test_daily_record_of_an_hourly_file_ends_its_days_at_midnight_whatever_is_said(put):
    path = put(day_of_hours(rain="0.5"))
    assert weather.read(path).rain_mm.tolist() == [12.0]
    with pytest.raises(InputError, match="it is known where they end"):
        weather.read(path, day_ends="07:00")


def test_plain_daily_file_is_not_taken_for_hours(put):
    text = "date,tmin_C,tmax_C,rain_mm\n2031-05-20,1,9,0.5\n"
    assert weather.read(put(text)).source.layout.startswith("plain")
    assert weather.read(put(text.replace(",", ";"))).source.layout.startswith("plain")


def test_every_line_at_one_distance_from_utc_is_told(put):
    record = read_hourly(put("time,temp_C\n2031-07-01 12:00-04:00,20\n2031-07-01 13:00-04:00,21\n"))
    assert hours(record) == ["2031-07-01T12", "2031-07-01T13"]
    assert any("Every line is -4 hours from UTC" in issue.text for issue in record.issues)
