"""The forecast file: units, ranges, and what is refused."""

from datetime import date

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.weather import forecast

HEAD = "date,tmin_F,tmax_F,rain_in,rain_low_in,rain_high_in,burst_in_h\n"


def test_forecast_with_range_and_burst(put):
    text = "# issued: 2031-05-20\n" + HEAD + "2031-05-20,50,59,2,1.2,3,1.5\n2031-05-21,41,50,T,,,\n"
    found = forecast.read(put(text, "forecast.csv"))
    assert (found.issued, found.source) == (date(2031, 5, 20), "forecast.csv")
    assert (found.t_min_c.tolist(), found.t_max_c.tolist()) == ([10, 5], [15, 10])
    assert found.rain_mm.tolist() == pytest.approx([50.8, 0])
    assert (found.rain_low_mm[0], found.rain_high_mm[0], found.burst_mm_h[0]) == pytest.approx(
        (30.48, 76.2, 38.1)
    )
    assert np.isnan([found.rain_low_mm[1], found.rain_high_mm[1], found.burst_mm_h[1]]).all()


def test_forecast_with_the_chance_of_rain(put):
    text = "date,tmin_F,tmax_F,rain_in,rain_chance_pct\n2031-05-20,50,59,0,60\n2031-05-21,50,59,0,\n"
    found = forecast.read(put(text, "forecast.csv"))
    assert found.rain_chance_pct[0] == 60
    assert np.isnan(found.rain_chance_pct[1])
    assert forecast.read(put("date,tmin_C,tmax_C,rain_mm\n2031-05-20,5,15,2\n")).rain_chance_pct is None


def test_forecast_without_the_optional_columns(put):
    found = forecast.read(put("date,tmin_C,tmax_C,rain_mm\n2031-05-20,5,15,2\n"))
    assert (found.issued, found.burst_mm_h) == (None, None)
    assert np.isnan(found.rain_low_mm).all()


@pytest.mark.parametrize(
    ("text", "word"),
    [
        (HEAD + "2031-05-20,60,59,0,0,0,\n", "lowest temperature is above"),
        (HEAD + "2031-05-20,50,59,2,2.5,3,\n", "low end of the rain is above"),
        (HEAD + "2031-05-20,50,59,2,1,1.5,\n", "rain is above the high end"),
        (HEAD + "2031-05-20,50,59,-1,,,\n", "below 0"),
        (HEAD + "2031-05-20,50,59,0,0,0,\n2031-05-22,50,59,0,0,0,\n", "not in the forecast"),
        ("# issued: May\n" + HEAD + "2031-05-20,50,59,0,0,0,\n", "no date"),
        (HEAD.replace("rain_low_in", "rain_low_ft") + "2031-05-20,50,59,0,0,0,\n", "not known here"),
        (HEAD + "2031-05-20,50,59,0,0,lots,\n", "no number"),
        ("date,tmin_F,tmax_F,rain_in,rain_chance_pct\n2031-05-20,50,59,0,101\n", "0 to 100"),
    ],
)
def test_forecast_that_cannot_be_is_refused(put, text, word):
    with pytest.raises(InputError) as caught:
        forecast.read(put(text))
    assert [word in problem.what for problem in caught.value.problems] == [True]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("2031-05-20,50,59,-1,,,", "the rain is below 0"),
        ("2031-05-20,50,59,1,-1,2,", "the low end of the rain is below 0"),
        ("2031-05-20,50,59,,,-2,", "the high end of the rain is below 0"),
        ("2031-05-20,50,59,1,,,-0.5", "the hardest rain is below 0"),
        ("2031-05-20,50,59,,3,2,", "the low end of the rain is above the high end"),
    ],
)
def test_forecast_amount_that_cannot_be_is_refused(put, row, said):
    with pytest.raises(InputError) as caught:
        forecast.read(put(HEAD + row + "\n", "forecast.csv"))
    assert said in str(caught.value)
