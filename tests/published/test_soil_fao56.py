"""The water account of a bed against the printed examples of FAO-56 (Allen et al. 1998), chapters 6 and 8."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.water import soil

# Example 36: available water of three soils [mm/m], and roots [m] with p of three crops.
SOILS_MM_M = {"loamy sand": 90.0, "silt": 170.0, "silty clay": 120.0}
CROPS = {"onion": (0.4, 0.30), "tomato": (0.8, 0.40), "maize": (1.2, 0.55)}
PRINTED_TAW = {"onion": (36, 68, 48), "tomato": (72, 136, 96), "maize": (108, 204, 144)}
PRINTED_RAW = {"onion": (11, 20, 14), "tomato": (29, 54, 38), "maize": (59, 112, 79)}


@pytest.mark.check("W-08-1", source="FAO-56 example 36", status="seen")
@pytest.mark.parametrize("crop", list(CROPS))
def test_available_water_fao56_example_36(crop: str) -> None:
    root_m, share = CROPS[crop]
    taw = [soil.total_available_water(held / 1000, 0.0, root_m) for held in SOILS_MM_M.values()]
    assert taw == pytest.approx(PRINTED_TAW[crop], abs=0.5)
    # 5 mm a day is what the table is for, so the share must come back unchanged
    raw = [float(soil.depletion_share(share, 5.0)) * held for held in taw]
    assert raw == pytest.approx(PRINTED_RAW[crop], abs=0.5)


@pytest.mark.check("W-08-2", source="FAO-56 example 37", status="seen")
def test_balance_ten_dry_days_of_tomato_fao56_example_37() -> None:
    run = soil.balance(np.zeros(10), np.full(10, 6.0), taw_mm=160, raw_mm=64, start_mm=55)
    printed = [61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9, 100.8, 104.5]
    assert run.depletion_mm == pytest.approx(printed, abs=0.0501)
    assert run.depletion_mm[2:] == pytest.approx(
        [72.812, 78.262, 83.370, 88.160, 92.650, 96.859, 100.805, 104.505], abs=6e-4
    )


@pytest.mark.check("W-08-3", source="FAO-56 example 37", status="seen")
def test_balance_stress_and_use_of_tomato_fao56_example_37() -> None:
    run = soil.balance(np.zeros(10), np.full(10, 6.0), taw_mm=160, raw_mm=64, start_mm=55)
    assert run.stress == pytest.approx([1, 1, 0.97, 0.91, 0.85, 0.80, 0.75, 0.70, 0.66, 0.62], abs=5.01e-3)
    assert run.evapotranspiration_mm == pytest.approx(
        [6, 6, 5.8, 5.4, 5.1, 4.8, 4.5, 4.2, 3.9, 3.7], abs=0.0501
    )


@pytest.mark.check("W-08-5", source="FAO-56 example 27", status="seen")
@pytest.mark.parametrize(
    ("wind_m_s", "humidity_pct", "printed", "unrounded"),
    [(1.3, 75.0, 1.07, 1.06895), (4.6, 44.0, 1.30, 1.29563)],
    ids=["Taipei", "Mocha"],
)
def test_climate_adjusted_factor_maize_fao56_example_27(
    wind_m_s: float, humidity_pct: float, printed: float, unrounded: float
) -> None:
    factor = soil.climate_adjusted_factor(1.20, wind_m_s, humidity_pct, 2.0)
    assert factor == pytest.approx(printed, abs=5e-3)
    assert factor == pytest.approx(unrounded, abs=5e-6)


@pytest.mark.check("W-08-6", source="FAO-56 box 15", status="seen")
def test_climate_adjusted_factor_dry_bean_fao56_box_15() -> None:
    factor = soil.climate_adjusted_factor(1.15, 2.2, 30.0, 0.4)
    assert factor == pytest.approx(1.19, abs=5e-3)
    assert factor == pytest.approx(1.18715, abs=5e-6)


@pytest.mark.check("W-08-7", source="FAO-56 example 30", status="seen")
def test_factor_curve_fao56_example_30() -> None:
    curve = soil.FactorCurve(0.15, 1.14, 0.25, (25, 25, 30, 20))
    factors = curve.at([12, 37, 65, 90])
    assert factors == pytest.approx([0.15, 0.63, 1.14, 0.70], abs=5.01e-3)
    assert factors == pytest.approx([0.15, 0.6252, 1.14, 0.695], abs=5e-5)


@pytest.mark.check("W-08-10", source="FAO-56 eq. 66, tomato of tables 11 and 12", status="computed")
def test_factor_curve_of_tomato() -> None:
    curve = soil.FactorCurve(0.6, 1.15, 0.8, (30, 40, 45, 30))
    assert curve.at([15, 50, 90, 130, 145]) == pytest.approx([0.600, 0.875, 1.150, 0.975, 0.800], abs=1e-12)
    assert curve.length_d == 145


@pytest.mark.check("W-08-11", source="FAO-56 table 22, footnote", status="computed")
def test_depletion_share_at_other_rates_of_use() -> None:
    shares = soil.depletion_share([0.40, 0.40, 0.40, 0.30], [3.0, 5.0, 8.0, 9.0])
    assert shares == pytest.approx([0.48, 0.40, 0.28, 0.14], abs=1e-12)


@pytest.mark.check("W-08-12", source="FAO-56 eq. 84, 85 and 88, worked by hand", status="computed")
def test_balance_ten_days_with_rain_and_watering() -> None:
    run = soil.balance(
        [0, 0, 0, 0, 0, 0, 30, 0, 0, 0],
        [5, 5, 5, 6, 6, 6, 5, 5, 5, 5],
        irrigation_mm=[0, 0, 0, 0, 0, 0, 0, 0, 12, 0],
        taw_mm=soil.total_available_water(0.25, 0.10, 0.5),
        raw_mm=30,
        start_mm=10,
    )
    expected = [15, 20, 25, 31, 36.867, 41.951, 15.623, 20.623, 13.623, 18.623]
    assert run.depletion_mm == pytest.approx(expected, abs=6e-4)
    assert run.stress[4:7] == pytest.approx([0.9778, 0.8474, 0.7344], abs=6e-5)
    assert np.delete(run.stress, [4, 5, 6]) == pytest.approx(np.ones(7), abs=0)


@pytest.mark.check("W-08-13", source="FAO-56 eq. 85 and 88", status="computed")
def test_balance_heavy_rain_books_the_days_use_before_it_drains() -> None:
    run = soil.balance([40.0], [5.0], taw_mm=75, raw_mm=30, start_mm=20)
    assert run.percolation_mm.tolist() == [15.0]
    assert run.depletion_mm.tolist() == [0.0]


L_PER_GAL = 3.785411784
M2_PER_FT2 = 0.09290304
MM_PER_IN = 25.4


def weekly_gallons(factor: float, et_in_d: float, area_ft2: float, rain_in: float = 0.0) -> float:
    """Seven days of a bed's use less rain, through the water account, in gallons."""
    rain_mm = np.zeros(7)
    rain_mm[0] = rain_in * MM_PER_IN
    use_mm = np.full(7, factor * et_in_d * MM_PER_IN)
    run = soil.balance(rain_mm, use_mm, taw_mm=500, raw_mm=400, start_mm=100)
    return float(run.depletion_mm[-1] - 100) * area_ft2 * M2_PER_FT2 / L_PER_GAL


@pytest.mark.check("W-08-14", source="144/231 gallons per square foot and inch", status="computed")
def test_water_of_an_ornamental_bed_in_a_week() -> None:
    assert weekly_gallons(0.8, 0.25, 100) == pytest.approx(87.27, abs=0.005)


@pytest.mark.check("W-08-15", source="144/231 gallons per square foot and inch", status="computed")
def test_water_of_a_vegetable_bed_in_a_week() -> None:
    assert weekly_gallons(1.05, 0.25, 32) == pytest.approx(36.65, abs=0.005)
    assert weekly_gallons(1.05, 0.25, 32) / 2 == pytest.approx(18.3, abs=0.05)  # two-gallon cans


@pytest.mark.check("W-08-16", source="144/231 gallons per square foot and inch", status="computed")
def test_water_of_a_vegetable_bed_in_a_week_with_rain() -> None:
    assert weekly_gallons(1.05, 0.20, 32, rain_in=0.30) == pytest.approx(23.34, abs=0.005)


@pytest.mark.check("W-08-17", source="an Extension rule, an inch a week", status="seen")
def test_an_inch_a_week_is_right_for_a_crop_factor_of_one_near_four_millimetres_a_day() -> None:
    et_in_d = 1 / 7
    assert weekly_gallons(1.0, et_in_d, 100) == pytest.approx(62.34, abs=0.005)
    assert weekly_gallons(1.0, et_in_d, 10) == pytest.approx(6.23, abs=0.005)
    assert et_in_d * MM_PER_IN == pytest.approx(3.63, abs=0.005)
