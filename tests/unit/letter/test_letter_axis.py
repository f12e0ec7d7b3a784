"""Labels keep apart, ticks are round, numbers are plain."""

from __future__ import annotations

import itertools
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.letter.drawing.axis import Days, Span, month_starts, nice_step, plain, rounded, runs, spread
from dooryard.letter.drawing.ink import text_width, wrap
from dooryard.letter.drawing.pen import number

places = st.lists(st.tuples(st.floats(-50, 450), st.floats(5, 40)), min_size=1, max_size=8)


@given(places)
def test_spread_any_labels_never_overlap_and_keep_their_order(labels: list[tuple[float, float]]) -> None:
    wanted = [at for at, _ in labels]
    heights = [height for _, height in labels]
    placed = spread(wanted, heights, 0, 400)
    order = sorted(range(len(labels)), key=lambda i: wanted[i])
    for above, below in itertools.pairwise(order):
        assert placed[below] - placed[above] >= (heights[above] + heights[below]) / 2 - 1e-6
    assert min(at - height / 2 for at, height in zip(placed, heights, strict=True)) >= -1e-6
    if sum(heights) <= 400:
        assert max(at + height / 2 for at, height in zip(placed, heights, strict=True)) <= 400 + 1e-6


def test_spread_labels_already_apart_stay_where_they_are() -> None:
    assert spread([100, 30, 200], [20, 20, 20], 0, 400) == [100, 30, 200]


def test_spread_two_labels_on_one_spot_share_the_push() -> None:
    assert spread([100, 100], [20, 20], 0, 400) == [90, 110]


def test_days_a_day_is_one_column_and_the_last_is_included() -> None:
    days = Days(date(2031, 5, 1), date(2031, 5, 10), 0, 100)
    assert days.left(date(2031, 5, 1)) == 0
    assert days.right(date(2031, 5, 10)) == 100
    assert days.middle(date(2031, 5, 2)) == 15
    assert days.left(date(2031, 4, 1)) == 0
    assert not days.holds(date(2031, 5, 11))


def test_span_without_length_puts_everything_on_its_start() -> None:
    assert Span(3, 3, 10, 20).at(3) == 10


def test_month_starts_over_new_year_are_all_there() -> None:
    assert month_starts(date(2031, 11, 15), date(2032, 2, 1)) == [
        date(2031, 12, 1),
        date(2032, 1, 1),
        date(2032, 2, 1),
    ]


@given(st.floats(1e-3, 1e6))
def test_nice_step_is_round_and_cuts_into_a_readable_number_of_parts(extent: float) -> None:
    step = nice_step(extent, 4)
    mantissa = float(f"{step:.6e}".split("e")[0])
    assert mantissa in (1, 2, 2.5, 5)
    assert 1 <= extent / step <= 4.01


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (1938.0, "1,938"),
        (0.5, "0.5"),
        (12.25, "12.2"),
        (1_000_000.0, "1,000,000"),
        (1e-9, "0"),
        (33.5, "33.5"),
    ],
)
def test_plain_numbers_read_as_people_write_them(value: float, words: str) -> None:
    assert plain(value) == words


@pytest.mark.parametrize(("value", "words"), [(50.2, "50"), (4.94, "4.9"), (0.62, "0.62"), (0.0, "0")])
def test_rounded_keeps_what_is_of_use(value: float, words: str) -> None:
    assert rounded(value) == words


@given(st.floats(-1e9, 1e9))
def test_number_in_a_drawing_is_never_in_scientific_notation(value: float) -> None:
    assert "e" not in number(value)
    assert float(number(value)) == pytest.approx(value, abs=0.006)


def test_runs_finds_each_stretch() -> None:
    assert runs([True, True, False, True]) == [(0, 2), (3, 4)]
    assert runs([]) == []


def test_wrap_breaks_at_spaces_and_never_inside_a_number_with_its_unit() -> None:
    lines = wrap("overflow 50\N{NO-BREAK SPACE}gal", text_width("overflow"))
    assert lines == ["overflow", "50\N{NO-BREAK SPACE}gal"]
