"""Dates of given chances of frost against a worked sample of thirty invented years."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from dooryard.season.frost import dates_at, dates_by_rank

# Day of the year of the last frost, 1991 to 2020: an invented sample, mean 100.267, standard deviation 7.437.
LAST = (
    98, 104, 91, 110, 95, 102, 88, 115, 100, 97, 106, 93, 108, 101, 99, 112, 90, 96, 105, 103, 94, 109, 87, 100,
    98, 107, 92, 111, 102, 95,
)  # fmt: skip


@pytest.mark.check("T-11", source="worked sample of thirty springs", status="computed")
@pytest.mark.check("S-05-02", source="worked sample, normal fit after Thom & Shaw 1958", status="computed")
@pytest.mark.parametrize(("level", "expected"), [(0.9, 90.74), (0.5, 100.27), (0.1, 109.80)])
def test_normal_fit_gives_the_worked_dates(level: float, expected: float) -> None:
    assert dates_at(LAST, [level])[0] == pytest.approx(expected, abs=0.005)


@pytest.mark.check("S-05-02", source="worked sample, Weibull plotting position", status="computed")
@pytest.mark.parametrize(("level", "expected"), [(0.9, 90.1), (0.5, 100.0), (0.1, 110.9)])
def test_ranks_give_the_worked_dates(level: float, expected: float) -> None:
    assert dates_by_rank(LAST, [level])[0] == pytest.approx(expected, abs=0.05)


@pytest.mark.check("S-05-02", source="worked sample with frost in nine years of ten", status="computed")
def test_years_without_frost_move_the_dates_and_leave_the_highest_level_open() -> None:
    at_90, at_50, at_10 = dates_at(LAST, [0.9, 0.5, 0.1], share_of_years=0.9)
    assert at_90 is None
    assert at_50 == pytest.approx(99.23, abs=0.005)
    assert at_10 == pytest.approx(109.34, abs=0.005)


@pytest.mark.check("S-05-02", source="normal distribution of a general statistics library", status="computed")
def test_normal_fit_agrees_with_a_statistics_library() -> None:
    levels = np.linspace(0.02, 0.98, 25)
    expected = norm.isf(levels, np.mean(LAST), np.std(LAST, ddof=1))
    assert dates_at(LAST, levels.tolist()) == pytest.approx(tuple(expected), abs=1e-9)


def test_level_outside_the_ranks_and_too_few_years_are_left_open() -> None:
    assert dates_by_rank(LAST, [0.99, 0.01]) == (None, None)
    assert dates_at([100.0], [0.5]) == (None,)
    assert dates_by_rank([], [0.5]) == (None,)
