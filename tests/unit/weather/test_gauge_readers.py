"""Recording gauges: steps that change, holes, the repeated hour, codes, wet intervals only, quarters with marks."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag
from dooryard.weather.subdaily import read_gauge, read_hourly

USGS = '"agency_cd","site_no","dateTime","rain","X_00045_00000_cd","tz_cd"\n'
RESERVE = "datetimestamp,atemp,f_atemp,rh,f_rh,wspd,f_wspd,totprcp,f_totprcp\n"


def usgs(*rows, zone="America/Chicago"):
    """Lines of (time, rain in inches[, code])."""
    lines = [(time, rain, code[0] if code else "A") for time, rain, *code in rows]
    return USGS + "".join(
        f'"USGS","05408480",{time},{rain},"{code}","{zone}"\n' for time, rain, code in lines
    )


def every(minutes, day="2016-06-14", rain=0, start=0, count=None):
    """Steps of one length through a day, as (time, rain)."""
    count = (1440 - start) // minutes if count is None else count
    times = [start + minutes * number for number in range(count)]
    return [(f"{day} {time // 60:02d}:{time % 60:02d}:00", rain) for time in times]


def test_usgs_step_ends_at_its_time_and_is_as_long_as_the_one_before_is_past(put):
    rows = [("2016-01-14 10:00:00", 0), ("2016-01-14 10:15:00", 0.1), ("2016-01-14 10:20:00", 0.2),
            ("2016-01-14 10:30:00", 0.3), ("2016-01-14 10:45:00", 0)]  # fmt: skip
    record = read_gauge(put(usgs(*rows)))
    assert record.minutes.tolist() == [15, 15, 5, 10, 15]
    assert [str(time)[11:] for time in record.start] == ["09:45", "10:00", "10:15", "10:20", "10:30"]
    assert record.total_mm == pytest.approx(0.6 * 25.4)
    assert (record.station.id, record.offset_h) == ("USGS:05408480", -6)


def test_usgs_hole_is_not_measured_and_takes_the_rain_right_behind_it_along(put):
    rows = [*every(15, count=40), ("2016-06-14 14:00:00", 0.25), *every(15, start=855)]
    record = read_gauge(put(usgs(*rows)))
    assert record.minutes.max() == 15
    late = int(np.flatnonzero(record.flags == Flag.SUSPECT)[0])
    assert str(record.end[late])[11:] == "13:00"
    kinds = {issue.kind: issue.text for issue in record.issues}
    assert "silent 1 times, 4.0 hours" in kinds["gap"]
    assert "right after a silence" in kinds["suspect"]
    assert np.isnan(record.to_daily().rain_mm).all()


def test_usgs_repeated_hour_keeps_both_passages(put):
    night = [f"2015-11-01 {clock}:00" for clock in ("00:45", "01:00", "01:15", "01:30", "01:45")]
    again = [f"2015-11-01 {clock}:00" for clock in ("01:00", "01:15", "01:30", "01:45", "02:00")]
    record = read_gauge(put(usgs(*((time, 0.01) for time in night + again))))
    assert record.minutes.tolist() == [15] * 10
    assert record.total_mm == pytest.approx(2.54)
    assert (str(record.end[0])[5:], str(record.end[-1])[5:]) == ("10-31T23:45", "11-01T02:00")


def test_usgs_estimated_and_provisional_codes_are_kept_and_told(put):
    rows = [
        ("2016-01-14 10:00:00", 0, "A e"),
        ("2016-01-14 10:15:00", 0.1, "A"),
        ("2016-01-14 10:30:00", 0.1, "P"),
    ]
    record = read_gauge(put(usgs(*rows)))
    assert record.flags.tolist() == [Flag.ESTIMATED, Flag.OBSERVED, Flag.OBSERVED]
    assert {"estimated", "provisional"} <= {issue.kind for issue in record.issues}


def test_usgs_own_text_with_clock_names_in_its_rows_is_the_same(put):
    head = "# US Geological Survey\nagency_cd\tsite_no\tdatetime\ttz_cd\t99_00045\t99_00045_cd\n"
    head += "5s\t15s\t20d\t6s\t14n\t10s\n"
    rows = [
        ("2015-11-01 01:30", "CDT", 0.1),
        ("2015-11-01 01:45", "CDT", 0.2),
        ("2015-11-01 01:00", "CST", 0.3),
    ]
    text = head + "".join(f"USGS\t05408480\t{time}\t{zone}\t{rain}\tA\n" for time, zone, rain in rows)
    record = read_gauge(put(text, "a.rdb"))
    assert [str(time)[11:] for time in record.end] == ["00:30", "00:45", "01:00"]
    assert record.depth_mm / 25.4 == pytest.approx([0.1, 0.2, 0.3])


def test_usgs_line_twice_is_used_once_and_two_depths_of_one_time_are_refused(put):
    rows = [("2016-01-14 10:00:00", 0), ("2016-01-14 10:15:00", 0.1), ("2016-01-14 10:15:00", 0.1)]
    record = read_gauge(put(usgs(*rows)))
    assert len(record.start) == 2
    assert any(issue.kind == "repeated" for issue in record.issues)
    with pytest.raises(InputError, match="line 3 already"):
        read_gauge(put(usgs(*rows[:2], ("2016-01-14 10:15:00", 0.2))))


def test_usgs_day_of_rain_comes_out_by_days_and_hours(put):
    rows = [*every(15, day="2016-01-14", rain=0.01, start=15), ("2016-01-15 00:00:00", 0.01)]
    path = put(usgs(*rows))
    daily, hourly = weather.read(path), read_hourly(path)
    assert daily.rain_mm.tolist() == [pytest.approx(96 * 0.254)]
    assert np.isnan(daily.t_min_c).all()
    assert len(hourly.hours) == 24
    assert hourly.rain_mm == pytest.approx(np.full(24, 4 * 0.254))


MINUTES = ",site.dd,YEAR,MONTH,DAY,MINUTE,rain\n"


def test_minute_of_day_counts_what_is_absent_as_dry(put):
    text = MINUTES + "1,U05408480.00045,2010,7,13,885,0.1\n2,U05408480.00045,2010,7,15,890,0.2\n"
    record = read_gauge(put(text))
    assert record.dry_between
    assert record.station.id == "USGS:05408480"
    assert [str(time) for time in record.end] == ["2010-07-13T14:45", "2010-07-15T14:50"]
    daily = weather.read(put(text))
    assert daily.rain_mm / 25.4 == pytest.approx([0.1, 0.0, 0.2])
    assert daily.flags["rain_mm"].tolist() == [Flag.OBSERVED, Flag.ESTIMATED, Flag.OBSERVED]
    assert any(issue.kind == "absent" for issue in daily.issues)


def test_minute_of_day_nought_closes_the_day_before(put):
    text = "# units: in\nYEAR,MONTH,DAY,MINUTE,rain\n2010,7,14,0,0.1\n2010,7,14,1440,0.2\n"
    daily = weather.read(put(text))
    assert daily.dates.astype(str).tolist() == ["2010-07-13", "2010-07-14"]
    assert daily.rain_mm / 25.4 == pytest.approx([0.1, 0.2])


def test_minute_of_day_without_a_unit_or_with_an_impossible_minute_is_refused(put):
    with pytest.raises(InputError, match="rain_mm"):
        read_gauge(put("YEAR,MONTH,DAY,MINUTE,rain\n2010,7,14,5,0.1\n"))
    assert read_gauge(put("YEAR,MONTH,DAY,MINUTE,rain_mm\n2010,7,14,5,0.1\n")).total_mm == 0.1
    with pytest.raises(InputError) as caught:
        read_gauge(
            put("YEAR,MONTH,DAY,MINUTE,rain_mm\n2010,7,14,1441,0.1\n2010,7,14,7,0.1\n2010,7,14,7,0.1\n")
        )
    assert [problem.line for problem in caught.value.problems] == [2]


def reserve(*rows):
    """Quarters of (time, temperature, its mark, rain, its mark)."""
    return RESERVE + "".join(
        f"2012-01-26 {time},{temp},{mark},102,<0>,3,<0>,{rain},{rain_mark}\n"
        for time, temp, mark, rain, rain_mark in rows
    )


GOOD_HOUR = [(f"18:{minute:02d}", 12.0, "<0>", 1.5, "<0>") for minute in (15, 30, 45)] + [
    ("19:00", 16.0, "<0>", 0.5, "<0>")
]


def test_reserve_quarter_ends_at_its_time_and_four_make_an_hour(put):
    path = put(reserve(*GOOD_HOUR))
    record = read_hourly(path)
    assert record.hours.astype(str).tolist() == ["2012-01-26T18"]
    assert record.rain_mm.tolist() == [5.0]
    # The regular reading is the one that closes the hour; the extremes come from all four.
    assert (record.temperature_c[0], record.low_c[0], record.high_c[0]) == (16.0, 12.0, 16.0)
    assert record.humidity_pct.tolist() == [102]
    gauge = read_gauge(path)
    assert (str(gauge.start[0])[11:], gauge.total_mm, gauge.burst(15).low_mm) == ("18:00", 5.0, 1.5)


def test_reserve_marks_take_values_out_and_are_counted(put):
    rows = [("18:15", 12, "<0> (CRE)", 1.5, "<1> [SSM]"), ("18:30", 12, "<1> [SOC]", 2.0, "<-3> [SMT]"),
            ("18:45", "", "<-2> [GPD]", "", "<-2> [GPD]"), ("19:00", 12, "<0>", 0.5, "<0>")]  # fmt: skip
    record = read_gauge(put(reserve(*rows)))
    assert record.total_mm == 0.5
    assert record.flags.tolist() == [Flag.SUSPECT, Flag.SUSPECT, Flag.MISSING, Flag.OBSERVED]
    texts = [issue.text for issue in record.issues]
    assert any("1 suspect and 1 rejected values of rain (3.5 mm)" in text for text in texts)


def test_reserve_unknown_mark_and_repeated_quarter_are_told(put):
    rows = [("18:15", 12, "good", 1.5, "<0>"), ("18:15", 12, "<0>", 1.5, "<0>")]
    with pytest.raises(InputError) as caught:
        read_gauge(put(reserve(*rows)))
    assert {problem.line for problem in caught.value.problems} == {2, 3}


def test_reserve_record_by_days_needs_all_its_quarters(put):
    rows = [
        (f"{minute // 60:02d}:{minute % 60:02d}", 10, "<0>", 0.1, "<0>") for minute in range(15, 1440, 15)
    ]
    rows.append(("24:00", 12, "<0>", 0.1, "<0>"))
    daily = weather.read(put(reserve(*rows)))
    assert daily.rain_mm.tolist() == [pytest.approx(9.6)]
    assert daily.t_max_c.tolist() == [12]
    assert np.isnan(weather.read(put(reserve(*rows[1:]))).rain_mm).all()
