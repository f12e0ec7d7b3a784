"""Period forecasts: nights belong to the morning they end on, winds are words, blank answers are refused."""

import json

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather import forecast
from dooryard.weather.readers.forecast_periods import parse_wind


def period(start, end, daytime, degrees, **more):
    return {"startTime": f"{start}:00:00-05:00", "endTime": f"{end}:00:00-05:00", "isDaytime": daytime,
            "temperature": degrees, "temperatureUnit": "F", "windSpeed": "10 mph", **more}  # fmt: skip


def answer(*periods, made="2031-05-20T15:00:00+00:00"):
    return json.dumps({"properties": {"updateTime": made, "periods": list(periods)}})


AFTERNOON = period("2031-05-20T14", "2031-05-20T18", True, 86)
TONIGHT = period("2031-05-20T18", "2031-05-21T06", False, 59)
WEDNESDAY = period("2031-05-21T06", "2031-05-21T18", True, 77)
NEXT_NIGHT = period("2031-05-21T18", "2031-05-22T06", False, 50)


def test_periods_night_gives_the_lowest_of_the_day_it_ends_on(put):
    found = forecast.read(put(answer(AFTERNOON, TONIGHT, WEDNESDAY, NEXT_NIGHT), "f.json"))
    assert [str(day) for day in found.dates] == ["2031-05-20", "2031-05-21", "2031-05-22"]
    assert found.t_max_c[:2].tolist() == pytest.approx([30, 25])
    assert found.t_min_c[1:].tolist() == pytest.approx([15, 10])
    assert np.isnan([found.t_min_c[0], found.t_max_c[2]]).all()
    assert (found.layout, found.rain_days) == ("periods", 0)
    assert np.isnan(found.rain_mm).all()
    assert any("No amount of rain" in issue.text for issue in found.issues)


def test_periods_wind_of_a_day_is_the_mean_over_its_hours(put):
    calm = TONIGHT | {"windSpeed": "0 to 10 mph"}
    found = forecast.read(put(answer(AFTERNOON, calm, WEDNESDAY, NEXT_NIGHT), "f.json"))
    assert found.wind_m_s is not None
    assert found.gust_m_s is not None
    # 21 May: 6 hours at the middle of 0 to 10 mph, 18 hours at 10 mph.
    assert found.wind_m_s[1] == pytest.approx((6 * 5 + 18 * 10) / 24 * 0.44704)
    assert found.gust_m_s[1] == pytest.approx(4.4704)


def test_periods_chance_of_a_night_counts_for_both_its_days(put):
    wet = TONIGHT | {"probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 60}}
    dry = WEDNESDAY | {"probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": None}}
    found = forecast.read(put(answer(AFTERNOON, wet, dry), "f.json"))
    assert found.rain_chance_pct is not None
    assert found.rain_chance_pct.tolist() == [60, 60]


def test_periods_temperature_with_its_unit_inside_is_read_as_well(put):
    newer = WEDNESDAY | {"temperature": {"unitCode": "wmoUnit:degC", "value": 25},
                         "windSpeed": {"unitCode": "wmoUnit:km_h-1", "minValue": 9, "maxValue": 18}}  # fmt: skip
    del newer["temperatureUnit"]
    found = forecast.read(put(answer(AFTERNOON, TONIGHT, newer), "f.json"))
    assert found.t_max_c[1] == pytest.approx(25)
    assert found.gust_m_s is not None
    assert found.gust_m_s[1] == pytest.approx(5)


def test_hourly_periods_give_the_extremes_of_whole_days(put):
    hours = [
        period(f"2031-05-{20 + hour // 24}T{hour % 24:02}", f"2031-05-{20 + (hour + 1) // 24}T{(hour + 1) % 24:02}",
               6 <= hour % 24 < 18, 50 + hour % 24)
        for hour in range(4, 50)
    ]  # fmt: skip
    found = forecast.read(put(answer(*hours), "f.json"))
    assert found.layout == "hours"
    assert [str(day) for day in found.dates] == ["2031-05-20", "2031-05-21"]
    assert found.t_min_c.tolist() == pytest.approx([(54 - 32) / 1.8, 10])
    assert found.t_max_c.tolist() == pytest.approx([(73 - 32) / 1.8] * 2)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("5 to 10 mph", 5 * 0.44704, 10 * 0.44704),
        ("10 mph", 4.4704, 4.4704),
        ("18 km/h", 5, 5),
        ("0 mph", 0, 0),
    ],
)
def test_wind_words_are_understood(text, low, high):
    assert parse_wind(text) == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("text", "word"),
    [
        (answer(dict.fromkeys(AFTERNOON)), "every period in it is blank"),
        (answer(AFTERNOON | {"windSpeed": "breezy"}), "no wind speed"),
        (answer(AFTERNOON | {"temperatureUnit": "R"}), "unit that is not known"),
        (answer(AFTERNOON | {"startTime": "2031-05-20T14:00:00"}), "Universal Time"),
        (answer(AFTERNOON | {"endTime": "2031-05-20T14:00:00-05:00"}), "whole hours"),
        (answer(TONIGHT, AFTERNOON), "begins before"),
    ],
)
def test_periods_that_cannot_be_are_refused(put, text, word):
    with pytest.raises(InputError) as caught:
        forecast.read(put(text, "f.json"))
    assert word in caught.value.problems[0].what


def test_periods_with_a_zone_that_is_none_are_refused_too(put):
    """They have a clock of their own, but a slip of the pen should not pass for a zone."""
    with pytest.raises(InputError, match="time zone is not known"):
        forecast.read(put('{"properties": {"periods": []}}', "periods.json"), zone="Mars/Olympus")
