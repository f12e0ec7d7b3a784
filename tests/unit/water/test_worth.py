"""The worth of the next barrel in years whose answer can be done in the head."""

import numpy as np
import pytest

from dooryard.problem import InputError
from dooryard.water.worth import season_worth

RAIN_L = {2001: 60.0, 2002: 20.0, 2003: 120.0, 2004: 30.0, 2005: 90.0}


def record(rain_l=RAIN_L):
    """Ten days of demand, 10 L each, from 2 June; one rain on 3 June; a flood in January that is no use."""
    dates = np.arange("2001-01-01", "2006-01-01", dtype="datetime64[D]")
    inflow, demand = np.zeros(dates.size), np.zeros(dates.size)
    for year, litres in rain_l.items():
        june = int(np.flatnonzero(dates == np.datetime64(f"{year}-06-01"))[0])
        demand[june + 1 : june + 11] = 10.0
        inflow[june + 2] = litres
    return dates, inflow, demand


def by_hand(litres: float, capacity: float) -> float:
    """2 June finds nothing, 3 June takes 10 from the rain, eight days live from the storage."""
    return min(litres, 10.0) + min(max(litres - 10.0, 0.0), capacity, 80.0)


def test_season_worth_supply_of_each_year_by_hand():
    worth = season_worth(*record(), capacity_l=25.0, step_l=25.0, steps=3)
    assert worth.years == (2001, 2002, 2003, 2004, 2005)
    assert worth.excluded == ()
    assert worth.capacities_l.tolist() == [25.0, 50.0, 75.0, 100.0]
    expected = [[by_hand(litres, size) for size in (25.0, 50.0, 75.0, 100.0)] for litres in RAIN_L.values()]
    np.testing.assert_allclose(worth.supplied_l, expected, rtol=1e-12)
    assert worth.demand_l.tolist() == [100.0] * 5
    assert worth.inflow_l.tolist() == list(RAIN_L.values())


def test_season_worth_names_the_dry_the_middling_and_the_wet_year():
    worth = season_worth(*record(), capacity_l=25.0, step_l=25.0, steps=1)
    assert (worth.dry_year, worth.middling_year, worth.wet_year) == (2002, 2001, 2003)
    assert worth.added_in(2001).tolist() == [25.0]
    assert worth.added_in(2002).tolist() == [0.0]


def test_season_worth_ranks_by_the_season_and_not_by_a_winter_flood():
    dates, inflow, demand = record()
    inflow[dates == np.datetime64("2002-01-10")] = 1000.0
    demand[dates == np.datetime64("2002-01-10")] = 0.0
    worth = season_worth(dates, inflow, demand, 25.0, 25.0, 1)
    assert worth.dry_year == 2002
    assert worth.inflow_l[1] == 20.0


def test_season_worth_leaves_out_incomplete_years_and_says_why():
    dates, inflow, demand = record()
    inflow[dates == np.datetime64("2003-08-01")] = np.nan
    keep = dates >= np.datetime64("2001-02-01")
    worth = season_worth(dates[keep], inflow[keep], demand[keep], 25.0, 25.0, 1)
    assert worth.years == (2002, 2004, 2005)
    assert dict(worth.excluded).keys() == {2001, 2003}
    assert "334 of its days" in dict(worth.excluded)[2001]
    assert dict(worth.excluded)[2003].startswith("1 day without")


def test_season_worth_without_a_complete_year_names_none():
    dates, inflow, demand = (values[:100] for values in record())
    worth = season_worth(dates, inflow, demand, 25.0, 25.0, 2)
    assert worth.years == ()
    assert worth.supplied_l.shape == (0, 3)
    assert (worth.dry_year, worth.middling_year, worth.wet_year) == (None, None, None)


def test_season_worth_of_one_year_uses_it_three_times():
    dates, inflow, demand = (values[:365] for values in record())
    worth = season_worth(dates, inflow, demand, 25.0, 25.0, 1)
    assert (worth.dry_year, worth.middling_year, worth.wet_year) == (2001, 2001, 2001)


def test_season_worth_dates_with_a_hole_are_refused():
    dates, inflow, demand = record()
    keep = dates != np.datetime64("2003-05-05")
    with pytest.raises(InputError, match="follow one another"):
        season_worth(dates[keep], inflow[keep], demand[keep], 25.0, 25.0, 1)
