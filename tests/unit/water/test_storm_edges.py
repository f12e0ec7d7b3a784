"""Storms at their edges: a made-up pattern that can be done in the head."""

import math

import numpy as np
import pytest

from dooryard.knowledge import load
from dooryard.problem import InputError
from dooryard.water.storm import Pattern, drawdown, fill_depth, fill_hour, fill_time, fill_window, pattern

# A tenth in the first hour, eight tenths in the second, the last tenth in two more.
STORM = Pattern(np.array([0.0, 1.0, 2.0, 4.0]), np.array([0.0, 0.1, 0.9, 1.0]))


@pytest.mark.parametrize(
    ("window_h", "share"), [(0.5, 0.4), (1.0, 0.8), (2.0, 0.9), (3.0, 0.95), (4.0, 1.0), (9.0, 1.0)]
)
def test_largest_share_of_a_pattern(window_h, share):
    # Two hours: the first two (0.9) beat one to three (0.85).
    assert STORM.largest_share(window_h) == pytest.approx(share)


@pytest.mark.parametrize("share", [0.05, 0.4, 0.8, 0.85, 0.97, 1.0])
def test_shortest_window_is_the_largest_share_turned_round(share):
    window = STORM.shortest_window(share)
    assert STORM.largest_share(window) == pytest.approx(share)
    assert STORM.largest_share(window * 0.999) < share


def test_share_that_never_falls_has_no_window():
    assert STORM.shortest_window(1.01) == math.inf


def test_filling_a_full_storage_takes_no_time():
    assert fill_hour(STORM, 10.0, 0.0, 20.0, 0.9) == 0.0
    assert fill_window(STORM, 0.0, 0.0, 20.0, 0.9) == 0.0


def test_filling_by_too_little_rain_never_ends():
    assert fill_hour(STORM, 1.0, 500.0, 20.0, 0.9) == math.inf
    assert fill_window(STORM, 1.0, 500.0, 20.0, 0.9) == math.inf
    assert fill_window(STORM, 0.0, 500.0, 20.0, 0.9) == math.inf
    assert float(fill_time(500.0, 20.0, 0.9, 0.0)) == math.inf
    assert float(fill_depth(500.0, 0.0, 0.9)) == math.inf


def test_fill_hour_of_a_storm_in_the_head():
    # 10 mm on 10 m2 is 100 L; half of it has fallen in the middle of the second hour.
    assert fill_hour(STORM, 10.0, 50.0, 10.0, 1.0) == pytest.approx(1.5)


def test_drawdown_is_never_negative_and_never_more_than_there_is():
    assert drawdown([10.0, 100.0, 100.0], 100.0, [50.0, 30.0, 500.0]).tolist() == [0.0, 30.0, 100.0]


def test_pattern_that_is_not_in_the_tables_is_refused():
    with pytest.raises(InputError, match="No storm pattern"):
        pattern(load().facts, "type-x")


def test_shipped_pattern_rises_from_nothing_to_all():
    shipped = pattern(load().facts, "type-ii")
    assert (shipped.hours[0], shipped.share[0], shipped.hours[-1], shipped.share[-1]) == (0.0, 0.0, 24.0, 1.0)
    assert (np.diff(shipped.hours) > 0).all()
    assert (np.diff(shipped.share) > 0).all()
