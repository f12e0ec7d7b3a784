"""Clocks with summer time, put into standard time: the repeated hour, the skipped one, and what is not known."""

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather.clock import STANDARD, at_longitude, fixed_offset, from_offsets, to_standard
from dooryard.weather.opening import Faults
from dooryard.weather.times import parse_times


def minutes(*texts):
    return np.array(texts, dtype="datetime64[m]")


def moved(clock, *texts):
    """Standard times of what the clock showed, its offset, the kinds of issue, and the faults."""
    faults = Faults("a.csv")
    standard = to_standard(minutes(*texts), clock, range(2, 2 + len(texts)), faults)
    return [str(time)[5:] for time in standard.times], standard, faults.problems


def test_summer_hours_are_put_back_by_one_and_winter_hours_stay():
    times, standard, faults = moved("America/Chicago", "2031-01-15T12:00", "2031-07-15T12:00")
    assert times == ["01-15T12:00", "07-15T11:00"]
    assert (standard.offset_h, standard.issues, faults) == (-6.0, (), [])


def test_south_of_the_equator_standard_time_is_the_winter_s():
    times, standard, _ = moved("Australia/Sydney", "2025-01-15T12:00", "2025-07-15T12:00")
    assert times == ["01-15T11:00", "07-15T12:00"]
    assert standard.offset_h == 10.0


def test_repeated_hour_is_told_apart_by_the_order_of_the_lines():
    shown = [f"2015-11-01T{clock}" for clock in ("00:30", "01:00", "01:30", "01:00", "01:30", "02:00")]
    times, standard, faults = moved("America/Chicago", *shown)
    clocks = ("10-31T23:30", "11-01T00:00", "11-01T00:30", "11-01T01:00", "11-01T01:30", "11-01T02:00")
    assert times == list(clocks)
    assert [issue.kind for issue in standard.issues] == ["clock"]
    assert faults == []


def test_repeated_hour_in_a_shuffled_file_takes_the_second_line_for_the_later():
    shown = [f"2015-11-01T{clock}" for clock in ("01:30", "01:00", "01:30", "01:15", "01:00", "01:15")]
    times, _, _ = moved("America/Chicago", *shown)
    assert times == [f"11-01T{clock}" for clock in ("00:30", "00:00", "01:30", "00:15", "01:00", "01:15")]


def test_repeated_hour_that_stands_once_is_taken_for_the_first_and_told():
    times, standard, _ = moved("America/Chicago", "2015-11-01T00:00", "2015-11-01T01:00", "2015-11-01T02:00")
    assert times == ["10-31T23:00", "11-01T00:00", "11-01T02:00"]
    assert "stands in the file once" in standard.issues[0].text


def test_skipped_hour_is_a_fault_with_its_line():
    _, _, faults = moved("America/New_York", "2013-03-10T01:00", "2013-03-10T02:00", "2013-03-10T03:00")
    assert [(fault.line, fault.found) for fault in faults] == [(3, "2013-03-10 02:00")]
    assert "UTC-6" in faults[0].instead


def test_hour_after_the_skipped_one_follows_without_a_hole():
    times, _, _ = moved("America/New_York", "2013-03-10T01:00", "2013-03-10T03:00")
    assert times == ["03-10T01:00", "03-10T02:00"]


def test_standard_and_fixed_clocks_leave_the_times_alone():
    for clock, offset in ((STANDARD, None), ("UTC-5", -5.0), ("EST", -5.0)):
        times, standard, _ = moved(clock, "2031-07-15T12:00")
        assert (times, standard.offset_h) == (["07-15T12:00"], offset)


@pytest.mark.parametrize(
    ("clock", "hours"),
    [("UTC", 0), ("utc+5:30", 5.5), ("GMT-3", -3), ("CDT", -5), ("America/Chicago", None), ("noon", None)],
)
def test_fixed_clocks_are_known_by_their_names(clock, hours):
    assert fixed_offset(clock) == hours


def test_unknown_clock_says_what_to_write():
    with pytest.raises(InputError, match="America/Chicago"):
        moved("Mars/Olympus", "2031-07-15T12:00")


def test_offsets_in_the_rows_settle_the_repeated_hour():
    local = minutes("2013-11-03T01:00", "2013-11-03T01:00")
    standard = from_offsets(local, np.array([-4.0, -5.0]))
    assert standard.times.astype(str).tolist() == ["2013-11-03T00:00", "2013-11-03T01:00"]
    assert standard.offset_h == -5.0


def test_utc_is_moved_by_the_longitude_and_told_if_there_is_none():
    moved_times = at_longitude(minutes("2031-05-20T03:00"), -84.6)
    assert str(moved_times.times[0]) == "2031-05-19T21:00"
    stays = at_longitude(minutes("2031-05-20T03:00"), None)
    assert str(stays.times[0]) == "2031-05-20T03:00"
    assert "midnight UTC" in stays.issues[0].text


@pytest.mark.parametrize(
    ("text", "time", "offset"),
    [
        ("2031-05-20 14:05", "2031-05-20T14:05", None),
        ("2031-05-20T14:05:59Z", "2031-05-20T14:05", 0),
        ("2031-05-20 14:05-0530", "2031-05-20T14:05", -5.5),
        ("2031-05-20 24:00", "2031-05-21T00:00", None),
        ("2031-5-2 7:05", "2031-05-02T07:05", None),
        ("20310520 1405", "2031-05-20T14:05", None),
        ("5/20/2031 2:05 PM", "2031-05-20T14:05", None),
        ("20/5/2031 12:05 am", "2031-05-20T00:05", None),
    ],
)
def test_time_is_read_as_it_may_be_written(text, time, offset):
    times, offsets = parse_times([text], [2], Faults("a.csv"))
    assert str(times[0]) == time
    assert offsets[0] == offset or (offset is None and np.isnan(offsets[0]))


@pytest.mark.parametrize(
    "text", ["2031-05-20", "2031-02-30 10:00", "2031-05-20 25:00", "2031-05-20 10:61", "x", ""]
)
def test_time_that_is_none_is_told_with_its_line(text):
    faults = Faults("a.csv")
    times, _ = parse_times([text], [7], faults)
    assert np.isnat(times[0])
    assert [problem.line for problem in faults.problems] == [7]


def test_month_and_day_of_slashed_times_are_told_apart_by_the_sequence():
    texts = [f"{day}/6/2031 10:00" for day in (3, 4, 5)]
    times, _ = parse_times(texts, [1, 2, 3], Faults("a.csv"))
    assert times.astype(str).tolist() == ["2031-06-03T10:00", "2031-06-04T10:00", "2031-06-05T10:00"]
    faults = Faults("a.csv")
    parse_times(["3/6/2031 10:00"], [1], faults)
    assert len(faults.problems) == 1
