"""Wet leaves and infection against printed tables, worked values and second thoughts on printed errors."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard import knowledge
from dooryard.knowledge.season_rows import Infection, Severity
from dooryard.season import wetness
from dooryard.season.infection import severity
from dooryard.season.infection.fire_blight import blossom_days, degree_hours
from dooryard.season.infection.p_days import p_days, rate
from dooryard.season.infection.turf import brown_patch
from dooryard.season.infection.wet_hours import judge, needed
from dooryard.season.wetness import Spell, by_dew_point, by_humidity, by_tree, spells, wind_at_leaf


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def blight() -> list[Severity]:
    return [row for row in knowledge.load().severity if row.disease == "tomato early blight"]


def disease(name: str, grade: str = "any") -> list[Infection]:
    return [row for row in knowledge.load().infection if row.disease == name and row.severity == grade]


def spell(wet_h: int, mean_f: float, unknown_h: int = 0) -> Spell:
    return Spell(0, wet_h - 1, wet_h, celsius(mean_f), unknown_h)


# --- tomato early blight --------------------------------------------------------------------------------


@pytest.mark.check("S-03-01", source="Madden, Pennypacker and MacNab 1978", status="from memory")
@pytest.mark.parametrize(
    ("mean_c", "wet_h", "expected"),
    [
        (15, 16, 2), (15, 21, 3), (15, 24, 3), (19, 10, 2), (23, 21, 4), (23, 2, 0), (27, 3, 0), (27, 4, 1),
        (12, 24, 0), (30, 24, 0),
    ],
)  # fmt: skip
def test_severity_values_of_the_table(mean_c: float, wet_h: float, expected: int) -> None:
    assert severity.value(blight(), mean_c, wet_h) == expected


@pytest.mark.check("T-8", source="Madden, Pennypacker and MacNab 1978", status="from memory")
def test_severity_at_18_to_20_degrees_is_that_at_26_to_29() -> None:
    for hours in range(25):
        assert severity.value(blight(), 19, hours) == severity.value(blight(), 28, hours)


@pytest.mark.check("S-03-01", source="Madden, Pennypacker and MacNab 1978", status="from memory")
@given(st.integers(0, 24), st.integers(0, 24), st.floats(5, 35))
def test_severity_never_falls_with_hours_and_is_highest_at_21_to_25_degrees(
    a: int, b: int, mean_c: float
) -> None:
    low, high = sorted((a, b))
    rows = blight()
    assert severity.value(rows, mean_c, low) <= severity.value(rows, mean_c, high)
    assert severity.value(rows, mean_c, low) <= severity.value(rows, 23, low)


@pytest.mark.check("S-03-02", source="Penn State Extension 2012, first at 35 and then at 18", status="seen")
def test_sums_of_the_worked_days_call_for_sprays_on_days_ten_and_fifteen() -> None:
    facts = knowledge.load().fact
    first, later = facts("early_blight.first_sum").value, facts("early_blight.later_sum").value
    days = [2, 3, 4, 3, 4, 4, 3, 4, 4, 4, 4, 4, 3, 4, 3]
    found = severity.spray_days(days, first, later)
    assert found == (9, 14)
    sums = severity.running(days, found)
    assert (sums[9], sums[10], sums[14]) == (35, 4, 18)


@pytest.mark.check("S-03-02", source="Penn State Extension 2007, a week's sum", status="seen")
def test_a_week_of_the_worst_days_sums_to_28_and_an_unknown_day_leaves_it_unknown() -> None:
    assert severity.last_days([0, *[4] * 7], 7) == 28
    assert np.isnan(severity.last_days([4, 4, np.nan, 4, 4, 4, 4], 7))
    assert np.isnan(severity.last_days([4] * 6, 7))


def test_severity_of_days_needs_the_warmth_of_wet_hours_only() -> None:
    got = severity.values(blight(), [np.nan, np.nan, 23, 23], [0, 5, np.nan, 21])
    assert got[0] == 0
    assert np.isnan(got[1:3]).all()
    assert got[3] == 4


# --- potato ---------------------------------------------------------------------------------------------


@pytest.mark.check("S-03-03", source="Pscheidt and Stevenson 1988", status="computed")
@pytest.mark.check(
    "T-4", source="Pscheidt and Stevenson 1988, last term the day's highest", status="computed"
)
@pytest.mark.parametrize(
    ("low", "high", "expected"), [(12, 26, 8.429), (18, 24, 9.707), (5, 15, 3.477), (22, 35, 4.220)]
)
def test_p_days_take_the_highest_temperature_in_the_last_term(
    low: float, high: float, expected: float
) -> None:
    assert float(p_days(low, high)) == pytest.approx(expected, abs=5e-4)
    with_low = float(p_days(low, high)) + 3 * (float(rate(low)) - float(rate(high))) / 24
    assert with_low != pytest.approx(expected, abs=5e-4)


@pytest.mark.check("S-03-03", source="Sands, Hackett and Nix 1979", status="computed")
def test_growth_of_potato_is_nothing_at_7_and_30_degrees_and_full_at_21() -> None:
    assert rate([7, 21, 30, 5, 40]).tolist() == [0, 10, 0, 0, 0]


# --- wet leaves -----------------------------------------------------------------------------------------


@pytest.mark.check("S-03-05", source="a common choice of extension offices", status="second-hand")
def test_hour_is_wet_from_90_percent_on_or_in_rain_and_unknown_only_without_both() -> None:
    got = by_humidity([89.9, 90, 50, np.nan, np.nan], [0, 0, 0.2, np.nan, 1.0], 90)
    assert got.wet[:3].tolist() == [0, 1, 1]
    assert np.isnan(got.wet[3])
    assert got.wet[4] == 1


@pytest.mark.check("S-03-05", source="rule of thumb", status="from memory")
def test_hour_is_wet_while_the_air_is_less_than_two_degrees_above_its_dew_point() -> None:
    assert by_dew_point([20, 20, 20], [18.1, 18.0, 10], None, 2.0).wet.tolist() == [1, 0, 0]


@pytest.mark.check(
    "S-03-05", source="Kim and others 2002, still-air branch of three public codes", status="seen"
)
@pytest.mark.parametrize(
    ("air", "humid", "wind", "apart", "side", "wet"),
    [(18, 92, 1, 1.3, 15.673, 1), (18, 80, 1, 3.5, 13.580, 0), (25, 75, 0.5, 3.6, 14.374, 0),
     (10, 95, 2, 0.8, 15.924, 1)],
)  # fmt: skip
def test_tree_in_still_air(
    air: float, humid: float, wind: float, apart: float, side: float, wet: int
) -> None:
    values = tuple(np.array([float(value)]) for value in (air, humid, wind, apart))
    assert wetness.still_air_side(*values)[0] == pytest.approx(side, abs=5e-4)
    got = by_tree([air], [humid], [air - apart], [wind])
    assert got.wet.tolist() == [wet]
    assert got.doubt == ""


@pytest.mark.check("S-03-05", source="Kim and others 2002, windy branch", status="from memory")
@pytest.mark.parametrize(("humid", "apart", "side"), [(96, 0.6, 38.392), (92, 1.3, 37.161)])
def test_tree_in_wind_says_how_many_hours_hang_on_its_doubt(humid: float, apart: float, side: float) -> None:
    values = tuple(np.array([float(value)]) for value in (18, humid, 3, apart))
    assert wetness.windy_side(*values)[0] == pytest.approx(side, abs=5e-4)
    got = by_tree([18], [humid], [18 - apart], [3])
    assert got.wet.tolist() == [1]
    assert got.doubted_h == 1
    assert "square" in got.doubt
    assert by_tree([18], [85], [17.4], [3]).wet.tolist() == [0]


@pytest.mark.check(
    "T-12", source="public codes of the tree, plain humidity in the windy branch", status="computed"
)
def test_windy_branch_as_public_codes_print_it_can_never_be_wet() -> None:
    # Every corner of what the branch is for, with the plain humidity of those codes in place of its square.
    air, humid, wind, apart = np.meshgrid(
        np.linspace(0, 40, 41), np.linspace(87.8, 100, 13), np.linspace(2.5, 15, 26), np.linspace(0, 3.7, 38)
    )
    plain = wetness.windy_side(air, humid, wind, apart) - 0.0046 * humid**2 + 0.0046 * humid
    assert plain.max() < 37.0
    assert plain.max() < 24.0  # far from it, even where air and humidity could not go together
    assert wetness.windy_side(air, humid, wind, apart).max() > 37.0


def test_tree_says_dry_far_from_the_dew_point_and_nothing_below_freezing() -> None:
    got = by_tree([20, -1, 20], [50, 95, np.nan], [10, -1.5, 19], [1, 1, 1])
    assert got.wet[0] == 0
    assert np.isnan(got.wet[1:]).all()


@pytest.mark.check("S-03-05", source="FAO-56 eq. 47 at both heights", status="computed")
def test_wind_at_leaf_height_is_some_four_tenths_of_that_at_ten_metres() -> None:
    # u2 = u 4.87 / ln(67.8 z - 5.42): ln(14.92) / ln(672.58)
    assert float(wind_at_leaf(10.0, 10.0, 0.3)) == pytest.approx(10 * 2.7027 / 6.5112, abs=0.001)
    assert float(wind_at_leaf(3.0, 2.0, 2.0)) == 3.0


# --- apple scab, black rot, rust ------------------------------------------------------------------------


@pytest.mark.check("S-03-06", source="West Virginia University, revised Mills table", status="seen")
@pytest.mark.parametrize(
    ("mean_f", "wet_h", "word"),
    [
        (52, 9, "possible"), (50, 10, "too short"), (50, 11, "possible"), (51, 10, "possible"),
        (68, 6, "possible"), (34, 40, "too short"), (33, 48, "outside the table"),
    ],
)  # fmt: skip
def test_apple_scab_by_the_table(mean_f: float, wet_h: int, word: str) -> None:
    assert judge(disease("apple scab"), spell(wet_h, mean_f)).word == word


@pytest.mark.check("S-03-06", source="West Virginia University, revised Mills table", status="seen")
def test_apple_scab_hours_lie_on_a_line_between_listed_temperatures() -> None:
    assert needed(disease("apple scab"), celsius(51)).hours == pytest.approx(10.0)


@pytest.mark.check("T-5", source="a trade-press reprint of the scab table", status="computed")
def test_scab_hours_fall_up_to_61_degrees_and_the_reprint_with_56_and_57_is_found_out() -> None:
    def falls(rows: list[Infection]) -> bool:
        cool = sorted((row.t_low_c, row.wet_hours) for row in rows if row.t_low_c <= celsius(61) + 1e-9)
        return all(a >= b for (_, a), (_, b) in pairwise(cool))

    rows = disease("apple scab")
    assert falls(rows)
    wrong = {celsius(46): celsius(56), celsius(48): celsius(57)}
    reprint = [
        replace(
            row,
            t_low_c=next((new for old, new in wrong.items() if abs(row.t_low_c - old) < 1e-6), row.t_low_c),
        )
        for row in rows
    ]
    assert not falls(reprint)


@pytest.mark.check("S-03-07", source="Michigan State University, wet hours for black rot", status="seen")
@pytest.mark.parametrize(
    ("mean_f", "hours"),
    [(50, 24), (55, 12), (60, 9), (65, 8), (70, 7), (75, 7), (80, 6), (85, 9), (90, 12)],
)
def test_black_rot_by_the_table(mean_f: float, hours: float) -> None:
    assert needed(disease("grape black rot"), celsius(mean_f)).hours == pytest.approx(hours)


@pytest.mark.check("T-6", source="Spotts 1977, three points in Celsius", status="seen")
@pytest.mark.parametrize(("mean_c", "hours"), [(26.5, 6), (10.0, 24), (32.0, 12)])
def test_black_rot_agrees_with_points_found_in_celsius(mean_c: float, hours: float) -> None:
    # Both are rounded to whole hours.
    assert needed(disease("grape black rot"), mean_c).hours == pytest.approx(hours, abs=0.5)


@pytest.mark.check("S-03-08", source="Aldwinckle, Pearson and Seem 1980", status="from memory")
@pytest.mark.parametrize(
    ("mean_f", "light", "severe"), [(40, 12, 24), (43, 8, 10), (46, 6, 7), (50, 5, 6), (58, 3, 5), (70, 2, 4)]
)
def test_cedar_rust_light_and_severe(mean_f: float, light: float, severe: float) -> None:
    assert needed(disease("cedar-apple rust", "light"), celsius(mean_f)).hours == pytest.approx(light)
    assert needed(disease("cedar-apple rust", "severe"), celsius(mean_f)).hours == pytest.approx(severe)


@pytest.mark.check("S-03-08", source="an extension page from Virginia, dry galls", status="second-hand")
def test_dry_galls_need_four_hours_more() -> None:
    rows = disease("cedar-apple rust", "light")
    after = knowledge.load().fact("cedar_rust.dry_galls").value
    assert judge(rows, spell(5, 50)).word == "possible"
    assert judge(rows, spell(8, 50), after_h=after).word == "too short"
    assert judge(rows, spell(9, 50), after_h=after).word == "possible"


def test_too_short_a_spell_with_unknown_hours_is_not_known_and_a_long_one_stays_possible() -> None:
    rows = disease("apple scab")
    assert judge(rows, spell(5, 68, unknown_h=1)).word == "not known"
    assert judge(rows, spell(6, 68, unknown_h=1)).word == "possible"
    assert judge(rows, Spell(0, 5, 6, None, 0)).word == "not known"


@pytest.mark.check(
    "S-03-06", source="West Virginia University: spells are added below 8 dry hours", status="seen"
)
def test_spells_are_one_below_eight_dry_hours_and_two_from_eight_on() -> None:
    def found(dry: int) -> list[int]:
        wet = [0, 1, 1, *[0] * dry, 1, 0]
        return [one.wet_h for one in spells(wet, np.full(len(wet), 15.0), dry_gap_h=8)]

    assert found(7) == [3]
    assert found(8) == [2, 1]


def test_spell_takes_the_warmth_of_its_wet_hours_and_counts_unknown_ones_beside_it() -> None:
    wet = [np.nan, 1, 0, 1, 0]
    (one,) = spells(wet, [0, 10, 30, 20, 30], dry_gap_h=8)
    assert (one.first, one.last, one.wet_h, one.mean_c, one.unknown_h) == (1, 3, 2, 15.0, 1)


def test_unlisted_hours_of_a_day_leave_it_unknown_only_if_none_is_known() -> None:
    got = wetness.hours_by_day([1, 1, np.nan, 0, np.nan, np.nan], [0, 3, 4])
    assert got[:2].tolist() == [2, 0]
    assert np.isnan(got[2])


# --- fire blight, brown patch ---------------------------------------------------------------------------


@pytest.mark.check("S-03-09", source="Steiner's conditions on a Virginia page", status="from memory")
def test_fire_blight_needs_heat_then_wet_then_a_warm_day() -> None:
    facts = knowledge.load().fact
    base, need = facts("fire_blight.base").value, facts("fire_blight.needed").value
    warm_f = celsius(60)
    # 70 °F all day: 24 h of 5 °F, 120 °F·h a day; 198 are reached on the second day.
    heat = [degree_hours(np.full(24, celsius(70)), base).sum() for _ in range(4)]
    assert heat[0] * 1.8 == pytest.approx(120)
    got = blossom_days(
        heat, [True, True, False, True], [celsius(70), celsius(70), celsius(70), celsius(59)],
        needed_ch=need, least_mean_c=warm_f,
    )  # fmt: skip
    assert got.risk.tolist() == [False, True, False, False]
    assert got.share[:2] == pytest.approx([120 / 198, 240 / 198])


@pytest.mark.check("S-03-10", source="Fidanza, Dernoeden and Grybauskas 1996", status="seen")
@pytest.mark.check("T-7", source="Fidanza, Dernoeden and Grybauskas 1996, five values", status="computed")
@pytest.mark.parametrize(
    ("humid", "low", "index", "warns"),
    [(85, 21, 6.097, True), (90, 16, 5.952, False), (80, 18, 5.008, False), (95, 24, 7.342, True),
     (75, 22, 4.578, False)],
)  # fmt: skip
def test_brown_patch_index_of_five_days(humid: float, low: float, index: float, warns: bool) -> None:
    got = float(brown_patch(humid, low))
    assert got == pytest.approx(index, abs=5e-4)
    assert (got >= knowledge.load().fact("brown_patch.warn_at").value) == warns


@pytest.mark.check("S-03-10", source="Fidanza, Dernoeden and Grybauskas 1996", status="computed")
def test_brown_patch_is_worst_at_a_low_of_21_degrees() -> None:
    lows = np.arange(10, 30, 0.1)
    assert lows[int(np.argmax(brown_patch(90, lows)))] == pytest.approx(21.2, abs=0.05)
