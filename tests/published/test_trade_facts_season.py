"""What county offices of the humid middle latitudes say from practice, against the invented county's thirty years.

These are common practice without a printed source. The county's weather is made up, but fitted to be that of such a
place; a table that missed what people there see every year would be of no use.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import numpy as np
import pytest

from dooryard import weather
from dooryard.demo import county
from dooryard.knowledge import Knowledge, load
from dooryard.season.book import HeatBook
from dooryard.season.timing import SeasonHeat
from dooryard.season.verdicts import judge
from dooryard.season.windows import OVER
from dooryard.weather.outlook import ahead
from dooryard.weather.record import WeatherRecord

ON = date(2031, 3, 1)
ORGANISMS = ("bagworm", "fall-webworm", "eastern-tent-caterpillar", "magnolia-scale", "peachtree-borer")
PRACTICE = pytest.mark.check(
    "S-02-A", source="what county offices of the humid middle latitudes say", status="common practice"
)


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, WeatherRecord]:
    folder = tmp_path_factory.mktemp("county")
    county.write(folder)
    return {path.stem: weather.read(path) for path in sorted((folder / "stations").glob("*.csv"))}


@pytest.fixture(scope="module")
def books(records: Mapping[str, WeatherRecord]) -> Mapping[str, HeatBook]:
    return {
        name: HeatBook(load(), ORGANISMS, SeasonHeat(record, ahead(record, ON), ON))
        for name, record in records.items()
    }


def usual(books: Mapping[str, HeatBook], organism: str, generation: int = 1) -> dict[str, date]:
    """When each table's window of a brood usually opens at each station."""
    found = {
        f"{window.key} at {name}": book.usual(window.opens, window.open_at, window.open_lag_d)
        for name, book in books.items()
        for window in book.windows[organism]
        if window.generation == generation
    }
    return {key: day for key, day in found.items() if day is not None}


def between(days: Mapping[str, date], first: tuple[int, int], last: tuple[int, int]) -> list[str]:
    """The tables that fall outside; empty if all lie inside."""
    return [
        f"{key}: {day}"
        for key, day in days.items()
        if not date(ON.year, *first) <= day <= date(ON.year, *last)
    ]


@PRACTICE
def test_practice_bagworms_hatch_from_mid_may_to_early_june_once_a_year(
    books: Mapping[str, HeatBook],
) -> None:
    found = usual(books, "bagworm")
    assert len(found) == 4
    assert between(found, (5, 15), (6, 10)) == []
    assert usual(books, "bagworm", 2) == {}
    assert load().organisms["bagworm"].generations.startswith("1")


@PRACTICE
def test_practice_bagworm_dates_of_ten_years_lie_three_to_four_weeks_apart(
    books: Mapping[str, HeatBook],
) -> None:
    """People speak of the years they remember: ten in a row, earliest to latest, in the middle of all such tens.

    Over all thirty years of one station the earliest and the latest lie up to five weeks apart; eight years in ten
    lie within three weeks.
    """
    for book in books.values():
        for window in book.windows["bagworm"]:
            days = book.past_days(window.opens, window.open_at)
            since = np.array([(day - date(year, 1, 1)).days for year, day in days.items()])
            spreads = [np.ptp(since[i : i + 10]) for i in range(len(since) - 9)]
            assert 19 <= np.median(spreads) <= 30, window.key


@PRACTICE
def test_practice_bagworms_are_treated_only_while_small(records: Mapping[str, WeatherRecord]) -> None:
    """By the second half of July the time is over at every station, and the advice is to pick bags off."""
    for record in records.values():
        year = record.dates[-1].item().year
        on = date(year - 1, 7, 20)
        one = judge("bagworm", load(), record, ahead(record, on), on)
        assert one.word == OVER
        assert "pick off" in one.do_now.lower()


@PRACTICE
def test_practice_fall_webworm_has_several_broods_from_june_on(books: Mapping[str, HeatBook]) -> None:
    """The tables know a first brood and "later" ones, whose window of 75 days holds the second and the third."""
    assert between(usual(books, "fall-webworm"), (5, 25), (6, 30)) == []
    later = usual(books, "fall-webworm", 2)
    assert later
    assert between(later, (6, 15), (8, 1)) == []
    for book in books.values():
        for window in book.windows["fall-webworm"]:
            if window.generation == 2:
                end = book.usual(window.closes, window.close_at, window.close_lag_d)
                assert end is not None
                assert end >= date(ON.year, 9, 1)


@PRACTICE
def test_practice_eastern_tent_caterpillar_comes_once_in_early_spring(books: Mapping[str, HeatBook]) -> None:
    found = usual(books, "eastern-tent-caterpillar")
    assert len(found) >= 10
    assert between(found, (3, 1), (4, 20)) == []
    assert usual(books, "eastern-tent-caterpillar", 2) == {}


@PRACTICE
def test_practice_magnolia_scale_crawls_in_july_and_august_once(books: Mapping[str, HeatBook]) -> None:
    assert between(usual(books, "magnolia-scale"), (7, 1), (8, 31)) == []
    assert usual(books, "magnolia-scale", 2) == {}


@PRACTICE
def test_practice_peachtree_coat_goes_on_from_early_to_mid_june(books: Mapping[str, HeatBook]) -> None:
    """The coat must be on when the first borers hatch on the bark; the tables say when that is."""
    found = usual(books, "peachtree-borer")
    assert len(found) == 4
    assert between(found, (6, 1), (6, 20)) == []


def test_practice_dates_stand_in_the_tables_as_common_practice() -> None:
    """What is checked here is told to a household as well, marked as what it is, and never moved without a record."""
    knowledge: Knowledge = load()
    marked = {
        row.organism: row
        for row in knowledge.dated_windows
        if row.status == "common practice" and row.source == "S-TRADE"
    }
    assert set(ORGANISMS) <= set(marked)
    assert "300 eggs" in marked["bagworm"].note


def test_practice_past_days_and_past_years_agree(books: Mapping[str, HeatBook]) -> None:
    for book in books.values():
        for window in book.windows["bagworm"]:
            days = book.past_days(window.opens, window.open_at)
            assert set(days) <= set(book.past_years(window.opens, window.open_at))
            assert all(day.year == year for year, day in days.items())
