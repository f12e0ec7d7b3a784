"""The tables of cutting, dividing, oaks and spray limits: what they hold, what they refuse, printed sums."""

from __future__ import annotations

from collections import Counter
from math import pi
from pathlib import Path

import pytest

from dooryard.knowledge import Knowledge, load
from dooryard.problem import InputError

SOURCES = "id,author,year,title,edition,licence,note\nX-1,An office,2001,A leaflet,,,\n"
GOOD = {
    "pruning": "key,name,scientific,kinds,wood,time,safe,latest,avoid,how,source,place,status,note\n"
    "a,lilac,Syringa,lilac,old wood,after bloom,after bloom,06-15,,,X-1,,seen,\n",
    "division": "key,name,kinds,season,years_low,years_high,how,source,status,note\na,iris,iris,July,3,4,,X-1,seen,\n",
    "oak_windows": "key,place,opens,closes,if_wounded,source,status,note\na,Ohio,04-01,07-31,,X-1,seen,\n",
    "spray_limits": "key,material,quantity,low,high,unit,rule,plants,source,place,status,note\n"
    "a,soap,warmth,,32,degC,Never above.,,X-1,,seen,\n",
}
NAMES = {"division": "divisions"}


def fields(tmp_path: Path, table: str, text: str) -> set[str]:
    """The cells found faulty in a table of one row; none if it loads."""
    (tmp_path / "sources").mkdir(exist_ok=True)
    (tmp_path / "sources" / "own.csv").write_text(SOURCES, encoding="utf-8")
    (tmp_path / f"{table}.csv").write_text(text, encoding="utf-8")
    try:
        rows = getattr(Knowledge((tmp_path,)), NAMES.get(table, table))
    except InputError as error:
        return {problem.field for problem in error.problems}
    assert len(rows) == 1
    return set()


@pytest.mark.parametrize("table", GOOD)
def test_care_table_good_row_loads_and_one_without_source_or_status_does_not(
    tmp_path: Path, table: str
) -> None:
    assert fields(tmp_path, table, GOOD[table]) == set()
    assert fields(tmp_path, table, GOOD[table].replace("X-1", "")) == {"source"}
    assert fields(tmp_path, table, GOOD[table].replace("seen", "")) == {"status"}


@pytest.mark.parametrize(
    ("table", "right", "wrong", "field"),
    [
        ("pruning", "old wood", "wood", "wood"),
        ("pruning", "06-15", "June", "latest"),
        ("division", "3,4", "4,3", "years_low"),
        ("oak_windows", "07-31", "", "closes"),
        ("spray_limits", "degC", "", "unit"),
    ],
)
def test_care_table_faulty_cell_is_named(
    tmp_path: Path, table: str, right: str, wrong: str, field: str
) -> None:
    assert fields(tmp_path, table, GOOD[table].replace(right, wrong)) == {field}


def test_plant_kind_has_one_row_of_pruning() -> None:
    kinds = Counter(kind for row in load().pruning.values() for kind in row.kinds)
    assert [kind for kind, count in kinds.items() if count > 1] == []
    assert all(kind == kind.lower() for kind in kinds)


def test_bloom_on_old_wood_is_cut_after_it_and_on_new_wood_before() -> None:
    """The rule of thumb that every calendar of pruning rests on."""
    for row in load().pruning.values():
        expected = {"old wood": "after bloom", "new wood": "late winter"}.get(row.wood)
        assert expected in (None, row.time), row.key


@pytest.mark.parametrize(
    ("kind", "wood"),
    [
        ("bigleaf hydrangea", "old wood"),
        ("oakleaf hydrangea", "old wood"),
        ("climbing hydrangea", "old wood"),
        ("panicle hydrangea", "new wood"),
        ("smooth hydrangea", "new wood"),
    ],
)
def test_hydrangeas_are_told_apart_by_their_wood(kind: str, wood: str) -> None:
    assert [row.wood for row in load().pruning.values() if kind in row.kinds] == [wood]


def test_azalea_is_cut_by_the_middle_of_june() -> None:
    assert load().pruning["azalea"].latest == "06-15"


def test_oak_windows_all_hold_early_summer() -> None:
    """April to June is the time of the beetles in each of the states."""
    for row in load().oak_windows.values():
        assert row.opens <= "04-15", row.key
        assert row.closes >= "06-30", row.key


ACRE_M2 = 4046.8564224


def test_soil_drench_per_acre_comes_to_the_printed_trunks() -> None:
    """0.4 lb an acre at 1.4 g an inch: 129.6 inches of trunk by arithmetic, where the table prints 128."""
    limits = load().spray_limits
    acre, trunk = limits["imidacloprid.acre"], limits["imidacloprid.trunk"]
    assert acre.high is not None
    assert trunk.low is not None
    assert acre.high * ACRE_M2 / trunk.low == pytest.approx(129.6, abs=0.05)


def test_household_drench_agrees_with_the_printed_rate() -> None:
    """1.47 % of a fluid of 1.05 g/mL, an ounce an inch around: 1.43 g an inch across, printed 1.4."""
    limits = load().spray_limits
    each_ml, trunk = limits["imidacloprid.household"].low, limits["imidacloprid.trunk"].low
    assert each_ml is not None
    around_g = each_ml * 1.05 * 0.0147
    assert around_g == pytest.approx(0.456, abs=0.0005)
    assert around_g * pi == pytest.approx(trunk, abs=0.05)


def test_dinotefuran_row_says_that_its_source_contradicts_itself() -> None:
    """C-12: 0.54 lb an acre printed as 82 to 41 inches is 3 to 6 g an inch, not the 6 to 10 printed."""
    row = load().spray_limits["dinotefuran.trunk"]
    assert (row.low, row.high) == (6, 10)
    assert "do not agree" in row.rule
    assert [round(0.54 * 453.59237 / inches) for inches in (82, 41)] == [3, 6]
