"""What roof runoff must do, whatever the rain: losses once an event, nothing made up, nothing negative."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.water.catchment import rain_volume, runoff

depths = st.one_of(st.just(0.0), st.floats(0.0, 80.0))
rains = st.lists(depths, min_size=1, max_size=50)
areas = st.floats(0.0, 200.0)
shares = st.floats(0.0, 1.0)
losses = st.floats(0.0, 3.0)
flushes = st.floats(0.0, 60.0)
resets = st.integers(0, 4)


@pytest.mark.check("W-01-12", source="invariants of the event form", status="computed")
@given(st.floats(0.0, 80.0), st.integers(1, 5), areas, shares, losses, flushes, st.integers(1, 4))
def test_one_wet_day_split_over_several_gives_the_same_volume(depth, pieces, area, share, loss, flush, reset):
    whole = runoff([depth], area, share, loss, flush, reset).sum()
    split = runoff([depth / pieces] * pieces, area, share, loss, flush, reset).sum()
    assert split == pytest.approx(whole, rel=1e-9, abs=1e-9)


@pytest.mark.check("W-01-12", source="invariants of the event form", status="computed")
@given(rains, areas, shares, st.floats(0.0, 4.0))
def test_volume_without_losses_is_linear_in_rain_and_area(rain, area, share, factor):
    once = runoff(rain, area, share)
    np.testing.assert_allclose(once, rain_volume(rain, area, share), rtol=1e-12, atol=1e-12)
    np.testing.assert_allclose(
        runoff(np.array(rain) * factor, area, share), once * factor, rtol=1e-9, atol=1e-12
    )
    np.testing.assert_allclose(runoff(rain, area * factor, share), once * factor, rtol=1e-9, atol=1e-12)


@pytest.mark.check("W-01-12", source="invariants of the event form", status="computed")
@given(rains, areas, losses, flushes, resets)
def test_coefficient_of_zero_gives_nothing(rain, area, loss, flush, reset):
    assert not runoff(rain, area, 0.0, loss, flush, reset).any()


@pytest.mark.check("W-01-12", source="invariants of the event form", status="computed")
@given(st.floats(0.0, 3.0), st.floats(0.0, 1.0), areas, shares)
def test_event_up_to_the_wetting_loss_gives_nothing(loss, part, area, share):
    assert not runoff([loss * part], area, share, loss).any()


@given(rains, areas, shares, losses, flushes, resets)
def test_each_event_gives_what_its_total_says(rain, area, share, loss, flush, reset):
    litres = runoff(rain, area, share, loss, flush, reset)
    assert (litres >= 0.0).all()
    assert (litres[np.array(rain) == 0.0] == 0.0).all()
    # Gather the events by another road: cut the list of days at dry runs that are long enough.
    events, dry = [], reset
    for depth, volume in zip(rain, litres, strict=True):
        if depth == 0.0:
            dry += 1
            continue
        if dry >= reset:
            events.append([0.0, 0.0])
        dry = 0
        events[-1][0] += depth
        events[-1][1] += volume
    for total, volume in events:
        expected = max(0.0, area * share * max(0.0, total - loss) - flush)
        assert volume == pytest.approx(expected, rel=1e-9, abs=1e-7)


@given(st.lists(rains, min_size=1, max_size=4), areas, shares, losses, flushes, resets)
def test_many_records_at_once_equal_each_alone(rains_of_many, area, share, loss, flush, reset):
    days = min(len(rain) for rain in rains_of_many)
    table = np.array([rain[:days] for rain in rains_of_many])
    together = runoff(table, area, share, loss, flush, reset)
    for row, rain in zip(together, table, strict=True):
        assert np.array_equal(row, runoff(rain, area, share, loss, flush, reset))
