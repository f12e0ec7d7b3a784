"""The roof survey: areas with their tape error, sections by downspout, what one inch gives."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.knowledge import Knowledge, load
from dooryard.water import roof as survey
from dooryard.water.roof import Range, drains, driven_area, gives, monthly_rain, part_area, plan_area
from dooryard.weather.record import Flag, Source, Station, WeatherRecord, on_calendar
from dooryard.yard.model import Downspout, Place, Roof, RoofPart, Storage, Yard

FT, FT2, IN_MM, GAL_L = 0.3048, 0.09290304, 25.4, 3.785411784


def slope(shape: str, eave_ft: float, ridge_ft: float, run_ft: float, pitch: float | None = None) -> RoofPart:
    return RoofPart(shape, eave_ft * FT, ridge_ft * FT, run_ft * FT, pitch)  # type: ignore[arg-type]


def section(*parts: RoofPart, tape_error_m: float | None = None) -> Roof:
    area_m2 = sum(part.area_m2 for part in parts)
    return Roof("r", area_m2, "asphalt-shingle", "spout", parts=parts, tape_error_m=tape_error_m)


def test_tape_error_widens_a_rectangle_to_both_sides() -> None:
    # 24 by 18 ft, half a foot off either way: 23.5 x 17.5 to 24.5 x 18.5.
    found = part_area(slope("gable", 24, 24, 18), 0.5 * FT)
    assert [end / FT2 for end in found] == pytest.approx([411.25, 432, 453.25])


def test_tape_error_leaves_the_point_of_a_triangle_a_point() -> None:
    found = part_area(slope("triangle", 24, 0, 12), 1 * FT)
    assert [end / FT2 for end in found] == pytest.approx([23 * 11 / 2, 144, 25 * 13 / 2])


def test_tape_error_of_the_roof_goes_before_the_usual_one(knowledge: Knowledge) -> None:
    parts = (slope("gable", 24, 24, 18),)
    exact = plan_area(section(*parts, tape_error_m=0.0), knowledge.facts)
    assert exact.low == exact.value == exact.high
    usual = plan_area(section(*parts), knowledge.facts)
    assert usual.low < exact.value < usual.high


def test_area_that_was_only_stated_is_the_least_sure(knowledge: Knowledge) -> None:
    stated = Roof("r", 40.0, "slate", "spout")
    low, value, high = plan_area(stated, knowledge.facts)
    share = knowledge.facts["roof.area_error"].value
    assert (low, value, high) == pytest.approx((40 * (1 - share), 40, 40 * (1 + share)))
    taped = Roof("r", 100.0, "slate", "spout", tape_error_m=0.5)
    assert plan_area(taped, knowledge.facts) == pytest.approx((9.5**2, 100, 10.5**2))


@given(
    eave=st.floats(0.1, 40),
    share=st.floats(0, 1),
    run=st.floats(0.1, 20),
    error=st.floats(0, 1),
    at=st.floats(-1, 1),
)
def test_true_area_lies_between_the_ends_whatever_the_errors(
    eave: float, share: float, run: float, error: float, at: float
) -> None:
    part = RoofPart("hip", eave, eave * share, run)
    low, value, high = part_area(part, error)
    moved = RoofPart("hip", eave + at * error, max(part.ridge_m + at * error, 0), run + at * error)
    assert low <= value <= high
    if part.ridge_m > 0 and min(moved.eave_m, moved.run_m) > 0:
        assert low - 1e-9 <= moved.area_m2 <= high + 1e-9


def test_flat_roof_is_driven_no_more_than_its_plan(knowledge: Knowledge) -> None:
    unknown, flat = (
        driven_area(Roof("r", 50.0, "slate", "s", pitch=p), knowledge.facts) for p in (None, 0.0)
    )
    assert (unknown.european_m2, unknown.trade_m2, unknown.largest_m2) == (50, 50, 50)
    assert not unknown.pitch_known
    assert flat.pitch_known


def test_pitch_and_wall_never_add_to_what_an_inch_gives(knowledge: Knowledge) -> None:
    plain = section(slope("gable", 24, 24, 18))
    steep = Roof(
        "r",
        plain.area_m2,
        plain.covering,
        "spout",
        parts=(slope("gable", 24, 24, 18, 1.0),),
        wall_above_m2=30,
    )
    (one,), (other,) = (survey.survey(_yard(roof), knowledge) for roof in (plain, steep))
    assert one.litres_per_mm == other.litres_per_mm
    assert other.driven.largest_m2 > one.driven.largest_m2


@pytest.mark.check(
    "W-01-1", source="section 24 by 18 ft of shingle, coefficient 0.85 (0.75 to 0.95)", status="computed"
)
def test_one_inch_on_the_first_barrels_section(knowledge: Knowledge) -> None:
    """432 sq ft shed 269.3 gal an inch gross and 228.9 net; coefficient alone spreads that from 202 to 256."""
    roof = section(slope("gable", 24, 24, 18), tape_error_m=0.0)
    assert roof.area_m2 / FT2 == pytest.approx(432)
    (one,) = survey.survey(_yard(roof), knowledge)
    low, value, high = (float(end) / GAL_L for end in gives(one.litres_per_mm, IN_MM))
    assert one.area_m2.value * IN_MM / GAL_L == pytest.approx(269.3, abs=0.05)
    assert value == pytest.approx(228.9, abs=0.05)
    assert (low, high) == (pytest.approx(269.3 * 0.75, abs=0.05), pytest.approx(269.3 * 0.95, abs=0.05))


@pytest.mark.check("W-01-9", source="monthly depths times area times 0.85", status="computed")
def test_months_of_rain_on_400_square_feet() -> None:
    inches = np.array([2.1, 1.9, 3.0, 3.4, 4.1, 3.9, 3.6, 3.3, 3.2, 2.8, 2.9, 2.5])
    litres = 400 * FT2 * 0.85
    _, found, _ = gives(Range(litres, litres, litres), inches * IN_MM)
    gallons = [445.1, 402.7, 635.8, 720.6, 869.0, 826.6, 763.0, 699.4, 678.2, 593.5, 614.6, 529.9]
    assert (found / GAL_L).tolist() == pytest.approx(gallons, abs=0.05)


def test_drains_gather_the_sections_of_each_downspout(knowledge: Knowledge) -> None:
    roofs = (
        Roof("north", 30.0, "slate", "left"),
        Roof("south", 20.0, "metal", "right"),
        Roof("porch", 10.0, "slate", "left", pitch=0.5),
    )
    spouts = (Downspout("left", 0.08, 0.05), Downspout("right", 0.08), Downspout("spare", 0.08))
    yard = Yard(
        "y",
        "us",
        Place(40, -85, 100, "mill"),
        roofs=roofs,
        downspouts=spouts,
        storages=(Storage("barrel", 200, fed_by=("left",)), Storage("tank", 900, fed_by=("left", "right"))),
    )
    left, right, spare = drains(yard, knowledge)
    assert [one.name for one in left.sections] == ["north", "porch"]
    assert left.area_m2.value == pytest.approx(40)
    assert left.storages == ("barrel", "tank")
    assert right.storages == ("tank",)
    assert spare.sections == ()
    assert spare.area_m2 == (0, 0, 0)
    slate, metal = (knowledge.coverings[key] for key in ("slate", "metal"))
    assert left.litres_per_mm.value == pytest.approx(40 * slate.coefficient)
    assert right.litres_per_mm.low == pytest.approx(right.area_m2.low * metal.low)
    assert left.driven_m2.low == pytest.approx(40)
    assert left.driven_m2.high == pytest.approx(30 + 10 * 1.25)


def test_monthly_rain_counts_whole_months_only() -> None:
    days = np.arange("2029-01-15", "2031-03-01", dtype="datetime64[D]")
    rain = np.ones(len(days))
    rain[days == np.datetime64("2030-02-03")] = np.nan
    rain[(days >= np.datetime64("2031-01-01")) & (days < np.datetime64("2031-02-01"))] = 3.0
    found = monthly_rain(_record(days, rain))
    assert found[0] == pytest.approx((31 + 93) / 2)  # 2030 and 2031; 2029 began on the 15th
    assert found[1] == pytest.approx(28)  # a day of February 2030 is missing
    assert found[11] == pytest.approx(31)
    short = monthly_rain(_record(days[:10], rain[:10]))
    assert np.isnan(short).all()


def _record(days: np.ndarray, rain: np.ndarray) -> WeatherRecord:
    flags = np.where(np.isnan(rain), Flag.MISSING, Flag.OBSERVED).astype(np.uint8)
    return on_calendar(
        Station("s", "s"), days, {"rain_mm": rain}, {"rain_mm": flags}, (), Source("made", "made", "", "")
    )


def _yard(roof: Roof) -> Yard:
    return Yard("y", "us", Place(40, -85, 100, "mill"), roofs=(roof,), downspouts=(Downspout("spout", 0.08),))


def test_every_covering_has_a_section(knowledge: Knowledge) -> None:
    for key in load().coverings:
        (one,) = survey.survey(_yard(Roof("r", 10.0, key, "spout")), knowledge)
        assert one.litres_per_mm.low <= one.litres_per_mm.value <= one.litres_per_mm.high
