"""Why a shrub does not bloom: a letter reckoned by hand, and rules of the trade."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.care.no_bloom import Facts, Limits, Weight, Wood, prune_by, reasons
from dooryard.letter import screen
from dooryard.plan.work.no_bloom import no_bloom

LIMITS = Limits(after_bloom_d=42, sun_h=6, dark_h=2, young_y=3, grown_y=7)


def _weights(facts: Facts) -> dict[str, Weight]:
    return {one.key: one.weight for one in reasons(facts, LIMITS)}


def test_lilac_sheared_in_august_lost_its_buds_and_shade_takes_part() -> None:
    """Bloom ended 20 May, sheared 18 August last year, 3.5 h of sun: cut by 1 July."""
    facts = Facts("old", date(2030, 5, 20), date(2030, 8, 18), 3.5)
    found = reasons(facts, LIMITS)
    assert [(one.key, one.weight) for one in found[:2]] == [("pruning", "main"), ("light", "adds")]
    plan = no_bloom(knowledge.load(), date(2031, 5, 25), plant="lilac", facts=facts)
    said = " ".join(screen.render(plan.document()).split())
    assert "Most likely: cut at the wrong time." in said
    assert "It takes part too: too little sun." in said
    assert "by 1 July" in said


@pytest.mark.parametrize(
    ("wood", "pruned", "weight"),
    [
        ("old", date(2030, 6, 10), "no"),
        ("old", date(2030, 7, 1), "no"),
        ("old", date(2030, 7, 2), "main"),
        ("old", date(2030, 11, 5), "main"),
        ("old", date(2030, 2, 20), "main"),
        ("both", date(2030, 11, 5), "adds"),
        ("new", date(2030, 2, 20), "no"),
        ("new", date(2030, 7, 20), "main"),
    ],
)
def test_pruning_time_follows_the_wood_the_flowers_sit_on(wood: Wood, pruned: date, weight: Weight) -> None:
    """Common practice: old wood right after bloom, a cut in autumn takes next year's flowers; new wood late winter."""
    assert _weights(Facts(wood, date(2030, 5, 20), pruned))["pruning"] == weight


def test_winter_does_not_kill_buds_that_are_not_there() -> None:
    assert _weights(Facts("new", buds_froze=True))["cold"] == "no"
    assert _weights(Facts("old", buds_froze=True))["cold"] == "main"


def test_nothing_told_is_refused_and_asks() -> None:
    plan = no_bloom(knowledge.load(), date(2031, 5, 25), plant="lilac", facts=Facts("old"))
    assert plan.needs_a_person
    said = screen.render(plan.document())
    assert "When was it last cut" in said


@given(st.dates(date(2020, 4, 1), date(2030, 7, 1)), st.integers(0, 60))
def test_prune_by_is_never_before_bloom_ends(ended: date, days: int) -> None:
    assert prune_by(ended, days) == ended + timedelta(days=days)
    assert prune_by(ended, days) >= ended
