"""Wind and strap, sinking and blocks: numbers that can be worked out on the back of a plan."""

import math

import pytest

from dooryard.problem import InputError
from dooryard.water.block_stand import Block, of_blocks
from dooryard.water.stand import settlement_lean, settlement_to_tip, stability, wind_to_slide, wind_to_tip
from dooryard.water.tie_down import drag, strap_pull

IN, LB = 0.0254, 0.45359237
DRUM = {"mass_kg": 10.0, "base_m": 0.58, "height_m": 0.89}
AIR = {"friction": 0.4, "drag_coefficient": 1.0, "air_density_kg_m3": 1.225}
BLOCK = Block(16 * IN, 8 * IN, 8 * IN, 35 * LB)


def test_drag_grows_with_the_square_of_the_wind():
    # half of 1.2 x 100 x 0.5 x 1
    assert float(drag(10.0, 0.5, 1.0, 1.2)) == pytest.approx(30.0)
    assert float(drag(20.0, 0.5, 1.0, 1.2)) == pytest.approx(120.0)


def test_strap_is_slack_until_the_wind_that_moves_the_barrel():
    slides = wind_to_slide(10.0, 0.58 * 0.89, 0.4, 1.0, 1.225)
    assert float(strap_pull(slides * 0.999, strap_height_m=0.6, **DRUM, **AIR)) == 0.0
    assert float(strap_pull(slides * 1.001, strap_height_m=0.6, **DRUM, **AIR)) > 0.0


def test_strap_of_a_barrel_that_cannot_slide_is_slack_until_the_wind_that_tips_it():
    rough = {**AIR, "friction": 10.0}
    tips = wind_to_tip(10.0, 0.58, 0.89, 0.58 * 0.89, 1.0, 1.225)
    assert float(strap_pull(tips * 0.999, strap_height_m=0.6, **DRUM, **rough)) == 0.0
    # twice that wind: four times the moment, three quarters of it for the strap at half height.
    held = 10.0 * 9.80665 * 0.29
    pull = float(strap_pull(tips * 2, strap_height_m=0.445, **DRUM, **rough))
    assert pull == pytest.approx(3 * held / 0.445)


def test_wind_below_nothing_is_refused():
    with pytest.raises(InputError):
        drag(-1.0, 0.5, 1.0, 1.2)


def test_sinking_that_tips_gives_the_lean_that_tips():
    (way,) = stability(volume_l=100.0, diameter_m=0.58, height_m=0.89, empty_kg=10.0)
    sunk_m = settlement_to_tip(way.base_m, way.centre_m, way.shift_m)
    assert float(settlement_lean(sunk_m, way.base_m)) == pytest.approx(way.lean_deg)
    # b/2 over y, times b
    assert float(settlement_to_tip(0.6, 0.9)) == pytest.approx(0.6 * 0.3 / 0.9)


def test_half_full_barrel_leans_less_far_than_a_rigid_one_of_the_same_weight():
    (way,) = stability(volume_l=104.0, diameter_m=0.58, height_m=0.89, empty_kg=10.0)
    assert way.shift_m > 0
    assert way.lean_deg < math.degrees(math.atan(0.29 / way.centre_m))


@pytest.mark.parametrize(
    ("base_in", "height_in", "courses", "per_course", "contact_sq_in"),
    [
        ((24, 24), 16, 2, 4, 512),
        ((16, 16), 8, 1, 2, 256),
        ((23.9, 24), 15, 2, 4, 512),
        ((24, 48), 13, 2, 9, 1152),
    ],
)
def test_blocks_of_a_stand(base_in, height_in, courses, per_course, contact_sq_in):
    made = of_blocks(height_in * IN, (base_in[0] * IN, base_in[1] * IN), BLOCK)
    assert (made.courses, made.per_course, made.blocks) == (courses, per_course, courses * per_course)
    assert made.contact_m2 / IN**2 == pytest.approx(contact_sq_in)
    assert made.mass_kg / LB == pytest.approx(35 * made.blocks)
    assert made.height_m / IN == pytest.approx(8 * courses)


@pytest.mark.parametrize(
    ("height", "base"), [(0.0, (0.6, 0.6)), (0.4, (0.0, 0.6)), (0.4, (0.1, 0.6)), (0.4, (0.3, 0.3))]
)
def test_stand_without_size_or_room_for_a_block_is_refused(height, base):
    with pytest.raises(InputError):
        of_blocks(height, base, BLOCK)
