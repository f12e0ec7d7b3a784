"""Dates whose order or century has to be found out, and what is said about it."""

import os
from datetime import date, timedelta

import pytest

from dooryard import weather


def rows(first, count, written, value=lambda step: step % 7):
    days = [first + timedelta(days=step) for step in range(count)]
    return "".join(f"{written(day)},{value(step)}\n" for step, day in enumerate(days))


def said(record):
    return next(issue.text for issue in record.issues if issue.kind == "dates")


@pytest.mark.parametrize(
    ("pattern", "order"),
    [
        ("%d-%m-%y", "day first"),
        ("%m/%d/%y", "month first"),
        ("%y-%m-%d", "year first"),
        ("%d-%b-%y", "day first"),
    ],
)
def test_two_digit_years_run_on_over_the_turn_of_the_century(put, pattern, order):
    text = rows(date(1948, 1, 1), 70 * 365, lambda day: day.strftime(pattern).upper())
    record = weather.read(put("date,rain_mm\n" + text))
    assert (record.first, len(record.dates)) == (date(1948, 1, 1), 70 * 365)
    assert order in said(record)
    assert "1948 to 2017" in said(record)


def test_two_digit_years_end_before_the_file_was_written(put):
    # Without a look at the day of writing, 27 and 28 could be either century.
    path = put("date,rain_mm\n" + rows(date(1927, 6, 1), 400, lambda day: day.strftime("%d-%m-%y")))
    os.utime(path, (0, date(2026, 5, 1).toordinal() * 86400 - date(1970, 1, 1).toordinal() * 86400))
    assert weather.read(path).first == date(1927, 6, 1)
    later = date(2029, 5, 1).toordinal() - date(1970, 1, 1).toordinal()
    os.utime(path, (0, later * 86400))
    assert weather.read(path).first == date(2027, 6, 1)


def test_two_digit_years_of_a_copy_that_lost_its_day_are_not_pushed_back_a_century(put):
    path = put("date,rain_mm\n" + rows(date(2017, 1, 1), 40, lambda day: day.strftime("%d-%m-%y")))
    os.utime(path, (0, 0))
    assert weather.read(path).first == date(2017, 1, 1)


def test_century_of_two_digit_years_may_be_said(put):
    text = rows(date(1848, 1, 1), 60, lambda day: day.strftime("%d-%m-%y"))
    record = weather.read(put("# first year: 1848\ndate,rain_mm\n" + text))
    assert record.first == date(1848, 1, 1)
    assert "as the file's comment says" in said(record)


def test_century_that_does_not_fit_is_told(faults_of):
    text = rows(date(1848, 1, 1), 60, lambda day: day.strftime("%d-%m-%y"))
    problems = faults_of("# first year: 1850\ndate,rain_mm\n" + text)
    assert problems[0].field == "first year"


def test_three_short_numbers_that_may_be_anything_are_refused(faults_of):
    problems = faults_of("date,rain_mm\n01-02-03,1\n")
    assert "do not say which number" in problems[0].what


def test_two_digit_year_among_years_of_four_is_told_with_its_line(faults_of):
    problems = faults_of("date,rain_mm\n2031-05-01,1\n02-05-31,1\n")
    assert [problem.line for problem in problems] == [3]


def test_month_by_name_needs_no_guess(put):
    record = weather.read(put("date,rain_mm\n01-Feb-2031,1\n02-FEB-2031,2\n"))
    assert record.first == date(2031, 2, 1)
    assert not [issue for issue in record.issues if issue.kind == "dates"]


def test_year_month_and_day_in_columns_of_their_own(put):
    record = weather.read(put("year,month,day,rain_in\n2031,2,28,1\n2031,3,1,2\n"))
    assert record.first == date(2031, 2, 28)
    assert record.rain_mm.tolist() == [25.4, 50.8]


def test_day_that_is_none_in_columns_of_their_own_is_told(faults_of):
    problems = faults_of("year,month,day,rain_in\n2031,2,28,1\n2031,2,29,2\n")
    assert [(problem.line, problem.found) for problem in problems] == [(3, "2031-2-29")]
