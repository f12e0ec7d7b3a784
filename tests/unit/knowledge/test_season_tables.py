"""The tables of bloom, sowing, wet leaves, chill and dated windows: what they hold and what they refuse."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from dooryard.knowledge import Knowledge, load
from dooryard.problem import InputError

SOURCES = "id,author,year,title,edition,licence,note\nX-1,An office,2001,A leaflet,,,\n"

GOOD = {
    "blooms": "key,plant,event,low_cd,base_c,start,method,source,place,status,note\n"
    "a,lilac,first bloom,130,10,01-01,average,X-1,,seen,\n",
    "soil_temperatures": "key,crop,name,minimum_c,realistic_c,optimum_c,source,place,status,note\n"
    "a,okra,okra,16,23,35,X-1,,seen,\n",
    "germination": "crop,name,temperature_c,days,grows,source,status\nokra,okra,20,17,yes,X-1,seen\n",
    "infection": "key,disease,severity,t_low_c,t_high_c,wet_hours,source,place,status,note\n"
    "a,scab,any,10,10,11,X-1,,seen,\n",
    "severity": "key,disease,t_low_c,t_high_c,wet_low_h,wet_high_h,value,source,status\n"
    "a,blight,13,17,0,6,0,X-1,seen\n",
    "chill": "key,model,above_c,upto_c,weight,source,status,note\na,hours,0,7.2,1,X-1,seen,\n",
    "windows_by_date": "key,organism,name,opens,closes,place,latitude,source,status,note\n"
    "a,moth,moths,05-15,06-10,a county,38,X-1,common practice,\n",
}
NAMES = {"windows_by_date": "dated_windows"}


def read(tmp_path: Path, table: str, text: str) -> object:
    (tmp_path / "sources").mkdir(exist_ok=True)
    (tmp_path / "sources" / "own.csv").write_text(SOURCES, encoding="utf-8")
    (tmp_path / f"{table}.csv").write_text(text, encoding="utf-8")
    return getattr(Knowledge((tmp_path,)), NAMES.get(table, table))


def fields(tmp_path: Path, table: str, text: str) -> set[str]:
    with pytest.raises(InputError) as caught:
        read(tmp_path, table, text)
    return {problem.field for problem in caught.value.problems}


@pytest.mark.parametrize("table", GOOD)
def test_season_table_good_row_loads(tmp_path: Path, table: str) -> None:
    rows = read(tmp_path, table, GOOD[table])
    assert isinstance(rows, tuple)
    assert len(rows) == 1
    assert rows[0].origin.endswith(f"{table}.csv")


@pytest.mark.parametrize("table", GOOD)
@pytest.mark.parametrize(
    ("gone", "field"), [("X-1", "source"), ("seen", "status"), ("common practice", "status")]
)
def test_season_table_row_without_source_or_status_is_refused(
    tmp_path: Path, table: str, gone: str, field: str
) -> None:
    text = GOOD[table]
    if gone in text:
        assert fields(tmp_path, table, text.replace(gone, "")) == {field}


@pytest.mark.parametrize(
    ("table", "right", "wrong", "field"),
    [
        ("blooms", "01-01", "1 Jan", "start"),
        ("blooms", "first bloom", "blooming", "event"),
        ("soil_temperatures", "16,23,35", "24,23,35", "minimum_c"),
        ("soil_temperatures", "16,23,35", ",,", "realistic_c"),
        ("germination", "17,yes", ",yes", "days"),
        ("germination", "17,yes", "17,no", "days"),
        ("infection", "10,10,11", "11,10,11", "t_low_c"),
        ("infection", "any", "bad", "severity"),
        ("severity", "0,6,0", "7,6,0", "wet_low_h"),
        ("chill", "0,7.2,1", "0,7.2,", "weight"),
        ("windows_by_date", "05-15", "15 May", "opens"),
        ("windows_by_date", "a county", "", "place"),
    ],
)
def test_season_table_faulty_cell_is_named(
    tmp_path: Path, table: str, right: str, wrong: str, field: str
) -> None:
    assert fields(tmp_path, table, GOOD[table].replace(right, wrong)) == {field}


def test_bloom_start_may_be_unstated(tmp_path: Path) -> None:
    rows = read(tmp_path, "blooms", GOOD["blooms"].replace("01-01", "not stated"))
    assert isinstance(rows, tuple)
    assert rows[0].start == "not stated"


@pytest.mark.parametrize("model", ["utah", "utah-celsius"])
def test_chill_steps_of_a_model_leave_no_gap(model: str) -> None:
    steps = [row for row in load().chill if row.model == model]
    assert steps[0].above_c is None
    assert steps[-1].upto_c is None
    assert all(a.upto_c == b.above_c for a, b in pairwise(steps))


def test_scab_hours_never_rise_with_warmth_up_to_61_fahrenheit() -> None:
    """A reprint with 56 and 57 where 46 and 48 belong breaks this (the strongest check of that table)."""
    rows = [row for row in load().infection if row.disease == "apple scab" and row.t_low_c <= (61 - 32) / 1.8]
    assert len(rows) == 16
    assert all(a.t_high_c < b.t_low_c and a.wet_hours >= b.wet_hours for a, b in pairwise(rows))


def test_severity_spells_of_a_temperature_class_leave_no_hour_out() -> None:
    rows = load().severity
    for low in {row.t_low_c for row in rows}:
        steps = [row for row in rows if row.t_low_c == low]
        assert steps[0].wet_low_h == 0
        assert steps[-1].wet_high_h is None
        for a, b in pairwise(steps):
            assert a.wet_high_h is not None
            assert a.wet_high_h + 1 == b.wet_low_h
            assert a.value + 1 == b.value


PRACTICE = {
    "bagworm": ("05-15", "06-10", "300 eggs"),
    "fall-webworm": ("06-01", "09-30", "three generations"),
    "eastern-tent-caterpillar": ("03-15", "04-30", "one generation"),
    "magnolia-scale": ("07-01", "08-31", "one generation"),
    "peachtree-borer": ("06-01", "06-20", "early to middle June"),
}


@pytest.mark.parametrize("organism", PRACTICE)
def test_common_practice_of_a_humid_county_is_a_row_marked_so(organism: str) -> None:
    rows = [
        row for row in load().dated_windows if row.organism == organism and row.status == "common practice"
    ]
    assert [(row.opens, row.closes) for row in rows] == [PRACTICE[organism][:2]]
    assert PRACTICE[organism][2] in rows[0].note


def test_soil_temperatures_of_two_offices_stay_two_rows() -> None:
    carrot = {
        row.place: row.minimum_c for row in load().soil_temperatures if row.crop == "carrot" and row.minimum_c
    }
    assert carrot["Florida"] == pytest.approx((40 - 32) / 1.8)
    assert carrot["Texas"] == pytest.approx((35 - 32) / 1.8)
