"""Treatments keep the rules that no season changes: the label first, the right strain, blooms spared."""

from __future__ import annotations

import re

from dooryard.knowledge import Treatment, load

SPRAYED = ("biological", "oil or soap", "active ingredient")


def treatments(*kinds: str) -> list[Treatment]:
    return [row for row in load().treatments.values() if row.kind in kinds]


def test_whatever_comes_from_a_bottle_says_that_the_label_is_the_law() -> None:
    rows = treatments(*SPRAYED)
    assert len(rows) > 60
    assert [row.key for row in rows if "label-law" not in row.cautions] == []


def test_caterpillar_strain_is_for_caterpillars_only() -> None:
    """Strains are seen at Connecticut: kurstaki for caterpillars, tenebrionis for young of some leaf beetles."""
    kinds = {key: organism.kind for key, organism in load().organisms.items()}
    caterpillars = [row for row in treatments(*SPRAYED) if "kurstaki" in row.action]
    beetles = [row for row in treatments(*SPRAYED) if "tenebrionis" in row.action]
    assert {kinds[row.organism] for row in caterpillars} == {"caterpillar"}
    assert {row.organism for row in beetles} == {"colorado-potato-beetle", "elm-leaf-beetle"}
    assert [row.key for row in caterpillars if "sawfly" in row.organism] == []


def test_systemic_material_waits_for_the_end_of_bloom_and_for_the_state() -> None:
    named = re.compile(r"systemic|imidacloprid|dinotefuran", re.IGNORECASE)
    rows = [row for row in load().treatments.values() if named.search(row.action)]
    assert rows
    for row in rows:
        assert {"systemic-bloom", "systemic-state"} <= set(row.cautions), row.key


def test_what_is_sprayed_on_food_keeps_the_wait_before_harvest() -> None:
    """Vegetables and fruit that this insect lives on alone; a shade tree's pest may also eat an apple leaf."""
    food = (
        "codling-moth",
        "imported-cabbageworm",
        "colorado-potato-beetle",
        "european-corn-borer",
        "apple-maggot",
    )
    for row in treatments("biological", "active ingredient"):
        if row.organism in food:
            assert "harvest-wait" in row.cautions, row.key


def test_oil_and_soap_say_at_what_warmth_they_harm() -> None:
    assert [row.key for row in treatments("oil or soap") if "oil-soap-heat" not in row.cautions] == []


def test_no_treatment_gives_an_amount() -> None:
    """Amounts come from a label in hand alone."""
    amount = re.compile(r"\d+(\.\d+)?\s*(fl oz|oz|mL|tablespoon|teaspoon|%|lb|g)\b")
    assert [row.key for row in load().treatments.values() if amount.search(row.action)] == []
