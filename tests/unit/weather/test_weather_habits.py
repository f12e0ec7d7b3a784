"""What only a whole record gives away."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag

YEARS = 6


def made(put, change=None, first="2020-01-01", years=YEARS):
    """Some years of a mild place with rain every third day or so; `change` may alter the columns."""
    days = np.arange(
        first, str(np.datetime64(first) + np.timedelta64(years * 365, "D")), dtype="datetime64[D]"
    )
    noise = np.random.default_rng(5)
    season = 12 - 12 * np.cos(2 * np.pi * np.arange(len(days)) / 365.25)
    low = np.round(season - 5 + noise.normal(0, 3, len(days)), 1)
    high = np.round(low + noise.uniform(6, 14, len(days)), 1)
    rain = np.where(noise.random(len(days)) < 0.35, np.round(noise.gamma(0.8, 8, len(days)) + 0.1, 1), 0.0)
    columns = {"low": low, "high": high, "rain": rain}
    if change is not None:
        change(days, columns)

    def cell(value):
        return "" if np.isnan(value) else repr(float(value))

    rows = "".join(
        f"{day},{cell(lo)},{cell(hi)},{cell(wet)}\n"
        for day, lo, hi, wet in zip(days, columns["low"], columns["high"], columns["rain"], strict=True)
    )
    return weather.read(put("date,tmin_C,tmax_C,rain_mm\n" + rows))


def findings(record, *kinds):
    return [issue for issue in record.issues if issue.kind in kinds]


def test_habits_of_an_honest_record_raise_no_doubt(put):
    assert made(put).issues == ()


def test_habit_of_temperatures_ten_times_too_small_for_a_while(put):
    def change(days, columns):
        wrong = (days >= np.datetime64("2022-04-01")) & (days < np.datetime64("2022-07-01"))
        columns["low"][wrong] /= 10
        columns["high"][wrong] /= 10

    record = made(put, change)
    (issue,) = findings(record, "units")
    assert issue.evidence.startswith("0.1")
    place = record.position(issue.first), record.position(issue.last)
    assert np.isnan(record.t_max_c[place[0] + 1 : place[1]]).all()
    assert 85 <= (record.flags["t_max_c"] == Flag.SUSPECT).sum() <= 95


def test_habit_of_rain_in_another_unit_is_put_aside_until_a_person_says(put):
    def change(days, columns):
        wrong = days.astype("datetime64[Y]") == np.datetime64("2023")
        columns["rain"][wrong] = np.round(columns["rain"][wrong] / 25.4, 2)

    record = made(put, change)
    (issue,) = findings(record, "units")
    assert (issue.element, issue.first.year, issue.last.year) == ("rain_mm", 2023, 2023)
    assert "# units: metric" in issue.instead
    of_2023 = record.dates.astype("datetime64[Y]") == np.datetime64("2023")
    np.testing.assert_array_equal(np.isnan(record.rain_mm), of_2023)
    assert (record.flags["rain_mm"][of_2023] == Flag.SUSPECT).all()


def test_habit_of_one_season_of_drizzle_is_told_and_kept(put):
    def change(days, columns):
        season = (days >= np.datetime64("2023-01-01")) & (days < np.datetime64("2023-04-02"))
        columns["rain"][season] = np.round(columns["rain"][season] / 10, 2)

    record = made(put, change)
    (issue,) = findings(record, "units")
    assert issue.instead.startswith("It was kept")
    assert not np.isnan(record.rain_mm).any()


def test_habit_of_a_number_in_place_of_a_trace(put):
    def change(_, columns):
        columns["rain"][::30] = 0.025

    record = made(put, change)
    assert (record.flags["rain_mm"] == Flag.TRACE).sum() == len(record.dates[::30])
    assert (record.rain_mm[::30] == 0).all()
    assert findings(record, "trace")[0].days == len(record.dates[::30])


def test_habit_of_calculated_temperatures_among_read_ones(put):
    def change(_, columns):
        columns["low"][100:120] += 1 / 7

    record = made(put, change)
    (issue,) = findings(record, "filled")
    assert (issue.element, issue.days) == ("t_min_c", 20)
    assert (record.flags["t_min_c"][100:120] == Flag.ESTIMATED).all()
    assert (record.flags["t_max_c"] == Flag.OBSERVED).all()


def test_habit_of_months_copied_from_another_year(put):
    def change(days, columns):
        source, target = (
            np.flatnonzero(days.astype("datetime64[M]") == np.datetime64(m)) for m in ("2021-05", "2024-05")
        )
        for name in ("low", "high"):
            columns[name][target] = columns[name][source]

    (issue,) = findings(made(put, change), "filled")
    assert (str(issue.first), str(issue.last)) == ("2024-05-01", "2024-05-31")
    assert "2021-05 and 2024-05" in issue.evidence


@pytest.mark.parametrize(("value", "word"), [(np.nan, "missing"), (0.0, "nought")])
def test_habit_of_a_gauge_read_on_workdays(put, value, word):
    def change(days, columns):
        # 2020-01-01 was a Wednesday: four days later is a Sunday.
        sunday = (np.arange(len(days)) % 7) == 4
        columns["rain"][np.roll(sunday, 1)] += np.where(
            np.isnan(columns["rain"][sunday]), 0, columns["rain"][sunday]
        )
        columns["rain"][sunday] = value

    (issue,) = findings(made(put, change), "accumulated")
    assert f"On Sundays rain is {word}" in issue.text
    assert "Sundays" in issue.evidence


def test_habit_of_a_wettest_day_far_above_all_others_is_asked_about(put):
    def change(_, columns):
        columns["rain"][500] = 381.0

    record = made(put, change)
    (issue,) = findings(record, "step")
    assert issue.first == record.dates[500].astype(object)
    assert "38.1 mm" in issue.evidence
    assert record.rain_mm[500] == 381.0
