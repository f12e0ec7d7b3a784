"""The frost report of made-up yards whose nights can be worked out by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter import calendar, page, screen
from dooryard.plan.assemble import Sky
from dooryard.plan.frost import date_of
from dooryard.plan.frost_nights import odds_words
from dooryard.plan.frost_report import frost
from dooryard.weather.forecast import Forecast
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Bed, Plant, Yard
from tests.water_yards import days, record, yard

ON = dt.date(2010, 5, 5)
TOMATO = Bed("tomato bed", 4.0, "tomato", "silt-loam", "tap", "hose", planted=dt.date(2010, 5, 1))
LIMITS_C = [(f - 32) / 1.8 for f in (36, 32, 28, 24)]


def ten_years(last: dt.date | None = None) -> WeatherRecord:
    """Mild nights but for one at -3 degC on 20 April or a few days later and one in October; air of 15 degC in May."""
    dates = days("2000-01-01", str((last or ON) - dt.timedelta(days=1)))
    lows = np.full(len(dates), 8.0)
    for year in range(2000, 2010):
        for month, day in ((4, 20 + year % 5), (10, 10 + year % 7)):
            lows[int((np.datetime64(f"{year}-{month:02}-{day:02}") - dates[0]).astype(int))] = -3.0
    return record(dates, t_min_c=lows, t_max_c=22.0)


def forecast(*lows_f: float, first: dt.date = ON) -> Forecast:
    lows = (np.array(lows_f) - 32) / 1.8
    dates = np.datetime64(first) + np.arange(len(lows))
    dry = np.zeros(len(lows))
    return Forecast(first, dates, lows, lows + 12, dry, dry, dry, None, "made-up.csv")


def document(
    knowledge: Knowledge, place: Yard, *, foretold: Forecast | None = None, on: dt.date = ON
) -> dict[str, Any]:
    return frost(place, Sky(ten_years(on), foretold), knowledge, on).document()


def stop(doc: dict[str, Any], key: str) -> dict[str, Any]:
    return next(one for one in doc["walk"] if one["id"] == key)


def test_tonight_has_the_odds_of_a_curve_round_the_forecast_low(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard(beds=(TOMATO,)), foretold=forecast(50, 33))
    width = np.hypot(knowledge.fact("frost.forecast_error").value, knowledge.fact("frost.yard_unknown").value)
    expected = NormalDist((33 - 32) / 1.8, float(width)).cdf(0.0)
    assert doc["figures"]["night.frost"]["value"] == pytest.approx(expected, abs=1e-4)
    row = stop(doc, "nights")["table"]["rows"][0]
    assert row[:2] == ["6 May", "33 °F"]
    assert row[-1].startswith("tomato bed")
    assert [row[3]] == [odds_words(expected)]


def test_measured_offset_moves_the_night_and_narrows_it(knowledge: Knowledge) -> None:
    place = yard(beds=(TOMATO,))
    low = replace(place, place=replace(place.place, night_offset_c=-5 / 1.8))
    doc = document(knowledge, low, foretold=forecast(50, 38))
    assert doc["figures"]["night.low"]["value"] == pytest.approx((33 - 32) / 1.8)
    width = np.hypot(knowledge.fact("frost.forecast_error").value, knowledge.fact("frost.yard_varies").value)
    assert doc["figures"]["night.frost"]["value"] == pytest.approx(
        NormalDist(1 / 1.8, width).cdf(0), abs=1e-4
    )
    assert "5 °F colder here" in " ".join(stop(doc, "nights")["sentences"])


def test_covering_is_asked_on_the_eve_of_the_first_night_that_may_hurt(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard(beds=(TOMATO,)), foretold=forecast(50, 60, 60, 31))
    (cover,) = [task for task in doc["tasks"] if task["id"].startswith("frost.cover")]
    assert cover["from"] == cover["to"] == "2010-05-07"
    assert cover["place"] == "tomato bed"
    warm = document(knowledge, yard(beds=(TOMATO,)), foretold=forecast(50, 60, 60, 60))
    assert not [task for task in warm["tasks"] if task["id"].startswith("frost.cover")]


def test_without_a_forecast_the_odds_are_those_of_past_years(knowledge: Knowledge) -> None:
    on = dt.date(2010, 4, 14)
    doc = document(knowledge, yard(), on=on)
    assert "No forecast was given" in doc["summary"][0]
    assert stop(doc, "nights")["table"] is None
    # From 15 to 28 April each of the ten years had its night at -3 degC, 26.6 °F: at or below 28 and not 24.
    assert doc["figures"]["night.past.freeze"]["shown"] == "10 of 10"
    assert "night.past.hard_freeze" not in doc["figures"]


def test_forecast_that_does_not_hold_the_coming_night_says_so(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard(), foretold=forecast(40))
    assert "does not hold the coming night" in doc["summary"][0]


def test_beds_count_from_planting_to_harvest_and_trees_in_bloom(knowledge: Knowledge) -> None:
    later = replace(TOMATO, name="late bed", planted=dt.date(2010, 6, 1))
    done = replace(TOMATO, name="old bed", grows="radish", planted=dt.date(2010, 1, 1))
    place = replace(
        yard(beds=(TOMATO, later, done), storages=()),
        plants=(
            Plant("old peach", "peach", in_bloom=True),
            Plant("young pear", "pear"),
            Plant("apple", "apple", in_bloom=False),
            Plant("juniper", "juniper", in_bloom=True),
        ),
    )
    rows = stop(document(knowledge, place), "exposed")["table"]["rows"]
    assert [row[0] for row in rows] == ["tomato bed", "young pear, if it is in bloom", "old peach"]
    assert [row[1] for row in rows] == ["32 °F", "28 °F", "27 °F"]


def test_four_limits_stand_in_three_tables(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard())
    for key in ("last-cold", "first-cold", "season-length"):
        assert [row[0] for row in stop(doc, key)["table"]["rows"]] == ["36 °F", "32 °F", "28 °F", "24 °F"]
    rows = stop(doc, "last-cold")["table"]["rows"]
    # Ten springs, twice each on 20 to 24 April; none at 24 °F.
    assert rows[1][2] == "22 April"
    assert rows[3][1:] == ["seldom", "seldom", "seldom", "0 of 10"]


def test_planting_out_follows_the_frost_dates_of_the_coming_spring(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard(), on=dt.date(2010, 3, 1))
    assert doc["figures"]["planting.cool"]["low"] == "2010-03-11"  # 6 weeks before 22 April
    assert doc["figures"]["planting.cool"]["high"] == "2010-03-25"
    assert (
        dt.date(2010, 4, 23)
        <= dt.date.fromisoformat(doc["figures"]["planting.tender"]["value"])
        <= dt.date(2010, 4, 25)
    )
    assert document(knowledge, yard())["figures"]["planting.cool"]["low"].startswith("2011")


def test_soil_of_even_air_has_its_warmth_and_names_what_can_be_sown(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard())
    assert doc["figures"]["soil.warmth"]["value"] == pytest.approx(15.0, abs=0.2)
    words = {row[0]: row[1] for row in stop(doc, "soil")["table"]["rows"]}
    assert words["tomato"] == "ready"  # 15 degC is 59 °F, from 55 on
    assert "cucumber" not in words  # 60 °F at the least
    up = {row[0]: row[4] for row in stop(doc, "soil")["table"]["rows"]}
    assert up["tomato"] == "14 days"


def test_in_autumn_the_days_left_are_told_and_no_table_of_sowing(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard(), on=dt.date(2010, 9, 1))
    soil = stop(doc, "soil")
    assert soil["table"] is None
    assert "days to the day by which half" in " ".join(soil["sentences"])


def test_gap_in_the_last_weeks_refuses_the_soil_and_few_years_refuse_the_dates(knowledge: Knowledge) -> None:
    short = days("2009-01-01", "2010-05-04")
    lows = np.full(len(short), 8.0)
    lows[-12:-4] = np.nan
    weather = record(short, t_min_c=lows, t_max_c=22.0)
    doc = frost(yard(), Sky(weather), knowledge, ON)
    whats = [refusal.what for refusal in doc.refusals]
    assert "We will not say how warm the soil is" in whats
    assert "We will not give first and last frost dates" in whats
    assert doc.needs_a_person


def test_frost_dates_south_of_the_equator_are_refused(knowledge: Knowledge) -> None:
    place = yard()
    south = replace(place, place=replace(place.place, latitude=-35.0))
    assert [one["what"] for one in document(knowledge, south)["refusals"]] == [
        "We will not give first and last frost dates"
    ]


def test_report_is_drawn_in_every_form(knowledge: Knowledge) -> None:
    doc = document(knowledge, yard(beds=(TOMATO,)), foretold=forecast(50, 31))
    assert "frost report" in screen.render(doc, why=True)
    assert "Cold nights, and the soil" in page.render(doc)
    stamp = dt.datetime(2010, 5, 5, tzinfo=dt.UTC)
    assert b"tomato bed" in calendar.render(doc, stamp=stamp)


def test_day_of_the_year_means_the_same_date_in_leap_years() -> None:
    assert date_of(2031, 131) == dt.date(2031, 5, 11)
    assert date_of(2032, 131) == dt.date(2032, 5, 11)
    assert date_of(2032, 60) == dt.date(2032, 3, 1)
    assert date_of(2032, 0) == dt.date(2031, 12, 31)


@pytest.mark.parametrize(
    ("odds", "words"),
    [(0.01, "hardly"), (0.03, "5 %"), (0.5, "50 %"), (0.97, "95 %"), (0.99, "all but sure")],
)
def test_odds_are_said_to_the_next_twentieth_and_never_as_certain(odds: float, words: str) -> None:
    assert odds_words(odds) == words
