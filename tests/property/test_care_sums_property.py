"""What must hold for any trunk, mat, tank or bed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.care import mix, mulch, spacing
from dooryard.care.measures import TEASPOON_L, kitchen, spoon_fraction
from dooryard.care.wound import Wound, bark_lost_m, share_lost

lengths = st.floats(0.01, 5.0)


@given(st.floats(0.1, 3.0), st.lists(st.tuples(st.floats(0.01, 4.0), st.floats(0.0, 0.999)), max_size=6))
def test_wound_union_lies_between_widest_and_sum(girth: float, drawn: list[tuple[float, float]]) -> None:
    wounds = [Wound(width, at * girth) for width, at in drawn]
    lost = bark_lost_m(girth, wounds)
    widest = max((min(wound.width_m, girth) for wound in wounds), default=0.0)
    assert widest - 1e-9 <= lost <= min(girth, sum(wound.width_m for wound in wounds)) + 1e-9
    loose = [Wound(wound.width_m) for wound in wounds]
    assert bark_lost_m(girth, loose) >= lost - 1e-9


@given(
    st.floats(0.1, 3.0),
    st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(0.0, 0.999)), min_size=1, max_size=4),
)
def test_wound_share_does_not_depend_on_where_the_mark_is(
    girth: float, drawn: list[tuple[float, float]]
) -> None:
    wounds = [Wound(width, at * girth) for width, at in drawn]
    turned = [
        Wound(wound.width_m, math.fmod(wound.start_m + girth / 3, girth))
        for wound in wounds
        if wound.start_m is not None
    ]
    assert share_lost(girth, turned) == pytest.approx(share_lost(girth, wounds), abs=1e-9)


@given(lengths, lengths, st.floats(0.02, 1.0))
def test_spacing_count_and_distance_undo_each_other(length: float, width: float, apart: float) -> None:
    area = length * width
    for count, distance in (
        (spacing.square_count, spacing.square_spacing_m),
        (spacing.triangular_count, spacing.triangular_spacing_m),
    ):
        plants = count(area, apart)
        assert distance(area, plants) <= apart * (1 + 1e-6)
        if plants > 1:
            assert distance(area, plants - 1) > apart * (1 - 1e-6)
    assert spacing.triangular_count(area, apart) >= spacing.square_count(area, apart)


@given(st.integers(0, 5000), st.floats(0.0, 0.95))
def test_spacing_plants_set_for_losses_leave_enough(wanted: int, lost: float) -> None:
    assert spacing.living(spacing.to_plant(wanted, lost), lost) >= wanted


@given(st.floats(0.0, 1000.0), st.floats(1.0, 100.0))
def test_mulch_bags_hold_the_volume_and_one_fewer_does_not(wanted: float, bag: float) -> None:
    count = mulch.bags(wanted, bag)
    assert count * bag >= wanted * (1 - 1e-6) - 1e-12
    assert count == 0 or (count - 1) * bag < wanted


@given(st.floats(1e-6, 0.5), st.floats(0.01, 100.0))
def test_mix_reckoned_backwards_gives_the_rate(rate: float, water: float) -> None:
    assert mix.rate_of_mix(mix.product_for_water_l(rate, water), water) == pytest.approx(rate)


@given(st.floats(0.0, 1.0))
def test_spoons_never_hold_more_than_was_reckoned(volume: float) -> None:
    spoons = kitchen(volume).teaspoons
    measured = spoon_fraction(spoons)
    assert float(measured) * TEASPOON_L <= volume + 1e-6
    assert spoons - float(measured) < 0.25 + 1e-5
