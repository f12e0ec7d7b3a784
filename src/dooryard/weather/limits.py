"""What no weather exceeds: the bounds used to doubt a value or a unit, read from the knowledge tables."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class Limits:
    """The facts `weather.*` by their key, in canonical units; see `knowledge/facts/weather.csv`."""

    hottest_c: float
    coldest_c: float
    wettest_day_mm: float
    windiest_day_m_s: float
    highest_dew_point_c: float
    sunniest_day_mj_m2: float
    highest_humidity_pct: float
    daily_range_low_c: float
    daily_range_high_c: float
    wet_day_low_mm: float
    wet_day_high_mm: float
    too_clean_days: float
    blank_rain_share: float
    no_rain_days: float


@lru_cache(maxsize=1)
def limits() -> Limits:
    """The shipped bounds. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return Limits(**{name: tables.fact(f"weather.{name}").value for name in Limits.__slots__})
