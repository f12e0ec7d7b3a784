"""Which station speaks for a yard, and a yard that is colder than its station."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from math import pi

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.weather import nearest, site
from dooryard.weather.distance import EARTH_RADIUS_KM, great_circle_km
from dooryard.weather.record import MADE_UP, Flag, Issue, Source, Station, WeatherRecord, on_calendar
from dooryard.weather.shelf_limits import limits
from dooryard.weather.shelved import About

ON = dt.date(2031, 6, 10)


def about(
    key: str,
    latitude: float | None = 38.0,
    longitude: float | None = -85.0,
    elevation_m: float | None = 200.0,
    *,
    last: dt.date = dt.date(2031, 6, 9),
    years: int = 30,
    missing: dict[str, int] | None = None,
) -> About:
    station = Station(key, key, latitude, longitude, elevation_m)
    gone = {"t_min_c": 0, "t_max_c": 0, "rain_mm": 0, **(missing or {})}
    return About(key, station, dt.date(2000, 1, 1), last, gone, years, (), ())


def ranked(*stations: About, elevation_m: float | None = 200.0) -> tuple[nearest.Candidate, ...]:
    return nearest.rank(38.0, -85.0, elevation_m, stations, ON, limits())


def record(lows: list[float], first: str = "2031-01-01", highs: list[float] | None = None) -> WeatherRecord:
    start = np.datetime64(first)
    t_min_c = np.array(lows, dtype=float)
    t_max_c = np.array(highs, dtype=float) if highs else t_min_c + 10
    values = {"t_min_c": t_min_c, "t_max_c": t_max_c}
    flags = {name: np.zeros(len(lows), dtype=np.uint8) for name in values}
    dates = np.arange(start, start + len(lows))
    return on_calendar(Station("A"), dates, values, flags, (), Source("a.csv", "made"))


@pytest.mark.parametrize(
    ("places", "share"),
    [
        ((0.0, 0.0, 0.0, 90.0), 1 / 4),
        ((0.0, 0.0, 0.0, 180.0), 1 / 2),
        ((90.0, 0.0, -90.0, 77.0), 1 / 2),
        ((38.0, -85.0, 38.0, -85.0), 0.0),
        ((10.0, 179.5, 10.0, -179.5), None),
    ],
)
def test_distance_along_great_circles_is_a_share_of_the_way_around(
    places: tuple[float, float, float, float], share: float | None
) -> None:
    if share is None:  # one degree of longitude across the date line, not 359
        assert great_circle_km(*places) == pytest.approx(great_circle_km(10.0, 0.0, 10.0, 1.0))
    else:
        assert great_circle_km(*places) == pytest.approx(share * 2 * pi * EARTH_RADIUS_KM)


def test_nearest_station_that_can_be_used_is_chosen() -> None:
    found = ranked(about("far", 38.3), about("near", 38.05), about("middle", 38.1))
    assert [one.about.key for one in found] == ["near", "middle", "far"]
    assert [one.chosen for one in found] == [True, False, False]
    assert found[0].distance_km == pytest.approx(2 * pi * EARTH_RADIUS_KM * 0.05 / 360)


def test_nearest_station_is_passed_over_for_what_it_lacks_and_why_is_told() -> None:
    days = about("x").days
    found = ranked(
        about("no-rain", 38.01, missing={"rain_mm": days}),
        about("stopped", 38.02, last=dt.date(2029, 1, 1)),
        about("young", 38.03, years=4),
        about("mountain", 38.04, elevation_m=900.0),
        about("valley", 38.05, elevation_m=20.0),
        about("good", 38.06),
    )
    assert [one.chosen for one in found] == [False] * 5 + [True]
    assert [one.against for one in found] == [
        ("It has no rain.",),
        ("It stops on 2029-01-01, 890 days before 2031-06-10.",),
        ("It has 4 whole years; 10 make fair ranges.",),
        ("It lies much higher than the yard.",),
        ("It lies much lower than the yard.",),
        (),
    ]
    assert found[3].rise_m == 700.0


def test_nearest_of_stations_that_all_have_something_against_them_is_none() -> None:
    found = ranked(about("far", 39.0), about("lost", None, None))
    assert not any(one.chosen for one in found)
    assert found[0].against == ("It is far away for rain.",)
    assert found[1].distance_km is None
    assert found[1].against == ("Its record does not say where it stands.",)


def test_nearest_without_the_yards_height_judges_no_height() -> None:
    (only,) = ranked(about("mountain", 38.04, elevation_m=2000.0), elevation_m=None)
    assert only.rise_m is None
    assert only.chosen


def test_nearest_of_equally_near_stations_is_the_first_by_key() -> None:
    assert ranked(about("b", 38.05), about("a", 38.05))[0].about.key == "a"


def test_site_offset_is_the_middle_difference_of_shared_nights() -> None:
    station = record([10.0] * 20)
    yard = record([8.0] * 6 + [7.0] * 8 + [5.0] * 5 + [float("nan")] * 4, "2031-01-02", highs=[20.0] * 23)
    found = site.measured_offset(yard, station, 10, 10.0)
    assert (found.nights, found.middle_c, found.refused) == (19, -3.0, "")
    assert (found.low_c, found.high_c) == (-4.0, -2.0)


@pytest.mark.parametrize(
    ("yard", "said"),
    [
        (record([8.0] * 9), "9 nights are in both"),
        (record([8.0] * 30, "2032-01-01"), "No night is in both"),
        (record([50.0] * 20, highs=[60.0] * 20), "check the unit"),
    ],
    ids=["few", "apart", "fahrenheit"],
)
def test_site_offset_that_cannot_be_told_is_refused(yard: WeatherRecord, said: str) -> None:
    assert said in site.measured_offset(yard, record([10.0] * 20), 10, 10.0).refused


def test_site_moved_nights_are_flagged_and_everything_else_stays() -> None:
    before = record([10.0, float("nan"), 12.0])
    after = site.moved(before, -2.0, reason="Low ground.")
    np.testing.assert_array_equal(after.t_min_c, [8.0, np.nan, 10.0])
    assert after.flags["t_min_c"].tolist() == [Flag.MOVED, Flag.MISSING, Flag.MOVED]
    assert after.t_max_c is before.t_max_c
    assert after.flags["t_max_c"].tolist() == before.flags["t_max_c"].tolist()
    (issue,) = after.issues
    assert issue.kind == "site"
    assert issue.text == "The yard is not its station: each night 2 °C colder. Low ground."
    assert issue.days == 2
    # The record that was moved is as it was.
    assert before.flags["t_min_c"].tolist() == [Flag.OBSERVED, Flag.MISSING, Flag.OBSERVED]


def test_site_moved_by_nothing_is_the_record_itself() -> None:
    before = record([10.0])
    assert site.moved(before, 0.0) is before


def test_site_moved_night_never_comes_out_above_its_day() -> None:
    after = site.moved(record([10.0, 10.0], highs=[11.0, 20.0]), 4.0)
    assert after.t_min_c.tolist() == [11.0, 14.0]
    assert "On 1 days" not in after.issues[0].instead
    assert "1 day" in after.issues[0].instead


def test_site_height_difference_follows_the_standard_atmosphere(knowledge: Knowledge) -> None:
    """ISO 2533: 15 degC at sea level, 8.5 degC at 1,000 m."""
    cooling = knowledge.fact("site.cooling_c_per_km").value
    assert site.height_difference_c(1000.0, cooling) == pytest.approx(15.0 - 8.5)
    assert site.height_difference_c(-200.0, cooling) == pytest.approx(-1.3)


def test_nearest_never_chooses_invented_weather_for_a_real_yard() -> None:
    made = replace(about("made"), issues=(Issue(MADE_UP, "This weather is invented."),))
    real = about("real", latitude=38.1)
    first, second = ranked(made, real)
    assert first.against == ("Its weather is invented: nobody measured it, so it speaks for no real yard.",)
    assert (first.chosen, second.chosen) == (False, True)
    at_home = nearest.rank(38.0, -85.0, 200.0, (made, real), ON, limits(), invented_too=True)
    assert [one.chosen for one in at_home] == [True, False]
