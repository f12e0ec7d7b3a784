"""Crops and soils as shipped: figures of FAO-56 as printed, without the footnote marks that run into them."""

from __future__ import annotations

from typing import Any

import pytest

from dooryard.water.bed_season import curve_of


@pytest.mark.parametrize(
    ("key", "factors"),
    [
        ("tomato", (0.6, 1.15, 0.80)),
        ("sweet-pepper", (0.6, 1.05, 0.90)),
        ("green-bean", (0.5, 1.05, 0.90)),
        ("sweet-corn", (0.3, 1.15, 1.05)),
        ("cucumber", (0.6, 1.00, 0.75)),
        ("strawberry", (0.40, 0.85, 0.75)),
        ("bush-berry", (0.30, 1.05, 0.50)),
        ("lawn-cool", (0.90, 0.95, 0.95)),
        ("lawn-warm", (0.80, 0.85, 0.85)),
        ("apple-with-ground-cover", (0.50, 1.20, 0.95)),
    ],
)
def test_crop_factors_are_those_printed(knowledge: Any, key: str, factors: tuple[float, ...]) -> None:
    crop = knowledge.crops[key]
    assert (crop.kc_ini, crop.kc_mid, crop.kc_end) == factors


def test_crop_factors_carry_no_footnote_mark(knowledge: Any) -> None:
    """1.15 with footnote 2 reads 1.152 in a careless copy: no printed factor has a third decimal."""
    for crop in knowledge.crops.values():
        for factor in (crop.kc_ini, crop.kc_mid, crop.kc_end, crop.depletion):
            assert round(factor, 2) == factor, crop.key
            assert 0.1 <= factor <= 1.3, crop.key


def test_crop_stages_are_all_four_or_none(knowledge: Any) -> None:
    for crop in knowledge.crops.values():
        stages = (crop.ini_d, crop.dev_d, crop.mid_d, crop.late_d)
        assert len({stage is None for stage in stages}) == 1, crop.key
        assert (curve_of(crop).length_d is None) == (stages[0] is None)


def test_soils_hold_more_at_field_capacity_than_at_the_wilting_point(knowledge: Any) -> None:
    for ground in knowledge.soils.values():
        held = (ground.field_capacity_low + ground.field_capacity_high) / 2
        wilting = (ground.wilting_low + ground.wilting_high) / 2
        assert 0.05 <= held - wilting <= 0.20, ground.key


@pytest.mark.parametrize(
    ("key", "printed_low", "printed_high"),
    [("sand", 0.05, 0.11), ("loam", 0.13, 0.18), ("silt-loam", 0.13, 0.19), ("clay", 0.12, 0.20)],
)
def test_soils_middle_water_lies_in_the_printed_range_of_available_water(
    knowledge: Any, key: str, printed_low: float, printed_high: float
) -> None:
    ground = knowledge.soils[key]
    middle = (
        ground.field_capacity_low + ground.field_capacity_high - ground.wilting_low - ground.wilting_high
    ) / 2
    assert printed_low <= middle <= printed_high


def test_methods_and_facts_of_the_water_account_are_there(knowledge: Any) -> None:
    for key in (
        "water.penman_monteith", "water.penman_monteith_missing_data", "water.hargreaves", "water.crop_factor",
        "water.soil_balance", "water.next_watering", "water.growing_season", "water.level_bracket",
    ):  # fmt: skip
        assert knowledge.methods[key].formula
    assert (
        knowledge.fact("soil.depletion_share.sand").value
        > 1
        > knowledge.fact("soil.depletion_share.clay").value
    )
