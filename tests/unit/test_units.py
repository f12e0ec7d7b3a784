"""What a person may write as a quantity, and what they are told when it cannot be used."""

import pytest

from dooryard.problem import InputError, Problem
from dooryard.unit_table import Dimension
from dooryard.units import number, parse, show, unit_name


def problem(text: str, dimension: Dimension) -> Problem:
    with pytest.raises(InputError) as caught:
        parse(text, dimension)
    (only,) = caught.value.problems
    return only


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("24 in", 24),
        ("24in", 24),
        ('24"', 24),
        ("24 inches", 24),
        ("24 Inch", 24),
        ("24 in.", 24),
        ("½ in", 0.5),
        ("1½ in", 1.5),
        ("1 ½ in", 1.5),
        ("1 1/4 in", 1.25),
        ("1-1/4 in", 1.25),
        ("1⁄4 in", 0.25),
        ("3/4 in", 0.75),
        ("6 ft 2 in", 74),
        ("6ft2in", 74),
        ("6'2\"", 74),
        ("6′ 2″", 74),
        ("6’ 2 1/2”", 74.5),
        ("6 ft 2", None),
        ("1 yd 1 ft", 48),
        ("-3 in", -3),
        ("−3 in", -3),
        ("+3 in", 3),
        ("- 3 in", -3),
        (".5 in", 0.5),
        ("5. in", 5),
        ("1e2 in", 100),
        ("1 200 in", 1200),
        ("1,200 in", 1200),
        ("1,200.5 in", 1200.5),
        ("２４ in", 24),
    ],
)
def test_parse_length_as_people_write_it(text: str, inches: float | None) -> None:
    if inches is None:
        assert "unit of area" in problem(text, "length").what
    else:
        assert parse(text, "length") == pytest.approx(inches * 0.0254, abs=1e-12)


@pytest.mark.parametrize(
    "text",
    ["310 sq ft", "310 sqft", "310 sq. ft.", "310 ft2", "310 ft²", "310 ft^2", "310 ft**2", "310 ft 2",
     "310 square feet", "310 Square Foot", "310 feet squared", "310 sf", "310 SQ FT", "310\u00a0ft²"],
)  # fmt: skip
def test_parse_square_feet_as_people_write_them(text: str) -> None:
    assert parse(text, "area") == pytest.approx(28.7999424)


@pytest.mark.parametrize("text", ["55 gal", "55 gallons", "55 US gal", "55 gal.", "55gal", "55 Gallon"])
def test_parse_gallons_as_people_write_them(text: str) -> None:
    assert parse(text, "volume") == pytest.approx(208.19764812)


@pytest.mark.parametrize(
    "text", ["50 °F", "50F", "50 F", "50 degF", "50 deg F", "50 degrees Fahrenheit", "50 ℉", "50 º F"]
)
def test_parse_fahrenheit_as_people_write_it(text: str) -> None:
    assert parse(text, "temperature") == pytest.approx(10.0, abs=1e-12)


@pytest.mark.parametrize(
    "text",
    ["600 °F·d", "600 F d", "600 °F days", "600 degree-days F", "600 degF day", "600 DD °F", "600 GDD F"],
)
def test_parse_degree_days_as_people_write_them(text: str) -> None:
    assert parse(text, "degree_days") == pytest.approx(600 / 1.8)


def test_parse_bare_number_says_what_to_write_with_that_number() -> None:
    told = problem("310", "area")
    assert "no unit" in told.what
    assert '"310 sq ft" or "310 m2"' in told.instead
    assert told.found == '"310"'


def test_parse_unit_of_something_else_says_which() -> None:
    told = problem("55 gal", "area")
    assert "unit of volume" in told.what
    assert "area" in told.what
    assert "sq ft" in told.instead


@pytest.mark.parametrize(
    ("text", "dimension", "near"),
    [
        ("55 galons", "volume", "gallons"),
        ("310 sqare feet", "area", "square feet"),
        ("24 inchs", "length", "inches"),
        ("20 pouns", "mass", "pounds"),
        ("55 gallon drum", "volume", "gallon"),
    ],
)
def test_parse_unknown_unit_suggests_a_near_one(text: str, dimension: Dimension, near: str) -> None:
    assert f'Did you mean "{near}"?' in problem(text, dimension).instead


@pytest.mark.parametrize(
    ("text", "dimension", "words"),
    [
        ("2,5 m", "length", "comma"),
        ("0,500 m", "length", "comma"),
        ("2-3 in", "length", "range"),
        ("2 to 3 in", "length", "range"),
        ("10 x 20 ft", "area", "two sides"),
        ("10 ft by 20 ft", "area", "two sides"),
        ("", "length", "Nothing"),
        ("   ", "length", "Nothing"),
        ("about 55 gal", "volume", "begin with a number"),
        ("nan ft", "length", "begin with a number"),
        ("inf ft", "length", "begin with a number"),
        ("1/0 in", "length", "fraction"),
        ("1e999 ft", "length", "not a number"),
        ("2 in 6 ft", "length", "larger unit to the smaller"),
        ("2 ft 2 ft", "length", "larger unit to the smaller"),
        ("20 C 3 C", "temperature", "more than one number"),
        ("50 degrees", "temperature", "unit of angle"),
        ("3 foo/h", "flow", "not a unit"),
    ],
)  # fmt: skip
def test_parse_what_cannot_be_used_is_told_plainly(text: str, dimension: Dimension, words: str) -> None:
    told = problem(text, dimension)
    assert words in told.what
    assert told.instead


def test_parse_decimal_comma_offers_the_same_number_with_a_point() -> None:
    assert '"2.5 m"' in problem("2,5 m", "length").instead


@pytest.mark.parametrize(
    ("value", "dimension", "system", "shown"),
    [
        (0.6096, "length", "us", "24 in"),
        (0.03175, "length", "us", "1.2 in"),
        (0.9144, "length", "us", "3 ft"),
        (1.8796, "length", "us", "6.2 ft"),
        (30.48, "length", "us", "100 ft"),
        (0.61, "length", "metric", "61 cm"),
        (1.88, "length", "metric", "1.9 m"),
        (28.8, "area", "us", "310 sq ft"),
        (28.8, "area", "metric", "29 m²"),
        (2.5, "area", "metric", "2.5 m²"),
        (156.6, "volume", "us", "41 gal"),
        (156.6, "volume", "metric", "157 L"),
        (58_400.0, "volume", "us", "15,400 gal"),
        (10.7, "depth", "us", "0.42 in"),
        (10.72, "depth", "metric", "10.7 mm"),
        (25.4, "depth", "us", "1 in"),
        (10.0, "temperature", "us", "50 °F"),
        (-0.2, "temperature", "metric", "0 °C"),
        (10.0, "temperature_difference", "us", "18 °F"),
        (333.3333, "degree_days", "us", "600 °F·d"),
        (1525.6, "degree_days", "us", "2,746 °F·d"),
        (208.2, "mass", "us", "459 lb"),
        (12.0, "pressure", "us", "1.7 lb per sq in"),
        (50.8, "rainfall_rate", "us", "2 in/h"),
        (1.63, "flow", "us", "26 gal/min"),
        (float("nan"), "volume", "us", "not known"),
        (float("inf"), "volume", "us", "no limit"),
    ],
)
def test_show_rounds_for_use(value: float, dimension: Dimension, system: str, shown: str) -> None:
    assert show(value, dimension, system) == shown  # type: ignore[arg-type]


def test_show_with_digits_keeps_them_all() -> None:
    assert show(156.6, "volume", "us", 2) == "41.37 gal"
    assert show(3.785411784, "volume", "us", 2) == "1.00 gal"
    assert show(-1e-9, "depth", "metric", 2) == "0.00 mm"


def test_number_and_unit_name_agree_on_the_unit() -> None:
    assert number(3.785411784, "volume", "us") == pytest.approx(1.0)
    assert unit_name("volume", "us") == "gal"
    assert number(0.3048, "length", "us") == pytest.approx(1.0)
    assert unit_name("length", "us") == "ft"
    assert number(10.0, "temperature", "us") == pytest.approx(50.0)
    assert unit_name("degree_days", "metric") == "°C·d"
