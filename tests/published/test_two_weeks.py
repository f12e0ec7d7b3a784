"""Two weeks of a barrel, day by day as a household would reckon them, through the whole network.

The case is invented for this program and was worked out by hand. Roof 300 sq ft, 0.85 of what is left after
the first 0.02 in of each day; a 55 gal drum that holds 20 gal, 3 of them below the tap; rain and use as
below. Rain comes in the night, is added and runs over, then water is drawn in the evening: with hours of
rain nothing is left open, so both operating rules and both ends of the level agree. Tolerance 0.1 gal.
"""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from dooryard.water import network
from dooryard.weather.record import Flag, Source, Station
from dooryard.yard.model import Downspout, Level, Place, Roof, Storage, Yard
from tests.water_yards import record

GAL_L, IN_MM, SQ_FT_M2 = 3.785411784, 25.4, 0.09290304
RAIN_IN = (0, 0.42, 0.05, 0, 0, 0, 0, 0.18, 1.35, 0.10, 0, 0, 0, 0)
#: Days of use; a household that waters once it has been dry for two days draws on just these.
USE_DAYS = (1, 5, 6, 7, 12, 13, 14)
DATES = np.arange("2031-06-01", "2031-06-15", dtype="datetime64[D]")
ON = date(2031, 6, 15)


class OneDayEvents:
    """The shipped tables, but with this case's roof: its loss is charged each day anew."""

    def __init__(self, tables: Any) -> None:
        self._tables = tables
        loss = SimpleNamespace(coefficient=0.85, low=0.85, high=0.85, wetting_loss_mm=0.02 * IN_MM)
        self.coverings = {"this roof": loss}

    def fact(self, key: str) -> Any:
        return SimpleNamespace(value=0.0) if key == "roof.dry_reset" else self._tables.fact(key)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._tables, name)


def hours() -> Any:
    """All of a day's rain between 3 and 4 in the morning."""
    from dooryard.weather.hourly import HourlyRecord

    rain = np.zeros((len(DATES), 24))
    rain[:, 3] = np.array(RAIN_IN) * IN_MM
    start = np.arange(DATES[0], DATES[-1] + 1, dtype="datetime64[h]")
    flags = {"rain_mm": np.full(rain.size, Flag.OBSERVED, dtype=np.uint8)}
    return HourlyRecord(Station("here"), start, flags, (), Source("hours.csv", "plain"), rain_mm=rain.ravel())


def played(knowledge: Any, drums: int, use_gal: float, *, by_hours: bool = True) -> network.PoolRun:
    volume_l = 55 * GAL_L
    storages = tuple(
        Storage(
            f"drum {number}",
            volume_l,
            height_m=1.0,
            outlet_height_m=3 / 55 / drums,
            fed_by=("spout",) if number == 1 else (),
            linked_to=() if number == 1 else ("drum 1",),
            daily_use_l=use_gal * GAL_L if number == 1 else 0.0,
            use_after_dry_days=2,
        )
        for number in range(1, drums + 1)
    )
    here = Yard(
        "two weeks",
        "us",
        Place(40.0, -85.0, 200.0, "here"),
        roofs=(Roof("roof", 300 * SQ_FT_M2, "this roof", "spout"),),
        downspouts=(Downspout("spout", 0.05, 0.075),),
        storages=storages,
        levels=(Level("drum 1", date(2031, 6, 1), 20 * GAL_L / drums),),
    )
    weather = record(DATES, rain_mm=np.array(RAIN_IN) * IN_MM)
    run, problems = network.run(
        here,
        weather,
        OneDayEvents(knowledge),
        ON,
        hours=hours() if by_hours else None,  # type: ignore[arg-type]
    )
    assert problems == ()
    return run.pools[0]


@pytest.mark.parametrize(
    ("drums", "use_gal", "used", "short", "spilled", "end"),
    [
        (1, 10, 70.0, 0.0, 242.9, 25.0),
        (2, 10, 70.0, 0.0, 187.9, 80.0),
        (1, 20, 121.0, 19.0, 213.9, 3.0),
        (2, 20, 137.0, 3.0, 150.9, 50.0),
    ],
)
def test_two_weeks_hour_by_hour_come_out_as_reckoned_by_hand(
    knowledge: Any, drums: int, use_gal: float, used: float, short: float, spilled: float, end: float
) -> None:
    pool = played(knowledge, drums, use_gal)
    assert pool.inflow_l.sum() / GAL_L == pytest.approx(317.9, abs=0.1)
    assert (np.flatnonzero(pool.demand_l) + 1).tolist() == list(USE_DAYS)
    for kept in (pool.yas, pool.ybs):
        assert kept.supplied_l.sum() / GAL_L == pytest.approx(used, abs=0.1)
        assert kept.unmet_l.sum() / GAL_L == pytest.approx(short, abs=0.1)
        assert kept.spilled_l.sum() / GAL_L == pytest.approx(spilled, abs=0.1)
    assert pool.level_low_l[-1] / GAL_L == pytest.approx(end, abs=0.1)
    assert pool.level_high_l[-1] == pytest.approx(pool.level_low_l[-1])


@pytest.mark.parametrize(("use_gal", "more"), [(10, 0.0), (20, 16.0)])
def test_two_weeks_second_drum_gives_nothing_at_ten_and_sixteen_gallons_at_twenty(
    knowledge: Any, use_gal: float, more: float
) -> None:
    one, two = (played(knowledge, drums, use_gal).yas.supplied_l.sum() / GAL_L for drums in (1, 2))
    assert two - one == pytest.approx(more, abs=0.1)


@pytest.mark.parametrize("drums", [1, 2])
def test_two_weeks_of_days_alone_say_the_same_since_water_is_drawn_on_dry_days_only(
    knowledge: Any, drums: int
) -> None:
    by_day, by_hour = played(knowledge, drums, 20, by_hours=False), played(knowledge, drums, 20)
    assert by_day.level_low_l == pytest.approx(by_hour.level_low_l)
    assert by_day.level_high_l == pytest.approx(by_hour.level_high_l)
