"""Intervals of rain: days, hours and bursts from them, and what a hole or a total does to each."""

import numpy as np
import pytest

from dooryard.weather import Flag, Source, Station
from dooryard.weather.gauge import in_order
from dooryard.weather.subdaily_quality import examine_gauge, most_rain_mm

NAN = float("nan")


def gauge(*rows, **more):
    """A record of (start, minutes, depth, flag) rows; the flag may be left out."""
    start, minutes, depth, *_ = zip(*(row[:3] for row in rows), strict=True)
    flags = np.array([row[3] if len(row) > 3 else Flag.OBSERVED for row in rows], dtype=np.uint8)
    return in_order(
        Station("A"),
        np.array(start, dtype="datetime64[m]"),
        np.array(minutes),
        np.array(depth, dtype=float),
        flags,
        (),
        Source("a.csv", "made here"),
        **more,
    )


def days(record):
    return {
        str(day): (None if np.isnan(rain) else round(float(rain), 6), Flag(int(flag)).name)
        for day, rain, flag in zip(record.dates, record.rain_mm, record.flags["rain_mm"], strict=True)
    }


def test_day_is_the_sum_of_its_intervals_and_needs_all_of_them():
    whole = [(f"2031-05-01T{hour:02d}:00", 60, 0.5) for hour in range(24)]
    part = [(f"2031-05-02T{hour:02d}:00", 60, 1.0) for hour in range(23)]
    daily = gauge(*whole, *part).to_daily()
    assert days(daily) == {"2031-05-01": (12.0, "OBSERVED")}
    again = gauge(*whole, *part, ("2031-05-03T00:00", 1440, 2.0)).to_daily()
    assert days(again) == {
        "2031-05-01": (12.0, "OBSERVED"),
        "2031-05-02": (None, "MISSING"),
        "2031-05-03": (2.0, "OBSERVED"),
    }
    assert [(issue.kind, issue.days) for issue in again.issues] == [("missing", 1)]
    assert "23.0 mm" in again.issues[0].text


def test_allowed_missing_minutes_let_a_day_pass():
    record = gauge(("2031-05-01T00:00", 1400, 3.0))
    assert days(record.to_daily()) == {"2031-05-01": (None, "MISSING")}
    assert days(record.to_daily(allowed_missing_min=40)) == {"2031-05-01": (3.0, "OBSERVED")}


def test_total_over_several_days_is_never_spread():
    daily = gauge(("2031-05-01T00:00", 3 * 1440, 30.0), ("2031-05-04T00:00", 1440, 1.0)).to_daily()
    assert days(daily) == {
        "2031-05-01": (None, "ACCUMULATED"),
        "2031-05-02": (None, "ACCUMULATED"),
        "2031-05-03": (None, "ACCUMULATED"),
        "2031-05-04": (1.0, "OBSERVED"),
    }
    assert "not spread" in daily.issues[-1].instead


def test_total_of_nothing_is_nothing_on_each_day_but_estimated():
    daily = gauge(("2031-05-01T00:00", 2 * 1440, 0.0), ("2031-05-03T00:00", 2880, 0.0, Flag.TRACE)).to_daily()
    assert list(days(daily).values()) == [(0.0, "ESTIMATED")] * 2 + [(0.0, "TRACE")] * 2


def test_day_of_a_morning_gauge_is_the_day_before_and_of_an_evening_gauge_the_same():
    morning = gauge(("2031-05-01T07:00", 1440, 5.0), day_begins_h=7).to_daily()
    evening = gauge(("2031-05-01T18:00", 1440, 5.0), day_begins_h=18).to_daily()
    assert days(morning) == {"2031-05-01": (5.0, "OBSERVED")}
    assert days(evening) == {"2031-05-02": (5.0, "OBSERVED")}


def test_short_interval_across_midnight_goes_where_most_of_it_lies():
    rows = [("2031-05-01T00:00", 1435, 0.0), ("2031-05-01T23:55", 15, 2.0), ("2031-05-02T00:10", 1430, 0.0)]
    assert days(gauge(*rows).to_daily()) == {
        "2031-05-01": (0.0, "OBSERVED"),
        "2031-05-02": (2.0, "OBSERVED"),
    }


def test_missing_suspect_and_trace_intervals_mark_their_day():
    rows = [
        ("2031-05-01T00:00", 720, 1.0),
        ("2031-05-01T12:00", 720, NAN, Flag.SUSPECT),
        ("2031-05-02T00:00", 720, 0.0, Flag.TRACE),
        ("2031-05-02T12:00", 720, 0.0),
        ("2031-05-03T00:00", 1440, 0.2, Flag.ESTIMATED),
    ]
    assert list(days(gauge(*rows).to_daily()).values()) == [
        (None, "SUSPECT"),
        (0.0, "TRACE"),
        (0.2, "ESTIMATED"),
    ]


def test_dry_between_counts_what_is_absent_as_dry_and_says_so_by_its_flag():
    record = gauge(
        ("2031-05-01T14:00", 5, 1.0),
        ("2031-05-03T14:00", 5, 2.0),
        dry_between=True,
        first=np.datetime64("2031-05-01T00:00"),
        last=np.datetime64("2031-05-04T00:00"),
    )
    assert list(days(record.to_daily()).values()) == [
        (1.0, "OBSERVED"),
        (0.0, "ESTIMATED"),
        (2.0, "OBSERVED"),
    ]


def test_hours_need_every_minute():
    record = gauge(
        ("2031-05-01T10:00", 15, 1.0), ("2031-05-01T10:15", 45, 0.5), ("2031-05-01T11:00", 30, 9.0),
        ("2031-05-01T12:00", 60, 0.0),
    )  # fmt: skip
    hours, rain, flags = record.to_hourly()
    assert hours.astype(str).tolist() == ["2031-05-01T10", "2031-05-01T11", "2031-05-01T12"]
    assert np.array_equal(rain, [1.5, NAN, 0.0], equal_nan=True)
    assert flags.tolist() == [Flag.OBSERVED, Flag.MISSING, Flag.OBSERVED]


def test_burst_spans_the_steps_that_hold_it_and_brackets_the_truth():
    """Four steps of 15 min with 1, 4, 3 and 0 mm: any 15 min at least 4 (one step), at most 7 (two it may touch)."""
    rows = [
        (f"2031-05-01T10:{minute:02d}", 15, depth) for minute, depth in ((0, 1), (15, 4), (30, 3), (45, 0))
    ]
    record = gauge(*rows)
    quarter, half = record.burst(15), record.burst(30)
    assert (quarter.low_mm, quarter.high_mm, str(quarter.start)) == (4.0, 7.0, "2031-05-01T10:15")
    assert (half.low_mm, half.high_mm) == (7.0, 8.0)
    assert (quarter.low_mm_h, quarter.high_mm_h) == (16.0, 28.0)
    # A window shorter than a step holds its share for certain and all of two steps at the most.
    assert (record.burst(5).low_mm, record.burst(5).high_mm) == (pytest.approx(4 / 3), 7.0)


def test_burst_does_not_reach_over_a_hole_and_knows_no_rain_without_a_value():
    apart = gauge(("2031-05-01T10:00", 15, 4.0), ("2031-05-01T12:00", 15, 3.0), ("2031-05-01T13:00", 15, NAN))
    assert apart.burst(60).low_mm == 4.0
    assert np.isnan(gauge(("2031-05-01T10:00", 15, NAN)).burst(15).low_mm)


def test_burst_of_a_year_tells_how_much_of_it_was_measured():
    record = gauge(("2031-12-31T12:00", 720, 12.0), ("2032-01-01T00:00", 366 * 1440, 366.0))
    first, second = record.yearly_bursts(720)
    assert (first.year, first.burst.low_mm, first.covered) == (2031, 12.0, pytest.approx(0.5 / 365))
    assert (second.year, second.covered) == (2032, 1.0)


def test_total_counts_what_no_day_may_use():
    record = gauge(
        ("2031-05-01T00:00", 2880, 30.0), ("2031-05-03T00:00", 15, 1.0), ("2031-05-03T00:15", 15, NAN)
    )
    assert record.total_mm == 31.0


def test_overlapping_intervals_are_our_own_fault():
    with pytest.raises(ValueError, match="overlap"):
        gauge(("2031-05-01T10:00", 30, 1.0), ("2031-05-01T10:15", 30, 1.0))


def test_depth_beyond_any_rain_on_record_is_refused():
    record = examine_gauge(gauge(("2031-05-01T10:00", 15, 400.0), ("2031-05-01T10:15", 15, -1.0)))
    assert np.isnan(record.depth_mm).all()
    assert record.flags.tolist() == [Flag.SUSPECT, Flag.SUSPECT]
    assert "2 intervals" in record.issues[0].text


@pytest.mark.parametrize(
    ("place", "minutes", "depth_mm"),
    [
        ("Unionville, Maryland, 1956", 1, 31.2),
        ("Curtea de Arges, Romania, 1889", 20, 206),
        ("Holt, Missouri, 1947", 42, 305),
        ("Foc-Foc, La Reunion, 1966", 1440, 1825),
    ],
)
def test_greatest_rains_on_record_would_not_be_refused(place, minutes, depth_mm):
    """Depths as meteorological handbooks list them (recalled)."""
    assert depth_mm < float(most_rain_mm(minutes)) < 3 * depth_mm, place
