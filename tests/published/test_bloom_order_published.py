"""Order of bloom in a published list: a row moved by a slip of the pen would break it."""

from __future__ import annotations

import pytest

from dooryard.knowledge import Bloom, load

# Maryland, older edition, sums from 1 January in Fahrenheit degree-days: the printed order and numbers.
OLDER = [
    ("Corneliancherry dogwood", "first bloom", 22),
    ("red maple", "first bloom", 34),
    ("border forsythia", "first bloom", 35),
    ("callery pear", "first bloom", 50),
    ("border forsythia", "full bloom", 53),
    ("saucer magnolia", "first bloom", 59),
    ("star magnolia", "first bloom", 89),
    ("flowering quince", "first bloom", 103),
    ("bridal wreath spirea", "first bloom", 104),
    ("sassafras", "first bloom", 122),
    ("eastern redbud", "first bloom", 137),
    ("eastern redbud", "full bloom", 156),
]
NEWER = [("red maple", "first bloom", 12), ("bloodroot", "first bloom", 79)]


def of_list(source: str) -> dict[tuple[str, str], Bloom]:
    return {(row.plant, row.event): row for row in load().blooms if row.source == source}


@pytest.mark.check(
    "S-02-C", source="University of Maryland bloom and pest table, older edition", status="seen"
)
def test_blooms_of_one_list_stand_in_the_printed_order() -> None:
    rows = of_list("S-UMD-OLD")
    sums = [rows[plant, event].low_cd for plant, event, _ in OLDER]
    assert sums == sorted(sums)
    assert [total * 1.8 for total in sums] == pytest.approx([printed for *_, printed in OLDER])
    assert {row.start for row in rows.values()} == {"01-01"}


def test_two_editions_of_a_list_are_kept_apart() -> None:
    older, newer = of_list("S-UMD-OLD"), of_list("S-UMD-NEW")
    for plant, event, printed in NEWER:
        assert newer[plant, event].low_cd * 1.8 == pytest.approx(printed)
    assert older["red maple", "first bloom"].low_cd != newer["red maple", "first bloom"].low_cd


@pytest.mark.check("T-14", source="order of blooms and a hatch in one printed list", status="seen")
@pytest.mark.check(
    "S-02-C", source="as above, with the tent caterpillar's hatch among the blooms", status="seen"
)
def test_tent_caterpillars_hatch_between_pear_and_forsythia_in_the_list() -> None:
    rows = of_list("S-UMD-OLD")
    stage = load().stages["eastern-tent-caterpillar.hatch.maryland-old"]
    assert stage.unit == "F"
    assert stage.dd_low is not None
    pear, forsythia = rows["callery pear", "first bloom"], rows["border forsythia", "full bloom"]
    assert pear.low_cd < stage.dd_low / 1.8 < forsythia.low_cd
