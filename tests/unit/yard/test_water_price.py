"""The price of tap water in a yard file: what is read, and what to write instead of what is not."""

from __future__ import annotations

import pytest

from dooryard import knowledge
from dooryard.problem import InputError
from dooryard.yard.reading import from_text

HEAD = """name = "here"
units = "us"
[place]
latitude = 40.0
longitude = -85.0
elevation = "600 ft"
station = "creek"
[household]
"""


def price(text: str) -> float | None:
    return from_text(f"{HEAD}water_price = {text}\n", "yard.toml", knowledge.load()).household.water_price_m3


@pytest.mark.parametrize(
    ("text", "dollars_m3"),
    [
        ('"4.50 per 1000 gal"', 4.50 / 3.785411784),
        ('"$4.50 per 1,000 gallons"', 4.50 / 3.785411784),
        ('"1.20 per m3"', 1.20),
        ('"1.20 / m³"', 1.20),
        ('"$3.40 per ccf"', 3.40 / 2.8316846592),
        ('"3.40 dollars for 100 cu ft"', 3.40 / 2.8316846592),
        ('"0.002 per L"', 2.0),
    ],
)
def test_water_price_is_read_as_dollars_for_a_cubic_metre(text: str, dollars_m3: float) -> None:
    assert price(text) == pytest.approx(dollars_m3, rel=1e-12)


def test_water_price_left_out_is_not_known() -> None:
    assert from_text(HEAD, "yard.toml", knowledge.load()).household.water_price_m3 is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("4.50", "4.50 per 1000 gal"),
        ('"4.50"', "4.50 per 1000 gal"),
        ('"4.50 per 1000"', "cannot be read"),
        ('"€2 per m3"', "other money"),
        ('"2 euros per m3"', "other money"),
        ('"4.50 per gal"', "1000 gal"),
        ('"0 per 1000 gal"', "costs nothing"),
        ('"-4 per m3"', "so many dollars"),
        ('"4 per 2 ccf"', "cannot be read"),
        ('"4.50 per [[gal]]"', "cannot be read"),
        ("true", "so many dollars"),
    ],
)
def test_water_price_that_cannot_be_right_is_refused_with_its_line(text: str, words: str) -> None:
    with pytest.raises(InputError) as refused:
        price(text)
    (problem,) = refused.value.problems
    assert problem.line == 9
    assert problem.field == "household, water_price"
    assert words in f"{problem.what} {problem.instead}"
