"""The record itself: calendar, positions, what was known on a morning, whole years."""

from datetime import date

import numpy as np
import pytest

from dooryard import weather
from dooryard.problem import InputError
from dooryard.weather import Flag

TEXT = "date,tmin_C,tmax_C,rain_mm\n" + "".join(
    f"{day},{row},{row + 10},{row / 10}\n"
    for row, day in enumerate((np.datetime64("2023-12-30") + np.arange(6)).astype(str))
)


@pytest.fixture
def record(put):
    return weather.read(put(TEXT))


def test_record_position_counts_calendar_days(record):
    assert record.position(date(2023, 12, 30)) == 0
    assert record.position(date(2024, 1, 2)) == 3
    for day in (date(2023, 12, 29), date(2024, 1, 5)):
        with pytest.raises(IndexError, match="outside the record"):
            record.position(day)


def test_record_until_keeps_the_days_before(record):
    known = record.until(date(2024, 1, 2))
    assert (known.last, known.t_min_c.tolist()) == (date(2024, 1, 1), [0.0, 1.0, 2.0])
    assert len(known.flags["rain_mm"]) == 3


def test_record_until_a_later_day_adds_missing_days_and_says_so(record):
    known = record.until(date(2024, 1, 10))
    assert (known.last, len(known.dates)) == (date(2024, 1, 9), 11)
    assert np.isnan(known.rain_mm[6:]).all()
    assert set(known.flags["rain_mm"][6:].tolist()) == {Flag.MISSING}
    issue = known.issues[-1]
    assert (issue.kind, issue.first, issue.last, issue.days) == ("gap", date(2024, 1, 5), date(2024, 1, 9), 5)
    assert record.until(date(2024, 1, 5)).issues == record.issues


def test_record_until_forgets_what_came_later(put):
    text = TEXT + "2024-01-05,9,5,0\n"
    record = weather.read(put(text))
    assert any(issue.kind == "suspect" for issue in record.issues)
    assert not any(issue.kind == "suspect" for issue in record.until(date(2024, 1, 5)).issues)


def test_record_until_its_first_day_is_refused(record):
    with pytest.raises(InputError, match="begins on 2023-12-30"):
        record.until(date(2023, 12, 30))


def test_record_cannot_be_written_to(record):
    for values in (
        record.rain_mm,
        record.dates,
        record.flags["rain_mm"],
        record.until(date(2024, 2, 1)).t_min_c,
    ):
        with pytest.raises(ValueError, match="read-only"):
            values[0] = values[1]


@pytest.mark.parametrize(
    ("first", "last", "holes", "allowed", "years"),
    [
        ("2022-01-01", "2024-12-31", [], 0, (2022, 2023, 2024)),
        ("2022-01-02", "2024-12-30", [], 5, (2023,)),
        ("2023-01-01", "2024-12-31", ["2024-02-29"], 0, (2023,)),
        ("2023-01-01", "2024-12-31", ["2024-02-29"], 1, (2023, 2024)),
        ("2023-02-01", "2023-12-31", [], 400, ()),
    ],
)
def test_record_complete_years_are_whole_calendar_years(put, first, last, holes, allowed, years):
    days = np.arange(first, np.datetime64(last) + 1, dtype="datetime64[D]").astype(str)
    record = weather.read(
        put("date,rain_mm\n" + "".join(f"{day},{'' if day in holes else 1}\n" for day in days))
    )
    assert record.complete_years("rain_mm", allowed) == years
