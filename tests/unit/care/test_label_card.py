"""A label card: what it takes, and what it says to a card that is wrong."""

from __future__ import annotations

from datetime import date

import pytest

from dooryard import knowledge
from dooryard.care import rate
from dooryard.care.card_reading import from_text
from dooryard.care.measures import FL_OZ_L, GALLON_L, TABLESPOON_L
from dooryard.problem import InputError

INCH_M, SQ_FT_M2, POUND_KG = 0.0254, 0.09290304, 0.45359237
CARD = """\
name = "tomato copper"
material = "copper octanoate"
kind = "fungicide"
share = "10 %"
read_on = 2031-04-02
read_by = "volunteer 3"
second_reader = "adviser"

[[uses]]
name = "tomato leaf spots"
sites = ["home garden"]
plants = ["tomato"]
pests = ["early blight", "septoria leaf spot"]
rate = "2 Tbsp per gal"
interval_days = 7
season_most = 8
harvest_days = 0
hottest = "90 F"
"""


@pytest.mark.parametrize(
    ("text", "low", "high", "amount", "basis"),
    [
        ("2 Tbsp per gal", 2 * TABLESPOON_L / GALLON_L, None, "volume", "water"),
        ("1 to 2 fl oz per gallon of water", FL_OZ_L / GALLON_L, 2 * FL_OZ_L / GALLON_L, "volume", "water"),
        ("1 1/2 tsp/gal", TABLESPOON_L / 2 / GALLON_L, None, "volume", "water"),
        ("2 %", 0.02, None, "volume", "water"),
        ("2 to 4 % by volume", 0.02, 0.04, "volume", "water"),
        ("5 mL per L", 0.005, None, "volume", "water"),
        ("3 lb per 1,000 sq ft", 3 * POUND_KG / (1000 * SQ_FT_M2), None, "mass", "area"),
        ("2 oz by weight per 100 sq ft", 0.125 * POUND_KG / (100 * SQ_FT_M2), None, "mass", "area"),
        ("1 fl oz per inch of trunk girth", FL_OZ_L / INCH_M, None, "volume", "girth"),
        ("1.4 g per inch DBH", 0.0014 / INCH_M, None, "mass", "diameter"),
    ],
)
def test_rate_in_each_form_of_labels_is_read(
    text: str, low: float, high: float | None, amount: str, basis: str
) -> None:
    read = rate.parse(text)
    assert (read.amount, read.basis) == (amount, basis)
    assert read.low == pytest.approx(low)
    assert read.high == pytest.approx(low if high is None else high)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2 tbsp", "how much of something"),
        ("2 per gal", "volume or a weight"),
        ("1 fl oz per inch", "girth or of diameter"),
        ("1 oz per gal", "of volume or of weight"),
        ("4 to 2 fl oz per gal", "lower end"),
        ("0 fl oz per gal", "above zero"),
        ("a few drops per gal", "volume or a weight"),
        ("2 fl oz per bucket", "not a volume of water"),
        ("ten %", "number before the per cent"),
        ("3 gal per gal", "more product than water"),
    ],
)
def test_rate_that_leaves_something_open_is_refused_with_the_forms(text: str, says: str) -> None:
    with pytest.raises(InputError) as caught:
        rate.parse(text)
    (problem,) = caught.value.problems
    assert says in problem.what
    assert problem.instead


def test_card_is_read_whole() -> None:
    card = from_text(CARD, "copper.toml", knowledge.load())
    (use,) = card.uses_on("Tomato", "early blight")
    assert (card.material, card.share, card.read_on) == ("copper octanoate", 0.1, date(2031, 4, 2))
    assert (use.interval_d, use.season_most, use.harvest_d) == (7, 8, 0)
    assert use.hottest_c == pytest.approx(32.222, abs=0.001)
    assert use.rain_fast_h is None
    assert card.uses_on("peach") == ()


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ('"volunteer 3"', '"adviser"', 7, "both readers"),
        ('"copper octanoate"', '"Leafall®"', 2, "brand"),
        ("interval_days = 7", "interval_days = 7\ninterval_most_days = 5", 16, "fewer than the least"),
        ('hottest = "90 F"', 'hottest = "90 F"\ncoldest = "95 F"', 18, "colder than the coldest"),
        ("season_most = 8", "season_most = 0", 16, "No treatment"),
        ("read_on = 2031-04-02", "read_on = 2031-04-02\ngood_until = 2030-12-31", 6, "before the label"),
        ("season_most", "seson_most", 16, "no key seson_most"),
        ('rate = "2 Tbsp per gal"', 'rate = "2 Tbsp per gallop"', 14, "not a volume of water"),
        ('second_reader = "adviser"\n', "", None, "second_reader is missing"),
    ],
)
def test_card_with_a_fault_says_which_line(old: str, new: str, line: int | None, says: str) -> None:
    with pytest.raises(InputError) as caught:
        from_text(CARD.replace(old, new), "copper.toml", knowledge.load())
    (problem,) = caught.value.problems
    assert says in problem.what
    assert problem.line == line
    assert problem.file == "copper.toml"


def test_card_with_many_faults_tells_them_all_in_order() -> None:
    bad = CARD.replace('"volunteer 3"', '"adviser"').replace("Tbsp", "Tbs").replace("season_most", "most")
    with pytest.raises(InputError) as caught:
        from_text(bad, "copper.toml", knowledge.load())
    lines = [problem.line for problem in caught.value.problems]
    assert lines == [7, 14, 16]


def test_card_without_a_use_says_how_to_write_one() -> None:
    with pytest.raises(InputError) as caught:
        from_text(CARD.split("[[uses]]")[0], "copper.toml", knowledge.load())
    assert "[[uses]]" in caught.value.problems[0].instead
