"""Growing roots, for every input that can be: nothing made or lost, no jump, and a fixed zone as the special case."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.water import soil
from dooryard.water.roots import RootZone
from dooryard.water.watering import next_watering

seeds = st.integers(0, 2**32 - 1)
shares = st.floats(0.1, 0.8)
zones = st.builds(
    RootZone,
    start_m=st.floats(0.05, 0.3),
    full_m=st.floats(0.3, 2.0),
    grown_d=st.floats(5.0, 120.0),
    held_mm_m=st.floats(50.0, 200.0),
    share=shares,
)
DAYS = 150


def made_up(seed: int, days: int = DAYS) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    luck = np.random.default_rng(seed)
    rain_mm = luck.gamma(0.7, 12.0, days) * (luck.random(days) < 0.25)
    return rain_mm, luck.uniform(0.0, 9.0, days), luck.uniform(0.0, 30.0, days) * (luck.random(days) < 0.05)


@given(zone=zones)
def test_root_zone_grows_without_shrinking_and_ends_at_its_depth(zone: RootZone) -> None:
    day = np.arange(DAYS)
    taw_mm = zone.taw_mm(day)
    assert (np.diff(taw_mm) >= 0.0).all()
    assert taw_mm[0] == pytest.approx(zone.held_mm_m * zone.start_m)
    assert taw_mm[-1] == pytest.approx(zone.held_mm_m * zone.full_m)
    assert ((zone.raw_mm(day) > 0.0) & (zone.raw_mm(day) <= taw_mm)).all()


@given(seed=seeds, zone=zones, start=st.floats(0, 1), due=st.booleans(), season=st.integers(20, 80))
def test_balance_with_growing_roots_closes_and_stays_within_the_day_own_soil(
    seed: int, zone: RootZone, start: float, due: bool, season: int
) -> None:
    rain_mm, use_mm, given_mm = made_up(seed)
    day = np.arange(DAYS) % season  # planted anew every so many days, and then back to shallow roots
    taw_mm = zone.taw_mm(day)
    run = soil.balance(
        rain_mm, use_mm, taw_mm=taw_mm, raw_mm=zone.raw_mm(day), start_mm=start * taw_mm[0],
        irrigation_mm=given_mm, water_when_due=due, restarts=day == 0,
    )  # fmt: skip
    assert run.closure_error_mm() <= 1e-9
    # the whole account at once, in water held: what came, what went, what roots reached
    gone = run.evapotranspiration_mm + run.percolation_mm + run.runoff_mm + run.reset_mm
    came = run.rain_mm + run.irrigation_mm + run.reached_mm
    first, last = taw_mm[0] - start * taw_mm[0], taw_mm[-1] - run.depletion_mm[-1]
    assert first + came.sum() - gone.sum() == pytest.approx(last, abs=1e-8)
    assert ((run.depletion_mm >= 0.0) & (run.depletion_mm <= taw_mm)).all()
    assert (run.percolation_mm >= 0.0).all()
    assert ((run.evapotranspiration_mm >= -1e-12) & (run.evapotranspiration_mm <= use_mm + 1e-12)).all()
    # roots that go deeper change what is held, never what is missing
    deeper = (day > 0) & (np.diff(taw_mm, prepend=taw_mm[0]) > 0.0)
    assert (run.reset_mm[deeper] == 0.0).all()


@given(seed=seeds, taw_mm=st.floats(5.0, 200.0), p=shares, start=st.floats(0, 1), due=st.booleans())
def test_balance_of_a_scalar_is_that_of_a_constant_array(
    seed: int, taw_mm: float, p: float, start: float, due: bool
) -> None:
    rain_mm, use_mm, given_mm = made_up(seed)
    same = np.full(DAYS, taw_mm)
    one, many = (
        soil.balance(
            rain_mm, use_mm, taw_mm=taw, raw_mm=raw, start_mm=start * taw_mm,
            irrigation_mm=given_mm, water_when_due=due,
        )
        for taw, raw in ((taw_mm, p * taw_mm), (same, p * same))
    )  # fmt: skip
    assert (one.depletion_mm == many.depletion_mm).all()
    assert (one.evapotranspiration_mm == many.evapotranspiration_mm).all()
    assert (one.reached_mm == 0.0).all()


@given(seed=seeds, zone=zones, planted=st.integers(0, 40))
def test_next_watering_with_growing_roots_walks_like_the_water_account(
    seed: int, zone: RootZone, planted: int
) -> None:
    dates = np.arange(np.datetime64("2021-05-20"), np.datetime64("2021-07-19"))
    rain_mm, use_mm, _ = made_up(seed, len(dates))
    taw_mm, raw_mm = (amount(np.arange(len(dates)) + planted) for amount in (zone.taw_mm, zone.raw_mm))
    found = next_watering(
        0.0, dates=dates, rain_mm=rain_mm, crop_et_mm=use_mm, taw_mm=taw_mm, raw_mm=raw_mm, area_m2=2.0
    )
    evening = soil.balance(rain_mm, use_mm, taw_mm=taw_mm, raw_mm=raw_mm).depletion_mm
    due = np.flatnonzero(evening[:-1] >= raw_mm[1:])  # against what roots reach in the morning
    assert found.likely == (dates[due[0] + 1].astype(date) if len(due) else None)
    assert found.due_l == (pytest.approx(evening[due[0]] * 2.0) if len(due) else None)


@given(zone=zones, part=st.floats(0.05, 1.0))
def test_next_watering_comes_no_later_with_short_roots_than_with_grown_ones(
    zone: RootZone, part: float
) -> None:
    dates = np.arange(np.datetime64("2021-05-20"), np.datetime64("2021-07-19"))
    day = np.arange(len(dates))
    ends = np.full_like(day, DAYS)
    # a day's use that never takes more than a root zone holds beyond what is free of stress
    use_mm = part * float(zone.taw_mm(0) - zone.raw_mm(0))
    short, grown = (
        next_watering(
            0.0, dates=dates, rain_mm=np.zeros(len(dates)), crop_et_mm=use_mm,
            taw_mm=zone.taw_mm(when), raw_mm=zone.raw_mm(when), area_m2=1.0,
        ).likely or date.max
        for when in (day, ends)
    )  # fmt: skip
    assert short <= grown
