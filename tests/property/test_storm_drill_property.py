"""Letting out before a storm: no water is made or lost, nothing is gained by letting out less, and the days add up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.water.drill import Spell, drill, play, spells

VOLUMES = st.floats(0.0, 2000.0, allow_nan=False)
DAYS = st.lists(VOLUMES, min_size=1, max_size=8)


@st.composite
def barrels(draw):
    """Level, full and dead volume of a barrel, in their order."""
    full = draw(st.floats(1.0, 1000.0))
    dead = full * draw(st.floats(0.0, 0.9))
    return full * draw(st.floats(0.0, 1.0)), full, dead


@given(barrels(), DAYS, st.data())
def test_played_storm_makes_and_loses_no_water(barrel, inflow, data):
    level, full, dead = barrel
    let_out = data.draw(st.lists(VOLUMES, min_size=len(inflow), max_size=len(inflow)))
    played = play(level, full, dead, inflow, let_out)
    gone = played.let_out_l.sum() + played.spilled_l.sum() + played.level_l[-1]
    assert level + sum(inflow) == pytest.approx(gone, rel=1e-12, abs=1e-9)
    assert (played.level_l <= full + 1e-9).all()
    assert (played.before_l >= min(dead, level) - 1e-9).all()


@given(barrels(), DAYS, st.data())
def test_drill_lets_out_what_keeps_most(barrel, inflow, data):
    """No other amount let out on the eve leaves less running over, and letting out each morning is at least as good."""
    level, full, dead = barrel
    first = data.draw(st.integers(0, len(inflow) - 1))
    spell = Spell(first, len(inflow))
    found = drill(level, full, dead, inflow, spell)
    other = np.zeros(len(inflow))
    other[first] = data.draw(VOLUMES)
    spilled = play(level, full, dead, inflow, other).spilled_l.sum()
    assert found.done.spilled_l.sum() <= spilled + 1e-9
    assert found.again.spilled_l.sum() <= found.done.spilled_l.sum() + 1e-9
    assert found.held_l >= -1e-9


@given(barrels(), DAYS)
def test_drill_never_lets_out_what_the_storm_does_not_fill_again(barrel, inflow):
    """After the very rain it was meant for, the barrel stands as high as if it had stayed shut."""
    level, full, dead = barrel
    found = drill(level, full, dead, inflow, Spell(0, len(inflow)))
    assert found.done.level_l[-1] == pytest.approx(found.kept.level_l[-1], rel=1e-9, abs=1e-9)
    assert found.again.level_l[-1] == pytest.approx(found.kept.level_l[-1], rel=1e-9, abs=1e-9)


@given(
    st.lists(st.one_of(st.just(0.0), st.just(float("nan")), st.floats(0.1, 100.0)), max_size=20),
    st.integers(0, 3),
)
def test_spells_hold_every_rainy_day_once(rain, dry_days):
    found = spells(rain, dry_days)
    inside = [day for spell in found for day in range(spell.first, spell.end)]
    assert len(inside) == len(set(inside))
    assert {day for day, depth in enumerate(rain) if depth > 0.0} <= set(inside)
    for spell in found:
        assert rain[spell.first] > 0.0
        assert rain[spell.end - 1] > 0.0
        assert not np.isnan(rain[spell.first : spell.end]).any()
