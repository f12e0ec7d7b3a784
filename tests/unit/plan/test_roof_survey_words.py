"""The roof survey of the water report, and which burst a plan goes by: small yards, numbers by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from dooryard.knowledge import Knowledge
from dooryard.letter.prose import spell
from dooryard.plan import bursts, roof_survey
from dooryard.plan.build import plan
from dooryard.plan.draft import Draft
from dooryard.plan.figures import FigureBook
from dooryard.plan.files import design_files
from dooryard.problem import InputError
from dooryard.weather.gauge import GaugeRecord, in_order
from dooryard.weather.outlook import ahead
from dooryard.weather.readers.atlas14 import DesignTable
from dooryard.weather.record import Source, Station
from dooryard.yard.model import Bed, Downspout, Roof, RoofPart, Storage, Yard
from tests.water_yards import days, record, yard

ON = dt.date(2031, 5, 1)
FT, FT2, IN, IN_MM, GPM = 0.3048, 0.09290304, 0.0254, 25.4, 3.785411784 / 60
MADE = Source("made", "made")
STRIP = RoofPart("gable", 24 * FT, 24 * FT, 18 * FT)


def draft(
    knowledge: Knowledge, made: Yard, table: DesignTable | None = None, gauge: GaugeRecord | None = None
) -> Draft:
    dates = days("2026-01-01", "2031-04-30")
    rain = np.zeros(len(dates))
    rain[np.isin(dates, days("2026-07-04", "2026-07-04"))] = 50.0
    for year in range(2027, 2031):
        rain[dates == np.datetime64(f"{year}-07-04")] = 30.0
    weather = record(dates, rain_mm=rain)
    return Draft(
        yard=made,
        record=weather,
        outlook=ahead(weather, ON),
        knowledge=knowledge,
        on=ON,
        until=ON + dt.timedelta(days=21),
        forecast=None,
        book=FigureBook(made.units),
        gauge=gauge,
        design_table=table,
    )


def house(roof: Roof, *, crop: str = "annual-flowers") -> Yard:
    bed = Bed("bed", 4.0, crop, "loam", "barrel")
    made = yard(roofs=(roof,), beds=(bed,), storages=(Storage("barrel", 208.2, fed_by=("spout",)),))
    return replace(made, downspouts=(Downspout("spout", 3 * IN, 2 * IN),))


def table(rate_mm_h: float) -> DesignTable:
    """Every duration and return period at one rate."""
    minutes = np.array([5.0, 10.0, 60.0])
    depth_mm = np.repeat(minutes[:, None] * rate_mm_h / 60, 3, axis=1)
    return DesignTable(
        "Nowhere", "Volume 99", "partial duration", None, None, None, minutes, np.array([1.0, 10.0, 100.0]), depth_mm,
        None, None, MADE,
    )  # fmt: skip


def gauge(years: int, burst_mm: float) -> GaugeRecord:
    """Whole years of six-minute steps, each with one wet step."""
    start = np.arange(
        np.datetime64("2020-01-01", "m"), np.datetime64(f"{2020 + years}-01-01", "m"), np.timedelta64(6, "m")
    )
    depth_mm = np.where(
        np.isin(start, [np.datetime64(f"{2020 + n}-06-01", "m") for n in range(years)]), burst_mm, 0.0
    )
    flags = np.zeros(len(start), dtype=np.uint8)
    return in_order(Station("g", "g"), start, np.full(len(start), 6), depth_mm, flags, (), MADE)


def said(made: Draft) -> dict[str, str]:
    """What each stop says, its marks spelled out."""
    shown = {key: {"shown": figure.shown} for key, figure in made.book.figures.items()}
    return {stop.name: spell(" ".join(stop.sentences), shown) for stop in made.walk}


def test_survey_tells_area_with_its_tape_error_and_how_it_was_measured(knowledge: Knowledge) -> None:
    made = draft(
        knowledge,
        house(Roof("roof", STRIP.area_m2, "asphalt-shingle", "spout", parts=(STRIP,), tape_error_m=0.5 * FT)),
    )
    roof_survey.describe(made)
    area = made.book.figures["roof.roof.area"]
    # 24 by 18 ft, half a foot off either way.
    assert (area.low, area.value, area.high) == pytest.approx((411.25 * FT2, 432 * FT2, 453.25 * FT2))
    assert "a strip 24 ft long and 18 ft deep" in said(made)["roof"]


def test_survey_words_every_shape(knowledge: Knowledge) -> None:
    parts = (RoofPart("hip", 12.0, 5.0, 3.5), RoofPart("triangle", 7.0, 0.0, 3.5))
    made = draft(knowledge, house(Roof("roof", sum(p.area_m2 for p in parts), "slate", "spout", parts=parts)))
    roof_survey.describe(made)
    assert (
        "a slope with an eave of 39 ft, a ridge of 16 ft and 11 ft between them and a triangle 23 ft wide"
        in said(made)["roof"]
    )


def test_survey_gives_months_and_what_they_bring(knowledge: Knowledge) -> None:
    made = draft(knowledge, house(Roof("roof", 100.0, "asphalt-shingle", "spout", tape_error_m=0.0)))
    roof_survey.describe(made)
    (months,) = [stop.table for stop in made.walk if stop.name == "roof"]
    assert months is not None
    assert [row[0] for row in months.rows][:2] == ["January", "February"]
    # (50 + 4 x 30) / 5 mm in July over five whole Julys.
    assert months.rows[6][1] == "1.34 in"


@pytest.mark.check("P-1.4-peak", source="620 sq ft at 4 in/h: 25.8 gal a minute", status="computed")
def test_survey_peak_flow_of_620_square_feet_in_a_tables_burst(knowledge: Knowledge) -> None:
    """620 sq ft in a burst of 4 in/h send 25.8 gal a minute."""
    made = draft(knowledge, house(Roof("roof", 620 * FT2, "slate", "spout")), table(4 * IN_MM))
    roof_survey.describe(made)
    peak = made.book.figures["spout.spout.peak"]
    assert isinstance(peak.value, float)
    assert peak.value / GPM == pytest.approx(25.8, abs=0.05)


def test_survey_names_the_codes_and_how_far_they_part(knowledge: Knowledge) -> None:
    made = draft(knowledge, house(Roof("roof", 40.0, "slate", "spout")))
    roof_survey.describe(made)
    (stop,) = [stop for stop in made.walk if stop.name == "spout"]
    assert stop.table is not None
    assert [row[0] for row in stop.table.rows][:2] == [
        "National Standard Plumbing Code 2006",
        "International Plumbing Code up to 2012",
    ]
    assert "The codes differ by 36%" in said(made)["spout"]
    assert "flat" in said(made)["spout"]  # no pitch in the file


@pytest.mark.parametrize(
    ("sq_ft", "words"),
    [
        # A 2 by 3 in pipe carries 54 gpm by one code and 73 by the others; 1 in/h on 96.25 sq ft is 1 gpm.
        (600, "enough even for a burst that comes once in 10 years"),
        (1500, "By the stricter code that is too little even in a usual year"),
        (2500, "too little even in a usual year: in a hard rain the pipe runs over"),
    ],
)
def test_survey_judges_the_pipe_by_strict_and_lenient_codes(
    knowledge: Knowledge, sq_ft: float, words: str
) -> None:
    made = draft(knowledge, house(Roof("roof", sq_ft * FT2, "slate", "spout", pitch=0.0)), table(4 * IN_MM))
    roof_survey.describe(made)
    assert words in said(made)["spout"]


def test_survey_judges_a_gutter_whose_width_is_given(knowledge: Knowledge) -> None:
    narrow = Roof("roof", 60.0, "slate", "spout", gutter_width_m=0.1)
    made = draft(knowledge, house(narrow), table(76.0))
    roof_survey.describe(made)
    # A 100 mm half-round serves about 37 m2 at 75 mm/h.
    assert "too little even in a usual year: in a hard rain the gutter runs over" in said(made)["roof"]
    assert "water.ladder" in made.cautions


def test_pitch_raises_the_peak_and_not_the_yield(knowledge: Knowledge) -> None:
    flat, steep = (
        draft(knowledge, house(Roof("roof", 40.0, "slate", "spout", pitch=pitch)), table(50.0))
        for pitch in (0.0, 1.0)
    )
    for made in (flat, steep):
        roof_survey.describe(made)
    one, other = (made.book.figures for made in (flat, steep))
    assert one["roof.roof.gives"].value == other["roof.roof.gives"].value
    assert float(other["spout.spout.peak"].value) == pytest.approx(1.5 * float(one["spout.spout.peak"].value))


def test_survey_flags_a_roof_unfit_for_food(knowledge: Knowledge) -> None:
    zinc = Roof("roof", 40.0, "asphalt-shingle", "spout", metals=("zinc",))
    made = draft(knowledge, house(zinc, crop="tomato"))
    roof_survey.describe(made)
    assert "Keep this water off food plants" in said(made)["roof"]
    assert {"water.edibles", "water.roof_edible"} <= set(made.cautions)


def test_burst_goes_by_a_long_gauge_then_a_table_then_the_wettest_days(knowledge: Knowledge) -> None:
    house_yard = house(Roof("roof", 40.0, "slate", "spout"))
    by_days = bursts.design(draft(knowledge, house_yard))
    by_table = bursts.design(draft(knowledge, house_yard, table(90.0), gauge(2, 7.0)))
    by_gauge = bursts.design(draft(knowledge, house_yard, table(90.0), gauge(5, 7.0)))
    assert by_days is not None
    assert by_table is not None
    assert by_gauge is not None
    # 30 and 50 mm days; 0.137 of them in six minutes.
    assert (by_days.usual_mm_h, by_days.rare_mm_h) == (
        pytest.approx(30 * 1.37, rel=0.01),
        pytest.approx(50 * 1.37, rel=0.01),
    )
    assert by_table.rare_mm_h == pytest.approx(90)
    assert by_table.rare_words == "a burst that comes once in 10 years"
    assert 70 <= by_gauge.rare_mm_h <= 140  # 7 mm in one step, or in part of it


def test_other_ways_are_told_beside_the_best(knowledge: Knowledge) -> None:
    made = draft(knowledge, house(Roof("roof", 40.0, "slate", "spout")), table(90.0), gauge(2, 7.0))
    roof_survey.describe(made)
    text = said(made)["spout"]
    assert "2 years of the gauge, too few to go by," in text
    assert "By the record's wettest days and a storm pattern" in text


def test_table_that_does_not_reach_the_window_is_told_and_passed_over(knowledge: Knowledge) -> None:
    coarse = replace_minutes(table(90.0), [60.0, 120.0, 1440.0])
    made = draft(knowledge, house(Roof("roof", 40.0, "slate", "spout")), coarse)
    assert [way.kind for way in bursts.ways(made)] == ["pattern"]
    assert any("design table reaches from 60" in note for note in made.record_notes)


def replace_minutes(made: DesignTable, minutes: list[float]) -> DesignTable:
    return replace(made, minutes=np.array(minutes))


def test_plan_judges_the_overflow_by_the_table(knowledge: Knowledge) -> None:
    barrel = Storage("barrel", 208.2, fed_by=("spout",), overflow_bore_m=2 * IN, empties_to="ground")
    made = replace(house(Roof("roof", 620 * FT2, "slate", "spout")), storages=(barrel,))
    weather = draft(knowledge, made).record
    document = plan(made, weather, knowledge, ON, design_table=table(4 * IN_MM)).document()
    assert document["figures"]["storage.barrel.peak"]["value"] / GPM == pytest.approx(25.8, abs=0.05)
    # 25.8 gpm with 2 in of water above its middle and a coefficient of 0.6.
    assert document["figures"]["storage.barrel.bore-needed"]["value"] / IN == pytest.approx(2.31, abs=0.01)
    assert document["figures"]["storm.burst"]["method"] == "water.design_table"


def test_files_named_under_place_are_read_beside_the_yard_file(tmp_path: Path) -> None:
    (tmp_path / "rain.csv").write_text(
        "estimates (inches)\nby duration for ARI (years):, 2,10\n5-min:, 0.4,0.6\n60-min:, 1.5,2.0\n",
        encoding="utf-8",
    )
    place = replace(house(Roof("r", 9.0, "slate", "spout")).place, design_rain="rain.csv")
    found = design_files(tmp_path / "yard.toml", place)
    assert found[0] is None
    assert found[1] is not None
    assert found[1].depth_mm[0, 0] == pytest.approx(0.4 * 25.4)
    with pytest.raises(InputError):
        design_files(tmp_path / "yard.toml", replace(place, rain_gauge="none.csv"))
