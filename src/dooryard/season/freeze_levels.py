"""A station's last and first cold nights at several limits with their odds, and the season between them.

Levels as NOAA prints them: a spring date at 0.9 has such cold later in nine years of ten; an autumn date at 0.1 has
had it by then in one year of ten.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dooryard.season.frost import ColdDates, dates_at, dates_by_rank, last_and_first
from dooryard.weather.record import WeatherRecord

CHANCES = (0.1, 0.5, 0.9)

Days = tuple[float | None, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """The dates of one limit of cold, as days of the year; None where so many years never have such cold.

    over : by then the last cold night is over in `CHANCES` of the years (which had cold later in the rest).
    come : by then the first has come in `CHANCES` of the years. over_ranked, come_ranked : the same from the ranked
    years, without a curve. spring_share, autumn_share : share of known half years that had such a night.
    season_d : lengths of the season that one, five and nine years of ten fall short of [d]; seasons : how many
    years have both ends.
    """

    cold: ColdDates
    over: Days
    come: Days
    over_ranked: Days
    come_ranked: Days
    spring_share: float
    autumn_share: float
    season_d: Days
    seasons: int

    @property
    def springs(self) -> int:
        """Springs that were measured."""
        return int(self.cold.spring_known.sum())

    @property
    def autumns(self) -> int:
        """Autumns that were measured."""
        return int(self.cold.autumn_known.sum())


def levels(
    record: WeatherRecord, thresholds_c: Sequence[float], *, allowed_missing_d: int
) -> tuple[Level, ...]:
    """Each limit's dates, odds and seasons from a station's own years; for the northern half of the world.

    Parameters
    ----------
    record : WeatherRecord
        Days of a station, or of a yard.
    thresholds_c : sequence of float
        A night is cold at or below it [degC].
    allowed_missing_d : int
        Missing days in a half year above which it gives no date [d].

    Returns
    -------
    tuple of Level

    Source
    ------
    Levels: NOAA National Centers for Environmental Information; normal fit: Thom and Shaw 1958; the season's length
    is taken year by year, never as one date less another.
    """
    return tuple(_level(last_and_first(record, t, allowed_missing_d=allowed_missing_d)) for t in thresholds_c)


def _level(cold: ColdDates) -> Level:
    spring = share(cold.last_spring, cold.spring_known)
    autumn = share(cold.first_autumn, cold.autumn_known)
    later = tuple(1 - chance for chance in CHANCES)
    lengths = cold.season_d[~np.isnan(cold.season_d)]
    return Level(
        cold=cold,
        over=dates_at(cold.last_spring, later, share_of_years=spring),
        # By which it *has* come: the same rule with time run backwards.
        come=_turned(dates_at(-cold.first_autumn, CHANCES, share_of_years=autumn)),
        over_ranked=dates_by_rank(cold.last_spring, later, share_of_years=spring),
        come_ranked=_turned(dates_by_rank(-cold.first_autumn, CHANCES, share_of_years=autumn)),
        spring_share=spring,
        autumn_share=autumn,
        season_d=quantiles(lengths.tolist(), CHANCES),
        seasons=int(lengths.size),
    )


def quantiles(values: Sequence[float], shares: Sequence[float]) -> Days:
    """Values that the given shares of a sample fall short of, by ranks at i / (n + 1); None outside the ranks.

    Parameters
    ----------
    values : sequence of float
        The sample, in any order.
    shares : sequence of float
        Between 0 and 1.
    """
    return dates_by_rank(values, [1 - one for one in shares])


def share(days: np.ndarray, known: np.ndarray) -> float:
    """Share of the known half years that had such a night; 0 if none is known.

    Parameters
    ----------
    days : array (Y,)
        Day of the year of the night, NaN for none.
    known : array (Y,)
        Whether the half year was measured.
    """
    counted = int(np.count_nonzero(known))
    return float(np.count_nonzero(~np.isnan(days) & known)) / counted if counted else 0.0


def _turned(days: Days) -> Days:
    return tuple(None if day is None else -day for day in days)
