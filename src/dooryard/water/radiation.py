"""The sun's part in evapotranspiration: geometry of the day, radiation that arrives, radiation that stays.

All equations are those of FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998),
chapter 3. Radiation is in MJ per m2 and day. Arrays broadcast together (time last); NaN in gives NaN out at
that place. Angles are in radians inside; latitudes are asked for in degrees, because that is how a station
states them.
"""

from __future__ import annotations

import numpy as np

from dooryard.water.air import Numbers

#: Solar constant [MJ/m2/min] (FAO-56 eq. 21).
SOLAR_CONSTANT_MJ_M2_MIN = 0.0820
#: Stefan-Boltzmann constant [MJ/K4/m2/d] (FAO-56 eq. 39).
STEFAN_BOLTZMANN_MJ_K4_M2_D = 4.903e-9
#: Reflected share of the reference grass (FAO-56 eq. 38).
GRASS_ALBEDO = 0.23
#: Least ratio of solar to clear-sky radiation that still describes a cloud cover (ASCE-EWRI 2005, with its
#: eq. 18).
OVERCAST_RATIO = 0.3


def inverse_relative_distance(day_of_year: Numbers) -> Numbers:
    """Inverse relative distance of earth and sun, no unit (FAO-56 eq. 23).

    Parameters
    ----------
    day_of_year : float or array
        1 on 1 January [d].
    """
    return 1 + 0.033 * np.cos(2 * np.pi * day_of_year / 365)


def solar_declination(day_of_year: Numbers) -> Numbers:
    """Declination of the sun [rad] (FAO-56 eq. 24).

    Parameters
    ----------
    day_of_year : float or array
        1 on 1 January [d].
    """
    return 0.409 * np.sin(2 * np.pi * day_of_year / 365 - 1.39)


def sunset_hour_angle(day_of_year: Numbers, latitude: Numbers) -> Numbers:
    """Hour angle at sunset [rad].

    Where the sun does not set (or rise) the arccosine has no value; it is held at pi (or 0), so a polar day
    has 24 hours and a polar night none.

    Parameters
    ----------
    day_of_year : float or array
        1 on 1 January [d].
    latitude : float or array
        North positive [degree].

    Source
    ------
    FAO-56 eq. 25.
    """
    cosine = -np.tan(np.radians(latitude)) * np.tan(solar_declination(day_of_year))
    angle: Numbers = np.arccos(np.clip(cosine, -1.0, 1.0))
    return angle


def extraterrestrial_radiation(day_of_year: Numbers, latitude: Numbers) -> Numbers:
    """Radiation above the air on a level surface, Ra [MJ/m2/d].

    Parameters
    ----------
    day_of_year : float or array
        1 on 1 January [d].
    latitude : float or array
        North positive [degree].

    Source
    ------
    FAO-56 eq. 21.

    Example
    -------
    >>> float(round(extraterrestrial_radiation(246, -20.0), 1))    # FAO-56 example 8 prints 32.2
    32.2
    """
    declination = solar_declination(day_of_year)
    sunset = sunset_hour_angle(day_of_year, latitude)
    phi = np.radians(latitude)
    height = sunset * np.sin(phi) * np.sin(declination) + np.cos(phi) * np.cos(declination) * np.sin(sunset)
    minutes_over_pi = 24 * 60 / np.pi
    strength = SOLAR_CONSTANT_MJ_M2_MIN * inverse_relative_distance(day_of_year)
    arriving: Numbers = minutes_over_pi * strength * height
    return arriving


def daylight_hours(day_of_year: Numbers, latitude: Numbers) -> Numbers:
    """Longest possible sunshine of the day, N [h] (FAO-56 eq. 34).

    Parameters
    ----------
    day_of_year : float or array
        1 on 1 January [d].
    latitude : float or array
        North positive [degree].
    """
    return 24 / np.pi * sunset_hour_angle(day_of_year, latitude)


def solar_from_sunshine(sunshine_h: Numbers, daylight_h: Numbers, extraterrestrial_mj_m2: Numbers) -> Numbers:
    """Solar radiation Rs [MJ/m2/d] from hours of bright sunshine (FAO-56 eq. 35).

    Parameters
    ----------
    sunshine_h, daylight_h : float or array
        Measured and longest possible sunshine [h].
    extraterrestrial_mj_m2 : float or array
        Ra [MJ/m2/d].
    """
    return (0.25 + 0.50 * sunshine_h / daylight_h) * extraterrestrial_mj_m2


def solar_from_temperature(
    t_min_c: Numbers, t_max_c: Numbers, extraterrestrial_mj_m2: Numbers, krs: Numbers
) -> Numbers:
    """Solar radiation Rs from the day's temperature range: clear days swing wide, cloudy days do not.

    The result can exceed what a clear sky lets through; cap it with `clear_sky_radiation`. Not for small
    islands.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature [degC].
    extraterrestrial_mj_m2 : float or array
        Ra [MJ/m2/d].
    krs : float or array
        Adjustment, 0.16 inland, 0.19 on a coast [1/degC^0.5].

    Returns
    -------
    float or array
        Rs [MJ/m2/d].

    Source
    ------
    FAO-56 eq. 50 (Hargreaves and Samani).
    """
    return krs * np.sqrt(t_max_c - t_min_c) * extraterrestrial_mj_m2


def clear_sky_radiation(extraterrestrial_mj_m2: Numbers, elevation_m: Numbers) -> Numbers:
    """Solar radiation under a clear sky, Rso [MJ/m2/d] (FAO-56 eq. 37).

    Parameters
    ----------
    extraterrestrial_mj_m2 : float or array
        Ra [MJ/m2/d].
    elevation_m : float or array
        Height above sea level [m].
    """
    return (0.75 + 2e-5 * elevation_m) * extraterrestrial_mj_m2


def net_shortwave(solar_mj_m2: Numbers) -> Numbers:
    """Solar radiation the reference grass keeps, Rns [MJ/m2/d] (FAO-56 eq. 38).

    Parameters
    ----------
    solar_mj_m2 : float or array
        Rs [MJ/m2/d].
    """
    return (1 - GRASS_ALBEDO) * solar_mj_m2


def net_longwave(
    t_min_c: Numbers,
    t_max_c: Numbers,
    vapour_pressure_kpa: Numbers,
    solar_mj_m2: Numbers,
    clear_sky_mj_m2: Numbers,
) -> Numbers:
    """Heat the ground loses to the sky, Rnl [MJ/m2/d].

    The ratio of solar to clear-sky radiation stands for the clouds. FAO-56 holds it at most 1; here it is
    also held at least 0.3, because radiation guessed from a day without any range of temperature would make
    the sky warm the ground. In a polar night the ratio has no value and the sky is taken as overcast.

    Parameters
    ----------
    t_min_c, t_max_c : float or array
        Lowest and highest air temperature [degC].
    vapour_pressure_kpa : float or array
        Vapour pressure of the air [kPa].
    solar_mj_m2, clear_sky_mj_m2 : float or array
        Rs and Rso [MJ/m2/d].

    Source
    ------
    FAO-56 eq. 39 (with 0 degC = 273.16 K, as printed there); lower limit of the ratio from ASCE-EWRI 2005.
    """
    sun_up = ~(np.asarray(clear_sky_mj_m2) <= 0)  # so written that NaN counts as "up" and stays NaN
    share = solar_mj_m2 / np.where(sun_up, clear_sky_mj_m2, 1.0)
    ratio = np.where(sun_up, np.clip(share, OVERCAST_RATIO, 1.0), OVERCAST_RATIO)
    black_body = STEFAN_BOLTZMANN_MJ_K4_M2_D * ((t_max_c + 273.16) ** 4 + (t_min_c + 273.16) ** 4) / 2
    return black_body * (0.34 - 0.14 * np.sqrt(vapour_pressure_kpa)) * (1.35 * ratio - 0.35)
