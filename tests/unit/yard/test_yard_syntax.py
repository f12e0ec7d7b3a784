"""Files that are no yard files at all: each gets one message that says what to do."""

from pathlib import Path

import pytest

from dooryard.problem import InputError, Problem
from dooryard.yard import file
from tests.unit.yard.tables import SMALL, TABLES


def told(path: Path) -> Problem:
    with pytest.raises(InputError) as caught:
        file.read(path, TABLES)
    (problem,) = caught.value.problems
    return problem


def told_bytes(folder: Path, data: bytes) -> Problem:
    path = folder / "yard.toml"
    path.write_bytes(data)
    return told(path)


@pytest.mark.parametrize(
    "data",
    [
        SMALL.encode(),
        b"\xef\xbb\xbf" + SMALL.encode(),
        SMALL.replace("\n", "\r\n").encode(),
        b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode(),
        SMALL.rstrip("\n").encode(),
    ],
    ids=["plain", "mark", "crlf", "mark and crlf", "no last line end"],
)
def test_read_survives_marks_and_line_ends(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "yard.toml"
    path.write_bytes(data)
    assert file.read(path, TABLES).name == "small yard"


def test_read_lines_are_right_behind_a_mark_and_with_crlf(tmp_path: Path) -> None:
    text = SMALL.replace('"100 sq ft"', "100")
    line = text[: text.index("area = 100")].count("\n") + 1
    assert told_bytes(tmp_path, b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode()).line == line


def test_read_latin_1_letters_say_line_and_encoding(tmp_path: Path) -> None:
    problem = told_bytes(tmp_path, SMALL.replace('"hedge"', '"haie fruitière"').encode("latin-1"))
    assert problem.line == SMALL[: SMALL.index('"hedge"')].count("\n") + 1
    assert "UTF-8" in problem.instead
    assert "fruitière" in problem.found


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le"])
def test_read_utf_16_says_encoding(tmp_path: Path, encoding: str) -> None:
    data = SMALL.encode(encoding)
    problem = told_bytes(tmp_path, data)
    assert problem.instead


def test_read_empty_file_says_how_to_begin(tmp_path: Path) -> None:
    for data in (b"", b"\n  \n", b"\xef\xbb\xbf"):
        problem = told_bytes(tmp_path, data)
        assert "empty" in problem.what
        assert "[place]" in problem.instead


def test_read_only_remarks_says_what_is_due(tmp_path: Path) -> None:
    path = tmp_path / "yard.toml"
    path.write_text("# nothing yet\n")
    with pytest.raises(InputError) as caught:
        file.read(path, TABLES)
    assert {problem.field for problem in caught.value.problems} == {"name", "units", "place"}


def test_read_missing_file_suggests_a_near_one(tmp_path: Path) -> None:
    (tmp_path / "household-12.toml").write_text(SMALL)
    problem = told(tmp_path / "houshold-12.toml")
    assert "no file" in problem.what
    assert "household-12.toml" in problem.instead
    assert told(tmp_path / "nowhere" / "y.toml").instead


def test_read_folder_says_so(tmp_path: Path) -> None:
    assert "is a folder" in told(tmp_path).what


@pytest.mark.parametrize(
    ("line", "words", "write"),
    [
        ("area = 310 ft2", "no quotation marks", 'area = "310 ft2"'),
        ("area = 2.5 m2 # small", "no quotation marks", 'area = "2.5 m2"'),
        ("covering = slate", "no quotation marks", 'covering = "slate"'),
        ("area = “310 ft2”", "curly", '"'),
        ('area = "310 ft2', "not closed", "both ends"),
        ("area: 310 ft2", "colon", "area = "),
        ('outlet height = "3 in"', "before the equals sign", "outlet_height"),
        ("treated = True", "yes and no", "treated = true"),
        ("treated = no", "yes and no", "treated = false"),
        ("planted = 5/16/2031", "not a date", "2031-05-16"),
        ("planted = 16.5.2031", "not a date", "2031-05-16"),
        ("planted = 2031-13-45", "not a date", "2031-05-16"),
        ("area =", "Nothing stands behind", "area = "),
        ("area = # none", "Nothing stands behind", "area = "),
        ("[roofs", "heading", "[[roofs]]"),
        ("this is my yard", "neither a heading nor a key", "#"),
        ('name = "again"\nname = "again"', "in the file already", "one of them"),
        ("[place]\nx = 1\n[place]", "in the file already", "one of them"),
        ('area = "310 ft2" "x"', "cannot be read", "one key"),
    ],
)
def test_read_syntax_mistake_says_line_and_what_to_write(
    tmp_path: Path, line: str, words: str, write: str
) -> None:
    extra_lines = line.count("\n")
    text = "units = 'us'\n# a remark\n" + line + "\n\n[[beds]]\nx = 1\n"
    problem = told_bytes(tmp_path, text.encode())
    assert words in problem.what
    assert write in problem.instead
    assert problem.line == 3 + extra_lines
    assert problem.found


def test_read_endless_brackets_are_refused(tmp_path: Path) -> None:
    assert told_bytes(tmp_path, b"a = " + b"[" * 50_000).instead
    assert told_bytes(tmp_path, b"a = " + b"[" * 50_000 + b"]" * 50_000).instead


def test_read_numbers_of_thousands_of_digits_are_refused(tmp_path: Path) -> None:
    for number in (b"9" * 6000, b"0x" + b"f" * 6000):
        path = tmp_path / "yard.toml"
        path.write_bytes(b"latitude = " + number + b"\nname = " + number)
        with pytest.raises(InputError):
            file.read(path, TABLES)
