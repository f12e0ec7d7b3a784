"""Conversions every rain-barrel sheet prints, worked from what the program reads, not from a factor table."""

import pytest

from dooryard.units import parse


@pytest.mark.check("W-00-1", source="144 in2 in a square foot over 231 in3 in a gallon", status="computed")
def test_one_inch_on_one_square_foot_is_144_over_231_gallons() -> None:
    litres = parse("1 in", "depth") * parse("1 sq ft", "area")
    assert litres / parse("1 gal", "volume") == pytest.approx(144 / 231, rel=1e-12)


@pytest.mark.check("W-00-2", source="1728 in3 in a cubic foot over 231 in3 in a gallon", status="computed")
def test_a_cubic_foot_holds_1728_over_231_gallons() -> None:
    assert parse("1 cu ft", "volume") / parse("1 gal", "volume") == pytest.approx(1728 / 231, rel=1e-12)


@pytest.mark.check("W-00-3", source="60 x 1728/231", status="computed")
def test_a_cubic_foot_a_second_is_449_gallons_a_minute() -> None:
    assert parse("1 ft3/s", "flow") / parse("1 gpm", "flow") == pytest.approx(448.8312, abs=5e-5)


@pytest.mark.check(
    "W-00-4", source="plumbing code excerpt prints 0.0104 gpm per sq ft at 1 in/h", status="second-hand"
)
def test_an_inch_an_hour_on_a_square_foot_is_0_0104_gallons_a_minute() -> None:
    litres_per_hour = parse("1 in/h", "rainfall_rate") * parse("1 sq ft", "area")
    gallons_per_minute = litres_per_hour / 3600 / parse("1 gpm", "flow")
    assert gallons_per_minute == pytest.approx(0.0104, abs=0.00005)
    assert 1 / gallons_per_minute == pytest.approx(96.25, abs=1e-9)


@pytest.mark.check("W-00-5", source="definition of the litre", status="computed")
def test_one_millimetre_on_one_square_metre_is_exactly_one_litre() -> None:
    assert parse("1 mm", "depth") * parse("1 m2", "area") == parse("1 L", "volume") == 1.0


@pytest.mark.check("W-00-6", source="city fact sheet prints 8.34 lb per gallon of water", status="seen")
def test_a_gallon_of_water_weighs_8_34_pounds() -> None:
    pounds_per_cubic_foot = 62.4
    gallons_per_cubic_foot = parse("1 ft3", "volume") / parse("1 gal", "volume")
    assert pounds_per_cubic_foot / gallons_per_cubic_foot == pytest.approx(8.34, abs=0.005)


@pytest.mark.parametrize(
    ("text", "dimension", "canonical"),
    [
        # NIST Special Publication 811, appendix B.8: exact factors in bold there.
        pytest.param("1 in", "depth", 25.4),
        pytest.param("1 ft", "length", 0.3048),
        pytest.param("1 acre", "area", 4046.8564224),
        pytest.param("1 gal", "volume", 3.785411784),
        pytest.param("1 lb", "mass", 0.45359237),
        pytest.param("1 mph", "speed", 0.44704),
        pytest.param("32 °F", "temperature", 0.0),
        pytest.param("212 °F", "temperature", 100.0),
        pytest.param("-40 °F", "temperature", -40.0),
        pytest.param("9 °F", "temperature_difference", 5.0),
        pytest.param("900 °F·d", "degree_days", 500.0),
    ],
)
def test_units_of_exact_definition_convert_exactly(text: str, dimension: str, canonical: float) -> None:
    assert parse(text, dimension) == pytest.approx(canonical, rel=1e-15, abs=1e-15)  # type: ignore[arg-type]


def test_psi_is_6_894757_kilopascal() -> None:
    # NIST SP 811 B.8: pound-force per square inch = 6.894 757 E+03 Pa.
    assert parse("1 psi", "pressure") == pytest.approx(6.894757, abs=5e-7)
