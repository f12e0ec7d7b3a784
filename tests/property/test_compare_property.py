"""The comparison against its own definition written out slowly, day by day; normals under a change of unit."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.weather import compare, normals
from dooryard.weather.compare import Quantity
from dooryard.weather.usual_limits import usual_limits


def slowly(by_day, on, days, kind):
    """This year's value and every past year's, from a dictionary of days, as the manual tells it."""
    back = [day for day in range(1, days + 1) if by_day[on - timedelta(days=day)] is not None]
    gather = sum if kind == "total" else lambda values: sum(values) / len(values)
    now = gather([by_day[on - timedelta(days=day)] for day in back]) if back else None
    past = {}
    for year in range(min(by_day).year, on.year):
        end = date(year, 3, 1) if (on.month, on.day) == (2, 29) and year % 4 else on.replace(year=year)
        if end - timedelta(days=days) < min(by_day):
            continue
        span = [by_day[end - timedelta(days=day)] for day in back]
        known = [value for value in span if value is not None]
        gaps = "".join("x" if value is None else "." for value in span)
        limits = usual_limits()
        share = limits.total_missing_share if kind == "total" else limits.mean_missing_share
        if not known or len(span) - len(known) > share * len(span):
            continue
        if kind == "mean" and "x" * (int(limits.mean_missing_run_d) + 1) in gaps:
            continue
        past[year] = gather(known)
    return now, past


@settings(deadline=None, max_examples=40)
@given(
    seed=st.integers(0, 10**6),
    on=st.dates(date(2014, 1, 1), date(2016, 12, 31)) | st.just(date(2016, 2, 29)),
    holes=st.sampled_from([0.0, 0.005, 0.05, 0.3]),
    kind=st.sampled_from(["total", "mean"]),
)
def test_compare_equals_its_definition_done_day_by_day(seed, on, holes, kind):
    rng = np.random.default_rng(seed)
    dates = np.arange("2001-03-05", str(on), dtype="datetime64[D]")
    values = np.where(rng.random(len(dates)) < holes, np.nan, rng.gamma(0.3, 8.0, len(dates)))
    by_day = {
        day: None if np.isnan(value) else float(value)
        for day, value in zip(dates.astype(object), values, strict=True)
    }
    quantity = Quantity("x", "x", kind, "depth", values)
    for row in compare.compare(dates, [quantity], on):
        now, past = slowly(by_day, on, (on - row.first).days, kind)
        assert row.value == (None if now is None else pytest.approx(now))
        assert {year.year: year.value for year in row.past} == pytest.approx(past)
        assert row.below == sum(value < row.value for value in (year.value for year in row.past))
        assert row.below + row.above <= len(row.past)
        assert {year for year, _ in row.left_out} == set(range(2001, on.year)) - set(past)


@settings(deadline=None, max_examples=20)
@given(st.integers(0, 10**6), st.floats(-30, 30), st.floats(0.1, 5))
def test_normals_follow_a_change_of_unit(seed, shift, scale):
    dates = np.arange("2001-01-01", "2008-01-01", dtype="datetime64[D]")
    values = np.random.default_rng(seed).normal(10, 5, len(dates))
    values[:40] = np.nan
    plain, changed = normals.daily(dates, values), normals.daily(dates, values * scale + shift)
    np.testing.assert_allclose(changed.mean, plain.mean * scale + shift, atol=1e-9)
    np.testing.assert_allclose(changed.spread, plain.spread * scale, atol=1e-9)
    np.testing.assert_allclose(changed.points, plain.points * scale + shift, atol=1e-9)
    assert (np.diff(plain.points, axis=0) >= 0).all()
