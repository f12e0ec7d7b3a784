"""Odds of a hard freeze by a date, from autumns and springs whose dates are plain."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from statistics import NormalDist, stdev
from typing import Any

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.plan.assemble import Sky
from dooryard.plan.water_report import water
from dooryard.weather.record import WeatherRecord
from dooryard.yard.model import Storage
from tests.water_yards import days, record, yard

# Day of a common year of the first hard freeze of autumn and of the last of spring, 2000 to 2005. The record ends
# before the autumn of 2005 in most tests, so that five autumns count.
FIRST = (292, 296, 300, 304, 308, 300)
LAST = (96, 98, 100, 102, 104, 100)


def cold_years(low_c: float = -4.0) -> WeatherRecord:
    """Six years with one freeze in spring and one in autumn, else mild."""
    dates = days("2000-01-01", "2005-12-31")
    t_min = np.full(len(dates), 8.0)
    for year, (spring, autumn) in enumerate(zip(LAST, FIRST, strict=True), start=2000):
        for day in (spring, autumn):
            on = (dt.date(2001, 1, 1) + dt.timedelta(days=day - 1)).replace(year=year)
            t_min[(on - dt.date(2000, 1, 1)).days] = low_c
    return record(dates, t_min_c=t_min, t_max_c=20.0)


def report(knowledge: Knowledge, weather: WeatherRecord, on: dt.date) -> dict[str, Any]:
    place = yard(storages=(Storage("barrel", 200.0, fed_by=("spout",)),))
    return water(place, Sky(weather), knowledge, on).document()


def test_freeze_odds_follow_the_spread_of_the_autumns(knowledge: Knowledge) -> None:
    """Mean day 300 (27 October), and a tenth of a normal curve below it."""
    document = report(knowledge, cold_years(), dt.date(2005, 6, 15))
    figures = document["figures"]
    early = 300 + NormalDist().inv_cdf(0.1) * stdev(FIRST[:5])
    assert figures["frost.autumn-50"]["value"] == "2005-10-27"
    assert figures["frost.autumn-10"]["value"] == str(
        dt.date(2005, 1, 1) + dt.timedelta(days=round(early) - 1)
    )
    late = 100 + NormalDist().inv_cdf(0.9) * stdev(LAST)
    # The spring of 2005 is past, so next spring's dates are told.
    assert figures["frost.spring-50"]["value"] == "2006-04-10"
    assert figures["frost.spring-90"]["value"] == str(
        dt.date(2006, 1, 1) + dt.timedelta(days=round(late) - 1)
    )


def test_freeze_table_says_seldom_for_nights_that_most_years_lack(knowledge: Knowledge) -> None:
    """No night of -6 degC in any autumn, so only the row of the hard freeze stands."""
    document = report(knowledge, cold_years(), dt.date(2005, 6, 15))
    table = next(stop["table"] for stop in document["walk"] if stop["id"] == "freeze")
    assert [row[0] for row in table["rows"]] == ["28 °F, drain before"]
    both = report(knowledge, cold_years(-8.0), dt.date(2005, 6, 15))
    table = next(stop["table"] for stop in both["walk"] if stop["id"] == "freeze")
    assert [row[2] for row in table["rows"]] == ["27 October", "27 October"]


def test_freeze_tasks_stand_on_these_dates(knowledge: Knowledge) -> None:
    document = report(knowledge, cold_years(), dt.date(2005, 6, 15))
    tasks = {task["id"]: task for task in [*document["tasks"], *document["ahead"]]}
    assert tasks["upkeep.spring"]["from"] == "2006-04-10"
    early = document["figures"]["frost.autumn-10"]["value"]
    assert tasks["upkeep.gutters"]["to"] == early
    assert tasks["frost.drain"]["to"] == early


def test_freeze_in_the_next_two_weeks_is_counted_in_past_years(knowledge: Knowledge) -> None:
    """From 25 October (day 298) on, 300, 304 and 308 lie within two weeks: three of the five years before 2005."""
    document = report(knowledge, cold_years(), dt.date(2005, 10, 25))
    figure = document["figures"]["frost.two-weeks"]
    assert figure["shown"] == "3 of 5 past years"


def test_freeze_odds_south_of_the_equator_are_refused(knowledge: Knowledge) -> None:
    place = yard(storages=(Storage("barrel", 200.0, fed_by=("spout",)),))
    south = replace(place, place=replace(place.place, latitude=-35.0))
    document = water(south, Sky(cold_years()), knowledge, dt.date(2005, 6, 15)).document()
    assert not any(stop["id"] == "freeze" for stop in document["walk"])
    assert "We will not give frost dates" in [refusal["what"] for refusal in document["refusals"]]


def test_freeze_odds_are_not_given_where_it_never_freezes(knowledge: Knowledge) -> None:
    warm = report(knowledge, cold_years(5.0), dt.date(2005, 6, 15))
    assert not any(stop["id"] == "freeze" for stop in warm["walk"])
    assert not any(task["id"] in ("upkeep.spring", "upkeep.gutters") for task in warm["ahead"])


@pytest.mark.parametrize(
    ("on", "middle"), [(dt.date(2005, 10, 20), "2005-10-27"), (dt.date(2005, 12, 20), "2006-10-27")]
)
def test_freeze_dates_of_autumn_stay_in_this_year_until_all_are_past(
    knowledge: Knowledge, on: dt.date, middle: str
) -> None:
    assert report(knowledge, cold_years(), on)["figures"]["frost.autumn-50"]["value"] == middle
