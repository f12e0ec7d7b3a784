"""A reading at seven in the morning belongs to the day before; which value moves depends on what it holds."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag
from dooryard.weather.day_boundary import belongs_to_the_day_before, parse_hour

ROWS = "2031-05-02,5,20,0.0\n2031-05-03,6,21,8.0\n2031-05-04,7,22,3.0\n"


@pytest.mark.parametrize(
    ("text", "hour"),
    [
        ("07:00", 7.0), ("7:30", 7.5), ("0700", 7.0), ("2400", 24.0), ("7 am", 7.0), ("6pm", 18.0),
        ("12 am", 0.0), ("12 pm", 12.0), ("midnight", 24.0), ("9", 9.0), ("25:00", None), ("13 pm", None),
        ("dawn", None), ("7:75", None),
    ],
)  # fmt: skip
def test_hour_is_read_as_people_write_it(text, hour):
    assert parse_hour(text) == hour


@pytest.mark.parametrize(
    ("hour", "moved"),
    [
        (0.0, {"rain_mm", "t_max_c", "t_min_c"}),
        (7.0, {"rain_mm", "t_max_c"}),
        (9.0, {"rain_mm", "t_max_c"}),
        (14.0, {"t_max_c"}),
        (17.0, set()),
        (24.0, set()),
    ],
)
def test_value_moves_if_most_of_what_it_holds_was_the_day_before(hour, moved):
    elements = ("rain_mm", "t_max_c", "t_min_c")
    found = {name for name in elements if belongs_to_the_day_before(name, np.array(hour))}
    assert found == moved


def test_gauge_read_at_seven_has_its_rain_on_the_day_before(put):
    record = weather.read(put("# rain day ends: 07:00\ndate,tmin_C,tmax_C,rain_mm\n" + ROWS))
    assert str(record.first) == "2031-05-01"
    assert np.array_equal(record.rain_mm, [0.0, 8.0, 3.0, np.nan], equal_nan=True)
    assert np.array_equal(record.t_max_c, [np.nan, 20, 21, 22], equal_nan=True)
    issue = next(issue for issue in record.issues if issue.kind == "day boundary")
    assert "07:00" in issue.text
    assert "rain" in issue.text


def test_station_read_at_seven_moves_rain_and_highest_but_not_lowest(put):
    record = weather.read(put("# day ends: 7 am\ndate,tmin_C,tmax_C,rain_mm\n" + ROWS))
    assert np.array_equal(record.rain_mm, [0.0, 8.0, 3.0, np.nan], equal_nan=True)
    assert np.array_equal(record.t_max_c, [20, 21, 22, np.nan], equal_nan=True)
    assert np.array_equal(record.t_min_c, [np.nan, 5, 6, 7], equal_nan=True)
    assert record.flags["rain_mm"].tolist() == [Flag.OBSERVED] * 3 + [Flag.MISSING]


def test_day_that_ends_in_the_evening_moves_nothing(put):
    record = weather.read(put("# day ends: 18:00\ndate,tmin_C,tmax_C,rain_mm\n" + ROWS))
    assert record.rain_mm.tolist() == [0.0, 8.0, 3.0]
    assert not [issue for issue in record.issues if issue.kind == "day boundary"]


def test_hour_of_the_day_may_be_said_when_reading(put):
    path = put("date,rain_mm\n2031-05-02,8\n")
    assert str(weather.read(path, day_ends="07:00").first) == "2031-05-01"
    assert str(weather.read(path, day_ends="24:00").first) == "2031-05-02"


def test_hour_that_is_none_is_told(faults_of):
    (problem,) = faults_of("# day ends: dawn\ndate,rain_mm\n2031-05-02,8\n")
    assert (problem.field, problem.found) == ("day ends", "dawn")


def coop(*rows):
    """Daily summaries of a volunteer station: rain in tenths of mm with the hour of reading."""
    lines = [f'X1,2031-05-{day:02d},{rain},",,7,{hour}",200,100' for day, rain, hour in rows]
    return "STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN\n" + "\n".join(lines) + "\n"


def test_hour_of_reading_beside_each_value_moves_the_morning_ones(put):
    text = coop((2, 0, "0700"), (3, 80, "0700"), (4, 30, "0700"))
    record = weather.read(put(text), "daily-summaries-tenths")
    assert str(record.first) == "2031-05-01"
    assert np.array_equal(record.rain_mm, [0.0, 8.0, 3.0, np.nan], equal_nan=True)
    assert np.array_equal(record.t_max_c, [np.nan, 20, 20, 20], equal_nan=True)


def test_change_from_evening_to_morning_makes_a_total_of_the_shared_day(put):
    text = coop((2, 10, "1700"), (3, 20, "1700"), (4, 30, "0700"), (5, 40, "0700"))
    record = weather.read(put(text), "daily-summaries-tenths")
    # 3 May holds a value read that evening and one read the next morning.
    assert np.array_equal(record.rain_mm, [1.0, np.nan, 4.0, np.nan], equal_nan=True)
    assert record.flags["rain_mm"][1] == Flag.ACCUMULATED
    assert "hour of reading changed" in next(i.text for i in record.issues if i.kind == "day boundary")


def test_change_from_morning_to_evening_makes_a_total_of_two_days(put):
    text = coop((2, 10, "0700"), (3, 20, "0700"), (4, 30, "1700"), (5, 40, "1700"))
    record = weather.read(put(text), "daily-summaries-tenths")
    # The reading of 4 May, evening, reaches back to 3 May, morning: over 3 and 4 May.
    assert np.array_equal(record.rain_mm, [1.0, 2.0, np.nan, np.nan, 4.0], equal_nan=True)
    assert record.flags["rain_mm"][2:4].tolist() == [Flag.ACCUMULATED] * 2


def test_total_over_days_read_in_the_morning_moves_with_them(put):
    text = "STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN,MDPR,MDPR_ATTRIBUTES,DAPR\n"
    text += 'X1,2031-05-02,10,",,7,0700",200,100,,,\n'
    text += "X1,2031-05-03,,,200,100,,,\nX1,2031-05-04,,,200,100,,,\n"
    text += 'X1,2031-05-05,,,200,100,90,",,7,0700",3\n'
    record = weather.read(put(text), "daily-summaries-tenths")
    assert [Flag(code).name for code in record.flags["rain_mm"]] == [
        "OBSERVED",
        *["ACCUMULATED"] * 3,
        "MISSING",
    ]
