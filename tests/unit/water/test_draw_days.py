"""Days on which a rule lets water be drawn. 3 May 2021 was a Monday."""

from __future__ import annotations

import numpy as np

from dooryard.water.draws import draw_days, rule_words
from tests.water_yards import days

WEEK = days("2021-05-03", "2021-05-09")
NAN = float("nan")


def test_draw_days_without_a_rule_are_all_days() -> None:
    assert draw_days(WEEK, np.full(7, 9.0)).surely.all()


def test_draw_days_on_named_weekdays() -> None:
    drawn = draw_days(WEEK, np.zeros(7), ("monday", "sunday"))
    assert drawn.surely.tolist() == [True, False, False, False, False, False, True]


def test_draw_days_wait_for_dry_ones() -> None:
    rain = np.array([0.0, 5.0, 0.0, 0.0, 0.0, 1.0, 0.0])
    assert draw_days(WEEK, rain, dry_days=1).surely.tolist() == [True, False, True, True, True, False, True]
    assert draw_days(WEEK, rain, dry_days=2).surely.tolist() == [True, False, False, True, True, False, False]


def test_draw_days_after_a_missing_day_are_unsure_not_guessed() -> None:
    drawn = draw_days(WEEK, np.array([0.0, NAN, 0.0, 0.0, 5.0, 0.0, 0.0]), dry_days=2)
    assert drawn.perhaps.tolist() == [True, True, True, True, False, False, True]
    assert drawn.surely.tolist() == [True, False, False, True, False, False, True]


def test_rule_words() -> None:
    assert rule_words((), 0) == ""
    assert rule_words(("monday", "thursday"), 2) == "on Monday and Thursday, after 2 dry days"
    assert rule_words((), 1) == "after 1 dry day"
