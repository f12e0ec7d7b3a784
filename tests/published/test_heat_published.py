"""Degree-days against printed and independently computed numbers, in the Fahrenheit they are printed in."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.season import heat

# Lowest, highest, then at base 50 and upper 88 degF: plain mean; minimum raised to the base; both clipped to
# 50/86; sine without cutoff, horizontal, intermediate, vertical; triangle the same four.
DAYS = (
    (52, 80, 16.0, 16.0, 16.0, 16.0, 16.0, 16.0, 16.0, 16.0, 16.0, 16.0, 16.0),
    (50, 88, 19.0, 19.0, 18.0, 19.0, 19.0, 19.0, 19.0, 19.0, 19.0, 19.0, 19.0),
    (48, 86, 17.0, 18.0, 18.0, 17.1958, 17.1958, 17.1958, 17.1958, 17.0526, 17.0526, 17.0526, 17.0526),
    (40, 60, 0.0, 5.0, 5.0, 3.1831, 3.1831, 3.1831, 3.1831, 2.5, 2.5, 2.5, 2.5),
    (44, 70, 7.0, 10.0, 10.0, 8.2539, 8.2539, 8.2539, 8.2539, 7.6923, 7.6923, 7.6923, 7.6923),
    (30, 60, 0.0, 5.0, 5.0, 2.5424, 2.5424, 2.5424, 2.5424, 1.6667, 1.6667, 1.6667, 1.6667),
    (38, 52, 0.0, 1.0, 1.0, 0.3256, 0.3256, 0.3256, 0.3256, 0.1429, 0.1429, 0.1429, 0.1429),
    (30, 45, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    (45, 95, 20.0, 22.5, 18.0, 20.678, 19.5501, 18.4222, 10.2727, 20.25, 19.76, 19.27, 14.44),
    (60, 92, 26.0, 26.0, 23.0, 26.0, 25.392, 24.7839, 16.6499, 26.0, 25.75, 25.5, 21.0),
    (65, 100, 32.5, 32.5, 25.5, 32.5, 29.4021, 26.3043, 14.2692, 32.5, 30.4429, 28.3857, 17.4143),
    (90, 100, 45.0, 45.0, 36.0, 45.0, 38.0, 31.0, 0.0, 45.0, 38.0, 31.0, 0.0),
)
WAYS = (
    ("average", heat.average, None, "none", 0.00005),
    ("modified, base only", heat.modified, None, "none", 0.00005),
    ("modified 50/86", heat.modified, 86.0, "horizontal", 0.00005),
    ("sine none", heat.sine, 88.0, "none", 0.00005),
    ("sine horizontal", heat.sine, 88.0, "horizontal", 0.00005),
    ("sine intermediate", heat.sine, 88.0, "intermediate", 0.00005),
    ("sine vertical", heat.sine, 88.0, "vertical", 0.00005),
    ("triangle none", heat.triangle, 88.0, "none", 0.00005),
    ("triangle horizontal", heat.triangle, 88.0, "horizontal", 0.00005),
    ("triangle intermediate", heat.triangle, 88.0, "intermediate", 0.00005),
    ("triangle vertical", heat.triangle, 88.0, "vertical", 0.00005),
)
LOWS = (20, 25, 30, 35, 40, 45, 50)
# Highest temperature: degree-days above 50 degF for the lowest temperatures of LOWS.
SINE = {
    50: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    55: (0.81, 0.88, 0.97, 1.09, 1.27, 1.59, 2.5),
    60: (2.18, 2.34, 2.54, 2.81, 3.18, 3.77, 5.0),
    65: (3.81, 4.07, 4.38, 4.77, 5.31, 6.09, 7.5),
    70: (5.62, 5.96, 6.37, 6.88, 7.54, 8.47, 10.0),
    75: (7.54, 7.96, 8.46, 9.07, 9.84, 10.88, 12.5),
    80: (9.55, 10.04, 10.62, 11.31, 12.18, 13.31, 15.0),
    85: (11.63, 12.18, 12.83, 13.6, 14.55, 15.76, 17.5),
    90: (13.75, 14.37, 15.08, 15.92, 16.94, 18.22, 20.0),
    95: (15.93, 16.6, 17.37, 18.27, 19.34, 20.68, 22.5),
    100: (18.13, 18.86, 19.68, 20.63, 21.76, 23.15, 25.0),
}
TRIANGLE = {
    50: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    55: (0.36, 0.42, 0.5, 0.62, 0.83, 1.25, 2.5),
    60: (1.25, 1.43, 1.67, 2.0, 2.5, 3.33, 5.0),
    65: (2.5, 2.81, 3.21, 3.75, 4.5, 5.62, 7.5),
    70: (4.0, 4.44, 5.0, 5.71, 6.67, 8.0, 10.0),
    75: (5.68, 6.25, 6.94, 7.81, 8.93, 10.42, 12.5),
    80: (7.5, 8.18, 9.0, 10.0, 11.25, 12.86, 15.0),
    85: (9.42, 10.21, 11.14, 12.25, 13.61, 15.31, 17.5),
    90: (11.43, 12.31, 13.33, 14.55, 16.0, 17.78, 20.0),
    95: (13.5, 14.46, 15.58, 16.88, 18.41, 20.25, 22.5),
    100: (15.62, 16.67, 17.86, 19.23, 20.83, 22.73, 25.0),
}
MODIFIED = {
    50: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    55: (2.5, 2.5, 2.5, 2.5, 2.5, 2.5, 2.5),
    60: (5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0),
    65: (7.5, 7.5, 7.5, 7.5, 7.5, 7.5, 7.5),
    70: (10.0, 10.0, 10.0, 10.0, 10.0, 10.0, 10.0),
    75: (12.5, 12.5, 12.5, 12.5, 12.5, 12.5, 12.5),
    80: (15.0, 15.0, 15.0, 15.0, 15.0, 15.0, 15.0),
    85: (17.5, 17.5, 17.5, 17.5, 17.5, 17.5, 17.5),
    90: (20.0, 20.0, 20.0, 20.0, 20.0, 20.0, 20.0),
    95: (22.5, 22.5, 22.5, 22.5, 22.5, 22.5, 22.5),
    100: (25.0, 25.0, 25.0, 25.0, 25.0, 25.0, 25.0),
}
AVERAGE = {
    50: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    55: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.5),
    60: (0.0, 0.0, 0.0, 0.0, 0.0, 2.5, 5.0),
    65: (0.0, 0.0, 0.0, 0.0, 2.5, 5.0, 7.5),
    70: (0.0, 0.0, 0.0, 2.5, 5.0, 7.5, 10.0),
    75: (0.0, 0.0, 2.5, 5.0, 7.5, 10.0, 12.5),
    80: (0.0, 2.5, 5.0, 7.5, 10.0, 12.5, 15.0),
    85: (2.5, 5.0, 7.5, 10.0, 12.5, 15.0, 17.5),
    90: (5.0, 7.5, 10.0, 12.5, 15.0, 17.5, 20.0),
    95: (7.5, 10.0, 12.5, 15.0, 17.5, 20.0, 22.5),
    100: (10.0, 12.5, 15.0, 17.5, 20.0, 22.5, 25.0),
}
TEN_DAYS = (
    (28, 47),
    (33, 55),
    (41, 62),
    (36, 58),
    (45, 70),
    (50, 76),
    (55, 84),
    (48, 66),
    (39, 60),
    (52, 91),
)


@pytest.mark.check(
    "S-01-07", source="closed form, checked by integration at two million points", status="computed"
)
@pytest.mark.check("S-01-04", source="Baskerville & Emin 1969; Sevacherian et al. 1977", status="from memory")
@pytest.mark.check(
    "S-01-05", source="California degree-day glossary; Zalom et al. 1983", status="from memory"
)
@pytest.mark.parametrize("day", DAYS, ids=lambda day: f"{day[0]}-{day[1]}")
def test_every_method_and_cutoff_gives_the_tabled_day(day: tuple[float, ...]) -> None:
    for (name, function, upper, cutoff, tolerance), expected in zip(WAYS, day[2:], strict=True):
        got = float(function(day[0], day[1], 50.0, upper, cutoff))
        assert got == pytest.approx(expected, abs=tolerance), name


@pytest.mark.check("S-01-02", source="Vermont and New Hampshire extension leaflets", status="seen")
@pytest.mark.parametrize("high", AVERAGE)
def test_average_follows_the_lookup_grid(high: int) -> None:
    assert heat.average(LOWS, high, 50.0) == pytest.approx(np.array(AVERAGE[high]), abs=1e-12)


@pytest.mark.check("S-01-03", source="Purdue codling-moth notes; Minnesota vegetable notes", status="seen")
@pytest.mark.parametrize("high", MODIFIED)
def test_modified_follows_the_lookup_grid(high: int) -> None:
    assert heat.modified(LOWS, high, 50.0) == pytest.approx(np.array(MODIFIED[high]), abs=1e-12)


@pytest.mark.check("S-01-03", source="a growers' list quoting the 50/86 rule", status="second-hand")
def test_modified_52_to_85_counts_18_and_a_half() -> None:
    assert float(heat.modified(52, 85, 50, 86)) == 18.5


@pytest.mark.check("S-01-08", source="closed form of the single sine", status="computed")
@pytest.mark.parametrize("high", SINE)
def test_sine_follows_the_lookup_grid(high: int) -> None:
    assert heat.sine(LOWS, high, 50.0) == pytest.approx(np.array(SINE[high]), abs=0.0051)


@pytest.mark.check("S-01-08", source="closed form of the single triangle", status="computed")
@pytest.mark.parametrize("high", TRIANGLE)
def test_triangle_follows_the_lookup_grid(high: int) -> None:
    assert heat.triangle(LOWS, high, 50.0) == pytest.approx(np.array(TRIANGLE[high]), abs=0.0051)


@pytest.mark.check(
    "S-01-07", source="arithmetic: a sine between 40 and 60 above its own mean is 10/pi", status="computed"
)
@pytest.mark.check("T-1", source="arithmetic: ten over pi", status="computed")
def test_sine_of_40_to_60_is_ten_over_pi() -> None:
    assert float(heat.sine(40, 60, 50)) == pytest.approx(10 / np.pi, abs=1e-12)


@pytest.mark.check("S-01-06", source="Allen 1976", status="from memory")
@pytest.mark.check("S-01-07", source="closed form of two half waves", status="computed")
@pytest.mark.parametrize(
    ("function", "lows", "highs", "upper", "cutoff", "expected"),
    [
        (heat.double_sine, (44, 52), (70, 70), None, "none", 9.6269),
        (heat.double_triangle, (44, 52), (70, 70), None, "none", 9.3462),
        (heat.double_sine, (45, 60), (95, 95), 88.0, "horizontal", 22.8465),
        (heat.double_sine, (45, 60), (95, 95), 88.0, "intermediate", 21.6040),
        (heat.double_sine, (45, 60), (95, 95), 88.0, "vertical", 12.5996),
        (heat.double_triangle, (45, 60), (95, 95), 88.0, "horizontal", 23.28),
        (heat.double_triangle, (45, 60), (95, 95), 88.0, "intermediate", 22.685),
        (heat.double_triangle, (45, 60), (95, 95), 88.0, "vertical", 16.82),
    ],
)
def test_double_methods_use_tomorrow_s_minimum(
    function: heat.HeatMethod,
    lows: tuple[float, ...],
    highs: tuple[float, ...],
    upper: float | None,
    cutoff: str,
    expected: float,
) -> None:
    assert float(function(lows, highs, 50.0, upper, cutoff)[0]) == pytest.approx(expected, abs=0.00005)


@pytest.mark.check("S-01-09", source="closed forms summed by hand over ten days", status="computed")
@pytest.mark.parametrize(
    ("function", "upper", "expected", "tolerance"),
    [
        (heat.average, None, 70.0, 1e-9),
        (heat.modified, 86.0, 87.0, 1e-9),
        (heat.sine, None, 80.147, 0.0005),
        (heat.sine, 88.0, 79.791, 0.0005),
        (heat.triangle, None, 76.943, 0.0005),
        (heat.double_sine, None, 81.907, 0.0005),
        (heat.double_triangle, None, 78.932, 0.0005),
    ],
)
def test_ten_days_sum_by_method(
    function: heat.HeatMethod, upper: float | None, expected: float, tolerance: float
) -> None:
    lows = np.array(
        [low for low, _ in TEN_DAYS] + [54.0]
    )  # the eleventh minimum is tomorrow's of the tenth day
    highs = np.array([high for _, high in TEN_DAYS] + [54.0])
    assert float(function(lows, highs, 50.0, upper, "horizontal")[:10].sum()) == pytest.approx(
        expected, abs=tolerance
    )


@pytest.mark.check("S-01-11", source="degree arithmetic", status="computed")
def test_fahrenheit_and_celsius_give_the_same_heat() -> None:
    fahrenheit = float(heat.sine(44, 70, 50))
    celsius = float(heat.sine((44 - 32) / 1.8, (70 - 32) / 1.8, 10.0))
    assert fahrenheit == pytest.approx(8.2539, abs=0.00005)
    assert celsius == pytest.approx(4.5855, abs=0.00005)
    assert fahrenheit == pytest.approx(1.8 * celsius, rel=1e-12)


@pytest.mark.check("S-01-02", source="county adviser's worked cool day of 44 to 64 degF", status="computed")
def test_cool_day_of_44_to_64_reads_4_7_and_5_4_by_method() -> None:
    assert float(heat.average(44, 64, 50)) == 4.0
    assert float(heat.modified(44, 64, 50)) == 7.0
    assert float(heat.sine(44, 64, 50)) == pytest.approx(5.4, abs=0.05)
