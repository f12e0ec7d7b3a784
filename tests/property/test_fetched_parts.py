"""Answers of the data service, cut anywhere and joined in any way."""

from __future__ import annotations

import csv
import io
import warnings
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dooryard.weather.fetch import daily
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


@settings(max_examples=150, deadline=None)
@given(
    row=st.integers(1, 12),
    column=st.sampled_from(
        ["DATE", "LATITUDE", "ELEVATION", "NAME", "PRCP", "PRCP_ATTRIBUTES", "TMAX", "TMIN"]
    ),
    text=st.one_of(
        st.sampled_from(
            ["", "-0", "1e400", "nan", "-inf", "9" * 400, "١٢", "1,5", "-99.9", "T", "0x10", "1_0"]
        ),
        st.text(st.characters(exclude_characters='"\x00', exclude_categories=["Cs"]), max_size=12),
        st.floats(allow_nan=True).map(repr),
    ),
)
def test_examined_table_with_any_cell_at_all_is_read_or_refused_in_a_sentence(
    row: int, column: str, text: str
) -> None:
    """What is kept can be read; what cannot be read is never kept. No other failure, and no warning."""
    lines = list(csv.reader(io.StringIO(WHOLE.decode())))
    lines[row][lines[0].index(column)] = text
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(lines)
    examine = daily._examiner(FIRST, FIRST + timedelta(days=11), STATION, 0.01)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        told = "."
        try:
            examine(out.getvalue().encode())
        except ChangedError as refused:
            told = str(refused)
    assert told.endswith(".")
