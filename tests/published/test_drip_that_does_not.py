"""A drip line on a rain barrel, and a bed too high for it: pressures, flows, hours, and where it stops.

The case is invented for this program and was worked out by hand. Spigot 19 in above the ground, water 28 in
above it when full, 20 plain emitters of 1.0 gal an hour at 15 lb per sq in, 45 gal to use, and a second bed
24 in high. Tolerance: the last digit told.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dooryard.letter.prose import spell
from dooryard.plan import barrel_beds, barrel_outlet
from dooryard.plan.build import plan
from dooryard.plan.draft import Draft
from dooryard.plan.figures import FigureBook
from dooryard.water import network
from dooryard.water.drip import drip_time, emitter_flow, opens, out_of_reach
from dooryard.water.outlet import head, pressure
from dooryard.weather.outlook import ahead
from dooryard.yard.model import Bed, Level, Storage, Yard
from tests.water_yards import days, record, yard

GAL_L, IN_M, PSI_KPA = 3.785411784, 0.0254, 6.894757
GPH_L_S = GAL_L / 3600
ON = dt.date(2031, 6, 2)
SPIGOT_M, FULL_M, HIGH_BED_M = 19 * IN_M, 47 * IN_M, 24 * IN_M
SECTION_M2 = 45 * GAL_L / 1000 / (28 * IN_M)

BARREL = Storage(
    "barrel",
    45 / 28 * 35 * GAL_L,  # 45 gal in the 28 in between spigot and overflow
    diameter_m=24 * IN_M,
    height_m=35 * IN_M,
    outlet_height_m=3 * IN_M,
    overflow_height_m=31 * IN_M,
    stand_height_m=16 * IN_M,
    stand_base_m=(24 * IN_M, 24 * IN_M),
    fed_by=("spout",),
)
LOW = Bed(
    "low bed",
    4.0,
    "annual-flowers",
    "loam",
    "barrel",
    how="drip",
    emitters=20,
    emitter_flow_l_s=GPH_L_S,
    emitter_pressure_kpa=15 * PSI_KPA,
)
HIGH = replace(LOW, name="high bed", height_m=HIGH_BED_M)


def told(knowledge: Any, *beds: Bed, barrel: Storage = BARREL) -> tuple[Draft, str]:
    """The draft, and what the water report says of the beds, its numbers spelled out."""
    made = yard(storages=(barrel,), beds=beds)
    weather = record(days("2026-01-01", "2031-06-01"), rain_mm=1.0)
    draft = Draft(
        yard=made,
        record=weather,
        outlook=ahead(weather, ON),
        knowledge=knowledge,
        on=ON,
        until=ON + dt.timedelta(days=21),
        forecast=None,
        book=FigureBook("us"),
    )
    run, _ = network.run(made, weather, knowledge, ON)
    said = barrel_beds.sentences(draft, run.pools[0])
    return draft, spell(
        " ".join(said), {key: {"shown": one.shown} for key, one in draft.book.figures.items()}
    )


@pytest.mark.check(
    "scenario-drip-pressure", source="invented household, worked out by hand", status="computed"
)
def test_drip_pressure_full_and_empty() -> None:
    psi = pressure([FULL_M, SPIGOT_M, FULL_M - HIGH_BED_M]) / PSI_KPA
    assert psi.tolist() == pytest.approx([1.70, 0.69, 0.83], abs=0.005)


@pytest.mark.check("scenario-drip-flow", source="invented household, worked out by hand", status="computed")
def test_drip_flow_of_twenty_emitters() -> None:
    flow = emitter_flow(pressure([FULL_M, SPIGOT_M]), 20 * GPH_L_S, 15 * PSI_KPA, 0.5)
    assert (flow / GPH_L_S).tolist() == pytest.approx([6.7, 4.3], abs=0.05)


@pytest.mark.check("scenario-drip-hours", source="invented household, worked out by hand", status="computed")
def test_drip_takes_eight_hours() -> None:
    hours = drip_time(SECTION_M2, FULL_M, SPIGOT_M, 20 * GPH_L_S, 15 * PSI_KPA, 0.5)
    assert hours == pytest.approx(8.2, abs=0.05)


@pytest.mark.check(
    "scenario-drip-high-bed", source="invented household, worked out by hand", status="computed"
)
def test_drip_stops_on_the_high_bed_with_eight_gallons_above_the_spigot() -> None:
    depth_m, litres = out_of_reach(SECTION_M2, SPIGOT_M, HIGH_BED_M, FULL_M)
    assert depth_m / IN_M == pytest.approx(5)
    assert litres / GAL_L == pytest.approx(8, abs=0.05)
    stopped = emitter_flow(pressure(head(HIGH_BED_M, HIGH_BED_M)), 20 * GPH_L_S, 15 * PSI_KPA, 0.5)
    assert float(stopped) == 0.0


def test_drip_report_tells_the_low_bed_in_words(knowledge: Any) -> None:
    _, text = told(knowledge, LOW)
    assert "presses with 1.7 lb per sq in when full and 0.69 lb per sq in when down to its spigot" in text
    assert (
        "All emitters together give 6.7 gal an hour when the barrel is full, falling to 4.3 gal an hour"
        in text
    )
    assert "the package promises 20 gal an hour" in text
    assert "It takes 8.2 hours to give about 45 gal." in text


def test_drip_report_tells_the_high_bed_in_words(knowledge: Any) -> None:
    draft, text = told(knowledge, HIGH)
    assert "presses with 0.83 lb per sq in when full" in text
    assert "it gets nothing more while 5 in of water, about 8 gal, still stand above it" in text
    assert float(draft.book.figures["bed.high-bed.stays"].value) / GAL_L == pytest.approx(8.04, abs=0.005)


def test_drip_plan_counts_only_what_runs_to_the_high_bed(knowledge: Any) -> None:
    """20 gal stand in it, 45/28 x 3 in of them below the spigot and 5 in more below the bed."""
    made = replace(
        yard(
            storages=(BARREL,),
            beds=(replace(HIGH, area_m2=20.0),),
            levels=(Level("barrel", ON - dt.timedelta(days=1), 20 * GAL_L),),
        ),
        units="us",
    )
    weather = record(days("2026-01-01", "2031-06-01"))
    document = plan(made, weather, knowledge, ON).document()
    usable = document["figures"]["bed.high-bed.usable"]
    assert usable["value"] / GAL_L == pytest.approx(20 - 8 * 45 / 28, abs=0.001)


def test_drip_report_refuses_compensating_emitters_and_timers(knowledge: Any) -> None:
    assert not opens(FULL_M, 7 * PSI_KPA)
    draft, text = told(knowledge, replace(LOW, compensating=True, timer=True))
    assert [refusal.what for refusal in draft.refusals] == [
        "We will not count on pressure-compensating emitters at the low bed",
        "We will not count on a timer, electric valve or vacuum breaker at the low bed",
    ]
    assert "they need 7 to 10 lb per sq in" in text
    assert "All emitters together give" not in text


def test_drip_report_refuses_a_bed_above_the_water(knowledge: Any) -> None:
    draft, text = told(knowledge, replace(LOW, height_m=50 * IN_M))
    assert "it lies higher than the water" in text
    assert len(draft.refusals) == 1
    assert "pump" in draft.refusals[0].how


def test_drip_report_of_a_line_not_described_gives_its_share_of_the_package(knowledge: Any) -> None:
    """1.70 of 15 lb per sq in: the square root of 0.113 is 0.336; 0.69 of 15: 0.214."""
    bare = replace(LOW, emitters=None, emitter_flow_l_s=None, emitter_pressure_kpa=None)
    _, text = told(knowledge, bare)
    assert (
        "Plain emitters give 34 % of the flow on the package when the barrel is full and 21 % near the end"
        in text
    )


def test_drip_report_of_a_soaker_is_a_range(knowledge: Any) -> None:
    """1.70 of 10 lb per sq in: 17 % through a porous wall, its root, 41 %, through holes."""
    soaker = replace(LOW, how="soaker", emitters=None, emitter_flow_l_s=None, emitter_pressure_kpa=None)
    _, text = told(knowledge, soaker)
    assert "Its soaker hose gives 17 to 41 % of the flow on the package when the barrel is full" in text


def test_drip_report_of_a_known_soaker_gives_hours_as_a_range(knowledge: Any) -> None:
    soaker = replace(
        LOW, how="soaker", emitters=None, emitter_flow_l_s=30 * GPH_L_S, emitter_pressure_kpa=None
    )
    draft, text = told(knowledge, soaker)
    hours = draft.book.figures["bed.low-bed.drip-hours"]
    assert float(hours.low) < float(hours.high)
    assert "Its soaker hose gives 5.1 to 12 gal an hour when the barrel is full" in text


def test_drip_report_of_a_thin_tube_gives_less_than_one_without_length(knowledge: Any) -> None:
    free, _ = told(knowledge, LOW)
    thin, _ = told(knowledge, replace(LOW, hose_length_m=20.0, hose_bore_m=0.006))
    keys = ("bed.low-bed.drip-full", "bed.low-bed.drip-low")
    for key in keys:
        assert float(thin.book.figures[key].value) < float(free.book.figures[key].value)
    assert float(thin.book.figures["bed.low-bed.drip-hours"].value) > float(
        free.book.figures["bed.low-bed.drip-hours"].value
    )


def test_linked_barrels_together_keep_their_water_from_a_high_bed(knowledge: Any) -> None:
    twin = replace(BARREL, name="twin", linked_to=("barrel",))
    made: Yard = yard(storages=(replace(BARREL, linked_to=("twin",)), twin), beds=(HIGH,))
    weather = record(days("2026-01-01", "2031-06-01"))
    draft = Draft(
        made, weather, ahead(weather, ON), knowledge, ON, ON + dt.timedelta(days=21), None, FigureBook("us")
    )
    run, _ = network.run(made, weather, knowledge, ON)
    assert barrel_beds.unreachable_l(draft, run.pools[0], HIGH) / GAL_L == pytest.approx(2 * 8.04, abs=0.01)
    assert barrel_beds.unreachable_l(draft, run.pools[0], replace(HIGH, how="can")) == 0.0


def test_outlet_of_unknown_height_is_refused(knowledge: Any) -> None:
    draft, _ = told(knowledge)
    assert barrel_outlet.sentences(draft, replace(BARREL, outlet_height_m=None)) == []
    assert "outlet_height" in draft.refusals[-1].how


def test_outlet_fills_a_can_in_seconds_and_runs_down_in_minutes(knowledge: Any) -> None:
    """28 in over a 3/4 in spigot: W-04-8 and W-04-9 scaled by the root of 28/12 give 12.3 and 17.4 s."""
    draft, _ = told(knowledge)
    (text,) = barrel_outlet.sentences(draft, BARREL)
    shown = spell(text, {key: {"shown": one.shown} for key, one in draft.book.figures.items()})
    assert (
        "A 2 gal can fills in 12 to 17 seconds when it is full and in 25 to 35 seconds with a quarter left"
        in shown
    )
    assert "it runs down to the spigot in 9 to 13 minutes" in shown
    assert "a house pipe has 40 to 80 lb per sq in" in shown


def test_run_of_the_yard_stops_the_high_bed_where_the_water_does(knowledge: Any) -> None:
    """With only the high bed asking, 8.04 gal (5 of 28 in of 45 gal) stay above the spigot all summer."""
    weather = record(days("2026-01-01", "2031-08-31"), rain_mm=0.0)
    full = Level("barrel", dt.date(2031, 5, 20), 45 * GAL_L + BARREL.dead_l)
    made = yard(storages=(BARREL,), beds=(HIGH,), levels=(full,))
    run, _ = network.run(made, weather, knowledge, dt.date(2031, 9, 1))
    pool = run.pools[0]
    for kept in (pool.yas, pool.ybs):
        assert kept.level_l[-1] / GAL_L == pytest.approx(45 * 5 / 28)
    got = run.given_l("high bed")[:, run.dates >= np.datetime64("2031-05-20")].sum(axis=1) / GAL_L
    assert got == pytest.approx([45 * 23 / 28] * 2)
    assert any("The lower 18 % of the water" in note for note in run.notes)
    # A can carries the rest up.
    by_can, _ = network.run(
        replace(made, beds=(replace(HIGH, how="can"),)), weather, knowledge, dt.date(2031, 9, 1)
    )
    assert by_can.pools[0].yas.level_l[-1] == pytest.approx(0.0)
