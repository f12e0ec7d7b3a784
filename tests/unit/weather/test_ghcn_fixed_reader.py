"""GHCN-Daily fixed width: columns by position, marks, totals, months shorter than their line."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag


def line(element, values, year=2023, month=2, station="XX000000001"):
    """One line: values is {day: (value, marks)} or {day: value}."""
    text = f"{station}{year:04d}{month:02d}{element}"
    for day in range(1, 32):
        value, marks = values[day] if isinstance(values.get(day), tuple) else (values.get(day, -9999), "   ")
        text += f"{value:5d}{marks}"
    return text + "\n"


def test_fixed_values_are_tenths_and_missing_stays_missing(put):
    text = line("TMAX", {1: 101, 3: 123}) + line("TMIN", {1: -21, 3: 5}) + line("PRCP", {1: 254, 2: 0, 3: 3})
    record = weather.read(put(text, "some.dly"))
    assert (str(record.first), str(record.last)) == ("2023-02-01", "2023-02-03")
    assert np.array_equal(record.t_max_c, [10.1, np.nan, 12.3], equal_nan=True)
    assert np.array_equal(record.t_min_c, [-2.1, np.nan, 0.5], equal_nan=True)
    assert record.rain_mm.tolist() == [25.4, 0.0, 0.3]
    assert record.flags["t_max_c"].tolist() == [Flag.OBSERVED, Flag.MISSING, Flag.OBSERVED]
    assert (record.station.id, record.station.latitude) == ("XX000000001", None)


def test_fixed_month_under_way_does_not_reach_into_days_to_come(put):
    record = weather.read(put(line("PRCP", {1: 10}, 2023, 1) + line("PRCP", {5: 0}, 2023, 2)))
    assert str(record.last) == "2023-02-05"


def test_fixed_marks_make_traces_and_doubts(put):
    marks = {1: (0, "T S"), 2: (0, "P S"), 3: (3010, " OS"), 4: (13, "B S"), 5: (0, " K ")}
    record = weather.read(put(line("PRCP", marks) + line("TMAX", {1: (-50, " IS"), 5: 20})))
    assert [Flag(code).name for code in record.flags["rain_mm"]] == [
        "TRACE", "ESTIMATED", "SUSPECT", "OBSERVED", "SUSPECT",
    ]  # fmt: skip
    assert np.array_equal(record.rain_mm, [0, 0, np.nan, 1.3, np.nan], equal_nan=True)
    assert record.flags["t_max_c"][0] == Flag.SUSPECT
    assert any("marks K 1, O 1" in issue.text for issue in record.issues)


def test_fixed_total_over_days_covers_the_days_it_says(put):
    text = line("PRCP", {1: 0, 2: 5, 8: 0}) + line("MDPR", {7: 381}) + line("DAPR", {7: 3})
    record = weather.read(put(text))
    assert [Flag(code).name for code in record.flags["rain_mm"]] == [
        "OBSERVED", "OBSERVED", "MISSING", "MISSING", "ACCUMULATED", "ACCUMULATED", "ACCUMULATED", "OBSERVED",
    ]  # fmt: skip
    assert np.nansum(record.rain_mm) == 0.5


def test_fixed_total_without_a_count_covers_the_unmeasured_days_before_it(put):
    record = weather.read(put(line("PRCP", {1: 0, 2: 5, 8: 0}) + line("MDPR", {7: 381})))
    assert [Flag(code).name for code in record.flags["rain_mm"][2:7]] == ["ACCUMULATED"] * 5


def test_fixed_total_the_publisher_doubts_is_no_total(put):
    record = weather.read(
        put(line("PRCP", {1: 0, 8: 0}) + line("MDPR", {7: (381, " L ")}) + line("DAPR", {7: 3}))
    )
    assert Flag.ACCUMULATED not in record.flags["rain_mm"].tolist()


def test_fixed_line_cut_of_its_blanks_and_other_elements_are_fine(put):
    text = (
        line("PRCP", {1: 10}).replace("-9999   ", "        ").rstrip()
        + "\n"
        + line("SNWD", {1: 2959})
        + line("WT01", {2: 1})
    )
    record = weather.read(put(text))
    assert record.rain_mm.tolist() == [1.0]


def test_fixed_wind_and_mean_temperature(put):
    record = weather.read(
        put(line("AWND", {1: 31}) + line("TAVG", {1: (152, "H S")}) + line("TMAX", {1: 200}))
    )
    assert (record.wind_m_s.tolist(), record.t_mean_c.tolist()) == ([3.1], [15.2])


@pytest.mark.parametrize(
    ("text", "where", "word"),
    [
        (line("PRCP", {30: 5}), 1, "end of the month"),
        (line("PRCP", {1: 5}, month=13), 1, "no such month"),
        (line("PRCP", {1: 5}) + line("PRCP", {1: 5}), None, "twice"),
        (line("PRCP", {1: 5}) + line("PRCP", {1: 5}, station="XX000000002"), None, "2 stations"),
        (line("PRCP", {1: 5}) + "what is this\n", 2, "not of the fixed-width layout"),
        (line("PRCP", {1: 5, 2: 77}).replace("   77 ", "  7x7 "), 1, "no whole number"),
        (line("SNOW", {1: 5}), None, "rain or temperature"),
        (line("PRCP", {}), None, "Every value is missing"),
    ],
)
def test_fixed_broken_file_is_refused(faults_of, text, where, word):
    (problem,) = faults_of(text)
    assert (problem.line, word in problem.what) == (where, True)
