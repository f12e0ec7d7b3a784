"""How far missing days are estimated: the limits beyond which they stay missing, from the knowledge tables."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class GapLimits:
    """The facts `gaps.*` by their key; see `knowledge/facts/weather_gaps.csv`.

    longest, year : longest gap and most estimated days of a calendar year [d].
    paired : fewest days in common in a season (for rain: with rain at the neighbour) [d].
    error_share : most that the usual error may be of the error of a guess without neighbour [1].
    drift_share : most that the mean error about a day may be of the usual size of error [1].
    lag_margin : gain in correlation from which a shift of a day is believed [1].
    """

    temperature_longest_d: float
    rain_longest_d: float
    temperature_year_d: float
    rain_year_d: float
    paired_d: float
    paired_wet_d: float
    temperature_error_share: float
    rain_error_share: float
    drift_share: float
    lag_margin: float

    def longest_d(self, element: str) -> int:
        """Longest gap of an element that is filled [d]."""
        return int(self.rain_longest_d if element == "rain_mm" else self.temperature_longest_d)

    def year_d(self, element: str) -> int:
        """Most estimated days of an element in one calendar year [d]."""
        return int(self.rain_year_d if element == "rain_mm" else self.temperature_year_d)

    def fewest_d(self, element: str) -> int:
        """Fewest days in common, of a month with its two neighbours, that a relation may rest on [d]."""
        return int(self.paired_wet_d if element == "rain_mm" else self.paired_d)

    def share(self, element: str) -> float:
        """Most that the usual error may be of the error of a guess [1]."""
        return self.rain_error_share if element == "rain_mm" else self.temperature_error_share


@lru_cache(maxsize=1)
def gap_limits() -> GapLimits:
    """The shipped limits. InputError if the table is damaged."""
    from dooryard import knowledge

    tables = knowledge.load()
    return GapLimits(**{name: tables.fact(f"gaps.{name}").value for name in GapLimits.__slots__})
