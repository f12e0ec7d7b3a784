"""What the quality check takes out, and what it only tells."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag


def plain(days, rows="tmin_C,tmax_C,rain_mm"):
    return f"date,{rows}\n" + "".join(f"{day},{row}\n" for day, row in days)


def calendar(first, count):
    return (np.datetime64(first) + np.arange(count)).astype(str)


def kinds(record):
    return [issue.kind for issue in record.issues]


@pytest.mark.parametrize(
    ("cells", "element"),
    [
        ("61,70,0", "t_min_c"),
        ("-95,5,0", "t_min_c"),
        ("5,61.2,0", "t_max_c"),
        ("5,15,1900", "rain_mm"),
        ("5,15,-3", "rain_mm"),
    ],
)
def test_quality_value_no_weather_reaches_is_taken_out_and_told(put, cells, element):
    record = weather.read(put(plain([("2031-05-01", "5,15,0"), ("2031-05-02", cells)])))
    assert record.flags[element].tolist() == [Flag.OBSERVED, Flag.SUSPECT]
    assert np.isnan(record.element(element)[1])
    assert "suspect" in kinds(record)


def test_quality_wind_of_a_thousand_miles_an_hour_is_taken_out(put):
    record = weather.read(put(plain([("2031-05-01", "5,15,0,1048")], "tmin_C,tmax_C,rain_mm,wind_mph")))
    assert record.flags["wind_m_s"].tolist() == [Flag.SUSPECT]


def test_quality_lowest_above_highest_takes_out_both(put):
    record = weather.read(put(plain([("1951-11-20", "39,4,0.1")], "tmin_F,tmax_F,rain_in")))
    assert np.isnan([record.t_min_c[0], record.t_max_c[0]]).all()
    assert record.rain_mm.tolist() == [pytest.approx(2.54)]
    issue = next(issue for issue in record.issues if issue.kind == "suspect")
    assert (str(issue.first), issue.days) == ("1951-11-20", 1)


def test_quality_equal_temperatures_in_fahrenheit_are_fine(put):
    record = weather.read(put(plain([("2031-05-01", "51,51,0")], "tmin_F,tmax_F,rain_in")))
    assert not np.isnan(record.t_min_c).any()


def year_of(scale, rain="0.0"):
    """A year of a mild place, its temperatures divided by `scale`."""
    days = calendar("2022-01-01", 365)
    season = 10 - 12 * np.cos(2 * np.pi * np.arange(365) / 365)
    return [
        (day, f"{(mean - 5) / scale:.2f},{(mean + 5) / scale:.2f},{rain}")
        for day, mean in zip(days, season, strict=True)
    ]


def test_quality_year_ten_times_too_cold_is_doubted(put):
    assert "units" in kinds(weather.read(put(plain(year_of(10)))))
    assert "units" not in kinds(weather.read(put(plain(year_of(1)))))


def test_quality_fahrenheit_called_celsius_is_doubted(put):
    rows = [
        (day, ",".join(str(9 * float(cell) / 5 + 32) for cell in row.split(",")[:2]) + ",1")
        for day, row in year_of(0.5)
    ]
    record = weather.read(put(plain(rows)))
    (issue,) = [issue for issue in record.issues if issue.kind == "units"]
    assert "degrees Fahrenheit" in issue.text
    assert "# units: " in issue.instead
    for name in ("t_min_c", "t_max_c"):
        assert set(record.flags[name].tolist()) == {Flag.SUSPECT}
        assert np.isnan(record.element(name)).all()


def test_quality_inches_called_millimetres_are_doubted(put):
    assert "units" in kinds(weather.read(put(plain(year_of(1, rain="0.30")))))
    assert "units" not in kinds(weather.read(put(plain(year_of(1, rain="7.6")))))


def test_quality_decades_without_a_gap_were_filled(put):
    days = calendar("2001-01-01", 7305)
    whole = [(day, "5,15,1.0") for day in days]
    holed = [(day, "5,15,1.0" if row % 100 else ",,") for row, day in enumerate(days)]
    assert "filled" in kinds(weather.read(put(plain(whole))))
    assert "filled" not in kinds(weather.read(put(plain(holed))))


@pytest.mark.parametrize(("blank", "told"), [("", True), ("T", False)])
def test_quality_blanks_where_traces_should_be_are_told(put, blank, told):
    rows = [
        (day, f"5,15,{blank if row % 8 == 0 else 1.0}") for row, day in enumerate(calendar("2022-01-01", 400))
    ]
    assert ("trace" in kinds(weather.read(put(plain(rows))))) is told


def test_quality_long_blank_stretches_are_gaps_not_lost_traces(put):
    rows = [
        (day, f"5,15,{'' if 100 < row < 160 else 1.0}") for row, day in enumerate(calendar("2022-01-01", 400))
    ]
    assert "trace" not in kinds(weather.read(put(plain(rows))))


def test_quality_year_without_a_drop_is_asked_about(put):
    rows = [(day, "5,15,0") for day in calendar("2022-01-01", 310)]
    record = weather.read(put(plain(rows)))
    assert any("Not a drop" in issue.text for issue in record.issues)
    rows = [(day, f"5,15,{1 if row == 150 else 0}") for row, day in enumerate(calendar("2022-01-01", 310))]
    record = weather.read(put(plain(rows)))
    assert not any("Not a drop" in issue.text for issue in record.issues)


def test_quality_gaps_beyond_the_longest_five_are_summed(put):
    rows = [
        (day, "5,15,0.5")
        for row, day in enumerate(calendar("2022-01-01", 141))
        if row % 20 < 20 - 4 - row // 20
    ]
    gaps = [issue for issue in weather.read(put(plain(rows))).issues if issue.kind == "gap"]
    # Seven gaps of 4 to 10 days (the last one ends with the record's last day): five told, two summed.
    assert [gap.days for gap in gaps] == [6, 7, 8, 9, 10, 9]
    assert gaps[-1].text.startswith("2 more gaps of 4 to 5 days")


def test_quality_columns_that_are_absent_are_told(put):
    record = weather.read(put("date,rain_mm\n2031-05-01,3\n"))
    assert np.isnan(record.t_min_c).all()
    assert record.flags["t_min_c"].tolist() == [Flag.MISSING]
    assert "columns" in kinds(record)


def test_quality_temperatures_ten_times_too_small_are_explained(put):
    days = calendar("2022-01-01", 365)
    rows = [(day, f"{0.5 + step % 3 / 10},{1.4 + step % 3 / 10},0") for step, day in enumerate(days)]
    issue = next(issue for issue in weather.read(put(plain(rows))).issues if issue.kind == "units")
    # Day and night 0.9 degC apart; ten times that is 9 degC.
    assert "ten times as much (9 degC between day and night, " in issue.evidence


def test_quality_element_without_any_value_is_told(put):
    rows = [(day, f"{5 + step % 3},15.{step % 4},") for step, day in enumerate(calendar("2022-01-01", 30))]
    (issue,) = weather.read(put(plain(rows))).issues
    assert (issue.kind, issue.days) == ("missing", 30)
    assert issue.text == "This record has no rain at all."


def test_quality_element_of_doubted_values_only_is_told_as_that(put):
    rows = [(day, f"5,15,{2 + step % 3}S") for step, day in enumerate(calendar("2022-01-01", 30))]
    (issue,) = [issue for issue in weather.read(put(plain(rows))).issues if issue.kind == "missing"]
    assert issue.text == "Not one value of the rain can be used."


def test_quality_absent_column_is_told_once(put):
    texts = [issue.text for issue in weather.read(put("date,tmin_C,tmax_C\n2031-05-01,3,4\n")).issues]
    assert texts == ["The file has no column for rain."]
