"""Chilling hours, Utah units and the dynamic model against worked lists and figures of public code."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard import knowledge
from dooryard.knowledge.season_rows import Chill
from dooryard.season.chill import chilling_hours, dynamic_portions, since_lowest, utah_units

HOURS_F = (
    30, 32, 34, 35, 36, 37, 40, 45, 45, 46, 48, 49, 50, 54, 55, 58, 60, 61, 65, 66, 70, 52, 44, 38,
)  # fmt: skip
HOURS_C = (np.array(HOURS_F) - 32) / 1.8


def rows(model: str) -> list[Chill]:
    return [row for row in knowledge.load().chill if row.model == model]


@pytest.mark.check("T-10", source="worked list of 24 hours, both countings", status="computed")
@pytest.mark.check("S-05-03", source="worked list of 24 hours", status="computed")
def test_chilling_hours_in_both_countings_of_the_worked_list() -> None:
    between, below = rows("hours-32-45")[0], rows("hours-below-45")[0]
    assert chilling_hours(HOURS_C, between).sum() == 10
    assert chilling_hours(HOURS_C, below, with_end=False).sum() == 9
    assert chilling_hours(HOURS_C, below).sum() == 11


@pytest.mark.check("T-10", source="worked list of 24 hours, Utah units", status="computed")
@pytest.mark.check("S-05-04", source="Richardson, Seeley and Walker 1974, worked list", status="second-hand")
def test_utah_units_of_the_worked_list_hour_by_hour() -> None:
    units = utah_units(HOURS_C, rows("utah"))
    printed = [0, 0, 0, 0.5, 0.5, 1, 1, 1, 1, 1, 1, 0.5, 0.5, 0.5, 0, 0, 0, -0.5, -0.5, -1, -1, 0.5, 1, 1]
    assert units.tolist() == printed
    assert units.sum() == 8.0


def test_celsius_steps_of_public_code_differ_on_this_list_only_where_the_steps_do() -> None:
    fahrenheit, celsius = (utah_units(HOURS_C, rows(name)) for name in ("utah", "utah-celsius"))
    moved = np.flatnonzero(fahrenheit != celsius)
    # 36 °F is 2.22 °C in both bands; 65 °F is 18.33, above the code's 18.
    assert [HOURS_F[at] for at in moved] == [65]


@pytest.mark.check("S-05-05", source="equations and constants of the R package chillR", status="computed")
@pytest.mark.parametrize(
    ("temperature_c", "portions"),
    [(0, 4.86), (2, 26.4), (4, 29.8), (6, 34.2), (8, 34.6), (10, 32.4), (12, 25.0), (13, 0), (-2, 0.24)],
)
def test_dynamic_portions_of_a_thousand_even_hours(temperature_c: float, portions: float) -> None:
    assert dynamic_portions(np.full(1000, float(temperature_c))).sum() == pytest.approx(portions, abs=1)


@pytest.mark.check("S-05-05", source="equations and constants of the R package chillR", status="computed")
def test_dynamic_portions_of_sixty_days_that_swing_by_four_degrees() -> None:
    hours = 6 + 4 * np.sin(2 * np.pi * np.arange(60 * 24) / 24)
    assert dynamic_portions(hours).sum() == pytest.approx(49.0, abs=1)


def test_missing_hour_leaves_counts_of_that_hour_and_all_later_portions_unknown() -> None:
    hours = np.array([5.0, np.nan, 5.0])
    assert np.isnan(utah_units(hours, rows("utah"))).tolist() == [False, True, False]
    assert np.isnan(chilling_hours(hours, rows("hours-32-45")[0])).tolist() == [False, True, False]
    assert np.isnan(dynamic_portions(hours)).tolist() == [False, True, True]


def test_units_begin_where_their_sum_stood_lowest() -> None:
    assert since_lowest([-1, -1, 0.5, 1]).tolist() == [0, 0, 0.5, 1.5]
    assert since_lowest([0.5, -0.25, 1]).tolist() == [0.5, 0.25, 1.25]
