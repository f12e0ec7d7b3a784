"""This year against the past: ranks, words, gaps on either side, and when no comparison is made."""

from datetime import date

import numpy as np
import pytest

from dooryard.weather import compare, compare_report
from dooryard.weather.compare import Quantity

ON = date(2020, 6, 1)


def dates_to(on, first="2000-01-01"):
    return np.arange(first, str(on), dtype="datetime64[D]")


def year_of(dates):
    return dates.astype("datetime64[Y]").astype(int) + 1970


def rain_by_year(dates, this_year=None):
    """One mm a day in 2000, two in 2001 and so on; `this_year` mm in the last year."""
    amount = year_of(dates) - 1999.0
    if this_year is not None:
        amount[year_of(dates) == year_of(dates)[-1]] = this_year
    return amount


def rain(values):
    return Quantity("rain_mm", "rain", "total", "depth", values)


def rows_of(dates, quantity, on=ON, **options):
    return {row.span: row for row in compare.compare(dates, [quantity], on, **options)}


def test_compare_takes_the_same_days_of_every_past_year():
    dates = dates_to(ON)
    row = rows_of(dates, rain(rain_by_year(dates)))["last 30 days"]
    assert (row.first, row.last) == (date(2020, 5, 2), date(2020, 5, 31))
    assert row.value == 30 * 21
    assert [(year.year, year.value) for year in row.past] == [(2000 + n, 30.0 * (n + 1)) for n in range(20)]
    assert (row.below, row.above, row.word) == (20, 0, "far above usual")


def test_compare_since_1_january_has_as_many_days_in_every_year():
    dates = dates_to(ON)
    row = rows_of(dates, rain(np.ones(len(dates))))["since 1 January"]
    assert (row.first, row.value) == (date(2020, 1, 1), 152)
    # 2020 has a 29 February, so a common year begins on 31 December; 2000 would begin before the record but does not.
    assert {year.value for year in row.past} == {152}
    assert row.word == "usual"


@pytest.mark.parametrize(
    ("amount", "word", "below"),
    [
        (0.5, "far below usual", 0),
        (2.95, "below usual", 2),
        (7.25, "below usual", 7),
        (7.4, "usual", 7),
        (10.5, "usual", 10),
        (13.7, "above usual", 13),
        (18.05, "above usual", 18),
        (18.2, "far above usual", 18),
    ],
)
def test_compare_words_follow_thirds_and_tenths(amount, word, below):
    # Past years 1 to 20 mm a day: thirds at 1 + 19/3 = 7.33 and 13.67, tenths at 2.9 and 18.1.
    dates = dates_to(ON)
    row = rows_of(dates, rain(rain_by_year(dates, amount)))["last 30 days"]
    assert (row.word, row.below, row.above) == (word, below, 20 - below)


def test_compare_days_missing_this_year_are_left_out_of_the_past_too():
    dates = dates_to(ON)
    values = np.ones(len(dates))
    values[-5:] = np.nan
    # A flood on 30 May of every past year must not count: 30 May has no value this year.
    values[[str(day)[5:] == "05-30" and day < np.datetime64("2020") for day in dates]] = 100.0
    row = rows_of(dates, rain(values))["last 30 days"]
    assert (row.value, row.missing_days, {year.value for year in row.past}) == (25, 5, {25})
    assert row.word == "usual"


def test_compare_this_year_too_full_of_gaps_is_refused():
    dates = dates_to(ON)
    values = np.ones(len(dates))
    values[-12:] = np.nan
    row = rows_of(dates, rain(values))["last 30 days"]
    assert (row.word, row.value) == ("", 18)
    assert "12 of 30 days" in row.refused
    values[-30:] = np.nan
    assert rows_of(dates, rain(values))["last 30 days"].value is None


def test_compare_past_year_with_gaps_is_left_out_with_the_reason():
    dates = dates_to(ON)
    values = np.ones(len(dates))
    values[dates == np.datetime64("2007-05-10")] = np.nan
    rows = rows_of(dates, rain(values))
    assert rows["last 30 days"].left_out == ((2007, "1 of 30 days have no value"),)
    # One day of 90 is more than the 1.4 percent a total may lack times 30, but less than times 90.
    assert rows["last 90 days"].left_out == ()
    assert [year.missing_days for year in rows["last 90 days"].past if year.year == 2007] == [1]


def test_compare_mean_bears_scattered_gaps_but_no_long_one():
    dates = dates_to(ON)
    values = np.ones(len(dates))
    scattered = [np.datetime64("2007-05-03") + step for step in (0, 3, 6, 9, 12, 15)]
    in_a_row = [np.datetime64("2008-05-10") + step for step in range(5)]
    values[np.isin(dates, np.array(scattered + in_a_row))] = np.nan
    row = rows_of(dates, Quantity("t_mean_c", "warmth", "mean", "temperature", values))["last 30 days"]
    assert row.left_out == ((2008, "5 days in a row have no value"),)


def test_compare_with_fewer_than_ten_years_names_no_usual():
    dates = dates_to(ON, first="2012-01-01")
    row = rows_of(dates, rain(np.ones(len(dates))))["last 30 days"]
    assert (row.word, len(row.past)) == ("", 8)
    assert "Only 8 past years" in row.refused


def test_compare_from_a_year_on_leaves_the_earlier_ones_alone():
    dates = dates_to(ON)
    row = rows_of(dates, rain(rain_by_year(dates)), from_year=2005)["last 30 days"]
    assert [year.year for year in row.past] == list(range(2005, 2020))


def test_compare_on_29_february_ends_on_28_february_elsewhere():
    on = date(2020, 2, 29)
    dates = dates_to(on)
    values = np.where([str(day)[5:] == "02-28" for day in dates], 9.0, 1.0)
    row = rows_of(dates, rain(values), on)["last 30 days"]
    assert {year.value for year in row.past} == {38}
    assert row.value == 38


def test_compare_first_of_january_has_no_empty_year_so_far():
    on = date(2020, 1, 1)
    dates = dates_to(on)
    rows = rows_of(dates, rain(np.ones(len(dates))), on)
    assert rows["since 1 January"].first == date(2019, 1, 1)


def test_compare_sentence_says_value_word_usual_and_rank():
    dates = dates_to(ON)
    row = rows_of(dates, rain(rain_by_year(dates, 13.0)))["last 30 days"]
    # Thirds of 30 to 600 mm: 220 and 410 mm.
    assert compare_report.sentence(row, "metric") == (
        "Rain, last 30 days: 390 mm, usual. Usual is 220 to 410 mm; higher than in 12 of 20 past years."
    )


def test_compare_ranks_equal_values_on_neither_side():
    dates = dates_to(ON)
    row = rows_of(dates, rain(np.zeros(len(dates))))["last 30 days"]
    assert (row.below, row.above, row.word) == (0, 0, "usual")
