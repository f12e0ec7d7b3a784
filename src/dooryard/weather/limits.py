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
    coolest_summer_c: float
    daily_range_short_c: float
    short_record_days: float


@lru_cache(maxsize=1)
def limits() -> Limits:
    """The shipped bounds. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return Limits(**{name: tables.fact(f"weather.{name}").value for name in Limits.__slots__})


@dataclass(frozen=True, slots=True)
class QualityLimits:
    """The facts `quality.*` by their key, in canonical units; see `knowledge/facts/weather_quality.csv`."""

    files_written_from: float
    highest_hour: float
    lowest_hour: float
    half_day_hour: float
    spike_c: float
    streak_days: float
    rain_streak_days: float
    rain_streak_mm: float
    copied_month_days: float
    tenfold_low: float
    tenfold_high: float
    season_days: float
    stand_in_days: float
    stand_in_mm: float
    calculated_days: float
    calculated_most: float
    weekday_weeks: float
    weekday_share: float
    weekday_missing: float
    rain_gap: float
    rain_gap_mm: float
    rain_unit: float
    rain_unit_sure: float
    nought_c: float
    code_mm: float
    code_days: float
    code_times: float
    dry_spell_days: float
    dry_spell_times: float
    dry_spell_years: float
    dry_spell_share: float
    beyond_share: float
    crossed_share: float
    beyond_days: float
    unit_reach_d: float


@lru_cache(maxsize=1)
def quality_limits() -> QualityLimits:
    """The shipped thresholds of the quality checks. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return QualityLimits(**{name: tables.fact(f"quality.{name}").value for name in QualityLimits.__slots__})
