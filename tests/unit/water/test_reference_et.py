"""Reference evapotranspiration of a record: it uses what was measured, says what it assumed, and fills nothing."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water import air, radiation
from dooryard.water import evapotranspiration as et
from dooryard.weather.record import Station
from tests.water_yards import days, record

JULY = days("2021-07-01", "2021-07-31")
LYON = Station("Lyon", latitude=45.0 + 43.0 / 60.0, longitude=4.85, elevation_m=200.0)


@pytest.mark.check("W-07-11", source="FAO-56 example 20", status="seen")
def test_reference_temperatures_only_gives_fao56_example_20() -> None:
    found = et.reference(record(JULY, t_min_c=14.8, t_max_c=26.6, station=LYON))
    # the paper takes the middle day of the month, 15 July, as day 196
    assert found.et_mm[14] == pytest.approx(4.56, abs=0.005)
    assert found.check_mm[14] == pytest.approx(5.0, abs=0.05)
    assert found.measured == ("temperature",)
    assert found.method == "water.penman_monteith_missing_data"
    assert len(found.assumptions) == 3


@pytest.mark.check("W-07-7", source="FAO-56 example 18", status="seen")
def test_reference_everything_measured_gives_fao56_example_18() -> None:
    uccle = Station("Uccle", latitude=50.8, longitude=4.35, elevation_m=100.0)
    vapour_kpa = air.vapour_pressure_from_humidity_range(12.3, 21.5, 84, 63)
    dew_c = np.interp(
        vapour_kpa, air.saturation_vapour_pressure(np.linspace(0, 25, 2501)), np.linspace(0, 25, 2501)
    )
    weather = record(
        JULY,
        t_min_c=12.3,
        t_max_c=21.5,
        dew_point_c=dew_c,
        solar_mj_m2=22.07,
        wind_m_s=10 / 3.6,
        station=uccle,
    )
    found = et.reference(weather)
    assert found.et_mm[5] == pytest.approx(3.88, abs=0.005)  # 6 July is day 187
    assert found.measured == ("temperature", "humidity", "sun", "wind")
    assert found.method == "water.penman_monteith"


def test_reference_measured_day_is_used_and_the_others_are_counted_as_assumed() -> None:
    wind = np.full(len(JULY), np.nan)
    wind[3] = 6.0
    calm = et.reference(record(JULY, t_min_c=14.8, t_max_c=26.6, station=LYON))
    found = et.reference(record(JULY, t_min_c=14.8, t_max_c=26.6, wind_m_s=wind, station=LYON))
    assert found.et_mm[3] > calm.et_mm[3] + 0.3
    assert np.delete(found.et_mm, 3) == pytest.approx(np.delete(calm.et_mm, 3))
    assert found.wind_days == 1
    assert any("missing on 30 of 31 days" in words for words in found.assumptions)


def test_reference_still_air_is_raised_to_the_floor() -> None:
    found = et.reference(record(JULY, t_min_c=14.8, t_max_c=26.6, wind_m_s=0.0, station=LYON))
    assert (found.wind_2m_m_s == 0.5).all()


def test_reference_mean_humidity_is_used_where_no_dew_point_is() -> None:
    found = et.reference(record(JULY, t_min_c=14.8, t_max_c=26.6, humidity_pct=50.0, station=LYON))
    saturation = air.mean_saturation_vapour_pressure(14.8, 26.6)
    assert found.vapour_pressure_kpa == pytest.approx(np.full(31, 0.5 * saturation))


def test_reference_dry_country_dew_point_is_lowered_and_raises_the_figure() -> None:
    weather = record(JULY, t_min_c=14.8, t_max_c=26.6, station=LYON)
    humid, dry = et.reference(weather), et.reference(weather, dew_below_min_c=2.0)
    assert (dry.et_mm > humid.et_mm).all()
    assert any("3 to 5 °F" in words for words in humid.assumptions)
    assert any("3.6 °F (2 °C) below" in words for words in dry.assumptions)


def test_reference_sun_from_temperatures_never_exceeds_a_clear_sky() -> None:
    found = et.reference(record(JULY, t_min_c=-5.0, t_max_c=35.0, station=LYON))
    number = et.day_of_year(JULY)
    arriving = radiation.extraterrestrial_radiation(number, LYON.latitude or 0.0)
    clear = radiation.clear_sky_radiation(arriving, 200.0)
    vapour_kpa = air.vapour_pressure_from_dew_point(-5.0)
    net = radiation.net_shortwave(clear) - radiation.net_longwave(-5.0, 35.0, vapour_kpa, clear, clear)
    expected = et.penman_monteith(
        -5.0, 35.0, net_radiation_mj_m2=net, wind_2m_m_s=2.0, vapour_pressure_kpa=vapour_kpa,
        pressure_kpa=air.atmospheric_pressure(200.0),
    )  # fmt: skip
    assert found.et_mm == pytest.approx(expected)


@pytest.mark.parametrize("hole", ["t_min_c", "t_max_c"])
def test_reference_day_without_a_temperature_is_missing(hole: str) -> None:
    columns = {"t_min_c": np.full(31, 14.8), "t_max_c": np.full(31, 26.6)}
    columns[hole][9] = np.nan
    found = et.reference(record(JULY, **columns, station=LYON))
    assert np.flatnonzero(np.isnan(found.et_mm)).tolist() == [9]
    assert np.flatnonzero(np.isnan(found.check_mm)).tolist() == [9]


def test_reference_without_any_latitude_is_refused_in_plain_words() -> None:
    weather = record(JULY, station=Station("Old farm"))
    with pytest.raises(InputError) as refused:
        et.reference(weather)
    assert refused.value.problems[0].what == 'The latitude of the station "Old farm" is not known.'
    assert "[place]" in refused.value.problems[0].instead


def test_reference_yard_fills_in_for_a_station_that_does_not_say_where_it_is() -> None:
    weather = record(JULY, t_min_c=14.8, t_max_c=26.6, station=Station("Old farm"))
    found = et.reference(weather, latitude=LYON.latitude, elevation_m=200.0)
    stated = et.reference(record(JULY, t_min_c=14.8, t_max_c=26.6, station=LYON))
    assert found.et_mm == pytest.approx(stated.et_mm)
    assert sum("yard's is used" in words for words in found.assumptions) == 2


def test_reference_stations_own_place_wins_over_the_yards() -> None:
    found = et.reference(record(JULY, station=LYON), latitude=10.0, elevation_m=3000.0)
    assert (found.latitude, found.elevation_m) == (LYON.latitude, 200.0)


def test_day_of_year_in_a_leap_year_reaches_366() -> None:
    assert et.day_of_year(days("2024-12-30", "2025-01-01")).tolist() == [365, 366, 1]
