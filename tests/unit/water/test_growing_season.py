"""Seasons from made-up years of which the answer can be read off."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from dooryard.water.growing_season import UsualSeason, common_day, usual_season


def days(first: str, last: str) -> np.ndarray:
    return np.arange(np.datetime64(first), np.datetime64(last) + 1)


def with_cold(dates: np.ndarray, cold: list[str]) -> np.ndarray:
    """Every night at 10 degC but the named ones, at 0."""
    t_min_c = np.full(len(dates), 10.0)
    t_min_c[np.isin(dates, np.array(cold, dtype="datetime64[D]"))] = 0.0
    return t_min_c


def season_of(dates: np.ndarray, t_min_c: np.ndarray, latitude: float = 40.0) -> UsualSeason | None:
    return usual_season(dates, t_min_c, 0.0, latitude=latitude, gap_days=10)


def test_common_day_leap_year_counts_29_february_as_28() -> None:
    dates = np.array(["2023-02-28", "2023-03-01", "2024-02-28", "2024-02-29", "2024-03-01", "2024-12-31"])
    assert common_day(dates.astype("datetime64[D]")).tolist() == [59, 60, 59, 59, 60, 365]


def test_usual_season_three_years_takes_the_middle_year() -> None:
    dates = days("2021-01-01", "2023-12-31")
    cold = ["2021-04-10", "2021-10-20", "2022-04-30", "2022-10-01", "2023-02-01", "2023-04-20", "2023-11-20"]
    season = season_of(dates, with_cold(dates, cold))
    assert season is not None
    assert season.words() == "21 April to 19 October"
    inside = dates[season.contains(dates)]
    assert inside[0] == np.datetime64("2021-04-21")
    assert np.datetime64("2022-10-19") in inside
    assert np.datetime64("2022-10-20") not in inside
    assert season.years == 3
    assert not season.all_year


def test_usual_season_without_frost_in_most_years_is_all_year() -> None:
    dates = days("2021-01-01", "2023-12-31")
    season = season_of(dates, with_cold(dates, ["2022-01-15", "2022-12-20"]))
    assert season is not None
    assert season.all_year
    assert season.contains(dates).all()


def test_usual_season_south_of_the_equator_runs_over_new_year() -> None:
    dates = days("2020-07-01", "2024-06-30")
    cold = [f"{year}-{day}" for year in range(2020, 2025) for day in ("07-02", "09-15", "05-10")]
    season = season_of(dates, with_cold(dates, cold), latitude=-35.0)
    assert season is not None
    assert season.words() == "16 September to 9 May"
    inside = set(dates[season.contains(dates)].tolist())
    assert date(2021, 1, 1) in inside
    assert date(2021, 7, 1) not in inside


def test_usual_season_leaves_out_a_spring_with_too_many_missing_days() -> None:
    dates = days("2021-01-01", "2023-12-31")
    t_min_c = with_cold(dates, ["2021-04-10", "2022-04-30", "2023-04-12"])
    t_min_c[(dates >= np.datetime64("2022-04-01")) & (dates <= np.datetime64("2022-04-11"))] = np.nan
    season = season_of(dates, t_min_c)
    assert season is not None
    assert season.first_day == common_day(np.array(["2023-04-12"], dtype="datetime64[D]"))[0]
    assert season.years == 2


@pytest.mark.parametrize("last", ["2021-06-30", "2021-10-01"])
def test_usual_season_without_one_complete_half_year_is_unknown(last: str) -> None:
    dates = days("2021-03-01", last)
    assert season_of(dates, with_cold(dates, ["2021-04-10"])) is None


def test_usual_season_counts_a_night_at_the_threshold_as_cold() -> None:
    dates = days("2021-01-01", "2021-12-31")
    t_min_c = np.full(len(dates), 5.0)
    t_min_c[common_day(dates) == 100] = -2.2
    t_min_c[common_day(dates) == 120] = -2.1
    season = usual_season(dates, t_min_c, -2.2, latitude=40.0, gap_days=0)
    assert season is not None
    assert season.first_day == 101
