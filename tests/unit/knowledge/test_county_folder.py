"""A person's own tables over the shipped ones: they count, they say so, and every fault is told at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from dooryard.knowledge import Knowledge, load
from dooryard.knowledge.county import FOLDER, OWN, beside, own_words, with_county
from dooryard.problem import InputError

SOURCES = "id,author,year,title,edition,licence,note\nOWN-1,Our office,2025,Scouting notes,,,\n"
STAGES = (
    "key,organism,stage,kind,use,dd_low,dd_high,unit,base,upper,cutoff,method,start,start_used,first,last,place,"
    "source,status,note\n"
)
HATCH = (
    "bagworm.hatch.ohio,bagworm,bags seen to hatch,heat,look,700,,F,50,,none,average,01-01,01-01,,,here,"
    "OWN-1,seen,\n"
)


def county(tmp_path: Path, **files: str) -> Path:
    """A folder named county with a source OWN-1 and the named files (two underscores stand for a slash)."""
    for name, text in {"sources__own.csv": SOURCES, **files}.items():
        path = tmp_path / FOLDER / name.replace("__", "/")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path / FOLDER


def faults(folder: Path) -> list[tuple[str, int | None, str, str]]:
    with pytest.raises(InputError) as caught:
        with_county(folder)
    return [(Path(p.file).name, p.line, p.field, p.found) for p in caught.value.problems]


def test_own_row_replaces_the_shipped_one_and_says_whose_it_is(tmp_path: Path) -> None:
    own = with_county(county(tmp_path, **{"stages.csv": STAGES + HATCH}))
    stage = own.stages["bagworm.hatch.ohio"]
    assert stage.dd_low == 700
    assert own_words(stage) == f" ({OWN})"
    assert Path(stage.origin).name == "stages.csv"
    assert len(own.stages) == len(load().stages)
    other = own.stages["bagworm.small.newjersey"]
    assert own_words(other) == ""
    assert load().stages["bagworm.hatch.ohio"].dd_low == 630


def test_own_row_with_a_new_key_is_added_beside_the_shipped_ones(tmp_path: Path) -> None:
    own = with_county(county(tmp_path, **{"stages.csv": STAGES + HATCH.replace(".ohio", ".here")}))
    assert len(own.stages) == len(load().stages) + 1


def test_every_fault_of_a_county_folder_is_told_with_file_line_and_field(tmp_path: Path) -> None:
    folder = county(
        tmp_path,
        **{
            "stages.csv": STAGES + HATCH.replace("700", "many").replace("seen,\n", "sure,\n"),
            "hosts.csv": "organism,plant_kind,source,status\nbagworm,spruce,OWN-1,seen\nbag-worm,oak,OWN-1,seen\n",
            "stage.csv": STAGES + HATCH,
        },
    )
    assert faults(folder) == [
        ("stage.csv", None, "", "stage.csv"),
        ("stages.csv", 2, "dd_low", "many"),
        ("stages.csv", 2, "status", "sure"),
        ("hosts.csv", 3, "organism", "bag-worm"),
    ]


def test_own_window_on_a_sum_that_starts_from_a_sight_is_refused(tmp_path: Path) -> None:
    head = (
        "key,organism,generation,name,opens,open_at,open_lag_d,closes,close_at,close_lag_d,signs,source,place,"
        "status,note\n"
    )
    sums = "codling-moth.hatch.indiana,low,0,codling-moth.hatch.indiana,low,9"
    row = f"a,codling-moth,1,eggs,{sums},egg,OWN-1,here,judged,\n"
    found = faults(county(tmp_path, **{"windows.csv": head + row}))
    assert found == [
        ("windows.csv", 2, "opens", "codling-moth.hatch.indiana"),
        ("windows.csv", 2, "closes", "codling-moth.hatch.indiana"),
    ]


def test_county_folder_beside_a_yard_file_is_found_without_asking(tmp_path: Path) -> None:
    yard = tmp_path / "yard.toml"
    assert beside(yard) is None
    folder = county(tmp_path)
    assert beside(yard) == folder
    assert beside(yard, Path("elsewhere")) == Path("elsewhere")


def test_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        with_county(tmp_path / "nowhere")


def test_no_folder_gives_the_shipped_tables() -> None:
    assert with_county(None) is load()
    assert isinstance(with_county(None), Knowledge)


def test_own_table_saved_by_a_spreadsheet_with_a_mark_at_its_head_loads(tmp_path: Path) -> None:
    folder = county(tmp_path)
    (folder / "stages.csv").write_bytes(b"\xef\xbb\xbf" + (STAGES + HATCH).replace("\n", "\r\n").encode())
    assert with_county(folder).stages["bagworm.hatch.ohio"].dd_low == 700


def test_own_table_in_another_encoding_is_told_with_its_line(tmp_path: Path) -> None:
    folder = county(tmp_path)
    (folder / "stages.csv").write_bytes((STAGES + HATCH.replace("here", "Orl\u00e9ans")).encode("latin-1"))
    assert faults(folder) == [("stages.csv", 2, "", "")]


def test_own_table_with_semicolons_is_told_once(tmp_path: Path) -> None:
    folder = county(tmp_path, **{"stages.csv": (STAGES + HATCH).replace(",", ";")})
    assert faults(folder) == [("stages.csv", 1, "", "")]


def test_own_table_with_an_open_quote_is_told_and_does_not_crash(tmp_path: Path) -> None:
    folder = county(tmp_path, **{"stages.csv": STAGES + HATCH.replace("bags seen to hatch", '"bags seen')})
    assert [name for name, *_ in faults(folder)] == ["stages.csv"]
