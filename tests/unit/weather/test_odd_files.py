"""Files as spreadsheets, old programmes and broken copies leave them."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import summary

DAYS = "2031-05-01,5,15,0\n2031-05-02,6,16,2.5\n"
HEADER = "date,tmin_C,tmax_C,rain_mm\n"


def test_name_in_the_letters_of_an_old_programme_keeps_its_dash(put):
    text = "# station: Mill \u2013 upper\u2019s\n".encode("cp1252") + (HEADER + DAYS).encode()
    assert weather.read(put(text)).station.name == "Mill \u2013 upper\u2019s"


@pytest.mark.parametrize(
    "text",
    [
        "date,tmin_C,tmax_C,rain_mm,,\n2031-05-01,5,15,0,,\n2031-05-02,6,16,2.5,,\n",
        "date,tmin_C,tmax_C,rain_mm\n2031-05-01,5,15,0,,\n2031-05-02,6,16,2.5,\n",
    ],
)
def test_separators_behind_the_last_column_are_passed_over(put, text):
    record = weather.read(put(text))
    assert record.rain_mm.tolist() == [0.0, 2.5]
    assert record.issues == ()


def test_cell_behind_the_last_column_is_told(faults_of):
    (problem,) = faults_of(HEADER + "2031-05-01,5,15,0,7\n")
    assert problem.what == "This line has 5 cells where the header has 4."


def test_column_without_a_name_that_holds_something_is_told(faults_of):
    (problem,) = faults_of("date,tmin_C,\n2031-05-01,5,3\n")
    assert "not known" in problem.what


def test_first_column_without_a_name_holds_the_dates(put):
    record = weather.read(put(",rain_mm\n2031-05-01,1.5\n2031-05-02,0\n"))
    assert (str(record.first), record.rain_mm.tolist()) == ("2031-05-01", [1.5, 0.0])


def test_table_of_an_element_with_a_number_is_no_notebook_and_no_humidity(faults_of):
    problems = faults_of(",RH_260\n1980-01-02,0.025\n1980-01-03,1.2\n")
    assert [problem.line for problem in problems] == [1]
    assert (problems[0].what, problems[0].found) == ("This column is not known.", "RH_260")


def test_noughts_with_which_a_broken_copy_is_filled_up_are_passed_over(put):
    assert len(weather.read(put((HEADER + DAYS).encode() + b"\0" * 9000)).dates) == 2


def test_bytes_that_are_no_text_are_told_with_their_line(faults_of):
    text = HEADER + "".join(
        f"{day},5,15,0\n" for day in np.arange("2020-01-01", "2021-01-01", dtype="datetime64[D]")
    )
    (problem,) = faults_of(text.encode()[:-3] + b"\0\0\n2021-01-01,5,15,0\n")
    assert problem.line == 367
    assert "damaged" in problem.what


def test_station_without_a_name_is_called_by_its_file(put):
    text = "DATE,PRCP,TMAX,TMIN\n2031-05-01,0.0,15.1,5.2\n"
    record = weather.read(put(text, "mill-upper.csv"), "daily-summaries-metric")
    assert record.station.name == "mill-upper"


def test_one_dry_day_is_not_called_a_record_without_rain(put):
    record = weather.read(put(HEADER + "2031-05-01,5,15,0\n"))
    shown = summary.render(summary.summarise(record), record)
    assert "No rain fell on the 1 day with a rain value" in shown


def test_mean_of_presumed_days_says_so(put):
    days = np.arange("2020-01-01", "2021-01-01", dtype="datetime64[D]")
    rows = "".join(
        f"{day},{row % 7},{10 + row % 5},{2.0 if row == 9 else 0.0}E\n" for row, day in enumerate(days)
    )
    record = weather.read(put(HEADER + rows))
    shown = " ".join(summary.render(summary.summarise(record), record).split())
    assert "The rain of 366 of the 366 days was presumed or estimated, not measured." in shown
