"""How patient and how sparing fetching is, read from the knowledge tables."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class FetchLimits:
    """The facts `fetch.*` by their key; see `knowledge/facts/weather_fetch.csv`."""

    connect_s: float
    silence_s: float
    answer_s: float
    attempts: float
    first_pause_s: float
    rate_pause_s: float
    longest_pause_s: float
    largest_answer_mb: float
    years_per_request: float
    recent_fresh_h: float
    settled_fresh_d: float
    settled_after_d: float
    forecast_fresh_h: float
    point_fresh_d: float
    shortest_fresh_s: float
    box_km: float
    lag_d: float
    odd_share: float


@lru_cache(maxsize=1)
def limits() -> FetchLimits:
    """The shipped limits. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return FetchLimits(**{name: tables.fact(f"fetch.{name}").value for name in FetchLimits.__slots__})
