"""The water tables as shipped: they load, carry what the program asks for, and promise nothing unsafe."""

import re

import pytest

from dooryard.knowledge import load


def test_water_tables_load_without_a_fault():
    knowledge = load()
    for table in ("sources", "facts", "methods", "coverings", "bearing_soils", "cautions"):
        assert len(getattr(knowledge, table)) > 5, table


def test_no_covering_is_called_fit_for_food_plants_outright():
    for covering in load().coverings.values():
        assert covering.edible in ("with care", "no"), covering.key
        assert covering.edible_note
        assert 0 < covering.low <= covering.coefficient <= covering.high <= 1
        assert 0 <= covering.wetting_low_mm <= covering.wetting_loss_mm <= covering.wetting_high_mm


def test_no_water_sentence_says_that_vegetables_are_safe():
    knowledge = load()
    sentences = [row.text for row in knowledge.cautions.values() if row.key.startswith("water.")]
    sentences += [row.edible_note + row.note for row in knowledge.coverings.values()]
    for sentence in sentences:
        assert not re.search(r"\bsafe\b|\bharmless\b|!", sentence, re.IGNORECASE), sentence


@pytest.mark.parametrize(
    "key",
    [
        "not_drinking",
        "children",
        "weight",
        "tipping",
        "empty_barrel",
        "overflow",
        "freeze",
        "mosquitoes",
        "edibles",
        "rules",
        "electricity",
        "ladder",
    ],
)
def test_each_needed_caution_is_there_in_few_words(key):
    text = load().cautions[f"water.{key}"].text
    sentences = [part for part in re.split(r"(?<=[.:])\s+", text) if part]
    assert 1 <= len(sentences) <= 5
    assert max(len(sentence.split()) for sentence in sentences) <= 25


def test_ground_without_a_presumed_pressure_has_none():
    soils = load().bearing_soils
    assert soils["topsoil"].pressure_kpa is None
    assert soils["fill"].pressure_kpa is None
    # 1,500 lb per sq ft of clay, converted here on its own.
    assert soils["clay"].pressure_kpa == pytest.approx(1500 * 4.4482216152605 / 0.09290304 / 1000, rel=1e-5)


@pytest.mark.check("P-1.4-distances", source="rain-barrel bulletins", status="common practice")
def test_overflow_distances_are_ten_and_five_feet():
    facts = load().facts
    assert facts["overflow.wall_distance"].value == pytest.approx(10 * 0.3048)
    assert facts["overflow.wall_distance_least"].value == pytest.approx(5 * 0.3048)


@pytest.mark.check("W-10-1", source="Marin/Sonoma vector district; 20 CFR 654.408", status="seen")
def test_screen_opening_and_mesh():
    facts = load().facts
    assert facts["mosquito.screen_opening"].value == pytest.approx(25.4 / 16)
    assert facts["mosquito.screen_mesh"].value == 16


@pytest.mark.check("W-10-3", source="a West Virginia municipal code", status="seen")
def test_storage_is_emptied_every_week():
    assert load().fact("mosquito.empty_every").value == 7


def test_plausible_roof_of_a_downspout_catches_a_metre_foot_mistake():
    largest = load().fact("downspout.plausible_roof").value
    assert 310 * 0.09290304 < largest < 310  # 310 sq ft passes, 310 m2 does not


def test_measures_in_water_cautions_are_told_in_both_systems():
    """A yard in metres gets the same cautions as one in feet."""
    measure = re.compile(
        r"[0-9] (?:ft|in|lb|gal|gallons|psi|mph|°F)\b(?! of)( \([0-9./ to]+ (?:m|cm|mm|kg|L|kPa|°C)\))?"
    )
    told = {key: row.text for key, row in load().cautions.items() if key.startswith("water.")}
    found = [match for text in told.values() for match in measure.finditer(text)]
    assert len(found) >= 6
    assert [match[0] for match in found if match[1] is None] == []
