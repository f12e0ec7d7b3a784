"""What counts as usual, and how many gaps a mean or a total bears, read from the knowledge tables."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class UsualLimits:
    """Facts of `knowledge/facts/weather_normals.csv` in canonical units; the key of each stands beside it."""

    window_d: float  # weather.normals.window_d
    years_low: float  # weather.normals.years_low
    mean_missing_share: float  # weather.normals.mean_missing_share
    mean_missing_run_d: float  # weather.normals.mean_missing_run_d
    total_missing_share: float  # weather.normals.total_missing_share
    usual_share: float  # weather.compare.usual_share
    rare_share: float  # weather.compare.rare_share
    similar_span_d: float  # weather.similar.span_d
    similar_equal_share: float  # weather.similar.equal_share


@lru_cache(maxsize=1)
def usual_limits() -> UsualLimits:
    """The shipped limits. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()

    def of(key: str) -> float:
        return tables.fact(f"weather.{key}").value

    return UsualLimits(
        window_d=of("normals.window_d"),
        years_low=of("normals.years_low"),
        mean_missing_share=of("normals.mean_missing_share"),
        mean_missing_run_d=of("normals.mean_missing_run_d"),
        total_missing_share=of("normals.total_missing_share"),
        usual_share=of("compare.usual_share"),
        rare_share=of("compare.rare_share"),
        similar_span_d=of("similar.span_d"),
        similar_equal_share=of("similar.equal_share"),
    )
