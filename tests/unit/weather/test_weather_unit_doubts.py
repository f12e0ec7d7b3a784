"""Records in another unit than they say: put aside whole, named, and settled by a line of the person's own."""

import json

import numpy as np
import pytest
from click.testing import CliRunner

from dooryard import weather
from dooryard.cli.app import dooryard
from dooryard.problem import InputError
from dooryard.weather import Flag, plain_text

FIRST = np.datetime64("2021-01-01")


def columns(days, seed=3):
    """Lowest and highest temperature [degC] of a place with four seasons and rain [mm] on a third of its days."""
    chance = np.random.default_rng(seed)
    season = 12 - 13 * np.cos(2 * np.pi * np.arange(days) / 365.25)
    low = np.round(season - 5 + chance.normal(0, 3, days), 1)
    high = np.round(low + chance.uniform(6, 14, days), 1)
    rain = np.where(chance.random(days) < 0.35, np.round(chance.gamma(0.8, 7, days) + 0.1, 1), 0.0)
    return low, high, rain


def fahrenheit(celsius):
    return np.round(celsius * 1.8 + 32, 1)


def text_of(low, high, rain, header="date,tmin_C,tmax_C,rain_mm", head=""):
    rows = [f"{FIRST + day},{a},{b},{c}\n" for day, (a, b, c) in enumerate(zip(low, high, rain, strict=True))]
    return f"{head}{header}\n{''.join(rows)}"


def of_kind(record, *kinds):
    return [issue for issue in record.issues if issue.kind in kinds]


def unused(record, name):
    return np.isnan(record.element(name)) & (record.flags[name] == Flag.SUSPECT)


def test_honest_record_raises_no_unit_doubt(put):
    record = weather.read(put(text_of(*columns(800))))
    assert of_kind(record, "units", "stated", "suspect") == []


def test_fahrenheit_of_one_summer_month_is_put_aside_whole(put):
    low, high, rain = (column[180:210] for column in columns(400))
    record = weather.read(put(text_of(fahrenheit(low), fahrenheit(high), rain)))
    (issue,) = of_kind(record, "units")
    assert "degrees Fahrenheit" in issue.text
    assert issue.days == 30
    assert unused(record, "t_min_c").all()
    assert unused(record, "t_max_c").all()
    assert not np.isnan(record.rain_mm).any()


def test_fahrenheit_in_the_last_two_years_leaves_the_years_before_alone(put):
    low, high, rain = columns(5 * 365)
    for column in (low, high):
        column[3 * 365 :] = fahrenheit(column[3 * 365 :])
    record = weather.read(put(text_of(low, high, rain)))
    (issue,) = of_kind(record, "units")
    assert unused(record, "t_max_c")[3 * 365 :].all()
    assert not unused(record, "t_max_c")[: 3 * 365 - 183].any()
    assert "above 56.7 degC" in issue.evidence


def test_celsius_called_fahrenheit_is_put_aside(put):
    low, high, rain = columns(800)
    record = weather.read(put(text_of(low, high, rain, "date,tmin_F,tmax_F,rain_mm")))
    (issue,) = of_kind(record, "units")
    assert "degrees Celsius taken for Fahrenheit" in issue.text
    assert unused(record, "t_min_c").all()


@pytest.mark.parametrize(("factor", "words"), [(10, "a tenth of it"), (0.1, "ten times as much")])
def test_tenfold_temperatures_are_put_aside_in_spite_of_a_few_wild_values(put, factor, words):
    low, high, rain = columns(800)
    low, high = np.round(low * factor, 2), np.round(high * factor, 2)
    high[[100, 200, 300]] = high.max() * 3
    record = weather.read(put(text_of(low, high, rain)))
    (issue,) = of_kind(record, "units")
    assert words in issue.text
    assert unused(record, "t_max_c").all()


@pytest.mark.parametrize(
    ("factor", "words"), [(10, "a tenth of it in Fahrenheit"), (0.1, "ten times as much in Fahrenheit")]
)
def test_tenfold_fahrenheit_is_put_aside(put, factor, words):
    low, high, rain = columns(800)
    low, high = (np.round(fahrenheit(column) * factor, 2) for column in (low, high))
    record = weather.read(put(text_of(low, high, rain, "date,tmin_F,tmax_F,rain_mm")))
    (issue,) = of_kind(record, "units")
    assert words in issue.text
    assert unused(record, "t_max_c").all()


@pytest.mark.parametrize(
    ("factor", "header", "words"),
    [
        (1 / 25.4, "rain_mm", "inches"),
        (1.0, "rain_in", "millimetres taken for inches"),
        (0.1, "rain_mm", "ten times as much"),
        (10.0, "rain_mm", "a tenth of it"),
    ],
)
def test_rain_in_another_unit_is_put_aside_dry_days_and_all(put, factor, header, words):
    low, high, rain = columns(800)
    scaled = np.where(rain > 0, np.maximum(np.round(rain * factor, 2), 0.01), 0)
    record = weather.read(put(text_of(low, high, scaled, f"date,tmin_C,tmax_C,{header}")))
    (issue,) = of_kind(record, "units")
    assert words in issue.text
    assert issue.element == "rain_mm"
    # Zeros that were kept beside would make a drought of it.
    assert unused(record, "rain_mm").all()
    assert not np.isnan(record.t_max_c).any()


def test_unit_a_person_states_is_believed_and_told(put):
    low, high, rain = columns(800)
    drizzle = np.where(rain > 0, 0.3, 0.0)
    text = text_of(low, high, drizzle)
    assert unused(weather.read(put(text)), "rain_mm").all()
    for line in ("# units: metric\n", "# units: header\n"):
        record = weather.read(put(line + text))
        assert of_kind(record, "units") == []
        (issue,) = of_kind(record, "stated")
        assert issue.instead == "Kept, as a person stated the unit."
        assert not np.isnan(record.rain_mm).any()


def test_record_whose_unit_was_stated_can_be_written_and_read_again(put):
    low, high, rain = columns(800)
    text = "# units: metric\n" + text_of(low, high, np.where(rain > 0, 0.3, 0.0))
    again = weather.read(put(plain_text.render(weather.read(put(text))), "again.csv"))
    assert not np.isnan(again.rain_mm).any()
    assert len(of_kind(again, "stated")) == 1


def test_units_line_that_contradicts_the_header_is_refused_with_both(faults_of):
    (problem,) = faults_of(
        text_of(*columns(3), head="# units: standard\n", header="date,tmin_C,tmax_F,rain_in")
    )
    assert (problem.line, problem.found) == (2, "tmin_C")
    assert "# units: header" in problem.instead


def test_layout_a_person_names_settles_the_unit_of_daily_summaries(put):
    low, high, rain = columns(800)
    rows = [
        f"S1,{FIRST + day},{a},{b},{c}\n"
        for day, (a, b, c) in enumerate(zip(low / 10, high / 10, rain, strict=True))
    ]
    path = put("STATION,DATE,TMIN,TMAX,PRCP\n" + "".join(rows))
    with pytest.raises(InputError, match="--layout daily-summaries-standard"):
        weather.read(path)
    assert not np.isnan(weather.read(path, "daily-summaries-metric").t_max_c).any()


def test_tenfold_temperatures_of_a_season_only_are_put_aside(put):
    low, high, rain = (column[60:150] for column in columns(400))
    record = weather.read(put(text_of(np.round(low / 10, 2), np.round(high / 10, 2), rain)))
    (issue,) = of_kind(record, "units")
    assert "ten times as much" in issue.text
    assert unused(record, "t_max_c").all()


def test_kelvin_is_named(put):
    low, high, rain = columns(400)
    record = weather.read(put(text_of(low + 273.1, high + 273.1, rain)))
    (issue,) = of_kind(record, "units")
    assert "(kelvin)" in issue.text
    assert unused(record, "t_min_c").all()


def test_code_for_a_missing_value_is_no_unit_doubt(put):
    low, high, rain = columns(800)
    high[::20] = 999
    record = weather.read(put(text_of(low, high, rain)))
    assert of_kind(record, "units") == []
    assert (unused(record, "t_max_c") == (high == 999)).all()


def test_island_whose_nights_are_like_its_days_is_told_and_kept(put):
    chance = np.random.default_rng(1)
    low = np.round(12 - 4 * np.cos(2 * np.pi * np.arange(800) / 365.25) + chance.normal(0, 1, 800), 1)
    record = weather.read(put(text_of(low, np.round(low + 2, 1), columns(800)[2])))
    (issue,) = of_kind(record, "units")
    assert issue.instead.startswith("Kept.")
    assert not np.isnan(record.t_min_c).any()


def test_columns_exchanged_are_put_aside_with_that_hint(put):
    low, high, rain = columns(60)
    record = weather.read(put(text_of(high, low, rain)))
    (issue,) = of_kind(record, "suspect")
    assert "exchanged" in issue.text
    assert unused(record, "t_min_c").all()
    assert unused(record, "t_max_c").all()


def test_compare_says_that_the_unit_is_in_doubt(put):
    low, high, rain = columns(1500)
    path = str(put(text_of(np.round(low / 10, 2), np.round(high / 10, 2), rain)))
    shown = CliRunner().invoke(dooryard, ["weather", "compare", path])
    assert "the unit may be another one (ten times as much)" in " ".join(shown.stdout.split())
    told = json.loads(CliRunner().invoke(dooryard, ["weather", "compare", path, "--json"]).stdout)
    assert len(told["warnings"]) == 1
    assert {row["key"] for row in told["rows"]} == {"rain_mm"}
