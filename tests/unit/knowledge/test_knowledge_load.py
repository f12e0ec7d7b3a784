"""The loader: what loads, what does not, and what the messages say."""

from __future__ import annotations

from pathlib import Path

import pytest

from dooryard.knowledge import Knowledge, load
from dooryard.problem import InputError

SOURCES = "id,author,year,title,edition,licence,note\nX-1,An office,2001,A leaflet,,,\n"
FACTS = "key,value,low,high,unit,source,place,status,note\n"


def folder(tmp_path: Path, **files: str) -> Path:
    """A folder of knowledge with a source X-1 and the named files (two underscores stand for a slash)."""
    for name, text in {"sources__own.csv": SOURCES, **files}.items():
        path = tmp_path / name.replace("__", "/")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def faults(tmp_path: Path, text: str) -> list[tuple[int | None, str, str]]:
    """Line, field and found of every fault in a facts table."""
    knowledge = Knowledge((folder(tmp_path, **{"facts__own.csv": text}),))
    with pytest.raises(InputError) as caught:
        _ = knowledge.facts
    assert all("own.csv" in problem.file for problem in caught.value.problems)
    return [(problem.line, problem.field, problem.found) for problem in caught.value.problems]


def test_fact_with_source_and_status_loads_with_its_numbers(tmp_path: Path) -> None:
    row = 'a.b,0.9,0.85,0.95,1,X-1,Kent,seen,"a note, with a comma"\n'
    fact = Knowledge((folder(tmp_path, **{"facts__own.csv": FACTS + row}),)).fact("a.b")
    assert (fact.value, fact.low, fact.high, fact.unit) == (0.9, 0.85, 0.95, "1")
    assert (fact.source, fact.place, fact.status, fact.note) == (
        "X-1",
        "Kent",
        "seen",
        "a note, with a comma",
    )
    assert fact.origin.endswith("own.csv")


@pytest.mark.parametrize(
    ("row", "line", "field", "found"),
    [
        ("a,1,,,mm,X-1,,,", 2, "status", ""),
        ("a,1,,,mm,X-1,,probably,", 2, "status", "probably"),
        ("a,1,,,mm,,,seen,", 2, "source", ""),
        ("a,1,,,mm,X-2,,seen,", 2, "source", "X-2"),
        ("a,,,,mm,X-1,,seen,", 2, "value", ""),
        ("a,one,,,mm,X-1,,seen,", 2, "value", "one"),
        ("a,nan,,,mm,X-1,,seen,", 2, "value", "nan"),
        ("a,1,2,3,mm,X-1,,seen,", 2, "low", "2"),
        ("a,1,,0.5,mm,X-1,,seen,", 2, "value", "1"),
        ("a,1,,,,X-1,,seen,", 2, "unit", ""),
        ("a,1,,,mm,X-1,,seen", 2, "", ""),
        ("# a comment\n\na,1,,,mm,X-9,,seen,", 4, "source", "X-9"),
        ('a,1,,,mm,X-1,,seen,"two\nlines"\nb,2,,,mm,X-9,,seen,', 4, "source", "X-9"),
        ("a,1,,,mm,X-1,,seen,\na,2,,,mm,X-1,,seen,", 3, "", ""),
    ],
)
def test_faulty_row_names_its_line_and_field(
    tmp_path: Path, row: str, line: int, field: str, found: str
) -> None:
    assert faults(tmp_path, FACTS + row + "\n") == [(line, field, found)]


def test_every_fault_of_a_table_is_told_at_once(tmp_path: Path) -> None:
    text = FACTS + "a,x,,,mm,X-1,,seen,\nb,1,,,mm,X-7,,guess,\n"
    assert faults(tmp_path, text) == [(2, "value", "x"), (3, "source", "X-7"), (3, "status", "guess")]


def test_missing_and_unknown_columns_are_told(tmp_path: Path) -> None:
    found = faults(tmp_path, "key,value,low,high,unit,sources,place,status,note\n")
    assert [field for _, field, _ in found] == ["source", "sources"]


def test_near_spelling_of_a_status_is_suggested(tmp_path: Path) -> None:
    text = FACTS + "a,1,,,mm,X-1,,from memry,\n"
    knowledge = Knowledge((folder(tmp_path, **{"facts__own.csv": text}),))
    with pytest.raises(InputError, match='Did you mean "from memory"'):
        _ = knowledge.facts


def test_own_folder_replaces_and_adds_rows_and_remembers_its_file(tmp_path: Path) -> None:
    first = folder(tmp_path / "one", **{"facts__a.csv": FACTS + "a,1,,,mm,X-1,,seen,\nb,2,,,mm,X-1,,seen,\n"})
    second = folder(tmp_path / "two", **{"facts__z.csv": FACTS + "b,3,,,mm,X-1,,judged,\n"})
    knowledge = Knowledge((first, second))
    assert {key: fact.value for key, fact in knowledge.facts.items()} == {"a": 1.0, "b": 3.0}
    assert knowledge.fact("b").origin == str(second / "facts" / "z.csv")


def test_unknown_fact_suggests_a_near_key(tmp_path: Path) -> None:
    knowledge = Knowledge((folder(tmp_path, **{"facts__a.csv": FACTS + "heat.base,1,,,mm,X-1,,seen,\n"}),))
    with pytest.raises(KeyError, match=r"heat\.base"):
        knowledge.fact("heat.bas")


def test_method_without_a_formula_names_its_line(tmp_path: Path) -> None:
    text = '# methods\n["a.b"]\nname = "A"\nlimits = "none"\nsource = "X-1"\nstatus = "seen"\n'
    knowledge = Knowledge((folder(tmp_path, **{"methods__own.toml": text}),))
    with pytest.raises(InputError) as caught:
        _ = knowledge.methods
    assert [(problem.line, problem.field) for problem in caught.value.problems] == [(2, "formula")]


def test_method_key_that_stands_in_two_files_is_told(tmp_path: Path) -> None:
    text = '["a.b"]\nname = "A"\nformula = "x"\nlimits = "none"\nsource = "X-1"\nstatus = "seen"\n'
    knowledge = Knowledge((folder(tmp_path, **{"methods__one.toml": text, "methods__two.toml": text}),))
    with pytest.raises(InputError, match="already a method"):
        _ = knowledge.methods


def test_folder_that_does_not_exist_is_told() -> None:
    with pytest.raises(InputError, match="no such folder"):
        load([Path("nowhere at all")])


def test_shipped_tables_have_no_fault_and_no_dangling_reference() -> None:
    assert load().check() == ()


def test_organism_without_a_verb_at_the_head_of_its_advice_does_not_load(tmp_path: Path) -> None:
    header = (
        "key,name,scientific,kind,hosts,generations,overwinters,cycle,look,treatable,do_early,do_soon,do_now,do_over,"
        "leave_alone,mistake,source,status,note\n"
    )
    row = "a,A,A a,insect,oak,1,egg,year,look,young,Wait.,Look.,Spray it.,Do this.,never,none,X-1,seen,\n"
    knowledge = Knowledge((folder(tmp_path, **{"organisms.csv": header + row}),))
    with pytest.raises(InputError, match="does not begin with its verb"):
        _ = knowledge.organisms
