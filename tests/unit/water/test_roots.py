"""Roots that grow: depths on a straight line, whose they are, and a soil account worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError
from dooryard.water import soil
from dooryard.water.bed_season import BedSeason
from dooryard.water.roots import RootZone, grown_days, root_depth, root_zone
from dooryard.yard.model import Bed
from tests.water_yards import day, days, record, yard

USE = np.array([5.0])  # the rate at which the table's share holds


def test_root_depth_goes_down_in_a_straight_line_and_stops() -> None:
    # 0.20 m at planting, 0.80 m after 60 days: a centimetre a day
    found = root_depth([0, 1, 30, 60, 200, np.nan], 0.20, 0.80, 60.0)
    assert found[:5] == pytest.approx([0.20, 0.21, 0.50, 0.80, 0.80])
    assert np.isnan(found[5])


def test_root_zone_holds_and_gives_in_proportion_to_its_depth() -> None:
    zone = RootZone(start_m=0.20, full_m=0.80, grown_d=60.0, held_mm_m=100.0, share=0.4)
    assert zone.taw_mm([0, 30, 90]) == pytest.approx([20.0, 50.0, 80.0])
    assert zone.raw_mm([0, 30, 90]) == pytest.approx([8.0, 20.0, 32.0])


@pytest.mark.parametrize(
    ("crop", "days_d"),
    [("tomato", 30 + 40), ("radish", 5 + 10), ("garlic", None), ("asparagus", None), ("apple", None),
     ("strawberry", None), ("lawn-cool", None), ("shrubs-and-perennials", None), ("trees", None)],
)  # fmt: skip
def test_grown_days_are_two_stages_of_annual_vegetables_and_none_for_what_stays(
    knowledge: Knowledge, crop: str, days_d: float | None
) -> None:
    assert grown_days(knowledge.crops[crop], knowledge) == days_d


def test_grown_days_of_annual_flowers_are_a_fact(knowledge: Knowledge) -> None:
    fact = knowledge.fact("root.grown_days.annual-flowers")
    assert grown_days(knowledge.crops["annual-flowers"], knowledge) == fact.value


def test_root_zone_without_a_planting_day_is_taken_as_grown(knowledge: Knowledge) -> None:
    tomato, loam = knowledge.crops["tomato"], knowledge.soils["loam"]
    zone = root_zone(tomato, loam, USE, BedSeason(None, None, None), knowledge)
    assert zone.depth_m([0.0, 50.0]) == pytest.approx([0.70, 0.70])


def test_root_zone_never_starts_deeper_than_the_crop_goes(knowledge: Knowledge) -> None:
    loam = knowledge.soils["loam"]
    start_m = knowledge.fact("root.planting_depth").value
    for crop in knowledge.crops.values():
        zone = root_zone(crop, loam, USE, BedSeason(None, 130, 100.0), knowledge)
        assert zone.depth_m(0.0) == pytest.approx(
            zone.full_m if zone.grown_d is None else min(start_m, zone.full_m)
        )
        assert zone.depth_m(365.0) == pytest.approx(crop.root_low_m)


def test_balance_growing_roots_worked_out_by_hand() -> None:
    run = soil.balance(
        [0, 0, 0, 40], [6, 6, 6, 6], taw_mm=[20, 30, 40, 40], raw_mm=[8, 12, 16, 16], start_mm=10
    )
    # Ks = (20 - 10) / 12, (30 - 15) / 18 and (40 - 20) / 24 are all 5/6: five of six mm are used each day.
    # Fourth day: Ks = (40 - 25) / 24 = 0.625, 3.75 mm used; 40 mm of rain - 25 - 3.75 = 11.25 mm drain.
    assert run.depletion_mm == pytest.approx([15, 20, 25, 0])
    assert run.stress == pytest.approx([5 / 6, 5 / 6, 5 / 6, 0.625])
    assert run.percolation_mm == pytest.approx([0, 0, 0, 11.25])
    # ten more millimetres come within reach on two days, and the depletion does not notice
    assert run.reached_mm == pytest.approx([0, 10, 10, 0])
    assert run.closure_error_mm() <= 1e-9


def test_balance_watered_when_due_follows_the_days_own_raw() -> None:
    run = soil.balance(
        np.zeros(6), 5.0, taw_mm=[20, 25, 30, 35, 40, 45], raw_mm=[8, 10, 12, 15, 16, 18], water_when_due=True
    )
    # 5, 10, and 10 is below the third day's 12: so 15, which is due on the fourth morning
    assert run.depletion_mm == pytest.approx([5, 10, 15, 5, 10, 15])
    assert run.irrigation_mm == pytest.approx([0, 0, 0, 15, 0, 0])


def test_balance_roots_that_shrink_without_a_new_season_are_refused() -> None:
    with pytest.raises(InputError, match="shrinks on day 2"):
        soil.balance(np.zeros(3), 5.0, taw_mm=[20, 30, 20], raw_mm=8)
    restarted = soil.balance(np.zeros(3), 5.0, taw_mm=[20, 30, 20], raw_mm=8, restarts=[False, False, True])
    assert restarted.depletion_mm[2] == pytest.approx(5.0)
    assert restarted.reached_mm == pytest.approx([0, 10, -10])


def test_run_bed_of_tomatoes_grows_roots_from_each_planting_day(knowledge: Knowledge) -> None:
    from dooryard.water import network

    dates = days("2019-01-01", "2021-07-31")
    bed = Bed("tomatoes", 3.0, "tomato", "loam", "tap", planted=day("2021-05-10"))
    run = network.run(yard(beds=(bed,)), record(dates), knowledge, day("2021-08-01"))[0].bed("tomatoes")

    def on(text: str) -> int:
        return int(np.flatnonzero(dates == np.datetime64(text))[0])

    held = 1000 * (0.25 - 0.12)  # loam: middles of 0.20 to 0.30 and 0.07 to 0.17
    for year in (2019, 2020, 2021):
        assert run.taw_mm[on(f"{year}-05-10")] == pytest.approx(held * 0.15)
        assert run.taw_mm[on(f"{year}-06-14")] == pytest.approx(held * (0.15 + 0.55 / 2))  # day 35 of 70
        assert run.taw_mm[on(f"{year}-07-19")] == pytest.approx(held * 0.70)
    assert np.isnan(run.taw_mm[on("2021-05-09")])
    assert run.taw_on(dates) == pytest.approx(run.taw_mm, nan_ok=True)
    assert run.raw_on(dates) == pytest.approx(run.raw_mm, nan_ok=True)
    # a dry story that ended its season at 91 mm starts the next at field capacity in 19.5 mm of soil
    assert run.depletion_high_mm[on("2020-05-10")] == pytest.approx(run.crop_et_mm[on("2020-05-10")])


def test_run_bed_of_flowers_starts_on_its_planting_day_watered_in(knowledge: Knowledge) -> None:
    from dooryard.water import network

    dates = days("2019-01-01", "2021-07-31")
    beds = (
        Bed("planted", 3.0, "annual-flowers", "loam", "tap", planted=day("2021-05-20")),
        Bed("unknown", 3.0, "annual-flowers", "loam", "tap"),
        Bed("shrubs", 3.0, "shrubs-and-perennials", "loam", "tap", planted=day("2021-05-20")),
    )
    run = network.run(yard(beds=beds), record(dates), knowledge, day("2021-05-22"))[0]
    planted, unknown, shrubs = (run.bed(name) for name in ("planted", "unknown", "shrubs"))
    assert planted.growing[-2:].tolist() == [True, True]  # 20 and 21 May
    assert not planted.growing[-3]
    assert planted.depletion_high_mm[-1] == pytest.approx(planted.crop_et_mm[-2:].sum())
    assert any("watered in" in note for note in planted.notes)
    # grows until the usual first frost: 1 November in the made-up record
    last = run.dates[planted.growing & (run.dates < np.datetime64("2020-01-01"))][-1]
    assert last == np.datetime64("2019-10-31")
    for other in (unknown, shrubs):
        assert np.unique(other.taw_mm[other.growing]).size == 1
        assert other.growing[-3]
        assert not any("watered in" in note for note in other.notes)
