"""Whose water comes to a storage, for barrels in a row, side by side and in a ring."""

from __future__ import annotations

import pytest

from dooryard.water.uphill import uphill
from dooryard.yard.model import Roof, Storage, Yard
from tests.water_yards import yard

ROOFS = tuple(Roof(name, 10.0, "metal", f"{name} spout") for name in ("front", "rear", "shed"))


def barrels(*storages: Storage) -> Yard:
    return yard(roofs=ROOFS, storages=storages)


def names(places: tuple[Storage, ...] | tuple[Roof, ...]) -> list[str]:
    return [place.name for place in places]


def test_last_of_a_row_gets_the_water_of_all_above_it() -> None:
    here = barrels(
        Storage("one", 200.0, fed_by=("front spout",), empties_to="two"),
        Storage("two", 200.0, fed_by=("rear spout",), empties_to="three"),
        Storage("three", 200.0),
    )
    found = uphill(here, "three")
    assert (names(found.level), names(found.above)) == (["three"], ["one", "two"])
    assert names(found.roofs) == ["front", "rear"]
    assert names(uphill(here, "one").roofs) == ["front"]


@pytest.mark.parametrize("asked", ["two", "three"])
def test_joined_barrels_share_what_comes_whichever_names_the_other(asked: str) -> None:
    here = barrels(
        Storage("one", 200.0, fed_by=("front spout",), empties_to="three"),
        Storage("two", 200.0, fed_by=("rear spout",), linked_to=("three",)),
        Storage("three", 200.0, fed_by=("shed spout",), overflow_bore_m=0.05),
    )
    found = uphill(here, asked)
    assert (names(found.level), names(found.above)) == (["two", "three"], ["one"])
    assert names(found.roofs) == ["front", "rear", "shed"]
    assert (found.mouth.name, found.bores_m) == ("three", (0.05,))


def test_overflow_down_the_old_downspout_comes_to_nobody() -> None:
    here = barrels(
        Storage("one", 200.0, fed_by=("front spout",), empties_to="downspout"), Storage("two", 200.0)
    )
    assert uphill(here, "two").roofs == ()


def test_ring_of_overflows_ends() -> None:
    here = barrels(
        Storage("one", 200.0, fed_by=("front spout",), empties_to="two"),
        Storage("two", 200.0, empties_to="one"),
    )
    assert names(uphill(here, "two").above) == ["one"]
