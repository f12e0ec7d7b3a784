"""Our reading of quantities against a general-purpose unit library, and round trips through what we print."""

from functools import cache
from typing import get_args

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.problem import InputError
from dooryard.unit_table import Dimension
from dooryard.units import number, parse, show, unit_name

DIMENSIONS = get_args(Dimension)
CANONICAL = {
    "length": "m",
    "area": "m**2",
    "volume": "L",
    "depth": "mm",
    "temperature": "degC",
    "temperature_difference": "delta_degC",
    "degree_days": "delta_degC * day",
    "speed": "m/s",
    "mass": "kg",
    "rainfall_rate": "mm/hour",
    "pressure": "kPa",
    "angle": "degree",
    "flow": "L/s",
}
# (dimension, our spelling, the other library's). Its own parser is not used for compounds, spaces inside
# numbers or bare C and F, all of which it reads as something else.
PAIRS = [
    *[("length", u, u) for u in ("m", "cm", "mm", "km", "in", "ft", "yd", "mi")],
    *[("depth", u, u) for u in ("mm", "cm", "in", "ft")],
    ("depth", "L/m2", "L/m**2"),
    *[("area", f"sq {u}", f"{u}**2") for u in ("m", "cm", "in", "ft", "yd")],
    *[("area", f"{u}2", f"{u}**2") for u in ("m", "ft")],
    *[("area", f"{u}²", f"{u}**2") for u in ("m", "ft")],
    ("area", "ha", "hectare"),
    *[("volume", u, p) for u, p in (("L", "L"), ("mL", "mL"), ("gal", "gallon"), ("qt", "quart"))],
    ("volume", "pints", "pint"),
    ("volume", "cups", "cup"),
    ("volume", "fl oz", "fluid_ounce"),
    ("volume", "imperial gallons", "imperial_gallon"),
    *[("volume", f"cu {u}", f"{u}**3") for u in ("m", "ft", "yd", "in")],
    *[("temperature", u, p) for u, p in (("°F", "degF"), ("C", "degC"), ("K", "kelvin"))],
    *[("temperature_difference", u, f"delta_deg{u}") for u in ("F", "C")],
    *[("degree_days", f"°{u}·d", f"delta_deg{u} * day") for u in ("F", "C")],
    *[("speed", u, p) for u, p in (("m/s", "m/s"), ("km/h", "km/hour"), ("mph", "mph"), ("knots", "knot"))],
    ("speed", "ft per second", "ft/s"),
    *[("mass", u, p) for u, p in (("kg", "kg"), ("g", "g"), ("lb", "lb"), ("oz", "oz"), ("t", "tonne"))],
    ("mass", "short tons", "short_ton"),
    *[("rainfall_rate", u, p) for u, p in (("in/h", "in/hour"), ("mm/h", "mm/hour"), ("in/day", "in/day"))],
    *[("pressure", u, u) for u in ("kPa", "Pa", "hPa", "MPa", "bar", "mbar", "psi", "atm", "mmHg", "inHg")],
    ("pressure", "lb per sq ft", "lbf/ft**2"),
    *[("angle", u, u) for u in ("degrees", "rad")],
    *[("flow", u, p) for u, p in (("L/s", "L/s"), ("gpm", "gallon/minute"), ("L/min", "L/minute"))],
    *[("flow", u, p) for u, p in (("gph", "gallon/hour"), ("cfs", "ft**3/s"), ("m3/h", "m**3/hour"))],
]


@cache
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("dimension", "ours", "theirs"), PAIRS)
@given(value=st.floats(-1e6, 1e6).map(lambda x: round(x, 4)))
def test_parse_any_number_agrees_with_the_oracle(
    dimension: Dimension, ours: str, theirs: str, value: float
) -> None:
    expected = registry().Quantity(value, theirs).to(CANONICAL[dimension]).magnitude
    # 2e-7: conventional inches of mercury carry seven digits.
    assert parse(f"{value} {ours}", dimension) == pytest.approx(expected, rel=2e-7, abs=1e-9)


@pytest.mark.parametrize("dimension", DIMENSIONS)
@pytest.mark.parametrize("system", ["us", "metric"])
@given(value=st.floats(-1e5, 1e5))
def test_show_with_six_digits_reads_back(dimension: Dimension, system: str, value: float) -> None:
    text = show(value, dimension, system, digits=6)  # type: ignore[arg-type]
    unit = abs(parse(show(1.0, dimension, system, digits=9), dimension))  # type: ignore[arg-type]
    assert unit > 0
    assert parse(text, dimension) == pytest.approx(value, rel=1e-9, abs=0.002)


@pytest.mark.parametrize("dimension", DIMENSIONS)
@pytest.mark.parametrize("system", ["us", "metric"])
@given(value=st.floats(-1e6, 1e6))
def test_number_with_its_unit_name_reads_back(dimension: Dimension, system: str, value: float) -> None:
    bare = number(value, dimension, system)  # type: ignore[arg-type]
    text = f"{bare:.12f} {unit_name(dimension, system)}"  # type: ignore[arg-type]
    assert parse(text, dimension) == pytest.approx(value, rel=1e-9, abs=1e-8)


@given(
    whole=st.integers(0, 9_999_999),
    top=st.integers(0, 63),
    bottom=st.sampled_from([2, 3, 4, 8, 16, 32, 64]),
    comma=st.sampled_from([",", " ", "\u00a0", "\u202f", ""]),
    between=st.sampled_from([" ", "-", "  "]),
)
def test_mixed_number_is_its_whole_plus_its_fraction(
    whole: int, top: int, bottom: int, comma: str, between: str
) -> None:
    text = f"{whole:,}".replace(",", comma) + f"{between}{top}/{bottom} in"
    assert parse(text, "depth") == pytest.approx((whole + top / bottom) * 25.4, rel=1e-12)


@given(feet=st.integers(0, 500), inches=st.floats(0, 11.99).map(lambda x: round(x, 2)), minus=st.booleans())
def test_feet_and_inches_add_up_under_one_sign(feet: int, inches: float, minus: bool) -> None:
    expected = (feet * 12 + inches) * 0.0254 * (-1 if minus else 1)
    sign = "-" if minus else ""
    for form in ("{} ft {} in", "{}ft{}in", "{}' {}\"", "{}'-{}\"", "{} feet, {} inches", "{} ft and {} in"):
        assert parse(sign + form.format(feet, inches), "length") == pytest.approx(expected, abs=1e-12)


@given(value=st.floats(-1e9, 1e9))
def test_temperature_and_difference_differ_by_the_offset_only(value: float) -> None:
    text = f"{value:.6f} F"
    offset = parse("0 F", "temperature_difference") - parse("0 F", "temperature")
    moved = parse(text, "temperature_difference") - parse(text, "temperature")
    assert moved == pytest.approx(offset, abs=1e-6)
    assert offset == pytest.approx(32 / 1.8)


@given(
    text=st.text(alphabet="0123456789 .,/-+'\"½²³°⅟eftinmlgax^*·_\u00a0\x00٣", max_size=14)
    | st.text(max_size=20),
    dimension=st.sampled_from(DIMENSIONS),
)
def test_parse_any_text_gives_a_finite_number_or_a_plain_problem(text: str, dimension: Dimension) -> None:
    try:
        value = parse(text, dimension)
    except InputError as error:
        (problem,) = error.problems
        assert problem.what.endswith(".")
        assert problem.instead
        assert problem.found
    else:
        assert abs(value) < float("inf")
