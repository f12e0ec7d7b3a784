"""Sightings against the heat: how several combine, what an unsure eye weighs, how later dates widen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.knowledge import load
from dooryard.season.sighting_shift import TENTH, Compared, Shift, each_once, moved, shift
from dooryard.season.windows import Moment
from dooryard.yard.model import Sighting

DAY = date(2030, 6, 7)
SPREADS = {"certain": 3.0, "likely": 5.0, "unsure": 10.0}
WORDS = st.sampled_from(["certain", "likely", "unsure"])
MANY = st.lists(st.tuples(st.integers(-21, 21), WORDS), min_size=1, max_size=8)


def seen(days: int, sure: str = "certain") -> Compared:
    one = Sighting(DAY + timedelta(days=days), "hedge", "bagworm", "hatch", sure)  # type: ignore[arg-type]
    return Compared(one, "bagworm.newjersey", DAY, days, SPREADS[sure], abs(days) > 21)


def shifted(*told: Compared) -> Shift:
    found = shift(told, load())
    assert found is not None
    return found


def test_two_sightings_are_surer_than_one_and_lie_nearer_to_what_was_seen() -> None:
    """Three days apart from the table twice: 3 * 2/9 / (2/9 + 1/49)."""
    one, two = shifted(seen(3)), shifted(seen(3), seen(3))
    assert two.days == pytest.approx(3 * (2 / 9) / (2 / 9 + 1 / 49))
    assert one.days < two.days < 3
    assert two.spread_d < one.spread_d


def test_unsure_eye_moves_less_than_a_certain_one() -> None:
    assert 0 < shifted(seen(6, "unsure")).days < shifted(seen(6, "likely")).days < shifted(seen(6)).days < 6


def test_sighting_a_month_off_shifts_nothing() -> None:
    assert shift([seen(30)], load()) is None
    assert shifted(seen(2), seen(30)).days == shifted(seen(2)).days


def test_any_number_of_sightings_leaves_two_days_of_doubt() -> None:
    assert shifted(*[seen(1)] * 40).spread_d == 2.0


def test_one_sighting_held_against_three_tables_is_one_witness() -> None:
    """Two, four and nine days off by three tables: five days, with the doubt of one pair of eyes."""
    one = seen(2)
    three = [replace(one, days=days) for days in (2, 4, 9)]
    merged = each_once([*three, replace(one, days=30, too_far=True)])
    assert [(each.days, each.spread_d) for each in merged] == [(5, 3.0)]
    assert shifted(*merged).spread_d == shifted(one).spread_d


def test_later_stage_moves_by_the_shift_and_its_range_widens() -> None:
    moment = Moment(False, DAY - timedelta(days=3), DAY, DAY + timedelta(days=4), None)
    by = Shift(1.7, 2.8, ())
    got = moved(moment, by, date(2030, 6, 1), load())
    assert got.likely == DAY + timedelta(days=2)
    # sqrt(3^2 + (1.2816 * 2.8)^2) = 4.7 and sqrt(4^2 + ...) = 5.4 days, rounded outwards
    assert pytest.approx(3.588, abs=0.001) == TENTH * 2.8
    assert got.earliest == DAY + timedelta(days=2 - 5)
    assert got.latest == DAY + timedelta(days=2 + 6)
    assert got.passed is False


def test_stage_months_later_is_in_more_doubt() -> None:
    moment = Moment(False, DAY, DAY, DAY, None)
    soon, late = (moved(moment, Shift(0.0, 3.0, ()), DAY, load(), after_d=days) for days in (0, 120))
    assert soon.latest is not None
    assert late.latest is not None
    assert late.latest > soon.latest


@given(MANY)
def test_shift_lies_between_no_shift_and_the_furthest_sighting(told: list[tuple[int, str]]) -> None:
    by = shifted(*(seen(days, sure) for days, sure in told))
    days = [0, *(days for days, _ in told)]
    assert min(days) - 1e-9 <= by.days <= max(days) + 1e-9
    assert 2.0 <= by.spread_d < 7.0


@given(MANY, st.integers(0, 30), st.integers(0, 30), st.integers(0, 200))
def test_moved_range_never_narrows_and_keeps_its_order(
    told: list[tuple[int, str]], before: int, behind: int, after_d: int
) -> None:
    moment = Moment(False, DAY - timedelta(days=before), DAY, DAY + timedelta(days=behind), None)
    got = moved(moment, shifted(*(seen(days, sure) for days, sure in told)), DAY, load(), after_d=after_d)
    assert got.earliest is not None
    assert got.likely is not None
    assert got.latest is not None
    assert got.earliest <= got.likely <= got.latest
    assert (got.latest - got.earliest).days >= before + behind


@pytest.mark.check("S-02-A", source="posterior on a fine grid, summed by numpy", status="computed")
def test_shift_is_the_posterior_of_a_normal_prior_on_a_grid() -> None:
    told = [seen(6), seen(-2, "likely"), seen(9, "unsure")]
    days = np.linspace(-60, 60, 240_001)
    log = -0.5 * (days / 7.0) ** 2
    for one in told:
        log -= 0.5 * ((days - one.days) / one.spread_d) ** 2
    weight = np.exp(log - log.max())
    weight /= weight.sum()
    mean = float((weight * days).sum())
    by = shifted(*told)
    assert by.days == pytest.approx(mean, abs=1e-6)
    assert by.spread_d == pytest.approx(float(np.sqrt((weight * (days - mean) ** 2).sum())), abs=1e-6)


@pytest.mark.check("S-02-A", source="4,000 drawn yards with eyes of all three kinds", status="computed")
def test_stated_eight_in_ten_hold_the_true_shift_in_eight_of_ten_drawn_yards() -> None:
    """True shifts from the prior, one to three sightings each with its stated doubt, whole days as told."""
    random = np.random.default_rng(11)
    held = []
    for true in random.normal(0, 7, 4_000):
        words = random.choice(list(SPREADS), size=random.integers(1, 4))
        told = [seen(round(true + random.normal(0, SPREADS[str(word)])), str(word)) for word in words]
        by = shift(told, load())
        if by is not None:
            held.append(abs(by.days - true) <= TENTH * by.spread_d)
    assert len(held) > 3_900
    assert 0.78 <= np.mean(held) <= 0.83


def test_tenth_is_that_of_the_standard_library() -> None:
    assert pytest.approx(NormalDist().inv_cdf(0.9), abs=5e-5) == TENTH
