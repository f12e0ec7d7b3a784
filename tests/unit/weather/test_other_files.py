"""A file given to the wrong command is named for what it is, with the command it is for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import forecast

Put = Callable[..., Path]

DESIGN = "Point precipitation frequency estimates (inches)\nNOAA Atlas 14 Volume 2 Version 3\n"
RECORD = "STATION,DATE,PRCP,TMAX,TMIN\nUSC00150001,2031-05-01,0.0,20.5,10.5\n"


@pytest.mark.parametrize(
    ("text", "said", "way"),
    [
        ('{"properties": {"periods": []}}', "not a station's record", "weather forecast given.txt"),
        ("[1]", "not a station's record", "weather forecast given.txt"),
        ("# issued: 2031-05-20\ndate,tmin_F,tmax_F,rain_in\n2031-05-20,50,70,0\n", "a forecast", "plan YARD"),
        ("date,tmin_F,tmax_F,rain_in,rain_low_in\n2031-05-20,50,70,0,0\n", "a forecast", "plan YARD"),
        (DESIGN, "how hard it rains", 'design_rain = "given.txt"'),
    ],
    ids=["json", "list", "issued", "range", "design"],
)
def test_record_asked_of_another_kind_of_file_is_refused_with_the_way(
    put: Put, text: str, said: str, way: str
) -> None:
    with pytest.raises(InputError) as caught:
        weather.read(put(text, "given.txt"))
    (problem,) = caught.value.problems
    assert said in problem.what
    assert way in problem.instead


@pytest.mark.parametrize(
    ("text", "said", "way"),
    [
        (DESIGN, "how hard it rains", "design_rain"),
        (RECORD, "a station's record", "weather look given.txt"),
        ("Dear neighbour, it rained.\n", "no forecast in a layout", "date,tmin_F"),
    ],
    ids=["design", "record", "letter"],
)
def test_forecast_asked_of_another_kind_of_file_is_refused_with_the_way(
    put: Put, text: str, said: str, way: str
) -> None:
    with pytest.raises(InputError) as caught:
        forecast.read(put(text, "given.txt"))
    (problem,) = caught.value.problems
    assert said in problem.what
    assert way in problem.instead


def test_forecast_longer_than_any_is_taken_for_a_record(put: Put) -> None:
    days = [f"{date(2031, 1, 1) + timedelta(days=step)},50,70,0" for step in range(61)]
    text = "\n".join(["date,tmin_F,tmax_F,rain_in", *days]) + "\n"
    with pytest.raises(InputError, match="61 days, and no forecast reaches farther than 60"):
        forecast.read(put(text, "long.csv"))
    assert len(weather.read(put(text, "long.csv")).dates) == 61
