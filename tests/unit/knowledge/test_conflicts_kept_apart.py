"""Where publications disagree each keeps its own row: nothing is averaged, and nothing is left out."""

from __future__ import annotations

import pytest

from dooryard.knowledge import Bloom, Stage, load
from dooryard.knowledge.rows import TREATMENT_KINDS

# The printed numbers (Fahrenheit degree-days) of publications that do not agree.
STAGES = {
    "C-01": ("bagworm", {630, 600, 900}),
    "C-02": ("eastern-tent-caterpillar", {50, 51, 62, 86, 90, 92}),
    "C-04": ("emerald-ash-borer", {750, 1000}),
    "C-08": ("winter-moth", {180, 114, 20, 50}),
    "C-10": ("black-vine-weevil", {400, 600, 677}),
    "C-15": ("spongy-moth", {90, 100, 200}),
}
BLOOMS = {
    "C-03": ("northern catalpa", {675, 816, 875}),
    "C-14": ("black locust", {467, 508, 631}),
}


def numbers(rows: list[Stage]) -> set[float]:
    return {value for row in rows for value in (row.dd_low, row.dd_high) if value is not None}


@pytest.mark.parametrize("conflict", STAGES)
def test_disagreeing_stages_are_rows_of_their_own(conflict: str) -> None:
    organism, printed = STAGES[conflict]
    rows = list(load().stages_of(organism))
    assert printed <= numbers(rows)
    opening = [row for row in rows if row.kind == "heat" and numbers([row]) & printed]
    assert len({(row.source, row.base, row.dd_low) for row in opening}) > 1


@pytest.mark.parametrize("conflict", BLOOMS)
def test_disagreeing_blooms_are_rows_of_their_own(conflict: str) -> None:
    plant, printed = BLOOMS[conflict]
    rows: list[Bloom] = [row for row in load().blooms if row.plant == plant]
    assert printed <= {round(row.low_cd * 1.8, 6) for row in rows}


def test_bagworm_hatch_is_not_taken_from_the_column_that_names_catalpa() -> None:
    """C-01: the 816 of one column is a bloom of catalpa, not a number of the bagworm."""
    assert 816 not in numbers(list(load().stages_of("bagworm")))


def test_winter_moth_sums_above_two_bases_are_not_mixed() -> None:
    """C-08: 180 and 114 are counted above 40, 20 to 50 above 50."""
    bases = {row.dd_low: row.base for row in load().stages_of("winter-moth")}
    assert bases == {20: 50, 180: 40, 114: 40}


def test_euonymus_scale_second_brood_has_its_own_rows_and_its_doubt() -> None:
    """C-05: one office prints a second brood, another reports one brood only."""
    second = [row for row in load().stages_of("euonymus-scale") if "second" in row.stage]
    assert {row.source for row in second} == {"S-RUTGERS-2021", "S-OSU-LIST"}
    assert any("one brood only" in row.note for row in second)


def test_potato_beetle_says_which_base_and_warns_of_the_other() -> None:
    """C-09: 50 and 52 degrees Fahrenheit."""
    rows = load().stages_of("colorado-potato-beetle")
    assert {row.base for row in rows} == {50}
    assert all("52 °F" in row.note for row in rows)


def test_mean_method_adds_the_two_temperatures() -> None:
    """C-16: one blog prints a minus where the plus belongs."""
    assert "(min + max) / 2" in load().methods["season.heat.average"].formula


def test_fahrenheit_rows_come_to_celsius_by_nine_fifths() -> None:
    """Sums convert by 1.8 alone, without the 32 of a temperature: 900 in Fahrenheit are 500 in Celsius."""
    from dooryard.season.book import heat_sum

    stage = load().stages["bagworm.small.newjersey"]
    assert (stage.dd_high, stage.unit, stage.base) == (900, "F", 50)
    assert heat_sum(stage).lower_c == pytest.approx(10.0)
    johnson = load().stages["spongy-moth.hatch.johnson"]
    assert johnson.unit == "C"
    assert heat_sum(johnson).lower_c == 3


PRACTICE = {
    "practice.bagworm.generations": 1,
    "practice.bagworm.eggs": 300,
    "practice.fall-webworm.generations": 3,
    "practice.eastern-tent-caterpillar.generations": 1,
    "practice.magnolia-scale.generations": 1,
}


@pytest.mark.parametrize("key", PRACTICE)
def test_common_practice_is_a_fact_marked_so(key: str) -> None:
    fact = load().fact(key)
    assert (fact.value, fact.status) == (PRACTICE[key], "common practice")


def test_organisms_are_at_least_sixty_and_each_can_be_acted_on() -> None:
    """Each has a host, doing nothing as its first treatment, and words for when to leave it alone."""
    knowledge = load()
    hosted = {host.organism for host in knowledge.hosts}
    assert len(knowledge.organisms) >= 60
    for key, organism in knowledge.organisms.items():
        treatments = knowledge.treatments_of(key)
        assert key in hosted, key
        assert [row.rank for row in treatments] == list(range(1, len(treatments) + 1)), key
        assert treatments[0].kind == "do nothing", key
        assert len(treatments) > 1, key
        assert organism.leave_alone, key
        assert organism.mistake, key


def test_sprays_of_an_organism_stand_after_what_needs_none() -> None:
    spray = {TREATMENT_KINDS.index(kind) for kind in ("oil or soap", "active ingredient")}
    for key in load().organisms:
        kinds = [TREATMENT_KINDS.index(row.kind) for row in load().treatments_of(key) if row.kind != "ask"]
        milder = [
            i
            for i, kind in enumerate(kinds)
            if kind < min(spray) and kind < TREATMENT_KINDS.index("biological")
        ]
        sprayed = [i for i, kind in enumerate(kinds) if kind in spray]
        assert not sprayed or max(milder) < min(sprayed), key


def test_windows_rest_on_heat_rows_of_their_own_organism_and_say_why() -> None:
    knowledge = load()
    for window in knowledge.windows.values():
        assert window.status == "judged"
        assert window.note, window.key
        for key in (window.opens, window.closes):
            assert knowledge.stages[key].kind == "heat"
            assert knowledge.stages[key].organism == window.organism
        assert window.open_lag_d >= 0, window.key
