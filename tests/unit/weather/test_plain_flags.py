"""Flag columns of the plain layout: what each word does to its value, and what is refused."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag

HEADER = "date,tmin_F,tmin_flag,rain_in,rain_flag\n"


def test_flag_column_words_decide_over_their_values(put):
    rows = [
        "50,,0.10,", "50,E,,T", "50,estimated,0.00,trace", "50,s,2.10,A", "50,missing,0.30,suspect", ",M,0.5,E",
    ]  # fmt: skip
    text = HEADER + "".join(f"2031-05-{day:02d},{row}\n" for day, row in enumerate(rows, 1))
    record = weather.read(put(text))
    assert [Flag(code).name for code in record.flags["t_min_c"]] == [
        "OBSERVED", "ESTIMATED", "ESTIMATED", "SUSPECT", "MISSING", "MISSING",
    ]  # fmt: skip
    assert [Flag(code).name for code in record.flags["rain_mm"]] == [
        "OBSERVED", "TRACE", "TRACE", "ACCUMULATED", "SUSPECT", "ESTIMATED",
    ]  # fmt: skip
    np.testing.assert_array_equal(record.t_min_c, [10, 10, 10, np.nan, np.nan, np.nan])
    np.testing.assert_allclose(record.rain_mm, [2.54, 0, 0, np.nan, np.nan, 12.7])


def test_flag_column_of_estimates_is_told_with_the_words_of_the_file(put):
    text = "# estimated lowest temperature: from North Farm, usually 2 degrees off\n" + HEADER
    text += "2031-05-01,50,E,0,\n2031-05-02,51,,0,\n2031-05-03,52,E,0,\n"
    (issue,) = [issue for issue in weather.read(put(text)).issues if issue.kind != "columns"]
    assert (issue.kind, issue.days, issue.first.day, issue.last.day) == ("estimated", 2, 1, 3)
    assert issue.text == "The lowest temperature of 2 days is an estimate, not a measurement."
    assert issue.instead == "From North Farm, usually 2 degrees off."


@pytest.mark.parametrize(
    ("header", "row", "what", "place"),
    [
        (HEADER, "50,X,0,", "This is no flag of this column.", (2, "tmin_flag")),
        (HEADER, "50,T,0,", "This is no flag of this column.", (2, "tmin_flag")),
        (HEADER, ",E,0,", "There is no value to be an estimate.", (2, "tmin_flag")),
        (HEADER, "50,,0.2,T", "A trace is not a measured amount.", (2, "rain_flag")),
        (
            "date,tmin_F,rain_flag\n",
            "50,E",
            "This column flags the rain, which has no column.",
            (1, "rain_flag"),
        ),
        (
            "date,rain_in,rain_flag,prcp_flag\n",
            "0,,",
            "This column says the same as rain_flag.",
            (1, "header"),
        ),
    ],
)
def test_flag_column_that_cannot_be_is_refused_with_its_place(faults_of, header, row, what, place):
    (problem,) = faults_of(f"{header}2031-05-01,{row}\n")
    assert (problem.what, (problem.line, problem.field)) == (what, place)
