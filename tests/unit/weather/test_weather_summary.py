"""What a record holds, in numbers and as text."""

import json
from datetime import date, timedelta

import pytest

from dooryard import weather
from dooryard.weather import summary


@pytest.fixture
def record(put):
    """2022 whole with 2 mm a day on average; 2023 until 30 June, without 9 to 15 May and with 3 June blank."""
    first = date(2022, 1, 1)
    rows = []
    for day in (first + timedelta(days=step) for step in range(365 + 181)):
        # Four days bring 8 mm, and so does what is left of each year bring 2 mm a day: a column that stands
        # still would be doubted.
        turn = (day.timetuple().tm_yday - 1 + (3 if day.year == 2023 else 0)) % 4
        rain = {date(2023, 6, 3): "", date(2023, 1, 1): "T"}.get(day, (2, 1, 2, 3)[turn])
        if not date(2023, 5, 9) <= day <= date(2023, 5, 15):
            rows.append(f"{day},{1 + turn % 2},{10 + turn % 2},{rain}\n")
    return weather.read(put("# station: Mill\n# latitude: 40\ndate,tmin_C,tmax_C,rain_mm\n" + "".join(rows)))


def test_summary_counts_and_yearly_totals(record):
    held = summary.summarise(record)
    assert held.counts["rain_mm"] == {
        "observed": 537, "trace": 1, "accumulated": 0, "estimated": 0, "suspect": 0, "missing": 8,
        "moved": 0,
    }  # fmt: skip
    first, second = held.years
    assert (first.year, first.rain_mm, first.complete, first.days) == (2022, 730.0, True, 365)
    assert (second.rain_mm, second.complete, second.days) == (2 * (181 - 9), False, 181)
    assert (second.days_without_rain_value, second.days_without_temperature) == (8, 7)
    assert (first.coldest_c, first.hottest_c) == (1.0, 11.0)


def test_summary_picture_shows_gaps_white_and_doubtful_quarters_marked(record):
    text = summary.render(summary.summarise(record), record, system="metric")
    row = next(line for line in text.splitlines() if line.startswith("2023"))
    may, june, july = row[25:29], row[30:34], row[35:39]
    assert (may[1], june[0], july) == (" ", "?", "    ")
    assert " " not in may[0] + may[2:] + june
    assert row.split()[-2:] == ["344+", "8"]
    assert all(len(line) <= 80 for line in text.splitlines())


def test_summary_quarters_add_up_to_the_year(record):
    held = summary.summarise(record)
    assert held.quarter_mm[0].sum() == pytest.approx(730.0)


@pytest.mark.parametrize(("system", "total"), [("us", "28.7"), ("metric", "730")])
def test_summary_text_is_in_the_units_asked(record, system, total):
    text = summary.render(summary.summarise(record), record, system=system)
    assert total in next(line for line in text.splitlines() if line.startswith("2022 "))


def test_summary_text_is_ascii_unless_blocks_are_allowed(record):
    held = summary.summarise(record)
    assert summary.render(held, record, system="metric").isascii()
    assert "█" in summary.render(held, record, system="metric", blocks=True)


def test_summary_data_is_plain_json(record):
    data = json.loads(json.dumps(summary.as_json(summary.summarise(record), record), allow_nan=False))
    assert (data["first"], data["last"], data["station"]["name"]) == ("2022-01-01", "2023-06-30", "Mill")
    assert data["years"][0]["rain_mm"] == 730.0
    assert {issue["kind"] for issue in data["issues"]} == {"gap", "missing"}


def test_summary_of_a_gauge_without_thermometer(put):
    record = weather.read(put("date,rain_mm\n2031-05-01,3\n2031-05-02,0\n"))
    held = summary.summarise(record)
    assert (held.years[0].coldest_c, held.years[0].days_without_temperature) == (None, 2)
    assert "What a person must know" in summary.render(held, record)


def test_summary_of_a_thermometer_without_gauge(put):
    record = weather.read(put("date,tmin_C,tmax_C\n2031-05-01,3,9\n"))
    assert "no picture" in summary.render(summary.summarise(record), record)
