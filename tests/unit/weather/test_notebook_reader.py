"""A rain notebook as typed: dates, depths and words of every kind, days not read, and what is refused."""

from pathlib import Path

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag
from dooryard.weather.readers.notebook_lines import Entry, Heading, hour_of, parse_line
from dooryard.weather.subdaily import read_gauge, read_hourly

HEAD = "# units: in\n# read at: 7 am\n2031\n"


def days(record):
    """Rain in hundredths of an inch and flag, by day."""
    return {
        str(day)[5:]: (None if np.isnan(rain) else round(float(rain) / 0.254, 6), Flag(int(flag)).name)
        for day, rain, flag in zip(record.dates, record.rain_mm, record.flags["rain_mm"], strict=True)
    }


def issues(record, kind):
    return [issue.text for issue in record.issues if issue.kind == kind]


def faults(put, text):
    with pytest.raises(InputError) as caught:
        read_gauge(put(text, "notebook.txt"))
    return [(problem.line, problem.what) for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("typed", "hundredths"),
    [
        ("0.40", 40), (".4", 40), ("1 1/4", 125), ("1-1/4", 125), ("1¼", 125), ("½", 50), ("3/4", 75), ("1.25 in", 125),
        ('1 1/4"', 125), ("2 inches", 200), ("0", 0), ("none", 0), ("dry", 0), ("25.4 mm", 100),
        ("0.40 first rain since April 2", 40), ("0.40, sowed beans 2 days ago", 40), ("= 0.40", 40), ("- 0.40", 40),
        ("0.40 (after the wind)", 40), ("2 snow, melted", 200),
    ],
)  # fmt: skip
def test_depth_is_read_as_it_may_be_typed(put, typed, hundredths):
    record = weather.read(put(HEAD + f"May 3  {typed}\n", "notebook.txt"))
    assert days(record) == {"05-02": (pytest.approx(hundredths), "OBSERVED")}


@pytest.mark.parametrize("typed", ["T", "t", "trace", "tr", "Trace (mist)"])
def test_trace_is_a_trace(put, typed):
    assert days(weather.read(put(HEAD + f"May 3 {typed}\n"))) == {"05-02": (0, "TRACE")}


@pytest.mark.parametrize(
    "typed",
    ["2031-05-06", "May 6", "may 6,", "6 May", "6th May:", "May 6th, 2031", "6 May 2031", "5/6/2031", "05/06/31",
     "Tue May 6", "Tues. 5/6", "Tuesday, 6 May", "Tuesday"],
)  # fmt: skip
def test_date_is_read_as_it_may_be_typed(put, typed):
    text = HEAD + f"May 4 0.10\n5/5 0.20\n{typed} 0.30\n5/15 0\n"
    assert days(weather.read(put(text)))["05-05"] == (30, "OBSERVED")


def test_reading_in_the_morning_is_the_day_before_and_in_the_evening_the_same(put):
    text = "# units: in\n2031\nMay 3 0.40\n"
    morning = weather.read(put("# read at: 7 am\n" + text))
    evening = weather.read(put("# read at: 6:30 pm\n" + text))
    assert days(morning) == {"05-02": (40, "OBSERVED")}
    assert days(evening) == {"05-03": (40, "OBSERVED")}
    assert "counts for the day before" in issues(morning, "day boundary")[0]
    assert "counts for the same day" in issues(evening, "day boundary")[0]


def test_hour_of_reading_that_is_not_said_is_taken_and_told(put):
    record = weather.read(put("# units: in\n2031\nMay 3 0.40\n"))
    assert list(days(record)) == ["05-02"]
    assert "7 am was taken" in issues(record, "reading time")[0]
    record = weather.read(put("# units: in\n2031\nMay 3 8 pm 0.40\nMay 4 7:40 pm 0.20\n"))
    assert days(record) == {"05-03": (40, "OBSERVED"), "05-04": (20, "OBSERVED")}
    assert "8 pm was taken" in issues(record, "reading time")[0]


def test_reading_between_the_usual_ones_adds_to_its_day(put):
    text = HEAD + "May 3 0.10\nMay 3 6 pm 0.40 cloudburst\nMay 4 6:45 am 0.20\n"
    record = weather.read(put(text))
    assert days(record) == {"05-02": (10, "OBSERVED"), "05-03": (60, "OBSERVED")}


def test_span_since_a_weekday_is_not_spread(put):
    text = HEAD + "Thu May 1 0.10\nFri May 2 0.20\nMon May 5 1 1/4 since Friday\nTue May 6 0\n"
    record = weather.read(put(text))
    assert days(record) == {
        "04-30": (10, "OBSERVED"),
        "05-01": (20, "OBSERVED"),
        "05-02": (None, "ACCUMULATED"),
        "05-03": (None, "ACCUMULATED"),
        "05-04": (None, "ACCUMULATED"),
        "05-05": (0, "OBSERVED"),
    }
    gauge = read_gauge(put(text))
    assert gauge.total_mm == pytest.approx(1.55 * 25.4)


@pytest.mark.parametrize(
    "span",
    [
        "since Friday",
        "since May 2",
        "since 5/2",
        "(3 days)",
        "in 3 days",
        "over the last 3 days",
        "since last reading",
        "",
    ],
)
def test_span_may_be_said_in_many_ways_or_not_at_all(put, span):
    text = HEAD + f"Fri May 2 0.20\nMon May 5 1.25 {span}\n5/15 0\n"
    found = days(weather.read(put(text)))
    assert [found[day][1] for day in ("05-01", "05-02", "05-03", "05-04")] == ["OBSERVED"] + [
        "ACCUMULATED"
    ] * 3


def test_span_that_begins_later_than_the_last_reading_leaves_a_gap(put):
    found = days(weather.read(put(HEAD + "May 2 0.20\nMay 8 0.50 since May 6\n")))
    assert [found[day][1] for day in ("05-02", "05-05", "05-06", "05-07")] == [
        "MISSING", "MISSING", "ACCUMULATED", "ACCUMULATED",
    ]  # fmt: skip


def test_span_that_reaches_back_before_another_reading_is_refused(put):
    told = faults(put, HEAD + "May 2 0.20\nMay 4 0.10\nMay 5 1.0 since May 2\n")
    assert told == [(6, "This span reaches back before the reading in line 5.")]


def test_empty_gauge_after_a_few_days_proves_them_dry_and_after_many_does_not(put):
    found = days(weather.read(put(HEAD + "May 1 0.1\nMay 4 0\nMay 24 0\nMay 25 0.1\n")))
    assert [found[f"05-{day:02d}"] for day in (1, 2, 3)] == [(0, "ESTIMATED")] * 3
    assert found["05-10"] == (None, "MISSING")
    assert found["05-24"] == (10, "OBSERVED")


def test_days_not_written_are_what_the_notebook_says(put):
    rows = "May 1 0.1\nMay 4 0.3\n"
    dry = days(weather.read(put("# days not written: dry\n" + HEAD + rows)))
    missing = days(weather.read(put("# days not written: missing\n" + HEAD + rows)))
    assert [dry[f"05-{day:02d}"] for day in (1, 2, 3)] == [
        (0, "ESTIMATED"),
        (0, "ESTIMATED"),
        (30, "OBSERVED"),
    ]
    assert [missing[f"05-{day:02d}"] for day in (1, 2, 3)] == [(None, "MISSING")] * 2 + [(30, "OBSERVED")]


def test_missed_reading_leaves_its_water_to_the_next(put):
    for word in ("-", "missed", "?", "away", ""):
        text = "# days not written: dry\n" + HEAD + f"May 2 0.20\nMay 3 {word}\nMay 4 0.50\n"
        found = days(weather.read(put(text)))
        assert found == {
            "05-01": (20, "OBSERVED"),
            "05-02": (None, "ACCUMULATED"),
            "05-03": (None, "ACCUMULATED"),
        }


def test_gauge_taken_in_over_winter_leaves_a_gap(put):
    found = days(weather.read(put(HEAD + "Nov 1 0.2\nApr 1 0.5\nApr 2 0\n")))
    assert found["11-01"] == (None, "MISSING")
    assert found["03-31"] == (50, "OBSERVED")


@pytest.mark.parametrize(
    "typed",
    [
        "5+",
        ">5 in",
        "over 5 inches",
        "5.0 overflowed",
        "0.3 dog knocked the gauge over",
        "0.2 gauge was leaking",
        "3 in snow",
    ],
)
def test_depth_that_is_not_the_rain_is_left_out_and_told(put, typed):
    record = weather.read(put(HEAD + f"May 2 0.1\nMay 3 {typed}\nMay 4 0.2\n"))
    assert days(record)["05-02"] == (None, "SUSPECT")
    assert "1 reading was left out" in issues(record, "suspect")[0]


def test_year_runs_on_over_new_year_and_headings_set_it(put):
    record = read_gauge(put(HEAD + "Dec 30 0.1\nDec 31 0.2\nJan 1 0.3\n"))
    assert str(record.end[-1]) == "2032-01-01T07:00"
    text = "# units: mm\n# read at: 7 am\nMay 2031\n1  4.5\n2. T\n3rd 12\nJune 2031\n1 3 1/2\n"
    record = read_gauge(put(text))
    assert [str(time)[:10] for time in record.end] == ["2031-05-01", "2031-05-02", "2031-05-03", "2031-06-01"]
    assert record.depth_mm.tolist() == [4.5, 0, 12, 3.5]


def test_order_of_day_and_month_is_found_said_or_refused(put):
    rows = "{} 4\n{} 5\n{} 6\n"
    head = "# units: mm\n2031\n"
    record = read_gauge(put(head + rows.format("30/4", "1/5", "2/5")))
    assert str(record.end[-1])[:10] == "2031-05-02"
    assert any("day first" in issue.text for issue in record.issues)
    record = read_gauge(put(head + rows.format("4/30", "5/1", "5/2")))
    assert str(record.end[-1])[:10] == "2031-05-02"
    record = read_gauge(put(head + "Mar 3 4\n3/4 5\nMar 5 6\n"))
    assert [str(time)[:10] for time in record.end] == ["2031-03-03", "2031-03-04", "2031-03-05"]
    assert faults(put, head + "3/4 4\n")[0][1].startswith("These dates do not say whether the month")
    record = read_gauge(put("# dates: day first\n" + head + "3/4 4\n"))
    assert str(record.end[0])[:10] == "2031-04-03"


def test_century_of_short_years_is_the_notebook_s_own(put):
    record = read_gauge(put("# units: mm\n1999\n12/30/99 4\n1/2/00 5\n1/3/00 6\n"))
    assert [str(time)[:10] for time in record.end] == ["1999-12-30", "2000-01-02", "2000-01-03"]
    assert "year" in faults(put, "# units: mm\n12/30/99 4\n12/31/99 5\n")[0][1]


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("2031\nMay 3 0.40\n", 2, "The depth has no unit."),
        ("# units: in\nMay 3 0.40\n", 2, "The notebook does not say its year."),
        ("# units: in\n2031\nMay 3 0,40\n", 3, "There is no depth behind the date."),
        ("# units: in\n2031\nMay 3 -0.4\n", 3, "There is no depth behind the date."),
        ("# units: in\n2031\nMay 3 a bit\n", 3, "There is no depth behind the date."),
        ("# units: in\n2031\nMay 32 0.4\nMay 33 0.5", 3, "There is no such day."),
        ("# units: in\n2031\nMon May 3 0.4\n", 3, "2031-05-03 is a Saturday, not a Monday."),
        ("# units: in\n2031\nMay 3 0.4\nMay 1 0.4\n", 4, "This day is earlier than the one before it (2031-05-03)."),
        ("# units: in\n2031\nMay 3 0.4\nMay 3 0.4\n", 4, "This reading is not later than the one in line 3."),
        ("# units: in\n2031\nMay 3 0.4\nabout 3 drops\n", 4, "This line does not begin with a date."),
        ("# units: cups\n2031\nMay 3 0.4\n", None, "This unit is not known here."),
        ("# units: in\n# read at: dawn\n2031\nMay 3 0.4\n", None, "This is no time of day."),
        ("# units: in\n# days not written: rain\n2031\nMay 3 0.4\n", None, "This is not understood."),
        ("# units: in\n# year: ²031\nMay 3 0.4\n", None, "This is no year."),
        ("# units: in\n2031\nMay 3 25:00 0.4\n", 3, "There is no such time of day."),
        ("# units: in\n2031\nFri 0.4\nMay 3 0.4\n", 3, "Only a weekday, and no date above it."),
        ("# units: in\n2031\nMay 3 0.4\nMay 5 0.3 since May 5 2031\n", 4, "The span begins after it ends."),
        ("# units: in\n2031\nMay 3 0.4\nSun 5/4\n", 4,
         "A depth is missing, or the two numbers are a depth and not a date."),
    ],
)  # fmt: skip
def test_line_that_cannot_be_understood_is_told(put, text, line, what):
    assert (line, what) in faults(put, text)


def test_faults_of_a_notebook_are_told_all_at_once(put):
    text = HEAD + "May 3 a lot\nMay 4 0.1\nMay 40 0.1\nsome 3 things\n"
    assert [line for line, _ in faults(put, text)] == [4, 6, 7]


def test_remarks_and_blank_lines_are_passed_over(put):
    text = HEAD + "\nRain gauge by the fence\nMay 3 0.40\n\nwent to the lake\nMay 4 0.20\n"
    assert days(weather.read(put(text))) == {"05-02": (40, "OBSERVED"), "05-03": (20, "OBSERVED")}


def test_notebook_knows_its_place_and_has_no_temperatures_and_no_hours(put):
    text = "# gauge: Back fence\n# latitude: 38.2\n# elevation: 610 ft\n" + HEAD + "May 3 0.40\n"
    record = weather.read(put(text))
    assert (record.station.name, record.station.latitude) == ("Back fence", 38.2)
    assert np.isnan(record.t_min_c).all()
    with pytest.raises(InputError, match="no hours"):
        read_hourly(put(text))


def test_parts_of_a_line_are_told_apart():
    assert parse_line("2031") == Heading(2031, None)
    assert parse_line("Sept. 2031") == Heading(2031, 9)
    assert parse_line("rain gauge") is None
    entry = parse_line("Mon May 5, 2031 7 am: 1 1/4 in since Friday")
    assert isinstance(entry, Entry)
    assert (entry.date.year, entry.date.weekday, entry.hour, entry.amount, entry.unit) == (
        2031,
        0,
        7,
        "1 1/4",
        "in",
    )
    assert entry.since is not None
    assert entry.since.weekday == 4


@pytest.mark.parametrize(
    ("text", "hour"),
    [("7 am", 7), ("12 am", 0), ("12:30 pm", 12.5), ("18:30", 18.5), ("noon", 12), ("7", None)],
)
def test_hour_is_read_as_it_may_be_typed(text, hour):
    assert hour_of(text) == hour


def test_notebook_of_the_manual_can_be_read(put):
    page = (Path(__file__).resolve().parents[3] / "docs" / "weather-hours.md").read_text(encoding="utf-8")
    record = weather.read(put(page.split("```text\n")[1].split("```")[0], "notebook.txt"))
    assert record.station.name == "back fence"
    assert days(record) == {
        "04-30": (40, "OBSERVED"),
        "05-01": (0, "TRACE"),
        "05-02": (None, "ACCUMULATED"),
        "05-03": (None, "ACCUMULATED"),
        "05-04": (None, "ACCUMULATED"),
        "05-05": (0, "OBSERVED"),
        "05-06": (50, "OBSERVED"),
    }
