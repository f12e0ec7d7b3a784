"""Roofs measured by their slopes: what they cover, and what a person is told when the measures do not fit."""

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dooryard.problem import InputError, Problem
from dooryard.yard.edit import Put, changed
from dooryard.yard.keys import ROOF_PART
from dooryard.yard.model import Roof, RoofPart, Yard
from dooryard.yard.reading import from_text
from tests.unit.yard.tables import SMALL, TABLES
from tests.unit.yard.test_yard_manual import PAGE

FT, FT2 = 0.3048, 0.09290304
AREA = 'area = "100 sq ft"'


def read(size: str) -> Yard:
    assert SMALL.count(AREA) == 1
    return from_text(SMALL.replace(AREA, size), "yard.toml", TABLES)


def roof(size: str) -> Roof:
    return read(size).roofs[0]


def told(size: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read(size)
    return caught.value.problems


def test_hip_roof_in_four_slopes_covers_its_rectangle() -> None:
    # 40 by 24 ft under the eaves, one pitch: hips run in by half the width, so the ridge is 40 - 24 = 16 ft.
    long, end = (
        '{ shape = "hip", eave = "40 ft", ridge = "16 ft", run = "12 ft" }',
        ('{ shape = "triangle", eave = "24 ft", run = "12 ft" }'),
    )
    whole = roof(f"parts = [{long}, {long}, {end}, {end}]\nmeasured_twice = true")
    assert whole.area_m2 == pytest.approx(40 * 24 * FT2)
    assert [part.area_m2 / FT2 for part in whole.parts] == pytest.approx([336, 336, 144, 144])


def test_shape_on_the_roof_itself_is_its_one_slope() -> None:
    gable = roof('shape = "gable"\neave = "31 ft"\nrun = "10 ft"\npitch = "6 in 12"')
    assert gable.area_m2 == pytest.approx(310 * FT2)
    (slope,) = gable.parts
    assert (slope.shape, slope.ridge_m, slope.pitch) == ("gable", slope.eave_m, 0.5)
    assert gable.pitch == 0.5


def test_length_and_width_are_one_rectangle() -> None:
    plain = roof('length = "31 ft"\nwidth = "10 ft"\npitch = "3:12"')
    assert plain.parts == (RoofPart("rectangle", 31 * FT, 31 * FT, 10 * FT, 0.25),)
    assert roof(AREA).parts == ()


def test_slope_measured_up_the_roof_is_brought_to_the_ground() -> None:
    up = roof('shape = "gable"\neave = "30 ft"\nslope = "15 ft"\npitch = "9 in 12"')
    assert up.parts[0].run_m == pytest.approx(12 * FT)  # 3-4-5
    assert roof('shape = "gable"\neave = "30 ft"\nslope = "10 ft"\npitch = "45 degrees"').parts[0].run_m == (
        pytest.approx(10 * FT / 2**0.5)
    )


def test_pitch_of_the_roof_serves_the_parts_that_have_none() -> None:
    parts = roof(
        'pitch = "6 in 12"\n'
        'parts = [{ shape = "gable", eave = "9 ft", run = "9 ft" },'
        ' { shape = "gable", eave = "9 ft", run = "9 ft", pitch = "3 in 12" }]'
    ).parts
    assert [part.pitch for part in parts] == [0.5, 0.25]


def test_parts_may_stand_under_headings_of_their_own() -> None:
    text = SMALL.replace(AREA + "\n", "").replace(
        "[[downspouts]]",
        '[[roofs.parts]]\nshape = "gable"\neave = "10 ft"\nrun = "10 ft"\n\n[[downspouts]]',
        1,
    )
    assert from_text(text, "yard.toml", TABLES).roofs[0].area_m2 == pytest.approx(100 * FT2)


@pytest.mark.parametrize(
    ("size", "field", "words", "write"),
    [
        ('shape = "hip"\neave = "40 ft"\nrun = "12 ft"', "ridge", "ridge is missing", "ridge = "),
        ('eave = "40 ft"\nrun = "12 ft"', "shape", "shape is missing", "shape = "),
        ('shape = "gable"\neave = "40 ft"', "run", "run is missing", "run = "),
        ('shape = "gable"\nrun = "40 ft"', "eave", "eave is missing", "eave = "),
        ('shape = "gable"\neave = "9 ft"\nslope = "9 ft"', "slope", "nobody can tell", "pitch = "),
        (
            'shape = "gable"\neave = "9 ft"\nslope = "9 ft"\nrun = "8 ft"\npitch = "1:2"',
            "slope",
            "twice",
            "run",
        ),
        ('shape = "triangle"\neave = "9 ft"\nrun = "9 ft"\nridge = "2 ft"', "ridge", "no ridge", '"hip"'),
        ('shape = "hip"\neave = "9 ft"\nrun = "9 ft"\nridge = "9 ft"', "ridge", "shorter", '"gable"'),
        (
            'shape = "hipp"\neave = "9 ft"\nrun = "9 ft"\nridge = "1 ft"',
            "shape",
            "none of the words",
            '"hip"',
        ),
        (f'{AREA}\nshape = "hip"', "area", "given twice", "one way"),
        ('length = "9 ft"\nwidth = "9 ft"\nparts = []', "length", "given twice", "one way"),
        ("parts = 3", "parts", "list of slopes", "parts = "),
        ("parts = [3]", "parts", "list of slopes", "parts = "),
        (
            'parts = [{ shape = "gable", eave = "9 ft", run = "9 ft" }, { shape = "gable", eave = "9 ft" }]',
            "part 2",
            "run is missing",
            "run = ",
        ),
        ('parts = [{ shape = "gable", eave = 9, run = "9 ft" }]', "part 1, eave", "no unit", "9 ft"),
        ('parts = [{ shape = "gable", eave = "9 ft", rum = "9 ft" }]', "part 1, rum", "no key rum", '"run"'),
        (f'{AREA}\npitch = "6 in"', "pitch", "rise in run", "6 in 12"),
        (f'{AREA}\npitch = "12 in 0"', "pitch", "rise in run", "6 in 12"),
        (f'{AREA}\npitch = "120 in 12"', "pitch", "as steep", "6 in 12"),
        (f'{AREA}\npitch = "90 deg"', "pitch", "as steep", "6 in 12"),
        (f"{AREA}\npitch = 0.5", "pitch", "rise in run", "6 in 12"),
    ],
)
def test_measures_that_do_not_fit_are_told(size: str, field: str, words: str, write: str) -> None:
    problems = told(size)
    first = next(problem for problem in problems if words in problem.what)
    assert field in first.field
    assert first.field.startswith('roof "shed"')
    assert write in first.instead
    assert first.line is not None


def test_roof_too_large_for_one_downspout_is_asked_about_by_its_shape() -> None:
    (problem,) = told('shape = "gable"\neave = "100 ft"\nrun = "20 ft"')
    assert problem.field == 'roof "shed", shape'
    assert "measured_twice" in problem.instead


@pytest.mark.parametrize(("ridge", "notes"), [("16 ft", 0), ("28 ft", 0), ("35 ft", 1), ("22 ft", 1)])
def test_hip_whose_ridge_does_not_close_is_noted(ridge: str, notes: int) -> None:
    # An eave of 40 ft and a run of 12 ft leave 16 ft of ridge between two hips, 28 ft beside one.
    assert len(read(f'shape = "hip"\neave = "40 ft"\nridge = "{ridge}"\nrun = "12 ft"').notes) == notes


@given(eave=st.floats(1, 30), run=st.floats(1, 15), share=st.floats(0, 1), pitch=st.floats(0, 4))
def test_plan_area_of_a_slope_times_its_pitch_is_its_sloped_area(
    eave: float, run: float, share: float, pitch: float
) -> None:
    part = RoofPart("hip", eave, eave * share, run, pitch)
    # The same trapezoid, laid out flat: two triangles of the slope's length.
    up = run * hypot(1, pitch)
    assert part.area_m2 * hypot(1, pitch) == pytest.approx(eave * up / 2 + eave * share * up / 2)


def test_parts_put_into_a_file_stay_in_one_line() -> None:
    size = {"shape": "gable", "eave": "10 ft", "run": "8 ft"}
    bare = SMALL.replace(AREA + "\n", 'parts = [{ shape = "gable", eave = "1 ft", run = "1 ft" }]\n')
    text = changed(bare, [Put("roofs", "shed", "parts", [size, size])], "yard.toml")
    assert from_text(text, "yard.toml", TABLES).roofs[0].area_m2 == pytest.approx(160 * FT2)


def test_manual_shows_every_key_of_a_part() -> None:
    section = PAGE.split("### `[[roofs]]`\n")[1].split("\n### ")[0]
    for key in ROOF_PART.keys:
        assert f"`{key}`" in section
