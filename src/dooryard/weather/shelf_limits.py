"""When two files are one station, and when a station is near enough: read from the knowledge tables."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class ShelfLimits:
    """The facts `shelf.*` by their key; see `knowledge/facts/weather_fetch.csv`."""

    far_km: float
    rise_m: float
    least_years: float
    stale_d: float
    same_c: float
    same_mm: float
    different_share: float
    least_shared: float
    moved_km: float


@lru_cache(maxsize=1)
def limits() -> ShelfLimits:
    """The shipped limits. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return ShelfLimits(**{name: tables.fact(f"shelf.{name}").value for name in ShelfLimits.__slots__})
