"""The tables of parts, tools and steps: what they hold and what they refuse."""

from __future__ import annotations

from pathlib import Path

import pytest

from dooryard.knowledge import Knowledge, load
from dooryard.knowledge.build_rows import PHASES
from dooryard.problem import InputError

SOURCES = "id,author,year,title,edition,licence,note\nX-1,An office,2001,A leaflet,,,\n"
GOOD = {
    "parts": "key,name,use,by,each,unit,pack,pack_name,spare,when,cost_low,cost_high,source,place,status,note\n"
    "nut,locknut,holds,barrel,1,,4,pack of 4,yes,always,1,3,X-1,,seen,\n",
    "tools": "key,name,use,people,source,place,status,note\nfile,file,burrs,5,X-1,,seen,\n",
    "steps": "key,phase,text,caution,cautions,minutes_low,minutes_high,when,source,place,status,note\n"
    "mark,drill,Mark it.,,,1,2,always,X-1,,seen,\n",
}


def read(tmp_path: Path, table: str, text: str) -> dict[str, object]:
    (tmp_path / "sources").mkdir(exist_ok=True)
    (tmp_path / "sources" / "own.csv").write_text(SOURCES, encoding="utf-8")
    (tmp_path / f"{table}.csv").write_text(text, encoding="utf-8")
    found = getattr(Knowledge((tmp_path,)), table)
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("table", GOOD)
def test_build_table_good_row_loads(tmp_path: Path, table: str) -> None:
    assert len(read(tmp_path, table, GOOD[table])) == 1


@pytest.mark.parametrize(
    ("table", "right", "wrong", "field"),
    [
        ("parts", "X-1", "", "source"),
        ("tools", "seen", "", "status"),
        ("steps", "drill,", "bore,", "phase"),
        ("parts", "barrel,1,,4", "barrel,0,,4", "each"),
        ("parts", "barrel,1,,4", "barrel,1,,-4", "pack"),
        ("parts", "1,3,X-1", "3,1,X-1", "cost_low"),
        ("parts", "yes", "perhaps", "spare"),
        ("steps", ",1,2,", ",2,1,", "minutes_low"),
    ],
)
def test_build_table_bad_row_is_refused_with_its_field(
    tmp_path: Path, table: str, right: str, wrong: str, field: str
) -> None:
    assert right in GOOD[table]
    with pytest.raises(InputError) as caught:
        read(tmp_path, table, GOOD[table].replace(right, wrong))
    assert {problem.field for problem in caught.value.problems} == {field}


def test_build_steps_stand_in_the_order_of_their_phases() -> None:
    first = {}
    for number, step in enumerate(load().steps.values()):
        first.setdefault(step.phase, number)
    build = [phase for phase in PHASES if phase not in ("ahead", "run", "hand-out")]
    assert [phase for phase in first if phase in build] == build
