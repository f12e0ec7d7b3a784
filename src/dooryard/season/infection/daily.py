"""Hours of wet leaves from days alone, for a station that keeps no hours: a fallback with a known error.

Hours are made by the curve of ``daily_curve`` and held against one dew point for the whole day. It knows nothing of
when it rained. How far it lies from real hours was measured: the facts ``wetness.daily_*`` and ``severity.daily_*``.
Without a dew point or humidity it is refused: the night's low in its place gave up to nearly five times the severity.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dooryard.season.daily_curve import hours_of_days

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class DailyWet:
    """Wet hours of each day: wet_h (days,) [h] and mean_c (days,) their mean temperature [degC]; NaN if not known."""

    wet_h: Numbers
    mean_c: Numbers


def wet_hours(
    t_min_c: ArrayLike,
    t_max_c: ArrayLike,
    dew_point_c: ArrayLike,
    day_of_year: ArrayLike,
    latitude: float,
    *,
    nearest_c: float,
) -> DailyWet:
    """Wet hours of successive days: those in which the day's curve comes near its dew point.

    Parameters
    ----------
    t_min_c, t_max_c : array (days,)
        Lowest and highest temperature [degC].
    dew_point_c : array (days,)
        Mean dew point of the day [degC]; see `dew_point_from_humidity`.
    day_of_year : array (days,)
        1 for 1 January.
    latitude : float
        Degrees, north above 0.
    nearest_c : float
        Difference between air and dew point below which leaves count as wet [degC].
    """
    curve = hours_of_days(t_min_c, t_max_c, day_of_year, latitude)
    apart = curve - np.asarray(dew_point_c, dtype=np.float64)[:, None]
    with np.errstate(invalid="ignore"):
        wet = apart < nearest_c
    hours = wet.sum(axis=1).astype(np.float64)
    warmth = np.where(wet, curve, 0.0).sum(axis=1) / np.maximum(hours, 1.0)
    unknown = np.isnan(apart).any(axis=1)
    return DailyWet(np.where(unknown, np.nan, hours), np.where(unknown | (hours == 0), np.nan, warmth))


def dew_point_from_humidity(t_mean_c: ArrayLike, humidity_pct: ArrayLike) -> Numbers:
    """Dew point of air of a mean temperature and humidity [degC].

    Parameters
    ----------
    t_mean_c : array (days,)
        Mean temperature [degC].
    humidity_pct : array (days,)
        Mean relative humidity [%], above 0.

    Source
    ------
    FAO-56 eq. 11 turned round.

    Example
    -------
    >>> float(round(dew_point_from_humidity(20.0, 100.0), 6))
    20.0
    """
    air = np.asarray(t_mean_c, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        power = np.log(np.asarray(humidity_pct, dtype=np.float64) / 100) + 17.27 * air / (air + 237.3)
        return np.asarray(237.3 * power / (17.27 - power))
