"""The commands as a person runs them: what they print, what they write, how they end."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard


def run(*words: str | Path) -> Result:
    """One command line."""
    return CliRunner().invoke(dooryard, [str(word) for word in words], prog_name="dooryard")


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What `dooryard demo` leaves behind."""
    folder = tmp_path_factory.mktemp("demo")
    result = run("demo", "--out", folder)
    assert result.exit_code == 0, result.output
    return folder


def test_demo_writes_page_print_calendar_and_data(demo: Path) -> None:
    """Five files of the shown yard, none empty, each of its kind."""
    starts = {".html": b"<!doctype html>", ".pdf": b"%PDF-", ".ics": b"BEGIN:VCALENDAR", ".json": b"{"}
    for ending, start in starts.items():
        content = (demo / f"household-12{ending}").read_bytes()
        assert content[:20].lower().startswith(start.lower()), ending
    rows = list(csv.DictReader(io.StringIO((demo / "household-12-tasks.csv").read_text("utf-8"))))
    assert rows
    assert not [path.name for path in demo.iterdir() if path.name.startswith(".")]


def test_demo_twice_gives_the_same_files(demo: Path, tmp_path: Path) -> None:
    """The demonstration is the same everywhere, byte for byte."""
    assert run("demo", "--out", tmp_path).exit_code == 0
    for path in sorted(tmp_path.rglob("*")):
        if path.is_file():
            assert path.read_bytes() == (demo / path.relative_to(tmp_path)).read_bytes(), path.name


def test_demo_keeps_a_yard_file_that_someone_changed(tmp_path: Path) -> None:
    """A first try at one's own yard survives the next demo."""
    run("demo", "--out", tmp_path)
    changed = (tmp_path / "household-31.toml").read_text("utf-8") + "\n# mine\n"
    (tmp_path / "household-31.toml").write_text(changed, encoding="utf-8")
    run("demo", "--out", tmp_path)
    assert (tmp_path / "household-31.toml").read_text("utf-8") == changed


def test_plan_prints_answer_first_and_how_to_see_more_last(demo: Path) -> None:
    """Summary at the top, the next step at the bottom, at most 80 columns."""
    result = run("plan", demo / "household-12.toml", "--on", "2031-05-20")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert "In short" in lines[:8]
    assert "--why" in lines[-1] or "--why" in lines[-2]
    assert max(map(len, lines)) <= 80


def test_plan_why_explains_every_number(demo: Path) -> None:
    """Each note number in the text has its note, with a source."""
    result = run("plan", demo / "household-12.toml", "--on", "2031-05-20", "--why")
    assert result.exit_code == 0
    assert len(result.stdout) > 2 * len(run("plan", demo / "household-12.toml", "--on", "2031-05-20").stdout)


def test_plan_json_is_one_document_and_nothing_else(demo: Path) -> None:
    """Standard output parses as JSON."""
    result = run("plan", demo / "household-12.toml", "--on", "2031-05-20", "--json")
    assert json.loads(result.stdout_bytes)["schema"] == "dooryard-plan-1"


def test_plan_gap_that_matters_ends_with_exit_code_one(demo: Path, tmp_path: Path) -> None:
    """Six weeks of spring cut out of the record: done, with refusals, exit code 1."""
    kept = [
        line
        for line in (demo / "stations" / "creek-bottom.csv").read_text("utf-8").splitlines()
        if not "2031-03-05" <= line[:10] <= "2031-04-20"
    ]
    (tmp_path / "gappy.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    result = run(
        "plan", demo / "household-12.toml", "--on", "2031-05-20", "--weather", tmp_path / "gappy.csv"
    )
    assert result.exit_code == 1
    assert "We cannot say" in result.stdout or "We cannot tell" in result.stdout


def test_plan_of_a_faulty_yard_tells_all_and_writes_nothing(demo: Path, tmp_path: Path) -> None:
    """Exit code 2, every problem on standard error, no file, no traceback."""
    result = run("plan", demo / "household-47.toml", "--on", "2031-05-20", "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert "19 problems" in result.stderr
    assert not (tmp_path / "out").exists()
    assert "Traceback" not in result.output


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("plan", "nowhere.toml", "--on", "2031-05-20"), "nowhere.toml"),
        (("check", "."), "folder"),
        (("weather", "nowhere.csv"), "nowhere.csv"),
        (("plan", "x.toml", "--on", "20 May"), "2031-05-20"),
        (("plna", "x.toml"), 'Did you mean "plan"?'),
    ],
)
def test_nonsense_is_answered_in_one_plain_message(words: tuple[str, ...], told: str) -> None:
    """Exit code 2, what was wrong and what to write, no traceback."""
    result = run(*words)
    assert result.exit_code == 2
    assert told in result.stderr
    assert "Traceback" not in result.output


def test_plan_of_names_full_of_markup_prints_them_as_they_are(demo: Path, tmp_path: Path) -> None:
    """HTML, Typst and odd letters in a name stay text in every form; a figure mark is refused in plain words."""
    text = (demo / "household-12.toml").read_text("utf-8")
    odd = text.replace("back barrel", "b <b>x</b> #set page() & é✓")
    (tmp_path / "stations").mkdir()
    record = (demo / "stations" / "creek-bottom.csv").read_text("utf-8")
    (tmp_path / "stations" / "creek-bottom.csv").write_text(record.replace("Creek", "[[Creek]] <i>"), "utf-8")
    (tmp_path / "odd.toml").write_text(odd, encoding="utf-8")
    result = run("plan", tmp_path / "odd.toml", "--on", "2031-05-20", "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    page = (tmp_path / "out" / "odd.html").read_text("utf-8")
    assert "<b>x</b>" not in page
    assert "&lt;b&gt;x&lt;/b&gt;" in page
    (tmp_path / "marks.toml").write_text(text.replace("back barrel", "back [[barrel]]"), encoding="utf-8")
    refused = run("check", tmp_path / "marks.toml")
    assert refused.exit_code == 2
    assert "square brackets" in refused.stderr


def test_plan_out_into_a_file_is_refused_and_leaves_it_alone(demo: Path, tmp_path: Path) -> None:
    """--out names a file: told, exit code 2, the file untouched."""
    (tmp_path / "note.txt").write_text("keep me", encoding="utf-8")
    result = run("plan", demo / "household-12.toml", "--on", "2031-05-20", "--out", tmp_path / "note.txt")
    assert result.exit_code == 2
    assert (tmp_path / "note.txt").read_text("utf-8") == "keep me"


def test_weather_shows_what_the_record_holds(demo: Path) -> None:
    """Days, missing days and yearly totals; the record has blemishes, so a person is needed."""
    result = run("weather", demo / "stations" / "creek-bottom.csv")
    assert result.exit_code == 1
    assert "11,096 days" in result.stdout
    assert json.loads(run("weather", demo / "stations" / "creek-bottom.csv", "--json").stdout_bytes)


def test_check_of_a_good_yard_says_so(demo: Path) -> None:
    """Exit code 0 and the next step."""
    result = run("check", demo / "household-12.toml")
    assert result.exit_code == 0
    assert "in order" in result.stdout
