"""For every yard, whatever runs over where: choices can be played, and stay within rain and demand."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.water import choice_years, choices, network
from dooryard.yard.model import Yard
from tests.property.test_network_flows_property import ON, cold_record, whole_yards
from tests.property.test_network_property import made_up_rain

seeds = st.integers(0, 2**32 - 1)


@given(here=whole_yards(), seed=seeds)
@settings(max_examples=25)
def test_choices_of_any_yard_use_no_more_than_came_or_was_asked(
    knowledge: Any, here: Yard, seed: int
) -> None:
    run, _ = network.run(here, cold_record(made_up_rain(seed), seed), knowledge, ON)
    years = choice_years.years_of(here, run, knowledge)
    assert years is not None
    assert years.years == (2020,)
    assert dict(years.excluded)[2021].startswith("the record holds only")
    assert years.asks[years.now] == ("border", "plot")
    found = choices.play(years, choice_years.kinds_of(knowledge)[:2])
    came_l = years.inflow_l.sum()
    for one in found.played:
        asked_l = years.demand_l[:, one.ask].sum()
        assert one.used_l.max() <= min(came_l, asked_l) + 1e-6
        assert 0.0 <= one.met_share <= 1.0
    rungs = found.ladder(found.kinds[1], years.now)
    assert all(more.used_l[1].sum() >= less.used_l[1].sum() - 1e-6 for less, more in pairwise(rungs))


@given(here=whole_yards(), seed=seeds, spout=st.sampled_from(["spout", "other"]))
@settings(max_examples=25)
def test_one_store_is_played_as_the_network_runs_it(
    knowledge: Any, here: Yard, seed: int, spout: str
) -> None:
    barrel = replace(here.storages[0], fed_by=(spout,), empties_to=None)
    beds = tuple(replace(bed, watered_from="upper") for bed in here.beds[:2])
    roofs = tuple(roof for roof in here.roofs if roof.downspout == spout)
    alone = replace(here, storages=(barrel,), beds=beds, roofs=roofs)
    run, _ = network.run(alone, cold_record(made_up_rain(seed), seed), knowledge, ON)
    years = choice_years.years_of(alone, run, knowledge)
    assert years is not None
    now = choices.play(years, ()).as_it_stands()
    assert now is not None
    of_year = run.dates < np.datetime64("2021-01-01")
    (pool,) = run.pools
    for used_l, kept in zip(now.used_l, (pool.yas, pool.ybs), strict=True):
        assert used_l[0] == pytest.approx(float(kept.supplied_l[of_year].sum()), abs=1e-6)
