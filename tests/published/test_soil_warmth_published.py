"""Soil warmth, the damped wave, and seed in soil of a given warmth, against worked figures and printed tables."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from dooryard import knowledge
from dooryard.knowledge.season_rows import Germination
from dooryard.season.germination import days_to_emerge, sowings
from dooryard.season.soil_temperature import damping_depth_m, estimate, lagged, wave_at

YEAR_S, DAY_S = 365.25 * 86400, 86400


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def seed(crop: str) -> list[Germination]:
    return [row for row in knowledge.load().germination if row.crop == crop]


@pytest.mark.check("S-05-06", source="form of Zheng and others 1993, worked days", status="computed")
def test_soil_follows_seven_worked_days_of_air() -> None:
    got = lagged([12, 15, 18, 16, 10, 8, 14], 10.0)
    expected = [10.5, 11.625, 13.2188, 13.9141, 12.9355, 11.7017, 12.2762]
    assert got == pytest.approx(expected, abs=5e-5)


@pytest.mark.check("S-05-06", source="damped wave of soil physics", status="computed")
def test_damped_wave_at_four_inches() -> None:
    assert damping_depth_m(5e-7, YEAR_S) == pytest.approx(2.24, abs=0.005)
    assert damping_depth_m(5e-7, DAY_S) == pytest.approx(0.117, abs=0.0005)
    year, day = wave_at(0.10, 5e-7, YEAR_S), wave_at(0.10, 5e-7, DAY_S)
    assert year.share == pytest.approx(0.96, abs=0.005)
    assert year.lag_s / DAY_S == pytest.approx(2.6, abs=0.05)
    assert day.share == pytest.approx(0.43, abs=0.005)
    assert day.lag_s / 3600 == pytest.approx(3.3, abs=0.05)


@pytest.mark.check("S-05-06", source="numerical solution of heat conduction", status="computed")
def test_damped_wave_agrees_with_conduction_worked_out_step_by_step() -> None:
    # Explicit differences: 1 cm layers to 1 m, 60 s steps, a day's swing at the surface for 20 days.
    layer_m, step_s, spread = 0.01, 60.0, 5e-7
    steps = int(20 * DAY_S / step_s)
    surface = np.sin(2 * pi * np.arange(steps) * step_s / DAY_S)
    soil, at_10 = np.zeros(101), []
    for now in surface:
        soil[0] = now
        soil[1:-1] += spread * step_s / layer_m**2 * (soil[2:] - 2 * soil[1:-1] + soil[:-2])
        at_10.append(soil[10])
    last = np.array(at_10[-1440:])
    wave = wave_at(0.10, spread, DAY_S)
    assert last.max() == pytest.approx(wave.share, rel=0.02)
    assert int(np.argmax(last)) * 60 - DAY_S / 4 == pytest.approx(wave.lag_s, abs=600)


def test_estimate_forgets_its_beginning_and_refuses_gaps_it_cannot_bridge() -> None:
    even = estimate(np.r_[np.full(60, -20.0), np.full(31, 8.0)], days=30, bridged_most=3)
    assert even.soil_c == pytest.approx(8.0)
    gap = np.full(40, 8.0)
    gap[-5:-2] = np.nan
    assert estimate(gap, days=30, bridged_most=3).soil_c == pytest.approx(8.0)
    assert estimate(gap, days=30, bridged_most=3).bridged_d == 3
    assert estimate(gap, days=30, bridged_most=2).soil_c is None
    assert "missing" in estimate(gap, days=30, bridged_most=2).refused
    assert "30 days" in estimate(np.full(29, 8.0), days=30, bridged_most=3).refused


@pytest.mark.check("S-05-07", source="Harrington and Minges, table of days to emergence", status="seen")
def test_tomato_between_two_tried_temperatures_takes_eleven_days() -> None:
    assert days_to_emerge(seed("tomato"), celsius(63.5)).days == pytest.approx(11.0)


@pytest.mark.check("S-05-07", source="Harrington and Minges, table of days to emergence", status="seen")
@pytest.mark.parametrize(
    ("crop", "warmth_f", "days"),
    [
        ("tomato", 50, 43), ("tomato", 59, 14), ("tomato", 68, 8), ("tomato", 77, 6), ("tomato", 86, 6),
        ("tomato", 95, 9), ("cucumber", 86, 3), ("lettuce", 77, 2), ("pepper", 50, None), ("cucumber", 50, None),
        ("lettuce", 95, None),
    ],
)  # fmt: skip
def test_days_at_the_printed_temperatures(crop: str, warmth_f: float, days: float | None) -> None:
    assert days_to_emerge(seed(crop), celsius(warmth_f)).days == days


def test_days_next_to_a_temperature_without_seedlings_are_refused_with_the_side() -> None:
    cold, hot = days_to_emerge(seed("tomato"), 7.0), days_to_emerge(seed("lettuce"), 33.0)
    assert cold.days is None
    assert "too cold" in cold.refused
    assert hot.days is None
    assert "too warm" in hot.refused
    assert "not tried" in days_to_emerge(seed("tomato"), 60.0).refused


@pytest.mark.check("S-05-07", source="Texas A&M garden guide, realistic soil temperatures", status="seen")
@pytest.mark.parametrize(
    ("crop", "realistic_f"),
    [
        ("cucumber", 64), ("cantaloupe", 68), ("squash", 70), ("watermelon", 72), ("okra", 73), ("pumpkin", 75),
        ("green-bean", 72), ("tomato", 55), ("sweet-corn", 55), ("turnip", 50), ("beet", 45),
    ],
)  # fmt: skip
def test_crop_is_ready_at_its_realistic_warmth_and_not_half_a_degree_below(
    crop: str, realistic_f: float
) -> None:
    rows = knowledge.load().soil_temperatures
    words = {
        above: next(one.word for one in sowings(rows, celsius(realistic_f + above)) if one.crop == crop)
        for above in (0.0, -0.5)
    }
    assert words[0.0] == "ready"
    assert words[-0.5] != "ready"


def test_crop_whose_sources_give_different_lowest_temperatures_says_so() -> None:
    carrot = next(one for one in sowings(knowledge.load().soil_temperatures, 3.0) if one.crop == "carrot")
    assert carrot.differ
    assert carrot.word == "slow"  # above 35 °F of Texas, below 40 °F of Florida
