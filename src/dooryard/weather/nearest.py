"""Which station speaks for a yard: the nearest of those that can, with distance and height, and why not the others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from dooryard.weather.distance import great_circle_km
from dooryard.weather.record import CORE, WORDS
from dooryard.weather.shelf_limits import ShelfLimits
from dooryard.weather.shelved import About
from dooryard.words import list_words


@dataclass(frozen=True, slots=True)
class Candidate:
    """A station as seen from a yard.

    distance_km : None if the record does not say where it stands. rise_m : how much higher than the yard, None if not
    known. against : what speaks against it, in sentences; empty for a station that can be used. chosen : the nearest
    of those.
    """

    about: About
    distance_km: float | None
    rise_m: float | None
    against: tuple[str, ...]
    chosen: bool = False


def rank(
    latitude: float,
    longitude: float,
    elevation_m: float | None,
    stations: Iterable[About],
    on: date,
    limits: ShelfLimits,
    *,
    invented_too: bool = False,
) -> tuple[Candidate, ...]:
    """The stations, the nearest first, those without a place last; at most one is chosen.

    invented_too : the yard is invented itself, so that invented weather may speak for it; never for a real one.
    """
    seen = [
        _seen(latitude, longitude, elevation_m, about, on, limits, invented_too=invented_too)
        for about in stations
    ]
    seen.sort(key=lambda one: (one.distance_km is None, one.distance_km or 0.0, one.about.key))
    best = next((at for at, one in enumerate(seen) if not one.against), None)
    return tuple(
        Candidate(one.about, one.distance_km, one.rise_m, one.against, chosen=at == best)
        for at, one in enumerate(seen)
    )


def _seen(
    latitude: float,
    longitude: float,
    elevation_m: float | None,
    about: About,
    on: date,
    limits: ShelfLimits,
    *,
    invented_too: bool,
) -> Candidate:
    station = about.station
    distance_km = rise_m = None
    if station.latitude is not None and station.longitude is not None:
        distance_km = great_circle_km(latitude, longitude, station.latitude, station.longitude)
    if station.elevation_m is not None and elevation_m is not None:
        rise_m = station.elevation_m - elevation_m
    against = _against(about, distance_km, rise_m, on, limits)
    if about.invented and not invented_too:
        against = ("Its weather is invented: nobody measured it, so it speaks for no real yard.", *against)
    return Candidate(about, distance_km, rise_m, against)


def _against(
    about: About, distance_km: float | None, rise_m: float | None, on: date, limits: ShelfLimits
) -> tuple[str, ...]:
    """Everything that speaks against a station, the gravest first."""
    said = []
    absent = [WORDS[name] for name in CORE if about.missing.get(name, about.days) == about.days]
    if absent:
        said.append(f"It has no {list_words(absent)}.")
    stopped_d = (on - about.last).days
    if stopped_d > limits.stale_d:
        said.append(f"It stops on {about.last}, {stopped_d:,} days before {on}.")
    if about.complete_years < limits.least_years and not absent:
        years = {0: "no whole year", 1: "1 whole year"}.get(
            about.complete_years, f"{about.complete_years} whole years"
        )
        said.append(f"It has {years}; {limits.least_years:.0f} make fair ranges.")
    if distance_km is None:
        said.append("Its record does not say where it stands.")
    elif distance_km > limits.far_km:
        said.append("It is far away for rain.")
    if rise_m is not None and abs(rise_m) > limits.rise_m:
        said.append(f"It lies much {'higher' if rise_m > 0 else 'lower'} than the yard.")
    return tuple(said)
