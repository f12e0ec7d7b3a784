"""Small made-up records and yards for the tests of the water side: every answer can be worked out by hand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Bed, Downspout, Level, Place, Roof, Storage, Yard

PLACE = Place(latitude=40.0, longitude=-85.0, elevation_m=200.0, station="a made-up station")


def days(first: str, last: str) -> np.ndarray:
    """Every day from first to last, both included."""
    return np.arange(np.datetime64(first), np.datetime64(last) + 1)


def record(
    dates: np.ndarray,
    *,
    rain_mm: ArrayLike = 0.0,
    t_min_c: ArrayLike | None = None,
    t_max_c: ArrayLike | None = None,
    station: Station | None = None,
    **more: ArrayLike,
) -> WeatherRecord:
    """A record of these days. Without temperatures: 12 to 25 degC, with hard frost from November to March."""
    month = dates.astype("datetime64[M]").astype(int) % 12 + 1
    winter = (month >= 11) | (month <= 3)
    values: Mapping[str, ArrayLike] = {
        "t_min_c": np.where(winter, -10.0, 12.0) if t_min_c is None else t_min_c,
        "t_max_c": np.where(winter, 5.0, 25.0) if t_max_c is None else t_max_c,
        "rain_mm": rain_mm,
        **more,
    }
    columns = {
        name: np.array(np.broadcast_to(np.asarray(value, dtype=float), dates.shape))
        for name, value in values.items()
    }
    flags = {
        name: np.where(np.isnan(column), Flag.MISSING, Flag.OBSERVED).astype(np.uint8)
        for name, column in columns.items()
    }
    place = station or Station("Made-up", latitude=40.0, longitude=-85.0, elevation_m=200.0)
    return on_calendar(place, dates, columns, flags, (), Source("made-up.csv", "plain"))


def yard(
    *,
    roofs: tuple[Roof, ...] = (Roof("roof", 20.0, "metal", "spout"),),
    storages: tuple[Storage, ...] = (Storage("barrel", 200.0, fed_by=("spout",)),),
    beds: tuple[Bed, ...] = (),
    levels: tuple[Level, ...] = (),
) -> Yard:
    """A yard with one downspout "spout" (and as many more as the roofs name)."""
    spouts = tuple(Downspout(name, 0.05, 0.075) for name in dict.fromkeys(roof.downspout for roof in roofs))
    return Yard(
        "Made-up yard",
        "us",
        PLACE,
        roofs=roofs,
        downspouts=spouts,
        storages=storages,
        beds=beds,
        levels=levels,
    )


def day(text: str) -> dt.date:
    """A date from ISO text."""
    return dt.date.fromisoformat(text)
