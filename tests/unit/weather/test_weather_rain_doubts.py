"""Codes read as rain, and noughts of gauges that measured nothing."""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import Flag

YEARS = 8
FIRST = np.datetime64("2015-01-01")


def climate(days=YEARS * 365, seed=7):
    """Temperatures with seasons, and rain on a third of the days, never for more than some weeks dry."""
    chance = np.random.default_rng(seed)
    low = np.round(8 - 11 * np.cos(2 * np.pi * np.arange(days) / 365.25) + chance.normal(0, 3, days), 1)
    high = np.round(low + chance.uniform(6, 14, days), 1)
    rain = np.where(chance.random(days) < 0.35, np.round(chance.gamma(0.8, 8, days) + 0.1, 1), 0.0)
    return low, high, rain


def record_of(put, low, high, rain, unit="mm", head=""):
    cells = [str(value) if isinstance(value, str) else f"{value:.2f}" for value in rain]
    rows = [
        f"{FIRST + day},{a},{b},{c}\n" for day, (a, b, c) in enumerate(zip(low, high, cells, strict=True))
    ]
    return weather.read(put(f"{head}date,tmin_C,tmax_C,rain_{unit}\n{''.join(rows)}"))


def of_kind(record, kind):
    return [issue for issue in record.issues if issue.kind == kind]


@pytest.mark.parametrize(
    ("code", "unit", "per_unit"),
    [(99.9, "mm", 1.0), (999, "mm", 1.0), (99.99, "mm", 1.0), (9.99, "in", 25.4), (99.99, "in", 25.4)],
)
def test_code_for_missing_rain_is_no_rain(put, code, unit, per_unit):
    low, high, rain = climate()
    expected = rain.copy()
    rain = np.round(rain / per_unit, 2)
    where = np.arange(40, len(rain), 90)
    rain[where] = code
    record = record_of(put, low, high, rain, unit)
    assert (record.flags["rain_mm"][where] == Flag.SUSPECT).all()
    (issue,) = [issue for issue in of_kind(record, "suspect") if issue.element == "rain_mm"]
    assert issue.days == len(where)
    kept = np.delete(record.rain_mm, where)
    np.testing.assert_allclose(kept, np.delete(expected, where), atol=0.15)


def test_code_for_missing_rain_asks_what_it_means(put):
    low, high, rain = climate()
    rain[::100] = 99.9
    (issue,) = of_kind(record_of(put, low, high, rain), "suspect")
    assert "exactly 99.9 mm" in issue.text
    assert "may stand for a missing value" in issue.text
    assert "Ask the station what the number means." in issue.instead


def test_code_noted_twice_only_is_told_and_put_aside(put):
    low, high, rain = climate()
    rain[[100, 900]] = 999
    record = record_of(put, low, high, rain)
    (issue,) = of_kind(record, "step")
    assert "999 mm" in issue.text
    assert np.flatnonzero(np.isnan(record.rain_mm)).tolist() == [100, 900]


def test_three_cloudbursts_of_different_size_are_rain(put):
    low, high, rain = climate()
    rain[[100, 900, 1700, 2500]] = (99.9, 99.9, 104.1, 96.5)
    record = record_of(put, low, high, rain)
    assert of_kind(record, "suspect") == []
    assert not np.isnan(record.rain_mm).any()


def test_wet_place_read_to_the_inch_keeps_its_heavy_days(put):
    low, high, rain = climate()
    heavy = np.arange(20, len(rain), 40)
    inches = np.round(rain / 25.4, 0)
    inches[heavy] = np.resize([2.0, 2.0, 3.0, 2.0, 1.0, 2.0], heavy.size)
    inches[heavy[0]] = 4.0
    record = record_of(put, low, high, inches, "in")
    assert not np.isnan(record.rain_mm[heavy]).any()


def test_noughts_beside_temperatures_that_stand_still_are_not_measured(put):
    low, high, rain = climate()
    low[500:530], high[500:530], rain[500:530] = 11.0, 21.0, 0.0
    record = record_of(put, low, high, rain)
    (issue,) = of_kind(record, "false zeros")
    assert (issue.element, issue.days) == ("rain_mm", 30)
    assert (record.flags["rain_mm"][500:530] == Flag.SUSPECT).all()
    assert (record.flags["rain_mm"] == Flag.SUSPECT).sum() == 30


def test_gauge_that_goes_on_beside_a_stuck_thermometer_is_believed(put):
    low, high, rain = climate()
    low[500:530], high[500:530] = 11.0, 21.0
    rain[510:512] = 4.2
    record = record_of(put, low, high, rain)
    assert of_kind(record, "false zeros") == []
    assert not np.isnan(record.rain_mm).any()


def test_dry_season_a_wet_place_never_has_is_not_believed(put):
    low, high, rain = climate()
    rain[1200:1320] = 0.0
    record = record_of(put, low, high, rain)
    (issue,) = of_kind(record, "false zeros")
    assert issue.days >= 120
    assert "other years" in issue.evidence
    assert (record.flags["rain_mm"][1200:1320] == Flag.SUSPECT).all()


def test_rain_a_person_has_checked_is_believed_and_told(put):
    low, high, rain = climate()
    rain[1200:1320] = 0.0
    rain[2000:2100:10] = 99.9
    record = record_of(put, low, high, rain, head="# checked: rain\n")
    assert not np.isnan(record.rain_mm).any()
    told = of_kind(record, "stated")
    assert [issue.days >= 10 for issue in told] == [True, True]
    assert {issue.instead for issue in told} == {"Kept, as the file says that its rain was checked."}
    doubted = record_of(put, low, high, rain)
    assert np.isnan(doubted.rain_mm).sum() >= 130
    for issue in of_kind(doubted, "suspect") + of_kind(doubted, "false zeros"):
        assert '"# checked: rain"' in issue.instead


def test_a_trace_shows_that_the_gauge_was_read(put):
    low, high, rain = climate()
    cells = [f"{value:.1f}" for value in rain]
    cells[1200:1320] = ["0.0"] * 120
    cells[1200:1320:30] = ["T"] * 4
    record = record_of(put, low, high, cells)
    assert of_kind(record, "false zeros") == []


def test_dry_season_of_every_year_is_believed(put):
    low, high, rain = climate()
    day = np.arange(len(rain)) % 365
    rain[(day > 120) & (day < 290)] = 0.0
    record = record_of(put, low, high, rain)
    assert of_kind(record, "false zeros") == []
    assert not np.isnan(record.rain_mm).any()


def test_dry_spell_in_a_record_too_short_to_know_is_kept(put):
    low, high, rain = climate(3 * 365)
    rain[400:520] = 0.0
    record = record_of(put, low, high, rain)
    assert of_kind(record, "false zeros") == []
    assert not np.isnan(record.rain_mm).any()
