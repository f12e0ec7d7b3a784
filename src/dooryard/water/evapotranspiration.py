"""Water that short, well-watered grass gives to the air in a day: the yardstick for every bed.

The formulas are those of FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998). The
pieces stand in `air` and `radiation`; here they are put together, first with everything measured, then with
that paper's procedures for what a station does not measure. Open `reference` first: it takes a weather
record and says what it had and what it assumed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dooryard.problem import InputError, Problem
from dooryard.water import air, radiation
from dooryard.water.air import Numbers

if TYPE_CHECKING:
    from dooryard.weather.record import WeatherRecord

Array = NDArray[np.float64]

#: Adjustment of radiation from the temperature range, inland and on a coast (FAO-56 eq. 50) [1/degC^0.5].
KRS_INTERIOR = 0.16
KRS_COASTAL = 0.19
#: Wind where none is measured: mean of 2000 stations (FAO-56 chapter 3, "missing wind data") [m/s].
WIND_WORLD_M_S = 2.0
#: Wind below this is raised to it; still air is unstable over wet grass (same place) [m/s].
WIND_LEAST_M_S = 0.5
#: Water that one MJ evaporates [kg/MJ] (FAO-56 eq. 20, at 20 degC).
KG_PER_MJ = 0.408
#: Height at which public stations measure the wind [m].
STATION_WIND_HEIGHT_M = 10.0


def soil_heat_of_month(previous_month_c: Numbers, next_month_c: Numbers) -> Numbers:
    """Heat that goes into the soil in a month, when both neighbours are known [MJ/m2/d] (FAO-56 eq. 43).

    Parameters
    ----------
    previous_month_c, next_month_c : float or array
        Mean air temperature of the month before and the month after [degC].
    """
    return 0.07 * (next_month_c - previous_month_c)


def soil_heat_since_last_month(previous_month_c: Numbers, this_month_c: Numbers) -> Numbers:
    """Heat that goes into the soil in a month, when the next one is not known yet [MJ/m2/d] (FAO-56 eq. 44).

    Parameters
    ----------
    previous_month_c, this_month_c : float or array
        Mean air temperature of the month before and of this month [degC].
    """
    return 0.14 * (this_month_c - previous_month_c)


def penman_monteith(
    t_min_c: Numbers,
    t_max_c: Numbers,
    *,
    net_radiation_mj_m2: Numbers,
    wind_2m_m_s: Numbers,
    vapour_pressure_kpa: Numbers,
    pressure_kpa: Numbers,
    soil_heat_mj_m2: Numbers = 0.0,
) -> Numbers:
    """Reference evapotranspiration by the Penman-Monteith equation in the form of FAO-56.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature of the day, or their means over a month [degC].
    net_radiation_mj_m2 : float or array
        Net radiation at the grass [MJ/m2/d].
    wind_2m_m_s : float or array
        Mean wind speed 2 m above the ground [m/s].
    vapour_pressure_kpa, pressure_kpa : float or array
        Vapour pressure of the air, and air pressure [kPa].
    soil_heat_mj_m2 : float or array
        Heat going into the soil [MJ/m2/d]; nil over a whole day.

    Returns
    -------
    float or array
        Reference evapotranspiration [mm/d]; NaN where an input is NaN. A cold still day can come out
        slightly below zero.

    Limits
    ------
    Days and longer. Hours need another numerator and soil heat.

    Source
    ------
    FAO-56 eq. 6.

    Example
    -------
    >>> et = penman_monteith(12.3, 21.5, net_radiation_mj_m2=13.28, wind_2m_m_s=2.078,
    ...                      vapour_pressure_kpa=1.409, pressure_kpa=100.1)
    >>> float(round(et, 2))    # FAO-56 example 18 prints 3.88
    3.88
    """
    t_mean_c = (t_min_c + t_max_c) / 2
    slope = air.vapour_pressure_slope(t_mean_c)
    psychrometric = air.psychrometric_constant(pressure_kpa)
    deficit_kpa = air.mean_saturation_vapour_pressure(t_min_c, t_max_c) - vapour_pressure_kpa
    sun = KG_PER_MJ * slope * (net_radiation_mj_m2 - soil_heat_mj_m2)
    drying = psychrometric * 900 / (t_mean_c + 273) * wind_2m_m_s * deficit_kpa
    return (sun + drying) / (slope + psychrometric * (1 + 0.34 * wind_2m_m_s))


def hargreaves(t_min_c: Numbers, t_max_c: Numbers, extraterrestrial_mj_m2: Numbers) -> Numbers:
    """Reference evapotranspiration from temperatures and the date alone (Hargreaves and Samani).

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature of the day [degC]; the lowest must not be above the highest (NaN
        then).
    extraterrestrial_mj_m2 : float or array
        Radiation above the air, Ra [MJ/m2/d]. It is turned into mm here.

    Returns
    -------
    float or array
        Reference evapotranspiration [mm/d].

    Limits
    ------
    Reads low where it is windy and high where it is humid; means over a week or more are safer than single
    days.

    Source
    ------
    FAO-56 eq. 52.
    """
    t_mean_c = (t_min_c + t_max_c) / 2
    return 0.0023 * (t_mean_c + 17.8) * np.sqrt(t_max_c - t_min_c) * KG_PER_MJ * extraterrestrial_mj_m2


def from_temperature(
    day_of_year: Numbers,
    t_min_c: Numbers,
    t_max_c: Numbers,
    *,
    latitude: float,
    elevation_m: float,
    krs: float = KRS_INTERIOR,
    wind_2m_m_s: Numbers = WIND_WORLD_M_S,
    dew_below_min_c: float = 0.0,
) -> Numbers:
    """Penman-Monteith with only temperatures measured; sun, humidity and wind by missing-data procedures.

    Made for days ahead and for members of an outlook, shape (members, days) with `day_of_year` (days,).

    Parameters
    ----------
    day_of_year : float or array
        1 on 1 January [d].
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature [degC].
    latitude, elevation_m : float
        Place [degree, m].
    krs : float
        See `radiation.solar_from_temperature`.
    wind_2m_m_s : float or array
        Wind speed 2 m above the ground [m/s].
    dew_below_min_c : float
        How far the dew point stays below the lowest temperature [degC]; 0 in humid country, 2 to 3 in dry.

    Returns
    -------
    float or array
        Reference evapotranspiration [mm/d], held at 0 on days when the formula goes below.

    Source
    ------
    FAO-56 eq. 6 with eq. 48, 50 and the section on missing wind data; example 20.
    """
    arriving = radiation.extraterrestrial_radiation(day_of_year, latitude)
    clear = radiation.clear_sky_radiation(arriving, elevation_m)
    solar = np.minimum(radiation.solar_from_temperature(t_min_c, t_max_c, arriving, krs), clear)
    vapour_kpa = air.vapour_pressure_from_dew_point(t_min_c - dew_below_min_c)
    net = radiation.net_shortwave(solar) - radiation.net_longwave(t_min_c, t_max_c, vapour_kpa, solar, clear)
    et_mm = penman_monteith(
        t_min_c,
        t_max_c,
        net_radiation_mj_m2=net,
        wind_2m_m_s=wind_2m_m_s,
        vapour_pressure_kpa=vapour_kpa,
        pressure_kpa=air.atmospheric_pressure(elevation_m),
    )
    return np.maximum(et_mm, 0.0)


@dataclass(frozen=True, slots=True)
class ReferenceET:
    """Reference evapotranspiration of a record, with what it rests on.

    et_mm : (days,) [mm/d], never below 0; NaN where a temperature is missing.
    method : key of the methods table.
    measured : what the station measured, in words.
    assumptions : what was assumed instead, one sentence each.
    check_mm : (days,) the same by Hargreaves-Samani [mm/d], as a second opinion.
    latitude, elevation_m : the place used [degree, m].
    t_max_c, vapour_pressure_kpa, wind_2m_m_s : (days,) what went in [degC, kPa, m/s].
    humidity_days, wind_days, solar_days : days on which each was measured.
    """

    et_mm: Array
    method: str
    measured: tuple[str, ...]
    assumptions: tuple[str, ...]
    check_mm: Array
    latitude: float
    elevation_m: float
    t_max_c: Array
    vapour_pressure_kpa: Array
    wind_2m_m_s: Array
    humidity_days: int
    wind_days: int
    solar_days: int


def reference(
    record: WeatherRecord,
    latitude: float | None = None,
    elevation_m: float | None = None,
    *,
    coastal: bool = False,
    dew_below_min_c: float = 0.0,
    wind_height_m: float = STATION_WIND_HEIGHT_M,
) -> ReferenceET:
    """Reference evapotranspiration of every day of a record: the best it allows, saying which.

    Humidity, sun and wind are used on the days they were measured; on the others FAO-56's procedures stand
    in: the dew point is taken at the lowest temperature, the sun from the temperature range, the wind as 2
    m/s. Temperatures are never filled: a day without them is NaN.

    Parameters
    ----------
    record : WeatherRecord
        Daily record of one station, (days,) arrays.
    latitude, elevation_m : float, optional
        The yard's own [degree, m], used only if the station does not state them. Without any elevation, sea
        level.
    coastal : bool
        True on a coast, where the temperature range is damped by the water (krs 0.19 instead of 0.16).
    dew_below_min_c : float
        Dry country: how far the dew point stays below the lowest temperature [degC], 2 to 3 by FAO-56.
    wind_height_m : float
        Height of the station's anemometer [m].

    Returns
    -------
    ReferenceET

    Raises
    ------
    InputError
        If neither the station nor the caller knows the latitude: the sun's height cannot be known.

    Source
    ------
    FAO-56 eq. 6, 14, 19, 47, 48, 50, 52 and chapter 3, "Calculation procedures with missing data".
    """
    place, place_notes = _place(record, latitude, elevation_m)
    place_latitude, place_elevation_m = place
    t_min_c, t_max_c = record.t_min_c, record.t_max_c
    arriving = _arriving(record.dates, place_latitude)
    clear = np.asarray(radiation.clear_sky_radiation(arriving, place_elevation_m))

    vapour_kpa, humidity_days, humidity_notes = _humidity(record, dew_below_min_c)
    solar, solar_days, solar_notes = _solar(record, arriving, clear, coastal)
    wind_m_s, wind_days, wind_notes = _wind(record, wind_height_m)

    net = radiation.net_shortwave(solar) - radiation.net_longwave(t_min_c, t_max_c, vapour_kpa, solar, clear)
    et_mm = penman_monteith(
        t_min_c,
        t_max_c,
        net_radiation_mj_m2=net,
        wind_2m_m_s=wind_m_s,
        vapour_pressure_kpa=vapour_kpa,
        pressure_kpa=air.atmospheric_pressure(place_elevation_m),
    )
    counts = {"humidity": humidity_days, "sun": solar_days, "wind": wind_days}
    measured = ("temperature", *(name for name, days in counts.items() if days > 0))
    return ReferenceET(
        et_mm=np.maximum(et_mm, 0.0),  # dew is not counted as rain
        method="water.penman_monteith" if len(measured) == 4 else "water.penman_monteith_missing_data",
        measured=measured,
        assumptions=(*place_notes, *humidity_notes, *solar_notes, *wind_notes),
        check_mm=np.maximum(hargreaves(t_min_c, t_max_c, arriving), 0.0),
        latitude=place_latitude,
        elevation_m=place_elevation_m,
        t_max_c=t_max_c,
        vapour_pressure_kpa=vapour_kpa,
        wind_2m_m_s=wind_m_s,
        humidity_days=humidity_days,
        wind_days=wind_days,
        solar_days=solar_days,
    )


def day_of_year(dates: NDArray[np.datetime64] | Sequence[date]) -> NDArray[np.int64]:
    """Day of the year, 1 on 1 January, for each date (days,)."""
    days = np.asarray(dates, dtype="datetime64[D]")
    number: NDArray[np.int64] = (days - days.astype("datetime64[Y]")).astype(np.int64) + 1
    return number


def _place(
    record: WeatherRecord, latitude: float | None, elevation_m: float | None
) -> tuple[tuple[float, float], list[str]]:
    station = record.station
    notes: list[str] = []
    used_latitude = station.latitude
    if used_latitude is None:
        if latitude is None:
            raise InputError(
                Problem(
                    what=f'The latitude of the station "{station.name}" is not known.',
                    instead="Write it in the yard file under [place], or in the head of the weather file.",
                    field="latitude",
                )
            )
        used_latitude = latitude
        notes.append("The station does not state its latitude; the yard's is used.")
    used_elevation_m = station.elevation_m
    if used_elevation_m is None and elevation_m is not None:
        used_elevation_m = elevation_m
        notes.append("The station does not state its elevation; the yard's is used.")
    if used_elevation_m is None:
        used_elevation_m = 0.0
        notes.append("No elevation is known; sea level is used.")
    return (used_latitude, used_elevation_m), notes


def _arriving(dates: NDArray[np.datetime64], latitude: float) -> Array:
    """Ra of each date, computed once for each day of the year."""
    year = np.asarray(radiation.extraterrestrial_radiation(np.arange(0.0, 367.0), latitude))
    return year[day_of_year(dates)]


def _humidity(record: WeatherRecord, dew_below_min_c: float) -> tuple[Array, int, list[str]]:
    """Vapour pressure [kPa]: dew point first, then mean humidity, then the lowest temperature."""
    vapour_kpa = np.full(record.t_min_c.shape, np.nan)
    if record.humidity_pct is not None:
        vapour_kpa = np.asarray(
            air.vapour_pressure_from_mean_humidity(record.t_min_c, record.t_max_c, record.humidity_pct)
        )
    if record.dew_point_c is not None:
        from_dew = np.asarray(air.vapour_pressure_from_dew_point(record.dew_point_c))
        vapour_kpa = np.where(np.isnan(from_dew), vapour_kpa, from_dew)
    missing = np.isnan(vapour_kpa)
    measured_days = int(np.count_nonzero(~missing))
    if measured_days == len(missing):
        return vapour_kpa, measured_days, []
    assumed = np.asarray(air.vapour_pressure_from_dew_point(record.t_min_c - dew_below_min_c))
    drop = (
        "the lowest temperature of the day"
        if dew_below_min_c == 0.0
        else f"{1.8 * dew_below_min_c:.1f} °F ({dew_below_min_c:g} °C) below the day's lowest temperature"
    )
    note = f"Humidity {_on_days(missing)}: the dew point is taken as {drop}."
    if dew_below_min_c == 0.0:
        note += " In dry country it lies 3 to 5 °F (2 to 3 °C) lower, and the true figure is higher."
    return np.where(missing, assumed, vapour_kpa), measured_days, [note]


def _solar(
    record: WeatherRecord, arriving: Array, clear: Array, coastal: bool
) -> tuple[Array, int, list[str]]:
    """Solar radiation [MJ/m2/d]: as measured, else from the temperature range and at most the clear sky's."""
    measured = (
        np.full(arriving.shape, np.nan) if record.solar_mj_m2 is None else np.asarray(record.solar_mj_m2)
    )
    missing = np.isnan(measured)
    measured_days = int(np.count_nonzero(~missing))
    if measured_days == len(missing):
        return measured, measured_days, []
    krs = KRS_COASTAL if coastal else KRS_INTERIOR
    assumed = radiation.solar_from_temperature(record.t_min_c, record.t_max_c, arriving, krs)
    where = "a coast" if coastal else "a place inland"
    note = f"Sun {_on_days(missing)}: taken from the range of temperatures, as for {where}."
    return np.where(missing, np.minimum(assumed, clear), measured), measured_days, [note]


def _wind(record: WeatherRecord, height_m: float) -> tuple[Array, int, list[str]]:
    """Wind at 2 m [m/s]: as measured, brought down to 2 m, not below the floor; else the world's mean."""
    if record.wind_m_s is None:
        measured = np.full(record.t_min_c.shape, np.nan)
    else:
        measured = np.maximum(air.wind_at_2m(record.wind_m_s, height_m), WIND_LEAST_M_S)
    missing = np.isnan(measured)
    measured_days = int(np.count_nonzero(~missing))
    notes: list[str] = []
    if measured_days > 0:
        notes.append(
            f"The wind is taken as measured {height_m / 0.3048:.0f} ft ({height_m:g} m) above the ground."
        )
    if measured_days < len(missing):
        notes.append(f"Wind {_on_days(missing)}: taken as 4.5 miles an hour ({WIND_WORLD_M_S:g} m/s).")
    return np.where(missing, WIND_WORLD_M_S, measured), measured_days, notes


def _on_days(missing: NDArray[np.bool_]) -> str:
    lost = int(np.count_nonzero(missing))
    return "is not measured here" if lost == len(missing) else f"is missing on {lost} of {len(missing)} days"
