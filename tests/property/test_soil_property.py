"""The water account of a bed and the reference evapotranspiration, for every input that can be."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.water import air, radiation, soil
from dooryard.water import evapotranspiration as et

seeds = st.integers(0, 2**32 - 1)


def made_up(seed: int, days: int = 120) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    luck = np.random.default_rng(seed)
    rain_mm = luck.gamma(0.7, 12.0, days) * (luck.random(days) < 0.25)
    use_mm = luck.uniform(0.0, 9.0, days)
    given_mm = luck.uniform(0.0, 30.0, days) * (luck.random(days) < 0.1)
    return rain_mm, use_mm, given_mm


@given(
    seed=seeds, taw_mm=st.floats(5.0, 200.0), p=st.floats(0.1, 0.8), start=st.floats(0, 1), due=st.booleans()
)
def test_balance_closes_and_stays_within_the_soil(
    seed: int, taw_mm: float, p: float, start: float, due: bool
) -> None:
    rain_mm, use_mm, given_mm = made_up(seed)
    restarts = np.random.default_rng(seed + 1).random(len(rain_mm)) < 0.02
    run = soil.balance(
        rain_mm, use_mm, taw_mm=taw_mm, raw_mm=p * taw_mm, start_mm=start * taw_mm,
        irrigation_mm=given_mm, water_when_due=due, restarts=restarts,
    )  # fmt: skip
    assert run.closure_error_mm() <= 1e-9
    # the whole account at once, from the fluxes alone
    gone = run.evapotranspiration_mm + run.percolation_mm + run.runoff_mm + run.reset_mm
    came = run.rain_mm + run.irrigation_mm
    assert start * taw_mm + gone.sum() - came.sum() == pytest.approx(run.depletion_mm[-1], abs=1e-8)
    assert (run.depletion_mm >= 0.0).all()
    assert (run.depletion_mm <= taw_mm).all()
    assert (run.percolation_mm >= 0.0).all()
    assert ((run.stress >= -1e-12) & (run.stress <= 1.0)).all()
    assert (run.evapotranspiration_mm <= use_mm + 1e-12).all()


@given(seed=seeds, more=st.floats(0.0, 20.0))
def test_balance_more_rain_never_leaves_less_water(seed: int, more: float) -> None:
    rain_mm, use_mm, _ = made_up(seed)
    # use is at most 9 mm, less than what lies between raw and taw, so a wetter soil stays the wetter one
    dry = soil.balance(rain_mm, use_mm, taw_mm=60, raw_mm=30)
    wet = soil.balance(rain_mm + more, use_mm, taw_mm=60, raw_mm=30)
    assert (wet.depletion_mm <= dry.depletion_mm + 1e-9).all()


@given(seed=seeds, hole=st.integers(0, 119), which=st.sampled_from(["rain", "use", "watering"]))
def test_balance_missing_day_makes_it_and_all_later_days_unknown(seed: int, hole: int, which: str) -> None:
    series = dict(zip(("rain", "use", "watering"), made_up(seed), strict=True))
    series[which][hole] = np.nan
    run = soil.balance(series["rain"], series["use"], irrigation_mm=series["watering"], taw_mm=80, raw_mm=30)
    assert np.isnan(run.depletion_mm[hole:]).all()
    assert np.isnan(run.percolation_mm[hole:]).all()
    assert not np.isnan(run.depletion_mm[:hole]).any()
    assert run.closure_error_mm() <= 1e-9


@given(seed=seeds)
def test_balance_watered_when_due_never_starves(seed: int) -> None:
    rain_mm, use_mm, _ = made_up(seed)
    run = soil.balance(rain_mm, use_mm, taw_mm=80, raw_mm=30, water_when_due=True)
    assert (run.depletion_mm < 30 + 9).all()
    due = np.concatenate([[0.0], run.depletion_mm[:-1]]) >= 30
    assert ((run.irrigation_mm > 0) == due).all()


latitudes = st.floats(-90.0, 90.0)
day_numbers = st.integers(1, 366)


@given(latitude=latitudes, day=day_numbers)
def test_sun_at_any_latitude_and_day_is_possible(latitude: float, day: int) -> None:
    assert 0.0 <= radiation.daylight_hours(day, latitude) <= 24.0 + 1e-12
    assert -1e-9 <= radiation.extraterrestrial_radiation(day, latitude) < 50.0


@given(latitude=latitudes, day=day_numbers, t_min_c=st.floats(-45, 35), spread=st.floats(0.0, 30.0))
def test_reference_is_a_number_and_not_below_zero_even_at_the_poles(
    latitude: float, day: int, t_min_c: float, spread: float
) -> None:
    value = et.from_temperature(day, t_min_c, t_min_c + spread, latitude=latitude, elevation_m=100.0)
    assert np.isfinite(value)
    assert value >= 0.0


@given(seed=seeds)
def test_reference_pieces_of_an_array_are_those_of_its_values(seed: int) -> None:
    luck = np.random.default_rng(seed)
    low = luck.uniform(-20, 25, 8)
    high = low + luck.uniform(0, 20, 8)
    numbers = luck.integers(1, 366, 8)
    place = {"latitude": 44.0, "elevation_m": 300.0}
    whole = et.from_temperature(numbers, low, high, **place)
    single = [
        et.from_temperature(int(n), float(a), float(b), **place)
        for n, a, b in zip(numbers, low, high, strict=True)
    ]
    assert whole == pytest.approx(single, rel=1e-12, abs=1e-12)
    arriving = radiation.extraterrestrial_radiation(numbers, 44.0)
    assert et.hargreaves(low, high, arriving) == pytest.approx(
        [et.hargreaves(float(a), float(b), float(r)) for a, b, r in zip(low, high, arriving, strict=True)]
    )


@pytest.mark.parametrize("hole", ["low", "high"])
def test_reference_missing_temperature_is_missing_that_day_only(hole: str) -> None:
    low, high = np.array([10.0, 11.0, 12.0]), np.array([20.0, 21.0, 22.0])
    (low if hole == "low" else high)[1] = np.nan
    value = et.from_temperature(np.array([150, 151, 152]), low, high, latitude=40.0, elevation_m=0.0)
    assert np.isnan(np.asarray(value)).tolist() == [False, True, False]


@given(t_c=st.floats(-40, 45), step=st.floats(0.01, 5.0))
def test_saturation_vapour_pressure_rises_and_its_slope_is_its_derivative(t_c: float, step: float) -> None:
    assert air.saturation_vapour_pressure(t_c + step) > air.saturation_vapour_pressure(t_c)
    width = 1e-4
    rise = air.saturation_vapour_pressure(t_c + width) - air.saturation_vapour_pressure(t_c - width)
    # FAO-56 rounds 17.27 x 237.3 = 4098.17 to 4098
    assert air.vapour_pressure_slope(t_c) == pytest.approx(rise / (2 * width), rel=1e-4)
