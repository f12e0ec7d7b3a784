"""Outlook beyond the plain forecast: a first day already begun, rain beyond its amounts, years that count more."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import forecast, outlook
from dooryard.weather.quantiles import quantiles, weighted_quantiles
from dooryard.weather.similar import weigh

ON = date(2004, 5, 20)


def record_of(put, warmth, rain):
    """A record from 2000 to the eve of ON whose days in year y have `warmth[y]` +- 5 degC and `rain[y]` mm."""
    lines = ["date,tmin_C,tmax_C,rain_mm"]
    for day in np.arange("2000-01-01", str(ON), dtype="datetime64[D]"):
        year = day.astype(object).year
        low, high = warmth[year] - 5, warmth[year] + 5
        lines.append(f"{day},{low},{high},{rain[year]}")
    return weather.read(put("\n".join(lines) + "\n"))


@pytest.fixture
def record(put):
    return record_of(
        put,
        warmth={2000: 10, 2001: 12, 2002: 14, 2003: 16, 2004: 12},
        rain={2000: 1, 2001: 2, 2002: 3, 2003: 4, 2004: 2},
    )


@pytest.fixture
def foretold(put):
    rows = "2004-05-20,,30,1\n2004-05-21,20,31,2\n2004-05-22,21,32,\n2004-05-23,22,33,\n"
    return forecast.read(put("date,tmin_C,tmax_C,rain_mm\n" + rows, "forecast.csv"))


def test_outlook_first_day_begun_when_the_forecast_was_made_is_lent_by_the_own_years(record, foretold):
    ahead = outlook.ahead(record, ON, forecast=foretold, days=10)
    assert ahead.forecast_days == 4
    assert ahead.t_max_c[:, 0].tolist() == [15, 17, 19, 21]
    assert ahead.t_min_c[:, 1].tolist() == [20] * 4
    assert ahead.rain_mm[:, 0].tolist() == [1] * 4
    assert any(issue.first == ON and "had begun" in issue.text for issue in ahead.issues)


def test_outlook_rain_past_the_amounts_of_a_forecast_is_that_of_the_own_years(record, foretold):
    ahead = outlook.ahead(record, ON, forecast=replace(foretold, rain_days=2), days=10)
    assert ahead.rain_mm[:, 2].tolist() == [1, 2, 3, 4]
    assert ahead.t_max_c[:, 2].tolist() == [32] * 4
    left_open = outlook.ahead(record, ON, forecast=foretold, days=10)
    assert np.isnan(left_open.rain_mm[:, 2]).all()


def test_outlook_weights_are_absent_unless_asked_for(record):
    ahead = outlook.ahead(record, ON, days=10)
    assert (ahead.weights, ahead.likeness) == (None, None)


def test_outlook_year_most_like_this_one_counts_most_and_says_why(record):
    ahead = outlook.ahead(record, ON, days=10, by_likeness=True)
    assert ahead.weights is not None
    assert ahead.weights.sum() == pytest.approx(1)
    assert ahead.years[int(np.argmax(ahead.weights))] == 2001
    assert ahead.weights[0] == pytest.approx(ahead.weights[2])  # both one step away, on either side
    assert ahead.weights[3] == ahead.weights.min()
    assert ahead.likeness is not None
    head, first, *_, last = ahead.likeness.reasons("metric")
    assert "out of 4" in head
    assert first.startswith("2001 counts")
    assert last.startswith("2003 counts")
    # 2003 was 4 degC warmer, and brought 2 mm a day more on 90 days.
    assert "4.0 °C warmer and 180 mm wetter" in last


def test_likeness_by_hand(record):
    found = weigh(record, ON, (2000, 2001, 2002, 2003))
    assert found is not None
    # Warmth 12; 10, 12, 14, 16: mean 12.8, spread sqrt(4.16). Rain 2; 1, 2, 3, 4: half of each, so as far apart.
    distance2 = np.array([4, 0, 4, 16]) / 4.16
    alike = np.exp(-distance2 / 2)
    assert found.weights == pytest.approx(0.5 / 4 + 0.5 * alike / alike.sum())
    assert found.counts_as == pytest.approx(1 / (found.weights**2).sum())


def test_likeness_of_years_that_are_all_the_same_leaves_all_alike(put):
    same = dict.fromkeys(range(2000, 2005), 12)
    found = weigh(record_of(put, same, same), ON, (2000, 2001, 2002, 2003))
    assert found is not None
    assert found.weights == pytest.approx([0.25] * 4)
    assert found.counts_as == pytest.approx(4)


def test_likeness_without_this_years_days_is_none(record):
    gone = record.until(date(2003, 12, 31))
    assert weigh(gone, ON, (2000, 2001)) is None


def test_outlook_share_and_points_count_members_by_weight(record):
    ahead = outlook.ahead(record, ON, days=10)
    weighted = replace(ahead, weights=np.array([0.1, 0.2, 0.3, 0.4]))
    happens = np.array([True, False, False, True])
    assert (ahead.share(happens), weighted.share(happens)) == pytest.approx((0.5, 0.5))
    assert weighted.share(np.array([False, False, False, True])) == pytest.approx(0.4)
    values = np.array([1.0, 2, 3, 4])
    assert ahead.quantiles(values, (0.5,)).tolist() == [2.5]
    assert weighted.quantiles(values, (0, 1)).tolist() == [1, 4]
    assert weighted.quantiles(values, (0.5,))[0] > 2.5


@pytest.mark.parametrize("count", [1, 2, 7, 40])
def test_quantiles_equal_numpys_and_equal_weights_change_nothing(count):
    values = np.random.default_rng(count).normal(size=(count, 3, 5))
    shares = (0.0, 0.1, 0.25, 0.5, 0.9, 1.0)
    expected = np.quantile(values, shares, axis=0)
    np.testing.assert_allclose(quantiles(values, shares), expected, rtol=1e-12)
    np.testing.assert_allclose(
        weighted_quantiles(values, np.full(count, 1 / count), shares), expected, rtol=1e-9
    )


def test_quantiles_leave_out_what_is_not_known():
    values = np.array([[1.0, np.nan], [np.nan, np.nan], [3.0, np.nan], [5.0, np.nan]])
    found = quantiles(values, (0.0, 0.5, 1.0))
    assert found[:, 0].tolist() == [1, 3, 5]
    assert np.isnan(found[:, 1]).all()
