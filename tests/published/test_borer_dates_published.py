"""Clearwing borers at Lexington, Kentucky: first moths, and the trunk treated ten to fourteen days after."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from dooryard.knowledge import load

# Printed for Lexington: organism, first moths caught, first window of the trunk treatment.
PRINTED = [
    ("lilac-ash-borer", "04-26", "05-06", "05-10"),
    ("lesser-peachtree-borer", "05-01", "05-11", "05-15"),
    ("dogwood-borer", "05-21", "05-31", "06-04"),
    ("peachtree-borer", "06-01", "06-18", "06-24"),
]


def day(month_day: str) -> date:
    return date.fromisoformat(f"2001-{month_day}")


@pytest.mark.check(
    "T-15", source="table of borers at Lexington, Kentucky, in a tree-care journal", status="seen"
)
@pytest.mark.parametrize(("organism", "flight", "opens", "closes"), PRINTED)
def test_borer_dates_of_lexington_stand_as_printed(
    organism: str, flight: str, opens: str, closes: str
) -> None:
    tables = load()
    lexington = "Lexington, Kentucky"
    flights = [
        row.first
        for row in tables.stages.values()
        if row.organism == organism and row.place == lexington and row.stage == "moths fly"
    ]
    assert flights == [flight]
    first = min(
        (row for row in tables.dated_windows if row.organism == organism and row.place == lexington),
        key=lambda row: row.opens,
    )
    assert (first.opens, first.closes) == (opens, closes)


@pytest.mark.check(
    "T-15", source="table of borers at Lexington, Kentucky, in a tree-care journal", status="seen"
)
def test_borers_fly_one_after_the_other() -> None:
    tables = load()
    first = {
        row.organism: row.first
        for row in tables.stages.values()
        if row.place == "Lexington, Kentucky" and row.kind == "calendar" and "fly" in row.stage
    }
    order = [*(organism for organism, *_ in PRINTED), "banded-ash-clearwing"]
    assert sorted(order, key=lambda organism: first[organism]) == order


@pytest.mark.check("S-02-B", source="Maryland how-to page: bark treated 10 to 14 days after", status="seen")
@pytest.mark.parametrize("organism", [organism for organism, *_ in PRINTED[:3]])
def test_bark_is_treated_ten_to_fourteen_days_after_the_first_moth(organism: str) -> None:
    """Two publishers, one rule: the printed windows of three borers are its ten and fourteen days to the day.

    The peach tree borer's printed window is later than the rule, so it is not among them.
    """
    tables = load()
    _, flight, opens, closes = next(row for row in PRINTED if row[0] == organism)
    rule = [day(flight) + timedelta(days=days) for days in (10, 14)]
    assert rule == [day(opens), day(closes)]
    lags = {
        row.open_lag_d
        for row in tables.windows.values()
        if row.organism == organism and "emergence" in row.opens
    }
    assert lags
    assert all(10 <= lag <= 14 for lag in lags)


# Publisher, where the count begins, lower threshold.
STARTS = [
    ("S-UMD-OLD", "01-01", 50),
    ("S-UMD-NEW", "01-01", 50),
    ("S-OSU-LIST", "01-01", 50),
    ("S-NYSAES-2007", "01-01", 50),
    ("S-UNH-GDD", "03-01", 50),
    ("S-MSU-OFM", "04-01", 45),
]


@pytest.mark.check("S-01-12", source="start days as each publisher prints them", status="seen")
@pytest.mark.parametrize(("source", "start", "base_f"), STARTS)
def test_sums_start_on_the_day_their_publisher_prints(source: str, start: str, base_f: float) -> None:
    rows = [row for row in load().stages.values() if row.source == source and row.kind == "heat"]
    assert rows
    assert {(row.start, row.start_used, row.unit) for row in rows} == {(start, start, "F")}
    assert base_f in {row.base for row in rows}


@pytest.mark.check("S-01-12", source="sums counted from what was seen", status="seen")
@pytest.mark.parametrize(
    ("organism", "word"),
    [("codling-moth", "catch"), ("plum-curculio", "petal fall"), ("colorado-potato-beetle", "first eggs")],
)
def test_sums_from_an_event_are_never_given_a_day_of_the_calendar(organism: str, word: str) -> None:
    rows = [row for row in load().stages.values() if row.organism == organism and row.kind == "event"]
    assert any(word in row.start for row in rows)
    assert not any(row.start_used for row in rows)
