"""Storm patterns, intensity curves, the Chicago storm and rain gardens against published figures."""

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.water.design_rain import short_ratio, window_share
from dooryard.water.idf import PowerShifted, ShiftedPower, chicago_depth, chicago_rate, chicago_storm, depth
from dooryard.water.rain_garden import by_factor, by_volume
from dooryard.water.storm import pattern

FT2, IN_MM = 0.09290304, 25.4

CLEVELAND = ShiftedPower(1209, 0.79, 8.86)
"""Ten-year curve of Cleveland, Ohio [mm/h], as a textbook problem gives it."""
CHICAGO = PowerShifted(90, 0.9, 11)
"""Five-year curve of the first publication [in/h]."""


@pytest.mark.check("W-06-1", source="US type II distribution, two public copies", status="second-hand")
def test_type_ii_curve_at_hours(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-ii")
    hours = [0, 3, 6, 9, 11, 11.5, 11.8, 12, 12.5, 15, 18, 21, 24]
    share = [0, 0.035, 0.080, 0.147, 0.235, 0.283, 0.431, 0.663, 0.735, 0.854, 0.921, 0.965, 1]
    assert np.interp(hours, storm.hours, storm.share).tolist() == pytest.approx(share, abs=1e-12)


@pytest.mark.check("W-06-2", source="Austin Drainage Criteria Manual, table 2-6", status="seen")
def test_type_iii_curve_at_the_ordinates_read(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-iii")
    found = np.interp([0.5, 1, 9, 16.5, 17], storm.hours, storm.share)
    assert found.tolist() == pytest.approx([0.005, 0.010, 0.1458, 0.8984, 0.9095], abs=1e-12)


@pytest.mark.check("W-06-2", source="US type III distribution, second copy", status="second-hand")
def test_type_iii_curve_agrees_with_a_second_copy(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-iii")
    hours = [2, 4, 6, 7, 8, 8.5, 9, 9.5, 10, 10.5, 11, 11.5, 12, 12.5, 13, 13.5, 14, 16, 20]
    share = [
        0.020, 0.043, 0.072, 0.089, 0.115, 0.130, 0.148, 0.167, 0.189, 0.216, 0.250, 0.298, 0.500, 0.702, 0.751,
        0.785, 0.811, 0.886, 0.957,
    ]  # fmt: skip
    assert np.interp(hours, storm.hours, storm.share).tolist() == pytest.approx(share, abs=0.0025)


@pytest.mark.check("W-06-3", source="US type I distribution, two copies", status="second-hand")
def test_type_i_curve_at_hours(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-i")
    hours = [1, 2, 3, 4, 5, 6, 7, 8, 8.5, 9, 9.5, 10, 10.5, 11, 11.5, 12, 13, 14, 16, 18, 20, 22, 24]
    share = [
        0.017, 0.035, 0.055, 0.076, 0.099, 0.125, 0.156, 0.194, 0.219, 0.254, 0.303, 0.515, 0.583, 0.624, 0.654,
        0.682, 0.727, 0.767, 0.830, 0.882, 0.926, 0.965, 1,
    ]  # fmt: skip
    assert np.interp(hours, storm.hours, storm.share).tolist() == pytest.approx(share, abs=1e-12)


@pytest.mark.check("W-06-4", source="US type IA distribution, recalled and one copy", status="from memory")
def test_type_ia_curve_at_hours(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-ia")
    share = [0.020, 0.050, 0.082, 0.116, 0.156, 0.206, 0.268, 0.425, 0.520, 0.577, 0.624, 0.664]
    assert np.interp(range(1, 13), storm.hours, storm.share).tolist() == pytest.approx(share, abs=1e-12)


@pytest.mark.parametrize("name", ["type-i", "type-ia", "type-ii", "type-iii"])
def test_every_pattern_rises_from_nothing_to_all(knowledge: Knowledge, name: str) -> None:
    storm = pattern(knowledge.facts, name)
    assert (storm.hours[0], storm.hours[-1], storm.share[0], storm.share[-1]) == (0, 24, 0, 1)
    assert (np.diff(storm.hours) > 0).all()
    assert (np.diff(storm.share) > 0).all()


@pytest.mark.check("W-06-5", source="NEH-630 duration ratios; type II curve", status="second-hand")
def test_window_share_of_the_type_ii_curve_needs_no_ratio(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-ii")
    shares = [window_share(storm, minutes, knowledge.facts) for minutes in (15, 30, 60, 120, 180, 360, 720)]
    assert shares == pytest.approx([0.270, 0.380, 0.454, 0.538, 0.595, 0.707, 0.841], abs=0.0025)


@pytest.mark.check("W-06-6", source="US type II distribution", status="computed")
def test_worst_six_minutes_by_window_share(knowledge: Knowledge) -> None:
    share = window_share(pattern(knowledge.facts, "type-ii"), 6, knowledge.facts)
    assert share == pytest.approx(0.137, abs=0.0005)


@pytest.mark.check("W-06-7", source="symmetry of the type III distribution", status="computed")
def test_type_iii_curve_is_the_same_forwards_and_backwards(knowledge: Knowledge) -> None:
    storm = pattern(knowledge.facts, "type-iii")
    residual = np.abs(storm.share + storm.share[::-1] - 1)
    assert (storm.hours + storm.hours[::-1]).tolist() == pytest.approx([24.0] * len(storm.hours))
    assert residual.max() <= 0.001 + 1e-12
    assert residual[(storm.hours >= 4) & (storm.hours <= 20)].max() == pytest.approx(0, abs=1e-12)


@pytest.mark.check(
    "W-06-short-ratios", source="Technical Paper 40, short durations over the hour", status="from memory"
)
@pytest.mark.parametrize(("minutes", "ratio"), [(5, 0.29), (10, 0.45), (15, 0.57), (30, 0.79), (60, 1)])
def test_short_ratio_to_the_hour(knowledge: Knowledge, minutes: int, ratio: float) -> None:
    assert short_ratio(minutes, knowledge.facts) == pytest.approx(ratio)


@pytest.mark.check("W-06-13", source="textbook problem: Cleveland, Ohio, 10 years", status="computed")
def test_shifted_power_curve_of_cleveland() -> None:
    rates = CLEVELAND.mean_rate([5, 10, 15, 30, 60, 120])
    assert rates.tolist() == pytest.approx([151.51, 118.78, 98.64, 67.10, 42.70, 26.03], abs=0.0055)


@pytest.mark.check("W-06-14", source="Chicago storm of that curve", status="computed")
def test_chicago_storm_holds_the_curves_depth_in_every_window() -> None:
    assert chicago_rate(CLEVELAND, 0.4, [0, -10, 10, 30]).tolist() == pytest.approx(
        [215.751, 31.176, 45.282, 15.898], abs=0.0006
    )
    windows = np.array([5, 15, 60, 120])
    fallen = chicago_depth(CLEVELAND, 0.4, -0.4 * windows, 0.6 * windows)
    assert fallen.tolist() == pytest.approx([12.626, 24.661, 42.700, 52.055], abs=0.0006)
    assert fallen.tolist() == pytest.approx(depth(CLEVELAND, windows).tolist(), rel=1e-12)


@pytest.mark.check("W-06-14", source="Chicago storm of that curve", status="computed")
def test_chicago_rate_adds_up_to_the_depth_by_another_way() -> None:
    """The rates, added up minute by minute with a fine ruler, give the closed form's depth."""
    t = np.linspace(-24, 36, 600_001)
    rates = chicago_rate(CLEVELAND, 0.4, (t[:-1] + t[1:]) / 2)
    assert float(np.sum(rates * np.diff(t))) / 60 == pytest.approx(42.700, abs=0.0006)


@pytest.mark.check("W-06-15", source="Keifer and Chu 1957, Chicago, 5 years", status="from memory")
def test_chicago_storm_of_the_first_publication() -> None:
    assert CHICAGO.mean_rate([10, 60]).tolist() == pytest.approx([4.751, 1.770], abs=0.0005)
    assert chicago_rate(CHICAGO, 0.375, [0, -10, 10]).tolist() == pytest.approx(
        [8.182, 1.275, 2.055], abs=0.0005
    )
    windows = np.array([15, 60, 180])
    fallen = chicago_depth(CHICAGO, 0.375, -0.375 * windows, 0.625 * windows)
    assert fallen.tolist() == pytest.approx([1.0026, 1.7702, 2.2864], abs=5e-5)


@pytest.mark.check("W-06-16", source="Fair, Geyer and Okun, figure in section 11.15", status="seen")
def test_curve_of_a_textbook_figure() -> None:
    rates = ShiftedPower(26, 0.66, 2).mean_rate([10, 30, 60, 98])
    assert rates.tolist() == pytest.approx([5.043, 2.640, 1.706, 1.244], abs=0.0006)
    assert float(rates[-1]) == pytest.approx(1.23, abs=0.02)  # as read off the book's figure


def test_chicago_storm_as_a_pattern_keeps_its_hardest_windows() -> None:
    storm = chicago_storm(CLEVELAND, 0.4, 120, 1)
    total = float(depth(CLEVELAND, 120))
    assert storm.largest_share(0.5) * total == pytest.approx(float(depth(CLEVELAND, 30)), rel=0.002)
    assert (storm.share[0], storm.share[-1], storm.hours[-1]) == (0, 1, 2)


@pytest.mark.check(
    "W-06-18", source="Universities of Rhode Island and Connecticut, rain garden slides", status="seen"
)
def test_rain_garden_for_half_a_roof() -> None:
    """Half of a 50 by 30 ft roof, an inch of rain, a pond of 6 in: 125 sq ft."""
    assert by_volume(750 * FT2, IN_MM, 6 * IN_MM) / FT2 == pytest.approx(125)


@pytest.mark.check("W-06-19", source="Illinois Department of Natural Resources", status="seen")
def test_rain_garden_in_loam(knowledge: Knowledge) -> None:
    assert by_factor(750 * FT2, "loam", "6in", knowledge.facts) / FT2 == pytest.approx(187.5)


@pytest.mark.check(
    "W-06-20", source="Universities of Rhode Island and Connecticut, rain garden slides", status="seen"
)
def test_rain_garden_by_two_ways(knowledge: Knowledge) -> None:
    """1,917 sq ft: the sheet prints 320 by volume; its sandy factor gives 288."""
    by_depth = by_volume(1917 * FT2, IN_MM, 6 * IN_MM) / FT2
    assert by_depth == pytest.approx(319.5, abs=0.01)
    assert by_depth == pytest.approx(320, abs=0.51)
    assert by_factor(1917 * FT2, "sandy", "6in", knowledge.facts) / FT2 == pytest.approx(287.6, abs=0.06)
