"""The demonstration yards, read against the tables that ship: two in order, one with every mistake told."""

from pathlib import Path

import pytest

from dooryard import knowledge
from dooryard.problem import InputError
from dooryard.yard import file

YARDS = Path(file.__file__).parents[1] / "demo" / "yards"


@pytest.mark.parametrize("name", ["household-12", "household-31"])
def test_demo_yard_is_in_order_without_a_note(name: str) -> None:
    yard = file.read(YARDS / f"{name}.toml", knowledge.load())
    assert yard.name == name.replace("-", " ")
    assert yard.notes == ()


def test_demo_household_12_is_the_garage_with_one_barrel() -> None:
    yard = file.read(YARDS / "household-12.toml", knowledge.load())
    assert yard.roofs[0].area_m2 == pytest.approx(310 * 0.09290304)
    assert yard.roofs[0].covering == "asphalt-shingle"
    assert [storage.name for storage in yard.storages] == ["back barrel"]
    # 3 in of 35 lie below the tap, the uppermost 3 in above the overflow.
    assert yard.storages[0].active_l == pytest.approx(55 * 3.785411784 * 29 / 35)
    assert [plant.kind for plant in yard.plants] == ["magnolia", "juniper", "lilac"]
    assert [len(x) for x in (yard.beds, yard.sightings, yard.levels)] == [2, 1, 1]


def test_demo_household_31_has_two_linked_tanks() -> None:
    yard = file.read(YARDS / "household-31.toml", knowledge.load())
    assert yard.units == "metric"
    assert [storage.linked_to for storage in yard.storages] == [("south tank",), ("east tank",)]
    assert yard.storage("east tank").stand_base_m == pytest.approx((1.2, 1.0))


def test_demo_household_47_tells_each_mistake_the_file_marks() -> None:
    path = YARDS / "household-47.toml"
    with pytest.raises(InputError) as caught:
        file.read(path, knowledge.load())
    problems = caught.value.problems
    lines = path.read_text(encoding="utf-8").split("\n")
    marked = {number for number, line in enumerate(lines, 1) if "mistake:" in line or "mistakes:" in line}
    told = {problem.line for problem in problems}
    # A sighting that says neither organism nor sign has no line of its own but its heading.
    missing = lines.index("[[sightings]]") + 1
    assert told == marked | {missing}
    assert all(problem.file == path.name and problem.instead for problem in problems)
    assert len(problems) == len(told)
