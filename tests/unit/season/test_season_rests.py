"""What a season report rests on beside the sums: names, blooms, moved dates, hours, words of what was seen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.knowledge import DatedWindow, load
from dooryard.problem import InputError
from dooryard.season import heat, hourly_heat, indicators, moved_dates, names, seen
from dooryard.season.timing import HeatSum, SeasonHeat
from dooryard.weather.hourly import HourlyRecord
from dooryard.weather.outlook import ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar

ON = date(2030, 5, 1)
WINDOW = DatedWindow(
    key="x", organism="bagworm", name="bags hatch", opens="05-10", closes="05-20", place="Elsewhere", latitude=None,
    source="S-OWN", status="judged", note="", origin="",
)  # fmt: skip


def years_of(level_c: float, last: date = date(2030, 12, 31)) -> WeatherRecord:
    """From 2015 on, 10 degC up to the end of March and then so many degrees warmer, night and day."""
    days = np.arange(np.datetime64("2015-01-01"), np.datetime64(last) + 1)
    month = days.astype("datetime64[M]").astype(int) % 12 + 1
    warm = np.where(month > 3, 10.0 + level_c, 10.0)
    values = {"t_min_c": warm, "t_max_c": warm}
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Here", latitude=38.0), days, values, flags, (), Source("made", "none"))


def heat_of(level_c: float, on: date = ON) -> SeasonHeat:
    record = years_of(level_c)
    return SeasonHeat(record, ahead(record, on), on)


# --- dates of another place


def test_dates_move_to_the_day_that_has_as_much_heat() -> None:
    """There 4 degrees a day from April: 40 days to 10 May make 160; here 5 a day, 32 days, 2 May."""
    got = moved_dates.move(WINDOW, heat_of(5.0), years_of(4.0), load())
    assert got.opens_cd == pytest.approx(160)
    assert got.opens is not None
    assert got.opens.likely == date(2030, 5, 2)
    assert got.closes is not None
    assert got.closes.likely == date(2030, 5, 10)  # 50 days of 4 are 40 of 5


def test_dates_of_a_place_like_ours_stay() -> None:
    got = moved_dates.move(WINDOW, heat_of(4.0), years_of(4.0), load())
    assert got.opens is not None
    assert got.opens.likely == date(2030, 5, 10)


def test_dates_without_the_other_place_are_refused() -> None:
    got = moved_dates.move(WINDOW, heat_of(4.0), None, load())
    assert got.opens is None
    assert got.refused is not None
    assert "Elsewhere" in got.refused


@pytest.mark.parametrize(
    ("last", "years", "said"), [(2020, 6, "6 whole years"), (2015, 1, "1 whole year of")]
)
def test_dates_with_too_few_years_of_the_other_place_are_refused(last: int, years: int, said: str) -> None:
    short = years_of(4.0, last=date(last, 12, 31))
    got = moved_dates.move(WINDOW, heat_of(4.0), short, load())
    assert got.opens is None
    assert got.years == years
    assert said in (got.refused or "")


def test_dates_are_not_moved_by_a_record_from_another_latitude() -> None:
    """The station of the record stands at 38 degrees; dates of a place at 41.9 are not its dates."""
    northern = replace(WINDOW, latitude=41.9)
    got = moved_dates.move(northern, heat_of(4.0), years_of(4.0), load())
    assert got.opens is None
    assert "another place" in (got.refused or "")
    assert (
        moved_dates.move(replace(WINDOW, latitude=38.6), heat_of(4.0), years_of(4.0), load()).opens
        is not None
    )


# --- hours


def hours_of(temperature_c: np.ndarray) -> HourlyRecord:
    """Hours from 1 January 2030 on."""
    hours = np.datetime64("2030-01-01T00", "h") + np.arange(len(temperature_c))
    flags = {"temperature_c": np.zeros(len(hours), dtype=np.uint8)}
    return HourlyRecord(
        Station("Here"), hours, flags, (), Source("made", "none"), temperature_c=temperature_c,
        low_c=temperature_c, high_c=temperature_c,
    )  # fmt: skip


def sine_day(low: float, high: float) -> np.ndarray:
    """Means of a sine day over each hour, exactly: lowest at its ends, highest in its middle."""
    edges = np.linspace(0, 2 * np.pi, 25)
    return (low + high) / 2 - (high - low) / 2 * np.diff(np.sin(edges)) / np.diff(edges)


def test_hours_of_a_day_above_the_base_give_its_mean() -> None:
    day = np.array([sine_day(12.0, 28.0)])
    assert float(hourly_heat.of_hours(day, 10.0)[0]) == pytest.approx(10.0)


@pytest.mark.check("S-01-04", source="numerical integration of the daily curve", status="computed")
@pytest.mark.parametrize("cutoff", ["none", "horizontal", "intermediate", "vertical"])
def test_fine_hours_of_a_sine_day_come_to_the_single_sine(cutoff: str) -> None:
    """The sine cut into 24,000 parts instead of 24 is summed to the closed form."""
    angle = (np.arange(24_000) + 0.5) / 24_000 * 2 * np.pi
    day = (19.0 - 14.0 * np.cos(angle))[None, :]
    got = float(hourly_heat.of_hours(day, 10.0, 28.0, cutoff)[0])
    assert got == pytest.approx(float(heat.sine(5.0, 33.0, 10.0, 28.0, cutoff)), abs=2e-3)


def test_day_that_lacks_four_hours_is_left_out_of_both_sums() -> None:
    temperature = np.tile(sine_day(6.0, 22.0), 10)
    temperature[30:34] = np.nan
    temperature[60:63] = np.nan
    got = hourly_heat.compare(
        hours_of(temperature), HeatSum("average", 10.0, None, "none", (1, 1)), date(2030, 1, 11)
    )
    assert (got.days, got.missing) == (9, 1)


def test_plain_mean_reads_low_on_days_that_cross_the_base() -> None:
    temperature = np.tile(sine_day(2.0, 16.0), 10)
    got = hourly_heat.compare(
        hours_of(temperature), HeatSum("average", 10.0, None, "none", (1, 1)), date(2030, 1, 11)
    )
    assert got.daily_cd == 0.0
    assert got.hourly_cd > 5.0
    assert got.difference_cd < 0


def test_hours_of_another_year_are_refused() -> None:
    with pytest.raises(InputError, match="none of the days"):
        hourly_heat.compare(
            hours_of(np.zeros(48)), HeatSum("average", 10.0, None, "none", (1, 1)), date(2031, 6, 1)
        )


@given(st.lists(st.floats(-20, 45), min_size=24, max_size=24), st.floats(0, 15), st.floats(20, 35))
def test_hours_keep_the_order_of_the_cutoffs(day: list[float], lower: float, upper: float) -> None:
    table = np.array([day])
    none, level, falls, nil = (
        float(hourly_heat.of_hours(table, lower, upper, cutoff)[0])
        for cutoff in ("none", "horizontal", "intermediate", "vertical")
    )
    assert none >= level >= falls - 1e-9
    assert level >= nil >= 0


# --- blooms


def test_blooms_stand_around_the_pest_in_the_order_of_their_list() -> None:
    knowledge = load()
    stage = knowledge.stages["bagworm.hatch.ohio"]
    before, after = indicators.around(stage, knowledge, heat_of(6.0))
    numbers = [one.bloom.low_cd for one in (*before, *after)]
    assert numbers == sorted(numbers)
    assert after
    assert all(one.bloom.source == stage.source for one in (*before, *after))
    assert all(one.bloom.low_cd * 1.8 > 630 for one in after)


def test_bloom_seen_late_disagrees_and_carries_the_pest_along() -> None:
    knowledge, warm = load(), heat_of(6.0)
    bloom = next(
        row for row in knowledge.blooms if row.plant == "black locust" and row.event == "first bloom"
    )
    expected = indicators.crossings([bloom], warm)[0].crossing.likely
    assert expected is not None
    late = expected + timedelta(days=8)
    warm = heat_of(6.0, on=late + timedelta(days=1))
    found = [
        one
        for one in indicators.opinions([(late, "black locust first bloom")], knowledge, warm)
        if one.bloom == bloom
    ]
    assert [(one.days, one.agrees) for one in found] == [(8, False)]
    assert indicators.carried(found, date(2030, 6, 1)) == (date(2030, 6, 9), date(2030, 6, 9))


def test_bloom_of_another_year_says_nothing() -> None:
    assert indicators.opinions([(date(2029, 5, 1), "black locust first bloom")], load(), heat_of(6.0)) == ()


# --- names and what was seen


@pytest.mark.parametrize("words", ["bagworm", "BAGWORM", "Thyridopteryx ephemeraeformis"])
def test_organism_is_found_by_its_names(words: str) -> None:
    assert names.find(words, load()).organisms == ("bagworm",)


def test_words_of_two_and_hyphens_are_one_name() -> None:
    assert names.find("fall webworm", load()) == names.find("fall-webworm", load())


def test_plant_stands_for_all_that_live_on_it() -> None:
    found = names.find("juniper", load())
    assert found.plant == "juniper"
    assert "bagworm" in found.organisms


def test_wrong_name_suggests_a_near_one() -> None:
    with pytest.raises(InputError, match="bagworm"):
        names.find("bagwrom", load())


def test_every_listed_name_is_found() -> None:
    knowledge = load()
    for name in (*names.organism_names(knowledge), *names.plant_names(knowledge)):
        names.find(name, knowledge)


def test_line_of_what_was_seen_gives_day_sign_place_and_surety() -> None:
    knowledge = load()
    named = names.find("bagworm", knowledge)
    told, blooms = seen.parse(
        ["2031-06-09: bags hatching at Creek Bottom (likely)", "2031-04-02: red maple first bloom"],
        named,
        knowledge,
        date(2031, 12, 31),
    )
    assert [(one.date, one.organism, one.plant, one.sure) for one in told] == [
        (date(2031, 6, 9), "bagworm", "Creek Bottom", "likely")
    ]
    assert blooms == ((date(2031, 4, 2), "red maple first bloom"),)


def test_sighting_on_a_plant_asked_about_must_name_the_pest() -> None:
    """ "hatching" may be scale or bagworms: only the named one is meant."""
    knowledge = load()
    juniper = names.find("juniper", knowledge)
    told, _ = seen.parse(["2031-05-20: bagworm eggs hatching"], juniper, knowledge, date(2031, 12, 31))
    assert [one.organism for one in told] == ["bagworm"]
    with pytest.raises(InputError, match="which pest"):
        seen.parse(["2031-05-20: eggs hatching"], juniper, knowledge, date(2031, 12, 31))


@pytest.mark.parametrize(
    "line", ["bags hatching", "9 June: bags", "2031-06-09:", "2031-06-09: moonflower in bloom"]
)
def test_line_that_cannot_be_used_says_how_to_write_it(line: str) -> None:
    knowledge = load()
    with pytest.raises(InputError, match="--seen"):
        seen.parse([line], names.find("bagworm", knowledge), knowledge, date(2031, 12, 31))
