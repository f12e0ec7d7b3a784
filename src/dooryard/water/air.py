"""The air's part in evapotranspiration: vapour pressure and its slope, air pressure, wind.

All equations are those of FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998),
chapter 3; each function names its own. Every function takes floats or arrays of any one shape and returns
the same shape; NaN in gives NaN out at that place.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Numbers = float | NDArray[np.float64]


def saturation_vapour_pressure(temperature_c: Numbers) -> Numbers:
    """Vapour pressure over water that air of this temperature can hold at most.

    Parameters
    ----------
    temperature_c : float or array
        Air temperature [degC].

    Returns
    -------
    float or array
        Saturation vapour pressure e°(T) [kPa].

    Source
    ------
    FAO-56 eq. 11.
    """
    return 0.6108 * np.exp(17.27 * temperature_c / (temperature_c + 237.3))


def mean_saturation_vapour_pressure(t_min_c: Numbers, t_max_c: Numbers) -> Numbers:
    """Saturation vapour pressure of a whole day, the mean of its two ends.

    The curve bends upward, so the value at the mean temperature would be too low: never use that instead.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature of the day [degC].

    Returns
    -------
    float or array
        es [kPa].

    Source
    ------
    FAO-56 eq. 12.
    """
    return (saturation_vapour_pressure(t_min_c) + saturation_vapour_pressure(t_max_c)) / 2


def vapour_pressure_slope(temperature_c: Numbers) -> Numbers:
    """How fast the saturation vapour pressure rises with temperature.

    Parameters
    ----------
    temperature_c : float or array
        Air temperature [degC]; the day's mean for a daily value.

    Returns
    -------
    float or array
        Slope of the curve [kPa/degC].

    Source
    ------
    FAO-56 eq. 13.
    """
    return 4098 * saturation_vapour_pressure(temperature_c) / (temperature_c + 237.3) ** 2


def vapour_pressure_from_dew_point(dew_point_c: Numbers) -> Numbers:
    """Vapour pressure really in the air: the saturation pressure at the dew point [kPa] (FAO-56 eq. 14).

    Parameters
    ----------
    dew_point_c : float or array
        Dew point [degC].
    """
    return saturation_vapour_pressure(dew_point_c)


def vapour_pressure_from_humidity_range(
    t_min_c: Numbers, t_max_c: Numbers, humidity_max_pct: Numbers, humidity_min_pct: Numbers
) -> Numbers:
    """Vapour pressure from the day's highest and lowest relative humidity.

    The highest humidity belongs to the coldest hour, so each is paired with the other end of the
    temperatures.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature of the day [degC].
    humidity_max_pct, humidity_min_pct : float or array
        Highest and lowest relative humidity of the day [%].

    Returns
    -------
    float or array
        ea [kPa].

    Source
    ------
    FAO-56 eq. 17.
    """
    morning = saturation_vapour_pressure(t_min_c) * humidity_max_pct
    afternoon = saturation_vapour_pressure(t_max_c) * humidity_min_pct
    return (morning + afternoon) / 200


def vapour_pressure_from_mean_humidity(t_min_c: Numbers, t_max_c: Numbers, humidity_pct: Numbers) -> Numbers:
    """Vapour pressure from the day's mean relative humidity: the roughest of the humidity routes.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature of the day [degC].
    humidity_pct : float or array
        Mean relative humidity of the day [%].

    Returns
    -------
    float or array
        ea [kPa].

    Source
    ------
    FAO-56 eq. 19.
    """
    return humidity_pct / 100 * mean_saturation_vapour_pressure(t_min_c, t_max_c)


def lowest_humidity(t_max_c: Numbers, vapour_pressure_kpa: Numbers) -> Numbers:
    """Relative humidity of the warmest hour [%], from the day's vapour pressure (FAO-56 eq. 64).

    Parameters
    ----------
    t_max_c : float or array
        Highest air temperature of the day [degC].
    vapour_pressure_kpa : float or array
        Vapour pressure of the day [kPa].
    """
    return 100 * vapour_pressure_kpa / saturation_vapour_pressure(t_max_c)


def atmospheric_pressure(elevation_m: Numbers) -> Numbers:
    """Usual air pressure at a height above the sea.

    Parameters
    ----------
    elevation_m : float or array
        Height above sea level [m].

    Returns
    -------
    float or array
        Air pressure [kPa].

    Source
    ------
    FAO-56 eq. 7.
    """
    return 101.3 * ((293 - 0.0065 * elevation_m) / 293) ** 5.26


def psychrometric_constant(pressure_kpa: Numbers) -> Numbers:
    """Psychrometric constant [kPa/degC] at an air pressure (FAO-56 eq. 8).

    Parameters
    ----------
    pressure_kpa : float or array
        Air pressure [kPa].
    """
    return 0.000665 * pressure_kpa


def wind_at_2m(wind_m_s: Numbers, height_m: Numbers) -> Numbers:
    """Wind speed 2 m above short grass, from a reading at another height.

    Parameters
    ----------
    wind_m_s : float or array
        Mean wind speed at `height_m` [m/s].
    height_m : float or array
        Height of the anemometer above the ground [m]; airports measure at 10 m.

    Returns
    -------
    float or array
        Wind speed at 2 m [m/s].

    Source
    ------
    FAO-56 eq. 47.
    """
    return wind_m_s * 4.87 / np.log(67.8 * height_m - 5.42)
