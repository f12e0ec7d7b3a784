"""Hours in which leaves are wet, judged from the air: three stated rules, their spells, and the wind at a leaf.

No rule here was held against a wetness sensor by us. They say different hours; a result names its rule and what
is in doubt about it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Wetness:
    """Whether leaves are wet in each hour: wet (hours,) 1 wet, 0 dry, NaN not known.

    rule : key of the method. doubt : what is uncertain about the rule itself, or empty. doubted_h : hours that hang
    on that.
    """

    wet: Numbers
    rule: str
    doubt: str = ""
    doubted_h: int = 0


def by_humidity(humidity_pct: ArrayLike, rain_mm: ArrayLike | None, least_pct: float) -> Wetness:
    """Wet at or above a relative humidity, and in rain.

    Parameters
    ----------
    humidity_pct : array (hours,)
        Relative humidity [%].
    rain_mm : array (hours,) or None
        Rain of the hour [mm]; a missing hour of rain is judged by humidity alone.
    least_pct : float
        Humidity from which leaves count as wet [%].
    """
    humid = np.asarray(humidity_pct, dtype=np.float64)
    wet = np.where(np.isnan(humid), np.nan, (humid >= least_pct).astype(np.float64))
    return Wetness(_and_rain(wet, rain_mm), "season.wetness_humidity")


def by_dew_point(
    temperature_c: ArrayLike, dew_point_c: ArrayLike, rain_mm: ArrayLike | None, nearest_c: float
) -> Wetness:
    """Wet while the air is less than so far above its dew point, and in rain.

    Parameters
    ----------
    temperature_c, dew_point_c : array (hours,)
        Air and dew point [degC].
    rain_mm : array (hours,) or None
        Rain of the hour [mm].
    nearest_c : float
        Difference below which leaves count as wet [degC].
    """
    apart = np.asarray(temperature_c, dtype=np.float64) - np.asarray(dew_point_c, dtype=np.float64)
    wet = np.where(np.isnan(apart), np.nan, (apart < nearest_c).astype(np.float64))
    return Wetness(_and_rain(wet, rain_mm), "season.wetness_dew_point")


TREE_DOUBT = (
    "In wind, three printed copies of this rule have a term that can never be wet; it is taken as the square of the "
    "humidity, from memory. Nobody here has checked it in the paper."
)


def by_tree(
    temperature_c: ArrayLike,
    humidity_pct: ArrayLike,
    dew_point_c: ArrayLike,
    wind_m_s: ArrayLike,
    rain_mm: ArrayLike | None = None,
) -> Wetness:
    """Wet by the published tree of air, humidity, dew point and wind.

    Parameters
    ----------
    temperature_c, dew_point_c : array (hours,)
        Air and dew point [degC]. Below freezing the tree has no value: NaN.
    humidity_pct : array (hours,)
        Relative humidity [%].
    wind_m_s : array (hours,)
        Wind at leaf height [m/s]; see `wind_at_leaf`.
    rain_mm : array (hours,) or None
        Rain of the hour [mm]: rain wets whatever the tree says.

    Returns
    -------
    Wetness
        doubted_h counts the hours that its doubtful branch called wet.

    Source
    ------
    Kim, Taylor, Gleason and Loughin 2002, Plant Disease 86:179. The still-air branch stands the same in three
    public codes; the windy branch is from memory (`TREE_DOUBT`).
    """
    air, humid = np.asarray(temperature_c, dtype=np.float64), np.asarray(humidity_pct, dtype=np.float64)
    wind = np.asarray(wind_m_s, dtype=np.float64)
    apart = air - np.asarray(dew_point_c, dtype=np.float64)
    with np.errstate(invalid="ignore"):
        still, windy = still_air_side(air, humid, wind, apart), windy_side(air, humid, wind, apart)
        calm = wind < 2.5
        near = apart < 3.7
        doubtful = near & ~calm & (humid >= 87.8) & (windy > 37.0)
        wet = (near & calm & (still > 14.4674)) | doubtful
        unknown = np.isnan(apart) | (near & (np.isnan(humid) | np.isnan(wind) | (air < 0)))
    known = np.where(unknown, np.nan, wet.astype(np.float64))
    count = int((doubtful & ~unknown).sum())
    return Wetness(_and_rain(known, rain_mm), "season.wetness_tree", TREE_DOUBT if count else "", count)


def still_air_side(air_c: Numbers, humidity_pct: Numbers, wind_m_s: Numbers, apart_c: Numbers) -> Numbers:
    """Left side of the tree's test in still air; wet above 14.4674. Arguments as in `by_tree`, apart = air - dew point.

    Parameters
    ----------
    air_c, apart_c : array
        Air temperature, and how far it lies above the dew point [degC].
    humidity_pct : array
        Relative humidity [%].
    wind_m_s : array
        Wind at leaf height [m/s].
    """
    root = np.sqrt(np.maximum(air_c, 0.0))
    return np.asarray(
        1.6064 * root
        + 0.0036 * air_c**2
        + 0.1531 * humidity_pct
        - 0.4599 * wind_m_s * apart_c
        - 0.0035 * air_c * humidity_pct
    )


def windy_side(air_c: Numbers, humidity_pct: Numbers, wind_m_s: Numbers, apart_c: Numbers) -> Numbers:
    """Left side of the tree's test in wind; wet above 37.0. Its square of the humidity is from memory.

    Parameters
    ----------
    air_c, apart_c : array
        Air temperature, and how far it lies above the dew point [degC].
    humidity_pct : array
        Relative humidity [%].
    wind_m_s : array
        Wind at leaf height [m/s].
    """
    root = np.sqrt(np.maximum(air_c, 0.0))
    return np.asarray(
        0.7921 * root
        + 0.0046 * humidity_pct**2
        - 2.3889 * wind_m_s
        - 0.0390 * air_c * wind_m_s
        + 1.0613 * wind_m_s * apart_c
    )


def wind_at_leaf(wind_m_s: ArrayLike, measured_m: float, leaf_m: float) -> Numbers:
    """Wind at leaf height from a reading higher up, by the log profile over short grass.

    Parameters
    ----------
    wind_m_s : array
        Mean wind [m/s].
    measured_m : float
        Height of the anemometer [m]; airports measure at 10 m.
    leaf_m : float
        Height of the leaves [m]; at least 0.1.

    Source
    ------
    FAO-56 eq. 47, taken twice: u ~ ln(67.8 z - 5.42).
    """
    ratio = np.log(67.8 * leaf_m - 5.42) / np.log(67.8 * measured_m - 5.42)
    return np.asarray(np.asarray(wind_m_s, dtype=np.float64) * ratio)


@dataclass(frozen=True, slots=True)
class Spell:
    """Wet hours that belong together: positions first to last (included), how many were wet, their mean warmth.

    unknown_h : hours inside or right beside it of which nothing is known; with one the spell may be longer.
    """

    first: int
    last: int
    wet_h: int
    mean_c: float | None
    unknown_h: int


def spells(wet: ArrayLike, temperature_c: ArrayLike, *, dry_gap_h: int) -> tuple[Spell, ...]:
    """The wet spells of a run of hours.

    Parameters
    ----------
    wet : array (hours,)
        1 wet, 0 dry, NaN not known; an unknown hour counts as dry, and the spell says so.
    temperature_c : array (hours,)
        Air temperature [degC]; the mean is over the wet hours that have one.
    dry_gap_h : int
        Dry hours in a row that end a spell; shorter breaks do not.
    """
    hours, air = np.asarray(wet, dtype=np.float64), np.asarray(temperature_c, dtype=np.float64)
    at = np.flatnonzero(hours == 1.0)
    if not at.size:
        return ()
    cuts = np.flatnonzero(np.diff(at) > dry_gap_h) + 1
    return tuple(_spell(part, hours, air) for part in np.split(at, cuts))


def _spell(at: NDArray[np.int64], hours: Numbers, air: Numbers) -> Spell:
    first, last = int(at[0]), int(at[-1])
    warm = air[at]
    warm = warm[~np.isnan(warm)]
    around = hours[max(first - 1, 0) : last + 2]
    mean = float(warm.mean()) if warm.size else None
    return Spell(first, last, int(at.size), mean, int(np.isnan(around).sum()))


def hours_by_day(wet: ArrayLike, starts: Sequence[int]) -> Numbers:
    """Wet hours of each day; NaN for a day of which no hour is known.

    Parameters
    ----------
    wet : array (hours,)
        1 wet, 0 dry, NaN not known.
    starts : sequence of int
        Position of each day's first hour; the last day ends with the array.
    """
    hours = np.asarray(wet, dtype=np.float64)
    days = [hours[a:b] for a, b in zip(starts, [*starts[1:], hours.size], strict=True)]
    return np.array([np.nan if np.isnan(day).all() else float(np.nansum(day)) for day in days])


def _and_rain(wet: Numbers, rain_mm: ArrayLike | None) -> Numbers:
    if rain_mm is None:
        return wet
    with np.errstate(invalid="ignore"):
        return np.where(np.asarray(rain_mm, dtype=np.float64) > 0.0, 1.0, wet)
