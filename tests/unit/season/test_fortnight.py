"""What two weeks of plain weather meant for diseases, from hours and from days."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter import plain
from dooryard.problem import InputError
from dooryard.season.infection.daily import dew_point_from_humidity, wet_hours
from dooryard.season.infection.days import from_days, from_hours
from dooryard.season.infection.fortnight import DISEASES, Days, Meant, doubt, meant
from dooryard.water.air import saturation_vapour_pressure
from dooryard.weather.hourly import HourlyRecord
from dooryard.weather.record import Flag, Source, Station
from tests.water_yards import days, record

ON = date(2010, 6, 15)


def hours(
    wet: tuple[int, ...], air_c: float = 20.0, count: int = 14, missing: tuple[int, ...] = ()
) -> HourlyRecord:
    """Days of even air, humid in the hours named of each day, up to the eve of `ON`; hours of the run left out."""
    size = count * 24
    humid = np.where(np.isin(np.arange(size) % 24, wet), 95.0, 60.0)
    air = np.full(size, air_c)
    for hour in missing:
        humid[hour] = air[hour] = np.nan
    times = np.datetime64("2010-06-15T00") - size + np.arange(size)
    columns = {"temperature_c": air, "humidity_pct": humid, "rain_mm": np.zeros(size)}
    flags = {
        name: np.where(np.isnan(values), Flag.MISSING, Flag.OBSERVED).astype(np.uint8)
        for name, values in columns.items()
    }
    return HourlyRecord(Station("Made-up"), times, flags, (), Source("made-up.csv", "hourly"), **columns)


def of(found: tuple[Meant, ...], disease: str) -> Meant:
    return next(one for one in found if one.disease == disease)


def test_eight_wet_hours_a_night_at_twenty_degrees_give_one_point_a_day(knowledge: Knowledge) -> None:
    """At 18 to 20 degC 4 to 8 wet hours are 1, so a week comes to 7 and two weeks to 14."""
    found = from_hours(hours(tuple(range(8))), ON, knowledge)
    assert found.wet_h.tolist() == [8.0] * 14
    assert found.wet_mean_c == pytest.approx(20.0)
    blight = of(meant(found, knowledge), "tomato early blight")
    assert (blight.value, blight.word) == (7, "favoured")
    assert "come to 7 of at most 28" in blight.sentences[0]
    assert "come to 14" in blight.sentences[1]


def test_three_wet_hours_favour_nothing(knowledge: Knowledge) -> None:
    found = meant(from_hours(hours((0, 1, 2)), ON, knowledge), knowledge)
    assert of(found, "tomato early blight").word == "not favoured"
    assert of(found, "apple scab").word == "not favoured"
    assert "the longest had 3 hours" in of(found, "apple scab").sentences[0]
    # At 68 °F light rust needs 2 wet hours and severe 4.
    rust = of(found, "cedar-apple rust")
    assert rust.value == 14
    assert "None of them were enough for many spots" in " ".join(rust.sentences)


def test_spell_over_midnight_is_one_and_long_enough_for_scab(knowledge: Knowledge) -> None:
    """Wet from 21 to 3: 6 hours at 68 °F is what scab needs, though no day has them in one piece."""
    found = from_hours(hours((0, 1, 2, 21, 22, 23)), ON, knowledge)
    # The first day begins with three hours of a spell, the last one ends with three.
    assert [one.wet_h for one in found.spells] == [3, *[6] * 13, 3]
    scab = of(meant(found, knowledge), "apple scab")
    assert scab.value == 13
    assert "6 wet hours and needed 6" in scab.sentences[0]


def test_day_with_a_missing_hour_is_not_known_and_said_so(knowledge: Knowledge) -> None:
    found = from_hours(hours(tuple(range(8)), missing=(13 * 24 + 20,)), ON, knowledge)
    assert np.isnan(found.wet_h[-1])
    told = meant(found, knowledge)
    assert of(told, "tomato early blight").word == "cannot tell"
    assert "Of 1 day nothing is known" in " ".join(of(told, "apple scab").sentences)


def test_days_outside_the_record_are_not_known(knowledge: Knowledge) -> None:
    found = from_hours(hours(tuple(range(8)), count=10), ON, knowledge)
    assert np.isnan(found.wet_h).tolist() == [True] * 4 + [False] * 10


def test_humid_warm_nights_warn_of_brown_patch(knowledge: Knowledge) -> None:
    warm = from_hours(hours(tuple(range(24)), air_c=21.0), ON, knowledge)
    patch = of(meant(warm, knowledge), "brown patch")
    assert patch.value == 14  # -21.5 + 0.15 * 95 + 1.4 * 21 - 0.033 * 441 = 7.6
    cold = of(meant(from_hours(hours(tuple(range(24)), air_c=10.0), ON, knowledge), knowledge), "brown patch")
    assert (cold.value, cold.word) == (0, "not favoured")


@pytest.mark.check("S-03-04", source="extension offices: what helps without a spray", status="seen")
def test_each_disease_names_what_helps_without_a_spray_and_the_status_of_its_table(
    knowledge: Knowledge,
) -> None:
    found = meant(from_hours(hours(tuple(range(8))), ON, knowledge), knowledge)
    assert [one.disease for one in found] == list(DISEASES)
    for one in found:
        assert knowledge.cautions[one.first].text.startswith("First:")
        assert one.method in knowledge.methods
        assert plain.grade("\n".join(one.sentences)) <= 8
    assert of(found, "tomato early blight").status == "from memory"
    assert of(found, "apple scab").status == "seen"
    assert [
        one.disease for one in meant(from_hours(hours((0,)), ON, knowledge), knowledge, ["apple scab"])
    ] == ["apple scab"]


def test_days_alone_say_how_far_they_may_be_off_and_hours_say_nothing(knowledge: Knowledge) -> None:
    dates = days("2010-06-01", "2010-06-14")
    weather = record(dates, t_min_c=15.0, t_max_c=25.0, dew_point_c=15.0)
    found = from_days(weather, ON, 40.0, knowledge)
    assert not found.by_hours
    assert len(found.spells) == 14
    assert "five stations" in doubt(found, knowledge)
    assert doubt(from_hours(hours((0,)), ON, knowledge), knowledge) == ""


def test_days_without_dew_point_or_humidity_are_refused(knowledge: Knowledge) -> None:
    weather = record(days("2010-06-01", "2010-06-14"), t_min_c=15.0, t_max_c=25.0)
    with pytest.raises(InputError, match="neither humidity nor dew point"):
        from_days(weather, ON, 40.0, knowledge)


def test_hours_without_humidity_use_the_dew_point_and_without_both_are_refused(knowledge: Knowledge) -> None:
    size = 14 * 24
    times = np.datetime64("2010-06-15T00") - size + np.arange(size)
    air = np.full(size, 20.0)
    dew = np.where(np.arange(size) % 24 < 5, 19.0, 10.0)
    flags = {name: np.zeros(size, dtype=np.uint8) for name in ("temperature_c", "dew_point_c")}
    made = HourlyRecord(
        Station("Made-up"),
        times,
        flags,
        (),
        Source("made-up.csv", "hourly"),
        temperature_c=air,
        dew_point_c=dew,
    )
    found = from_hours(made, ON, knowledge)
    assert found.wet_h.tolist() == [5.0] * 14
    assert found.humidity_pct is None
    assert of(meant(found, knowledge), "brown patch").word == "cannot tell"
    bare = HourlyRecord(
        Station("Made-up"), times, flags, (), Source("made-up.csv", "hourly"), temperature_c=air
    )
    with pytest.raises(InputError):
        from_hours(bare, ON, knowledge)


@pytest.mark.check("S-03-05", source="FAO-56 eq. 11 turned round", status="computed")
def test_dew_point_of_humid_air_holds_just_the_vapour_that_is_there() -> None:
    air, humid = np.array([5.0, 20.0, 35.0]), np.array([40.0, 75.0, 100.0])
    dew = dew_point_from_humidity(air, humid)
    assert saturation_vapour_pressure(dew) == pytest.approx(saturation_vapour_pressure(air) * humid / 100)


def test_wet_hours_of_days_rise_with_the_dew_point_and_a_missing_day_is_not_known() -> None:
    low, high = np.full(4, 10.0), np.full(4, 25.0)
    got = wet_hours(low, high, [0.0, 10.0, 14.0, np.nan], [150, 151, 152, 153], 40.0, nearest_c=2.0)
    assert got.wet_h[0] == 0
    assert 0 < got.wet_h[1] < got.wet_h[2] < 24
    assert np.isnan(got.wet_h[3])
    assert np.isnan(got.mean_c[0])
    assert 10.0 <= got.mean_c[1] < 12.0


def test_no_wet_hour_at_all_is_said_without_a_number(knowledge: Knowledge) -> None:
    nothing = Days(
        ON, np.zeros(14), np.full(14, np.nan), np.full(14, 5.0), np.full(14, 15.0), None, (), by_hours=True
    )
    assert "no wet hour is known" in of(meant(nothing, knowledge), "grape black rot").sentences[0]
