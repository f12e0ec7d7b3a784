"""Answers of the data service, cut anywhere and joined in any way."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.weather.fetch.daily import ELEMENTS
from dooryard.weather.fetch.obtaining import ChangedError
from dooryard.weather.fetch.parts import checker, join, take_apart
from tests.weather_service import Made, Service, _data, made_days

FIRST = date(2031, 1, 1)
STATION = "USC00150001"


def answer(first: date, days: int) -> bytes:
    """What the service says about some days of a station whose record is the same every time."""
    made = Made("CREEK, BOTTOM KY US", 38.2, -85.1, 186.0, made_days(FIRST, 60))
    query = {
        "dataset": "daily-summaries",
        "format": "csv",
        "stations": STATION,
        "startDate": first.isoformat(),
        "endDate": (first + timedelta(days=days - 1)).isoformat(),
        "dataTypes": ",".join(ELEMENTS),
        "includeAttributes": "true",
    }
    return _data(Service(stations={STATION: made}), query)[2]


WHOLE = answer(FIRST, 12)


@settings(max_examples=300)
@given(length=st.integers(0, len(WHOLE) - 1))
def test_parts_cut_anywhere_hold_whole_days_only_or_are_refused(length: int) -> None:
    """Cut between two lines an answer looks whole; anywhere else no part of a line may pass for a value."""
    whole, cut = take_apart(WHOLE).rows, WHOLE[:length]
    in_a_day = cut.count(b"\n") > 0 and not cut.endswith(b"\n") and WHOLE[length : length + 1] != b"\n"
    if in_a_day:
        with pytest.raises(ChangedError):
            take_apart(cut)
    else:
        try:
            rows = take_apart(cut).rows
        except ChangedError:
            rows = ()
        assert rows == whole[: len(rows)]


@given(cuts=st.sets(st.integers(1, 59), max_size=6), order=st.randoms(use_true_random=False))
def test_parts_joined_are_the_same_however_they_were_asked_for(cuts: set[int], order: object) -> None:
    edges = [0, *sorted(cuts), 60]
    parts = [take_apart(answer(FIRST + timedelta(days=a), b - a)) for a, b in pairwise(edges)]
    order.shuffle(parts)  # type: ignore[attr-defined]
    assert join(parts, ELEMENTS, ["units: metric"]) == join(
        [take_apart(answer(FIRST, 60))], ELEMENTS, ["units: metric"]
    )


@given(body=st.binary(max_size=200))
def test_parts_of_any_bytes_at_all_are_refused_or_empty(body: bytes) -> None:
    """Whatever a broken service sends, it is a ChangedError, never another failure."""
    told = "."
    try:
        checker(FIRST, FIRST, STATION)(body)
    except ChangedError as refused:
        told = str(refused)
    assert told.endswith(".")
