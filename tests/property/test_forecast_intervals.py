"""Rain laid on hours sums to what was given, wherever the intervals lie; lengths of time add up as ISO 8601 says."""

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.weather.intervals import Interval, parse_duration, parse_interval, span, spread

FIRST = np.datetime64("2031-05-20T00", "h")


@given(
    st.lists(
        st.tuples(st.integers(0, 9), st.integers(1, 30), st.floats(0, 300, allow_subnormal=False)),
        min_size=1,
        max_size=20,
    )
)
def test_spread_amounts_keep_their_sum_and_leave_the_holes(steps):
    intervals, at = [], 0
    for gap, hours, _ in steps:
        intervals.append(Interval(FIRST + np.timedelta64(at + gap, "h"), hours))
        at += gap + hours
    amounts = [amount for _, _, amount in steps]
    first, count = span([intervals])
    laid = spread(intervals, amounts, first, count, "amount")
    assert np.nansum(laid) == pytest.approx(sum(amounts))
    assert np.isnan(laid).sum() == count - sum(hours for _, hours, _ in steps)
    level = spread(intervals, amounts, first, count, "level")
    assert set(level[~np.isnan(level)]) == set(amounts)


@given(st.integers(0, 9), st.integers(0, 23), st.integers(0, 59))
def test_duration_is_the_sum_of_its_parts(days, hours, minutes):
    text = f"P{days}DT{hours}H{minutes}M"
    length = timedelta(days=days, hours=hours, minutes=minutes)
    if length:
        assert parse_duration(text) == length
    else:
        with pytest.raises(ValueError, match="no length"):
            parse_duration(text)


@given(st.integers(-12, 14), st.integers(1, 200))
def test_interval_start_is_put_into_universal_time(offset, hours):
    found = parse_interval(f"2031-05-20T12:00:00{offset:+03}:00/PT{hours}H")
    assert found == Interval(FIRST + np.timedelta64(12 - offset, "h"), hours)


@pytest.mark.parametrize("text", ["P", "PT", "P1Y", "P1M", "PT1.5H", "1D", "", "P1D2H", "PT0S"])
def test_duration_that_is_none_is_refused(text):
    with pytest.raises(ValueError, match="no length"):
        parse_duration(text)


@given(st.lists(st.integers(1, 24), min_size=1, max_size=12), st.integers(0, 11), st.floats(-500, -1e-9))
def test_spread_amount_below_zero_among_others_is_refused(lengths, at, amount):
    """It would take away what the others bring. A temperature may lie below 0."""
    starts = np.cumsum([0, *lengths[:-1]]).tolist()
    intervals = [
        Interval(FIRST + np.timedelta64(start, "h"), n) for start, n in zip(starts, lengths, strict=True)
    ]
    values = [1.0] * len(lengths)
    values[at % len(lengths)] = amount
    with pytest.raises(ValueError, match="below 0"):
        spread(intervals, values, FIRST, sum(lengths), "amount")
    assert spread(intervals, values, FIRST, sum(lengths), "level").min() == amount
