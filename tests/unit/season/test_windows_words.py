"""One table's word about today, and what several tables' words allow to be said."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.knowledge import Window
from dooryard.season.timing import Crossing
from dooryard.season.windows import (
    CANNOT_TELL,
    CLOSING,
    NOT_HERE,
    NOW,
    OVER,
    SOON,
    TOO_EARLY,
    WORDS,
    agreed,
    closing,
    judged,
    opening,
)

ON = date(2030, 6, 1)
WINDOW = Window("a.b", "a", 1, "eggs", "a.x", "low", 0, "a.y", "low", 0, (), "S-OWN", "", "judged", "", "")


def crossing(days: int | None, spread_d: int = 0, *, gap: bool = False) -> Crossing:
    """A crossing so many days from today, reached if that is behind; None: no future reaches it."""
    day = None if days is None else ON + timedelta(days=days)
    behind = days is not None and days < 0
    spread = timedelta(days=0 if behind else spread_d)
    return Crossing(
        threshold=1.0,
        sum_now=None if gap else 0.0,
        sum_low=0.0,
        sum_high=9.0,
        gap_days=4 if gap else 0,
        passed=None if gap else behind,
        reached=day if behind else None,
        earliest=None if gap or day is None else day - spread,
        likely=None if gap else day,
        latest=None if gap or day is None else day + spread,
        years=30,
        beyond=0,
        refused="a gap" if gap else None,
    )


def word(opens: Crossing, closes: Crossing, open_lag_d: int = 0, close_lag_d: int = 0) -> str:
    return judged(
        WINDOW, opening(opens, open_lag_d, ON), closing(closes, close_lag_d, ON), ON, soon_d=14, closing_d=7
    ).word


@pytest.mark.parametrize(
    ("opens", "closes", "expected"),
    [
        (40, 60, TOO_EARLY),
        (15, 60, TOO_EARLY),
        (14, 60, SOON),
        (0, 60, SOON),
        (-1, 60, NOW),
        (-1, 8, NOW),
        (-1, 7, CLOSING),
        (-20, 0, CLOSING),
        (-20, -1, OVER),
        (None, None, NOT_HERE),
        (-1, None, NOW),
    ],
)
def test_word_follows_where_today_lies(opens: int | None, closes: int | None, expected: str) -> None:
    assert word(crossing(opens), crossing(closes)) == expected


def test_lag_moves_opening_and_closing() -> None:
    moths = crossing(-5)
    assert word(moths, moths, open_lag_d=10, close_lag_d=28) == SOON
    assert word(moths, moths, open_lag_d=5, close_lag_d=28) == NOW  # the tenth day itself belongs to it
    assert word(moths, moths, open_lag_d=0, close_lag_d=5) == CLOSING  # and so does the last
    assert word(moths, moths, open_lag_d=0, close_lag_d=4) == OVER


def test_gap_that_hides_the_opening_or_the_closing_cannot_tell() -> None:
    assert word(crossing(1, gap=True), crossing(1, gap=True)) == CANNOT_TELL
    assert word(crossing(-3), crossing(1, gap=True)) == CANNOT_TELL


def test_gap_that_hides_only_the_opening_is_over_once_the_closing_is_behind() -> None:
    assert word(crossing(1, gap=True), crossing(-2)) == OVER


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ([NOW], NOW),
        ([NOW, NOW, CANNOT_TELL], NOW),
        ([CANNOT_TELL], CANNOT_TELL),
        ([TOO_EARLY, SOON], SOON),
        ([TOO_EARLY, NOW], SOON),
        ([SOON, NOW], SOON),
        ([SOON, CLOSING], NOW),
        ([NOW, CLOSING], CLOSING),
        ([NOW, OVER], CLOSING),
        ([CLOSING, OVER], CLOSING),
        ([TOO_EARLY, CLOSING], CANNOT_TELL),
        ([SOON, OVER], CANNOT_TELL),
        ([TOO_EARLY, NOW, OVER], CANNOT_TELL),
        ([NOT_HERE, TOO_EARLY], TOO_EARLY),
        ([NOT_HERE, NOT_HERE], NOT_HERE),
    ],
)
def test_tables_together_say_a_cautious_word(words: list[str], expected: str) -> None:
    assert agreed(words) == expected


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=5))
def test_tables_together_never_say_over_or_too_early_against_a_table_that_says_now(words: list[str]) -> None:
    got = agreed(words)
    assert got in WORDS
    assert got == agreed(reversed(words))
    if NOW in words:
        assert got not in (OVER, TOO_EARLY, NOT_HERE)


@given(st.integers(-60, 60), st.integers(0, 40), st.integers(0, 14))
def test_word_never_goes_back_as_days_pass(opens: int, length: int, spread: int) -> None:
    order = [TOO_EARLY, SOON, NOW, CLOSING, OVER]
    steps = [
        order.index(word(crossing(opens - day, spread), crossing(opens + length - day, spread)))
        for day in range(130)
    ]
    assert steps == sorted(steps)
