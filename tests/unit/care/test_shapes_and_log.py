"""Areas from simple shapes, and treatments counted from a log."""

from __future__ import annotations

import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.care.log import from_text, season
from dooryard.care.shapes import parse_area
from dooryard.problem import InputError

FOOT_M = 0.3048
LOG = """\
# kept by the household
date,card,plant,amount,by
2031-07-06,tomato copper,tomato,1.5 gal,household
2031-06-15,Tomato copper,Tomato,1.5 gal,household
2030-07-06,tomato copper,tomato,1.5 gal,household
2031-06-20,rose soap,rose,1 gal,household
"""


@pytest.mark.parametrize(
    ("text", "square_feet"),
    [
        ("180 sq ft", 180),
        ("60 ft x 3 ft", 180),
        ("60 ft by 3 ft", 180),
        ("circle 8 ft", math.pi * 16),
        ("triangle 10 ft x 6 ft", 30),
        ("rectangle 10 ft x 6 ft", 60),
        ("10 ft x 6 ft + circle 2 ft", 60 + math.pi),
        ("10 ft x 6 ft - triangle 2 ft x 2 ft", 58),
        ("1-1/2 ft x 2 ft", 3),
    ],
)
def test_area_of_simple_shapes_is_reckoned(text: str, square_feet: float) -> None:
    assert parse_area(text) / FOOT_M**2 == pytest.approx(square_feet)


@pytest.mark.parametrize(
    "text",
    [
        "180",
        "circle",
        "triangle 10 ft",
        "10 ft x",
        "10 ft x 3 gal",
        "1 ft x 1 ft - 2 ft x 2 ft",
        "blob 3 ft",
        "",
    ],
)
def test_area_that_cannot_be_read_says_how_to_write_it(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_area(text)
    assert caught.value.problems[0].instead


@given(st.lists(st.tuples(st.integers(1, 90), st.integers(1, 90)), min_size=1, max_size=5))
def test_area_of_joined_shapes_is_their_sum(sides: list[tuple[int, int]]) -> None:
    text = " + ".join(f"{a} ft x {b} ft" for a, b in sides)
    assert parse_area(text) / FOOT_M**2 == pytest.approx(sum(a * b for a, b in sides))


def test_log_counts_one_card_on_one_plant_in_one_year() -> None:
    entries = from_text(LOG, "log.csv")
    assert season(entries, "tomato copper", "tomato", date(2031, 7, 12)) == (date(2031, 7, 6), 2)
    assert season(entries, "tomato copper", "tomato", date(2031, 6, 30)) == (date(2031, 6, 15), 1)
    assert season(entries, "rose soap", "tomato", date(2031, 7, 12)) == (None, 0)


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("", 1, "header"),
        ("day,card\n", 1, "header"),
        ("date,card,plant,amount,by\n6 July,a,b,c,d\n", 2, "not a day"),
        ("date,card,plant,amount,by\n2031-07-06,,b\n", 2, "empty"),
    ],
)
def test_log_with_a_fault_says_which_line(text: str, line: int, says: str) -> None:
    with pytest.raises(InputError) as caught:
        from_text(text, "log.csv")
    (problem,) = caught.value.problems
    assert (problem.line, problem.file) == (line, "log.csv")
    assert says in problem.what
