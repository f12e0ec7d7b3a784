"""Changing a yard file: the change and nothing else, or nothing at all."""

import datetime as dt
from pathlib import Path

import pytest

from dooryard.problem import InputError
from dooryard.yard import file
from dooryard.yard.file import Add, Drop, Put
from tests.unit.yard.tables import SMALL, TABLES

READING = Add("levels", {"storage": "barrel", "date": dt.date(2031, 6, 3), "volume": "12 gal"})
READING_ROWS = '[[levels]]\nstorage = "barrel"\ndate = 2031-06-03\nvolume = "12 gal"\n'


@pytest.fixture
def yard_file(tmp_path: Path) -> Path:
    path = tmp_path / "yard.toml"
    path.write_text(SMALL)
    return path


def test_edit_added_level_stands_behind_the_last_one(yard_file: Path) -> None:
    yard = file.edit(yard_file, [READING], TABLES)
    assert yard_file.read_text() == SMALL + "\n" + READING_ROWS
    assert yard == file.read(yard_file, TABLES)
    assert yard.levels[-1].date == dt.date(2031, 6, 3)


def test_edit_keeps_remarks_order_and_the_next_heading_with_its_remark(yard_file: Path) -> None:
    # Roofs and barrels in turns, and a remark that belongs to what comes behind it.
    before, after = SMALL.split("[[storages]]")
    text = before + "# Barrels: see the sketch\n[[storages]]" + after
    yard_file.write_text(text)
    new = Add("downspouts", {"name": "second spout", "width": "2 in"})
    file.edit(yard_file, [new], TABLES)
    added = '\n[[downspouts]]\nname = "second spout"\nwidth = "2 in"\n'
    anchor = 'depth = "2 in"\n'
    assert yard_file.read_text() == text.replace(anchor, anchor + added)


def test_edit_first_entry_of_a_kind_stands_at_the_end(yard_file: Path) -> None:
    text = SMALL[: SMALL.index("[[levels]]")].rstrip("\n")
    yard_file.write_text(text)
    file.edit(yard_file, [READING], TABLES)
    assert yard_file.read_text() == text + "\n\n" + READING_ROWS


def test_edit_changed_value_keeps_its_remark(yard_file: Path) -> None:
    yard_file.write_text(SMALL.replace('"55 gal"', '"55 gal"   # by the label'))
    yard = file.edit(yard_file, [Put("storages", "Barrel", "volume", "60 gal")], TABLES)
    assert 'volume = "60 gal"   # by the label' in yard_file.read_text()
    assert yard.storage("barrel").volume_l == pytest.approx(60 * 3.785411784)


def test_edit_new_key_stands_behind_the_last_of_its_table(yard_file: Path) -> None:
    file.edit(
        yard_file,
        [
            Put("plants", "hedge", "in_bloom", True),
            Put("place", None, "weather", "stations/mill.csv"),
            Put("household", None, "children", False),
            Put("", None, "units", "metric"),
        ],
        TABLES,
    )
    expected = (
        SMALL.replace('kind = "juniper"\n', 'kind = "juniper"\nin_bloom = true\n')
        .replace('station = "mill"\n', 'station = "mill"\nweather = "stations/mill.csv"\n')
        .replace('units = "us"', 'units = "metric"')
    )
    assert yard_file.read_text() == expected + "\n[household]\nchildren = false\n"


def test_edit_dropped_entry_is_gone_and_the_rest_is_not(yard_file: Path) -> None:
    yard_file.write_text(SMALL + '\n[[plants]]\nname = "yew"\nkind = "yew"\n')
    yard = file.edit(yard_file, [Drop("plants", "yew")], TABLES)
    assert [plant.name for plant in yard.plants] == ["hedge"]
    assert yard_file.read_text().rstrip() == SMALL.rstrip()


def test_edit_keeps_mark_and_line_ends(yard_file: Path) -> None:
    yard_file.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    file.edit(yard_file, [READING], TABLES)
    expected = b"\xef\xbb\xbf" + (SMALL + "\n" + READING_ROWS).replace("\n", "\r\n").encode()
    assert yard_file.read_bytes() == expected


def test_edit_keeps_permissions_and_links(yard_file: Path) -> None:
    yard_file.chmod(0o640)
    link = yard_file.with_name("link.toml")
    link.symlink_to(yard_file)
    file.edit(link, [READING], TABLES)
    assert link.is_symlink()
    assert yard_file.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in yard_file.parent.iterdir() if path.suffix == ".new"] == []
    assert "2031-06-03" in yard_file.read_text()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Add("levels", {"storage": "barel", "date": dt.date(2031, 6, 3), "volume": "12 gal"}), "no barrel"),
        (Add("levels", {"storage": "barrel", "date": dt.date(2031, 6, 3), "volume": "99 gal"}), "holds only"),
        (Add("levels", {"storage": "barrel", "date": dt.date(2031, 6, 3), "volume": 12}), "no unit"),
        (Add("levels", {"storage": "barrel"}), "missing"),
        (Add("level", {"storage": "barrel"}), "no table level"),
        (Add("levels", {"barrel": "barrel"}), "no key barrel"),
        (Put("storages", "back barrel", "volume", "55 gal"), "no barrel called"),
        (Put("storages", None, "volume", "55 gal"), "not said which"),
        (Put("storages", "barrel", "colour", "blue"), "no key colour"),
        (Put("place", None, "latitude", 400.0), "between -90 and 90"),
        (Drop("storages", "barrel"), "no barrel"),
        (Drop("beds", "lawn"), "no bed called"),
    ],
)
def test_edit_that_would_not_validate_leaves_the_file_alone(
    yard_file: Path, change: file.Change, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        file.edit(yard_file, [READING, change], TABLES)
    assert any(words in problem.what for problem in caught.value.problems)
    assert yard_file.read_text() == SMALL


def test_edit_of_a_list_written_in_one_line_is_refused_with_advice(yard_file: Path) -> None:
    start = SMALL.index("[[levels]]")
    text = 'levels = [{storage = "barrel", date = 2031-05-14, volume = "20 gal"}]\n' + SMALL[:start]
    yard_file.write_text(text)
    with pytest.raises(InputError) as caught:
        file.edit(yard_file, [READING], TABLES)
    assert "by hand" in caught.value.problems[0].instead
    assert yard_file.read_text() == text
