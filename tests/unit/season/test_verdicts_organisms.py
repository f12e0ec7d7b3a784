"""Verdicts on the shipped organisms at an invented station of a mid-latitude humid county."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from dooryard.knowledge import Knowledge, load
from dooryard.knowledge.load import SHIPPED
from dooryard.problem import InputError
from dooryard.season.verdicts import OrganismVerdict, judge, judge_all
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOT_HERE, NOW, OVER, SOON, TOO_EARLY, WORDS
from dooryard.weather.outlook import ahead
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Sighting

FIRST, LAST = date(1999, 1, 1), date(2030, 12, 31)


@cache
def station() -> WeatherRecord:
    """Thirty-two years: mean 13 degC, 12.5 degC warmer in July, days 11 degC wide, weather that lasts for days."""
    days = np.datetime64(FIRST, "D") + np.arange((LAST - FIRST).days + 1)
    random = np.random.default_rng(7)
    noise = np.empty(len(days))
    state = 0.0
    for i, shock in enumerate(random.normal(0, 3.2, len(days)).tolist()):
        state = 0.65 * state + shock
        noise[i] = state
    day_of_year = (days - days.astype("datetime64[Y]")).astype(int)
    mean = 13 - 12.5 * np.cos(2 * np.pi * (day_of_year - 18) / 365.25) + noise
    values = {"t_min_c": mean - 5.5, "t_max_c": mean + 5.5}
    flags = {name: np.full(len(days), Flag.OBSERVED, dtype=np.uint8) for name in values}
    return on_calendar(Station("Mill Hollow", latitude=38.0), days, values, flags, (), Source("made", "none"))


def without(first: date, last: date) -> WeatherRecord:
    """The station with the temperatures of some days lost."""
    record = station()
    t_min, t_max = record.t_min_c.copy(), record.t_max_c.copy()
    i, j = (first - FIRST).days, (last - FIRST).days + 1
    t_min[i:j] = t_max[i:j] = np.nan
    return replace(record, t_min_c=t_min, t_max_c=t_max)


def verdict(
    organism: str, on: date, sightings: tuple[Sighting, ...] = (), **kinds: set[str]
) -> OrganismVerdict:
    record = station()
    return judge(
        organism, load(), record, ahead(record, on), on, sightings, plant_kinds=kinds.get("plant_kinds")
    )


def opening_of(organism: str) -> date:
    """The usual opening of the deciding window, seen from February."""
    usual = verdict(organism, date(2030, 2, 1)).usual[0]
    assert usual is not None
    return usual


@pytest.mark.check(
    "S-02-A", source="what county offices of the humid middle latitudes say", status="common practice"
)
@pytest.mark.parametrize(
    ("organism", "first", "last"),
    [
        ("bagworm", (5, 10), (6, 10)),
        ("fall-webworm", (5, 25), (6, 30)),
        ("eastern-tent-caterpillar", (3, 1), (4, 20)),
        ("magnolia-scale", (7, 1), (8, 31)),
        ("peachtree-borer", (5, 25), (6, 20)),
    ],
)
def test_usual_opening_lies_where_county_offices_say(
    organism: str, first: tuple[int, int], last: tuple[int, int]
) -> None:
    assert date(2030, *first) <= opening_of(organism) <= date(2030, *last)


def test_bagworm_goes_through_its_words_in_order_and_back_to_too_early_at_new_year() -> None:
    words = [verdict("bagworm", date(2030, 3, 1) + timedelta(days=4 * step)).word for step in range(70)]
    order = [TOO_EARLY, SOON, NOW, CLOSING, OVER]
    assert [order.index(word) for word in words] == sorted(order.index(word) for word in words)
    assert set(words) >= {TOO_EARLY, SOON, CLOSING, OVER}
    assert verdict("bagworm", date(2030, 1, 5)).word == TOO_EARLY


@pytest.mark.parametrize("on", [date(2030, m, 12) for m in range(1, 13)], ids=lambda day: f"{day:%b}")
def test_every_shipped_organism_gets_a_word_with_reason_verb_and_change(on: date) -> None:
    record = station()
    knowledge = load()
    for one in judge_all(knowledge.organisms, knowledge, record, ahead(record, on), on):
        assert one.word in WORDS
        assert one.reason.endswith(".")
        assert one.do_now.split(" ")[0].rstrip(".:") in ("Look", "Do", "Wait", "Ask")
        assert one.changes_on is None or one.changes_on > on
        assert (one.refusal is not None) == (one.word == CANNOT_TELL)
        assert len(one.rows) == len(knowledge.stages_of(one.organism))
        assert all(row.note.startswith("Dates from") for row in one.rows if row.stage.kind == "calendar")
        line = one.line
        spans = [day for day in (line.earliest, line.likely_from) if day is not None]
        assert spans == sorted(spans)


def test_over_says_what_helps_later_and_when_sums_begin_anew() -> None:
    one = verdict("bagworm", date(2030, 11, 25))
    assert one.word == OVER
    assert one.do_now == load().organisms["bagworm"].do_over
    assert one.changes_on == date(2031, 1, 1)


def test_tent_caterpillar_tables_are_told_to_differ_and_send_people_to_look_first() -> None:
    on = opening_of("eastern-tent-caterpillar") + timedelta(days=4)
    one = verdict("eastern-tent-caterpillar", on)
    assert one.conflict is not None
    assert "New Jersey (90 degree-days above 50 °F)" in one.conflict
    assert "About today they say:" in one.conflict
    assert len({window.word for window in one.windows}) > 1
    assert one.do_now.startswith("Look on the plant itself.")


def test_ash_borer_tables_agree_on_the_opening_and_differ_about_the_peak() -> None:
    one = verdict("emerald-ash-borer", date(2030, 5, 1))
    assert one.conflict is None or "ends" in one.conflict
    closes = {window.window.key: window.closes.likely for window in one.windows}
    assert closes["emerald-ash-borer.kentucky"] < closes["emerald-ash-borer.illinois"]  # 750 before 1000


@pytest.mark.parametrize("sure", ["certain", "likely"])
def test_right_stage_seen_in_the_yard_opens_the_window(sure: str) -> None:
    on = opening_of("bagworm") - timedelta(days=25)
    assert verdict("bagworm", on).word == TOO_EARLY
    seen = Sighting(on - timedelta(days=1), "hedge", "bagworm", "eggs hatching", sure)  # type: ignore[arg-type]
    one = verdict("bagworm", on, (seen,))
    assert one.word == NOW
    assert one.rule.startswith("seen in this yard")
    assert one.sightings == (seen,)


def test_old_bags_an_unsure_eye_or_last_year_do_not_open_the_window() -> None:
    on = opening_of("bagworm") - timedelta(days=25)
    for seen in (
        Sighting(on, "hedge", "bagworm", "old bags", "certain"),
        Sighting(on, "hedge", "bagworm", "eggs hatching", "unsure"),
        Sighting(on.replace(year=2029), "hedge", "bagworm", "eggs hatching", "certain"),
        Sighting(on, "hedge", "fall-webworm", "eggs hatching", "certain"),
    ):
        assert verdict("bagworm", on, (seen,)).word == TOO_EARLY


def test_sign_shared_by_two_broods_is_of_the_brood_due_nearest_and_moves_the_later_one_along() -> None:
    """A web seen four days after the first brood's day is not the second brood, but says it will be late too."""
    day = opening_of("fall-webworm") + timedelta(days=4)
    plain = verdict("fall-webworm", day + timedelta(days=1))
    seen = Sighting(day, "cherry", "fall-webworm", "small webs", "certain")
    one = verdict("fall-webworm", day + timedelta(days=1), (seen,))
    generations = {window.window.key: window.window.generation for window in one.windows}
    assert {generations[each.window] for each in one.compared} == {1}
    for before, after in zip(plain.windows, one.windows, strict=True):
        if before.window.generation == 1:
            assert after.opens.likely == day
        else:
            assert after.opens.passed is False
            assert before.opens.earliest is not None
            assert before.opens.likely is not None
            assert before.opens.latest is not None
            assert after.opens.earliest is not None
            assert after.opens.likely is not None
            assert after.opens.latest is not None
            assert after.opens.likely == before.opens.likely + timedelta(
                days=round(one.shifts[after.window.key].days)
            )
            assert after.opens.latest - after.opens.earliest > before.opens.latest - before.opens.earliest


def test_word_changes_on_the_day_the_tables_together_change_it() -> None:
    """On the eve the word is still the old one; on the day it is another, if the days before came as expected."""
    on = opening_of("bagworm") - timedelta(days=40)
    one = verdict("bagworm", on)
    assert one.word == TOO_EARLY
    assert one.changes_on is not None
    assert on < one.changes_on
    words = {table.window.key: table.opens.likely for table in one.windows}
    first = min(day for day in words.values() if day is not None)
    assert one.changes_on == first - timedelta(days=14)


def test_organism_without_a_host_in_the_yard_is_not_here() -> None:
    on = date(2030, 6, 1)
    assert verdict("bagworm", on, plant_kinds={"magnolia"}).word == NOT_HERE
    assert verdict("bagworm", on, plant_kinds={"juniper", "magnolia"}).word != NOT_HERE


def test_long_gap_refuses_the_call_and_says_how_to_get_it() -> None:
    on = date(2030, 5, 25)
    record = without(date(2030, 4, 20), date(2030, 5, 2))
    one = judge("bagworm", load(), record, ahead(record, on), on)
    assert one.word == CANNOT_TELL
    assert one.refusal is not None
    assert "13 days between 20 April and 2 May" in one.refusal.missing
    assert one.do_now.startswith("Look on the plant itself.")


def test_same_gap_does_not_hide_in_november_that_the_time_is_over() -> None:
    on = date(2030, 11, 25)
    record = without(date(2030, 4, 20), date(2030, 5, 2))
    assert judge("bagworm", load(), record, ahead(record, on), on).word == OVER


def test_station_south_of_the_equator_is_refused() -> None:
    on = date(2030, 6, 1)
    record = replace(station(), station=Station("Far South", latitude=-38.0))
    one = judge("bagworm", load(), record, ahead(record, on), on)
    assert one.word == CANNOT_TELL
    assert "north of the equator" in one.reason


def test_unknown_organism_suggests_a_near_name() -> None:
    record = station()
    on = date(2030, 6, 1)
    with pytest.raises(InputError, match='Did you mean "bagworm"'):
        judge("bagwrm", load(), record, ahead(record, on), on)


def test_many_organisms_at_once_equal_one_at_a_time() -> None:
    record, knowledge, on = station(), load(), date(2030, 5, 20)
    outlook = ahead(record, on)
    together = judge_all(knowledge.organisms, knowledge, record, outlook, on)
    assert list(together) == [judge(key, knowledge, record, outlook, on) for key in knowledge.organisms]


def test_organism_known_only_by_dates_of_another_place_cannot_be_timed(tmp_path: Path) -> None:
    header = (SHIPPED / "organisms.csv").read_text(encoding="utf-8").splitlines()[0]
    row = "oak-borer,oak borer,A a,borer,oak,1,larva,May,Holes.,larvae,Wait.,Look.,Look.,Wait.,never,none,S-OWN,judged,"
    (tmp_path / "organisms.csv").write_text(f"{header}\n{row}\n", encoding="utf-8")
    header = (SHIPPED / "stages.csv").read_text(encoding="utf-8").splitlines()[0]
    row = 'oak-borer.flight,oak-borer,flight,calendar,look,,,,,,,,,,05-18,05-28,"Lexington, Kentucky",S-UKY-BORER,seen,'
    (tmp_path / "stages.csv").write_text(f"{header}\n{row}\n", encoding="utf-8")
    record, on = station(), date(2030, 5, 20)
    one = judge("oak-borer", Knowledge((SHIPPED, tmp_path)), record, ahead(record, on), on)
    assert one.word == CANNOT_TELL
    assert one.refusal is not None
    assert "Only dates from Lexington, Kentucky are published." in one.refusal.missing
    assert one.rows[0].note == "Dates from Lexington, Kentucky, not yours."


def test_closing_between_tables_is_dated_by_one_that_is_still_open() -> None:
    """Wisconsin's birch borer numbers end first, Ohio's later: between them no date may lie behind the word."""
    for day in range(10, 31):
        on = date(2030, 5, day)
        found = verdict("bronze-birch-borer", on)
        if found.word == CLOSING and found.deciding is not None and found.deciding.closes.likely is not None:
            assert found.deciding.closes.likely >= on
