"""What a yard file gives, and what a person is told when it cannot be used: each mistake with its line."""

import datetime as dt
from math import pi
from pathlib import Path

import pytest

from dooryard.problem import InputError, Problem
from dooryard.yard import file
from dooryard.yard.model import Storage, Yard
from dooryard.yard.reading import from_text
from tests.unit.yard.tables import SMALL, TABLES


def read(text: str) -> Yard:
    return from_text(text, "yard.toml", TABLES)


def told(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read(text)
    return caught.value.problems


def only(text: str) -> Problem:
    (problem,) = told(text)
    return problem


def line_of(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


def swap(old: str, new: str, text: str = SMALL) -> str:
    assert text.count(old) == 1, f"{old!r} must stand once in the text"
    return text.replace(old, new)


def test_read_small_yard_gives_canonical_units() -> None:
    yard = read(SMALL)
    assert yard.units == "us"
    assert yard.place.elevation_m == pytest.approx(690 * 0.3048)
    assert yard.roof("shed").area_m2 == pytest.approx(9.290304)
    assert yard.downspout("spout").area_m2 == pytest.approx(6 * 0.0254**2)
    assert yard.storage("barrel").volume_l == pytest.approx(55 * 3.785411784)
    assert yard.storage("barrel").fed_by == ("spout",)
    assert yard.bed("bed").area_m2 == pytest.approx(40 * 0.3048**2)
    assert yard.bed("bed").soil == "silt-loam"
    assert yard.plant("hedge").kind == "juniper"
    assert yard.sightings[0].date == dt.date(2031, 5, 16)
    assert yard.levels[0].volume_l == pytest.approx(20 * 3.785411784)
    assert yard.roofs_of("spout") == yard.roofs
    assert yard.notes == ()


def test_read_without_household_assumes_children_and_vegetables() -> None:
    assert read(SMALL).household.children
    assert read(SMALL).household.vegetables
    quiet = read(SMALL + "\n[household]\nchildren = false\n")
    assert not quiet.household.children
    assert quiet.household.vegetables


def test_storage_dead_and_active_volume_follow_the_heights() -> None:
    # 35 in tall: an outlet at 3.5 in strands a tenth, an overflow at 31.5 in leaves a tenth unused.
    barrel = read(SMALL).storage("barrel")
    assert barrel.dead_l == pytest.approx(barrel.volume_l * 0.1)
    assert barrel.full_l == pytest.approx(barrel.volume_l * 0.9)
    assert barrel.active_l == pytest.approx(barrel.volume_l * 0.8)


def test_storage_without_heights_is_all_active() -> None:
    plain = Storage("drum", 200.0, outlet_height_m=0.1, overflow_height_m=0.8)
    assert (plain.dead_l, plain.active_l) == (0.0, 200.0)


def test_storage_with_diameter_only_uses_the_cylinder() -> None:
    drum = Storage("drum", 200.0, diameter_m=0.6, outlet_height_m=0.1)
    assert drum.dead_l == pytest.approx(pi / 4 * 0.36 * 0.1 * 1000)
    assert drum.active_l == pytest.approx(200.0 - drum.dead_l)


def test_lookup_of_an_unknown_name_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        read(SMALL).storage("shed")


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "write"),
    [
        ('"100 sq ft"', "310", 'roof "shed", area', "no unit", '"310 sq ft" or "310 m2"'),
        ('"100 sq ft"', '"55 gal"', 'roof "shed", area', "unit of volume", "sq ft"),
        ('"100 sq ft"', '"-100 sq ft"', 'roof "shed", area', "below zero", "minus"),
        ('"100 sq ft"', '"0 sq ft"', 'roof "shed", area', "zero", "true value"),
        ('"100 sq ft"', "nan", 'roof "shed", area', "begin with a number", "sq ft"),
        ('"100 sq ft"', "[1]", 'roof "shed", area', "with its unit", "area = "),
        ('"100 sq ft"', "true", 'roof "shed", area', "with its unit", "area = "),
        ('"55 gal"', '"55 galons"', 'barrel "barrel", volume', "not a unit", 'Did you mean "gallons"?'),
        ('"slate"', '"slaet"', 'roof "shed", covering', "no roof covering", 'Did you mean "slate"?'),
        ('"slate"', '"straw"', 'roof "shed", covering', "no roof covering", '"asphalt-shingle", "slate"'),
        ('"slate"', "3", 'roof "shed", covering', "quotation marks", "covering = "),
        ('"tomato"', '"tomatoe"', 'bed "bed", grows', "grows in beds", 'Did you mean "tomato"?'),
        ('"silt loam"', '"slit loam"', 'bed "bed", soil', "no soil", 'Did you mean "silt-loam"?'),
        ('covering = "slate"', 'coverign = "slate"', 'roof "shed", coverign', "no key coverign", "covering"),
        ('downspout = "spout"', 'downspout = "spuot"', 'roof "shed", downspout', "no downspout", '"spout"'),
        ('fed_by = "spout"', 'fed_by = ["pipe"]', 'barrel "barrel", fed_by', "no downspout", '"spout"'),
        ('fed_by = "spout"', 'fed_by = ["shed"]', 'barrel "barrel", fed_by', "is a roof", '"spout"'),
        ('fed_by = "spout"', 'fed_by = ["spout", "spout"]', 'barrel "barrel", fed_by', "twice", "once"),
        ('fed_by = "spout"', "fed_by = 3", 'barrel "barrel", fed_by', "list of names", "fed_by = "),
        ('watered_from = "barrel"', 'watered_from = "well"', 'bed "bed", watered_from', "no barrel", '"tap"'),
        ('"31.5 in"', '"36 in"', 'barrel "barrel", overflow_height', "above the rim", "bottom"),
        ('"3.5 in"', '"32 in"', 'barrel "barrel", outlet_height', "not below the overflow", "bottom"),
        ('"3.5 in"', '"-1 in"', 'barrel "barrel", outlet_height', "below zero", "minus"),
        ("40.0", "140.0", "place, latitude", "between -90 and 90", "latitude = "),
        ("40.0", '"40 N"', "place, latitude", "without quotation marks", "latitude = "),
        ("-85.0", "-285.0", "place, longitude", "between -180 and 180", "longitude = "),
        ('units = "us"', 'units = "imperial"', "units", "none of the words", '"us", "metric"'),
        ('station = "mill"', "station = 7", "place, station", "not text", "station = "),
        ('station = "mill"', 'station = " "', "place, station", "empty", "station = "),
        ('sure = "likely"', 'sure = "likly"', "sighting 1, sure", "none of the words", 'mean "likely"?'),
        ('plant = "hedge"', 'plant = "hedges"', "sighting 1, plant", "no plant or bed", '"hedge"'),
        ("date = 2031-05-16", 'date = "2031-05-16"', "sighting 1, date", "as text", "date = 2031-05-16"),
        ("date = 2031-05-16", 'date = "16 May"', "sighting 1, date", "as text", "date = 2031-05-16"),
        ("date = 2031-05-16", "date = 2031-05-16T08:00:00", "sighting 1, date", "without a time", "= 2031"),
        ("date = 2031-05-16", "date = 2031", "sighting 1, date", "not a date", "year-month-day"),
        ('volume = "20 gal"', 'volume = "60 gal"', "level reading 1, volume", "holds only 55 gal", "again"),
        ('storage = "barrel"', 'storage = "barell"', "level reading 1, storage", "no barrel", '"barrel"'),
        ('name = "bed"', 'name = "shed"', 'bed "shed", name', "Two places", "own"),
        ('name = "bed"', 'name = "Tap"', 'bed "Tap", name', "meaning of its own", "longer name"),
        ('width = "4 ft"\n', "", 'bed "bed", length', "width is missing", "width = "),
        ('length = "10 ft"\nwidth = "4 ft"\n', "", 'bed "bed", area', "area is missing", "area = "),
        ('width = "4 ft"', 'width = "4 ft"\narea = "9 m2"', 'bed "bed", area', "given twice", "Keep"),
        ('organism = "bagworm"\n', "", "sighting 1, sign", "Neither", "sign = "),
        ('covering = "slate"\n', "", 'roof "shed", covering', "missing", "covering = "),
        ('units = "us"\n', "", "units", "missing at the top", "units = "),
    ],
)  # fmt: skip
def test_read_one_mistake_is_told_with_its_line_field_and_what_to_write(
    old: str, new: str, field: str, words: str, write: str
) -> None:
    text = swap(old, new)
    problem = only(text)
    assert problem.field == field
    assert words in problem.what
    assert write in problem.instead
    assert problem.file == "yard.toml"
    key = field.rsplit(", ", 1)[-1]
    where = "" if problem.line is None else text.split("\n")[problem.line - 1]
    if new:
        assert where.startswith(key)
    else:
        # A missing key is shown at its heading, a missing pair at the key that is there.
        assert where.startswith(("[[", key)) or (where == "" and key == "units")


@pytest.mark.parametrize(
    ("measures", "word"), [('height = "35 in"\ndiameter = "23 in"', "wide"), ('height = "35 in"', "high")]
)
def test_read_overflow_wider_than_its_barrel_is_refused(measures: str, word: str) -> None:
    text = swap('height = "35 in"\noutlet', f'{measures}\noverflow_bore = "40 in"\noutlet')
    problem = only(text)
    assert problem.field == 'barrel "barrel", overflow_bore'
    assert f"as wide as the barrel is {word}" in problem.what
    assert read(text.replace('"40 in"', '"2 in"')).storages[0].overflow_bore_m == pytest.approx(0.0508)


def test_read_many_mistakes_tells_all_of_them_in_the_order_of_the_file() -> None:
    text = swap('"100 sq ft"', "310")
    text = swap('fed_by = "spout"', 'fed_by = "pipe"', text)
    text = swap('"silt loam"', '"slit loam"', text)
    text = swap('volume = "20 gal"', 'volume = "200 gal"', text)
    assert [problem.field for problem in told(text)] == [
        'roof "shed", area',
        'barrel "barrel", fed_by',
        'bed "bed", soil',
        "level reading 1, volume",
    ]
    assert [problem.line for problem in told(text)] == [
        line_of(text, "area = 310"),
        line_of(text, 'fed_by = "pipe"'),
        line_of(text, 'soil = "slit'),
        line_of(text, 'volume = "200 gal"'),
    ]


def test_read_square_metres_for_square_feet_is_asked_back() -> None:
    problem = only(swap('"100 sq ft"', '"310 m2"'))
    assert "3,337 sq ft" in problem.what
    assert 'Did you mean "310 sq ft"?' in problem.instead
    assert "measured_twice = true" in problem.instead
    kept = read(swap('"100 sq ft"', '"310 m2"\nmeasured_twice = true'))
    assert kept.roof("shed").area_m2 == 310.0


def test_read_roof_too_large_even_in_square_feet_is_not_offered_feet() -> None:
    assert "Did you mean" not in only(swap('"100 sq ft"', '"5000 m2"')).instead


def test_read_volume_above_its_own_measures_is_told() -> None:
    # A cylinder 12 in across and 35 in tall holds 17 gal.
    problem = only(swap('height = "35 in"', 'height = "35 in"\ndiameter = "12 in"'))
    assert problem.field == 'barrel "barrel", volume'
    assert "at most 17 gal" in problem.what


SECOND = """
[[storages]]
name = "second"
volume = "55 gal"
"""


def test_read_overflow_that_comes_back_is_told() -> None:
    ring = swap('fed_by = "spout"', 'fed_by = "spout"\nempties_to = "second"') + SECOND
    assert [p.field for p in told(ring + 'empties_to = "barrel"\n')] == [
        'barrel "barrel", empties_to',
        'barrel "second", empties_to',
    ]
    assert read(ring + 'empties_to = "bed"\n').storage("second").empties_to == "bed"


def test_read_overflow_into_a_linked_barrel_is_told() -> None:
    text = swap('fed_by = "spout"', 'fed_by = "spout"\nempties_to = "second"') + SECOND
    assert "shares one level" in only(text + 'linked_to = "barrel"\n').what


def test_read_barrel_linked_to_itself_is_told() -> None:
    assert "linked to itself" in only(SMALL + SECOND + 'linked_to = "second"\n').what


def test_read_two_readings_on_one_day_are_told() -> None:
    second = '\n[[levels]]\nstorage = "Barrel"\ndate = 2031-05-14\nvolume = "30 gal"\n'
    assert "two readings" in only(SMALL + second).what


def test_read_names_with_other_capitals_or_hyphens_are_the_same_place() -> None:
    yard = read(swap('watered_from = "barrel"', 'watered_from = "BARREL"'))
    assert yard.beds[0].watered_from == "barrel"
    twins = swap('name = "bed"', 'name = "old hedge"') + '\n[[plants]]\nname = "Old-Hedge"\nkind = "yew"\n'
    assert only(twins).what == 'Two places have the name "Old-Hedge": a bed and a plant.'
    twins = SMALL + '\n[[plants]]\nname = "HEDGE"\nkind = "yew"\n'
    assert only(twins).what == 'Two plants have the name "HEDGE".'


@pytest.mark.parametrize(
    ("old", "new", "words", "write"),
    [
        ("[[roofs]]", "[roofs]", "roofs is not written as a list", "[[roofs]]"),
        ("[place]", "[[place]]", "place is not written as one table", "[place]"),
        ("[[plants]]", "[[plant]]", "no heading plant", "[[plants]]"),
    ],
)
def test_read_wrong_heading_says_the_right_one(old: str, new: str, words: str, write: str) -> None:
    problem = next(p for p in told(swap(old, new)) if words in p.what)
    assert write in problem.instead
    assert problem.line == line_of(SMALL, old)


def test_read_key_in_the_wrong_table_says_where_it_belongs() -> None:
    problem = next(p for p in told(swap("latitude = 40.0", 'latitude = 40.0\nunits = "us"')))
    assert "very top" in problem.instead
    problem = next(p for p in told(swap('units = "us"', 'units = "us"\nstation = "mill"')))
    assert "[place]" in problem.instead


def test_read_without_a_place_says_all_that_is_due() -> None:
    start, end = SMALL.index("[place]"), SMALL.index("[[roofs]]")
    problem = only(SMALL[:start] + SMALL[end:])
    for key in ("latitude", "longitude", "elevation", "station"):
        assert key in problem.instead


def test_read_size_of_a_stand_in_every_form() -> None:
    for size in ('"24 in x 30 in"', '["24 in", "30 in"]', '"2 ft by 30 in"', '"24 in × 30 in"'):
        base = (
            read(swap('height = "35 in"', f'height = "35 in"\nstand_base = {size}')).storages[0].stand_base_m
        )
        assert base == pytest.approx((0.6096, 0.762))
    square = read(swap('height = "35 in"', 'height = "35 in"\nstand_base = "24 in"')).storages[0].stand_base_m
    assert square == pytest.approx((0.6096, 0.6096))
    problem = only(swap('height = "35 in"', 'height = "35 in"\nstand_base = "24 x 24 in"'))
    assert "no unit" in problem.what


def test_read_inline_lists_are_read_and_pointed_at_like_headings() -> None:
    start = SMALL.index("[[levels]]")
    top = 'levels = [\n  {storage = "barrel", date = 2031-05-14, volume = "20 gal"},\n'
    good = top + "]\n" + SMALL[:start]
    assert read(good) == read(SMALL)
    bad = top + '  {storage = "barrel", date = 2031-05-15, volume = 5},\n]\n' + SMALL[:start]
    assert only(bad).line == 3


def test_notes_near_kinds_and_dry_barrels_are_no_mistakes() -> None:
    yard = read(swap('kind = "juniper"', 'kind = "junipre"') + SECOND)
    fields = [note.field for note in yard.notes]
    assert fields == ['plant "hedge", kind', 'barrel "second", fed_by']
    assert "juniper" in yard.notes[0].instead
    assert yard.notes[0].line == line_of(SMALL, 'kind = "juniper"')
    assert read(swap('kind = "juniper"', 'kind = "baobab"')).notes == ()


def test_notes_large_roof_for_a_small_downspout() -> None:
    # A 3 by 2 in pipe serves 600 sq ft by the trade's rule.
    (note,) = read(swap('"100 sq ft"', '"900 sq ft"')).notes
    assert "600 sq ft" in note.what
    assert read(swap('"100 sq ft"', '"620 sq ft"')).notes == ()


def test_notes_litres_written_for_gallons() -> None:
    text = swap('volume = "55 gal"', 'volume = "55 L"\ndiameter = "23 in"').replace('"20 gal"', '"20 L"')
    (note,) = read(text).notes
    assert note.field == 'barrel "barrel", volume'


def test_notes_downspout_without_a_roof() -> None:
    (note,) = read(SMALL + '\n[[downspouts]]\nname = "other"\nwidth = "3 in"\n').notes
    assert note.field == 'downspout "other", name'


def test_weather_path_is_seen_from_the_yard_file() -> None:
    yard = read(swap('station = "mill"', 'station = "mill"\nweather = "stations/mill.csv"'))
    assert file.weather_path("yards/y.toml", yard) == Path("yards/stations/mill.csv")
    assert file.weather_path("yards/y.toml", read(SMALL)) is None
