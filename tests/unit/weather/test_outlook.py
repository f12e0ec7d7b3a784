"""The outlook: which days of which year stand where, what is left out, and where the forecast ends."""

from datetime import date

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import forecast as forecast_file
from dooryard.weather import outlook


@pytest.fixture
def record_of(put):
    """A record whose lowest temperature tells the day: 100 units of hundredths, counted within its span."""

    def make(first, last, no_temperature=(), no_rain=()):
        days = np.arange(first, np.datetime64(last) + 1, dtype="datetime64[D]")
        lines = []
        for day in days:
            text = str(day)
            ordinal = (day - np.datetime64("2000-01-01")).astype(int) / 1000
            low = "" if text in no_temperature else f"{ordinal:.3f}"
            high = "" if text in no_temperature else f"{ordinal + 10:.3f}"
            lines.append(f"{text},{low},{high},{'' if text in no_rain else day.astype(object).day}\n")
        return weather.read(put("date,tmin_C,tmax_C,rain_mm\n" + "".join(lines)))

    return make


def shown_day(value):
    """The day a lowest temperature of `record_of` stands for."""
    return str(np.datetime64("2000-01-01") + round(value * 1000))


def test_outlook_members_are_the_days_from_the_same_calendar_day(record_of):
    ahead = outlook.ahead(record_of("2000-01-01", "2003-05-19"), date(2003, 5, 20), days=30)
    assert ahead.years == (2000, 2001, 2002)
    assert (ahead.t_min_c.shape, ahead.dates[0], ahead.dates[-1]) == (
        (3, 30),
        np.datetime64("2003-05-20"),
        np.datetime64("2003-06-18"),
    )
    assert [shown_day(value) for value in ahead.t_min_c[:, 0]] == ["2000-05-20", "2001-05-20", "2002-05-20"]
    assert [shown_day(value) for value in ahead.t_min_c[:, -1]] == ["2000-06-18", "2001-06-18", "2002-06-18"]
    assert ahead.rain_mm[1, :3].tolist() == [20, 21, 22]


def test_outlook_of_a_whole_year_ends_the_day_before_the_day_asked(record_of):
    ahead = outlook.ahead(record_of("2000-01-01", "2003-05-19"), date(2003, 5, 20))
    assert ahead.t_min_c.shape == (3, 365)
    assert shown_day(ahead.t_min_c[-1, -1]) == "2003-05-19"


def test_outlook_window_that_would_reach_the_day_asked_is_left_out(record_of):
    ahead = outlook.ahead(record_of("2000-06-01", "2003-05-19"), date(2003, 5, 20), days=366)
    assert ahead.years == (2001,)
    assert [year for year, _ in ahead.excluded] == [2000, 2002]


def test_outlook_never_looks_at_days_from_the_day_asked_on(record_of):
    short = record_of("2000-01-01", "2003-05-19")
    longer = record_of("2000-01-01", "2004-12-31")
    a, b = (outlook.ahead(record, date(2003, 5, 20), days=100) for record in (short, longer))
    assert a.years == b.years
    assert np.array_equal(a.t_min_c, b.t_min_c)


def test_outlook_29_february_starts_on_1_march_where_there_is_none(record_of):
    ahead = outlook.ahead(record_of("2000-01-01", "2004-02-28"), date(2004, 2, 29), days=10)
    assert [shown_day(value) for value in ahead.t_min_c[:, 0]] == [
        "2000-02-29",
        "2001-03-01",
        "2002-03-01",
        "2003-03-01",
    ]


def test_outlook_across_29_february_drops_and_invents_no_day(record_of):
    ahead = outlook.ahead(record_of("2000-01-01", "2004-02-26"), date(2004, 2, 27), days=5)
    assert [shown_day(value) for value in ahead.t_min_c[0]][2:4] == ["2000-02-29", "2000-03-01"]
    assert [shown_day(value) for value in ahead.t_min_c[1]][1:3] == ["2001-02-28", "2001-03-01"]


def test_outlook_short_temperature_gap_is_bridged_by_a_line_and_counted(record_of):
    gap = ["2001-05-22", "2001-05-23", "2001-05-24"]
    ahead = outlook.ahead(
        record_of("2000-01-01", "2003-05-19", no_temperature=gap), date(2003, 5, 20), days=30
    )
    # The temperature of `record_of` rises evenly, so a straight line must give each day its own value back.
    assert [shown_day(value) for value in ahead.t_min_c[1, 1:6]] == ["2001-05-21", *gap, "2001-05-25"]
    issue = next(issue for issue in ahead.issues if issue.days)
    assert (issue.days, "1 of 3" in issue.text) == (3, True)


def test_outlook_long_temperature_gap_leaves_out_that_year_and_names_it(record_of):
    gap = [f"2001-05-{day}" for day in (22, 23, 24, 25)]
    ahead = outlook.ahead(
        record_of("2000-01-01", "2003-05-19", no_temperature=gap), date(2003, 5, 20), days=30
    )
    assert ahead.years == (2000, 2002)
    assert [(year, reason[:6]) for year, reason in ahead.excluded] == [(2001, "4 days")]


def test_outlook_rain_keeps_its_gaps(record_of):
    ahead = outlook.ahead(
        record_of("2000-01-01", "2003-05-19", no_rain=["2001-05-21"]), date(2003, 5, 20), days=30
    )
    assert ahead.years == (2000, 2001, 2002)
    assert np.argwhere(np.isnan(ahead.rain_mm)).tolist() == [[1, 1]]


def test_outlook_rain_gauge_without_thermometer_still_has_futures(put):
    days = np.arange("2000-01-01", "2003-05-20", dtype="datetime64[D]").astype(str)
    record = weather.read(put("date,rain_mm\n" + "".join(f"{day},1\n" for day in days)))
    ahead = outlook.ahead(record, date(2003, 5, 20), days=30)
    assert (ahead.years, np.isnan(ahead.t_min_c).all()) == ((2000, 2001, 2002), True)


def test_outlook_without_a_past_year_has_no_member_and_says_so(record_of):
    ahead = outlook.ahead(record_of("2003-01-01", "2003-05-19"), date(2003, 5, 20), days=30)
    assert (ahead.years, ahead.t_min_c.shape) == ((), (0, 30))
    assert any("No past year" in issue.text for issue in ahead.issues)


def foretold(put, first, rows, issued=""):
    head = f"# issued: {issued}\n" if issued else ""
    days = (np.datetime64(first) + np.arange(len(rows))).astype(str)
    text = (
        head
        + "date,tmin_C,tmax_C,rain_mm\n"
        + "".join(f"{day},{row}\n" for day, row in zip(days, rows, strict=True))
    )
    return forecast_file.read(put(text, "forecast.csv"))


def test_outlook_forecast_comes_first_and_is_the_same_in_every_member(put, record_of):
    record = record_of("2000-01-01", "2003-05-19")
    ahead = outlook.ahead(
        record, date(2003, 5, 20), forecast=foretold(put, "2003-05-20", ["1,2,3", "4,5,"]), days=30
    )
    assert ahead.forecast_days == 2
    assert ahead.t_min_c[:, :2].tolist() == [[1, 4]] * 3
    assert np.isnan(ahead.rain_mm[:, 1]).all()
    assert [shown_day(value) for value in ahead.t_min_c[:, 2]] == ["2000-05-22", "2001-05-22", "2002-05-22"]


def test_outlook_forecast_days_of_the_past_are_passed_over(put, record_of):
    forecast = foretold(put, "2003-05-18", ["1,2,3", "4,5,6", "7,8,9"], issued="2003-05-18")
    ahead = outlook.ahead(
        record_of("2000-01-01", "2003-05-19"), date(2003, 5, 20), forecast=forecast, days=30
    )
    assert (ahead.forecast_days, ahead.t_max_c[0, 0]) == (1, 8)
    assert any("2003-05-18" in issue.text for issue in ahead.issues)


def test_outlook_forecast_ends_at_its_first_day_without_temperature(put, record_of):
    forecast = foretold(put, "2003-05-20", ["1,2,3", ",5,6", "7,8,9"])
    ahead = outlook.ahead(
        record_of("2000-01-01", "2003-05-19"), date(2003, 5, 20), forecast=forecast, days=30
    )
    assert ahead.forecast_days == 1


@pytest.mark.parametrize("first", ["2003-05-21", "2003-05-10"])
def test_outlook_forecast_of_other_days_is_not_used_and_told(put, record_of, first):
    forecast = foretold(put, first, ["1,2,3", "4,5,6"])
    ahead = outlook.ahead(
        record_of("2000-01-01", "2003-05-19"), date(2003, 5, 20), forecast=forecast, days=30
    )
    assert ahead.forecast_days == 0
    assert any("not used" in issue.text for issue in ahead.issues)


def test_outlook_gap_under_the_forecast_does_not_cost_a_year(put, record_of):
    gap = [f"2001-05-{day}" for day in (20, 21, 22, 23)]
    record = record_of("2000-01-01", "2003-05-19", no_temperature=gap)
    forecast = foretold(put, "2003-05-20", ["1,2,3"] * 4)
    assert outlook.ahead(record, date(2003, 5, 20), forecast=forecast, days=30).years == (2000, 2001, 2002)
