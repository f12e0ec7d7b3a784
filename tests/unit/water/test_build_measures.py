"""Measures of a build: heights, what is missing, packs, spares and a workshop's people, each reckoned by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.problem import InputError
from dooryard.water.build_measures import (
    cut_from,
    hole_m,
    measures,
    missing,
    packs,
    scale,
    stand_of,
    with_spares,
)
from dooryard.water.workshop import clock, drills, helpers
from tests.build_yards import FOOT_M, INCH_M, barrel, yard

KNOWN = knowledge.load()


def test_measures_of_the_usual_drum_stand_where_a_tape_finds_them() -> None:
    """16 in of stand, spigot 3 in up, lip 32 in and half of 1 1/2 in, rim 35 in, cut a foot above it."""
    own = measures(yard(), barrel(), KNOWN)
    assert own.spigot_m / INCH_M == pytest.approx(19.0)
    assert own.overflow_m is not None
    assert own.overflow_m / INCH_M == pytest.approx(48.75)
    assert own.below_rim_m is not None
    assert own.below_rim_m / INCH_M == pytest.approx(2.25)
    assert own.rim_m / INCH_M == pytest.approx(51.0)
    assert own.cut_m is not None
    assert own.cut_m / INCH_M == pytest.approx(63.0)
    assert own.stand is not None
    assert (own.stand.courses, own.stand.blocks) == (2, 8)


@pytest.mark.parametrize(
    ("field", "key"),
    [
        ("diameter_m", "diameter"),
        ("height_m", "height"),
        ("outlet_height_m", "outlet_height"),
        ("overflow_height_m", "overflow_height"),
        ("overflow_bore_m", "overflow_bore"),
        ("stand_height_m", "stand_height"),
        ("stand_base_m", "stand_base"),
    ],
)
def test_measures_missing_one_is_named_by_its_key_and_refused(field: str, key: str) -> None:
    lacking = barrel(**{field: None})
    assert [need.key for need in missing(yard(lacking), lacking)] == [key]
    with pytest.raises(InputError, match=key):
        measures(yard(lacking), lacking, KNOWN)


def test_measures_of_a_tank_that_is_not_round_take_its_width() -> None:
    tank = barrel(diameter_m=None, width_m=1.2)
    assert missing(yard(tank), tank) == ()
    own = measures(yard(tank), tank, KNOWN)
    assert own.width_m == 1.2
    assert not own.is_round


def test_measures_of_a_linked_barrel_need_no_overflow_of_its_own() -> None:
    first = barrel(linked_to=("second",))
    second = barrel(name="second", overflow_height_m=None, overflow_bore_m=None, linked_to=("back barrel",))
    assert missing(yard(first, second), second) == ()
    assert measures(yard(first, second), second, KNOWN).overflow_m is None


def test_measures_on_the_ground_need_no_base_and_have_no_stand() -> None:
    low = barrel(stand_height_m=0.0, stand_base_m=None)
    assert missing(yard(low), low) == ()
    assert measures(yard(low), low, KNOWN).stand is None


def test_hole_for_a_bore_that_no_fitting_has_is_not_made_up() -> None:
    assert hole_m(KNOWN, 0.050) is None
    assert hole_m(KNOWN, 1.5 * INCH_M) == pytest.approx(1.875 * INCH_M)


def test_scale_counts_pavers_stone_and_hose() -> None:
    """24 in square: 4 pavers a layer, two layers; 28 in square by 3 in of stone; 4 ft down and 6 ft out."""
    base = (24 * INCH_M, 24 * INCH_M)
    found = scale(KNOWN, stand_of(KNOWN, 16 * INCH_M, base), base, 4 * FOOT_M, 6 * FOOT_M)
    assert (found.blocks, found.pavers) == (8, 8)
    assert found.stone_l == pytest.approx(28 * 28 * 3 * 0.016387064)
    assert found.run_m == pytest.approx(10 * FOOT_M)


@pytest.mark.parametrize(
    ("wanted", "pack", "expected"), [(1, 1, 1), (44, 10, 5), (50, 25, 2), (51, 25, 3), (0.1, 1, 1), (0, 1, 0)]
)
def test_packs_are_rounded_up_by_hand(wanted: float, pack: float, expected: int) -> None:
    assert packs(wanted, pack) == expected


@given(st.floats(0, 1e5), st.floats(0.01, 1e3))
def test_packs_hold_what_is_wanted_and_one_fewer_does_not(wanted: float, pack: float) -> None:
    many = packs(wanted, pack)
    assert many * pack >= wanted * (1 - 1e-6) - pack * 1e-6
    assert many == 0 or (many - 1) * pack < wanted * (1 + 1e-6) + pack * 1e-6


@given(st.integers(1, 500), st.floats(0, 0.5))
def test_spares_are_whole_and_never_too_few(many: int, share: float) -> None:
    found = with_spares(many, share)
    assert found == int(found)
    assert many * (1 + share) - 1e-6 <= found < many * (1 + share) + 1


def test_hose_is_cut_from_whole_pieces_and_no_two_ends_are_joined() -> None:
    """10 ft from 24 ft pieces: two from each. 25 ft: two pieces for each. 12 ft: two. 13 ft: one."""
    assert cut_from(10, 20, 24) == 10
    assert cut_from(25, 3, 24) == 6
    assert cut_from(12, 5, 24) == 3
    assert cut_from(13, 5, 24) == 5
    assert cut_from(0, 5, 24) == 0


def test_workshop_of_one_still_has_a_drill_and_a_helper() -> None:
    assert drills(1, 3, 2.0, 45.0) == 1
    assert helpers(1, 5) == 1
    assert helpers(21, 5) == 5


def test_clock_of_a_day_spreads_as_its_parts_may_take_longer() -> None:
    assert clock([(10, 10), (30, 40), (5, 5)]) == [(0, 0), (10, 10), (40, 50)]
